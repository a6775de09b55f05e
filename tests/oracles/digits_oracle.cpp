// SPDX-License-Identifier: MIT
// Integrals, series and roots of the library against fifty digits. What is checked is how many digits agree; to see the numbers:
//     build/release/tests/test_oracles "[digits]" -s
#include <catch2/catch.hpp>
#include <numbers>

#include "curdwright/properties.hpp"
#include "curdwright/safety.hpp"
#include "curdwright/stages/chill.hpp"
#include "curdwright/stages/coagulate.hpp"
#include "curdwright/stages/cook.hpp"
#include "curdwright/stages/press.hpp"
#include "curdwright/stages/soak.hpp"
#include "curdwright/stages/starch.hpp"
#include "gdl.hpp"
#include "oracles/digits.hpp"
#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// Least number of digits seen.
struct Least {
  double digits = 17;
  void see(double found, const Digits& wanted) { digits = std::min(digits, agreement(found, wanted)); }
};

struct Cooling {
  double from, to, tau_h, length_h;
};
/// From the hottest pour to the coldest fridge, from a quick cup to a slow barrel.
constexpr Cooling coolings[] = {{95, 20, 2, 8}, {95, 2, 40, 96}, {20, 4, 3, 16}, {61, 59, 1, 5}, {100, -5, 0.2, 90}, {5, 45, 6, 24}, {30, 29.999, 1, 1}, {12, 12.5, 100, 0.2}};

Vessel vessel(const Cooling& c) { return {Digits(c.from), Digits(c.to), Digits(c.tau_h) * 3600}; }
TemperatureHistory history(const Cooling& c) { return TemperatureHistory(celsius(c.from)).relax(hours(c.length_h), celsius(c.to), hours(c.tau_h)); }
Digits length(const Cooling& c) { return Digits(c.length_h) * 3600; }

Theta chickpea() { return setup_of(R"({"legume": "chickpea-kabuli"})").beliefs.medians(); }

/// Roots of z tan z = Bi, and the temperature at the centre of a slab: as many terms as fifty digits want.
Digits slab_digits(double biot, double fourier) {
  const Digits pi = boost::math::constants::pi<Digits>(), bi(biot), fo(fourier);
  Digits sum = 0;
  for (int n = 0; n < 120; ++n) {
    const Digits z = root([&](const Digits& x) { return Digits(x * sin(x) - bi * cos(x)); }, n * pi, n * pi + pi / 2);
    const Digits term = 4 * sin(z) / (2 * z + sin(2 * z)) * exp(-z * z * fo);
    sum += term;
    if (exp(-z * z * fo) < 1e-25) break;
  }
  return sum;
}

}  // namespace

TEST_CASE("uptake in a drifting vessel agrees with fifty digits", "[digits]") {
  const Theta t = chickpea();
  const Plan p = plan_of(R"({"legume": "chickpea-kabuli"})");
  const Digits cold(t.of(Param::soak_activation_energy, 0)), hot(t.of(Param::soak_activation_energy_hot, 0)), k1(t.of(Param::soak_k1, 0)), k2(t.of(Param::soak_k2, 0));
  Least least;
  for (const Cooling& c : coolings) {
    const Vessel v = vessel(c);
    const auto speed = [&](const Digits& s) {
      const Digits at = v.at(s);
      return at <= 60 ? arrhenius_digits(at, 20, cold) : Digits(arrhenius_digits(60, 20, cold) * arrhenius_digits(at, 60, hot));
    };
    const Digits theta = integral(speed, v.breaks(length(c), {60})) / k1;
    least.see(soak(p.seed, SoakSettings{}, history(c), t, 0).gain, theta / (1 + k2 * theta));
  }
  CHECK(least.digits > 10);
}

