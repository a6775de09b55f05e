// SPDX-License-Identifier: MIT
// UDUNITS-2 as a second opinion on every unit. The number is passed apart from the unit's name, since UDUNITS reads
// "180 degF" as a difference; its names are in a fixed map, since it takes "oz" for a volume.
#include <fmt/format.h>
#include <udunits2.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <memory>
#include <string>

#include "curdwright/units.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

using enum QuantityKind;

struct Row {
  const char* ours;
  QuantityKind kind;
  const char* udunits;
};
constexpr std::array rows = {
    Row{"g", mass, "gram"}, Row{"kg", mass, "kilogram"}, Row{"mg", mass, "milligram"}, Row{"t", mass, "tonne"}, Row{"lb", mass, "avoirdupois_pound"},
    Row{"oz", mass, "avoirdupois_ounce"}, Row{"l", volume, "liter"}, Row{"ml", volume, "milliliter"}, Row{"cl", volume, "centiliter"},
    Row{"dl", volume, "deciliter"}, Row{"m3", volume, "meter^3"}, Row{"us fl oz", volume, "US_fluid_ounce"}, Row{"imp fl oz", volume, "UK_fluid_ounce"},
    Row{"us cup", volume, "US_liquid_cup"}, Row{"metric cup", volume, "0.25 liter"}, Row{"us pt", volume, "US_liquid_pint"},
    Row{"imp pt", volume, "UK_liquid_pint"}, Row{"us qt", volume, "US_liquid_quart"}, Row{"imp qt", volume, "UK_liquid_quart"},
    Row{"us gal", volume, "US_liquid_gallon"}, Row{"imp gal", volume, "UK_liquid_gallon"}, Row{"us tbsp", volume, "tablespoon"},
    Row{"metric tbsp", volume, "15 milliliter"}, Row{"us tsp", volume, "teaspoon"}, Row{"metric tsp", volume, "5 milliliter"},
    Row{"degC", temperature, "degC"}, Row{"degF", temperature, "degF"}, Row{"K", temperature, "kelvin"}, Row{"s", duration, "second"},
    Row{"min", duration, "minute"}, Row{"h", duration, "hour"}, Row{"d", duration, "day"}, Row{"m", length, "meter"}, Row{"cm", length, "centimeter"},
    Row{"mm", length, "millimeter"}, Row{"in", length, "inch"}, Row{"ft", length, "foot"}, Row{"km", length, "kilometer"}, Row{"m2", area, "meter^2"},
    Row{"cm2", area, "centimeter^2"}, Row{"in2", area, "inch^2"}, Row{"Pa", pressure, "pascal"}, Row{"kPa", pressure, "kilopascal"},
    Row{"bar", pressure, "bar"}, Row{"mbar", pressure, "millibar"}, Row{"psi", pressure, "psi"}, Row{"g/cm2", pressure, "gram_force/centimeter^2"},
    Row{"W", power, "watt"}, Row{"kW", power, "kilowatt"}, Row{"BTU/h", power, "IT_Btu/hour"}, Row{"%", fraction, "percent"},
    Row{"mol/l", concentration, "mole/liter"}, Row{"mmol/l", concentration, "millimole/liter"}, Row{"g/l", mass_concentration, "gram/liter"},
    Row{"mg/l", mass_concentration, "milligram/liter"}, Row{"mg/100 ml", mass_concentration, "milligram/deciliter"},
    Row{"g/100 ml", mass_concentration, "gram/deciliter"}, Row{"mmol/g", dose, "millimole/gram"},
};

const char* si_unit(QuantityKind kind) {
  switch (kind) {
    case mass: return "kilogram";
    case volume: return "meter^3";
    case temperature: return "kelvin";
    case duration: return "second";
    case length: return "meter";
    case area: return "meter^2";
    case pressure: return "pascal";
    case power: return "watt";
    case fraction: return "1";
    case concentration: return "mole/meter^3";
    case mass_concentration: return "kilogram/meter^3";
    case dose: return "mole/kilogram";
  }
  return "";
}

struct Free {
  void operator()(ut_system* s) const { ut_free_system(s); }
  void operator()(ut_unit* u) const { ut_free(u); }
  void operator()(cv_converter* c) const { cv_free(c); }
};

class Udunits {
 public:
  Udunits() {
    ut_set_error_message_handler(ut_ignore);
    system_.reset(ut_read_xml(nullptr));
    REQUIRE(system_ != nullptr);
  }
  [[nodiscard]] double to_si(double number, const char* unit, QuantityKind kind) const {
    const std::unique_ptr<ut_unit, Free> from(ut_parse(system_.get(), unit, UT_UTF8)), to(ut_parse(system_.get(), si_unit(kind), UT_UTF8));
    REQUIRE((from != nullptr && to != nullptr));
    const std::unique_ptr<cv_converter, Free> converter(ut_get_converter(from.get(), to.get()));
    REQUIRE(converter != nullptr);
    return cv_convert_double(converter.get(), number);
  }

 private:
  std::unique_ptr<ut_system, Free> system_;
};

}  // namespace

TEST_CASE("every unit agrees with UDUNITS-2 to a millionth") {
  const Udunits udunits;
  for (const Row& r : rows)
    for (double number : {0.0, 1.0, 12.5, 180.0, 4321.0}) {
      INFO(number << " " << r.ours);
      const double wanted = udunits.to_si(number, r.udunits, r.kind);
      CHECK(must(parse_quantity(fmt::format("{} {}", number, r.ours), r.kind)) == Approx(wanted).epsilon(1e-6).margin(1e-15));
    }
}

TEST_CASE("every unit that is offered is checked against UDUNITS-2") {
  int offered = 0;
  for (QuantityKind kind : {mass, volume, temperature, duration, length, area, pressure, power, fraction, concentration, mass_concentration, dose})
    for (std::string_view unit : units_of(kind)) {
      INFO(unit);
      ++offered;
      CHECK(std::any_of(rows.begin(), rows.end(), [&](const Row& r) { return r.kind == kind && unit == r.ours; }));
    }
  CHECK(offered > 50);
}
