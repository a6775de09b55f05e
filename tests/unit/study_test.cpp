// SPDX-License-Identifier: MIT
// What if: responses, variations, comparisons, rankings, lines.
#include "curdwright/study.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "curdwright/contrast.hpp"
#include "curdwright/cost.hpp"
#include "curdwright/line.hpp"
#include "curdwright/rank.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

const Catalogue& shipped() {
  static const Catalogue c = Catalogue::shipped();
  return c;
}

InputTexts chickpea(std::vector<std::string> set = {}) {
  return {R"({"legume":"chickpea-kabuli","want":{"dry":"1 kg"},"blend":{"total_water_to_dry":6.5}})", "chickpea.json", {}, "", std::move(set), {}};
}

const Response* response(std::string_view key) { return must(find_response(key)); }

Batch planned(const InputTexts& texts) { return must(plan_texts(texts, shipped())); }

}  // namespace

TEST_CASE("every figure of the plan is a response, with the value of the plan") {
  const Batch b = planned(chickpea());
  for (const FigureInfo& f : all_figures()) {
    const auto r = std::find_if(all_responses().begin(), all_responses().end(), [&](const Response& one) { return one.figure == f.figure; });
    REQUIRE(r != all_responses().end());
    INFO(r->key);
    const double scale = f.group == FigureGroup::per_100g && f.key.ends_with("_g") ? 0.01 : 1;
    CHECK(value(*r, b).value() == Approx(value(b.plan, f.figure) * scale));
  }
  std::set<std::string> keys;
  for (const Response& r : all_responses()) CHECK(keys.insert(r.key).second);
}

TEST_CASE("a response is found by its key, with or without its unit") {
  CHECK(response("yield")->key == "yield_fraction");
  CHECK(response("time")->key == "time_s");
  CHECK(response("calcium_mg")->key == "calcium_mg_per_100g");
  CHECK(response("protein_per_cost")->key == "protein_per_cost");
  CHECK(find_response("protien_fraction").error()[0].fix == "did you mean \"protein_fraction\"?");
  CHECK(must(read_amount(*response("time_s"), "20 h")) == 72000);
  CHECK(must(read_amount(*response("starch_fraction"), "3 %")) == Approx(0.03));
  CHECK(must(read_amount(*response("curd_mass_g"), "1.2 kg")) == Approx(1200));
  CHECK_FALSE(read_amount(*response("cost_per_block"), "2 EUR"));
}

TEST_CASE("less is better of costs, times, growth and what is to be got rid of") {
  std::vector<std::string> less;
  for (const Response& r : all_responses()) {
    if (r.less_is_better) less.push_back(r.key);
    if (r.key.ends_with("_s")) CHECK(r.less_is_better);
    if (r.unit == "money") CHECK(r.less_is_better);
  }
  CHECK(less.size() == 14);
  CHECK((*find_response("growth_before_boil"))->less_is_better);
  CHECK((*find_response("trypsin_inhibitor_left"))->less_is_better);
  CHECK_FALSE((*find_response("protein_per_cost"))->less_is_better);
}

TEST_CASE("costs are responses only where prices are told, and are those of the cost table") {
  CHECK_FALSE(value(*response("cost_per_block"), planned(chickpea())));
  const Batch b = planned(chickpea({"/kitchen/prices/chickpea-kabuli=3.10/kg"}));
  const Cost c = *cost(b, prices_of(b.setup.kitchen));
  CHECK(value(*response("total_cost"), b).value() == c.sums->total);
  CHECK(value(*response("protein_per_cost"), b).value() == Approx(10 / c.sums->per_10g_protein));
}

TEST_CASE("a variation is what separate sheets would say") {
  const InputTexts texts = chickpea();
  const std::vector<const Response*> responses = {response("curd_mass_g"), response("starch_fraction"), response("time")};
  const Variation v = must(vary(texts, {must(read_factor("/starch/time=10min:50min:20min")), must(read_factor("/strain/by=hand-twist,cloth-drain"))}, responses, shipped()));
  REQUIRE(v.runs.size() == 6);
  CHECK(v.whole());
  for (const Run& run : v.runs) {
    const Batch b = planned(chickpea({v.factors[0].setting(run.at[0]), v.factors[1].setting(run.at[1])}));
    const auto ranges = response_ranges(b, responses, sample_for(b.setup.beliefs));
    for (std::size_t i = 0; i < responses.size(); ++i) {
      CHECK(run.cells[i].value == value(*responses[i], b));
      CHECK(run.cells[i].range->low == ranges[i]->low);
      CHECK(run.cells[i].range->high == ranges[i]->high);
    }
  }
  CHECK(v.runs[1].at == std::vector<std::size_t>{0, 1});
}

