// SPDX-License-Identifier: MIT
// The sheet read with a pot in mind: order, words and cautions that a cook can act on.
#include <algorithm>
#include <cmath>

#include "curdwright/ranges.hpp"
#include "curdwright/sheet.hpp"
#include "sheets/amounts.hpp"
#include "support/support.hpp"
#include "text/width.hpp"

using namespace curdwright;
using test::batch_of;

namespace {

Sheet sheet_of(const std::string& recipe, std::vector<std::string> set = {}, Units units = Units::metric) {
  const Batch b = batch_of(recipe, std::move(set));
  return make_sheet(facts_of(b), {.units = units});
}

const SheetStep& step(const Sheet& s, std::string_view verb) {
  const auto found = std::find_if(s.steps.begin(), s.steps.end(), [&](const SheetStep& st) { return st.verb.starts_with(verb); });
  if (found == s.steps.end()) FAIL("no step " << verb);
  return *found;
}

bool cautioned(const SheetStep& s, std::string_view rule) {
  return std::any_of(s.before.begin(), s.before.end(), [&](const Caution& c) { return c.rule == rule; });
}

/// All that a step says, in its order.
std::string said(const SheetStep& s) {
  std::string all;
  for (const Caution& c : s.before) all += c.text + "\n";
  for (const SheetAmount& a : s.amounts) all += a.amount + " " + a.what + " " + a.note + "\n";
  for (const std::string& a : s.actions) all += a + "\n";
  return all + s.ready + "\n" + s.if_not + "\n";
}

bool has(const std::string& all, std::string_view words) { return all.find(words) != std::string::npos; }

/// Both are said, and the one comes first.
void in_order(const std::string& all, std::string_view first, std::string_view second) {
  INFO(all);
  REQUIRE(has(all, first));
  REQUIRE(has(all, second));
  CHECK(all.find(first) < all.find(second));
}

const std::string kidney = R"({"legume":"kidney-white","want":{"blocks":2}})", pea = R"({"legume":"pea-split-yellow","want":{"blocks":2}})";
const std::string soy = R"({"legume":"soybean","want":{"blocks":12}})";

}  // namespace

TEST_CASE("raw kidney beans are warned of wherever hands are in them, and once in a step") {
  const Sheet s = sheet_of(kidney);
  for (const char* verb : {"Blend", "Strain", "Let the starch"}) {
    INFO(verb);
    CHECK(cautioned(step(s, verb), "P17"));
    CHECK_FALSE(cautioned(step(s, verb), "L6"));
  }
  CHECK(cautioned(step(sheet_of(pea), "Strain"), "L6"));
}

TEST_CASE("a boil of kidney beans that stops is begun again, not drawn out") {
  const std::string hard = step(sheet_of(kidney), "Cook").if_not;
  CHECK(has(hard, "whole time again"));
  CHECK_FALSE(has(hard, "five minutes more"));
  CHECK(has(step(sheet_of(pea), "Cook").if_not, "five minutes more"));
}

TEST_CASE("a sheet in US units tells no temperature in Celsius") {
  const Sheet s = sheet_of(soy, {}, Units::us);
  std::string all;
  for (const SheetStep& st : s.steps) all += said(st);
  CHECK(has(all, "146 °F or hotter"));
  CHECK_FALSE(has(all, "°C"));
}

TEST_CASE("skins come off before the seed drips and is weighed") {
  in_order(said(step(sheet_of(pea, {"/soak/skins_off=true"}), "Drain")), "Rub the skins off", "drip two minutes");
}

TEST_CASE("milk that settles twice goes to the pot after the second time") {
  const std::string twice = said(step(sheet_of(pea, {"/starch/times=2"}), "Let the starch"));
  in_order(twice, "Pour the milk into", "Ladle from the top");
  in_order(twice, "Weigh the vessel with the layer in, less its tare", "Rinse the vessels");
  CHECK(has(step(sheet_of(pea, {"/starch/times=2"}), "Let the starch").expected.at(0).what, "2 times added up"));
  in_order(twice, "settle again", "Milk to the pot");
}

