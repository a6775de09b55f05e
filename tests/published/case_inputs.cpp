// SPDX-License-Identifier: MIT
// Reading the inputs of a published case, and the plans of its recipes.
#include "published/published.hpp"

namespace curdwright::test {
namespace {

std::vector<std::string> texts(const Json& published, std::string_view key) {
  if (!published.contains(key)) return {};
  const Json& v = published.at(std::string(key));
  return v.is_array() ? v.get<std::vector<std::string>>() : std::vector<std::string>{v.get<std::string>()};
}

Plan sound_plan(const Json& recipe, const std::vector<std::string>& set) {
  const Plan p = plan_of(recipe.dump(), 1.0, set);
  CAPTURE(recipe.dump(), static_cast<int>(p.fault));
  REQUIRE((p.whole() || p.fault == Fault::hob_too_weak));  // a weak hob changes no mass
  return p;
}

}  // namespace

double given(const Json& published, std::string_view key) { return published.at("inputs").at(std::string(key)).at("value").get<double>(); }

std::vector<double> all_given(const Json& published, std::string_view key) {
  const Json& input = published.at("inputs").at(std::string(key));
  const Json& v = input.contains("range") ? input.at("range") : input.at("value");
  return v.is_array() ? v.get<std::vector<double>>() : std::vector<double>{v.get<double>()};
}

std::vector<std::string> records(const Json& published) { return texts(published, "record"); }

Json one_or_all(const std::vector<double>& values) { return values.size() == 1 ? Json(values.front()) : Json(values); }

Setup setup_of_case(const Json& published) { return setup_of(published.at("recipe").dump(), texts(published, "set")); }

Plan plan_of_case(const Json& published) { return sound_plan(published.at("recipe"), texts(published, "set")); }

std::vector<Plan> plans_of_case(const Json& published) {
  const Json& recipe = published.at("recipe");
  std::vector<Plan> plans;
  for (const Json& r : recipe.is_array() ? recipe : Json::array({recipe})) plans.push_back(sound_plan(r, texts(published, "set")));
  return plans;
}

Json of_each(const std::vector<Plan>& plans, double (*figure)(const Plan&)) {
  std::vector<double> values;
  for (const Plan& p : plans) values.push_back(figure(p));
  return one_or_all(values);
}

Seed seed_of(const std::string& record) {
  const Setup s = setup_of(Json{{"legume", record}}.dump());
  Seed seed{s.beliefs.medians(), {}};
  seed.dry.of = seed_composition(seed.theta, 0, s.job.seeds[0].oily);
  seed.dry.at = celsius(20);
  return seed;
}

Theta model_medians() { return seed_of("soybean").theta; }

}  // namespace curdwright::test
