// SPDX-License-Identifier: MIT
#include "program/commands.hpp"

#include <fmt/format.h>

#include <array>

#include "curdwright/version.hpp"
#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/diary_file.hpp"
#include "program/files.hpp"
#include "program/options.hpp"
#include "program/planning.hpp"
#include "program/runs.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// What a command reads is never what it writes: a diary above all is only added to.
Result<void> check_output(const Request& r) {
  if (!to_file(r)) return {};
  const std::string out = *r.value("--output"), kitchen = kitchen_path(r);
  std::vector<std::string> inputs = r.words;
  inputs.push_back(kitchen);
  if (const auto diary = diary_path(r); diary) inputs.push_back(*diary), inputs.push_back(*diary + ".lock");
  for (const std::string& word : r.words) inputs.push_back(word + ".lock");
  // learn may renew the kitchen that it reads.
  const bool renews = r.command == "learn";
  for (const std::string& in : inputs)
    if (!in.empty() && same_file(in, out) && !(renews && in == kitchen))
      return fail(usage(fmt::format("--output names {}, which this command reads", text::harmless(text::cut(out, 60))), "what is read is not overwritten by what is answered", "name another file"));
  return {};
}

}  // namespace

int run(const Request& r) {
  if (const auto colour = chosen(r, "--color"); !colour) return report(r, colour.error());
  if (r.version) return finish(r, fmt::format("curdwright {} (data {}, model {})\n", program_version, data_version, model_version), done);
  if (r.command.empty()) return finish(r, r.help ? full_help() : short_help(), done);
  if (r.help) return finish(r, help_of(r.command), done);
  if (auto ok = check_output(r); !ok) return report(r, ok.error());
  struct Row {
    std::string_view name;
    int (*run)(const Request&);
  };
  static constexpr std::array rows = {Row{"sheet", run_sheet},     Row{"check", run_check}, Row{"diary", run_diary}, Row{"learn", run_learn},
                                      Row{"explain", run_explain}, Row{"vary", run_vary},   Row{"best", run_best},   Row{"compare", run_compare},
                                      Row{"rank", run_rank},       Row{"each", run_each},   Row{"list", run_list},   Row{"show", run_show},
                                      Row{"new", run_new},         Row{"schema", run_schema}, Row{"help", run_help}, Row{"shell", run_shell}};
  for (const Row& row : rows)
    if (row.name == r.command) return row.run(r);
  return our_fault;
}

}  // namespace curdwright::program
