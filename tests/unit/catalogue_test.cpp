// SPDX-License-Identifier: MIT
#include "curdwright/catalogue.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using curdwright::test::shown;

namespace {

const Catalogue& shipped() {
  static const Catalogue c = Catalogue::shipped();
  return c;
}

}  // namespace

TEST_CASE("the shipped catalogue holds 26 legumes, a dozen coagulants and gear of every kind") {
  CHECK(shipped().legume_ids().size() == 26);
  CHECK(shipped().coagulant_ids().size() >= 12);
  for (EquipmentKind kind : {EquipmentKind::blender, EquipmentKind::strainer, EquipmentKind::press, EquipmentKind::chill, EquipmentKind::hob}) {
    INFO(word(kind));
    CHECK(shipped().equipment_ids(kind).size() >= 3);
    for (const std::string& id : shipped().equipment_ids(kind)) CHECK(must(shipped().equipment(kind, id)).kind == kind);
  }
}

TEST_CASE("every shipped record passes the check of sources, neighbours and ids") {
  const Problems problems = shipped().check();
  INFO(shown(problems));
  CHECK(problems.empty());
}

TEST_CASE("every figure of every legume stands inside its range, has a source, and its source is cited") {
  const auto citations = shipped().citations();
  CHECK(citations.size() > 50);
  for (const std::string& id : shipped().legume_ids()) {
    const Legume l = must(shipped().legume(id));
    CHECK(l.id == id);
    CHECK_FALSE(l.kitchen_name.empty());
    CHECK_FALSE(l.latin.empty());
    for (const ParamInfo& p : all_params()) {
      if (p.scope != Scope::legume) continue;
      const Evidence& e = l.evidence(p.param);
      INFO(id << " " << p.key);
      CHECK((e.low < e.value && e.value < e.high));
      CHECK(e.low > 0);
      CHECK(e.unit == p.unit);
      CHECK(citations.count(e.source) == 1);
    }
    CHECK((l.window_low_mm > 0 && l.window_low_mm < l.window_high_mm));
    CHECK(citations.count(l.window_source) == 1);
    CHECK((l.soak_time >= hours(1) && l.soak_time <= hours(48)));
  }
}

TEST_CASE("the seed of every legume adds up to 100 g within 3 g") {
  for (const std::string& id : shipped().legume_ids()) {
    const Legume l = must(shipped().legume(id));
    INFO(id);
    const double sum = l.evidence(Param::seed_water).value + l.evidence(Param::seed_protein).value + l.evidence(Param::seed_fat).value +
                       l.evidence(Param::seed_ash).value + l.carbohydrate.value;
    CHECK(sum == Approx(100).margin(3));
  }
}

TEST_CASE("every coagulant tells what is active in it") {
  for (const std::string& id : shipped().coagulant_ids()) {
    const Coagulant c = must(shipped().coagulant(id));
    INFO(id);
    CHECK(c.id == id);
    CHECK(c.molar_mass.value > 40);
    CHECK((c.form == CoagulantForm::liquid) == c.strength.has_value());
    CHECK((c.form == CoagulantForm::liquid) == c.density.has_value());
    CHECK((c.form == CoagulantForm::liquid) != c.purity.has_value());
    CHECK((c.kind == CoagulantKind::salt) == (c.ion != Ion::none));
    CHECK((c.kind == CoagulantKind::salt) != c.dose.has_value());
    CHECK(c.make_up >= 1);
  }
}

TEST_CASE("molar masses and crystal water agree with the atomic weights") {
  // Abridged standard atomic weights, IUPAC 2021.
  const double H = 1.008, C = 12.011, O = 15.999, Mg = 24.305, S = 32.06, Cl = 35.45, Ca = 40.078, water = 2 * H + O;
  const double sulfate = S + 4 * O;
  const struct {
    const char* id;
    double anhydrous, waters;
  } rows[] = {{"calcium-sulfate-dihydrate", Ca + sulfate, 2},     {"calcium-sulfate-hemihydrate", Ca + sulfate, 0.5}, {"nigari-flakes", Mg + 2 * Cl, 6},
              {"magnesium-chloride-hexahydrate", Mg + 2 * Cl, 6}, {"magnesium-sulfate-heptahydrate", Mg + sulfate, 7},
              {"calcium-chloride-dihydrate", Ca + 2 * Cl, 2},     {"calcium-lactate-pentahydrate", Ca + 2 * (3 * C + 5 * H + 3 * O), 5},
              {"calcium-acetate-monohydrate", Ca + 2 * (2 * C + 3 * H + 2 * O), 1}};
  for (const auto& r : rows) {
    INFO(r.id);
    const Coagulant c = must(shipped().coagulant(r.id));
    CHECK(c.molar_mass.value == Approx(r.anhydrous + r.waters * water).epsilon(2e-5));
    REQUIRE(c.crystal_water.has_value());
    CHECK(c.crystal_water->value == Approx(r.waters * water / (r.anhydrous + r.waters * water)).epsilon(1e-3));
  }
  CHECK(must(shipped().coagulant("calcium-chloride-anhydrous")).molar_mass.value == Approx(Ca + 2 * Cl).epsilon(2e-5));
  CHECK(must(shipped().coagulant("gdl")).molar_mass.value == Approx(6 * C + 10 * H + 6 * O).epsilon(2e-5));
}

