// SPDX-License-Identifier: MIT
// The page of the cautions is written from the rows that the tests walk, and held to them. docs/rewrite-cautions.sh writes it anew.
#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>

#include "curdwright/catalogue.hpp"
#include "rules/rules.hpp"
#include "rules/trouble_rows.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

const std::string path = std::string(CURDWRIGHT_SOURCE_DIR) + "/docs/cautions.md";

constexpr std::string_view head = R"(# Cautions and their tests

Written by `docs/rewrite-cautions.sh` from the rows of `tests/rules`; a test holds this page to them. Do not edit it.

Every rule of `curdwright list rules` has three tests, in `tests/rules/table_test.cpp`: a recipe for which it fires, with the severity and words that are due; one
for which it is silent; and one in which what it looks at is missing, for which it must fire. A recipe is told by its legume and what is set on it, as `--set`
takes it; each wants four blocks unless it says otherwise. Where a test cannot be, the reason stands in its place.

| rule | severity | what it says of | fires | silent | missing: fires |
| --- | --- | --- | --- | --- | --- |
)";

/// A cell of a table: the strokes that part cells are taken out.
std::string cell(std::string text) {
  for (char& c : text)
    if (c == '|' || c == '\n') c = '/';
  return text;
}

/// "kidney-red, `/cook/hold=29 min`"
std::string told(const Try& t) {
  constexpr std::string_view begins = "{\"legume\":\"", ends = "\",\"want\":{\"blocks\":4}}";
  const bool plain = t.recipe.starts_with(begins) && t.recipe.ends_with(ends);
  std::string all = plain ? t.recipe.substr(begins.size(), t.recipe.size() - begins.size() - ends.size()) : "`" + t.recipe + "`";
  for (const std::string& s : t.set) all += ", `" + s + "`";
  return cell(all);
}

std::string missing(const Missing& m) {
  if (m.left_out) return told(*m.left_out);
  if (m.batch || m.facts) return "the silent one, " + std::string(m.unknown_is) + " made unknown";
  return "*none: " + cell(std::string(m.nothing)) + "*";
}

std::string row_of(const Row& r) {
  const auto rules = all_rules();
  const auto rule = std::find_if(rules.begin(), rules.end(), [&](const Rule& x) { return x.id == r.rule; });
  REQUIRE(rule != rules.end());
  return fmt::format("| {} | {} | {} | {} | {} | {} |\n", r.rule, word(r.severity), cell(std::string(rule->about)), told(r.fires),
                     r.silent.with ? told(*r.silent.with) : "*never: " + cell(std::string(r.silent.never)) + "*", missing(r.missing));
}

/// Hazards of seeds, with the rules that speak of them: those are refused, or call up rules above.
std::string hazard_rows() {
  std::map<std::string, std::vector<std::string>> seeds;
  for (const std::string& id : Catalogue::shipped().legume_ids())
    for (const Hazard h : must(Catalogue::shipped().legume(id)).hazards) seeds[std::string(word(h))].push_back(id);
  std::string all;
  for (const auto& [hazard, ids] : seeds) {
    std::string list, fires;
    for (const std::string& id : ids) list += (list.empty() ? "" : ", ") + id;
    for (const Caution& c : cautions_of(of(ids[0])))
      if (!find(cautions_of(pea()), c.rule)) fires += (fires.empty() ? "" : ", ") + std::string(c.rule);
    all += fmt::format("| {} | {} | {} |\n", hazard, list, fires.empty() ? "only where a setting is unsafe" : fires);
  }
  return all;
}

std::string counts() {
  const auto& rows = all_rows();
  const auto silent = std::count_if(rows.begin(), rows.end(), [](const Row& r) { return r.silent.with.has_value(); });
  const auto missed = std::count_if(rows.begin(), rows.end(), [](const Row& r) { return r.missing.nothing.empty(); });
  return fmt::format("\n{} rules fire in a test, {} of them are silent in another, and {} fire with something missing; the others say why not.\n", rows.size(), silent, missed);
}

std::string page() {
  std::string all(head);
  for (const Row& r : all_rows()) all += row_of(r);
  all += counts();
  all += "\n## Hazards of the seed\n\nWhat a record says of its seed. The last column has the rules that a default recipe of the first of them calls up and one of split peas does not.\n\n";
  all += "| hazard | legumes | rules |\n| --- | --- | --- |\n" + hazard_rows();
  all += "\n## Causes of trouble\n\nEvery cause of `data/troubles.json` is offered for one recipe and not for another (`tests/rules/trouble_test.cpp`).\n\n| seen | cause | offered | not offered |\n| --- | --- | --- | --- |\n";
  for (const TroubleRow& r : trouble_rows())
    all += fmt::format("| {} | {} | {} | {} |\n", r.seen, r.cause, told(r.fires), r.silent.with ? told(*r.silent.with) : "*always: " + cell(std::string(r.silent.never)) + "*");
  return all;
}

}  // namespace

TEST_CASE("docs/cautions.md is what the rows of the rules say") {
  INFO("If the change is meant: bash docs/rewrite-cautions.sh");
  CHECK(read_file(path) == page());
}

TEST_CASE("a reason that stands for a test is a sentence's worth") {
  for (const Row& r : all_rows()) {
    INFO(r.rule);
    if (!r.silent.with) CHECK(r.silent.never.size() > 15);
    if (!r.missing.nothing.empty()) CHECK(r.missing.nothing.size() > 15);
    // A rule that looks at something is either tried without it, or told why it cannot lack it; both is a slip.
    CHECK((r.missing.left_out.has_value() || r.missing.batch || r.missing.facts) == r.missing.nothing.empty());
  }
}

// Run by docs/rewrite-cautions.sh, never by itself.
TEST_CASE("write docs/cautions.md", "[.write]") {
  std::ofstream(path, std::ios::binary) << page();
  SUCCEED();
}
