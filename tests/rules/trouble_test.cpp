// SPDX-License-Identifier: MIT
// Every cause of the table of troubles is offered when it should be, in amounts that hold, and never at the cost of care.
#include <cmath>
#include <regex>
#include <set>

#include "curdwright/properties.hpp"
#include "curdwright/settling.hpp"
#include "curdwright/trouble.hpp"
#include "rules/trouble_rows.hpp"
#include "trouble_words.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

const Troubles& table() {
  static const Troubles t = shipped_troubles();
  return t;
}

std::vector<Move> moves(const Batch& b, std::string_view seen) { return next_moves(b, table(), must(read_sighting(seen, table()))); }
std::vector<Move> moves(const Try& t, std::string_view seen) { return moves(batch_of(t), seen); }

std::optional<Move> find_move(const std::vector<Move>& list, std::string_view id) {
  const auto m = std::find_if(list.begin(), list.end(), [id](const Move& x) { return x.id == id; });
  return m == list.end() ? std::nullopt : std::optional(*m);
}
Move the(const Try& t, std::string_view seen, std::string_view id) {
  const auto m = find_move(moves(t, seen), id);
  if (!m) FAIL(seen << " " << id << " is not offered");
  return *m;
}

std::string ids(const std::vector<Move>& list) {
  std::string all;
  for (const Move& m : list) all += m.id + (m.likely ? "* " : " ");
  return all;
}

std::string name(const TroubleSight& s) { return s.sighting.what + "=" + s.sighting.looks; }

/// Grams of gypsum that make so many mmol in the cooked milk, by its molar mass and the purity of the record.
double gypsum_for(const Batch& b, double millimolar) {
  const Coagulant c = must(Catalogue::shipped().coagulant("gypsum"));
  const double litres_of_milk = in_litres(volume_at_20(b.plan.cooked.milk.of));
  return millimolar * 1e-3 * litres_of_milk * 172.17 / c.purity->value;
}

}  // namespace

TEST_CASE("every cause of the table has a row, and every row a cause") {
  std::set<std::string> rows, causes;
  for (const TroubleRow& r : trouble_rows()) {
    INFO(r.seen << " " << r.cause);
    CHECK(rows.insert(std::string(r.seen) + " " + std::string(r.cause)).second);
  }
  for (const TroubleSight& s : table().sights)
    for (const TroubleCause& c : s.causes) CHECK(causes.insert(name(s) + " " + c.id).second);
  CHECK(rows == causes);
}

TEST_CASE("every cause is offered for its recipe, and comes first where the plan points to it") {
  for (const TroubleRow& r : trouble_rows()) {
    const auto list = moves(r.fires, r.seen);
    INFO(r.seen << " " << r.cause << " " << shown(r.fires) << " gives " << ids(list));
    CHECK(find_move(list, r.cause).has_value());
    if (r.comes == Comes::first) CHECK((!list.empty() && list[0].id == r.cause));
  }
}

TEST_CASE("every cause with a condition is not offered for a recipe that does not meet it") {
  for (const TroubleRow& r : trouble_rows()) {
    INFO(r.seen << " " << r.cause);
    CHECK(r.silent.with.has_value() == r.silent.never.empty());
    if (!r.silent.with) continue;
    const auto list = moves(*r.silent.with, r.seen);
    INFO(shown(*r.silent.with) << " gives " << ids(list));
    CHECK_FALSE(find_move(list, r.cause).has_value());
    CHECK_FALSE(list.empty());
  }
}

TEST_CASE("the sights that were asked for are there") {
  for (const char* seen : {"whey=milky", "curd=none", "curd=wispy", "curd=custard", "pulp=coarse", "pulp=slimy", "cloth=blocked", "milk=scorched", "milk=boiled-over", "block=crumbles",
                           "block=wet", "block=holes"}) {
    INFO(seen);
    CHECK(read_sighting(seen, table()).has_value());
  }
}

TEST_CASE("every legume with every kind of coagulant has a whole answer to everything that can be seen") {
  for (const std::string& id : Catalogue::shipped().legume_ids())
    for (const char* with : {"gypsum", "nigari-flakes", "vinegar-5", "gdl"}) {
      const Batch b = batch_of(of(id, {std::string("/coagulate/with=") + with}));
      for (const TroubleSight& s : table().sights) {
        const auto list = moves(b, name(s));
        INFO(id << " " << with << " " << name(s));
        CHECK_FALSE(list.empty());
        for (const Move& m : list) {
          INFO(m.id << ": " << m.action);
          for (const std::string& text : {m.cause, m.action, m.stop}) {
            CHECK_FALSE(text.empty());
            CHECK(text.find_first_of("{}") == std::string::npos);
            CHECK(text.find("nan") == std::string::npos);
            CHECK(text.find(" 0 g") == std::string::npos);
          }
          CHECK((!m.amount || m.amount->si() > 0));
          CHECK((!m.wait || m.wait->si() > 0));
          CHECK((!m.at || (*m.at >= celsius(20) && *m.at <= celsius(100))));
          CHECK(m.stage == s.stage);
        }
      }
    }
}