TEST_CASE("loss of inhibitor and lipoxygenase agrees with fifty digits", "[digits]") {
  const Theta t = chickpea();
  Least inhibitor, reductions;
  for (const Cooling& c : coolings) {
    const Vessel v = vessel(c);
    const auto rate = [&](const char* reference, Param z) { return [&, r = exact(reference), zz = Digits(t[z])](const Digits& s) { return Digits(pow(Digits(10), (v.at(s) - r) / zz)); }; };
    const Digits n = integral(rate("100", Param::inhibitor_z), {0, length(c)}), a(t[Param::inhibitor_labile]);
    inhibitor.see(trypsin_inhibitor_left(history(c), t), a * pow(Digits(10), -n / Digits(t[Param::inhibitor_d_fast])) + (1 - a) * pow(Digits(10), -n / Digits(t[Param::inhibitor_d_slow])));
    reductions.see(decimal_reductions(history(c), celsius(60), t[Param::lipoxygenase_d60], t[Param::lipoxygenase_z]),
                   integral(rate("60", Param::lipoxygenase_z), {0, length(c)}) / Digits(t[Param::lipoxygenase_d60]));
  }
  CHECK(inhibitor.digits > 10);
  CHECK(reductions.digits > 8);
}

TEST_CASE("a straight rise of temperature, as of GDL in milk on the hob, agrees with fifty digits", "[digits]") {
  const Theta t = chickpea();
  Least least;
  for (double top : {60.0, 85.0, 100.0}) {
    const TemperatureHistory h = TemperatureHistory(celsius(15)).ramp(minutes(30), celsius(top)).hold(minutes(20));
    const auto rate = [&](const Digits& s) { return arrhenius_digits(15 + (Digits(top) - 15) * s / 1800, 25, Digits(t[Param::gdl_activation_energy])); };
    least.see(gdl_seconds_at_25(h, t), integral(rate, {0, 1800}) + 1200 * rate(1800));
  }
  CHECK(least.digits > 8);
}

TEST_CASE("falling of granules while the milk cools agrees with fifty digits", "[digits]") {
  const Setup s = setup_of(R"({"legume": "pea-split-yellow"})");
  const Theta t = s.beliefs.medians();
  const Stream milk = plan(s.job, t).strained.milk;
  const Digits density(t[Param::granule_density]);
  const auto speed = [&](const Digits& at) { return Digits((density - kell_digits(at)) * exact("9.80665") / (18 * viscosity_digits(at))); };
  // What protein and neighbours hold back is the same at every temperature: taken from one at rest.
  const Digits held = Digits(fall_per_square_m(milk.of, milk.granules, TemperatureHistory(celsius(20)).hold(seconds(1)), t)) / speed(20);
  Least least;
  for (const Cooling& c : {Cooling{60, 20, 2, 3}, {45, 4, 5, 72}, {20, 4, 1, 1}, {2, 20, 8, 12}}) {
    const Vessel v = vessel(c);
    least.see(fall_per_square_m(milk.of, milk.granules, history(c), t), held * integral([&](const Digits& x) { return speed(v.at(x)); }, {0, length(c)}));
  }
  CHECK(least.digits > 10);
}

TEST_CASE("growth along a vessel, with its kinks, agrees with fifty digits", "[digits]") {
  const auto fit = [](const Digits& t) {
    if (t <= exact("9.52") || t >= exact("50.2")) return Digits(0);
    return Digits(pow(exact("0.05284") * (t - exact("9.52")), 2) * (1 - exp(exact("0.0421") * (t - exact("50.2")))));
  };
  const auto cautious = [](const Digits& t) { return Digits(pow(exact("0.03275") * (t - 5), 2)); };
  const auto rate = [&](const Digits& t) {
    if (t <= 5) return Digits(0);
    return t > 30 ? fit(t) : std::max(fit(t), cautious(t));
  };
  // Where the two curves truly cross; the library breaks at 23.28 and at 30.
  const auto between_them = [&](const Digits& t) { return Digits(fit(t) - cautious(t)); };
  const std::vector<Digits> kinks = {5, root(between_them, 20, 26), root(between_them, 27, 33), 30, exact("50.2")};
  Least least;
  for (const Cooling& c : coolings) {
    const Vessel v = vessel(c);
    const Digits logs = integral([&](const Digits& s) { return rate(v.at(s)); }, v.breaks(length(c), kinks)) / 3600;
    if (logs > 1e-6) least.see(growth_log10_without_lag(history(c)), logs);
  }
  CHECK(least.digits > 6);
}

