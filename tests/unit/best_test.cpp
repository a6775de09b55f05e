// SPDX-License-Identifier: MIT
// The settings with which a recipe does best, against a fine grid.
#include "curdwright/best.hpp"

#include <algorithm>
#include <array>

#include "curdwright/cautions.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

const Catalogue& shipped() {
  static const Catalogue c = Catalogue::shipped();
  return c;
}

Question question(std::vector<std::string> keep, const std::vector<std::string>& let, std::string_view aim = "protein_per_cost", bool most = true) {
  Question q{{R"({"legume":"chickpea-kabuli","want":{"dry":"2 kg"}})", "r.json", R"({"prices":{"chickpea-kabuli":"3.10/kg","water":"0.004/l","electricity":"0.35/kWh"}})", "k.json", {}, {}}, must(read_aim(aim, most)), {}, {}};
  for (const std::string& k : keep) q.keep.push_back(must(read_condition(k)));
  for (const std::string& l : let) q.let.push_back(must(read_room(l)));
  return q;
}

bool keeps(const Question& q, const Batch& b) {
  return std::all_of(q.keep.begin(), q.keep.end(), [&](const Condition& c) {
    const auto v = value(*c.response, b);
    return v && (c.at_most ? *v <= c.limit * (1 + 1e-6) : *v >= c.limit * (1 - 1e-6));
  });
}

/// The best of a fine grid over two rooms, planned without rounding.
double best_of_grid(const Question& q, int steps) {
  double found = -1e300;
  for (int i = 0; i <= steps; ++i)
    for (int k = 0; k <= (q.let.size() > 1 ? steps : 0); ++k) {
      InputTexts texts = q.texts;
      const std::array<int, 2> at = {i, k};
      for (std::size_t d = 0; d < q.let.size(); ++d) texts.set.push_back(q.let[d].setting(q.let[d].low + (q.let[d].high - q.let[d].low) * at[d] / steps));
      const auto b = plan_texts(std::move(texts), shipped(), Rounding::none);
      if (!b || !keeps(q, *b)) continue;
      const auto v = value(*q.aim.response, *b);
      if (v) found = std::max(found, q.aim.most ? *v : -*v);
    }
  return q.aim.most ? found : -found;
}

}  // namespace

TEST_CASE("the optimum is no worse than the best of a fine grid") {
  const auto check = [](const Question& q) {
    const Answer a = must(best(q, shipped()));
    const double grid = best_of_grid(q, q.let.size() > 1 ? 40 : 400);
    INFO(a.settings[0] << " " << a.aim << " against " << grid);
    CHECK((q.aim.most ? a.aim / grid : grid / a.aim) > 0.995);  // rounding to scales and for people may take a little
    CHECK(keeps(q, a.batch));
  };
  check(question({"starch_fraction<=0.03"}, {"/blend/total_water_to_dry=4:10", "/starch/time=10min:2h"}));
  check(question({"time<=26h"}, {"/starch/time=10min:3h", "/soak/time=8h:24h"}, "protein_fraction"));
  check(question({"protein_fraction>=8%"}, {"/starch/time=5min:3h"}, "total_cost", false));
  check(question({"protein_fraction>=8%", "starch_fraction<=3%"}, {"/starch/time=5min:3h", "/press/pressure=1kPa:12kPa"}, "curd_mass_g"));
}

TEST_CASE("the answer is that of the sheet with its settings") {
  const Question q = question({"starch_fraction<=0.03"}, {"/blend/total_water_to_dry=4:10", "/starch/time=10min:2h"});
  const Answer a = must(best(q, shipped()));
  InputTexts texts = q.texts;
  texts.set = a.settings;
  const Batch sheet = must(plan_texts(texts, shipped()));
  CHECK(a.aim == value(*q.aim.response, sheet).value());
  CHECK(a.kept[0] == value(*q.keep[0].response, sheet).value());
  CHECK(a.as_it_stands.value() == value(*q.aim.response, must(plan_texts(q.texts, shipped()))).value());
  CHECK(a.range->low < a.aim);
  CHECK(a.range->high > a.aim);
}

TEST_CASE("a condition that binds is named with what easing it would give, and one that does not is not") {
  const Question q = question({"starch_fraction<=0.03", "time<=80h"}, {"/blend/total_water_to_dry=5:8", "/starch/time=10min:2h"});
  const Answer a = must(best(q, shipped()));
  CHECK(a.binds[0]);
  CHECK_FALSE(a.binds[1]);
  const auto eased = std::find_if(a.relaxed.begin(), a.relaxed.end(), [](const Relaxed& r) { return r.what == "starch_fraction<=0.03"; });
  REQUIRE(eased != a.relaxed.end());
  // What it promises is what the eased question gives.
  Question other = q;
  other.keep[0].limit = eased->to;
  CHECK(eased->aim == Approx(must(best(other, shipped())).aim).epsilon(0.004));
  CHECK(eased->aim > a.aim);
}

TEST_CASE("listed settings are searched in every combination") {
  const Question q = question({}, {"/strain/by=cloth-drain,hand-twist,hydraulic-press", "/blend/total_water_to_dry=5:9"}, "yield");
  const Answer a = must(best(q, shipped()));
  double found = 0;
  std::string by;
  for (const Level& l : q.let[0].levels) {
    Question one = q;
    one.texts.set.push_back("/strain/by=" + l.text);
    one.let.erase(one.let.begin());
    if (const double v = best_of_grid(one, 100); v > found) found = v, by = l.text;
  }
  CHECK(a.settings[0] == "/strain/by=" + by);
  CHECK(a.aim > 0.995 * found);
}

TEST_CASE("nothing that a rule stops is an answer") {
  // Less cooking boils off less, so the most curd would come from beans that are still poisonous.
  Question q = question({}, {"/cook/hold=1min:60min"}, "curd_mass_g");
  q.texts.recipe = R"({"legume":"kidney-red","want":{"dry":"1 kg"}})";
  const Answer a = must(best(q, shipped()));
  CHECK_FALSE(stops(cautions(facts_of(a.batch))));
  CHECK(in_minutes(a.batch.setup.job.cook.hold) >= 10);
}

TEST_CASE("a question without an answer says how near one comes") {
  const auto none = best(question({"starch_fraction<=0.001"}, {"/starch/time=10min:1h"}), shipped());
  REQUIRE_FALSE(none);
  CHECK(none.error()[0].code == "out-of-reach");
  CHECK(none.error()[0].why.find("/starch/time=60 min: starch_fraction<=0.001, where it comes to ") != std::string::npos);
  CHECK(best(question({}, {}), shipped()).error()[0].what == "nothing may be chosen");
  CHECK(read_condition("starch_fraction=0.03").error()[0].code == "factor-unreadable");
  CHECK(read_condition("starch<=3 kg").error()[0].code == "unit-wrong-kind");
  CHECK_FALSE(best(question({}, {"/starch/time=1h:2h", "/starch/time=1h:2h"}), shipped()));
}

TEST_CASE("a search stops with the best so far") {
  const Question q = question({}, {"/strain/by=cloth-drain,hand-twist,hydraulic-press", "/blend/total_water_to_dry=5:9"}, "yield");
  const Answer a = must(best(q, shipped(), [](std::size_t done, std::size_t) { return done < 1; }));
  CHECK_FALSE(a.whole);
  CHECK(a.settings[0] == "/strain/by=cloth-drain");
}
