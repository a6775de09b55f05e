// SPDX-License-Identifier: MIT
#include "curdwright/units.hpp"

#include <catch2/catch.hpp>
#include <algorithm>
#include <array>
#include <string>

#include <fmt/format.h>

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

using enum QuantityKind;
constexpr std::array all_kinds = {mass, volume, temperature, duration, length, area, pressure, power, fraction, concentration, mass_concentration, dose};

/// Two points on each unit's scale. Factors: NIST SP 811 (2008), appendix B, all exact by definition but the BTU,
/// which is the International Table one; imperial ones: UK Units of Measurement Regulations 1995.
struct Anchor {
  const char* unit;
  QuantityKind kind;
  double first, first_si, second, second_si;
};
constexpr Anchor anchors[] = {
    {"g", mass, 1, 1e-3, 450, 0.45},
    {"kg", mass, 1, 1, 2.5, 2.5},
    {"mg", mass, 1, 1e-6, 1e6, 1},
    {"t", mass, 1, 1000, 0.25, 250},
    {"lb", mass, 1, 0.45359237, 100, 45.359237},
    {"oz", mass, 1, 0.028349523125, 16, 0.45359237},
    {"l", volume, 1, 1e-3, 1000, 1},
    {"ml", volume, 1, 1e-6, 750, 0.75e-3},
    {"cl", volume, 1, 1e-5, 70, 0.7e-3},
    {"dl", volume, 1, 1e-4, 5, 0.5e-3},
    {"m3", volume, 1, 1, 0.001, 1e-3},
    {"us fl oz", volume, 1, 29.5735295625e-6, 128, 3.785411784e-3},
    {"imp fl oz", volume, 1, 28.4130625e-6, 160, 4.54609e-3},
    {"us cup", volume, 1, 236.5882365e-6, 16, 3.785411784e-3},
    {"metric cup", volume, 1, 250e-6, 4, 1e-3},
    {"us pt", volume, 1, 473.176473e-6, 8, 3.785411784e-3},
    {"imp pt", volume, 1, 568.26125e-6, 8, 4.54609e-3},
    {"us qt", volume, 1, 946.352946e-6, 4, 3.785411784e-3},
    {"imp qt", volume, 1, 1136.5225e-6, 4, 4.54609e-3},
    {"us gal", volume, 1, 3.785411784e-3, 5, 18.92705892e-3},
    {"imp gal", volume, 1, 4.54609e-3, 5, 22.73045e-3},
    {"us tbsp", volume, 1, 14.78676478125e-6, 16, 236.5882365e-6},
    {"metric tbsp", volume, 1, 15e-6, 2, 30e-6},
    {"us tsp", volume, 1, 4.92892159375e-6, 48, 236.5882365e-6},
    {"metric tsp", volume, 1, 5e-6, 3, 15e-6},
    {"degC", temperature, 0, 273.15, 100, 373.15},
    {"degF", temperature, 32, 273.15, 212, 373.15},
    {"K", temperature, 0, 0, 273.15, 273.15},
    {"s", duration, 1, 1, 90, 90},
    {"min", duration, 1, 60, 40, 2400},
    {"h", duration, 1, 3600, 24, 86400},
    {"d", duration, 1, 86400, 7, 604800},
    {"m", length, 1, 1, 900, 900},
    {"cm", length, 1, 1e-2, 12, 0.12},
    {"mm", length, 1, 1e-3, 25.4, 0.0254},
    {"in", length, 1, 0.0254, 12, 0.3048},
    {"ft", length, 1, 0.3048, 3, 0.9144},
    {"km", length, 1, 1000, 1.609344, 1609.344},
    {"m2", area, 1, 1, 0.04, 0.04},
    {"cm2", area, 1, 1e-4, 400, 0.04},
    {"in2", area, 1, 6.4516e-4, 144, 0.09290304},
    {"Pa", pressure, 1, 1, 101325, 101325},
    {"kPa", pressure, 1, 1e3, 101.325, 101325},
    {"bar", pressure, 1, 1e5, 1.01325, 101325},
    {"mbar", pressure, 1, 1e2, 1013.25, 101325},
    {"psi", pressure, 1, 6894.757293168362, 14.695948775513, 101325},
    {"g/cm2", pressure, 1, 98.0665, 1000, 98066.5},
    {"W", power, 1, 1, 1800, 1800},
    {"kW", power, 1, 1e3, 1.8, 1800},
    {"BTU/h", power, 1, 0.29307107017222, 3412.1416331279, 1000},
    {"%", fraction, 1, 0.01, 80, 0.8},
    {"mol/l", concentration, 1, 1e3, 2.3, 2300},
    {"mmol/l", concentration, 1, 1, 20, 20},
    {"g/l", mass_concentration, 1, 1, 55.88, 55.88},
    {"mg/l", mass_concentration, 1, 1e-3, 1000, 1},
    {"mg/100 ml", mass_concentration, 1, 0.01, 5588, 55.88},
    {"g/100 ml", mass_concentration, 1, 10, 5.588, 55.88},
    {"mmol/g", dose, 1, 1, 0.73, 0.73},
};

