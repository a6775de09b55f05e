// SPDX-License-Identifier: MIT
#include "curdwright/diary.hpp"
#include "unit/book.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

Kitchen kitchen_with_bowl() {
  Kitchen k;
  k.tares = {{"bowl", "412 g"}};
  return k;
}

DiaryBatch begun() {
  Book b;
  b.begin("soybean-1");
  return b.read().batches.at(0);
}

Problems faults(const std::vector<std::string>& words) {
  const auto a = read_added(words, begun(), kitchen_with_bowl());
  return a ? Problems{} : a.error();
}

}  // namespace

TEST_CASE("words of a batch are readings, sightings and a note") {
  const std::vector<std::string> words = {"soaked=1552g-bowl", "whey=milky", "curd=none", "note=salted", "brix=6.4", "milk=5.6l"};
  const DiaryAdded a = must(read_added(words, begun(), kitchen_with_bowl()));
  REQUIRE(a.readings.size() == 3);
  CHECK(a.readings[0].value == Approx(1.14));
  CHECK(a.readings[2].unit == "m3");
  REQUIRE(a.seen.size() == 2);
  CHECK(a.seen[1].how == "none");
  CHECK(a.note == "salted");
}

TEST_CASE("all faults of all words are told together") {
  const Problems p = faults({"soaked=5", "whey=green", "tofu=1kg", "note=", "pulp=withdrawn", "soaked=1kg", "soaked=2kg"});
  REQUIRE(p.size() == 6);
  CHECK(p[1].what == "whey cannot be \"green\"");
  CHECK(p[3].what == "the note is empty");
  CHECK(p[4].what == "there is no pulp to take back");
  CHECK(p[5].what == "soaked is told twice");
  CHECK(faults({"note=" + std::string(max_note, 'x')}).empty());
  CHECK(faults({"note=" + std::string(max_note + 1, 'x')}).size() == 1);
  CHECK(faults({"note=\xff"}).at(0).what == "the note is not UTF-8 text");
}

TEST_CASE("scores go from 1 to 5 in halves, and each end is in words") {
  for (const TasteScale& s : all_scales()) {
    CHECK_FALSE(s.one.empty());
    CHECK_FALSE(s.five.empty());
    CHECK(anchor(s, 1.5) == s.one);
    CHECK(anchor(s, 4.5) == s.five);
  }
  const auto ok = [](const std::string& w) { return read_scored(std::vector<std::string>{w}, {}).has_value(); };
  for (const char* good : {"firmness=1", "taste=5", "beany=2.5"}) CHECK(ok(good));
  for (const char* bad : {"firmness=0", "firmness=5.5", "firmness=2.3", "firmness", "firmness=four", "look=3", "=3"}) CHECK_FALSE(ok(bad));
  CHECK_FALSE(read_scored(std::vector<std::string>{"taste=4", "taste=5"}, {}));
}

TEST_CASE("a piece has a plain name and known words") {
  const auto read = [](const std::string& name, std::vector<std::string> words) { return read_piece(name, words, nullptr); };
  const DiaryPiece p = must(read("A", {"mass=310g", "aged=3d", "frozen=no", "way=oven", "before=310g", "after=250g", "taste=4"}));
  CHECK(p.aged_s == Approx(3 * 86400));
  CHECK(p.frozen == false);
  CHECK(must(read("A", {"aged=fresh"})).aged_s == 0.0);
  for (const std::vector<std::string>& bad : {std::vector<std::string>{"mass=310"}, {"mass=0g"}, {"frozen=maybe"}, {"way=fried"}, {"aged=old"}, {"size=3"}, {"mass"}, {"mass=1g", "mass=2g"}}) CHECK_FALSE(read("A", bad));
  for (const char* bad : {"", "a b", "a:b", "a=b", "123456789012345678901"}) CHECK_FALSE(read(bad, {"mass=310g"}));
}

TEST_CASE("scores and what was told of a piece can be taken back, if they were told") {
  Book b;
  b.begin("soybean-1");
  const std::vector<std::string> taste = {"taste=4", "beany=2"}, back = {"taste=withdrawn"}, both = {"taste=withdrawn", "taste=3"};
  CHECK_FALSE(read_scored(back, {}));
  b.tell({at(1), "soybean-1", must(read_scored(taste, {}))});
  const std::vector<DiaryScore> told = b.read().batches[0].scores;
  REQUIRE(told.size() == 2);
  CHECK_FALSE(read_scored(both, told));
  b.tell({at(1), "soybean-1", must(read_scored(back, told))});
  REQUIRE(b.read().batches[0].scores.size() == 1);
  CHECK(b.read().batches[0].scores[0].word == "beany");

  const std::vector<std::string> all = {"mass=310g", "aged=3d", "frozen=no", "way=oven", "before=310g", "after=250g", "taste=4"};
  b.tell({at(1), "soybean-1", must(read_piece("A", all, nullptr))});
  for (const std::string& word : all) {
    const std::vector<std::string> one = {word.substr(0, word.find('=')) + "=withdrawn"};
    CHECK_FALSE(read_piece("A", one, nullptr));
    const DiaryBatch so_far = b.read().batches[0];
    b.tell({at(1), "soybean-1", must(read_piece("A", one, so_far.piece("A")))});
    const DiaryBatch after = b.read().batches[0];
    CHECK_FALSE(read_piece("A", one, after.piece("A")));
  }
  const DiaryBatch bare = b.read().batches[0];
  REQUIRE(bare.piece("A"));
  CHECK((!bare.piece("A")->mass_kg && !bare.piece("A")->aged_s && !bare.piece("A")->frozen && !bare.piece("A")->way && !bare.piece("A")->before_kg && !bare.piece("A")->after_kg));
  CHECK(bare.piece("A")->scores.empty());

  const std::vector<std::string> gone = {"withdrawn"};
  CHECK_FALSE(read_piece("B", gone, nullptr));
  b.tell({at(1), "soybean-1", must(read_piece("A", gone, bare.piece("A")))});
  CHECK(b.read().batches[0].pieces.empty());
}
