// SPDX-License-Identifier: MIT
/// \file parameters.hpp
/// Every number that is not known exactly, as a belief: a median, a spread, a source and a scope.
///
///     Beliefs beliefs = setup.beliefs;                // of resolve()
///     Theta medians = beliefs.medians();
///     double k1 = medians.of(Param::soak_k1, 0);      // of the first legume, seconds
///     Theta other = beliefs.at(z);                    // z: one standard normal per belief
///
/// A belief is Gaussian on its link scale: the logarithm for positive numbers, the logit for fractions.
/// The spread is the standard deviation there. Evidence states a median and the range that holds the
/// middle 80 % of belief; the spread follows:  spread = (link(high) - link(low)) / (2 * 1.28155).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/words.hpp"

namespace curdwright {

/// Every uncertain number. Those of a legume come first: a mix holds one of each for every legume.
enum class Param : std::uint16_t {
  // composition of the seed as bought, mass fractions; minerals in mg per 100 g
  seed_water, seed_protein, seed_fat, seed_ash, seed_fibre, seed_sugars, seed_starch, seed_calcium, seed_magnesium,
  // soak
  soak_k1, soak_k2, soak_activation_energy, soak_activation_energy_hot, solids_lost, clinging_water, hull,
  // release by grinding
  release_protein, release_fat,
  // starch
  granule_median, granule_spread, never_settles, gel_onset, gel_end,
  // curd
  coagulable, dose,
  legume_end,
  // of the equipment and the coagulant named in the recipe or kitchen
  blender_protein = legume_end, blender_starch, held_liquor, hob_efficiency, chill_coefficient, coagulant_strength,
  acid_dose,
  // of the model
  unassigned_fibre_pulse, unassigned_fibre_oily, release_sugars, release_ash, release_fibre, release_calcium,
  release_magnesium, spill, hull_removed, protein_voluminosity, granule_density, granule_water, hindered_exponent,
  bed_fraction, heel, gel_removed, gel_holds, vessel_coefficient, pot_loss, gentle_heating, evaporated_per_10_min,
  film, inhibitor_d_fast, inhibitor_d_slow, inhibitor_labile, inhibitor_z, lipoxygenase_d60, lipoxygenase_z, gdl_rate,
  gdl_activation_energy, fat_captured, calcium_retained, magnesium_retained, drained_moisture, press_intercept,
  press_slope, consolidation, creep_share, creep_delay, curd_cling, drip,
  solids_per_brix,
  end
};

inline constexpr std::size_t legume_param_count = static_cast<std::size_t>(Param::legume_end);
inline constexpr std::size_t param_count = static_cast<std::size_t>(Param::end);
inline constexpr std::size_t shared_param_count = param_count - legume_param_count;
/// A recipe mixes at most this many legumes.
inline constexpr std::size_t max_legumes = 4;
inline constexpr std::size_t max_extras = 8;

enum class Link { log, logit };
enum class Scope { legume, equipment, model };
/// How a figure is known, from best to worst.
enum class Known { standard, seen, fitted, derived, memory, common_practice, judgement, guess };
template <>
inline constexpr std::array<std::string_view, 8> word_list<Known> = {"standard", "seen", "fitted", "derived", "memory", "common-practice", "judgement", "guess"};

double to_link(Link link, double value);
double from_link(Link link, double position);

/// One row of the parameter table.
struct ParamInfo {
  Param param;
  std::string_view key;    ///< place in its record: "soak.k1"; in the model file: "film"
  std::string_view unit;   ///< as written in the records
  Link link;
  Scope scope;
  std::string_view plain;  ///< what a cook would call it
  double to_si = 1.0;      ///< record unit to the unit of the code (percent of mass to fraction)
};
const ParamInfo& info(Param p);
std::span<const ParamInfo> all_params();

/// A figure with its evidence, as a record states it.
struct Evidence {
  double value = 0;
  double low = 0;   ///< 10 % of belief lies below
  double high = 0;  ///< 10 % of belief lies above
  std::string unit;
  Known known = Known::guess;
  std::string source;         ///< id of a citation
  std::string note;
  std::string borrowed_from;  ///< id of the record it was borrowed from; empty when its own

  /// Standard deviation on the link scale.
  [[nodiscard]] double spread(Link link) const;
  /// The same figure in another unit.
  [[nodiscard]] Evidence scaled(double factor) const;
  /// The same median with the spread multiplied on the link scale.
  [[nodiscard]] Evidence widened(Link link, double factor) const;
};

/// What is believed of one number.
struct Belief {
  Param param = Param::end;
  std::uint8_t legume = 0;  ///< which legume of the mix; 0 for the others
  double median = 0;        ///< in the unit of the code
  double spread = 0;        ///< standard deviation on the link scale
  Link link = Link::log;
  Scope scope = Scope::model;
  Known known = Known::guess;
  std::string source;
};

/// Plain numbers, one for each parameter, and for each legume of the mix where the scope says so.
class Theta {
 public:
  [[nodiscard]] double operator[](Param p) const { return shared_[static_cast<std::size_t>(p) - legume_param_count]; }
  [[nodiscard]] double of(Param p, std::size_t legume) const { return legume_[legume][static_cast<std::size_t>(p)]; }
  void set(Param p, std::size_t legume, double value);

 private:
  std::array<std::array<double, legume_param_count>, max_legumes> legume_{};
  std::array<double, shared_param_count> shared_{};
};

/// All beliefs that one batch depends on: independent of each other as the records state them, correlated once
/// something was measured. On the link scale:  x = link(median) + F z,  z standard normal, F F' the covariance.
class Beliefs {
 public:
  void add(Belief belief);
  [[nodiscard]] std::span<const Belief> all() const { return all_; }
  [[nodiscard]] std::size_t size() const { return all_.size(); }
  [[nodiscard]] Theta medians() const { return medians_; }
  /// \param z one standard normal per belief, in the order of all(); missing ones count as 0
  [[nodiscard]] Theta at(std::span<const double> z) const;
  /// One belief, so far from its median on the link scale, put into numbers.
  void put(Theta& theta, std::size_t belief, double off) const;
  /// The beliefs in units of their spreads, away from their medians, at a point z.
  [[nodiscard]] std::vector<double> deviations(std::span<const double> z) const;

  /// F row by row, size() x size(); empty while the beliefs are independent, when it is the diagonal of the spreads.
  [[nodiscard]] std::span<const double> factor() const { return factor_; }
  /// Moves the medians by so much on the link scale and replaces the covariance.
  void move(std::span<const double> by, std::vector<double> factor);
  /// Puts another median and spread in the place of one, as long as all are independent.
  void replace(std::size_t belief, double median, double spread);

 private:
  std::vector<Belief> all_;
  std::vector<double> middle_;  ///< medians on the link scale
  std::vector<double> factor_;
  Theta medians_;
};

/// The belief that a piece of evidence supports, in the unit of the code.
Belief belief_from(Param p, std::size_t legume, const Evidence& e);

}  // namespace curdwright
