// SPDX-License-Identifier: MIT
#include "text/nearest.hpp"

#include <array>
#include <catch2/catch.hpp>

using namespace curdwright::text;

TEST_CASE("the distance counts inserting, deleting, changing and swapping neighbours as one each") {
  CHECK(distance("", "") == 0);
  CHECK(distance("soak", "soak") == 0);
  CHECK(distance("soak", "sok") == 1);
  CHECK(distance("soak", "soaks") == 1);
  CHECK(distance("soak", "soap") == 1);
  CHECK(distance("soak", "saok") == 1);
  CHECK(distance("kitten", "sitting") == 3);  // Levenshtein's textbook pair
  CHECK(distance("ca", "abc") == 3);          // optimal string alignment; the unrestricted distance is 2
  CHECK(distance("", "abc") == 3);
  CHECK(distance("abc", "") == 3);
}

TEST_CASE("the nearest word is found within three changes and a third of the word") {
  constexpr std::array<std::string_view, 4> known = {"soak", "blend", "strain", "starch"};
  CHECK(nearest("sok", known) == "soak");
  CHECK(nearest("strian", known) == "strain");
  CHECK(nearest("stach", known) == "starch");
  CHECK(nearest("q", known).empty());
  CHECK(nearest("zzzzz", known).empty());
  CHECK(nearest("", known).empty());
  CHECK(nearest(std::string(70, 's'), known).empty());
}

TEST_CASE("a suggestion is the nearest word, else a short list, else nothing") {
  constexpr std::array<std::string_view, 3> few = {"food", "sowing", "unknown"};
  CHECK(suggest("foood", few) == "did you mean \"food\"?");
  CHECK(suggest("xyzzyq", few) == "use one of: food, sowing, unknown");
  std::array<std::string_view, 17> many{};
  many.fill("abcdefgh");
  CHECK(suggest("xyzzyq", many).empty());
  CHECK(suggest("x", {}).empty());
}
