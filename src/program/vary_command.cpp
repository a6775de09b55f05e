// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/study.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/planning.hpp"
#include "program/progress.hpp"
#include "sheets/varied.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Result<std::vector<Factor>> factors_of(const Request& r) {
  std::vector<Factor> factors;
  Problems problems;
  for (const std::string& told : r.all("--over")) {
    auto f = read_factor(told);
    if (f)
      factors.push_back(std::move(*f));
    else
      for (Problem& p : of_option(f.error(), "--over", told)) problems.push_back(std::move(p));
  }
  if (r.all("--over").empty()) problems.push_back(usage("vary needs a setting to vary", "", "for example: curdwright vary chickpea.json --over /starch/time=10min:50min:10min"));
  if (r.all("--over").size() > 2) problems.push_back(usage(fmt::format("{} settings are varied", r.all("--over").size()), "one or two can be shown in a table", "keep two, or ask `curdwright best` for the best of them"));
  if (!problems.empty()) return fail(std::move(problems));
  return factors;
}

/// Faults of a level point to the option that asked for it.
Problems as_typed(Problems problems) {
  for (Problem& p : problems)
    if (p.place.file.starts_with("--set ")) p.place.file = "--over " + p.place.file.substr(6);
  return problems;
}

/// The recipe by its own title, else by its file.
std::string title_of(const Variation& v, const InputTexts& texts) {
  const auto inputs = read_inputs(texts);
  std::string over, recipe = inputs && !inputs->recipe.title.empty() ? inputs->recipe.title : texts.recipe_file.substr(texts.recipe_file.rfind('/') + 1);
  for (const Factor& f : v.factors) over += (over.empty() ? "" : " and ") + f.pointer;
  return fmt::format("{} over {}", text::harmless(text::cut(recipe, 60)), over);
}

}  // namespace

int run_vary(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto depth = depth_of(r);
  if (!depth) return report(r, depth.error());
  const auto plot = plot_wish(r);
  if (!plot) return report(r, plot.error());
  const auto width = width_of(r);
  if (!width) return report(r, width.error());
  auto factors = factors_of(r);
  if (!factors) return report(r, factors.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const auto texts = input_texts(r, r.words[0]);
  if (!texts) return report(r, texts.error());
  constexpr std::array<std::string_view, 3> usual = {"curd_mass_g", "protein_fraction", "starch_fraction"};
  auto responses = responses_of(r, usual);
  if (!responses) return report(r, responses.error());
  Result<Variation> v = fail(Problems{});
  {
    Progress progress("runs");
    v = vary(*texts, std::move(*factors), std::move(*responses), *catalogue,
             {*depth, [&](std::size_t done, std::size_t of) { return progress.go_on(done, of); }});
  }
  if (!v) return report(r, v.error());
  const auto planned = [](const Run& run) { return run.problems.empty(); };
  if (v->whole() && std::none_of(v->runs.begin(), v->runs.end(), planned)) return report(r, as_typed(v->runs[0].problems));
  const std::string title = title_of(*v, *texts);
  const bool to_cook = std::any_of(v->runs.begin(), v->runs.end(), [](const Run& run) { return run.problems.empty() && run.stops.empty(); });
  const int status = !v->whole() ? interrupted : to_cook ? done : answer_is_no;
  if (*format == "json") return finish(r, sheets::varied_json(*v, title), status);
  if (*format == "html") return finish(r, sheets::varied_html(*v, title), status);
  if (*format == "csv") return finish(r, sheets::varied_csv(*v), status);
  if (*format == "svg") return finish(r, sheets::plots_svg(sheets::plots_of(*v), title), status);
  sheets::VariedPage page{title, *width, {}};
  if (*plot != "off") page.plot = *plot == "unicode" ? sheets::PlotGlyphs::unicode : sheets::PlotGlyphs::ascii;
  return finish(r, sheets::varied_text(*v, page), status);
}

}  // namespace curdwright::program
