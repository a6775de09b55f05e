// SPDX-License-Identifier: MIT
// The mass balance as a table.
#include "sheets/csv.hpp"
#include "sheets/json_parts.hpp"

namespace curdwright {
namespace {

void put_streams(std::string& out, std::string_view stage, std::string_view side, const std::array<NamedStream, 4>& list, std::size_t count) {
  for (std::size_t i = 0; i < count; ++i) {
    const Composition& of = list[i].stream->of;
    for (std::string_view word : {stage, side}) (out += sheets::csv_cell(word)) += ',';
    out += sheets::csv_cell(list[i].name) + "," + sheets::csv_number(1e3 * of.total_kg());
    for (double kg : of.kg) (out += ',') += sheets::csv_number(1e3 * kg);
    out += "\r\n";
  }
}

}  // namespace

std::string to_csv(const Facts& facts) {
  std::string out = "stage,side,stream,mass_g";
  for (Component c : all_components) (out += ',') += sheets::component_key(c);
  out += "\r\n";
  for (Stage stage : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(facts.batch.plan, stage, spare);
    put_streams(out, word(stage), "in", f.in, f.in_count);
    put_streams(out, word(stage), "out", f.out, f.out_count);
    put_streams(out, word(stage), "aside", f.aside, f.aside_count);
  }
  return out;
}

}  // namespace curdwright