TEST_CASE("the lag, however long the growth, agrees with fifty digits", "[digits]") {
  const Digits ten = log(Digits(10)), q0 = 1 / (exp(exact("4.1")) - 1);
  Least least;
  for (double flat : {1e-6, 0.01, 0.5, 1.0, 3.0, 20.0, 200.0, 260.0, 261.0, 5000.0})
    least.see(growth_log10_after_lag(flat), (log(1 + q0 * exp(ten * Digits(flat))) - log(1 + q0)) / ten);
  CHECK(least.digits > 9);
}

TEST_CASE("granules by size agree with fifty digits of the normal distribution, narrow or wide", "[digits]") {
  Least least;
  for (double median_um : {4.0, 12.0, 22.0, 40.0, 70.0})
    for (double sd : {1.1, 1.35, 1.8, 3.0}) {
      const Granules g = log_normal_granules(kilograms(1), 1e-6 * median_um, sd, 0);
      const Digits low = log(exact("3e-6")), step = (log(exact("75e-6")) - low) / 24, centre = log(Digits(1e-6 * median_um)), width = log(Digits(sd));
      const auto below = [&](std::size_t i) { return Digits(erfc(-(low + step * static_cast<int>(i) - centre) / width / sqrt(Digits(2))) / 2); };
      for (std::size_t i = 0; i < Granules::bins; ++i) {
        const Digits from = i == 0 ? Digits(0) : below(i), to = i + 1 == Granules::bins ? Digits(1) : below(i + 1);
        // A bin that holds less than a hundred-millionth of the granules is held to that.
        least.digits = std::min(least.digits, agreement(g.kg[i] + 1e-8, to - from + exact("1e-8")));
      }
    }
  CHECK(least.digits > 8);
}

TEST_CASE("the slab and its roots agree with fifty digits", "[digits]") {
  Least centre, earliest, roots;
  for (double biot : {0.001, 0.05, 0.5, 2.0, 20.0, 1000.0})
    for (double fourier : {0.002, 0.01, 0.05, 0.3, 2.0}) {
      const Digits wanted = slab_digits(biot, fourier);
      if (wanted > 1e-9) (fourier < 0.01 ? earliest : centre).see(slab_centre(biot, fourier), wanted);
    }
  const Digits pi = boost::math::constants::pi<Digits>();
  for (double biot : {0.001, 1.0, 1000.0})
    for (int n : {0, 1, 7, 23}) roots.see(slab_root(biot, n), root([&](const Digits& x) { return Digits(x * sin(x) - Digits(biot) * cos(x)); }, n * pi, n * pi + pi / 2));
  CHECK(centre.digits > 11);
  // The earliest moment that the series is used for: what its 24 terms leave out is at most 2/z exp(-z^2 Fo) of the 25th, 1.8e-7.
  CHECK(earliest.digits > 6.7);
  CHECK(roots.digits > 12);
}

TEST_CASE("the time at which a box passes a level agrees with fifty digits", "[digits]") {
  const ThermalBlock b{centimetres(12), centimetres(10), centimetres(3.5)};
  Least least;
  for (double h : {8.0, 350.0})
    for (double level : {57.2, 5.0}) {
      const auto share = [&](const Digits& s) {
        Digits product = 1;
        for (const Length side : {b.length, b.width, b.height}) {
          const double half = 0.5 * side.si();
          product *= slab_digits(h * half / b.conductivity_w_m_k, static_cast<double>(Digits(b.diffusivity_m2_s) * s / (half * half)));
        }
        return product;
      };
      // The slope tells how far the found time may lie off: one Newton step from it.
      const auto found = box_passes(b, h, celsius(78), celsius(2), celsius(level));
      REQUIRE(found.has_value());
      const Digits at(in_seconds(*found)), wanted = (Digits(level) - 2) / 76, step = at * exact("1e-6");
      const Digits off = share(at) - wanted, slope = (share(at + step) - share(at - step)) / (2 * step);
      least.see(in_seconds(*found), at - off / slope);
    }
  CHECK(least.digits > 9);
}

