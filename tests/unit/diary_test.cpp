// SPDX-License-Identifier: MIT
#include "curdwright/diary.hpp"

#include <algorithm>

#include "curdwright/calendar.hpp"
#include "support/support.hpp"
#include "unit/book.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

std::vector<std::size_t> line_starts(const std::string& text) {
  std::vector<std::size_t> all = {0};
  for (std::size_t i = 0; i + 1 < text.size(); ++i)
    if (text[i] == '\n') all.push_back(i + 1);
  return all;
}

/// A line with its right checksum, reckoned apart from the library, bit by bit.
std::string sealed(const std::string& body) {
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : body) {
    crc ^= static_cast<unsigned char>(c);
    for (int i = 0; i < 8; ++i) crc = (crc >> 1U) ^ ((crc & 1U) != 0 ? 0xEDB88320U : 0U);
  }
  char digits[9];
  std::snprintf(digits, sizeof digits, "%08x", crc ^ 0xFFFFFFFFU);
  return body + ",\"sum\":\"" + digits + "\"}\n";
}

}  // namespace

TEST_CASE("a time is told to the second in UTC and read back") {
  CHECK(utc_text(Instant(std::chrono::seconds(0))) == "1970-01-01T00:00:00Z");
  CHECK(utc_text(Instant(std::chrono::seconds(951'782'399))) == "2000-02-28T23:59:59Z");
  CHECK(read_utc("2000-02-29T00:00:00Z") == Instant(std::chrono::seconds(951'782'400)));
  for (const char* wrong : {"", "2000-02-30T00:00:00Z", "2000-02-29 00:00:00Z", "2000-02-29T24:00:00Z", "2000-02-29T00:00:00", "2000-2-29T00:00:00Z"}) CHECK_FALSE(read_utc(wrong));
}

TEST_CASE("a line ends in the CRC-32 of IEEE 802.3 over all bytes before it") {
  Book b;
  b.begin("soybean-1").weigh("soybean-1", "soaked", 1.25, 5);
  const std::string line = b.text.substr(line_starts(b.text)[1]);
  const auto body = line.substr(0, line.rfind(",\"sum\":"));
  CHECK(line == sealed(body));
  CHECK(line.starts_with(R"({"schema":"curdwright.diary/1","kind":"add","at":"2027-03-05T18:05:00Z","id":"soybean-1",)"));
}

TEST_CASE("all that is told comes back as it was") {
  Book b;
  b.begin("soybean-1");
  b.tell({at(1), "soybean-1", DiaryAdded{{{"soaked", "1552g-bowl", 1.14, "kg", 1, {}, false}}, {}, {{"whey", "milky", {}}}, "quotes \" and \\ and\nlines, 豆"}});
  b.tell({at(2), "soybean-1", DiaryScored{"", {{"firmness", 3.5, {}}}, {}}});
  b.tell({at(3), "soybean-1", DiaryPiece{"A", 0.31, 259200.0, std::nullopt, std::nullopt, true, PieceWay::pan, {{"golden", {}}}, {{"taste", 5, {}}}, {}, {}, false}});
  const Diary d = b.read();
  REQUIRE(d.batches.size() == 1);
  const DiaryBatch& got = d.batches[0];
  CHECK(got.started_at == at(0));
  CHECK(got.last_at == at(3));
  CHECK(got.start.recipe == soy);
  CHECK(got.start.beliefs.size() == start().beliefs.size());
  CHECK(got.start.beliefs[3].parameter == start().beliefs[3].parameter);
  CHECK(got.start.beliefs[3].median == Approx(start().beliefs[3].median).epsilon(1e-11));
  CHECK(got.start.leftovers.size() == start().leftovers.size());
  REQUIRE(got.reading("soaked"));
  CHECK(got.reading("soaked")->told == "1552g-bowl");
  CHECK(got.reading("soaked")->at == at(1));
  REQUIRE(got.sightings.size() == 1);
  CHECK(got.notes.at(0).text == "quotes \" and \\ and\nlines, 豆");
  CHECK(got.scores.at(0).score == 3.5);
  REQUIRE(got.piece("A"));
  CHECK(got.piece("A")->mass_kg == 0.31);
  CHECK(got.piece("A")->frozen == true);
  CHECK(got.piece("A")->notes.at(0).text == "golden");
  CHECK(d.warnings.empty());
}

