// SPDX-License-Identifier: MIT
/// \file composition.hpp
/// What flows through a batch: kilograms of eight components, and what rides along with them.
///
///     Stream milk = ground;
///     double protein_kg = milk.of[Component::protein];
///     milk -= pulp;                       // streams add and subtract, component by component
///     double w = milk.of.fraction(Component::water);
#pragma once

#include <array>
#include <cstddef>

#include "curdwright/quantity.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

/// The eight components that every balance closes over. `salts` is what is added to set the curd:
/// salts without their crystal water, and acids. Minerals of the seed are `ash`.
enum class Component : std::size_t { water, protein, starch, sugars, fat, fibre, ash, salts };
inline constexpr std::size_t component_count = 8;

template <>
inline constexpr std::array<std::string_view, component_count> word_list<Component> = {"water", "protein", "starch", "sugars", "fat", "fibre", "ash", "salts"};

inline constexpr std::array<Component, component_count> all_components = all_values<Component>();

/// Kilograms of each component. Zero by default; never negative in a Stream.
struct Composition {
  std::array<double, component_count> kg{};

  constexpr double& operator[](Component c) { return kg[static_cast<std::size_t>(c)]; }
  constexpr double operator[](Component c) const { return kg[static_cast<std::size_t>(c)]; }

  constexpr Composition& operator+=(const Composition& o) {
    for (std::size_t i = 0; i < component_count; ++i) kg[i] += o.kg[i];
    return *this;
  }
  constexpr Composition& operator-=(const Composition& o) {
    for (std::size_t i = 0; i < component_count; ++i) kg[i] -= o.kg[i];
    return *this;
  }
  constexpr Composition& operator*=(double k) {
    for (double& x : kg) x *= k;
    return *this;
  }
  friend constexpr Composition operator+(Composition a, const Composition& b) { return a += b; }
  friend constexpr Composition operator-(Composition a, const Composition& b) { return a -= b; }
  friend constexpr Composition operator*(Composition a, double k) { return a *= k; }

  /// Total mass, kg.
  [[nodiscard]] constexpr double total_kg() const {
    double sum = 0;
    for (double x : kg) sum += x;
    return sum;
  }
  [[nodiscard]] constexpr Mass mass() const { return kilograms(total_kg()); }
  /// Everything but water, kg.
  [[nodiscard]] constexpr double solids_kg() const { return total_kg() - (*this)[Component::water]; }
  /// Mass fraction of a component on the whole (wet basis), 0 for an empty stream.
  [[nodiscard]] constexpr double fraction(Component c) const {
    const double m = total_kg();
    return m > 0 ? (*this)[c] / m : 0.0;
  }
  bool operator==(const Composition&) const = default;
};

/// Free starch granules by size, kg in each bin of a common grid of diameters, and the share that
/// never settles (fines, damaged granules, granules bound to protein or cell wall). A common grid
/// lets the granules of several legumes add, and lets milk settle twice.
struct Granules {
  static constexpr std::size_t bins = 24;
  std::array<double, bins> kg{};
  double never_settles_kg = 0;

  /// Diameter that stands for bin i, m: 24 bins from 3 to 75 micrometres, equal in the logarithm.
  static double diameter_m(std::size_t i);
  /// Lower edge of bin i (i = bins gives the upper end), m.
  static double edge_m(std::size_t i);

  [[nodiscard]] double settleable_kg() const;
  [[nodiscard]] double total_kg() const { return settleable_kg() + never_settles_kg; }
  constexpr Granules& operator+=(const Granules& o) {
    for (std::size_t i = 0; i < bins; ++i) kg[i] += o.kg[i];
    never_settles_kg += o.never_settles_kg;
    return *this;
  }
  constexpr Granules& operator-=(const Granules& o) {
    for (std::size_t i = 0; i < bins; ++i) kg[i] -= o.kg[i];
    never_settles_kg -= o.never_settles_kg;
    return *this;
  }
  constexpr Granules& operator*=(double k) {
    for (double& x : kg) x *= k;
    never_settles_kg *= k;
    return *this;
  }
  friend Granules operator*(Granules g, double k) { return g *= k; }
  bool operator==(const Granules&) const = default;
};

/// Granules of one legume: `mass` of starch spread log-normally by volume about a median diameter.
/// \param median_m volume median diameter, m \param geometric_sd geometric standard deviation, above 1
/// \param never share of the mass that never settles, 0 to 1
Granules log_normal_granules(Mass mass, double median_m, double geometric_sd, double never);

/// Minerals that a label asks for, kg. They are part of ash and salts, carried beside them.
struct Minerals {
  double calcium_kg = 0;
  double magnesium_kg = 0;
  double sodium_kg = 0;

  constexpr Minerals& operator+=(const Minerals& o) {
    calcium_kg += o.calcium_kg;
    magnesium_kg += o.magnesium_kg;
    sodium_kg += o.sodium_kg;
    return *this;
  }
  constexpr Minerals& operator-=(const Minerals& o) { return *this += o * -1.0; }
  friend constexpr Minerals operator*(Minerals m, double k) {
    return {m.calcium_kg * k, m.magnesium_kg * k, m.sodium_kg * k};
  }
  bool operator==(const Minerals&) const = default;
};

/// One flow between stages. `granules` holds the starch that is free to settle, once there is any.
struct Stream {
  Composition of;
  Minerals minerals;
  Granules granules;
  Temperature at;

  [[nodiscard]] Mass mass() const { return of.mass(); }
  constexpr Stream& operator+=(const Stream& o) {
    of += o.of;
    minerals += o.minerals;
    granules += o.granules;
    return *this;
  }
  constexpr Stream& operator-=(const Stream& o) {
    of -= o.of;
    minerals -= o.minerals;
    granules -= o.granules;
    return *this;
  }
  constexpr Stream& operator*=(double k) {
    of *= k;
    minerals = minerals * k;
    granules *= k;
    return *this;
  }
  friend Stream operator+(Stream a, const Stream& b) { return a += b; }
  friend Stream operator-(Stream a, const Stream& b) { return a -= b; }
  friend Stream operator*(Stream a, double k) { return a *= k; }
};

/// A stream of plain water.
constexpr Stream water_stream(Mass mass, Temperature at) {
  Stream s;
  s.of[Component::water] = in_kilograms(mass);
  s.at = at;
  return s;
}

}  // namespace curdwright
