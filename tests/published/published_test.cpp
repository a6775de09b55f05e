// SPDX-License-Identifier: MIT
// Runs the published cases and keeps their table honest.
#include <algorithm>
#include <cmath>
#include <iostream>
#include <set>

#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// How close a plan must stay to a recorded misfit: four figures are kept.
constexpr double recorded_digits = 1e-3;

const Json& all_cases() {
  static const Json cases = Json::parse(from_source("tests/published/cases.json")).at("cases");
  return cases;
}

Checkers every_checker() {
  Checkers all;
  for (const auto& part : {soak_checkers(), extraction_checkers(), starch_checkers(), heat_checkers(), cook_checkers(), coagulation_checkers(),
                           press_checkers(), yield_checkers(), chill_checkers(), safety_checkers(), nutrition_checkers()})
    for (const auto& [name, checker] : part) {
      CAPTURE(name);
      CHECK(all.emplace(name, checker).second);
    }
  return all;
}

/// What is allowed around a published figure.
struct Band {
  double low, high;          ///< printed value, or ends of the printed range
  double slack_low, slack_high;
  [[nodiscard]] bool holds(double x) const { return x >= low - slack_low && x <= high + slack_high; }
  /// Signed distance from what is printed, without any tolerance.
  [[nodiscard]] double off(double x) const { return x < low ? x - low : x > high ? x - high : 0.0; }
};

double slack(const Json& observed, double value) {
  if (!observed.contains("tolerance")) return 1e-12 * std::abs(value);
  const Json& t = observed.at("tolerance");
  return t.is_object() ? t.at("percent").get<double>() / 100.0 * std::abs(value) : t.get<double>();
}

/// Band of element i of the answer.
Band band(const Json& observed, std::size_t i) {
  constexpr double far = 1e300;
  double low = -far, high = far;
  if (observed.contains("range")) {
    low = observed.at("range").at(0).get<double>();
    high = observed.at("range").at(1).get<double>();
  } else if (observed.contains("min") || observed.contains("max")) {
    if (observed.contains("min")) low = observed.at("min").get<double>();
    if (observed.contains("max")) high = observed.at("max").get<double>();
  } else {
    const Json& v = observed.at("value");
    low = high = (v.is_array() ? v.at(i) : v).get<double>();
  }
  return {low, high, low == -far ? 0 : slack(observed, low), high == far ? 0 : slack(observed, high)};
}

std::vector<double> as_list(const Json& v) { return v.is_array() ? v.get<std::vector<double>>() : std::vector<double>{v.get<double>()}; }
bool is_numeric(const Json& v) { return v.is_number() || (v.is_array() && !v.empty() && v.at(0).is_number()); }
/// What a figure that is no number says.
const Json& saying(const Json& observed) { return observed.is_object() ? observed.at("value") : observed; }

bool meets(const Json& observed, const Json& answer) {
  if (!is_numeric(answer)) return saying(observed) == answer;
  const std::vector<double> x = as_list(answer);
  if (observed.contains("value") && observed.at("value").is_array() && observed.at("value").size() != x.size()) return false;
  for (std::size_t i = 0; i < x.size(); ++i)
    if (!band(observed, i).holds(x[i])) return false;
  return true;
}

/// The plan gives what the misfit records, the record says truly how far off that is, and it is off.
void check_misfit(const Json& observed, const Json& answer, const Json& misfit) {
  CHECK_FALSE(meets(observed, answer));  // else the misfit is cured: take it out of cases.json
  CHECK(misfit.at("why").get<std::string>().size() > 10);
  if (!is_numeric(answer)) {
    CHECK(answer == misfit.at("gives"));
    return;
  }
  const std::vector<double> now = as_list(answer), recorded = as_list(misfit.at("gives")), by = as_list(misfit.at("by"));
  REQUIRE(recorded.size() == now.size());
  REQUIRE(by.size() == now.size());
  for (std::size_t i = 0; i < now.size(); ++i) {
    CAPTURE(i, now[i], recorded[i]);
    CHECK(std::abs(now[i] - recorded[i]) <= recorded_digits * std::abs(recorded[i]));
    CHECK(std::abs(band(observed, i).off(recorded[i]) - by[i]) <= 0.01 * std::abs(by[i]) + recorded_digits * std::abs(recorded[i]));
  }
}