TEST_CASE("ranges of responses are those of the plan's figures") {
  const Batch b = planned(chickpea());
  const Ranges all = ranges(b.setup.job, b.setup.beliefs, sample_for(b.setup.beliefs));
  const auto mine = response_ranges(b, std::array{response("curd_mass_g"), response("protein_fraction")}, sample_for(b.setup.beliefs));
  CHECK(mine[0]->low == Approx(all.of(Figure::curd_mass).low));
  CHECK(mine[1]->high == Approx(all.of(Figure::protein).high / 100));
}

TEST_CASE("a run that cannot be planned says why, and a stopped one by which rule; the others stand") {
  const Variation v = must(vary(chickpea(), {must(read_factor("/press/moisture=70%,95%"))}, {response("curd_mass_g")}, shipped()));
  CHECK(v.runs[0].problems.empty());
  CHECK(v.runs[1].problems.at(0).code == "out-of-reach");
  const InputTexts beans{R"({"legume":"kidney-red","want":{"dry":"1 kg"}})", "beans.json", {}, "", {}, {}};
  const Variation stopped = must(vary(beans, {must(read_factor("/cook/hold=2min,35min"))}, {response("curd_mass_g")}, shipped()));
  CHECK_FALSE(stopped.runs[0].stops.empty());
  CHECK(stopped.runs[1].stops.empty());
}

TEST_CASE("a variation stops with what is done, and is refused where it could never end") {
  const Factor times = must(read_factor("/starch/time=10min:50min:10min"));
  VaryOptions some;
  some.depth = Depth::off;
  some.go_on = [](std::size_t done, std::size_t) { return done < 2; };
  const Variation v = must(vary(chickpea(), {times}, {response("curd_mass_g")}, shipped(), some));
  CHECK(v.runs.size() == 2);
  CHECK_FALSE(v.whole());
  CHECK(vary(chickpea(), {times, times}, {}, shipped()).error()[0].what == "/starch/time is varied twice");
  const Factor many = must(read_factor("/starch/time=1s:1000s:1s")), more = must(read_factor("/soak/time=1h:90h:0.1h"));
  CHECK(vary(chickpea(), {many, more}, {}, shipped()).error()[0].code == "out-of-range");
}

TEST_CASE("what is not known of both cancels in a comparison") {
  // The same beans, left to settle for 20 and for 50 minutes: each starch is wide open, yet which has more is not.
  const Batch a = planned(chickpea({"/starch/time=20 min"})), b = planned(chickpea({"/starch/time=50 min"}));
  const Contrast c = contrasts(std::array{&a, &b}, std::array{response("starch_fraction")})[0];
  CHECK(c.ranges[0]->low < c.ranges[1]->high);   // the ranges overlap
  CHECK(c.to_first[1]->clear());                 // the difference does not reach 0
  CHECK(c.to_first[1]->range.high < 0);
  CHECK(c.to_first[1]->chance_more < 0.1);
  CHECK(c.to_first[1]->median == Approx(*c.values[1] - *c.values[0]));
  // Drawn apart, the difference would be as wide as both ranges together.
  const double apart = std::hypot(c.ranges[0]->high - c.ranges[0]->low, c.ranges[1]->high - c.ranges[1]->low);
  CHECK(c.to_first[1]->range.high - c.to_first[1]->range.low < 0.7 * apart);
  // A batch beside itself differs by nothing, whatever is not known.
  const Contrast same = contrasts(std::array{&a, &a}, std::array{response("starch_fraction")})[0];
  CHECK(same.to_first[1]->range.low == 0);
  CHECK(same.to_first[1]->range.high == 0);
  CHECK_FALSE(same.to_first[1]->clear());
}

TEST_CASE("another legume is drawn apart, and the gear of both together") {
  InputTexts soy = chickpea();
  soy.recipe = R"({"legume":"soybean","want":{"dry":"1 kg"},"blend":{"total_water_to_dry":6.5}})";
  const Batch a = planned(chickpea()), b = planned(soy);
  const Contrast c = contrasts(std::array{&a, &b}, std::array{response("pulp_mass_g")})[0];
  const double mine = c.ranges[0]->high - c.ranges[0]->low, theirs = c.ranges[1]->high - c.ranges[1]->low, difference = c.to_first[1]->range.high - c.to_first[1]->range.low;
  CHECK(difference < std::hypot(mine, theirs));
  CHECK(difference > 0.05 * mine);
}

