// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "curdwright/units.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

using enum QuantityKind;

Problem refusal(std::string_view text, QuantityKind kind) {
  const auto r = parse_quantity(text, kind);
  if (r) FAIL("\"" << text << "\" was read as " << *r);
  REQUIRE(r.error().size() == 1);
  return r.error()[0];
}

}  // namespace

TEST_CASE("a number without its unit is refused, and the message says what to write") {
  CHECK(refusal("450", mass) == Problem{"unit-missing", {}, "\"450\" has no unit", "a mass needs its unit", "write for example \"450 g\""});
  CHECK(refusal("1 lb 4", mass).code == "unit-missing");
  CHECK(refusal("80", temperature).fix == "write for example \"80 degC\"");
}

TEST_CASE("a unit of another kind is refused by naming both kinds") {
  CHECK(refusal("80 kg", temperature) ==
        Problem{"unit-wrong-kind", {}, "\"kg\" measures mass, not temperature", "", "write a temperature, for example \"80 degC\""});
  CHECK(refusal("2 l", mass).what == "\"l\" measures volume, not mass");
  CHECK(refusal("40 min", length).code == "unit-wrong-kind");
}

TEST_CASE("an unknown unit is refused with the list of known ones") {
  CHECK(refusal("3 stone", mass) == Problem{"unit-unknown", {}, "\"stone\" is not a unit known here", "", "for a mass use one of: g, kg, mg, t, lb, oz"});
  CHECK(refusal("1h30min", duration).code == "unit-unknown");
  CHECK(refusal("0x10 g", mass).code == "unit-unknown");
}

TEST_CASE("a slip in a long unit word is answered with the nearest, in a short one with the list") {
  CHECK(refusal("450 gramms", mass) ==
        Problem{"unit-unknown", {}, "\"gramms\" is not a unit known here", "for a mass use one of: g, kg, mg, t, lb, oz", "did you mean \"grams\"?"});
  CHECK(refusal("2 minuts", duration).fix == "did you mean \"minute\"?");
  CHECK(refusal("20 celcius", temperature).fix == "did you mean \"celsius\"?");
  CHECK(refusal("2 hrz", duration).why.empty());
}

TEST_CASE("a minus stands in front of a whole sum or nowhere") {
  for (const char* text : {"1 lb -4 oz", "-1 lb -4 oz", "1 lb -0 oz", "1 kg 2 lb -1/2 oz"}) {
    INFO(text);
    CHECK(refusal(text, mass) == Problem{"quantity-unreadable", {}, std::string("\"") + text + "\" is not a mass", "a minus may stand only in front of the whole sum",
                                         "reckon the difference and write that, for example \"450 g\""});
  }
  CHECK(refusal("1 h -30 min", duration).fix == "reckon the difference and write that, for example \"40 min\"");
  CHECK(must(parse_quantity("-1 h 30 min", duration)) == Approx(-5400));
  CHECK(must(parse_quantity("-0 h 30 min", duration)) == Approx(-1800));
  CHECK(must(parse_quantity("-18 degC", temperature)) == Approx(255.15));
}

TEST_CASE("a decimal comma is refused, and the message says so") {
  for (const char* text : {"1,5 kg", "1.234,5 g", "1,000 g", ",5 kg"}) {
    INFO(text);
    const Problem p = refusal(text, mass);
    CHECK(p.why == "numbers use a decimal point, not a comma");
  }
  CHECK(parse_number("2,5").error()[0].why == "numbers use a decimal point, not a comma");
}

TEST_CASE("what is not a finite number is refused") {
  for (const char* text : {"", "   ", "g", "nan g", "NaN g", "inf g", "-inf g", "-nan g", "infinity kg", "1e999 g", "-1e999 g", "1e-999 g", "1/0 g", "½ kg",
                           "some beans", "--5 g", "$5", "+5 g", "/2 g"}) {
    INFO(text);
    CHECK(refusal(text, mass).code == "quantity-unreadable");
  }
  for (const char* text : {"", "nan", "inf", "1e999", "1/0", "5 g", "0x10", "1 2", "one"}) {
    INFO(text);
    const auto r = parse_number(text);
    REQUIRE_FALSE(r.has_value());
    CHECK(r.error()[0].code == "number-unreadable");
  }
}

