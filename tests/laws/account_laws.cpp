// SPDX-License-Identifier: MIT
// A formula that is printed gives the number that is printed, for every term of every figure of any recipe.
#include <set>

#include "curdwright/fit.hpp"
#include "curdwright/response_account.hpp"
#include "laws/formulas.hpp"
#include "laws/recipes.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

std::vector<Figure> every_figure() {
  std::vector<Figure> all;
  for (const FigureInfo& f : all_figures()) all.push_back(f.figure);
  return all;
}

std::optional<Batch> sized(const Drawn& d) {
  auto batch = plan_batch(setup_for(d));
  if (!batch || !batch->plan.whole()) return std::nullopt;
  return std::move(*batch);
}

std::string some_want() { return fmt::format("{{\"blocks\": {}}}", whole(1, 40)); }

/// Terms whose text does not give their value, in words; each is looked at once.
std::string misfits(const Batch& b) {
  std::set<std::string> seen;
  std::string all;
  for (const Account& a : account_all(b, every_figure()))
    for (const Term& t : a.terms())
      if (seen.insert(t.key).second)
        if (const std::string fault = misfit(a, t, b.plan.dry.si()); !fault.empty()) all += fault + "\n";
  return all;
}

void check_texts(const Batch& b) {
  const std::string faults = misfits(b);
  RC_LOG() << faults << std::endl;
  RC_ASSERT(faults.empty());
}

Batch batch_of(const std::string& recipe, const std::vector<std::string>& set) {
  const auto in = read_inputs({recipe, "r.json", {}, "", set, {}});
  REQUIRE(in);
  const auto batch = plan_batch(*resolve(in->recipe, in->kitchen, Catalogue::shipped()));
  REQUIRE(batch);
  REQUIRE(batch->plan.whole());
  return *batch;
}

const std::string peas = R"({"legume": "pea-split-yellow", "want": {"dry": "500 g"}})";

}  // namespace

