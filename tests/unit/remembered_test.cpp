// SPDX-License-Identifier: MIT
#include <atomic>
#include <catch2/catch.hpp>
#include <string>
#include <thread>
#include <vector>

#include "curdwright/catalogue.hpp"
#include "remembered.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::from_source;
using curdwright::test::setup_of;

namespace {

/// A shipped legume with another soak, as a record of one's own.
RecordText pea_with_k1(const std::string& k1) {
  std::string text = from_source("data/legumes/pea-split-yellow.json");
  const std::size_t at = text.find("\"value\":", text.find("\"k1\"")) + 8;
  text.replace(at, text.find(',', at) - at, " " + k1);
  return {"legumes/pea-split-yellow.json", text, "mine.json"};
}

double k1_of(const Catalogue& c, const std::string& name = "pea-split-yellow") { return c.legume(name)->evidence(Param::soak_k1).value; }

}  // namespace

TEST_CASE("a record is read once, and what cannot be read is asked for again") {
  Remembered<int> r;
  int reads = 0;
  const auto read = [&] { return Result<int>(++reads); };
  CHECK(*r.get("a", read) == 1);
  CHECK(*r.get("a", read) == 1);
  CHECK(*r.get("b", read) == 2);
  int faults = 0;
  const auto fault = [&]() -> Result<int> { return fail(Problem{"x", {}, std::to_string(++faults), "", ""}); };
  CHECK(r.get("c", fault).error().front().what == "1");
  CHECK(r.get("c", fault).error().front().what == "2");
  CHECK(*r.get("c", read) == 3);
}

TEST_CASE("records that are added take the place of what was read before, in this catalogue and in no copy of it") {
  Catalogue c;
  const double shipped = k1_of(c);
  const Catalogue before = c;
  REQUIRE(c.add({pea_with_k1("3.3")}));
  CHECK(k1_of(c) == 3.3);
  CHECK(k1_of(before) == shipped);
  const Catalogue after = c;
  CHECK(k1_of(after) == 3.3);
  REQUIRE(c.add({pea_with_k1("3.4")}));
  CHECK(k1_of(c) == 3.4);
  CHECK(k1_of(after) == 3.3);
  CHECK(k1_of(Catalogue::shipped()) == shipped);
}

TEST_CASE("records that are refused leave what was read as it was") {
  Catalogue c;
  const double shipped = k1_of(c);
  CHECK_FALSE(c.add({{"legumes/pea-split-yellow.json", "{", "broken.json"}}));
  CHECK(k1_of(c) == shipped);
}

TEST_CASE("an unknown name is told as it was written, each time") {
  Catalogue c;
  for (const std::string name : {"PEEA", "peea"}) CHECK(c.legume(name).error().front().what.find(name) != std::string::npos);
}

TEST_CASE("many threads ask one catalogue for the same and for other records") {
  const Catalogue c;
  const std::vector<std::string> names = {"pea-split-yellow", "Soybean", "adzuki", "nothing of the kind", "chickpea-kabuli"};
  std::atomic<int> right = 0;
  std::vector<std::thread> threads;
  for (int t = 0; t < 8; ++t)
    threads.emplace_back([&, t] {
      for (std::size_t k = 0; k < 40; ++k) {
        const std::string& name = names[(k + static_cast<std::size_t>(t)) % names.size()];
        const auto l = c.legume(name);
        const auto hob = c.equipment(EquipmentKind::hob, "electric");
        if (l.has_value() == (name != "nothing of the kind") && hob && c.model() && c.coagulant("gdl")) ++right;
      }
    });
  for (std::thread& t : threads) t.join();
  CHECK(right == 320);
}

TEST_CASE("a resolved setup does not depend on what was read before") {
  const auto resolved = [](const Catalogue& c) { return *resolve(setup_of(R"({"legume": "chickpea-kabuli"})").recipe, default_kitchen(), c); };
  const Catalogue fresh;
  const Setup first = resolved(fresh), second = resolved(fresh);
  REQUIRE(first.beliefs.size() == second.beliefs.size());
  for (std::size_t i = 0; i < first.beliefs.size(); ++i) {
    CHECK(first.beliefs.all()[i].median == second.beliefs.all()[i].median);
    CHECK(first.beliefs.all()[i].source == second.beliefs.all()[i].source);
  }
  CHECK(first.job.blend.water == second.job.blend.water);
}