TEST_CASE("a sum that overflows is refused") { CHECK(refusal("1.7e308 t", mass).code == "quantity-unreadable"); }

TEST_CASE("texts up to the limit are read and longer ones refused with the limit") {
  const std::string fits = "450" + std::string(max_quantity_text - 4, ' ') + "g";
  REQUIRE(fits.size() == max_quantity_text);
  CHECK(must(parse_quantity(fits, mass)) == Approx(0.45));
  const Problem p = refusal(fits + " ", mass);
  CHECK(p.code == "quantity-unreadable");
  CHECK(p.what == "a text of 65 bytes is not a mass");
  CHECK(p.why == "at most 64 bytes are read");
}

TEST_CASE("the message quotes the whole text that was not understood") {
  CHECK(refusal("handful", mass) == Problem{"quantity-unreadable", {}, "\"handful\" is not a mass", "", "write a number and a unit, for example \"450 g\""});
}

TEST_CASE("amounts are written in the unit a cook would use") {
  CHECK(write_quantity(0.45, mass) == "450 g");
  CHECK(write_quantity(1.25, mass) == "1.25 kg");
  CHECK(write_quantity(2e-3, volume) == "2 l");
  CHECK(write_quantity(250e-6, volume) == "250 ml");
  CHECK(write_quantity(353.15, temperature) == "80 degC");
  CHECK(write_quantity(30, duration) == "30 s");
  CHECK(write_quantity(0, duration) == "0 min");
  CHECK(write_quantity(2400, duration) == "40 min");
  CHECK(write_quantity(16 * 3600.0, duration) == "16 h");
  CHECK(write_quantity(0.12, length) == "12 cm");
  CHECK(write_quantity(900, length) == "900 m");
  CHECK(write_quantity(0.04, area) == "400 cm2");
  CHECK(write_quantity(4000, pressure) == "4 kPa");
  CHECK(write_quantity(1800, power) == "1800 W");
  CHECK(write_quantity(0.8, fraction) == "80 %");
  CHECK(write_quantity(20, concentration) == "20 mmol/l");
  CHECK(write_quantity(2300, concentration) == "2.3 mol/l");
  CHECK(write_quantity(55.88, mass_concentration) == "55.88 g/l");
  CHECK(write_quantity(0.73, dose) == "0.73 mmol/g");
}

TEST_CASE("what is written is read back to six digits") {
  const double values[] = {1e-3, 0.0123456789, 0.5, 1, 37.7777777, 123.456789, 1e4};
  for (QuantityKind kind : {mass, volume, temperature, duration, length, area, pressure, power, fraction, concentration, mass_concentration, dose})
    for (double v : values) {
      const double si = kind == pressure ? 1e3 * v : v;
      const std::string text = write_quantity(si, kind);
      INFO(text);
      // A temperature has its six digits on the Celsius scale, hence the margin.
      CHECK(must(parse_quantity(text, kind)) == Approx(si).epsilon(5.1e-6).margin(kind == temperature ? 5e-3 : 0));
    }
}

TEST_CASE("amounts within the limits of recipes and kitchens are written without an exponent") {
  const struct {
    QuantityKind kind;
    std::vector<double> si;
  } rows[] = {{mass, {1e-5, 0.012345, 12345.0, 50000.0, 1e5}},
              {volume, {1e-4, 0.5, 5.0}},
              {duration, {1, 345600, 30 * 365 * 86400.0}},
              {length, {0.005, 12.5, 5500}},
              {area, {5e-4, 0.045, 50}},
              {pressure, {100, 4086, 1e6}},
              {power, {50, 12345, 5e5}},
              {concentration, {10, 2e4}}};
  for (const auto& row : rows)
    for (double v : row.si) {
      const std::string text = write_quantity(v, row.kind);
      INFO(text);
      CHECK(text.find("e+") == std::string::npos);
      CHECK(text.find("e-") == std::string::npos);
    }
}