/// Other spellings of the same units.
constexpr struct {
  const char* spelling;
  const char* same_as;
  QuantityKind kind;
} synonyms[] = {
    {"gram", "g", mass}, {"grams", "g", mass}, {"kilo", "kg", mass}, {"kilos", "kg", mass}, {"kilogram", "kg", mass},
    {"kilograms", "kg", mass}, {"tonne", "t", mass}, {"tonnes", "t", mass}, {"lbs", "lb", mass}, {"pound", "lb", mass}, {"pounds", "lb", mass},
    {"ounce", "oz", mass}, {"ounces", "oz", mass}, {"oz wt", "oz", mass}, {"litre", "l", volume}, {"litres", "l", volume},
    {"liter", "l", volume}, {"liters", "l", volume}, {"us pint", "us pt", volume}, {"imp pint", "imp pt", volume},
    {"us quart", "us qt", volume}, {"imp quart", "imp qt", volume}, {"us gallon", "us gal", volume}, {"imp gallon", "imp gal", volume},
    {"°C", "degC", temperature}, {"C", "degC", temperature}, {"celsius", "degC", temperature}, {"°F", "degF", temperature},
    {"F", "degF", temperature}, {"fahrenheit", "degF", temperature}, {"sec", "s", duration}, {"second", "s", duration},
    {"seconds", "s", duration}, {"m", "min", duration}, {"minute", "min", duration}, {"minutes", "min", duration}, {"mins", "min", duration},
    {"hr", "h", duration}, {"hrs", "h", duration}, {"hour", "h", duration}, {"hours", "h", duration}, {"day", "d", duration},
    {"days", "d", duration}, {"inch", "in", length}, {"inches", "in", length}, {"feet", "ft", length}, {"metre", "m", length},
    {"metres", "m", length}, {"meter", "m", length}, {"meters", "m", length}, {"cm²", "cm2", area}, {"m²", "m2", area},
    {"percent", "%", fraction}, {"M", "mol/l", concentration}, {"mM", "mmol/l", concentration}, {"mg/100ml", "mg/100 ml", mass_concentration},
    {"g/100ml", "g/100 ml", mass_concentration}, {"mg/ml", "g/l", mass_concentration}, {"% w/v", "g/100 ml", mass_concentration},
    {"KG", "kg", mass}, {"Kg", "kg", mass}, {"L", "l", volume}, {"mL", "ml", volume}, {"DEGC", "degC", temperature}, {"Min", "min", duration},
    {"US Cup", "us cup", volume}, {"kpa", "kPa", pressure}, {"w", "W", power},
};

double si(const std::string& text, QuantityKind kind) { return must(parse_quantity(text, kind)); }

Problem refusal(const std::string& text, QuantityKind kind) {
  const auto r = parse_quantity(text, kind);
  if (r) FAIL("\"" << text << "\" was read as " << *r);
  REQUIRE(r.error().size() == 1);
  return r.error()[0];
}

}  // namespace

TEST_CASE("an amount is written without an exponent, however small, and reads back") {
  CHECK(write_quantity(0.03, QuantityKind::pressure) == "0.00003 kPa");
  CHECK(write_quantity(1.23456e-9, QuantityKind::mass) == "0.00000123456 g");
  CHECK(write_quantity(-0.03, QuantityKind::pressure) == "-0.00003 kPa");
  CHECK(write_quantity(0, QuantityKind::pressure) == "0 kPa");
  CHECK(write_quantity(1e-30, QuantityKind::pressure) == "0 kPa");
  CHECK(write_quantity(12345678, QuantityKind::mass) == "12345678 kg");
  CHECK(*parse_quantity("0.00003 kPa", QuantityKind::pressure) == Approx(0.03));
}

TEST_CASE("every unit meets two points of its scale") {
  for (const Anchor& a : anchors) {
    INFO(a.unit);
    CHECK(si(fmt::format("{} {}", a.first, a.unit), a.kind) == Approx(a.first_si).epsilon(1e-12).margin(1e-15));
    CHECK(si(fmt::format("{}{}", a.second, a.unit), a.kind) == Approx(a.second_si).epsilon(1e-12).margin(1e-15));
  }
}

TEST_CASE("every unit that is offered has anchor points here, and every kind offers its example's unit") {
  for (QuantityKind kind : all_kinds) {
    INFO(name_of(kind));
    for (std::string_view unit : units_of(kind)) {
      INFO(unit);
      CHECK(std::any_of(std::begin(anchors), std::end(anchors), [&](const Anchor& a) { return a.kind == kind && unit == a.unit; }));
    }
    CHECK(parse_quantity(example_of(kind), kind).has_value());
  }
}

TEST_CASE("every unit with anchor points is offered in the list of units") {
  for (const Anchor& a : anchors) {
    INFO(a.unit);
    const auto offered = units_of(a.kind);
    CHECK(std::find(offered.begin(), offered.end(), a.unit) != offered.end());
  }
}