TEST_CASE("what is raw is labelled, and poisonous where it is, warmed or not") {
  const std::string label = "RAW BEAN, POISONOUS: rolling boil 30 min or more, or bin";
  const auto kidneys = sheet_of(kidney, {"/starch/remove=settle-and-gel"});
  CHECK(has(said(step(kidneys, "Strain")), "labelled \"" + label + "\""));
  CHECK(has(said(step(kidneys, "Let the starch")), "label \"" + label + "\""));
  CHECK(has(said(step(kidneys, "Let the starch")), "Gel into a lidded tub, labelled \"" + label + "\""));
  CHECK(has(said(step(sheet_of(pea, {"/starch/remove=settle-and-gel"}), "Let the starch")), "labelled \"half cooked, boil first\""));
  const auto gel_left = [](const Sheet& s) { return std::find_if(s.leftovers.begin(), s.leftovers.end(), [](const SheetAmount& a) { return a.what.starts_with("starch gel"); }); };
  REQUIRE(gel_left(kidneys) != kidneys.leftovers.end());
  CHECK(gel_left(kidneys)->what == "starch gel, raw, poisonous");
  CHECK(has(gel_left(kidneys)->note, "a full rolling boil for at least 30 min"));
}

TEST_CASE("of a gel in several rounds, what waits is cooled before its boil") {
  const Sheet s = sheet_of(pea, {"/starch/remove=gel-and-strain", "/want/blocks=4", "/kitchen/pots/0/volume=6 l", "/kitchen/settling/vessels=9"});
  const std::string thicken = said(step(s, "Thicken"));
  in_order(thicken, "Share the milk out over ", "that of the others into shallow tubs in ice water at once");
  CHECK(has(said(step(s, "Cook")), "Milk into the pot"));
  CHECK(has(said(step(sheet_of(pea, {"/starch/remove=gel-and-strain"}), "Thicken")), "Milk into the pot. Warm it gently"));
}

TEST_CASE("vessels that stand idle are offered where the milk would stand too deep in fewer") {
  const std::vector<std::string> deep = {"/kitchen/settling/vessels=4", "/kitchen/settling/volume=10 l", "/kitchen/settling/area=300 cm2", "/starch/time=20 min"};
  const std::string words = said(step(sheet_of(pea, deep), "Let the starch"));
  INFO(words);
  CHECK(has(words, "In all 4 vessels it stands "));
  CHECK_FALSE(has(said(step(sheet_of(pea, {"/kitchen/settling/vessels=4", "/starch/time=3 h"}), "Let the starch")), "In all 4 vessels"));
}

TEST_CASE("a scrap is shared out over the blocks before it takes a filling of its own") {
  const Batch whole = batch_of(pea, {"/want/blocks=4", "/kitchen/settling/vessels=9"});
  REQUIRE(whole.setup.kitchen.moulds == 4);
  const auto with_more = [&](double share) { return batch_of(pea, {"/want={\"dry\":\"" + std::to_string(in_grams(whole.plan.dry) * share) + " g\"}", "/kitchen/settling/vessels=9"}); };
  const Batch scrap = with_more(1.07), piece = with_more(1.15);
  CHECK(value(scrap.plan, Figure::blocks) > 4.2);
  CHECK(scrap.blocks_to_press == 4);
  CHECK(scrap.press_rounds == 1);
  CHECK(piece.blocks_to_press == 5);
  CHECK(piece.press_rounds == 2);
}

TEST_CASE("a hot pot is weighed where the scale bears it, and the pot before the milk is in it") {
  const auto cooked = [](const std::string& recipe, std::vector<std::string> set) { return said(step(sheet_of(recipe, std::move(set)), "Cook")); };
  in_order(cooked(pea, {"/want/blocks=1"}), "Weigh the pot empty", "Milk into the pot");
  in_order(cooked(pea, {"/want/blocks=1"}), "Milk into the pot", "Weigh it in the pot");
  const std::string heavy = cooked(pea, {"/want/blocks=1", "/kitchen/coarse_scale/capacity=2 kg"});
  CHECK_FALSE(has(heavy, "Weigh"));
  CHECK(step(sheet_of(pea, {"/want/blocks=1", "/kitchen/coarse_scale/capacity=2 kg"}), "Cook").expected.empty());
  CHECK(step(sheet_of(pea, {"/want/blocks=1"}), "Cook").expected.size() == 1);
}

TEST_CASE("where a thing stands is what the recipe says, however cold the kitchen or warm the fridge") {
  const std::vector<std::string> cold = {"/soak/where=room", "/kitchen/room=7 degC", "/press/where=room"};
  CHECK(has(said(step(sheet_of(pea, cold), "Sort")), "on the counter"));
  CHECK_FALSE(has(said(step(sheet_of(pea, cold), "Drain and press")), "in the press, in the fridge"));
  CHECK(has(said(step(sheet_of(pea, {"/press/where=fridge"}), "Drain and press")), "in the press, in the fridge"));
  CHECK_FALSE(has(said(step(sheet_of(pea, cold), "Let the starch")), "stand in the fridge"));
  CHECK(has(said(step(sheet_of(pea, {"/kitchen/fridge/temperature=10 degC"}), "Sort")), "in the fridge"));
}

