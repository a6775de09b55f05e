// SPDX-License-Identifier: MIT
#include "curdwright/trouble.hpp"

#include <set>
#include <sstream>

#include "sheets/trouble_text.hpp"
#include "support/support.hpp"
#include "text/width.hpp"
#include "trouble_words.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

std::string shipped_text() { return from_source("data/troubles.json"); }
const Troubles& table() {
  static const Troubles t = must(read_troubles(shipped_text(), "data/troubles.json"));
  return t;
}

std::string with(std::string_view what, std::string_view instead) {
  std::string text = shipped_text();
  const auto at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), instead);
}

Problems problems_of(std::string text) {
  const auto read = read_troubles(std::move(text), "mine.json");
  REQUIRE_FALSE(read.has_value());
  return read.error();
}

/// All sentences of the table that may hold slots.
std::vector<std::string> sentences() {
  std::vector<std::string> all;
  for (const TroubleCare& c : table().cares) all.push_back(c.text);
  for (const TroubleSight& s : table().sights) {
    all.push_back(s.care);
    for (const TroubleCause& c : s.causes) all.insert(all.end(), {c.cause, c.action, c.stop});
  }
  return all;
}

}  // namespace

TEST_CASE("the shipped table of troubles is the file of the data folder") {
  const Troubles shipped = shipped_troubles();
  CHECK(shipped.sights.size() == table().sights.size());
  CHECK(shipped.sights.size() >= 12);
  CHECK(shipped[TroubleFigure::top_up] == Approx(0.25));
}

TEST_CASE("every slot and condition of the table is known, and every known one is used") {
  std::set<std::string> slots, conditions;
  for (const std::string& s : sentences())
    for (std::string_view name : trouble::slots_of(s)) slots.insert(std::string(name));
  const auto use = [&](const std::vector<std::string>& keys) { conditions.insert(keys.begin(), keys.end()); };
  for (const TroubleCare& c : table().cares) use(c.fits);
  for (const TroubleSight& s : table().sights)
    for (const TroubleCause& c : s.causes) use(c.fits), use(c.likely);
  for (const std::string& s : slots) CHECK(trouble::find_slot(s));
  for (const std::string& c : conditions) CHECK(trouble::find_condition(c));
  for (const trouble::Slot& s : trouble::all_slots()) {
    INFO(s.key);
    CHECK(slots.count(std::string(s.key)) == 1);
    CHECK((s.of_plan == nullptr) != (s.of_table == nullptr));
  }
  for (const trouble::Condition& c : trouble::all_conditions()) {
    INFO(c.key);
    CHECK(conditions.count(std::string(c.key)) == 1);
    CHECK((c.key == "always") == c.plain.empty());
  }
}

TEST_CASE("a slot is filled with an amount of its own kind") {
  const Batch b = batch_of(R"({"legume":"pea-split-yellow","want":{"blocks":4}})");
  const trouble::View view{b, table()};
  for (const trouble::Slot& s : trouble::all_slots()) {
    INFO(s.key);
    const auto f = s.fill(view);
    if (!f) continue;
    CHECK(f->mass.has_value() == (s.kind == trouble::SlotKind::mass));
    CHECK(f->temperature.has_value() == (s.kind == trouble::SlotKind::temperature));
    CHECK(f->duration.has_value() == (s.kind == trouble::SlotKind::duration));
  }
}

TEST_CASE("every cause, care and number of the troubles says how it is known, from a source that is listed") {
  const auto cited = Catalogue::shipped().citations();
  const auto check = [&](const std::string& what, const std::string& source) {
    INFO(what << " from " << source);
    CHECK(cited.count(source) == 1);
  };
  for (const TroubleCare& c : table().cares) check(c.id, c.source);
  for (const TroubleSight& s : table().sights)
    for (const TroubleCause& c : s.causes) {
      check(c.id, c.source);
      // What is seen or derived names what it was read in; the rest may own up to having none.
      if (c.known == Known::seen) CHECK((c.source != "guess" && c.source != "judgement" && c.source != "common-practice"));
      if (c.known == Known::guess) CHECK(c.source == "guess");
    }
  for (const TroubleFigureInfo& i : trouble_figures()) {
    const Evidence& e = table().figures[static_cast<std::size_t>(i.figure)];
    check(std::string(i.key), e.source);
    CHECK((e.low < e.value && e.value < e.high));
    CHECK_FALSE(e.note.empty());
  }
}

TEST_CASE("a sighting is read in any letter case") {
  CHECK(must(read_sighting("whey=milky", table())) == Sighting{"whey", "milky"});
  CHECK(must(read_sighting("Milk=Boiled-Over", table())) == Sighting{"milk", "boiled-over"});
}