TEST_CASE("the series of pressing agrees with fifty digits, its early form to what is documented", "[digits]") {
  const Digits pi = boost::math::constants::pi<Digits>();
  const auto wanted = [&](double time_factor) {
    Digits left = 0;
    for (int m = 0; m < 4000; ++m) {
      const Digits k = (2 * m + 1) * pi / 2, decay = exp(-k * k * Digits(time_factor));
      left += 2 / (k * k) * decay;
      if (decay < 1e-25) break;
    }
    return Digits(1 - left);
  };
  Least late;
  double early = 0;
  for (double tv : {0.08, 0.1, 0.3, 1.0, 3.0, 20.0}) late.see(consolidation_degree(tv), wanted(tv));
  for (double tv : {1e-4, 1e-3, 0.01, 0.05, 0.0799}) early = std::max(early, static_cast<double>(abs(Digits(consolidation_degree(tv)) - wanted(tv))));
  CHECK(late.digits > 14);
  CHECK(early < 1e-6);
}

TEST_CASE("water boils where the saturation curve says in fifty digits, from the Dead Sea to 5500 m", "[digits]") {
  Least least, air;
  for (double metres_up : {-400.0, 0.0, 590.0, 1500.0, 3000.0, 5000.0, 5500.0}) {
    const Digits p = exact("101325") * pow(1 - exact("2.25577e-5") * Digits(metres_up), exact("5.25588"));
    air.see(in_pascals(pressure_at_altitude(metres(metres_up))), p);
    least.see(boiling_temperature(pressure_at_altitude(metres(metres_up))).si(), root([&](const Digits& k) { return Digits(saturation_digits(k) - p); }, 330, 400));
  }
  CHECK(air.digits > 14);
  CHECK(least.digits > 9);  // the coefficients of the release make its two directions agree no further
}

TEST_CASE("water and milk flow and weigh what the equations say in fifty digits", "[digits]") {
  Least weighs, flows_;
  for (double t : {0.0, 4.0, 20.0, 55.5, 100.0}) {
    weighs.see(in_kilograms_per_cubic_metre(water_density(celsius(t))), kell_digits(Digits(t)));
    flows_.see(water_viscosity_pa_s(celsius(t)), viscosity_digits(Digits(t)));
  }
  CHECK(weighs.digits > 14);
  CHECK(flows_.digits > 13);
}

TEST_CASE("what the searches find meets its target to ten digits, from 10 g to a tonne", "[digits]") {
  Least curd, protein;
  for (const std::string& id : Catalogue::shipped().legume_ids()) {
    Setup s = setup_of("{\"legume\": \"" + id + "\"}");
    const Theta t = s.beliefs.medians();
    for (double kg : {0.01, 1.0, 1000.0}) {
      Job j = s.job;
      j.dry = must(dry_for_curd(s.job, t, kilograms(kg)));
      curd.see(plan(j, t).pressed.curd.of.total_kg(), Digits(kg));
    }
    // The thickest milk that still runs off may be thinner than is liked; then nothing was searched for.
    const double liked = s.legumes[0].milk_protein.value / 100, got = value(plan(s.job, t), Figure::milk_protein);
    if (s.water_chosen && got > 0.999 * liked) protein.see(got, Digits(liked));
  }
  CHECK(curd.digits > 9.9);
  CHECK(protein.digits > 9.9);
}
