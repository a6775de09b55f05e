// SPDX-License-Identifier: MIT
// The day of a batch: nothing is used twice at once, and nothing begins before what it needs is there.
#include <map>

#include "curdwright/cautions.hpp"
#include "laws/recipes.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// Most of something that is taken at any moment.
int most_at_once(const Timeline& t, int (*of)(const Operation&)) {
  constexpr double hair = 1e-6;
  int most = 0;
  for (const Operation& at : t.operations) {
    int sum = 0;
    for (const Operation& o : t.operations)
      if (o.start.si() <= at.start.si() + hair && o.end().si() > at.start.si() + hair) sum += of(o);
    most = std::max(most, sum);
  }
  return most;
}

/// A kitchen and a size that make several jarfuls, pots and fillings.
Setup busy(Setup s) {
  s.kitchen.moulds = *rc::gen::inRange(1, 7);
  s.kitchen.pots.assign(static_cast<std::size_t>(*rc::gen::inRange(1, 4)), Pot{});
  for (Pot& p : s.kitchen.pots) p.volume = litres(*rc::gen::inRange(3, 30));
  s.job.soak.changes = *rc::gen::inRange(0, 4);
  s.recipe.want = {};
  s.recipe.want.dry = kilograms(draw::spread(0.1, 12));
  s.job.dry = *s.recipe.want.dry;
  s.recipe.blend.water.reset();
  s.recipe.coagulate.amount.reset();
  return s;
}

}  // namespace

TEST_CASE("one pair of hands, one blender, one ring, and no more pots and moulds than there are") {
  int busy_days = 0;
  law(150, [&] {
    const auto b = size_batch(busy(setup_for(draw::anything(Reach::sensible))));
    RC_PRE(b.has_value() && b->plan.whole());
    const Facts facts = facts_of(*b);
    const Timeline& t = facts.timeline;
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.hands ? 1 : 0; }) <= 1);
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.blender ? 1 : 0; }) <= 1);
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.hob ? 1 : 0; }) <= 1);
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.moulds; }) <= b->setup.kitchen.moulds);
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.pot == 0 ? 1 : 0; }) <= 1);
    RC_ASSERT(most_at_once(t, [](const Operation& o) { return o.pot == 1 ? 1 : 0; }) <= 1);
    for (const Operation& o : t.operations) RC_ASSERT(o.pot < static_cast<int>(b->setup.kitchen.pots.size()));
    busy_days += t.fillings > 1 && b->setup.job.cook.pots > 1;
  });
  CHECK(busy_days > 20);
}

TEST_CASE("no step begins before its input is there") {
  law(150, [&] {
    const auto b = size_batch(busy(setup_for(draw::anything(Reach::sensible))));
    RC_PRE(b.has_value() && b->plan.whole());
    const Facts facts = facts_of(*b);
    const Timeline& t = facts.timeline;
    for (const Operation& o : t.operations)
      for (std::size_t before : o.after) RC_ASSERT(t.operations[before].end().si() <= o.start.si() + 1e-6);
    // Every operation but the first needs one, and the process runs in its order.
    for (std::size_t i = 1; i < t.operations.size(); ++i) RC_ASSERT(!t.operations[i].after.empty());
    const std::vector<Task> steps = tasks(t);
    for (std::size_t i = 1; i < steps.size(); ++i) RC_ASSERT(steps[i].start >= steps[i - 1].start);
    for (const Task& s : steps) RC_ASSERT(s.hands_on <= s.length + seconds(1e-3));
  });
}

TEST_CASE("a pot is not used again before its curd is in the moulds") {
  law(150, [&] {
    const auto b = size_batch(busy(setup_for(draw::anything(Reach::sensible))));
    RC_PRE(b.has_value() && b->plan.whole() && b->setup.job.cook.pots > 1);
    const Timeline t = timeline(*b);
    std::map<int, Duration> empty;  // when each pot is
    int pot = -1;
    for (const Operation& o : t.operations) {
      if (o.work == Work::heat) {
        RC_ASSERT(empty[o.pot] <= o.start + seconds(1e-6));
        pot = o.pot;
      }
      if (o.work == Work::mould) empty[pot] = std::max(empty[pot], o.end());
    }
  });
}

TEST_CASE("a batch is cold when its last block is, and no sooner than the clock of its press says") {
  law(100, [&] {
    const auto b = size_batch(busy(setup_for(draw::anything(Reach::sensible))));
    RC_PRE(b.has_value() && b->plan.whole());
    const Facts facts = facts_of(*b);
    const Timeline& t = facts.timeline;
    RC_ASSERT(t.cold.has_value() == facts.cooling.under_second.has_value());
    RC_PRE(t.cold.has_value());
    RC_ASSERT(std::abs((*t.cold - t.end()).si()) < 1e-3);
    for (std::size_t i = 0; i < t.operations.size(); ++i) {
      if (t.operations[i].work != Work::press) continue;
      RC_ASSERT(*t.cold >= t.operations[i].start + *facts.cooling.under_second - seconds(1e-3));
      RC_ASSERT(*t.cold >= t.operations[i + 1].end() - seconds(1e-3));  // out of the press
    }
  });
}
