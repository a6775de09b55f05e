// SPDX-License-Identifier: MIT
// What more of something must do, whatever the recipe.
#include "curdwright/properties.hpp"
#include "curdwright/stages/cook.hpp"
#include "laws/recipes.hpp"
#include "laws/walk.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

struct Pair {
  Setup less, more;
  Theta theta;
};

/// Two setups of one recipe, to be made different.
Pair pair_of(Reach reach) {
  Setup s = setup_for(draw::anything(reach));
  const Theta t = s.beliefs.medians();
  return {s, s, t};
}

double kg(const Stream& s, Component c) { return s.of[c]; }

}  // namespace

TEST_CASE("more water never thickens the milk") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.blend.basis = WaterBasis::grinding_to_dry;
    p.less.job.blend.water = draw::spread(0.5, 30);
    p.more.job.blend.water = p.less.job.blend.water * draw::spread(1.0001, 3);
    const Plan thick = plan(p.less.job, p.theta), thin = plan(p.more.job, p.theta);
    RC_PRE(thick.strained.fault == Fault::none);
    RC_ASSERT(thin.strained.fault == Fault::none);
    const auto solids = [](const Plan& a) { return a.strained.milk.of.solids_kg() / a.strained.milk.of.total_kg(); };
    RC_ASSERT(solids(thin) <= solids(thick) * (1 + 1e-12));
    RC_ASSERT(value(thin, Figure::milk_protein) <= value(thick, Figure::milk_protein) * (1 + 1e-12));
    RC_ASSERT(kg(thin.strained.milk, Component::protein) >= kg(thick.strained.milk, Component::protein) * (1 - 1e-12));
  });
}

TEST_CASE("longer undisturbed settling never leaves more starch") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.starch.remove = StarchRemoval::settle, s->job.starch.times = 1;
    p.less.job.starch.time = minutes(draw::spread(1, 2000));
    p.more.job.starch.time = p.less.job.starch.time * draw::spread(1, 50);
    const Plan brief = plan(p.less.job, p.theta), calm = plan(p.more.job, p.theta);
    RC_PRE(ran(brief, Stage::starch));
    RC_ASSERT(kg(calm.destarched.milk, Component::starch) <= kg(brief.destarched.milk, Component::starch) * (1 + 1e-12));
    RC_ASSERT(calm.destarched.share_settled >= brief.destarched.share_settled * (1 - 1e-12));
  });
}

TEST_CASE("settling twice never leaves more starch than settling once") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.starch.remove = StarchRemoval::settle;
    p.less.job.starch.times = whole(1, 3);
    p.more.job.starch.times = p.less.job.starch.times + 1;
    const Plan once = plan(p.less.job, p.theta), twice = plan(p.more.job, p.theta);
    RC_PRE(ran(once, Stage::starch));
    RC_ASSERT(kg(twice.destarched.milk, Component::starch) <= kg(once.destarched.milk, Component::starch) * (1 + 1e-12));
    RC_ASSERT(twice.destarched.milk.of.total_kg() <= once.destarched.milk.of.total_kg() * (1 + 1e-12));
  });
}

TEST_CASE("more washes never lose milk protein") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.blend.basis = WaterBasis::grinding_to_dry, s->job.blend.water = 7;
    const std::size_t washes = p.less.job.strain.wash_count;
    RC_PRE(washes < StrainSettings::max_washes);
    p.more.job.strain.washes[washes] = {draw::spread(0.05, 20), once_in(2) ? seconds(draw::spread(1, 600)) : seconds(0)};
    p.more.job.strain.wash_count = washes + 1;
    const Plan before = plan(p.less.job, p.theta), after = plan(p.more.job, p.theta);
    RC_PRE(before.strained.fault == Fault::none);
    for (Component c : {Component::protein, Component::fat, Component::starch, Component::sugars})
      RC_ASSERT(kg(after.strained.milk, c) >= kg(before.strained.milk, c) * (1 - 1e-12));
  });
}

TEST_CASE("a hotter or longer hold never leaves more trypsin inhibitor or lipoxygenase") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    p.more.job.cook.hold = p.less.job.cook.hold + minutes(between(0, 60));
    if (once_in(2)) p.more.job.cook.boil = p.less.job.cook.boil + kelvins(between(0, 15));
    const Cooked mild = plan(p.less.job, p.theta).cooked, hard = plan(p.more.job, p.theta).cooked;
    RC_PRE(mild.fault == Fault::none && hard.fault == Fault::none);
    RC_PRE(!mild.history.pieces().empty() || mild.milk.of.total_kg() > 0);
    RC_ASSERT(trypsin_inhibitor_left(hard.history, p.theta) <= trypsin_inhibitor_left(mild.history, p.theta) * (1 + 1e-9));
    RC_ASSERT(lipoxygenase_left(hard.history, p.theta) <= lipoxygenase_left(mild.history, p.theta) * (1 + 1e-9) + 1e-12);
  });
}

