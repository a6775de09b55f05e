// SPDX-License-Identifier: MIT
#include "curdwright/stages/chill.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

constexpr std::size_t terms = 24;

/// The roots and weights of one slab, each found the first time that it is needed.
class Slab {
 public:
  explicit Slab(double biot) : biot_(biot) {}

  /// The share that the slowest part of the series keeps at first, and how fast it fades.
  [[nodiscard]] std::pair<double, double> slowest() {
    if (known_ == 0) find_next();
    return {weight_[0], root_[0] * root_[0]};
  }

  [[nodiscard]] double centre(double fourier) {
    // Below this the cold has not come near the centre (erfc(11) is nothing), and the series would need more terms.
    if (fourier < 0.002) return 1.0;
    double sum = 0;
    for (std::size_t i = 0; i < terms; ++i) {
      if (i == known_) find_next();
      const double decay = std::exp(-root_[i] * root_[i] * fourier);
      sum += weight_[i] * decay;
      if (decay < 1e-14) break;
    }
    return std::clamp(sum, 0.0, 1.0);
  }

 private:
  void find_next() {
    const double z = slab_root(biot_, static_cast<int>(known_));
    root_[known_] = z;
    weight_[known_] = 4.0 * std::sin(z) / (2.0 * z + std::sin(2.0 * z));
    ++known_;
  }

  double biot_;
  std::size_t known_ = 0;
  std::array<double, terms> root_{}, weight_{};
};

struct Box {
  std::array<Slab, 3> slab;
  std::array<double, 3> half_m;
  double diffusivity;
  Box(const ThermalBlock& b, double h)
      : slab{Slab(h * 0.5 * b.length.si() / b.conductivity_w_m_k), Slab(h * 0.5 * b.width.si() / b.conductivity_w_m_k),
             Slab(h * 0.5 * b.height.si() / b.conductivity_w_m_k)},
        half_m{0.5 * b.length.si(), 0.5 * b.width.si(), 0.5 * b.height.si()},
        diffusivity(b.diffusivity_m2_s) {}
  [[nodiscard]] double centre(double t) {
    double product = 1;
    for (std::size_t i = 0; i < 3; ++i) product *= slab[i].centre(diffusivity * t / (half_m[i] * half_m[i]));
    return product;
  }
  /// About when the centre comes down to a share: by the slowest part of each series alone, which is all that is left after a while.
  [[nodiscard]] double about_when(double share) {
    double start = 1, rate = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      const auto [weight, root_squared] = slab[i].slowest();
      start *= weight;
      rate += root_squared * diffusivity / (half_m[i] * half_m[i]);
    }
    return std::log(start / share) / rate;
  }
};

std::optional<Duration> passes(Box& box, Temperature start, Temperature medium, Temperature level) {
  if (start <= level) return seconds(0);
  if (medium >= level) return std::nullopt;
  const double wanted = (level - medium) / (start - medium);
  const auto over = [&](double t) { return box.centre(t) - wanted; };
  // The minute, or the doubling of it, within which the centre comes down: looked for where it must be about, since short times are dear.
  constexpr double first_upper = 60, never = 1e9;
  double upper = first_upper;
  for (const double about = box.about_when(wanted); upper < about && upper < never;) upper *= 2;
  double at_upper = over(upper);
  while (at_upper > 0 && upper < never) upper *= 2, at_upper = over(upper);
  if (upper >= never) return std::nullopt;
  double lower = upper > first_upper ? upper / 2 : 0, at_lower = over(lower);
  while (at_lower <= 0 && lower > 0) upper = lower, at_upper = at_lower, lower = upper > first_upper ? upper / 2 : 0, at_lower = over(lower);
  boost::uintmax_t most = 60;
  const auto bracket = boost::math::tools::toms748_solve(over, lower, upper, at_lower, at_upper, boost::math::tools::eps_tolerance<double>(40), most);
  return seconds(0.5 * (bracket.first + bracket.second));
}

}  // namespace

