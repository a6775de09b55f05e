// SPDX-License-Identifier: MIT
// What a caution says is a sentence, and every rule says where it is from.
#include <cctype>

#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

bool has_word(const std::string& text, const std::string& word) {
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const auto letter = [&](std::size_t i) { return i < text.size() && std::isalnum(static_cast<unsigned char>(text[i])) != 0; };
    if ((at == 0 || !letter(at - 1)) && !letter(at + word.size())) return true;
  }
  return false;
}

void check_sentence(const Caution& c) {
  INFO(c.rule << ": " << c.text);
  REQUIRE(c.text.size() >= 10);
  CHECK(c.text.size() <= 300);
  CHECK(c.text.back() == '.');
  CHECK(c.text.find_first_of("{}\n\t") == std::string::npos);
  CHECK(c.text.find("  ") == std::string::npos);
  CHECK(c.text.find("..") == std::string::npos);
  CHECK(c.text.find(" .") == std::string::npos);
  CHECK(c.text.find("Mend: .") == std::string::npos);
  CHECK(std::all_of(c.text.begin(), c.text.end(), [](char x) { return x >= ' ' && x <= '~'; }));
  CHECK(std::isupper(static_cast<unsigned char>(c.text.front())) + std::isdigit(static_cast<unsigned char>(c.text.front())) + (c.rule == "K12") > 0);
  for (const char* bad : {"nan", "inf", "-nan", "-inf", "null"}) CHECK_FALSE(has_word(c.text, bad));
}

}  // namespace

TEST_CASE("every rule names its subject and its source, and stands in the order of the stages") {
  Stage last = Stage::soak;
  for (const Rule& r : all_rules()) {
    INFO(r.id);
    CHECK_FALSE(r.id.empty());
    CHECK(r.about.size() >= 4);
    CHECK(r.about.back() != '.');
    CHECK(r.source.size() >= 5);
    CHECK(r.fires != nullptr);
    CHECK(r.stage >= last);
    last = r.stage;
  }
}

TEST_CASE("the text of every caution that any row raises is a sentence without holes") {
  for (const Row& r : all_rows()) {
    for (const Caution& c : cautions_of(r.fires)) check_sentence(c);
    if (r.missing.left_out)
      for (const Caution& c : cautions_of(*r.missing.left_out)) check_sentence(c);
  }
}

TEST_CASE("the text of every caution of every legume and region is a sentence without holes") {
  for (const std::string& id : Catalogue::shipped().legume_ids())
    for (const std::string region : {"us", "scotland", "eu", "canada", "anz", "codex"})
      for (const Caution& c : cautions_of(of(id, {"/kitchen/region=" + region, "/press/time=6 h", "/chill/in=still-fridge", "/store/where=hot", "/starch/time=5 h"}))) check_sentence(c);
}

TEST_CASE("cautions come in the order of the stages, each rule once") {
  for (const Row& r : all_rows()) {
    const auto list = cautions_of(r.fires);
    INFO(r.rule);
    CHECK(std::is_sorted(list.begin(), list.end(), [](const Caution& a, const Caution& b) { return a.stage < b.stage; }));
    for (std::size_t i = 0; i < list.size(); ++i)
      for (std::size_t j = i + 1; j < list.size(); ++j) CHECK(list[i].rule != list[j].rule);
  }
}