TEST_CASE("more pressure never makes the curd wetter") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.press.moisture.reset();
    p.less.job.press.pressure = kilopascals(draw::spread(0.1, 500));
    p.more.job.press.pressure = p.less.job.press.pressure * draw::spread(1, 20);
    const Plan light = plan(p.less.job, p.theta), heavy = plan(p.more.job, p.theta);
    RC_PRE(light.whole() && heavy.whole());
    RC_LOG() << in_kilopascals(p.less.job.press.pressure) << " kPa " << light.pressed.moisture << ", " << in_kilopascals(p.more.job.press.pressure) << " kPa "
             << heavy.pressed.moisture << ", " << in_minutes(p.less.job.press.time) << " min" << std::endl;
    RC_ASSERT(heavy.pressed.moisture <= light.pressed.moisture + 1e-12);
  });
}

TEST_CASE("longer pressing never makes the curd wetter or heavier") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.press.moisture.reset();
    p.more.job.press.time = p.less.job.press.time * draw::spread(1, 100);
    const Plan brief = plan(p.less.job, p.theta), after = plan(p.more.job, p.theta);
    RC_PRE(brief.whole() && after.whole());
    RC_ASSERT(after.pressed.moisture <= brief.pressed.moisture + 1e-12);
    RC_ASSERT(after.pressed.curd.of.total_kg() <= brief.pressed.curd.of.total_kg() * (1 + 1e-12));
  });
}

TEST_CASE("higher up, water never boils hotter") {
  law(300, [] {
    const double low = between(-400, 5000), high = low + between(0, 1000);
    RC_ASSERT(boiling_temperature(pressure_at_altitude(metres(high))) <= boiling_temperature(pressure_at_altitude(metres(low))));
  });
  law(40, [] {
    Drawn d = draw::anything(Reach::sensible);
    const double low = between(0, 4000);
    d.kitchen = fmt::format("{{\"altitude\": \"{} m\"}}", low);
    const Setup below = setup_for(d);
    d.kitchen = fmt::format("{{\"altitude\": \"{} m\"}}", low + between(0, 1500));
    const Setup above = setup_for(d);
    RC_ASSERT(above.job.cook.boil <= below.job.cook.boil);
    RC_ASSERT(above.job.coagulate.at <= below.job.coagulate.at);
  });
}

TEST_CASE("a longer soak never drinks less or loses less") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.soak.changes = 0;  // each change would cool or warm the vessel at other times
    p.more.job.soak.time = p.less.job.soak.time * draw::spread(1, 20);
    const Plan brief = plan(p.less.job, p.theta), after = plan(p.more.job, p.theta);
    RC_ASSERT(after.soaked.of[Component::water] >= brief.soaked.of[Component::water] * (1 - 0.02));  // leached seed holds a little less
    RC_ASSERT(after.soak_water.of.solids_kg() >= brief.soak_water.of.solids_kg() * (1 - 1e-12));
  });
}

TEST_CASE("longer blending never frees less") {
  law(300, [] {
    Pair p = pair_of(Reach::any);
    p.more.job.blend.time = p.less.job.blend.time * draw::spread(1, 20);
    const Plan brief = plan(p.less.job, p.theta), fine = plan(p.more.job, p.theta);
    RC_PRE(ran(brief, Stage::blend));
    for (Component c : {Component::protein, Component::fat, Component::starch}) RC_ASSERT(kg(fine.ground.free, c) >= kg(brief.ground.free, c) * (1 - 1e-12));
  });
}

TEST_CASE("cloth that holds more liquor never gives more milk or protein") {
  law(300, [] {
    Pair p = pair_of(Reach::sensible);
    for (Setup* s : {&p.less, &p.more}) s->job.blend.basis = WaterBasis::grinding_to_dry, s->job.blend.water = 9;
    Theta wet = p.theta;
    wet.set(Param::held_liquor, 0, p.theta[Param::held_liquor] * draw::spread(1, 3));
    const Plan dry_pulp = plan(p.less.job, p.theta), wet_pulp = plan(p.more.job, wet);
    RC_PRE(dry_pulp.strained.fault == Fault::none && wet_pulp.strained.fault == Fault::none);
    RC_ASSERT(wet_pulp.strained.milk.of.total_kg() <= dry_pulp.strained.milk.of.total_kg() * (1 + 1e-12));
    RC_ASSERT(kg(wet_pulp.strained.milk, Component::protein) <= kg(dry_pulp.strained.milk, Component::protein) * (1 + 1e-12));
  });
}

TEST_CASE("a longer hold never leaves more water in the milk") {
  law(200, [] {
    Pair p = pair_of(Reach::any);
    for (Setup* s : {&p.less, &p.more}) s->job.cook.evaporated.reset();
    p.more.job.cook.hold = p.less.job.cook.hold + minutes(between(0, 120));
    const Plan brief = plan(p.less.job, p.theta), after = plan(p.more.job, p.theta);
    RC_PRE(ran(brief, Stage::cook));
    RC_ASSERT(kg(after.cooked.milk, Component::water) <= kg(brief.cooked.milk, Component::water) * (1 + 1e-12));
    RC_ASSERT(kg(after.cooked.milk, Component::protein) == kg(brief.cooked.milk, Component::protein));
  });
}
