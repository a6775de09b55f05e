// SPDX-License-Identifier: MIT
#include "curdwright/composition.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace curdwright;

namespace {

Composition counting() {
  Composition c;
  double next = 1;
  for (Component k : all_components) c[k] = next++;
  return c;
}

}  // namespace

TEST_CASE("components are told apart and add one by one") {
  const Composition c = counting();
  CHECK(c.total_kg() == Approx(36));
  CHECK(c.solids_kg() == Approx(35));
  CHECK(in_kilograms(c.mass()) == Approx(36));
  const Composition sum = c + c * 2.0, rest = sum - c;
  for (Component k : all_components) {
    CHECK(sum[k] == Approx(3 * c[k]));
    CHECK(rest[k] == Approx(2 * c[k]));
  }
}

TEST_CASE("a fraction is on the whole, and an empty stream has none") {
  CHECK(counting().fraction(Component::salts) == Approx(8.0 / 36));
  CHECK(Composition{}.fraction(Component::water) == 0.0);
}

TEST_CASE("plain water is water only") {
  const Stream s = water_stream(grams(250), celsius(15));
  CHECK(s.of[Component::water] == Approx(0.25));
  CHECK(s.of.solids_kg() == Approx(0).margin(1e-15));
  CHECK(in_celsius(s.at) == Approx(15));
  CHECK(s.granules.total_kg() == 0.0);
}

TEST_CASE("the bins of the granules span 3 to 75 micrometres in equal steps of the logarithm") {
  CHECK(Granules::edge_m(0) == Approx(3e-6));
  CHECK(Granules::edge_m(Granules::bins) == Approx(75e-6));
  const double step = std::pow(25.0, 1.0 / 24.0);
  for (std::size_t i = 0; i < Granules::bins; ++i) {
    CHECK(Granules::edge_m(i + 1) / Granules::edge_m(i) == Approx(step));
    CHECK(Granules::diameter_m(i) == Approx(std::sqrt(Granules::edge_m(i) * Granules::edge_m(i + 1))));
  }
}

TEST_CASE("granules hold all the starch that they are made from") {
  for (double median : {1e-6, 3e-6, 22e-6, 75e-6, 200e-6}) {
    const Granules g = log_normal_granules(kilograms(0.4), median, 1.35, 0.12);
    INFO(median);
    CHECK(g.total_kg() == Approx(0.4).epsilon(1e-12));
    CHECK(g.never_settles_kg == Approx(0.048));
    for (double kg : g.kg) CHECK(kg >= 0);
  }
}

TEST_CASE("half of the granules that settle are below the median, and two deviations hold 95 percent") {
  const double median = Granules::edge_m(15);
  const double sd = std::exp(std::log(Granules::edge_m(19) / median) / 2.0);  // so that two deviations end on edges
  const Granules g = log_normal_granules(kilograms(1), median, sd, 0.0);
  double below = 0, within = 0;
  for (std::size_t i = 0; i < Granules::bins; ++i) {
    if (i < 15) below += g.kg[i];
    if (i >= 11 && i < 19) within += g.kg[i];
  }
  CHECK(below == Approx(0.5).epsilon(1e-9));
  CHECK(within == Approx(0.954499736).epsilon(1e-8));  // normal distribution within two deviations, tables
}

TEST_CASE("granules add and scale bin by bin") {
  const Granules a = log_normal_granules(kilograms(0.3), 22e-6, 1.35, 0.1);
  const Granules b = log_normal_granules(kilograms(0.2), 18e-6, 1.4, 0.2);
  Granules sum = a;
  sum += b;
  CHECK(sum.total_kg() == Approx(0.5));
  CHECK(sum.never_settles_kg == Approx(0.03 + 0.04));
  CHECK(sum.kg[14] == Approx(a.kg[14] + b.kg[14]));
  sum -= b;
  CHECK(sum.kg[14] == Approx(a.kg[14]));
  CHECK((a * 2.0).settleable_kg() == Approx(0.54));
}

TEST_CASE("streams carry minerals and granules along") {
  Stream a = water_stream(kilograms(1), celsius(20));
  a.minerals = {1e-3, 2e-3, 3e-3};
  a.granules = log_normal_granules(grams(100), 22e-6, 1.35, 0.1);
  const Stream b = a * 3.0 + a, half = b - a * 2.0;
  CHECK(in_kilograms(b.mass()) == Approx(4));
  CHECK(b.minerals.magnesium_kg == Approx(8e-3));
  CHECK(b.granules.total_kg() == Approx(0.4));
  CHECK(half.minerals.sodium_kg == Approx(6e-3));
  CHECK(half.minerals.calcium_kg == Approx(2e-3));
  CHECK(half.granules.total_kg() == Approx(0.2));
  CHECK(in_celsius(half.at) == Approx(20));
}

TEST_CASE("the bins hold what the error function says, wide or narrow, inside the grid or beside it") {
  const auto below = [](double edge_m, double median_m, double sd) { return 0.5 * std::erfc(-std::log(edge_m / median_m) / std::log(sd) / std::sqrt(2.0)); };
  for (double sd = 1.02; sd < 4; sd *= 1.013)
    for (double median : {0.5e-6, 3e-6, 9e-6, 22e-6, 22.31e-6, 60e-6, 75e-6, 400e-6}) {
      const Granules g = log_normal_granules(kilograms(1), median, sd, 0);
      double worst = 0;
      for (std::size_t i = 0; i < Granules::bins; ++i) {
        const double from = i == 0 ? 0.0 : below(Granules::edge_m(i), median, sd);
        const double to = i + 1 == Granules::bins ? 1.0 : below(Granules::edge_m(i + 1), median, sd);
        worst = std::max(worst, std::abs(g.kg[i] - (to - from)));
      }
      INFO(sd << " about " << median);
      CHECK(worst < 1e-13);
    }
}