TEST_CASE("the last reading of a word counts, and the ones before are kept") {
  Book b;
  b.begin("soybean-1").weigh("soybean-1", "soaked", 1.1, 1).weigh("soybean-1", "soaked", 1.2, 2).weigh("soybean-1", "pulp", 0.6, 3);
  b.tell({at(4), "soybean-1", DiaryAdded{{}, {"pulp"}, {}, ""}});
  const DiaryBatch got = b.read().batches.at(0);
  CHECK(got.reading("soaked")->value == 1.2);
  CHECK_FALSE(got.reading("pulp"));
  REQUIRE(got.replaced.size() == 2);
  CHECK(got.replaced[0].value == 1.1);
  CHECK_FALSE(got.replaced[0].withdrawn);
  CHECK(got.replaced[1].withdrawn);
  const auto readings = readings_of(got);
  REQUIRE(readings.size() == 1);
  CHECK(readings[0].what->word == "soaked");
  CHECK(readings[0].figure_value() == Approx(1200));
}

TEST_CASE("a later line about a piece leaves what it does not tell") {
  Book b;
  b.begin("soybean-1");
  b.tell({at(1), "soybean-1", DiaryPiece{"A", 0.31, 0.0, std::nullopt, std::nullopt, false, std::nullopt, {}, {}, {}, {}, false}});
  b.tell({at(2), "soybean-1", DiaryPiece{"A", std::nullopt, 86400.0, std::nullopt, std::nullopt, std::nullopt, PieceWay::oven, {}, {{"taste", 2, {}}}, {}, {}, false}});
  b.tell({at(3), "soybean-1", DiaryScored{"A", {{"taste", 4, {}}}, {}}});
  const DiaryBatch got = b.read().batches.at(0);
  REQUIRE(got.pieces.size() == 1);
  CHECK(got.pieces[0].mass_kg == 0.31);
  CHECK(got.pieces[0].aged_s == 86400.0);
  CHECK(got.pieces[0].frozen == false);
  CHECK(got.pieces[0].way == PieceWay::oven);
  CHECK(got.pieces[0].scores.at(0).score == 4);
  CHECK(got.scores.empty());
}

TEST_CASE("a diary that is cut off anywhere keeps every whole line, and tells of the torn one") {
  Book b;
  b.begin("soybean-1").weigh("soybean-1", "soaked", 1.1, 1).weigh("soybean-1", "pulp", 0.6, 2);
  const auto starts = line_starts(b.text);
  for (std::size_t cut = starts[1]; cut <= b.text.size(); ++cut) {
    Book torn{b.text.substr(0, cut)};
    const auto line = std::upper_bound(starts.begin(), starts.end(), cut) - starts.begin();
    const std::size_t begins = starts[static_cast<std::size_t>(line) - 1];
    const bool between = cut == begins, whole_but_for_its_end = cut + 1 == (static_cast<std::size_t>(line) < starts.size() ? starts[static_cast<std::size_t>(line)] : b.text.size());
    INFO("cut at " << cut << ", line " << line);
    const Diary d = torn.read();
    REQUIRE(d.warnings.size() == (between || whole_but_for_its_end || cut == b.text.size() ? 0U : 1U));
    REQUIRE(d.batches.at(0).readings.size() == static_cast<std::size_t>(line) - 2 + (whole_but_for_its_end || cut == b.text.size() ? 1U : 0U));
    // The next line begins on its own, and says what stands before it.
    torn.weigh("soybean-1", "curd", 1.3, 3);
    const Diary after = torn.read();
    REQUIRE(after.batches.at(0).reading("curd"));
    REQUIRE(after.warnings.size() == d.warnings.size());
  }
}

TEST_CASE("a torn line is told with its number and its bytes, again on every reading") {
  Book b;
  b.begin("soybean-1");
  b.text += R"({"schema":"curdwright.diary/1","kind":"add")";
  for (int more = 0; more < 3; ++more) {
    const Diary d = b.read();
    REQUIRE(d.warnings.size() == 1);
    CHECK(d.warnings[0].code == "diary-torn");
    CHECK(d.warnings[0].place.line == 2);
    CHECK(d.warnings[0].what == "line 2 is torn and counts for nothing (43 bytes)");
    b.weigh("soybean-1", "soaked", 1.1 + more, more);
  }
  CHECK(b.text.find("\"torn_bytes\":43") != std::string::npos);
}

TEST_CASE("torn twice in a row is told twice, and stops nothing") {
  Book b;
  b.begin("soybean-1");
  b.text += "{\"half\n{\"and another";
  b.weigh("soybean-1", "soaked", 1.1, 1);
  CHECK(b.read().warnings.size() == 2);
  CHECK(b.read().batches.at(0).reading("soaked"));
}

TEST_CASE("a file that is no diary is not taken for a torn one") {
  for (const char* other : {"{\n  \"legume\": \"soybean\"\n}\n", "notes of mine\n", "{}", "\n"}) CHECK(Book{other}.fault().size() == (std::string(other) == "\n" ? 0U : 1U));
  CHECK(Book{"{\"schema\":\"curdwright.di"}.read().warnings.size() == 1);
  CHECK(Book{std::string(100, '\0')}.read().warnings.size() == 1);
}