TEST_CASE("what is not in the table is answered with the words that are") {
  const auto problem = [](std::string_view text) {
    const auto r = read_sighting(text, table());
    REQUIRE_FALSE(r.has_value());
    REQUIRE(r.error().size() == 1);
    CHECK(r.error()[0].code == "seen-unknown");
    return r.error()[0];
  };
  const Problem look = problem("whey=milkey");
  CHECK(look.what == "\"whey=milkey\": whey has no such look");
  CHECK(look.why == "whey may look: milky");
  CHECK(look.fix == "did you mean \"milky\"?");
  const Problem thing = problem("wehy=milky");
  CHECK(thing.what == "\"wehy=milky\": nothing is known of such a thing");
  CHECK_THAT(thing.why, Catch::Contains("soak, pulp, cloth, starch, milk, whey, curd, block"));
  CHECK(thing.fix == "did you mean \"whey\"?");
  CHECK(problem("milky").fix == "did you mean \"whey=milky\"?");
  CHECK_THAT(problem("curd=blue").fix, Catch::Contains("none, wispy, custard"));
  for (const char* odd : {"", "=", "whey=", "=milky", "whey=milky=milky", "whey milky", "whey = milky", "whey=\033[31m"}) {
    INFO(odd);
    const Problem p = problem(odd);
    CHECK(p.what.find('\033') == std::string::npos);
    CHECK_FALSE((p.fix.empty() && p.why.empty()));
  }
  CHECK(problem(std::string(100000, 'x')).what.size() < 200);
}

TEST_CASE("a table with a word that the program does not know is refused, with its place") {
  const Problems condition = problems_of(with("\"kept-back\"", "\"kept-bock\""));
  REQUIRE(condition.size() >= 1);
  CHECK(condition[0].code == "word-unknown");
  CHECK_THAT(condition[0].place.pointer, Catch::Contains("/sights/") && Catch::Contains("/for"));
  CHECK(condition[0].place.line > 0);
  const Problems slot = problems_of(with("{top_up_mix}", "{top_up_mux}"));
  CHECK(slot[0].code == "word-unknown");
  CHECK_THAT(slot[0].place.pointer, Catch::Contains("/do"));
  CHECK(problems_of(with("\"amount\": \"top_up_mix\"", "\"amount\": \"hold\""))[0].code == "word-unknown");
  CHECK(problems_of(with("curdwright.troubles/1", "curdwright.troubles/9"))[0].code == "schema-unknown");
  CHECK(problems_of(with("\"top_up_wait\": {", "\"top_up_weight\": {"))[0].code == "key-missing");
  CHECK(problems_of(with("\"stop\": ", "\"stops\": "))[0].code == "key-missing");
  CHECK(problems_of(with("\"known\": \"guess\"", "\"known\": \"hunch\""))[0].code == "word-unknown");
  CHECK(problems_of("{")[0].code == "json-syntax");
}

TEST_CASE("the page of troubles holds every sight, cause and number, within its width") {
  for (int width : {79, 60}) {
    const std::string page = sheets::trouble_table(table(), width);
    std::istringstream lines(page);
    for (std::string line; std::getline(lines, line);) {
      INFO(line);
      CHECK(text::width(line) <= width);
      CHECK((line.empty() || line.back() != ' '));
    }
    CHECK(page.find_first_of("{}") == std::string::npos);
    for (const TroubleSight& s : table().sights) CHECK_THAT(page, Catch::Contains("\n" + s.sighting.what + "=" + s.sighting.looks + "\n"));
  }
  const std::string wide = sheets::trouble_table(table(), 2000);
  for (const TroubleSight& s : table().sights)
    for (const TroubleCause& c : s.causes) {
      INFO(c.id);
      CHECK_THAT(wide, Catch::Contains(unfilled(c.action, table())) && Catch::Contains(unfilled(c.stop, table())));
    }
  const auto words = std::count(wide.begin(), wide.end(), '\n');
  CHECK(words > 200);
}

TEST_CASE("the reference lists every sight, and how many causes there are") {
  const std::string reference = from_source("docs/reference.md");
  std::size_t causes = 0;
  for (const TroubleSight& s : table().sights) {
    CHECK_THAT(reference, Catch::Contains("| `" + s.sighting.what + "=" + s.sighting.looks + "` | " + std::string(word(s.stage)) + " | " + s.plain + " |"));
    causes += s.causes.size();
  }
  CHECK_THAT(reference, Catch::Contains("from the " + std::to_string(table().sights.size()) + " sights and " + std::to_string(causes) + " causes"));
}

TEST_CASE("without a batch, the table's own numbers are filled in and the others told in brackets") {
  CHECK(unfilled("Lid on, {top_up_wait}; {top_up} of {coagulant}{each_pot}.", table()) == "Lid on, 5 min; [a quarter of the dose] of [coagulant].");
  CHECK(condition_words("kept-back") == "with mix kept back");
  CHECK(condition_words("nonsense").empty());
}

TEST_CASE("a weight on the press is mass times gravity over area") {
  PressSettings s;
  s.pressure = kilopascals(4.086), s.mould_length = centimetres(12), s.mould_width = centimetres(10);
  CHECK(in_kilograms(press_weight(s)) == Approx(5.0).epsilon(1e-3));
}