TEST_CASE("every formula of every figure gives its number, for recipes that a cook might write") {
  law(80, [] {
    const auto b = sized(draw::anything(Reach::sensible, some_want()));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
}

TEST_CASE("every formula gives its number, for all recipes that the reader allows") {
  law(80, [] {
    const auto b = sized(draw::anything(Reach::any, "{\"dry\": \"1 kg\"}"));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
}

TEST_CASE("every formula gives its number with extras") {
  law(40, [] {
    const auto b = sized(draw::seasoned(Reach::sensible, some_want()));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
}

TEST_CASE("every formula gives its number where amounts, strengths and ways are told") {
  const std::vector<std::vector<std::string>> told = {
      {"/blend/water=3 kg"},
      {"/blend/water_to_soaked=2.5", "/soak/changes=3", "/soak/skins_off=true"},
      {"/coagulate/amount=30 g"},
      {"/coagulate/dose=0.5 mmol/g"},
      {"/coagulate/purity=0.9"},
      {"/coagulate/with=nigari-liquid", "/coagulate/label_ion=60 g/l"},
      {"/coagulate/with=gdl"},
      {"/coagulate/with=lemon-juice"},
      {"/press/moisture=78 %"},
      {"/press/time=1 min"},
      {"/press/time=48 h", "/press/pressure=40 kPa"},
      {"/press/pressure=0.2 kPa"},
      {"/cook/in=slow-cooker", "/kitchen/altitude=4000 m"},
      {"/cook/in=pressure-cooker"},
      {"/cook/heat_up=40 min", "/cook/evaporated=3 %", "/cook/hold=0 min"},
      {"/soak/water_temperature=95 degC", "/soak/where=room", "/soak/time=2 h"},
      {"/blend/water_temperature=95 degC", "/strain/washes/0/water_to_dry=1", "/strain/washes/0/blend=30 s"},
      {"/starch/remove=settle-and-gel", "/starch/times=3", "/starch/time=3 h"},
      {"/starch/remove=none"},
      {"/soak/time_constant=3 h"},
  };
  for (const auto& set : told) {
    INFO(set[0]);
    CHECK(misfits(batch_of(peas, set)) == "");
  }
}

TEST_CASE("an account begins with its figure, holds what it names and nothing else, and comes to an end") {
  const auto sources = Catalogue::shipped().citations();
  law(20, [&] {
    const auto b = sized(draw::seasoned(Reach::sensible, some_want()));
    RC_PRE(b.has_value());
    const std::vector<Figure> figures = every_figure();
    const std::vector<Account> all = account_all(*b, figures);
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Account& a = all[i];
      RC_ASSERT(a.root().key == info(figures[i]).key);
      RC_ASSERT(a.root().value == value(b->plan, figures[i]));
      std::set<std::string> named = {a.root().key};
      for (const Term& t : a.terms())
        for (const std::string& key : t.of) {
          RC_LOG() << t.key << " names " << key << std::endl;
          RC_ASSERT(a.find(key) != nullptr);
          named.insert(key);
        }
      RC_ASSERT(named.size() == a.terms().size());
      // Terms whose own are all done are done; a circle would never be.
      std::set<std::string> done;
      for (std::size_t before = 1; before != done.size();) {
        before = done.size();
        for (const Term& t : a.terms())
          if (std::all_of(t.of.begin(), t.of.end(), [&](const std::string& k) { return done.contains(k); })) done.insert(t.key);
        if (done.size() == a.terms().size()) break;
      }
      RC_ASSERT(done.size() == a.terms().size());
      for (const Term& t : a.terms()) {
        RC_LOG() << t.key << " from " << t.source << std::endl;
        RC_ASSERT(!t.unit.empty() && !t.plain.empty());
        const bool cited = t.kind == TermKind::parameter || t.kind == TermKind::record;
        if (cited) RC_ASSERT(sources.contains(t.source) && t.low > 0 && t.low < t.high);
        if (t.kind == TermKind::constant) RC_ASSERT(!t.source.empty());
        if (t.kind == TermKind::setting) RC_ASSERT(!t.from.empty());
      }
    }
  });
}

TEST_CASE("a wrong formula is found") {
  const Batch batch = batch_of(R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}})", {});
  const Account right = account(batch, Figure::curd_mass);
  int spoiled = 0;
  for (std::size_t i = 0; i < right.terms().size(); ++i) {
    std::vector<Term> terms(right.terms().begin(), right.terms().end());
    if (terms[i].formula.empty()) continue;
    CHECK(misfit(right, terms[i], batch.plan.dry.si()) == "");
    if (terms[i].value == 0) continue;
    terms[i].formula = "1.001 * (" + terms[i].formula + (terms[i].kind == TermKind::root ? ") + 1e-4" : ")");
    const Account wrong(terms);
    INFO(terms[i].key);
    CHECK(misfit(wrong, wrong.terms()[i], batch.plan.dry.si()) != "");
    ++spoiled;
  }
  CHECK(spoiled > 150);
}

TEST_CASE("a response's formulas give its number too: shares of the curd, and costs") {
  const Batch b = batch_of(R"({"legume": "chickpea-kabuli", "want": {"blocks": 5}, "coagulate": {"with": "nigari-liquid"}})",
                           {"/kitchen/prices/chickpea-kabuli=3.10/kg", "/kitchen/prices/nigari-liquid=9/l", "/kitchen/prices/water=0.004/l", "/kitchen/prices/electricity=0.35/kWh", "/kitchen/prices/pulp=0.20/kg"});
  int trees = 0;
  for (const Response& r : all_responses()) {
    const auto a = account(b, r);
    if (r.figure == Figure::end && r.key.find("cost") == std::string::npos) {
      CHECK_FALSE(a);
      continue;
    }
    REQUIRE(a);
    INFO(r.key);
    CHECK(a->root().value == Approx(value(r, b).value()).epsilon(1e-12));
    for (const Term& t : a->terms()) CHECK(misfit(*a, t, b.plan.dry.si()).empty());
    ++trees;
  }
  CHECK(trees == static_cast<int>(figure_count) + 5);
}