ThermalBlock thermal_block(const Composition& curd, Length length, Length width, Length height) {
  const Temperature middle = celsius(40);
  const double k = conductivity_w_m_k(curd, middle);
  const double rho = in_kilograms_per_cubic_metre(mixture_density(curd, middle));
  return {length, width, height, k, k / (rho * heat_capacity_j_kg_k(curd, middle))};
}

std::optional<Duration> Chilled::to_first() const {
  return under_from && under_first ? std::optional(*under_first - *under_from) : std::nullopt;
}
std::optional<Duration> Chilled::to_second() const {
  return under_from && under_second ? std::optional(*under_second - *under_from) : std::nullopt;
}

double slab_root(double biot, int n) {
  double low = n * std::numbers::pi, high = low + 0.5 * std::numbers::pi;
  const double sign = n % 2 == 0 ? 1.0 : -1.0;
  // z sin z = Bi cos z has no pole, so it brackets safely up to the ends; Newton from z tan z = Bi, solved nearly.
  double z = n == 0 ? high * std::sqrt(biot / (biot + high * high)) : low + std::atan(biot / (low + 0.25 * std::numbers::pi));
  for (int i = 0; i < 60; ++i) {
    const double s = std::sin(z), c = std::cos(z);
    const double off = z * s - biot * c, slope = (1.0 + biot) * s + z * c;
    (sign * off > 0 ? high : low) = z;
    double next = z - off / slope;
    if (!(next >= low && next <= high)) next = 0.5 * (low + high);
    const double step = std::abs(next - z);
    z = next;
    if (step <= 1e-14 * z) break;
  }
  return z;
}

double slab_centre(double biot, double fourier) { return Slab(biot).centre(fourier); }

Temperature box_centre(const ThermalBlock& block, double h, Temperature start, Temperature medium, Duration after) {
  return medium + (start - medium) * Box(block, h).centre(in_seconds(after));
}

std::optional<Duration> box_passes(const ThermalBlock& block, double h, Temperature start, Temperature medium,
                                   Temperature level) {
  Box box(block, h);
  return passes(box, start, medium, level);
}

namespace {

std::vector<Box> boxes_of(const ThermalBlock& block, std::span<const Surroundings> through) {
  std::vector<Box> boxes;
  boxes.reserve(through.size());
  for (const Surroundings& s : through) boxes.emplace_back(block, s.coefficient_w_m2_k);
  return boxes;
}

Chilled chill_in(std::vector<Box>& boxes, Temperature start, std::span<const Surroundings> through, const CoolingLevels& levels) {
  Chilled r;
  Duration elapsed;
  Temperature now = start;
  for (std::size_t i = 0; i < through.size(); ++i) {
    const Surroundings& s = through[i];
    const bool last = i + 1 == through.size();
    Box& box = boxes[i];
    const Temperature at_end = last ? s.at : s.at + (now - s.at) * box.centre(in_seconds(s.time));
    const auto note = [&](std::optional<Duration>& when, Temperature level) {
      // What the block is still above when it is taken on has not been passed here: no moment to look for.
      if (when || (!last && now > level && at_end > level)) return;
      const auto t = passes(box, now, s.at, level);
      if (t && (last || *t <= s.time)) when = elapsed + *t;
    };
    note(r.under_from, levels.from);
    note(r.under_first, levels.first);
    note(r.under_second, levels.second);
    if (last) break;
    now = at_end;
    elapsed += s.time;
  }
  return r;
}

}  // namespace

Chilled chill(const ThermalBlock& block, Temperature start, std::span<const Surroundings> through, const CoolingLevels& levels) {
  std::vector<Box> boxes = boxes_of(block, through);
  return chill_in(boxes, start, through, levels);
}

std::array<Chilled, 2> chill(const ThermalBlock& block, std::array<Temperature, 2> starts, std::span<const Surroundings> through, const CoolingLevels& levels) {
  std::vector<Box> boxes = boxes_of(block, through);
  return {chill_in(boxes, starts[0], through, levels), chill_in(boxes, starts[1], through, levels)};
}

}  // namespace curdwright
