// SPDX-License-Identifier: MIT
#include "curdwright/pictures.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/settling.hpp"

namespace curdwright {
namespace {

constexpr int steps = 60;

std::vector<FlowStep> flow_of(const Plan& p) {
  std::vector<FlowStep> all;
  for (Stage stage : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(p, stage, spare);
    if (f.in_count < 2 && f.aside_count == 0) continue;
    FlowStep s{stage, {f.in[0].name, f.in[0].stream->of}, {f.out[0].name, f.out[0].stream->of}, {}, {}};
    for (std::size_t i = 1; i < f.in_count; ++i) s.joins.push_back({f.in[i].name, f.in[i].stream->of});
    for (std::size_t i = 0; i < f.aside_count; ++i) s.leaves.push_back({f.aside[i].name, f.aside[i].stream->of});
    all.push_back(std::move(s));
  }
  return all;
}

template <class F>
TimeCurve curve(double longest, double chosen, F value) {
  TimeCurve c;
  for (int i = 0; i <= steps; ++i) c.points.push_back({longest * i / steps, value(longest * i / steps)});
  c.chosen = TimeCurve::Point{chosen, value(chosen)};
  return c;
}

/// The plan of the soak itself, told to last so long.
TimeCurve soak_of(const Batch& b) {
  const double hours_told = in_hours(b.setup.job.soak.time);
  return curve(1.5 * hours_told, hours_told, [&](double h) {
    if (h <= 0) return 0.0;
    Job j = b.setup.job;
    j.soak.time = hours(h);
    return plan(j, b.theta, Stage::soak).uptake_kg / j.dry.si();
  });
}

std::optional<TimeCurve> settling_of(const Batch& b) {
  const StarchSettings& s = b.setup.job.starch;
  const Stream& milk = b.plan.strained.milk;
  if (!s.settles() || !(milk.granules.settleable_kg() > 0)) return std::nullopt;
  const double minutes_told = in_minutes(s.time);
  return curve(2 * minutes_told, minutes_told, [&](double m) { return m > 0 ? settled_after(milk, s, minutes(m), b.theta) : 0.0; });
}

/// Joins stretches of time to one curve.
class Course {
 public:
  void hold(Duration length, Temperature at) {
    add(seconds(0), at), add(length, at);
    gone_ += length;
  }
  void follow(const TemperatureHistory& h) {
    for (const HistoryPiece& p : h.pieces()) {
      for (int i = 0; i <= pieces; ++i) add(p.length * (static_cast<double>(i) / pieces), p.at(p.length * (static_cast<double>(i) / pieces)));
      gone_ += p.length;
    }
  }
  void add(Duration later, Temperature at) { curve_.points.push_back({in_hours(gone_ + later), in_celsius(at)}); }
  [[nodiscard]] TimeCurve take() { return std::move(curve_); }

 private:
  static constexpr int pieces = 12;
  TimeCurve curve_;
  Duration gone_;
};

/// From the first jarful until the milk stands or is set on, by the day's own times.
Duration blending_until_next(const Timeline& t) {
  Duration from, to;
  for (const Task& task : tasks(t)) {
    if (task.step == Step::blend) from = task.start;
    if (task.step == Step::settle || (task.step == Step::cook && to.si() == 0)) to = to.si() == 0 ? task.start : to;
  }
  return std::max(seconds(0), to - from);
}

TimeCurve temperature_of(const Facts& f) {
  const Batch& b = f.batch;
  Course course;
  course.hold(blending_until_next(f.timeline), b.plan.strained.milk.at);
  course.follow(b.plan.destarched.history);
  course.follow(b.plan.cooked.history);
  course.follow(in_pot(b, f.timeline.handling));
  if (!(b.plan.pressed.curd.of.total_kg() > 0)) return course.take();
  // Until the block is well under its last limit, or two days where it never is.
  const Duration end = f.cooling.under_second ? *f.cooling.under_second * 1.15 : hours(48);
  for (int i = 0; i <= 2 * steps; ++i) {
    const Duration since = end * (static_cast<double>(i) / (2 * steps));
    course.add(since, block_centre(b, f.timeline.handling, since));
  }
  return course.take();
}

std::vector<TemperatureLimit> limits_of(const Batch& b) {
  const CoolingLimits l = cooling_limits(b.setup.kitchen);
  return {{l.from, std::nullopt}, {l.first, l.first_within}, {l.second, l.second_within}};
}

std::vector<RangeBar> bars_of(const Plan& p, const Ranges& ranges) {
  std::vector<RangeBar> all;
  for (Figure f : {Figure::curd_mass, Figure::blocks, Figure::pulp_mass, Figure::sediment_mass, Figure::protein, Figure::starch, Figure::calcium})
    if (value(p, f) > 0) all.push_back({f, value(p, f), ranges.of(f)});
  return all;
}

}  // namespace

Pictures pictures_of(const Facts& facts, const Ranges* ranges) {
  const Batch& b = facts.batch;
  Pictures p;
  p.flow = flow_of(b.plan);
  p.soak = soak_of(b);
  p.settling = settling_of(b);
  p.temperature = temperature_of(facts);
  p.limits = limits_of(b);
  if (ranges) p.bars = bars_of(b.plan, *ranges);
  return p;
}

}  // namespace curdwright
