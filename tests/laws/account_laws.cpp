// SPDX-License-Identifier: MIT
// A formula that is printed gives the number that is printed, for every term of every figure of any recipe.
#include <set>

#include "curdwright/fit.hpp"
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

/// The first term whose text does not give its value; each is looked at once.
void check_texts(const Batch& b) {
  std::set<std::string> seen;
  for (const Account& a : account_all(b, every_figure()))
    for (const Term& t : a.terms()) {
      if (!seen.insert(t.key).second) continue;
      const std::string fault = misfit(a, t);
      RC_LOG() << fault << std::endl;
      RC_ASSERT(fault.empty());
    }
}

}  // namespace

TEST_CASE("every formula of every figure gives its number, for recipes that a cook might write") {
  law(120, [] {
    const auto b = sized(draw::anything(Reach::sensible, some_want()));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
}

TEST_CASE("every formula gives its number, for all recipes that the reader allows") {
  law(120, [] {
    const auto b = sized(draw::anything(Reach::any, "{\"dry\": \"1 kg\"}"));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
}

TEST_CASE("every formula gives its number with extras") {
  law(60, [] {
    const auto b = sized(draw::seasoned(Reach::sensible, some_want()));
    RC_PRE(b.has_value());
    check_texts(*b);
  });
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
  const auto in = read_inputs({R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}})", "r.json", {}, "", {}, {}});
  REQUIRE(in);
  const auto batch = plan_batch(*resolve(in->recipe, in->kitchen, Catalogue::shipped()));
  REQUIRE(batch);
  const Account right = account(*batch, Figure::curd_mass);
  int spoiled = 0;
  for (std::size_t i = 0; i < right.terms().size(); ++i) {
    std::vector<Term> terms(right.terms().begin(), right.terms().end());
    if (terms[i].formula.empty()) continue;
    CHECK(misfit(right, terms[i]) == "");
    if (terms[i].value == 0) continue;
    terms[i].formula = "1.000001 * (" + terms[i].formula + (terms[i].kind == TermKind::root ? ") + 1e-6" : ")");
    const Account wrong(terms);
    INFO(terms[i].key);
    CHECK(misfit(wrong, wrong.terms()[i]) != "");
    ++spoiled;
  }
  CHECK(spoiled > 150);
}