// --- amounts -------------------------------------------------------------------------------------

TEST_CASE("milky whey: a quarter of the planned dose more, out of the kept-back mix") {
  const Batch b = batch_of(pea());
  const Move m = *find_move(moves(b, "whey=milky"), "too-little-kept");
  const int pots = b.setup.job.coagulate.pots;
  const double dose = value(b.plan, Figure::coagulant_mass), quarter = std::round(dose / pots * 0.25 * 10) / 10;
  // Gypsum is stirred into fifteen times its mass of water.
  REQUIRE(m.amount);
  CHECK(in_grams(*m.amount) == Approx(quarter * 16));
  CHECK(in_minutes(*m.wait) == Approx(5));
  char words[40];
  std::snprintf(words, sizeof words, "%.1f g of gypsum", quarter);
  CHECK_THAT(m.action, Catch::Contains(words));
  CHECK_THAT(m.action, Catch::Contains(pots > 1 ? "in each pot" : "over the cloudy places"));
}

TEST_CASE("with nothing kept back, milky whey is answered with a fresh mix") {
  const Batch b = batch_of(pea({"/coagulate/make_up=1"}));
  const Move m = *find_move(moves(b, "whey=milky"), "too-little-fresh");
  const double quarter = value(b.plan, Figure::coagulant_mass) / b.setup.job.coagulate.pots / 4;
  CHECK(in_grams(*m.amount) == Approx(quarter).margin(0.051));
  char words[40];
  std::snprintf(words, sizeof words, "into %.0f g of water", in_grams(*m.amount) * 15);
  CHECK_THAT(m.action, Catch::Contains(words));
}

TEST_CASE("no top-up ever passes the top of the dose window, and near it the answer is not more coagulant") {
  bool held = false, refused = false;
  for (double dose = 0.5; dose < 1.6; dose += 0.05) {
    INFO(dose << " mmol/g");
    const Batch b = batch_of(pea({"/coagulate/dose=" + std::to_string(dose) + " mmol/g", "/coagulate/make_up=1"}));
    const double used = value(b.plan, Figure::coagulant_mass), most = gypsum_for(b, 40);
    const auto list = moves(b, "whey=milky");
    const auto more = find_move(list, "too-little-fresh");
    CHECK(more.has_value() != find_move(list, "dose-at-top").has_value());
    refused = refused || !more;
    if (!more) continue;
    const double added = in_grams(*more->amount) * b.setup.job.coagulate.pots;
    CHECK(used + added <= most * (1 + 1e-6));
    CHECK(added <= used * 0.25 + 0.051 * b.setup.job.coagulate.pots);
    held = held || added < used * 0.25 - 0.2;
    const std::regex never("never more than ([0-9.]+) g");
    std::smatch found;
    REQUIRE(std::regex_search(more->stop, found, never));
    CHECK(std::stod(found[1]) * b.setup.job.coagulate.pots <= most * (1 + 1e-6));
  }
  CHECK((held && refused));
}

TEST_CASE("a coarse scale makes no top-up larger than it should be") {
  for (const char* step : {"0.01 g", "1 g", "5 g", "10 g"})
    for (const char* blocks : {"1", "4", "30"}) {
      INFO(step << " " << blocks);
      const Batch b = batch_of(pea({std::string("/kitchen/fine_scale/step=") + step, "/coagulate/make_up=1", std::string("/want/blocks=") + blocks, "/coagulate/dose=0.8 mmol/g"}));
      const double used = value(b.plan, Figure::coagulant_mass) / b.setup.job.coagulate.pots;
      const auto m = find_move(moves(b, "whey=milky"), "too-little-fresh");
      if (!m) continue;
      CHECK(in_grams(*m->amount) <= used * 0.25 * 1.25 + 1e-9);
      CHECK(in_grams(*m->amount) >= used * 0.25 * 0.2);
    }
}

TEST_CASE("more acid is a quarter too, and at most half as much again as the rule asks") {
  const Try usual = soy({"/coagulate/with=vinegar-5"});
  const Batch b = batch_of(usual);
  const double rule = value(b.plan, Figure::coagulant_mass);
  CHECK_THAT(the(usual, "whey=milky", "too-little-kept").action, Catch::Contains("of vinegar"));
  const auto dose = must(Catalogue::shipped().coagulant("vinegar-5")).dose->value;
  const auto at = [&](double times) { return soy({"/coagulate/with=vinegar-5", "/coagulate/make_up=1", "/coagulate/dose=" + std::to_string(dose * times) + " mmol/g"}); };
  const Move m = the(at(1.4), "whey=milky", "too-little-fresh");
  CHECK(value(batch_of(at(1.4)).plan, Figure::coagulant_mass) + in_grams(*m.amount) <= 1.5 * rule + 0.1);
  CHECK_FALSE(find_move(moves(at(1.6), "whey=milky"), "too-little-fresh").has_value());
}

