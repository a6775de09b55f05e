// SPDX-License-Identifier: MIT
// Every rule fires, is silent, and fails closed, by the table of rows.
#include <set>

#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace curdwright::test {

const std::vector<Row>& all_rows() {
  static const std::vector<Row> all = [] {
    std::vector<Row> rows;
    for (auto some : {time_rows, soak_rows, toxin_rows, hand_rows, allergen_rows, gear_rows, plan_rows})
      for (Row& r : some()) rows.push_back(std::move(r));
    return rows;
  }();
  return all;
}

}  // namespace curdwright::test

namespace {

/// Rules of care that no recipe and no kitchen can call up, and why.
struct NotARule {
  std::string_view id, why;
};
constexpr NotARule not_rules[] = {
    {"T3", "no curd starts from ingredients at room temperature: every milk is boiled, so the clock of T2, T9, T11 or T12 holds"},
    {"S3", "limits of growth of B. cereus, without a condition: they are the zero of the growth curve at 5 degC"},
    {"S5", "an infective level; the planner knows growth, not numbers"},
    {"S6", "acid in the soak; a recipe has no key for it, and safety.md keeps it a note"},
    {"S7", "growth of C. perfringens: why T2 is strict, and why a hot soak warns (P6)"},
    {"L8", "a seed that is refused before there is a batch: refused_test.cpp"},
    {"L11", "seeds that are refused before there is a batch: refused_test.cpp"},
    {"K5", "a coagulant that is refused before there is a batch: refused_test.cpp"},
};

std::set<std::string> rule_ids() {
  std::set<std::string> ids;
  for (const Rule& r : all_rules()) ids.insert(std::string(r.id));
  return ids;
}

const Rule& rule(std::string_view id) {
  const auto all = all_rules();
  return *std::find_if(all.begin(), all.end(), [id](const Rule& r) { return r.id == id; });
}

void check_fires(const std::vector<Caution>& list, std::string_view id) {
  CHECK(std::count_if(list.begin(), list.end(), [id](const Caution& c) { return c.rule == id; }) == 1);
}

}  // namespace

TEST_CASE("every rule has a row, every row has a rule, and no id stands twice") {
  std::set<std::string> rows;
  for (const Row& r : all_rows()) {
    INFO(r.rule);
    CHECK(rows.insert(std::string(r.rule)).second);
  }
  CHECK(rows == rule_ids());
  CHECK(rule_ids().size() == all_rules().size());
}

TEST_CASE("every id of the rules of care is a rule, or it is said why no recipe can call it up") {
  const std::set<std::string> ids = rule_ids();
  std::set<std::string> written, excused;
  for (const NotARule& n : not_rules) {
    INFO(n.id);
    CHECK(excused.insert(std::string(n.id)).second);
    CHECK(n.why.size() > 20);
  }
  // The groups of safety.md with their last numbers. P, the plan itself, is the planner's own, and has no gaps.
  const auto plan_rules = std::count_if(ids.begin(), ids.end(), [](const std::string& id) { return id[0] == 'P'; });
  const std::pair<std::string, std::ptrdiff_t> groups[] = {{"T", 21}, {"S", 10}, {"L", 14}, {"H", 9}, {"G", 8}, {"K", 14}, {"P", plan_rules}};
  for (const auto& [letter, last] : groups)
    for (std::ptrdiff_t i = 1; i <= last; ++i) {
      const std::string id = letter + std::to_string(i);
      INFO(id);
      written.insert(id);
      CHECK(ids.count(id) + excused.count(id) == 1);
    }
  for (const std::string& id : ids) {
    INFO(id);
    CHECK(written.count(id) == 1);
  }
}

TEST_CASE("every rule fires for its recipe, with the severity, stage and words that are due") {
  for (const Row& r : all_rows()) {
    INFO(r.rule << " " << shown(r.fires));
    const auto list = cautions_of(r.fires);
    check_fires(list, r.rule);
    const auto c = find(list, r.rule);
    if (!c) continue;
    CHECK(word(c->severity) == word(r.severity));
    CHECK(c->stage == rule(r.rule).stage);
    CHECK(c->standing == rule(r.rule).standing);
    CHECK_THAT(c->text, Catch::Contains(std::string(r.says)));
  }
}

TEST_CASE("the usual severity of a rule is the one that its row expects") {
  for (const Row& r : all_rows()) {
    INFO(r.rule);
    CHECK(word(rule(r.rule).severity) == word(r.severity));
  }
}

TEST_CASE("every rule with a condition is silent for a recipe that does not meet it") {
  for (const Row& r : all_rows()) {
    INFO(r.rule);
    CHECK(r.silent.with.has_value() == r.silent.never.empty());
    if (!r.silent.with) continue;
    INFO(shown(*r.silent.with));
    const auto c = caution(*r.silent.with, r.rule);
    INFO((c ? c->text : ""));
    CHECK_FALSE(c.has_value());
  }
}

TEST_CASE("a rule without a condition comes with every legume and is standing") {
  for (const std::string& id : Catalogue::shipped().legume_ids()) {
    const auto list = cautions_of(of(id));
    for (const Row& r : all_rows()) {
      if (r.silent.never.empty()) continue;
      INFO(id << " " << r.rule);
      check_fires(list, r.rule);
      CHECK(rule(r.rule).standing);
    }
  }
}

TEST_CASE("a rule fires when what it looks at is missing, or it is said why nothing can be missing") {
  for (const Row& r : all_rows()) {
    INFO(r.rule);
    const Missing& m = r.missing;
    CHECK(m.left_out.has_value() + (m.batch != nullptr) + (m.facts != nullptr) + !m.nothing.empty() == 1);
    if (m.left_out) {
      INFO(shown(*m.left_out));
      check_fires(cautions_of(*m.left_out), r.rule);
      CHECK(caution(*m.left_out, r.rule).value_or(Caution{}).severity == r.severity);
    }
    if (m.batch) {
      Batch b = batch_of(*r.silent.with);
      m.batch(b);
      // The facts of the sound batch: what is spoilt is what the rule itself looks at.
      const Batch sound = batch_of(*r.silent.with);
      const Facts known = facts_of(sound);
      const Facts f{b, known.timeline, known.cooling, known.soak_growth, known.soak_growth_flat, known.milk_growth, known.standing_h, known.trypsin_left, known.uncontrolled_h};
      check_fires(cautions(f), r.rule);
    }
    if (m.facts) {
      const Batch b = batch_of(*r.silent.with);
      Facts f = facts_of(b);
      m.facts(f);
      check_fires(cautions(f), r.rule);
    }
  }
}
