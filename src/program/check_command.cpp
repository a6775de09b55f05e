// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "curdwright/cautions.hpp"
#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/planning.hpp"
#include "program/report.hpp"
#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "sheets/sharing.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// What check found of one file.
struct Checked {
  std::string text;
  nlohmann::ordered_json json;
  int status = done;
};

Checked check_file(const Request& r, const std::string& path, const Catalogue& catalogue) {
  const std::string name = text::harmless(path);
  Checked c{"", {{"file", name}, {"problems", nlohmann::ordered_json::array()}, {"cautions", nlohmann::ordered_json::array()}}};
  const bool colour = coloured(r);
  const auto refused = [&](const Problems& problems) {
    c.status = status_of(problems);
    c.text = problems_text(problems, colour);
    c.json["problems"] = nlohmann::ordered_json::parse(problems_json(problems))["problems"];
    return std::move(c);
  };
  const auto batch = plan_file(r, path, catalogue, false);
  if (!batch) return refused(batch.error());
  if (const auto zone = check_zone(*batch); !zone) return refused(zone.error());
  const auto list = cautions(facts_of(batch->batch));
  if (stops(list)) c.status = answer_is_no;
  if (const auto& shared = batch->batch.shared) {
    const std::string why = sheets::sharing_words(batch->batch, sheets::Amounts(Units::metric, batch->batch.setup.kitchen));
    c.text += fmt::format("{}: {}\n", name, why);
    c.json["batches_count"] = shared->batches, c.json["why"] = why;
  }
  for (const Caution& caution : list) {
    if (!caution.standing)
      c.text += fmt::format("{}: {} ({}, {}): {}\n", name, strong(sheets::said_severity(caution.severity), colour && caution.severity == Severity::stop), word(caution.stage), caution.rule, caution.text);
    c.json["cautions"].push_back(caution_json(caution));
  }
  return c;
}

}  // namespace

int run_check(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  if (auto once = check_standard_input(r); !once) return report(r, once.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  int status = done;
  std::string text;
  nlohmann::ordered_json files = nlohmann::ordered_json::array();
  for (const std::string& path : r.words) {
    Checked c = check_file(r, path, *catalogue);
    status = std::max(status, c.status);
    text += c.text;
    files.push_back(std::move(c.json));
  }
  const nlohmann::ordered_json document = {{"schema", "curdwright.check/1"}, {"recipes", files}};
  return finish(r, *format == "json" ? document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n" : text, status);
}

}  // namespace curdwright::program
