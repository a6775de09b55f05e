// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include "curdwright/cost.hpp"
#include "curdwright/rank.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/planning.hpp"
#include "program/progress.hpp"
#include "sheets/ranked.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// What is ranked by when no recipe is named: the defaults of each legume, from a kilogram of its seed.
constexpr std::string_view plain_recipe = R"({"legume": "soybean", "want": {"dry": "1 kg"}})";

/// "3/kg"
Result<double> price_per_kg(const std::string& text) {
  const auto price = parse_price(text);
  if (!price) return fail(of_option(price.error(), "--under", text));
  if (price->basis != PriceBasis::mass) return fail(usage(fmt::format("--under cannot be {}", text::quoted(text)), "seed is sold by weight", "write for example --under 3/kg"));
  return price->money_per_si;
}

Result<RankQuestion> question_of(const Request& r) {
  RankQuestion q;
  Problems problems;
  const std::string key = r.value("--by").value_or("protein_fraction");
  if (const auto by = find_response(key))
    q.by = *by, q.least_first = (*by)->less_is_better;
  else
    problems = of_option(by.error(), "--by", key);
  for (const std::string& told : r.all("--without"))
    if (auto read = read_without(told, q); !read)
      for (Problem& p : of_option(read.error(), "--without", told)) problems.push_back(std::move(p));
  if (const auto told = r.value("--under")) {
    if (const auto price = price_per_kg(*told))
      q.under = *price;
    else
      problems.insert(problems.end(), price.error().begin(), price.error().end());
  }
  if (!problems.empty()) return fail(std::move(problems));
  return q;
}

/// The recipe that is named, else the plain one with the kitchen and settings of the options.
Result<InputTexts> texts_for(const Request& r) {
  if (r.words.size() > 1) return input_texts(r, r.words[1]);
  return with_options(r, std::string(plain_recipe), "built-in recipe");
}

}  // namespace

int run_rank(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto width = width_of(r);
  if (!width) return report(r, width.error());
  if (r.words[0] != "legumes") return report(r, {usage(fmt::format("rank does not know {}", text::quoted(r.words[0])), "legumes can be ranked", "write: curdwright rank legumes --by protein_per_cost")});
  auto question = question_of(r);
  if (!question) return report(r, question.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  auto texts = texts_for(r);
  if (!texts) return report(r, texts.error());
  // Faults of the kitchen or of a setting would be told of every legume.
  auto planned = planned_texts(*texts, *catalogue, false);
  if (!planned && status_of(planned.error()) != answer_is_no) return report(r, planned.error());
  question->texts = std::move(*texts);
  Ranking ranking;
  {
    Progress progress("legumes");
    question->go_on = [&](std::size_t done, std::size_t of) { return progress.go_on(done, of); };
    ranking = rank_legumes(*question, *catalogue);
  }
  const int status = !ranking.whole ? interrupted : ranking.ranked.empty() ? answer_is_no : done;
  if (*format == "json") return finish(r, sheets::ranked_json(*question, ranking), status);
  if (*format == "csv") return finish(r, sheets::ranked_csv(*question, ranking), status);
  return finish(r, sheets::ranked_text(*question, ranking, *width), status);
}

}  // namespace curdwright::program