TEST_CASE("GDL is given warmth and time, never more of it") {
  const Try slow = pea({"/coagulate/with=gdl", "/coagulate/at=40 degC", "/coagulate/wait=5 min"});
  for (const char* seen : {"whey=milky", "curd=none"}) {
    const Move m = the(slow, seen, "gdl-slow");
    CHECK(in_celsius(*m.at) == Approx(45));
    CHECK(in_minutes(*m.wait) == Approx(10));
    for (const Move& other : moves(slow, seen)) CHECK(other.id.rfind("too-little", 0) != 0);
  }
  // What it then comes to is what a plan with that bath and wait gives.
  const Batch then = batch_of(pea({"/coagulate/with=gdl", "/coagulate/at=45 degC", "/coagulate/wait=15 min"}));
  char words[40];
  std::snprintf(words, sizeof words, "By then %.0f %% has turned", 100 * then.plan.set.hydrolysed);
  CHECK_THAT(the(slow, "curd=none", "gdl-slow").action, Catch::Contains(words));
  CHECK(in_celsius(*the(pea({"/coagulate/with=gdl", "/coagulate/at=88 degC"}), "curd=none", "gdl-cold").at) == Approx(90));
  CHECK(in_celsius(*the(pea({"/coagulate/with=gdl", "/coagulate/at=95 degC"}), "curd=none", "gdl-cold").at) == Approx(95));
}

TEST_CASE("nigari: what is kept back is poured, and the mix is not tasted") {
  const Move m = the(soy({"/coagulate/with=nigari-flakes"}), "whey=milky", "too-little-kept");
  CHECK(std::any_of(m.before.begin(), m.before.end(), [](const std::string& s) { return s.find("Never taste the coagulant") == 0; }));
  const Move gypsum = the(soy(), "whey=milky", "too-little-kept");
  CHECK(std::none_of(gypsum.before.begin(), gypsum.before.end(), [](const std::string& s) { return s.find("Never taste the coagulant") == 0; }));
}

TEST_CASE("what blending the pulp again brings is the difference of two plans") {
  const Batch b = batch_of(pea({"/blend/time=15 s"}));
  const Move m = *find_move(moves(b, "pulp=coarse"), "short-blend");
  const double dry = b.plan.dry.si(), water = 0.2 * b.setup.job.blend.jarfuls;
  const auto planned = [&](const std::string& washes) {
    return plan_of(R"({"legume":"pea-split-yellow","want":{"blocks":4},"blend":{"time":"15 s","total_water_to_dry":)" + std::to_string(b.plan.water.total_to_dry) + "}" + washes + "}", dry);
  };
  const Plan before = planned(""), after = planned(R"(,"strain":{"washes":[{"water_to_dry":)" + std::to_string(water / dry) + R"(,"blend":"45 s"}]})");
  const double gained = 1e3 * (after.strained.milk.of[Component::protein] - before.strained.milk.of[Component::protein]);
  const std::regex says("brings ([0-9]+) g of protein");
  std::smatch found;
  REQUIRE(std::regex_search(m.action, found, says));
  CHECK(std::stod(found[1]) == Approx(gained).margin(1.5));
  CHECK(gained > 20);
}

TEST_CASE("pressing as long again is said with the moisture of such a plan") {
  const Batch b = batch_of(soy());
  const Move m = *find_move(moves(b, "block=wet"), "short-press");
  const double minutes_now = in_minutes(b.setup.job.press.time);
  CHECK(in_minutes(*m.wait) == Approx(2 * minutes_now));
  const Plan longer = plan_of(R"({"legume":"soybean","want":{"blocks":4}})", b.plan.dry.si(), {"/press/time=" + std::to_string(2 * minutes_now) + " min"});
  char words[60];
  std::snprintf(words, sizeof words, "holds %.0f %% of water in place of %.0f %%", 100 * longer.pressed.moisture, 100 * b.plan.pressed.moisture);
  CHECK_THAT(m.action, Catch::Contains(words));
  CHECK_THAT(m.action, Catch::Contains("in the fridge"));
  // 4 kPa on 10 by 12 cm is 4.89 kg.
  CHECK(in_kilograms(*m.amount) == Approx(4.894).epsilon(1e-3));
}