TEST_CASE("every model parameter has a figure, and each but those of gear and legume is there once") {
  const auto model = must(shipped().model());
  std::set<Param> seen;
  for (const auto& [p, e] : model) {
    INFO(info(p).key);
    CHECK(info(p).scope == Scope::model);
    CHECK(seen.insert(p).second);
    CHECK((e.low < e.value && e.value < e.high));
  }
  const auto due = std::count_if(all_params().begin(), all_params().end(), [](const ParamInfo& p) { return p.scope == Scope::model; });
  CHECK(seen.size() == static_cast<std::size_t>(due));
}

TEST_CASE("records are found by id, name and every other name, in any letter case") {
  for (const std::string& id : shipped().legume_ids()) {
    const Legume l = must(shipped().legume(id));
    for (const std::string& name : l.also) {
      INFO(id << " as " << name);
      CHECK(must(shipped().legume(name)).id == id);
    }
    CHECK(must(shipped().legume(l.name)).id == id);
    CHECK(must(shipped().legume(l.kitchen_name)).id == id);
  }
  for (const std::string& id : shipped().coagulant_ids()) {
    const Coagulant c = must(shipped().coagulant(id));
    for (const std::string& name : c.also) {
      INFO(id << " as " << name);
      CHECK(must(shipped().coagulant(name)).id == id);
    }
    CHECK(must(shipped().coagulant(c.name)).id == id);
    CHECK(must(shipped().coagulant(c.kitchen_name)).id == id);
  }
  CHECK(must(shipped().legume("SoyBean")).id == "soybean");
  CHECK(must(shipped().coagulant("Gypsum")).id == "calcium-sulfate-dihydrate");
  CHECK(must(shipped().equipment(EquipmentKind::strainer, "Nut Milk Bag")).id == "hand-twist");
}

TEST_CASE("an unknown name is refused with the nearest or the list") {
  const auto r = shipped().legume("soybeen");
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0] == Problem{"record-unknown", {}, "no legume is called \"soybeen\"", "`curdwright list legumes` shows all", "did you mean \"soybean\"?"});
  CHECK_FALSE(shipped().coagulant("").has_value());
  CHECK_FALSE(shipped().legume("").has_value());
}

TEST_CASE("a slip in any name of a record is answered with that name") {
  CHECK(shipped().legume("chikpea").error()[0].fix == "did you mean \"chickpea\"?");
  CHECK(shipped().legume("Black Turtel Bean").error()[0].fix == "did you mean \"black turtle bean\"?");
  CHECK(shipped().coagulant("gypsm").error()[0].fix == "did you mean \"gypsum\"?");
  CHECK(shipped().equipment(EquipmentKind::strainer, "nut milk bga").error()[0].fix == "did you mean \"nut milk bag\"?");
  CHECK(shipped().equipment(EquipmentKind::hob, "volcano").error()[0].fix == "use one of: electric, gas, induction");
}

TEST_CASE("gear is not found under another kind") {
  CHECK(shipped().equipment(EquipmentKind::blender, "high-speed").has_value());
  CHECK_FALSE(shipped().equipment(EquipmentKind::press, "high-speed").has_value());
  CHECK(must(shipped().equipment(EquipmentKind::chill, "ice-water")).ice_water);
  CHECK(in_celsius(*must(shipped().equipment(EquipmentKind::chill, "ice-water")).temperature) == Approx(1));
  CHECK_FALSE(must(shipped().equipment(EquipmentKind::chill, "still-fridge")).temperature.has_value());
}

TEST_CASE("every refused seed and salt is refused under each of its names, with rule and reason") {
  const auto all = shipped().all_refused();
  CHECK(all.size() == 17);
  std::set<std::string> ids;
  for (const Refused& r : all) {
    CHECK(ids.insert(r.id).second);
    CHECK((r.what == "seed" || r.what == "salt"));
    CHECK_FALSE(r.rule.empty());
    CHECK(shipped().citations().count(r.source) == 1);
    std::vector<std::string> names = r.also;
    names.insert(names.end(), {r.id, r.name});
    for (const std::string& name : names) {
      INFO(name);
      const Problems found = r.what == "seed" ? shipped().legume(name).error() : shipped().coagulant(name).error();
      REQUIRE(found.size() == 1);
      CHECK(found[0] == Problem{"refused", {}, r.name + " is not planned (rule " + r.rule + ")", r.reason, "instead: " + r.instead});
    }
  }
}

TEST_CASE("what is offered instead of a refused seed or salt can be planned") {
  for (const Refused& r : shipped().all_refused()) {
    if (r.instead.find(' ') != std::string::npos) continue;  // a sentence, not an id
    INFO(r.id << " instead " << r.instead);
    CHECK((r.what == "seed" ? shipped().legume(r.instead).has_value() : shipped().coagulant(r.instead).has_value()));
  }
}

TEST_CASE("no name means both a record and a refused one") {
  for (const Refused& r : shipped().all_refused())
    for (const std::string& id : r.what == "seed" ? shipped().legume_ids() : shipped().coagulant_ids()) CHECK(id != r.id);
}
