// SPDX-License-Identifier: MIT
// Formulas of accounts, evaluated from their text alone by muParser, integrals by Boost's Gauss-Kronrod rule. Nothing here
// knows the model.
#pragma once

#include <muParser.h>

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <cstdio>
#include <deque>
#include <map>
#include <memory>
#include <string>

#include "curdwright/account.hpp"

namespace curdwright::test {

/// Numbers by name; their places do not move, since parsers point to them.
class Names {
 public:
  double& operator[](const std::string& name) { return at_.try_emplace(name, 0.0).first->second; }
  [[nodiscard]] std::map<std::string, double>& all() { return at_; }

 private:
  std::map<std::string, double> at_;
};

/// One text, ready to be evaluated again and again.
class Formula {
 public:
  Formula(const std::string& text, Names& names) {
    parser_.DefineFun("clamp", [](double x, double low, double high) { return std::min(std::max(x, low), high); });
    parser_.DefineFun("floor", [](double x) { return std::floor(x); });
    parser_.DefineFun("normal_cdf", [](double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); });
    for (const TextPiece& p : pieces_of(text))
      if (p.is_name) parser_.DefineVar(std::string(p.text), &names.all().at(std::string(p.text)));
    parser_.SetExpr(text);
  }
  double operator()() { return parser_.Eval(); }

 private:
  mu::Parser parser_;
};

/// A term's text with its lines of `where`.
class TermFormula {
 public:
  TermFormula(const Term& t, Names& names) {
    for (const NamedText& w : t.where) {
      formulas_.push_back(std::make_unique<Formula>(w.text, names));
      targets_.push_back(&names[w.name]);
    }
    formulas_.push_back(std::make_unique<Formula>(t.formula, names));
  }
  double operator()() {
    for (std::size_t i = 0; i < targets_.size(); ++i) *targets_[i] = (*formulas_[i])();
    return (*formulas_.back())();
  }

 private:
  std::deque<std::unique_ptr<Formula>> formulas_;
  std::deque<double*> targets_;
};

inline Names names_of(const Account& a, const Term& t) {
  Names names;
  for (const std::string& key : t.of) names[key] = a.find(key)->value;
  for (const char* free : {"T", "t"}) names[free] = 0;
  if (!t.unknown.empty()) names[t.unknown] = t.value;
  return names;
}

inline double integral_of(const Account& a, const Term& t) {
  Names names = names_of(a, t);
  TermFormula integrand(t, names);
  double sum = 0;
  for (const PieceText& p : t.pieces) {
    Formula length(p.length, names), temperature(p.temperature, names);
    const auto rate = [&](double at) {
      names["t"] = at;
      names["T"] = temperature();
      return integrand();
    };
    sum += boost::math::quadrature::gauss_kronrod<double, 31>::integrate(rate, 0.0, length(), 15, 1e-10);
  }
  return sum;
}

/// What a term's text gives.
inline double evaluated(const Account& a, const Term& t) {
  if (t.kind == TermKind::integral) return integral_of(a, t);
  Names names = names_of(a, t);
  return TermFormula(t, names)();
}

/// Largest number of the same kind that goes into a term: differences of such cannot be truer than they are.
inline double put_in(const Account& a, const Term& t) {
  double most = 0;
  for (const std::string& key : t.of) {
    const Term& child = *a.find(key);
    if (child.unit == t.unit) most = std::max(most, std::abs(child.value));
    if (child.unit == "kg" && t.unit == "g") most = std::max(most, 1e3 * std::abs(child.value));
  }
  return most;
}

/// In words what is wrong with a term's text; empty when it gives the value. \param batch_kg whose rounding is nothing,
/// as that of numbers about 1 is for a ratio
inline std::string misfit(const Account& a, const Term& t, double batch_kg) {
  if (t.kind == TermKind::root) {
    const auto off = [&](double x) {
      Names names = names_of(a, t);
      names[t.unknown] = x;
      return TermFormula(t, names)();
    };
    const double step = 1e-9 * std::abs(t.value);
    if (off(t.value - step) * off(t.value + step) <= 0) return "";
    return t.key + " is no root of " + t.formula;
  }
  if (t.formula.empty()) return "";
  const double told = evaluated(a, t), close = t.kind == TermKind::integral ? 1e-8 : 1e-9;
  const double nothing = 1e-13 * batch_kg * (t.unit == "kg" ? 1 : t.unit == "g" ? 1e3 : 0) + (t.unit == "1" ? 1e-15 : 0);
  if (std::abs(told - t.value) <= close * std::abs(t.value) + 1e-13 * put_in(a, t) + nothing) return "";
  char numbers[80];
  std::snprintf(numbers, sizeof numbers, " is %.12g, its text gives %.12g: ", t.value, told);
  return t.key + numbers + t.formula;
}

}  // namespace curdwright::test
