// SPDX-License-Identifier: MIT
// Fifty decimal digits, for the published equations written down again: water, vessels, growth, slabs and pressing.
#pragma once

#include <algorithm>
#include <boost/math/constants/constants.hpp>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <boost/multiprecision/cpp_dec_float.hpp>
#include <functional>
#include <vector>

namespace curdwright::test {

using Digits = boost::multiprecision::cpp_dec_float_50;

/// Exactly the decimal number that is written.
inline Digits exact(const char* decimal) { return Digits(decimal); }

/// Decimal digits to which a number agrees; 17 when all of a double's do.
inline double agreement(double found, const Digits& wanted) {
  const Digits error = wanted == 0 ? Digits(abs(Digits(found))) : Digits(abs((Digits(found) - wanted) / wanted));
  return error < 1e-17 ? 17.0 : static_cast<double>(-log10(error));
}

/// Integral of f between breaks, to 30 digits: double exponential quadrature, which knows no panels.
inline Digits integral(const std::function<Digits(const Digits&)>& f, std::vector<Digits> breaks) {
  std::sort(breaks.begin(), breaks.end());
  static boost::math::quadrature::tanh_sinh<Digits> rule(9);  // halvings of the step: more would mean a kink that no break stands at
  Digits sum = 0;
  for (std::size_t i = 0; i + 1 < breaks.size(); ++i)
    if (breaks[i + 1] > breaks[i]) sum += rule.integrate(f, breaks[i], breaks[i + 1], exact("1e-25"));
  return sum;
}

/// Root of f in [low, high], where it changes sign, by halving: fifty bits more than a double has.
inline Digits root(const std::function<Digits(const Digits&)>& f, Digits low, Digits high) {
  const bool rises = f(high) > 0;
  for (int i = 0; i < 100; ++i) {
    const Digits middle = (low + high) / 2;
    ((f(middle) > 0) == rises ? high : low) = middle;
  }
  return (low + high) / 2;
}

/// A vessel that relaxes from `from` toward `to`, in degC, and when it passes a level.
struct Vessel {
  Digits from, to, tau;
  [[nodiscard]] Digits at(const Digits& s) const { return to + (from - to) * exp(-s / tau); }
  [[nodiscard]] std::vector<Digits> breaks(const Digits& length, const std::vector<Digits>& levels) const {
    std::vector<Digits> all = {0, length};
    for (const Digits& level : levels) {
      const Digits share = (level - to) / (from - to);
      if (share > 0 && share < 1 && -tau * log(share) < length) all.push_back(-tau * log(share));
    }
    return all;
  }
};

inline const Digits kelvin_of_ice = exact("273.15"), gas = exact("8.314463e-3");  // kJ/(mol K), as docs/model.md rounds it

/// exp(-E/R (1/T - 1/Tr)), temperatures in degC.
inline Digits arrhenius_digits(const Digits& t, const Digits& reference, const Digits& energy) { return exp(-energy / gas * (1 / (t + kelvin_of_ice) - 1 / (reference + kelvin_of_ice))); }

/// Kell 1975, kg/m3.
inline Digits kell_digits(const Digits& t) {
  const Digits top = exact("999.83952") + exact("16.945176") * t - exact("7.9870401e-3") * t * t - exact("46.170461e-6") * pow(t, 3) + exact("105.56302e-9") * pow(t, 4) - exact("280.54253e-12") * pow(t, 5);
  return top / (1 + exact("16.879850e-3") * t);
}

/// IAPWS 2008, short form, Pa s.
inline Digits viscosity_digits(const Digits& t) {
  const Digits r = (t + kelvin_of_ice) / 300;
  return exact("1e-6") * (exact("280.68") * pow(r, exact("-1.9")) + exact("511.45") * pow(r, exact("-7.7")) + exact("61.131") * pow(r, exact("-19.6")) + exact("0.45903") * pow(r, -40));
}

/// IAPWS-IF97, region 4, saturation pressure in Pa at a temperature in kelvin.
inline Digits saturation_digits(const Digits& kelvin) {
  const Digits n1("0.11670521452767e4"), n2("-0.72421316703206e6"), n3("-0.17073846940092e2"), n4("0.12020824702470e5"), n5("-0.32325550322333e7"), n6("0.14915108613530e2"), n7("-0.48232657361591e4"),
      n8("0.40511340542057e6"), n9("-0.23855557567849"), n10("0.65017534844798e3");
  const Digits v = kelvin + n9 / (kelvin - n10), a = v * v + n1 * v + n2, b = n3 * v * v + n4 * v + n5, c = n6 * v * v + n7 * v + n8;
  return exact("1e6") * pow(2 * c / (-b + sqrt(b * b - 4 * a * c)), 4);
}

}  // namespace curdwright::test
