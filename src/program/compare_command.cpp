// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "curdwright/cautions.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/planning.hpp"
#include "sheets/compared.hpp"

namespace curdwright::program {
namespace {

constexpr std::array<std::string_view, 7> usual = {"curd_mass_g", "yield_fraction", "protein_fraction", "starch_fraction", "carbohydrate_fraction", "time_s", "cost_per_block"};

/// All recipes, planned, or the problems of all of them.
Result<std::vector<Batch>> planned(const Request& r, std::vector<InputTexts>& texts, const Catalogue& catalogue) {
  std::vector<Batch> batches;
  Problems problems;
  for (const std::string& path : r.words) {
    auto mine = input_texts(r, path);
    auto batch = mine ? planned_texts(*mine, catalogue, false) : Result<Planned>(fail(mine.error()));
    if (!batch) {
      problems.insert(problems.end(), batch.error().begin(), batch.error().end());
      continue;
    }
    texts.push_back(std::move(*mine));
    batches.push_back(std::move(batch->batch));
  }
  if (!problems.empty()) return fail(std::move(problems));
  return batches;
}

}  // namespace

int run_compare(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto width = width_of(r);
  if (!width) return report(r, width.error());
  constexpr std::size_t most = 12;
  if (r.words.size() > most) return report(r, {usage(fmt::format("{} recipes are to be compared", r.words.size()), fmt::format("at most {} fit on a page", most), "compare fewer")});
  const auto responses = responses_of(r, usual);
  if (!responses) return report(r, responses.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  std::vector<InputTexts> texts;
  const auto batches = planned(r, texts, *catalogue);
  if (!batches) return report(r, batches.error());
  sheets::ComparedPage page;
  std::vector<const Batch*> all;
  for (std::size_t i = 0; i < batches->size(); ++i) {
    const Batch& b = (*batches)[i];
    all.push_back(&b);
    page.names.push_back(texts[i].recipe_file), page.titles.push_back(b.setup.recipe.title);
    page.stops.emplace_back();
    for (const Caution& c : cautions(facts_of(b)))
      if (c.severity == Severity::stop) page.stops.back().emplace_back(c.rule);
  }
  page.differs = differences(texts);
  page.contrasts = contrasts(all, *responses);
  // What no recipe has, such as a cost without prices, needs no row.
  if (!r.has("--figures")) std::erase_if(page.contrasts, [](const Contrast& c) { return std::none_of(c.values.begin(), c.values.end(), [](const auto& v) { return v.has_value(); }); });
  page.currency = batches->front().setup.kitchen.currency;
  const bool stopped = std::any_of(page.stops.begin(), page.stops.end(), [](const auto& s) { return !s.empty(); });
  return finish(r, *format == "json" ? sheets::compared_json(page) : *format == "html" ? sheets::compared_html(page) : sheets::compared_text(page, *width), stopped ? answer_is_no : done);
}

}  // namespace curdwright::program
