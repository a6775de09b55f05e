// SPDX-License-Identifier: MIT
#include "curdwright/study.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/cautions.hpp"
#include "curdwright/cost.hpp"

namespace curdwright {
namespace {

Run run_at(const InputTexts& texts, const Variation& v, std::vector<std::size_t> at, const Catalogue& catalogue, Depth depth) {
  Run run;
  run.at = std::move(at);
  InputTexts set = texts;
  for (std::size_t f = 0; f < v.factors.size(); ++f) set.set.push_back(v.factors[f].setting(run.at[f]));
  const auto batch = plan_texts(std::move(set), catalogue);
  if (!batch) {
    run.problems = batch.error();
    return run;
  }
  const Job& job = batch->setup.job;
  run.loads = {job.blend.jarfuls, job.starch.vessels, job.cook.pots, batch->press_rounds};
  for (const Response* r : v.responses) run.cells.push_back({value(*r, *batch), {}});
  if (depth != Depth::off) {
    const auto ranges = response_ranges(*batch, v.responses, sample_for(batch->setup.beliefs, depth));
    for (std::size_t i = 0; i < ranges.size(); ++i) run.cells[i].range = ranges[i];
  }
  for (const Caution& c : cautions(facts_of(*batch)))
    if (c.severity == Severity::stop) run.stops.emplace_back(c.rule);
  return run;
}

/// The levels of run number n: the last factor's changes first.
std::vector<std::size_t> levels_of(const std::vector<Factor>& factors, std::size_t n) {
  std::vector<std::size_t> at(factors.size());
  for (std::size_t f = factors.size(); f-- > 0; n /= factors[f].levels.size()) at[f] = n % factors[f].levels.size();
  return at;
}

/// A setting that is varied twice, one inside the other, or more than can be made or held.
std::optional<Problem> wrong_factors(const std::vector<Factor>& factors, std::size_t figures, bool ranges) {
  double runs = 1;
  for (std::size_t i = 0; i < factors.size(); ++i) {
    runs *= static_cast<double>(factors[i].levels.size());
    for (std::size_t k = 0; k < i; ++k) {
      const std::string &a = factors[k].pointer, &b = factors[i].pointer;
      if (a == b || a.starts_with(b + "/") || b.starts_with(a + "/")) return Problem{"one-of", {}, fmt::format("{} is varied twice", a.size() < b.size() ? a : b), "each factor is a setting of its own", "keep one of them"};
    }
  }
  if (runs > static_cast<double>(max_runs))
    return Problem{"out-of-range", {}, fmt::format("{:.0f} runs are asked for", runs), fmt::format("at most {} can be made", max_runs), "take fewer levels or factors"};
  if (const double held = runs * static_cast<double>(figures) * (ranges ? 2 : 1); held > static_cast<double>(max_figures_of_runs))
    return Problem{"out-of-range", {}, fmt::format("{:.0f} runs, each with {} {}{}, are asked for", runs, figures, figures == 1 ? "figure" : "figures", ranges ? " and their ranges" : ""),
                   fmt::format("at most {} figures can be held, half as many with ranges", max_figures_of_runs), ranges ? "take fewer levels or figures, or --ranges off" : "take fewer levels or figures"};
  return std::nullopt;
}

}  // namespace

Result<Batch> plan_inputs(const Inputs& inputs, const Catalogue& catalogue, Rounding rounding) {
  auto setup = resolve(inputs.recipe, inputs.kitchen, catalogue);
  Problems problems = setup ? Problems{} : setup.error();
  for (Problem& p : check_prices(inputs.kitchen, catalogue)) problems.push_back(std::move(p));
  if (!problems.empty()) return fail(std::move(problems));
  auto batch = plan_batch(std::move(*setup), rounding);
  if (batch && !batch->plan.whole()) return fail(fault_words(batch->plan, batch->setup));
  return batch;
}

Result<Batch> plan_texts(InputTexts texts, const Catalogue& catalogue, Rounding rounding) {
  auto inputs = read_inputs(std::move(texts));
  if (!inputs) return fail(inputs.error());
  if (inputs->recipe.want.given() == 0) inputs->recipe.want.dry = kilograms(1);
  return plan_inputs(*inputs, catalogue, rounding);
}

Result<Variation> vary(const InputTexts& texts, std::vector<Factor> factors, std::vector<const Response*> responses, const Catalogue& catalogue, const VaryOptions& options) {
  if (auto wrong = wrong_factors(factors, responses.size(), options.depth != Depth::off)) return fail(std::move(*wrong));
  Variation v{std::move(factors), std::move(responses), "", 1, {}};
  for (const Factor& f : v.factors) v.asked *= f.levels.size();
  // A fault of the texts themselves would only be told again in every run.
  const auto inputs = read_inputs(texts);
  if (!inputs) return fail(inputs.error());
  v.currency = inputs->kitchen.currency;
  for (std::size_t n = 0; n < v.asked; ++n) {
    if (options.go_on && !options.go_on(n, v.asked)) break;
    v.runs.push_back(run_at(texts, v, levels_of(v.factors, n), catalogue, options.depth));
  }
  return v;
}

}  // namespace curdwright