TEST_CASE("other spellings and letter cases mean the same unit") {
  for (const auto& s : synonyms) {
    INFO(s.spelling);
    CHECK(si(fmt::format("7 {}", s.spelling), s.kind) == Approx(si(fmt::format("7 {}", s.same_as), s.kind)).epsilon(1e-14));
  }
}

TEST_CASE("the field decides what m and oz mean") {
  CHECK(si("5 m", duration) == Approx(300));
  CHECK(si("5 m", length) == Approx(5));
  CHECK(si("4 oz", mass) == Approx(0.1133980925));
  CHECK(refusal("4 oz", volume).code == "unit-ambiguous");
}

TEST_CASE("masses and times may be written as sums") {
  CHECK(si("1 lb 4 oz", mass) == Approx(1.25 * 0.45359237).epsilon(1e-14));
  CHECK(si("2 kg 300 g", mass) == Approx(2.3));
  CHECK(si("1 h 30 min", duration) == Approx(5400));
  CHECK(si("1h 30min 15s", duration) == Approx(5415));
  CHECK(refusal("1 m 20 cm", length).code == "quantity-unreadable");
  CHECK(refusal("80 degC 5 degC", temperature).code == "quantity-unreadable");
}

TEST_CASE("fractions are read whole") {
  CHECK(si("1/2 kg", mass) == Approx(0.5));
  CHECK(si("1 1/2 kg", mass) == Approx(1.5));
  CHECK(si("2 3/4 us cup", volume) == Approx(2.75 * 236.5882365e-6));
  CHECK(si("1 1/2 lb 4 oz", mass) == Approx(1.75 * 0.45359237));
  CHECK(si("1 lb 4 1/2 oz", mass) == Approx((16 + 4.5) * 0.028349523125));
  CHECK(refusal("1/0 kg", mass).code == "quantity-unreadable");
  CHECK_FALSE(parse_quantity("1 2 kg", mass).has_value());
  CHECK_FALSE(parse_quantity("1/2/3 kg", mass).has_value());
}

TEST_CASE("a negative mixed fraction is below zero by all of it") {
  CHECK(si("-1 1/2 degC", temperature) == Approx(273.15 - 1.5).epsilon(1e-12));
  CHECK(*parse_number("-2 1/4") == Approx(-2.25));
}

TEST_CASE("numbers are read in every plain form") {
  CHECK(si(".5 kg", mass) == Approx(0.5));
  CHECK(si("5. kg", mass) == Approx(5));
  CHECK(si("1e3 g", mass) == Approx(1));
  CHECK(si("  450   g ", mass) == Approx(0.45));
  CHECK(si("-5 degC", temperature) == Approx(268.15));
  CHECK(si("-40 degF", temperature) == Approx(si("-40 degC", temperature)));
  CHECK(*parse_number(" 2.5 ") == Approx(2.5));
  CHECK(*parse_number("1 1/2") == Approx(1.5));
}

TEST_CASE("a share may be a percentage or a bare number") {
  CHECK(si("80 %", fraction) == Approx(0.8));
  CHECK(si("0.8", fraction) == Approx(0.8));
  CHECK(si("4/5", fraction) == Approx(0.8));
}

TEST_CASE("a unit word with two meanings is refused with both spellings") {
  const struct {
    const char* text;
    const char* first;
    const char* second;
  } rows[] = {{"1 cup", "us cup", "metric cup"},  {"2 cups", "us cup", "metric cup"}, {"5 qt", "us qt", "imp qt"},
              {"1 quart", "us qt", "imp qt"},     {"3 oz", "us fl oz", "imp fl oz"},  {"3 fl oz", "us fl oz", "imp fl oz"},
              {"3 ounces", "us fl oz", "imp fl oz"}, {"1 pint", "us pint", "imp pint"}, {"1 PT", "us pint", "imp pint"},
              {"2 gal", "us gal", "imp gal"},     {"2 gallons", "us gal", "imp gal"}, {"1 tbsp", "us tbsp", "metric tbsp"},
              {"1 tsp", "us tsp", "metric tsp"}};
  for (const auto& row : rows) {
    INFO(row.text);
    const Problem p = refusal(row.text, volume);
    CHECK(p.code == "unit-ambiguous");
    CHECK(p.fix == fmt::format("write \"{}\" or \"{}\"", row.first, row.second));
    CHECK(parse_quantity(fmt::format("1 {}", row.first), volume).has_value());
    CHECK(parse_quantity(fmt::format("1 {}", row.second), volume).has_value());
  }
}

TEST_CASE("what is offered for an ambiguous mass can be written as offered") {
  const Problem p = refusal("2 tons", mass);
  CHECK(p.code == "unit-ambiguous");
  const auto opens = p.fix.find('"');
  const std::string first = p.fix.substr(opens + 1, p.fix.find('"', opens + 1) - opens - 1);
  INFO(p.fix);
  CHECK(parse_quantity("2 " + first, mass).has_value());
}
