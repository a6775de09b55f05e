// SPDX-License-Identifier: MIT
#include "curdwright/line.hpp"

#include "curdwright/cost.hpp"
#include "located.hpp"
#include "sheets/json_values.hpp"
#include "sheets/schema_words.hpp"

namespace curdwright {
namespace {

using Json = nlohmann::ordered_json;

/// A recipe that stands in for any, to find the faults of the options before the first line is read.
constexpr std::string_view any_recipe = R"({"legume":"soybean"})";

/// The responses alone, with their ranges where these were asked for.
Json short_answer(const Batch& b, const LineOptions& o) {
  Json j = {{"schema", "curdwright.figures/1"}, {"values", Json::object()}};
  if (!b.setup.recipe.title.empty()) j["title"] = b.setup.recipe.title;
  for (const Response* r : o.responses)
    if (const auto v = value(*r, b)) j["values"][r->key] = number(*v);
  if (o.depth != Depth::off) {
    const auto ranges = response_ranges(b, o.responses, sample_for(b.setup.beliefs, o.depth));
    for (std::size_t i = 0; i < ranges.size(); ++i)
      if (ranges[i]) j["ranges"][o.responses[i]->key] = {{"low", number(ranges[i]->low)}, {"high", number(ranges[i]->high)}};
  }
  for (const Caution& c : cautions(facts_of(b)))
    if (c.severity == Severity::stop) j["stops"].push_back(c.rule);
  return j;
}

LineAnswer whole_answer(const Batch& b, const LineOptions& o) {
  const Facts facts = facts_of(b);
  std::optional<Ranges> found;
  if (o.depth != Depth::off) found = ranges(b.setup.job, b.setup.beliefs, sample_for(b.setup.beliefs, o.depth));
  const Ranges* given = found ? &*found : nullptr;
  const Sheet sheet = make_sheet(facts, {.ranges = given});
  return {to_json(facts, sheet, given, Layout::line), sheet.stops.empty()};
}

}  // namespace

Lines::Lines(LineOptions options, const Catalogue& catalogue) : options_(std::move(options)), catalogue_(catalogue) {
  InputTexts texts{std::string(any_recipe), "", options_.kitchen, options_.kitchen_file, options_.set, options_.want};
  auto inputs = read_inputs(std::move(texts));
  if (!inputs) {
    problems_ = inputs.error();
    return;
  }
  kitchen_ = std::move(inputs->kitchen);
  problems_ = located(check_prices(kitchen_, catalogue_), {"", "", options_.kitchen.value_or("{}"), options_.kitchen_file, options_.set});
}

Result<Batch> Lines::plan_line(std::string_view line) const {
  auto recipe = read_recipe({std::string(line), "", {}, "", options_.set, options_.want});
  if (!recipe) return fail(recipe.error());
  if (recipe->want.given() == 0) recipe->want.dry = kilograms(1);
  auto setup = resolve(*recipe, kitchen_, catalogue_);
  if (!setup) return fail(setup.error());
  auto batch = plan_batch(std::move(*setup));
  if (batch && !batch->plan.whole()) return fail(fault_words(batch->plan, batch->setup));
  return batch;
}

LineAnswer Lines::answer(std::string_view line, std::size_t number) const {
  auto batch = plan_line(line);
  if (!batch) {
    Problems problems = located(batch.error(), {std::string(line), "", options_.kitchen.value_or("{}"), options_.kitchen_file, options_.set});
    // The place in the stream: a recipe stands on one line of it.
    for (Problem& p : problems)
      if (p.place.file.empty()) p.place.file = options_.file, p.place.line = static_cast<int>(number), p.place.column = std::max(1, p.place.column);
    return {printed(problems_document(problems), Layout::line), false};
  }
  if (options_.responses.empty()) return whole_answer(one_run(std::move(*batch)), options_);
  const Json j = short_answer(*batch, options_);
  return {printed(j, Layout::line), !j.contains("stops")};
}

std::string responses_schema() {
  using namespace sheets::schema;
  const Json range = closed({{"low", number()}, {"high", number()}}, {"low", "high"});
  return document("figures", "Figures of one recipe", {{"values", map_of(number())}, {"title", text()}, {"ranges", map_of(range)}, {"stops", list_of(text())}}, {"values"});
}

}  // namespace curdwright
