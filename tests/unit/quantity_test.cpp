// SPDX-License-Identifier: MIT
#include "curdwright/quantity.hpp"

#include <catch2/catch.hpp>
#include <type_traits>

using namespace curdwright;

namespace {

template <class A, class B>
concept Adds = requires(A a, B b) { a + b; };
template <class A, class B>
concept Subtracts = requires(A a, B b) { a - b; };
template <class A, class B>
concept Multiplies = requires(A a, B b) { a * b; };
template <class A, class B>
concept Divides = requires(A a, B b) { a / b; };
template <class A, class B>
concept Compares = requires(A a, B b) { a < b; };
template <class A, class B>
concept Assigns = requires(A a, B b) { a = b; };

}  // namespace

TEST_CASE("a bare number does not become an amount") {
  STATIC_REQUIRE(!std::is_constructible_v<Mass, double>);
  STATIC_REQUIRE(!std::is_convertible_v<double, Mass>);
  STATIC_REQUIRE(!std::is_convertible_v<Mass, double>);
  STATIC_REQUIRE(!std::is_constructible_v<Temperature, double>);
  STATIC_REQUIRE(!std::is_convertible_v<Temperature, double>);
  STATIC_REQUIRE(!Assigns<Mass&, double>);
  STATIC_REQUIRE(!Adds<Mass, double>);
}

TEST_CASE("amounts of different kinds do not mix") {
  STATIC_REQUIRE(!Adds<Mass, Volume>);
  STATIC_REQUIRE(!Subtracts<Mass, Volume>);
  STATIC_REQUIRE(!Compares<Mass, Volume>);
  STATIC_REQUIRE(!Divides<Mass, Volume>);
  STATIC_REQUIRE(!Assigns<Mass&, Volume>);
  STATIC_REQUIRE(!Adds<Duration, Length>);
  STATIC_REQUIRE(!Adds<Concentration, Density>);
  STATIC_REQUIRE(!Multiplies<Mass, Mass>);
}

TEST_CASE("two temperatures cannot be added, and a rise is not a temperature") {
  STATIC_REQUIRE(!Adds<Temperature, Temperature>);
  STATIC_REQUIRE(!Multiplies<Temperature, double>);
  STATIC_REQUIRE(!Compares<Temperature, TemperatureRise>);
  STATIC_REQUIRE(!Assigns<Temperature&, TemperatureRise>);
  STATIC_REQUIRE(std::is_same_v<decltype(celsius(80) - celsius(20)), TemperatureRise>);
  STATIC_REQUIRE(std::is_same_v<decltype(celsius(80) + kelvins(5)), Temperature>);
  CHECK(in_celsius(celsius(80) + kelvins(5)) == Approx(85));
  CHECK(in_celsius(celsius(80) - kelvins(5)) == Approx(75));
  CHECK(in_kelvins(celsius(80) - celsius(100)) == Approx(-20));
}

TEST_CASE("amounts of one kind add, scale and compare") {
  CHECK(in_grams(grams(450) + kilograms(1) - grams(50)) == Approx(1400));
  CHECK(in_grams(-grams(450)) == Approx(-450));
  CHECK(in_minutes(2.0 * minutes(20)) == Approx(40));
  CHECK(in_minutes(minutes(20) / 4.0) == Approx(5));
  CHECK(hours(2) / minutes(30) == Approx(4));
  CHECK(grams(999) < kilograms(1));
  CHECK(celsius(20) < kelvin(300));
  Mass m = grams(100);
  m += grams(50);
  m -= grams(30);
  m *= 2.0;
  CHECK(in_grams(m) == Approx(240));
}

TEST_CASE("makers and readers agree with the SI value") {
  CHECK(grams(450).si() == Approx(0.45));
  CHECK(litres(2).si() == Approx(2e-3));
  CHECK(millilitres(2).si() == Approx(2e-6));
  CHECK(centimetres(12).si() == Approx(0.12));
  CHECK(millimetres(12).si() == Approx(0.012));
  CHECK(square_centimetres(400).si() == Approx(0.04));
  CHECK(minutes(15).si() == Approx(900));
  CHECK(hours(1.5).si() == Approx(5400));
  CHECK(kilopascals(4).si() == Approx(4000));
  CHECK(kilowatts(1.8).si() == Approx(1800));
  CHECK(celsius(0).si() == Approx(273.15));
  CHECK(Temperature().si() == Approx(273.15));
  CHECK(in_litres(litres(3)) == Approx(3));
  CHECK(in_millilitres(litres(3)) == Approx(3000));
  CHECK(in_centimetres(metres(1)) == Approx(100));
  CHECK(in_millimetres(metres(1)) == Approx(1000));
  CHECK(in_kilopascals(pascals(1500)) == Approx(1.5));
  CHECK(in_hours(seconds(1800)) == Approx(0.5));
  CHECK(in_kelvin(celsius(100)) == Approx(373.15));
}

TEST_CASE("geometry and density give the kind that they should") {
  STATIC_REQUIRE(std::is_same_v<decltype(square_metres(1) * metres(1)), Volume>);
  STATIC_REQUIRE(std::is_same_v<decltype(litres(1) / square_metres(1)), Length>);
  STATIC_REQUIRE(std::is_same_v<decltype(kilograms(1) / kilograms_per_cubic_metre(1)), Volume>);
  CHECK(in_litres(square_centimetres(400) * centimetres(10)) == Approx(4));
  CHECK(in_centimetres(litres(4) / square_centimetres(400)) == Approx(10));
  CHECK(in_litres(kilograms(2) / kilograms_per_cubic_metre(1000)) == Approx(2));
  CHECK(in_kilograms(litres(2) * kilograms_per_cubic_metre(1030)) == Approx(2.06));
}