TEST_CASE("hot gel is strained with the scald warning beside it") {
  CHECK(cautioned(step(sheet_of(pea, {"/starch/remove=settle-and-gel"}), "Let the starch"), "K7"));
  CHECK_FALSE(cautioned(step(sheet_of(pea), "Let the starch"), "K7"));
}

TEST_CASE("straining and pressing are told as this kitchen does them") {
  CHECK(has(said(step(sheet_of(pea), "Strain")), "wet cloth over a bucket"));
  const std::string machine = said(step(sheet_of(pea, {"/kitchen/strainer=screw-or-decanter"}), "Strain"));
  CHECK_FALSE(has(machine, "cloth over"));
  CHECK(has(machine, "milk side"));
  CHECK(has(said(step(sheet_of(pea, {"/kitchen/press=lever-press"}), "Drain and press")), "move the load outward"));
}

TEST_CASE("where nothing presses, no weight is asked for") {
  const std::string bare = said(step(sheet_of(pea, {"/kitchen/press=no-press"}), "Drain and press"));
  CHECK(has(bare, "under its own weight"));
  CHECK_FALSE(has(bare, "on each block"));
  CHECK(has(said(step(sheet_of(pea, {"/kitchen/press=no-press", "/press/weight=2kg"}), "Drain and press")), "on each block"));
}

TEST_CASE("milky whey is mended with what there is") {
  const std::string kept = step(sheet_of(pea, {"/coagulate/make_up=1.5"}), "Set").if_not, none = step(sheet_of(pea, {"/coagulate/make_up=1"}), "Set").if_not;
  CHECK(has(kept, "more of the mix"));
  CHECK_FALSE(has(none, "of the mix"));
  CHECK(has(none, "more gypsum into"));
}

TEST_CASE("what the scale cannot take at once is weighed in parts") {
  const Batch b = batch_of(soy);
  const SheetStep strain = step(make_sheet(facts_of(b), {}), "Strain");
  REQUIRE(strain.expected.size() == 2);
  // Pulp fits on the built-in kitchen's 5 kg, milk does not.
  const double times = std::ceil(b.plan.strained.milk.mass() / b.setup.kitchen.coarse_scale.capacity);
  REQUIRE(times > 1);
  CHECK(strain.expected[0].note.empty());
  CHECK(strain.expected[1].note == "in " + std::to_string(static_cast<int>(times)) + " weighings");
}

TEST_CASE("each weighing has room to be written down") {
  Sheet s = sheet_of(soy);
  const std::string text = to_text(s, {});
  const SheetWeighing& milk = step(s, "Strain").expected.at(1);
  REQUIRE(milk.times > 1);
  CHECK(milk.measure == "milk");
  CHECK(has(text, " " + std::to_string(milk.times) + "  full ______ tare ______ net ______"));
  CHECK_FALSE(has(text, " " + std::to_string(milk.times + 1) + "  full ______ tare"));
}

TEST_CASE("what is shared out over tubs or moulds makes blocks of the planned weight, and a last one of the rest") {
  const std::vector<std::string> set = {"/coagulate/with=gdl", "/want/blocks=3"};
  const Batch whole = batch_of(pea, set);
  // Rounding the seed up leaves less than a piece.
  CHECK(has(said(step(sheet_of(pea, set), "Set")), "3 watertight tubs with about "));
  CHECK_FALSE(has(said(step(sheet_of(pea, set), "Set")), "a last one"));
  const std::string dry = "/want={\"dry\":\"" + std::to_string(in_grams(whole.plan.dry) * 2.5 / 3) + " g\"}";
  const Sheet more = sheet_of(pea, {"/coagulate/with=gdl", dry});
  const std::string tubs = said(step(more, "Set"));
  INFO(tubs);
  CHECK(has(tubs, "2 watertight tubs with about "));
  CHECK(has(tubs, " each, and a last one with the rest, about "));
  CHECK(has(step(more, "Drain and press").amounts.at(0).note, "; the last takes the rest, about "));
}

TEST_CASE("fillings are told with the moulds of each, and each has room for the record") {
  const Sheet s = sheet_of(pea, {"/want/blocks=4", "/kitchen/mould/count=3", "/kitchen/settling/vessels=9", "/kitchen/pots/0/volume=40 l", "/kitchen/rule_set=selling"});
  CHECK(has(said(step(s, "Drain and press")), "2 fillings, of 3 and 1 moulds. Curd that waits"));
  CHECK(has(said(step(s, "Chill")), "For the record, filling 2: under 57 °C at ______, under 21 °C at ______"));
}

