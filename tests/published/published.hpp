// SPDX-License-Identifier: MIT
// What the checkers of published cases share. A checker works one case of cases.json with the library and
// answers under the names of the case's `observed` figures: numbers, lists of numbers, words, yes or no.
// The runner in published_test.cpp compares; a checker never does.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "support/support.hpp"

namespace curdwright::test {

using Json = nlohmann::json;
using Checker = Json (*)(const Json& published);
using Checkers = std::map<std::string, Checker, std::less<>>;

Checkers soak_checkers();
Checkers extraction_checkers();
Checkers starch_checkers();
Checkers heat_checkers();
Checkers cook_checkers();
Checkers coagulation_checkers();
Checkers press_checkers();
Checkers yield_checkers();
Checkers chill_checkers();
Checkers safety_checkers();
Checkers nutrition_checkers();

/// Every case that one of these checkers works: within its own tolerance, or off by what its misfit records.
void check_published(const Checkers& checkers);

/// Value of an input figure.
double given(const Json& published, std::string_view key);
/// All values of an input figure: one, a list, or the two ends of a range.
std::vector<double> all_given(const Json& published, std::string_view key);
/// Catalogue records that stand for the legumes of a case.
std::vector<std::string> records(const Json& published);
/// A list of one is the number itself.
Json one_or_all(const std::vector<double>& values);

/// Setup and plan of the case's recipe, or of each of them, for one kilogram of seed.
Setup setup_of_case(const Json& published);
Plan plan_of_case(const Json& published);
std::vector<Plan> plans_of_case(const Json& published);
/// One figure of each plan.
Json of_each(const std::vector<Plan>& plans, double (*figure)(const Plan&));

/// A dry seed of 1 kg with the medians of its record.
struct Seed {
  Theta theta;
  Stream dry;
};
Seed seed_of(const std::string& record);
/// Medians that belong to no legume.
Theta model_medians();

}  // namespace curdwright::test
