// SPDX-License-Identifier: MIT
// Cells of text against the C library's own tables (POSIX `wcwidth`, glibc, in the locale C.UTF-8).
#include <catch2/catch.hpp>
#include <climits>
#include <clocale>
#include <cwchar>
#include <string>

#include "text/width.hpp"

using namespace curdwright;

namespace {

std::string utf8(char32_t c) {
  std::string out(MB_LEN_MAX, '\0');
  std::mbstate_t state{};
  out.resize(std::wcrtomb(out.data(), static_cast<wchar_t>(c), &state));
  return out;
}

/// Where the two take Unicode differently: letters of Hangul that join into one, hexagrams and circled tens, tone marks, and number signs that stand over what follows.
bool disputed(char32_t c) {
  struct Block {
    char32_t from, to;
  };
  for (const Block b : {Block{0x600, 0x605}, {0x6DD, 0x6DD}, {0x70F, 0x70F}, {0x890, 0x891}, {0x8E2, 0x8E2}, {0x1160, 0x11FF}, {0x302E, 0x302F}, {0x3248, 0x324F}, {0x4DC0, 0x4DFF},
                        {0xD7B0, 0xD7FB}, {0x110BD, 0x110BD}, {0x110CD, 0x110CD}, {0x16FF0, 0x16FF1}})
    if (c >= b.from && c <= b.to) return true;
  return false;
}

class InUtf8 {
 public:
  InUtf8() : there_(std::setlocale(LC_CTYPE, "C.UTF-8") != nullptr) {}
  ~InUtf8() { std::setlocale(LC_CTYPE, "C"); }
  InUtf8(const InUtf8&) = delete;
  InUtf8& operator=(const InUtf8&) = delete;
  bool there() const { return there_; }

 private:
  bool there_;
};

}  // namespace

TEST_CASE("every character takes the cells that the C library gives it") {
  const InUtf8 locale;
  REQUIRE(locale.there());
  int seen = 0, apart = 0;
  for (char32_t c = 0x20; c < 0x110000; ++c) {
    const int theirs = wcwidth(static_cast<wchar_t>(c));
    if (theirs < 0 || (c >= 0xD800 && c <= 0xDFFF)) continue;
    ++seen;
    if (text::width(utf8(c)) == theirs) continue;
    ++apart;
    INFO(std::hex << static_cast<unsigned>(c));
    CHECK(disputed(c));
  }
  CHECK(seen > 280000);
  CHECK(apart < seen / 500);
}

TEST_CASE("names in other scripts keep columns straight") {
  struct Name {
    const char *text, *script;
    int cells;
  };
  // Cells counted by hand: each letter one, marks upon it none, marks that take room one, wide signs two.
  for (const Name n : {Name{"豆腐", "Chinese", 4}, {"विटा", "Devanagari", 4}, {"פוּל", "Hebrew with a point", 3}, {"فُول", "Arabic with a vowel", 3}, {"두부", "Korean", 4}, {"🫘", "a picture", 2}, {"crème", "Latin", 5}, {"creme\u0300", "Latin, a mark apart", 5}}) {
    INFO(n.script);
    CHECK(text::width(n.text) == n.cells);
    CHECK(text::width(text::padded(n.text, 9)) == 9);
  }
}