TEST_CASE("what differs in recipes is told once, whoever tells it") {
  InputTexts other = chickpea({"/starch/time=30 min"});
  other.recipe = R"({"title":"another","legume":"chickpea-kabuli","want":{"dry":"2 kg"},"blend":{"total_water_to_dry":6.5}})";
  const auto all = differences(std::array{chickpea(), other});
  REQUIRE(all.size() == 2);
  CHECK(all[0].pointer == "/want/dry");
  CHECK(all[0].told == std::vector<std::string>{"1 kg", "2 kg"});
  CHECK(all[1].pointer == "/starch/time");
  CHECK(all[1].told == std::vector<std::string>{"", "30 min"});
}

TEST_CASE("a ranking is in order, equals the plans, and leaves out what is asked") {
  RankQuestion q;
  q.texts = {R"({"legume":"soybean","want":{"dry":"1 kg"}})", "r.json", {}, "", {}, {}};
  q.by = response("protein_fraction");
  const Ranking all = rank_legumes(q, shipped());
  REQUIRE(all.ranked.size() + all.left_out.size() == shipped().legume_ids().size());
  for (std::size_t i = 0; i < all.ranked.size(); ++i) {
    if (i > 0) CHECK(all.ranked[i].value <= all.ranked[i - 1].value);
    InputTexts mine = q.texts;
    mine.set = {"/legume=" + all.ranked[i].id};
    CHECK(all.ranked[i].value == value(*q.by, planned(mine)).value());
  }
  REQUIRE(read_without("allergen:soy", q));
  REQUIRE(read_without("hazard:favism", q));
  for (const Ranked& l : rank_legumes(q, shipped()).ranked) {
    CHECK(l.id != "soybean");
    CHECK_FALSE(l.id.starts_with("faba"));
  }
  CHECK(read_without("hazard:favsm", q).error()[0].fix == "did you mean \"favism\"?");
  CHECK_FALSE(read_without("soy", q));
}

TEST_CASE("a legume without a price is named, never ranked as free") {
  RankQuestion q;
  q.texts = {R"({"legume":"soybean","want":{"dry":"1 kg"}})", "r.json", R"({"prices":{"soybean":"3.10/kg","mung-whole":"2.00/kg"}})", "k.json", {}, {}};
  q.by = response("protein_per_cost");
  const Ranking r = rank_legumes(q, shipped());
  REQUIRE(r.ranked.size() == 2);
  CHECK(r.left_out.size() == shipped().legume_ids().size() - 2);
  CHECK(r.left_out[0].why == "no price is told for it");
  q.under = 2.5;
  const Ranking cheap = rank_legumes(q, shipped());
  REQUIRE(cheap.ranked.size() == 1);
  CHECK(cheap.ranked[0].id == "mung-whole");
  CHECK(cheap.unwished == 1);
}

TEST_CASE("a line's answer is the sheet on one line") {
  const Lines lines({}, shipped());
  REQUIRE(lines.problems().empty());
  for (const char* recipe : {R"({"legume":"chickpea-kabuli","want":{"blocks":4}})", R"({"legume":"soybean","title":"a \"b\"","want":{"curd":"2 kg"}})", R"({"legume":[{"id":"pea-split-yellow"},{"id":"faba-split"}]})"}) {
    const LineAnswer a = lines.answer(recipe, 1);
    CHECK(a.good);
    CHECK(a.text.find('\n') == std::string::npos);
    const Batch b = planned({recipe, "r.json", {}, "", {}, {}});
    const Facts facts = facts_of(b);
    CHECK(nlohmann::ordered_json::parse(a.text) == nlohmann::ordered_json::parse(to_json(facts, make_sheet(facts, {}))));
  }
}

TEST_CASE("a bad line is answered in place with its problems, at its line") {
  const Lines lines({}, shipped());
  const auto problem = [&](std::string_view line) {
    const LineAnswer a = lines.answer(line, 17);
    CHECK_FALSE(a.good);
    const auto j = nlohmann::json::parse(a.text);
    CHECK(j.at("schema") == "curdwright.problems/1");
    CHECK(j.at("problems").at(0).at("line_number") == 17);
    return j.at("problems").at(0).at("code").get<std::string>();
  };
  CHECK(problem("{") == "json-syntax");
  CHECK(problem("") == "json-syntax");
  CHECK(problem(R"({"legume":"grass-pea"})") == "refused");
  CHECK(problem(R"({"legume":"soybean","soak":{"time":"5"}})") == "unit-missing");
  CHECK(problem(R"({"legume":"soybean","press":{"moisture":"95 %"}})") == "out-of-reach");
  CHECK(problem(std::string((1 << 20) + 1, ' ')) == "file-too-large");
  CHECK_FALSE(lines.answer(R"({"legume":"kidney-red","cook":{"hold":"1 min"}})", 1).good);  // stopped, and so said
}
