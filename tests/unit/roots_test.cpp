// SPDX-License-Identifier: MIT
#include "roots.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using curdwright::Root;
using curdwright::secant_root;

TEST_CASE("a straight line is solved at once, from either side") {
  int calls = 0;
  const auto line = [&](double x) { return ++calls, 2 * x - 3; };
  for (double x0 : {0.5, 2.5}) {
    calls = 0;
    const Root r = secant_root(line, 0, 10, x0, 2 * x0 - 3, 1.4, 1e-12);
    CHECK(r.found);
    CHECK(r.at == Approx(1.5).epsilon(1e-14));
    CHECK(calls <= 3);
  }
}

TEST_CASE("a curve, a falling one, and a step are solved within the bracket") {
  CHECK(secant_root([](double x) { return x * x - 2; }, 0, 10, 1, -1, 1.3, 1e-13).at == Approx(std::sqrt(2.0)).epsilon(1e-14));
  CHECK(secant_root([](double x) { return 1 / x - 0.25; }, 1, 10, 1, 0.75, 2, 1e-13).at == Approx(4).epsilon(1e-14));
  CHECK(secant_root([](double x) { return x < 3 ? -1.0 : 2.0; }, 0, 10, 0, -1, 1, 1e-12).at == Approx(3).epsilon(1e-11));
}

TEST_CASE("a root that is close enough is not sought further") {
  int calls = 0;
  const Root r = secant_root([&](double x) { return ++calls, x * x - 2; }, 0, 10, 1, -1, 1.4142, 0.0, 1e-3);
  CHECK(r.found);
  CHECK(r.at == 1.4142);
  CHECK(calls == 1);
}
