// SPDX-License-Identifier: MIT
#include "curdwright/ranges.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <boost/random/sobol.hpp>
#include <cmath>
#include <numeric>
#include <random>

namespace curdwright {
namespace {

int bits_of(int count) {
  int bits = 0;
  while ((1 << bits) < count) ++bits;
  return bits;
}

/// Quantiles of the standard normal at the middles of n strata.
std::vector<double> stratum_quantiles(int n) {
  std::vector<double> q(static_cast<std::size_t>(n));
  const boost::math::normal_distribution<double> normal;
  // Symmetric, so half of them are found and the other half mirrored.
  for (std::size_t k = 0; k < q.size() / 2; ++k) {
    q[k] = boost::math::quantile(normal, (static_cast<double>(k) + 0.5) / n);
    q[q.size() - 1 - k] = -q[k];
  }
  return q;
}

double squared_correlation(std::span<const double> z, std::size_t dimension, std::size_t dimensions, std::span<const double> y) {
  const auto n = static_cast<double>(y.size());
  double sz = 0, szz = 0, sy = 0, syy = 0, szy = 0;
  for (std::size_t k = 0; k < y.size(); ++k) {
    const double a = z[k * dimensions + dimension], b = y[k];
    sz += a, szz += a * a, sy += b, syy += b * b, szy += a * b;
  }
  const double vz = szz - sz * sz / n, vy = syy - sy * sy / n, c = szy - sz * sy / n;
  return vz > 0 && vy > 0 ? c * c / (vz * vy) : 0.0;
}

/// Whether a belief, moved alone, moves the mass of curd at all.
bool moves_curd(const Job& job, const Beliefs& beliefs, std::size_t belief) {
  const Belief& b = beliefs.all()[belief];
  Theta theta = beliefs.medians();
  const double still = value(plan(job, theta), Figure::curd_mass);
  theta.set(b.param, b.legume, from_link(b.link, to_link(b.link, b.median) + b.spread));
  return std::abs(value(plan(job, theta), Figure::curd_mass) - still) > 1e-9 * still;
}

/// The lowest and highest tenth of a figure over the sample.
Range range_of(std::vector<double> values) {
  constexpr std::array ends = {0.1, 0.9};
  if (values.size() < 32) {
    std::sort(values.begin(), values.end());
  } else {
    // Only the neighbours of the two ends must stand in their places, which takes a fraction of the time of sorting.
    auto from = values.begin();
    for (double share : ends)
      for (std::ptrdiff_t i : {0, 1}) {
        const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size()) - 0.5) + i;
        std::nth_element(from, at, values.end());
        from = at + 1;
      }
  }
  return {quantile(values, ends[0]), quantile(values, ends[1])};
}

}  // namespace

double quantile(std::span<const double> sorted, double share) {
  if (sorted.empty()) return 0;
  const double at = std::clamp(share * static_cast<double>(sorted.size()) - 0.5, 0.0, static_cast<double>(sorted.size() - 1));
  const auto low = static_cast<std::size_t>(at);
  const std::size_t high = std::min(low + 1, sorted.size() - 1);
  return sorted[low] + (at - static_cast<double>(low)) * (sorted[high] - sorted[low]);
}

double chance_of(std::span<const double> sorted, double at_least) {
  // What is short by rounding noise only has reached it.
  const auto first = std::lower_bound(sorted.begin(), sorted.end(), at_least * (1 - 1e-9));
  return sorted.empty() ? 0.0 : static_cast<double>(sorted.end() - first) / static_cast<double>(sorted.size());
}

double Ranges::chance_of_curd(Mass at_least) const { return chance_of(curd_kg, in_kilograms(at_least)); }

std::vector<double> sampled(const Job& job, const Beliefs& beliefs, Figure figure, const Sample& sample) {
  const std::vector<double> z = sobol_normals(sample.plans, beliefs.size(), sample.seed);
  std::vector<double> values;
  for (std::size_t k = 0; k < static_cast<std::size_t>(sample.plans); ++k) {
    const Plan p = plan(job, beliefs.at(std::span(z).subspan(k * beliefs.size(), beliefs.size())));
    values.push_back(has_masses(p) ? value(p, figure) : 0.0);
  }
  std::sort(values.begin(), values.end());
  return values;
}

std::vector<double> sobol_normals(int count, std::size_t dimensions, std::uint64_t seed) {
  const int bits = bits_of(count);
  const int shift = 64 - bits;
  const std::vector<double> normal = stratum_quantiles(1 << bits);
  // A digital shift moves the corner, where the sequence begins, to some other place.
  std::mt19937_64 random(seed);
  std::vector<std::uint64_t> moved(dimensions);
  for (std::uint64_t& m : moved) m = bits > 0 ? random() >> shift : 0;
  boost::random::sobol sequence(dimensions);
  std::vector<double> z(static_cast<std::size_t>(count) * dimensions);
  for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k)
    for (std::size_t d = 0; d < dimensions; ++d) {
      // The library leaves out the first point, zero.
      const std::uint64_t stratum = k == 0 ? 0 : sequence() >> shift;
      z[k * dimensions + d] = normal[stratum ^ moved[d]];
    }
  return z;
}

