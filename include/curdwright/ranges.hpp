// SPDX-License-Identifier: MIT
/// \file ranges.hpp
/// How sure a plan is: the middle 80 % of what each figure may be, and what that depends on most.
///
///     Ranges r = ranges(batch.setup.job, batch.setup.beliefs, {.plans = 128});
///     const Range& curd = r.of(Figure::curd_mass);   // curd.low, curd.high
///
/// The beliefs are sampled by a Sobol sequence, one dimension for each, shifted by a fixed seed, and the
/// one plan is evaluated at every point, so what moves together stays together. A sample stands in the
/// middle of its stratum, (k + 1/2)/n: the same beliefs and seed give the same ranges.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "curdwright/figures.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

/// The middle 80 % of belief.
struct Range {
  double low = 0;   ///< one in ten lies below
  double high = 0;  ///< one in ten lies above
};

struct Sample {
  int plans = 128;         ///< a power of two, 16 to 65,536
  int index_base = 0;      ///< base points for Sobol indices, a power of two; 0 for none; none either for correlated beliefs
  int indexed = 12;        ///< the strongest beliefs, of which indices are found
  std::uint64_t seed = 1;  ///< of the shift
};

/// How much of the variance of the curd's mass one belief explains.
struct Influence {
  std::size_t belief = 0;  ///< index into Beliefs::all()
  double share = 0;        ///< squared correlation on the sample, 0 to 1
  double first_order = 0;  ///< Sobol indices, where they were asked for
  double total = 0;
};

struct Ranges {
  std::array<Range, figure_count> by_figure{};
  std::vector<Influence> influences;  ///< strongest first
  std::size_t indexed = 0;            ///< how many of them have Sobol indices
  int plans = 0;                      ///< evaluated for the ranges
  int failed = 0;                     ///< of those, plans that give no curd; they are left out of by_figure
  int index_plans = 0;                ///< evaluated for the indices
  std::uint64_t seed = 0;
  std::vector<double> curd_kg;        ///< of every sample, sorted; nothing where a plan failed

  [[nodiscard]] const Range& of(Figure f) const { return by_figure[static_cast<std::size_t>(f)]; }
  /// Share of the sample with at least this mass of curd: the chance of a target.
  [[nodiscard]] double chance_of_curd(Mass at_least) const;
};

Ranges ranges(const Job& job, const Beliefs& beliefs, const Sample& sample);

/// How much work is put into ranges: 128 plans, or 4096 and Sobol indices.
enum class Depth : std::uint8_t { off, fast, full };
template <>
inline constexpr std::array<std::string_view, 3> word_list<Depth> = {"off", "fast", "full"};
/// The sample for these beliefs: correlated ones mix all dimensions of the sequence, and take four times as many plans for fast.
Sample sample_for(const Beliefs& beliefs, Depth depth = Depth::fast);

/// One figure over the same sample, sorted; nothing where a plan gives no curd.
std::vector<double> sampled(const Job& job, const Beliefs& beliefs, Figure figure, const Sample& sample);
/// Share of sorted numbers that reach a target.
double chance_of(std::span<const double> sorted, double at_least);

/// Points of a shifted Sobol sequence as standard normals: count x dimensions, row by row.
/// \param count a power of two
std::vector<double> sobol_normals(int count, std::size_t dimensions, std::uint64_t seed);

/// First-order and total Sobol indices of a function of independent standard normals: first order after
/// Saltelli et al. 2010, total after Jansen 1999. Evaluates base x (which.size() + 2) times.
/// \param dimensions of the function \param which of them are asked for
std::vector<Influence> sobol_indices(const std::function<double(std::span<const double>)>& f, std::size_t dimensions,
                                     std::span<const std::size_t> which, int base, std::uint64_t seed);

/// Value below which a share of the sorted numbers lies, interpolated between neighbours.
double quantile(std::span<const double> sorted, double share);

}  // namespace curdwright
