// SPDX-License-Identifier: MIT
#include "program/answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/units.hpp"
#include "program/files.hpp"
#include "program/report.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {

Result<int> count_option(const Request& r, std::string_view option, int low, int high) {
  const std::string text = r.value(option).value_or("");
  const auto number = parse_number(text);
  if (!number || *number < low || *number > high || *number != std::floor(*number) || text.find_first_not_of("0123456789") != std::string::npos)
    return fail(usage(fmt::format("{} cannot be {}", option, text::quoted(text)), fmt::format("it is a whole number, {} to {}", low, high), fmt::format("write for example {} {}", option, std::clamp(8, low, high))));
  return static_cast<int>(*number);
}

bool to_file(const Request& r) { return r.has("--output") && r.value("--output") != "-"; }

bool coloured(const Request& r) { return !to_file(r) && wants_colour(r.value("--color").value_or("auto"), standard_output().is_terminal); }

int report(const Request& r, const Problems& problems) {
  const bool colour = wants_colour(r.value("--color").value_or("auto"), standard_error_is_terminal());
  write_error(r.value("--format") == "json" ? problems_json(problems) : problems_text(problems, colour));
  return status_of(problems);
}

void warn(const Request& r, const Problems& warnings) {
  if (warnings.empty()) return;
  write_error(r.value("--format") == "json" ? problems_json(warnings) : problems_text(warnings, wants_colour(r.value("--color").value_or("auto"), standard_error_is_terminal())));
}

int finish(const Request& r, std::string_view text, int status) {
  const Result<void> written = to_file(r) ? write_file(*r.value("--output"), text, r.has("--force")) : write_out(text);
  return written ? status : report(r, written.error());
}

Status status_of(const Problems& problems) {
  const auto all = [&](auto is) { return !problems.empty() && std::all_of(problems.begin(), problems.end(), is); };
  if (std::any_of(problems.begin(), problems.end(), [](const Problem& p) { return p.code == "file"; })) return bad_file;
  if (all([](const Problem& p) { return p.code == "out-of-reach" || p.code == "refused"; })) return answer_is_no;
  return bad_input;
}

}  // namespace curdwright::program