TEST_CASE("a last line that ends as it should was not torn but changed, and is a fault") {
  Book b;
  b.begin("soybean-1").weigh("soybean-1", "soaked", 1.1, 1);
  b.text[b.text.find("\"value\":1.1") + 8] = '7';
  REQUIRE(b.fault().size() == 1);
  CHECK(b.fault()[0].code == "diary-line");
  CHECK(b.fault()[0].place.line == 2);
}

TEST_CASE("a byte that is changed in any whole line but the last is a fault with its number") {
  Book b;
  b.begin("soybean-1").weigh("soybean-1", "soaked", 1.1, 1).weigh("soybean-1", "pulp", 0.6, 2);
  const auto starts = line_starts(b.text);
  for (std::size_t i = starts[1]; i + 1 < starts[2]; ++i) {
    Book changed = b;
    changed.text[i] = changed.text[i] == '1' ? '2' : '1';
    INFO("byte " << i);
    const Problems p = changed.fault();
    REQUIRE(p.size() == 1);
    // A version that is not ours is told as such; its checksum may be of another kind.
    REQUIRE((p[0].code == "diary-line" || p[0].code == "diary-version"));
    REQUIRE(p[0].place.line == 2);
    REQUIRE_FALSE(p[0].fix.empty());
  }
}

TEST_CASE("what a whole line cannot say is a fault") {
  const auto judged = [](const std::string& body) {
    Book b;
    b.begin("soybean-1").weigh("soybean-1", "soaked", 1.1, 1);
    b.text += sealed(body);
    const Problems p = b.fault();
    return p.empty() ? std::string("accepted") : p[0].code + ": " + p[0].what;
  };
  const std::string head = R"({"schema":"curdwright.diary/1","kind":")", when = R"(","at":"2027-03-05T18:00:00Z","id":"soybean-1")";
  CHECK(judged(head + "add" + when + R"(,"note":"x")") == "accepted");
  CHECK(judged(head + "dance" + when) == "diary-line: line 3 cannot be understood: an event of kind \"dance\"");
  CHECK(judged(head + "add" + when + R"(,"note":5)") == "diary-line: line 3 cannot be understood: an event of kind \"add\"");
  CHECK(judged(head + "score" + when) == "diary-line: line 3 cannot be understood: an event of kind \"score\"");
  // A checksum is no seal: what no scale and no kitchen has is not told on.
  for (const char* score : {"0.5", "5.5", "-5", "1e11"})
    CHECK(judged(head + "score" + when + R"(,"scores":[{"word":"firmness","score":)" + score + "}]") == "diary-line: line 3 cannot be understood: an event of kind \"score\"");
  for (const char* weight : {"mass_kg", "aged_s", "before_kg", "after_kg"})
    CHECK(judged(head + "piece" + when + R"(,"piece":"A",")" + weight + "\":-1") == "diary-line: line 3 cannot be understood: an event of kind \"piece\"");
  CHECK(judged(head + R"(add","at":"2027-03-05T18:00:00Z","id":"pea-9")") == "diary-line: line 3 tells of pea-9, which no line before it starts");
  CHECK(judged(head + "start" + when) == "diary-line: line 3 starts soybean-1 a second time");
  CHECK(judged(R"({"schema":"curdwright.diary/2","kind":"add)" + when) == "diary-version: line 3 is of \"curdwright.diary/2\"");
}

TEST_CASE("a line that would be too long to read back is not written") {
  const auto line = line_after("", {at(0), "soybean-1", DiaryAdded{{}, {}, {}, std::string(max_diary_line, 'x')}});
  REQUIRE_FALSE(line);
  CHECK(line.error()[0].code == "diary-full");
}

TEST_CASE("an id is the word of the legume and a number that no batch has") {
  Diary d;
  CHECK(next_id(d, "chickpea-kabuli") == "chickpea-1");
  d.ids = {"chickpea-1", "soybean-12", "pea-3"};
  CHECK(next_id(d, "soybean") == "soybean-13");
  CHECK(next_id(d, "navy-bean") == "navy-bean-13");
  CHECK(next_id(d, "pigeon-pea-split") == "pigeon-pea-13");
  CHECK(next_id(d, "black-gram-split") == "black-gram-13");
  const auto missed = find_batch(d, "soybean-11");
  REQUIRE_FALSE(missed);
  CHECK(missed.error()[0].fix == "did you mean \"soybean-12\"?");
}

