// SPDX-License-Identifier: MIT
/// \file quantity.hpp
/// Physical amounts that cannot be mistaken for one another.
///
///     Mass beans = grams(450);
///     Duration soak = hours(16);
///     double kg = in_kilograms(beans);           // 0.45
///     Temperature t = celsius(80) + kelvins(5);  // a temperature plus a rise
///
/// Every amount holds its SI value. A number enters by a maker that names the unit and leaves by a
/// reader that names the unit, so that each call says what it means. A temperature and a rise of
/// temperature are two types.
#pragma once

#include <compare>

namespace curdwright {

/// An amount of one kind, held in SI units.
template <class Kind>
class Quantity {
 public:
  constexpr Quantity() = default;
  /// For makers and readers only: the value in the SI unit of the kind.
  static constexpr Quantity from_si(double value) { return Quantity(value); }
  [[nodiscard]] constexpr double si() const { return si_; }

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator+(Quantity o) const { return Quantity(si_ + o.si_); }
  constexpr Quantity operator-(Quantity o) const { return Quantity(si_ - o.si_); }
  constexpr Quantity operator-() const { return Quantity(-si_); }
  constexpr Quantity operator*(double k) const { return Quantity(si_ * k); }
  constexpr Quantity operator/(double k) const { return Quantity(si_ / k); }
  constexpr double operator/(Quantity o) const { return si_ / o.si_; }
  constexpr Quantity& operator+=(Quantity o) { si_ += o.si_; return *this; }
  constexpr Quantity& operator-=(Quantity o) { si_ -= o.si_; return *this; }
  constexpr Quantity& operator*=(double k) { si_ *= k; return *this; }
  friend constexpr Quantity operator*(double k, Quantity q) { return q * k; }

 private:
  explicit constexpr Quantity(double si) : si_(si) {}
  double si_ = 0.0;
};

using Mass = Quantity<struct MassKind>;                      ///< kg
using Volume = Quantity<struct VolumeKind>;                  ///< m3
using Length = Quantity<struct LengthKind>;                  ///< m
using Area = Quantity<struct AreaKind>;                      ///< m2
using Duration = Quantity<struct DurationKind>;              ///< s
using Pressure = Quantity<struct PressureKind>;              ///< Pa
using Power = Quantity<struct PowerKind>;                    ///< W
using TemperatureRise = Quantity<struct TemperatureRiseKind>;///< K, a difference
using Concentration = Quantity<struct ConcentrationKind>;    ///< mol/m3, the same number as mmol/l
using Density = Quantity<struct DensityKind>;                ///< kg/m3
using Dose = Quantity<struct DoseKind>;                      ///< mol per kg, the same number as mmol/g

/// A point on the temperature scale, held in kelvin.
class Temperature {
 public:
  constexpr Temperature() = default;
  static constexpr Temperature from_si(double kelvin) { return Temperature(kelvin); }
  [[nodiscard]] constexpr double si() const { return kelvin_; }
  constexpr auto operator<=>(const Temperature&) const = default;
  constexpr TemperatureRise operator-(Temperature o) const { return TemperatureRise::from_si(kelvin_ - o.kelvin_); }
  constexpr Temperature operator+(TemperatureRise r) const { return Temperature(kelvin_ + r.si()); }
  constexpr Temperature operator-(TemperatureRise r) const { return Temperature(kelvin_ - r.si()); }

 private:
  explicit constexpr Temperature(double kelvin) : kelvin_(kelvin) {}
  double kelvin_ = 273.15;
};

constexpr Mass kilograms(double v) { return Mass::from_si(v); }
constexpr Mass grams(double v) { return Mass::from_si(v * 1e-3); }
constexpr double in_kilograms(Mass m) { return m.si(); }
constexpr double in_grams(Mass m) { return m.si() * 1e3; }

constexpr Volume litres(double v) { return Volume::from_si(v * 1e-3); }
constexpr Volume millilitres(double v) { return Volume::from_si(v * 1e-6); }
constexpr double in_litres(Volume v) { return v.si() * 1e3; }
constexpr double in_millilitres(Volume v) { return v.si() * 1e6; }

constexpr Length metres(double v) { return Length::from_si(v); }
constexpr Length centimetres(double v) { return Length::from_si(v * 1e-2); }
constexpr Length millimetres(double v) { return Length::from_si(v * 1e-3); }
constexpr double in_metres(Length l) { return l.si(); }
constexpr double in_centimetres(Length l) { return l.si() * 1e2; }
constexpr double in_millimetres(Length l) { return l.si() * 1e3; }

constexpr Area square_metres(double v) { return Area::from_si(v); }
constexpr Area square_centimetres(double v) { return Area::from_si(v * 1e-4); }
constexpr double in_square_metres(Area a) { return a.si(); }

constexpr Duration seconds(double v) { return Duration::from_si(v); }
constexpr Duration minutes(double v) { return Duration::from_si(v * 60.0); }
constexpr Duration hours(double v) { return Duration::from_si(v * 3600.0); }
constexpr double in_seconds(Duration d) { return d.si(); }
constexpr double in_minutes(Duration d) { return d.si() / 60.0; }
constexpr double in_hours(Duration d) { return d.si() / 3600.0; }

constexpr Pressure pascals(double v) { return Pressure::from_si(v); }
constexpr Pressure kilopascals(double v) { return Pressure::from_si(v * 1e3); }
constexpr double in_pascals(Pressure p) { return p.si(); }
constexpr double in_kilopascals(Pressure p) { return p.si() * 1e-3; }

constexpr Power watts(double v) { return Power::from_si(v); }
constexpr Power kilowatts(double v) { return Power::from_si(v * 1e3); }
constexpr double in_watts(Power p) { return p.si(); }

constexpr Temperature celsius(double v) { return Temperature::from_si(v + 273.15); }
constexpr Temperature kelvin(double v) { return Temperature::from_si(v); }
constexpr double in_celsius(Temperature t) { return t.si() - 273.15; }
constexpr double in_kelvin(Temperature t) { return t.si(); }
constexpr TemperatureRise kelvins(double v) { return TemperatureRise::from_si(v); }
constexpr double in_kelvins(TemperatureRise r) { return r.si(); }

constexpr Concentration millimolar(double v) { return Concentration::from_si(v); }
constexpr double in_millimolar(Concentration c) { return c.si(); }
constexpr Density kilograms_per_cubic_metre(double v) { return Density::from_si(v); }
constexpr double in_kilograms_per_cubic_metre(Density d) { return d.si(); }
constexpr Dose millimoles_per_gram(double v) { return Dose::from_si(v); }
constexpr double in_millimoles_per_gram(Dose d) { return d.si(); }

constexpr Volume operator*(Area a, Length l) { return Volume::from_si(a.si() * l.si()); }
constexpr Length operator/(Volume v, Area a) { return Length::from_si(v.si() / a.si()); }
constexpr Volume operator/(Mass m, Density d) { return Volume::from_si(m.si() / d.si()); }
constexpr Mass operator*(Volume v, Density d) { return Mass::from_si(v.si() * d.si()); }

}  // namespace curdwright