TEST_CASE("a lever press is told by its plate, alone and with all blocks under it, and stands among the vessels") {
  const Sheet s = sheet_of(pea, {"/kitchen/press=lever-press"});
  CHECK(has(said(step(s, "Drain and press")), " with 2 blocks of one height under it: on the arm hang that divided by the arm's ratio"));
  CHECK(std::count(s.vessels.begin(), s.vessels.end(), "lever press") == 1);
  const Sheet gel = sheet_of(pea, {"/starch/remove=settle-and-gel"});
  CHECK(std::count(gel.vessels.begin(), gel.vessels.end(), "a coarse cloth") == 1);
}

TEST_CASE("left-overs speak of starch only where there is some") {
  const auto pulp = [](const Sheet& s) { return s.leftovers.at(0).note; };
  CHECK_FALSE(has(pulp(sheet_of(soy)), "and starch"));
  CHECK(has(pulp(sheet_of(pea)), "and starch"));
}

TEST_CASE("a batch in several runs is the sheet of one, and says how many there are and how the last is printed") {
  const auto run_of = [](int blocks, std::vector<std::string> set = {}) {
    set.push_back("/want/blocks=" + std::to_string(blocks));
    const Batch b = one_run(batch_of(pea, std::move(set)));
    return make_sheet(facts_of(b), {});
  };
  const Sheet even = run_of(12), odd = run_of(13), told = run_of(13, {R"(/extras=[{"what":"salt","amount":"20 g"}])"});
  CHECK(even.summary.starts_with("4 blocks of "));
  CHECK(has(even.batches, "Make 3 batches"));
  CHECK(has(even.batches, "They are alike, and this is for one of them."));
  CHECK(odd.summary.starts_with("5 blocks of "));
  CHECK(has(odd.batches, "Make 3 batches"));
  CHECK(odd.batches.ends_with("This is for each of the first 2; the last is of 3 blocks, and --blocks 3 prints its sheet."));
  CHECK(told.batches.ends_with(": tell it only its part of what the recipe tells by weight."));
  CHECK(run_of(2).batches.empty());
}

TEST_CASE("amounts are said as scales and tongues say them") {
  const Kitchen kitchen;
  const sheets::Amounts metric(Units::metric, kitchen), us(Units::us, kitchen);
  CHECK(metric.between(grams(727), grams(1204)) == "730 g to 1.2 kg");
  CHECK(metric.between(grams(960), grams(1204)) == "1.0 to 1.2 kg");
  CHECK(metric.between(grams(8610), grams(10240)) == "8.6 to 10.2 kg");
  CHECK(metric.between(grams(18700), grams(21300)) == "19 to 21 kg");
  CHECK(us.between(grams(452), grams(850)) == "1 lb to 1 lb 14 oz");
  CHECK(metric.load(grams(4894)) == "4.9 kg");
  CHECK(metric.load(grams(3002)) == "3 kg");
  CHECK(metric.load(grams(816)) == "820 g");
  CHECK(metric.volume(millilitres(12000)) == "12 l");
  CHECK(metric.length(centimetres(2.04)) == "2 cm");
  CHECK(us.water(grams(53000)) == "56.1 qt (116 lb 14 oz)");
}

TEST_CASE("a time of day is not broken over two lines") {
  for (const std::string& line : text::wrapped("under 21 °C by 23 h 48, under 5 °C by 24 h 02, and 2 h 20 min of it hands on", 12)) {
    INFO(line);
    CHECK_FALSE(line.ends_with(" h"));
    CHECK_FALSE(line.starts_with("min"));
  }
}

TEST_CASE("the yield depends on nothing that does not move it") {
  const Batch b = batch_of(R"({"legume":[{"id":"pea-split-yellow","share":0.5},{"id":"faba-split","share":0.5}],"want":{"curd":"1.5 kg"}})");
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  REQUIRE(r.influences.size() > 3);
  for (std::size_t i = 0; i < 3; ++i) {
    const Belief& belief = b.setup.beliefs.all()[r.influences[i].belief];
    INFO(info(belief.param).plain);
    Theta moved = b.setup.beliefs.medians();
    moved.set(belief.param, belief.legume, from_link(belief.link, to_link(belief.link, belief.median) + belief.spread));
    CHECK(value(plan(b.setup.job, moved), Figure::curd_mass) != Approx(value(plan(b.setup.job, b.setup.beliefs.medians()), Figure::curd_mass)).epsilon(1e-9));
  }
}