TEST_CASE("days are counted from the plan, or from what was told if that is earlier") {
  Book b;
  b.begin("soybean-1");
  const Instant planned = b.read().batches[0].made_at();
  CHECK(planned == later(at(0), start().made_after));
  CHECK(Book(b).weigh("soybean-1", "curd", 1.2, 60 * 24 * 5).read().batches[0].made_at() == planned);
  CHECK(Book(b).weigh("soybean-1", "curd", 1.2, 60).read().batches[0].made_at() == at(60));
}

TEST_CASE("texts of a batch plan it again as it was") {
  Book b;
  b.begin("soybean-1");
  const DiaryBatch got = b.read().batches[0];
  const Inputs in = must(read_inputs(texts_of(got)));
  const Batch again = must(size_batch(must(resolve(in.recipe, in.kitchen, Catalogue::shipped()))));
  CHECK(value(again.plan, Figure::curd_mass) == Approx(got.figure("curd_mass_g")->value).epsilon(1e-9));
  CHECK(in_kilograms(again.plan.dry) == Approx(*got.planned("dry")));
}

TEST_CASE("what is left over goes into the next recipe, by its own record") {
  Book b;
  b.begin("soybean-1");
  const DiaryBatch got = b.read().batches[0];
  std::vector<RecordText> records;
  for (const DiaryLeftover& l : got.start.leftovers) {
    const LeftRecord r = left_record(got, l);
    records.push_back({r.path, r.text, r.path});
  }
  REQUIRE(records.size() >= 3);
  Catalogue c = Catalogue::shipped();
  must(c.add(records).map([] { return 0; }));
  CHECK(c.check().empty());
  const Coagulant mix = must(c.coagulant("coagulant-soybean-1"));
  const Coagulant salt = must(c.coagulant("calcium-sulfate-dihydrate"));
  // A litre of mix holds the salt that went into it: 1 part in 15 of water.
  const double salt_g_per_l = 1000 * mix.density->value / 16, mol = salt_g_per_l * salt.purity->value / salt.molar_mass.value;
  CHECK(mix.strength->value == Approx(mol).epsilon(0.002));
  const Extra whey = must(c.extra("whey-soybean-1"));
  CHECK(whey.allergens == std::vector<std::string>{"soybean"});
  CHECK(whey.composition()[Component::water] > 0.9);
}

TEST_CASE("raw leftovers of poisonous beans and a lactone in water go into no recipe") {
  const auto again = [](const std::string& recipe, LeftKind what) {
    DiaryBatch b;
    b.id = "x-1", b.start = start_of(batch_of(recipe), {recipe, "r.json", std::nullopt, "", {}, {}});
    const DiaryLeftover* l = b.leftover(what);
    REQUIRE(l);
    return !left_record(b, *l).text.empty();
  };
  CHECK(again(soy, LeftKind::pulp));
  CHECK_FALSE(again(R"({"legume": "kidney-white", "want": {"blocks": 2}})", LeftKind::pulp));
  CHECK(again(R"({"legume": "kidney-white", "want": {"blocks": 2}})", LeftKind::whey));
  CHECK_FALSE(again(R"({"legume": "soybean", "want": {"blocks": 2}, "coagulate": {"with": "gdl", "make_up": 1.5}})", LeftKind::coagulant));
}

TEST_CASE("recipes differ in what changes the food, whatever the unit") {
  const auto batch = [](const std::string& recipe, std::optional<std::string> kitchen = std::nullopt) {
    DiaryBatch b;
    b.id = "x-1", b.start = start_of(batch_of(recipe), {recipe, "r.json", std::move(kitchen), "", {}, {}});
    return b;
  };
  const DiaryBatch plain = batch(soy);
  CHECK(recipe_differences(plain, plain).empty());
  CHECK(recipe_differences(plain, batch(R"({"legume": "soybean", "title": "Other", "want": {"blocks": 4}})")).empty());
  const auto one = recipe_differences(plain, batch(R"({"legume": "soybean", "want": {"blocks": 4}, "cook": {"hold": "25 min"}})"));
  REQUIRE(one.size() == 1);
  CHECK(one[0].at == "/cook/hold");
  CHECK_FALSE(one[0].one.empty());  // the default that was planned
  CHECK(recipe_differences(batch(R"({"legume": "soybean", "want": {"blocks": 4}, "soak": {"time": "12 h"}})"), batch(R"({"legume": "soybean", "want": {"blocks": 4}, "soak": {"time": "720 min"}})")).empty());
  const auto hills = recipe_differences(plain, batch(soy, R"({"altitude": "900 m"})"));
  REQUIRE(hills.size() == 1);
  CHECK(hills[0].at == "/kitchen/altitude");
  CHECK(recipe_differences(plain, batch(soy, R"({"prices": {"soybean": "3/kg"}, "currency": "EUR"})")).empty());
}