std::vector<Influence> sobol_indices(const std::function<double(std::span<const double>)>& f, std::size_t dimensions,
                                     std::span<const std::size_t> which, int base, std::uint64_t seed) {
  const auto n = static_cast<std::size_t>(base);
  const std::vector<double> both = sobol_normals(base, 2 * dimensions, seed);
  const auto a = [&](std::size_t k) { return std::span(both).subspan(k * 2 * dimensions, dimensions); };
  const auto b = [&](std::size_t k) { return std::span(both).subspan(k * 2 * dimensions + dimensions, dimensions); };
  std::vector<double> fa(n), fb(n), point(dimensions);
  for (std::size_t k = 0; k < n; ++k) fa[k] = f(a(k)), fb[k] = f(b(k));
  const double mean = std::accumulate(fa.begin(), fa.end(), std::accumulate(fb.begin(), fb.end(), 0.0)) / (2.0 * base);
  double variance = 0;
  for (std::size_t k = 0; k < n; ++k) variance += (fa[k] - mean) * (fa[k] - mean) + (fb[k] - mean) * (fb[k] - mean);
  variance /= 2.0 * base;
  std::vector<Influence> out;
  for (std::size_t i : which) {
    double first = 0, total = 0;
    for (std::size_t k = 0; k < n; ++k) {
      std::copy(a(k).begin(), a(k).end(), point.begin());
      point[i] = b(k)[i];
      const double fab = f(point);
      first += (fb[k] - mean) * (fab - fa[k]);
      total += (fa[k] - fab) * (fa[k] - fab);
    }
    const double scale = variance > 0 ? 1.0 / (variance * base) : 0.0;
    out.push_back({i, 0, first * scale, 0.5 * total * scale});
  }
  return out;
}

Sample sample_for(const Beliefs& beliefs, Depth depth) {
  if (depth == Depth::full) return {.plans = 4096, .index_base = 256};
  return beliefs.factor().empty() ? Sample{} : Sample{.plans = 512};
}

Ranges ranges(const Job& job, const Beliefs& beliefs, const Sample& sample) {
  Ranges r;
  r.plans = sample.plans;
  r.seed = sample.seed;
  const std::size_t dimensions = beliefs.size();
  const auto n = static_cast<std::size_t>(sample.plans);
  const bool correlated = !beliefs.factor().empty();
  std::vector<double> z = sobol_normals(sample.plans, dimensions, sample.seed);
  std::vector<std::vector<double>> values(figure_count);
  for (auto& v : values) v.reserve(n);
  for (std::size_t k = 0; k < n; ++k) {
    const auto point = std::span(z).subspan(k * dimensions, dimensions);
    const Plan p = plan(job, beliefs.at(point));
    if (correlated) std::ranges::copy(beliefs.deviations(point), point.begin());
    r.curd_kg.push_back(p.pressed.curd.of.total_kg());
    // A plan that comes to nothing has no figures; it counts in the chance of a target, and is told beside the ranges.
    if (!has_masses(p)) ++r.failed;
    else
      for (std::size_t f = 0; f < figure_count; ++f)
        // A temperature that is never reached has no time.
        if (const double v = all_figures()[f].of(p); v > 0 || all_figures()[f].figure != Figure::to_95) values[f].push_back(v);
  }
  for (std::size_t i = 0; i < dimensions; ++i) r.influences.push_back({i, squared_correlation(z, i, dimensions, r.curd_kg), 0, 0});
  const auto stronger = [](const Influence& a, const Influence& b) { return a.share > b.share; };
  std::sort(r.influences.begin(), r.influences.end(), stronger);
  // A correlation may be chance: among those that will be shown, what does not move the plan is put last.
  const std::size_t shown = std::max<std::size_t>(3, sample.index_base > 0 ? static_cast<std::size_t>(sample.indexed) : 0);
  for (std::size_t i = 0, good = 0; i < r.influences.size() && good < shown; ++i) {
    Influence& in = r.influences[i];
    if (moves_curd(job, beliefs, in.belief))
      ++good;
    else
      in.share = 0;
  }
  std::stable_sort(r.influences.begin(), r.influences.end(), stronger);
  std::sort(r.curd_kg.begin(), r.curd_kg.end());
  for (std::size_t f = 0; f < figure_count; ++f) r.by_figure[f] = range_of(std::move(values[f]));
  // Sobol indices are those of independent beliefs.
  if (sample.index_base <= 0 || correlated) return r;

  r.indexed = std::min(static_cast<std::size_t>(sample.indexed), r.influences.size());
  std::vector<std::size_t> which;
  for (std::size_t i = 0; i < r.indexed; ++i) which.push_back(r.influences[i].belief);
  const auto curd = [&](std::span<const double> at) { return value(plan(job, beliefs.at(at)), Figure::curd_mass); };
  const auto indices = sobol_indices(curd, dimensions, which, sample.index_base, sample.seed + 1);
  for (std::size_t i = 0; i < r.indexed; ++i) r.influences[i].first_order = indices[i].first_order, r.influences[i].total = indices[i].total;
  r.index_plans = sample.index_base * static_cast<int>(r.indexed + 2);
  return r;
}

}  // namespace curdwright