TEST_CASE("a pudding is not pressed, and the standing that would have helped is told") {
  const Batch b = batch_of(pea({"/starch/time=2 min"}));
  const Move m = *find_move(moves(b, "curd=custard"), "starch-set");
  CHECK_THAT(m.action, Catch::Contains("no pressing"));
  const auto advice = settling_advice(b);
  REQUIRE((advice && advice->ninety_five));
  char words[40];
  std::snprintf(words, sizeof words, "stand %.0f min", in_minutes(*advice->ninety_five));
  CHECK_THAT(m.stop, Catch::Contains(words));
}

TEST_CASE("after boiling over, the dose is told for each kilogram that is left") {
  const Batch b = batch_of(soy());
  const double per_kg = value(b.plan, Figure::coagulant_mass) / (value(b.plan, Figure::cooked_milk_mass) / 1e3);
  char words[60];
  std::snprintf(words, sizeof words, "%.3g g of gypsum for each kilogram", per_kg);
  CHECK_THAT(the(soy(), "milk=boiled-over", "first-foam").action, Catch::Contains(words));
}

// --- care ----------------------------------------------------------------------------------------

TEST_CASE("with kidney beans the poison is named before every move up to the pour, and the boil is never cut") {
  const Batch b = batch_of(kidney());
  for (const TroubleSight& s : table().sights)
    for (const Move& m : moves(b, name(s))) {
      INFO(name(s) << " " << m.id);
      if (s.stage <= Stage::coagulate) {
        REQUIRE_FALSE(m.before.empty());
        const auto poison = std::find_if(m.before.begin(), m.before.end(), [](const std::string& t) { return t.find("poisonous until the milk has kept a full rolling boil for 35 min") != std::string::npos; });
        CHECK(poison != m.before.end());
      }
      std::string all = m.action + " " + m.stop;
      all = std::regex_replace(all, std::regex("Do not taste it"), "");
      CHECK_FALSE(std::regex_search(all, std::regex("\\b[Tt]aste\\b|slow cooker|shorter boil|boil less")));
      if (m.at && s.stage <= Stage::cook) CHECK(*m.at >= celsius(98));
    }
  for (const char* id : {"pot-full", "first-foam"}) {
    const Move m = the(kidney(), "milk=boiled-over", id);
    CHECK(*m.wait >= minutes(30));
    CHECK_THAT(m.action, Catch::Contains("Count the 35 min anew from the full rolling boil"));
  }
}

TEST_CASE("a plan that a rule stops has one move, and it is not to go on; what was seen may be lost for reasons of its own") {
  std::size_t by_rule = 0;
  for (const TroubleSight& s : table().sights) {
    const auto list = moves(kidney({"/cook/hold=10 min"}), name(s));
    REQUIRE_FALSE(list.empty());
    for (const Move& m : list) CHECK(m.discard);
    if (list[0].id != stopped_by_rule) {
      // Germs in the soak are named, not the boil, which would not mend them.
      CHECK(moves(kidney(), name(s)).at(0).discard);
      continue;
    }
    ++by_rule;
    REQUIRE(list.size() == 1);
    CHECK_THAT(list[0].action, Catch::Contains("poisonous until they have kept a full rolling boil for 30 min") && Catch::Contains("eat nothing of it"));
  }
  CHECK((by_rule > 5 && by_rule < table().sights.size()));
  Batch broken = batch_of(pea());
  broken.plan.fault = Fault::no_curd;
  const auto list = moves(broken, "curd=none");
  REQUIRE(list.size() == 1);
  CHECK(list[0].discard);
}

TEST_CASE("where a move is to throw it out, there is no other beside it") {
  for (const TroubleRow& r : trouble_rows()) {
    const auto list = moves(r.fires, r.seen);
    const auto thrown = std::count_if(list.begin(), list.end(), [](const Move& m) { return m.discard; });
    INFO(r.seen << " " << r.cause);
    CHECK((thrown == 0 || thrown == static_cast<std::ptrdiff_t>(list.size())));
  }
  for (const char* seen : {"soak=foaming", "soak=sour", "soak=slimy"}) CHECK(moves(pea(), seen)[0].discard);
}

TEST_CASE("raw milk, warm curd, scalds and raw beans are minded before the moves of their stages") {
  const auto said = [](std::string_view seen, const char* words) {
    const auto list = moves(pea(), seen);
    return std::all_of(list.begin(), list.end(), [&](const Move& m) { return std::any_of(m.before.begin(), m.before.end(), [&](const std::string& s) { return s.find(words) != std::string::npos; }); });
  };
  CHECK(said("pulp=coarse", "Raw milk stands 2 h"));
  CHECK(said("pulp=coarse", "taste nothing"));
  CHECK(said("whey=milky", "curd stands 2 h in all at most"));
  CHECK(said("milk=scorched", "scald"));
  CHECK(said("block=holes", "Throw it out"));
}
