// SPDX-License-Identifier: MIT
// What many batches show of a kitchen, and how a kitchen file keeps it.
#include "curdwright/teach.hpp"
#include "curdwright/version.hpp"
#include "support/kitchens.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

Setup chickpeas() { return must(plan_batch(setup_of(R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})"))).setup; }

std::vector<BatchSeen> cooked(const Setup& s, std::size_t count, std::uint64_t seed) {
  Normals draw(seed);
  TrueKitchen kitchen(draw);
  std::vector<BatchSeen> all;
  while (all.size() < count) {
    const Plan truth = plan(s.job, s.beliefs.at(kitchen.cook(s)));
    if (has_masses(truth)) all.push_back({"batch-" + std::to_string(all.size() + 1), s, weighed(truth, all_weighed, draw)});
  }
  return all;
}

double curd(const Setup& s, const Learned& l) {
  Setup taught = s;
  REQUIRE(apply_learned(taught, l).empty());
  return value(plan(s.job, taught.beliefs.medians()), Figure::curd_mass);
}

/// How far what is foretold of a figure moves from one lesson to another, on the logarithm.
double moved(const Setup& s, Figure f, const Lesson& from, const Lesson& to) {
  const auto foretold = [&](const Lesson& l) {
    Setup taught = s;
    REQUIRE(apply_learned(taught, l.learned).empty());
    return value(plan(s.job, taught.beliefs.medians()), f);
  };
  return std::abs(std::log(foretold(to) / foretold(from)));
}

double spread_of(const Setup& s, Param p) {
  for (const Belief& b : s.beliefs.all())
    if (b.param == p) return b.spread;
  return 0;
}

}  // namespace

TEST_CASE("the shares of every belief add to no more than one, and leave something to the batch") {
  const Setup s = setup_of(R"({"legume": [{"id": "soybean"}, {"id": "faba-split"}], "coagulate": {"with": "gdl"}})");
  for (const Belief& b : s.beliefs.all()) {
    INFO(info(b.param).key);
    double sum = 0;
    for (const Loading& l : loadings(s, b)) sum += l.share;
    CHECK(sum > 0.5);
    CHECK(sum < 1);
  }
}

TEST_CASE("from nothing nothing is learned, and what is learned from nothing changes nothing") {
  const Lesson l = learn({});
  CHECK(l.learned.batches == 0);
  CHECK(l.learned.names.empty());
  const Setup s = chickpeas();
  CHECK(curd(s, l.learned) == Approx(value(plan(s.job, s.beliefs.medians()), Figure::curd_mass)));
}

TEST_CASE("one batch changes little, and less than ten alike change") {
  const Setup s = chickpeas();
  std::vector<BatchSeen> ten(10, BatchSeen{"batch", s, {}});
  const double heavy = value(plan(s.job, s.beliefs.medians()), Figure::pulp_mass) * 1.3;
  for (BatchSeen& b : ten) b.seen = {{Figure::pulp_mass, heavy, 0.03}};
  const auto pulp = [&](std::size_t batches) {
    Setup taught = s;
    REQUIRE(apply_learned(taught, learn(std::span(ten).first(batches)).learned).empty());
    return value(plan(s.job, taught.beliefs.medians()), Figure::pulp_mass);
  };
  const double shipped = value(plan(s.job, s.beliefs.medians()), Figure::pulp_mass);
  CHECK(pulp(1) > shipped * 1.1);
  CHECK(pulp(1) < heavy * 0.99);
  CHECK(pulp(10) > pulp(1));
  CHECK(pulp(10) == Approx(heavy).epsilon(0.03));
}

TEST_CASE("learning twice from one diary is learning once, for it always starts from the shipped beliefs") {
  const Setup s = chickpeas();
  const std::vector<BatchSeen> batches = cooked(s, 4, 1);
  const Lesson once = learn(batches), again = learn(batches);
  CHECK(once.learned.offsets == again.learned.offsets);
  CHECK(once.learned.covariance == again.learned.covariance);
}

TEST_CASE("what was learned of the cloth stays with the cloth, and of a legume with the legume") {
  const Setup s = chickpeas();
  std::vector<BatchSeen> batches(5, BatchSeen{"batch", s, {{Figure::pulp_mass, value(plan(s.job, s.beliefs.medians()), Figure::pulp_mass) * 1.4, 0.03}}});
  const Learned l = learn(batches).learned;
  const auto median = [](const Setup& setup, Param p) {
    for (const Belief& b : setup.beliefs.all())
      if (b.param == p) return b.median;
    return 0.0;
  };
  const auto moved = [&](Setup other, Param p) {
    const double before = median(other, p);
    REQUIRE(apply_learned(other, l).empty());
    return median(other, p) / before;
  };
  CHECK(moved(s, Param::held_liquor) > 1.1);
  CHECK(moved(setup_of(R"({"legume": "pea-split-yellow"})"), Param::held_liquor) > 1.1);
  CHECK(moved(setup_of(R"({"legume": "chickpea-kabuli"})", {"/strain/by=screw-or-decanter"}), Param::held_liquor) == Approx(1).margin(0.02));
}

TEST_CASE("a learned kitchen leaves less open, but never less than a batch differs from the next") {
  const Setup s = chickpeas();
  Setup taught = s;
  REQUIRE(apply_learned(taught, learn(cooked(s, 30, 5)).learned).empty());
  const double before = spread_of(s, Param::held_liquor), now = spread_of(taught, Param::held_liquor);
  CHECK(now < 0.75 * before);
  CHECK(now > std::sqrt(0.2) * before * 0.99);
}

TEST_CASE("one gross error among ten batches moves the result by less than a tenth of what it would without the robust loss") {
  const Setup s = chickpeas();
  const std::vector<BatchSeen> clean = cooked(s, 10, 9);
  const Lesson right = learn(clean), plain = learn(clean, {.robust = false});
  for (Figure f : {Figure::pulp_mass, Figure::soaked_mass, Figure::curd_mass})
    for (double factor : {1.8, 0.45359237, 10.0}) {
      std::vector<BatchSeen> slipped = clean;
      for (Observation& o : slipped[6].seen)
        if (o.what == f) o.value *= factor;
      const double robust = moved(s, f, right, learn(slipped)), without = moved(s, f, plain, learn(slipped, {.robust = false}));
      INFO(info(f).key << " times " << factor << ": " << robust << " with the robust loss, " << without << " without");
      CHECK(without > 0.02);
      CHECK(robust < 0.1 * without);
    }
}

TEST_CASE("a gross error leaves what was learned as if that reading had not been taken") {
  const Setup s = chickpeas();
  const std::vector<BatchSeen> clean = cooked(s, 10, 9);
  for (Figure f : {Figure::pulp_mass, Figure::soaked_mass, Figure::curd_mass, Figure::to_95, Figure::sediment_mass}) {
    std::vector<BatchSeen> slipped = clean, without = clean;
    for (Observation& o : slipped[6].seen)
      if (o.what == f) o.value *= 5;
    std::erase_if(without[6].seen, [f](const Observation& o) { return o.what == f; });
    INFO(info(f).key);
    CHECK(moved(s, f, learn(without), learn(slipped)) < 0.002);
  }
}

TEST_CASE("the order of the batches does not matter") {
  const Setup s = chickpeas();
  std::vector<BatchSeen> batches = cooked(s, 5, 2);
  // One was short of soak water, so that other beliefs move its soaked seed.
  batches[4].setup.job.soak.water_to_dry = 0.6;
  batches[4].seen = {{Figure::soaked_mass, 1e3 * plan(batches[4].setup.job, s.beliefs.medians()).soaked.of.total_kg(), 0.02}};
  const Lesson one = learn(batches, {.tolerance = 1e-6});
  std::reverse(batches.begin(), batches.end());
  const Lesson other = learn(batches, {.tolerance = 1e-6});
  for (std::size_t i = 0; i < one.names.size(); ++i) {
    const auto at = std::find(other.names.begin(), other.names.end(), one.names[i]);
    REQUIRE(at != other.names.end());
    INFO(one.names[i]);
    CHECK(one.offsets[i] == Approx(other.offsets[static_cast<std::size_t>(at - other.names.begin())]).margin(1e-4));
  }
}

TEST_CASE("one batch is weighed by learning as it is in hand") {
  const Setup s = chickpeas();
  for (double factor : {1.0, 1.15, 1.25, 1.4}) {
    const double soaked = value(plan(s.job, s.beliefs.medians()), Figure::soaked_mass) * factor;
    const std::vector<Observation> seen = {{Figure::soaked_mass, soaked, 0.02}};
    const double in_hand = update(s.beliefs, s.job, seen).residuals[0].weight, learned = learn(std::vector<BatchSeen>{{"batch", s, seen}}).batches[0].residuals[0].weight;
    INFO(factor);
    CHECK(learned == Approx(in_hand).margin(0.15));
  }
}

TEST_CASE("a kitchen file keeps what was learned, and is refused when it does not hang together") {
  const Setup s = chickpeas();
  const Lesson l = learn(cooked(s, 5, 3));
  Kitchen k = default_kitchen();
  k.learned = l.learned;
  const Kitchen back = must(read_kitchen(write_kitchen(k), "kitchen.json"));
  REQUIRE(back.learned);
  CHECK(back.learned->names == l.learned.names);
  CHECK(curd(s, *back.learned) == Approx(curd(s, l.learned)).epsilon(1e-5));
  const auto refused = [&](auto spoil) {
    Kitchen wrong = back;
    spoil(*wrong.learned);
    const Inputs in = must(read_inputs({R"({"legume": "chickpea-kabuli"})", "r", std::nullopt, "", {}, {}}));
    const auto setup = resolve(in.recipe, wrong, Catalogue::shipped());
    return !setup && setup.error()[0].code == "learned";
  };
  CHECK_FALSE(refused([](Learned&) {}));
  CHECK(refused([](Learned& w) { w.offsets.pop_back(); }));
  CHECK(refused([](Learned& w) { w.covariance[0] = -1; }));
  CHECK(refused([](Learned& w) { w.covariance[1] = 9; }));
  CHECK(refused([](Learned& w) { w.data_version = "1999.01"; }));
}

TEST_CASE("each batch's share of what was learned adds to one, and a batch with no usable reading has none") {
  const Setup s = chickpeas();
  std::vector<BatchSeen> batches = cooked(s, 3, 4);
  batches.insert(batches.begin(), BatchSeen{"nothing", s, {}});
  const Lesson l = learn(batches);
  CHECK(l.learned.batches == 3);
  CHECK(l.batches[0].pull == 0);
  double sum = 0;
  for (const BatchLesson& b : l.batches) sum += b.pull;
  CHECK(sum == Approx(1));
}

TEST_CASE("what is worth measuring is what narrows the curd, and what is known well is worth little") {
  const Setup s = chickpeas();
  const Lesson nothing = learn({});
  const std::vector<Worth> fresh = worth_measuring(s, nothing);
  const auto gain = [](const std::vector<Worth>& all, std::string_view word) {
    for (const Worth& w : all)
      if (w.word == word) return w.gain;
    return -1.0;
  };
  CHECK(gain(fresh, "curd") > 0.05);
  CHECK(gain(fresh, "curd") > gain(fresh, "to-95"));
  CHECK(gain(fresh, "pulp") > 0.01);
  const Lesson many = learn(cooked(s, 20, 8));
  CHECK(gain(worth_measuring(s, many), "curd") < gain(fresh, "curd"));
  const Open open = open_curd(s, many);
  CHECK(open.now < 0.6 * open.before);
}

TEST_CASE("the gain of a reading is what learning from it takes away") {
  const Setup s = chickpeas();
  const double pulp = value(plan(s.job, s.beliefs.medians()), Figure::pulp_mass);
  const Lesson one = learn(std::vector<BatchSeen>{{"batch", s, {{Figure::pulp_mass, pulp, 0.03}}}});
  const Open open = open_curd(s, one);
  double told = 0;
  for (const Worth& w : worth_measuring(s, learn({})))
    if (w.word == "pulp") told = w.gain;
  CHECK(1 - open.now / open.before == Approx(told).margin(0.01));
}