void check_case(const Json& c, const Json& answers) {
  const Json none = Json::object();
  const Json& misfits = c.contains("misfit") ? c.at("misfit") : none;
  const Json& skipped = c.contains("not_compared") ? c.at("not_compared") : none;
  std::size_t compared = 0;
  for (const auto& [key, observed] : c.at("observed").items()) {
    CAPTURE(key, observed.dump());
    if (skipped.contains(key)) {
      CHECK_FALSE(misfits.contains(key));
      continue;
    }
    REQUIRE(answers.contains(key));
    CAPTURE(answers.at(key).dump());
    ++compared;
    if (misfits.contains(key)) check_misfit(observed, answers.at(key), misfits.at(key));
    else CHECK(meets(observed, answers.at(key)));
  }
  CHECK(compared > 0);
  for (const auto& [key, misfit] : misfits.items()) {
    CAPTURE(key);
    CHECK(c.at("observed").contains(key));
  }
  for (const auto& [key, reason] : skipped.items()) {
    CAPTURE(key);
    CHECK(c.at("observed").contains(key));
    CHECK(reason.get<std::string>().size() > 10);
  }
}

}  // namespace

void check_published(const Checkers& checkers) {
  for (const Json& c : all_cases()) {
    if (!c.contains("run")) continue;
    const auto found = checkers.find(c.at("run").get<std::string>());
    if (found == checkers.end()) continue;
    INFO(c.at("id").get<std::string>() << " (" << c.at("run").get<std::string>() << "): " << c.at("source").get<std::string>());
    check_case(c, found->second(c));
  }
}

TEST_CASE("every published case is either run or says why not") {
  std::set<std::string> ids;
  for (const Json& c : all_cases()) {
    const std::string id = c.at("id").get<std::string>();
    CAPTURE(id);
    CHECK(ids.insert(id).second);
    CHECK(c.contains("run") != c.contains("not_run"));
    if (c.contains("not_run")) {
      CHECK(c.at("not_run").get<std::string>().size() > 10);
      CHECK_FALSE(c.contains("misfit"));
      CHECK_FALSE(c.contains("not_compared"));
    }
    for (const char* key : {"stage", "legume", "inputs", "observed", "source", "how_known", "confidence"}) {
      CAPTURE(key);
      CHECK(c.contains(key));
    }
  }
  CHECK(ids.size() == 221);  // 219 of the reference, and two USDA curds
}

TEST_CASE("every checker that a published case names exists, and every checker is used") {
  const Checkers checkers = every_checker();
  std::set<std::string> used;
  for (const Json& c : all_cases()) {
    if (!c.contains("run")) continue;
    used.insert(c.at("run").get<std::string>());
    CAPTURE(c.at("id").get<std::string>(), c.at("run").get<std::string>());
    CHECK(checkers.count(c.at("run").get<std::string>()) == 1);
  }
  for (const auto& [name, checker] : checkers) {
    CAPTURE(name);
    CHECK(used.count(name) == 1);
  }
}

TEST_CASE("no fewer published cases are run than once were") {
  const Json& cases = all_cases();
  const auto count = [&](const char* key) { return std::count_if(cases.begin(), cases.end(), [&](const Json& c) { return c.contains(key); }); };
  WARN(count("run") << " published cases run, " << count("misfit") << " of them with a recorded misfit; " << count("not_run") << " not run");
  CHECK(count("run") >= 173);
}

TEST_CASE("a table of published figures beside planned ones", "[.table]") {
  const Checkers checkers = every_checker();
  for (const Json& c : all_cases()) {
    if (!c.contains("run") || checkers.count(c.at("run").get<std::string>()) == 0) continue;
    const Json answers = checkers.find(c.at("run").get<std::string>())->second(c);
    for (const auto& [key, observed] : c.at("observed").items()) {
      const bool answered = answers.contains(key);
      std::cout << c.at("id").get<std::string>() << '\t' << key << '\t' << observed.dump() << '\t' << (answered ? answers.at(key).dump() : "-") << '\t'
                << (!answered ? "not compared" : meets(observed, answers.at(key)) ? "meets" : "misses") << '\n';
    }
  }
}

}  // namespace curdwright::test
