// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include "curdwright/best.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "program/progress.hpp"
#include "sheets/bested.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// Every option of a kind, read; all their problems.
template <class T, class Read>
void read_all(const Request& r, std::string_view option, Read read, std::vector<T>& to, Problems& problems) {
  for (const std::string& told : r.all(option)) {
    auto one = read(told);
    if (one)
      to.push_back(std::move(*one));
    else
      for (Problem& p : of_option(one.error(), option, told)) problems.push_back(std::move(p));
  }
}

Result<Question> question_of(const Request& r) {
  Question q;
  Problems problems;
  const bool most = r.has("--most"), least = r.has("--least");
  if (most == least) {
    problems.push_back(usage(most ? "--most and --least are both given" : "best needs an aim", "one of --most and --least", "for example: --most protein_fraction; see `curdwright list figures`"));
  } else {
    const std::string_view option = most ? "--most" : "--least";
    const std::string key = *r.value(option);
    if (auto aim = read_aim(key, most))
      q.aim = *aim;
    else
      problems = of_option(aim.error(), option, key);
  }
  read_all(r, "--keep", read_condition, q.keep, problems);
  read_all(r, "--let", read_room, q.let, problems);
  if (q.let.empty() && r.all("--let").empty()) problems.push_back(usage("best needs a setting that may change", "", "add --let /starch/time=10min:2h, for example"));
  if (!problems.empty()) return fail(std::move(problems));
  return q;
}

}  // namespace

int run_best(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto width = width_of(r);
  if (!width) return report(r, width.error());
  auto question = question_of(r);
  if (!question) return report(r, question.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  auto texts = input_texts(r, r.words[0]);
  if (!texts) return report(r, texts.error());
  question->texts = std::move(*texts);
  Result<Answer> a = fail(Problems{});
  {
    Progress progress("combinations");
    a = best(*question, *catalogue, [&](std::size_t done, std::size_t of) { return progress.go_on(done, of); });
  }
  if (!a && stop_asked()) return report(r, {usage("stopped before any choice was looked at", "", "")}), interrupted;
  if (!a) return report(r, a.error());
  const int status = a->whole ? done : interrupted;
  return finish(r, *format == "json" ? sheets::answer_json(*question, *a) : sheets::answer_text(*question, *a, sheet_call(r), *width), status);
}

}  // namespace curdwright::program
