// SPDX-License-Identifier: MIT
// GNU Scientific Library behind two functions: adaptive quadrature and a bracketed root.
#pragma once

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>

#include <catch2/catch.hpp>
#include <functional>
#include <memory>

namespace curdwright::test {

inline double call(double x, void* f) { return (*static_cast<const std::function<double(double)>*>(f))(x); }

/// QAGS over [low, high].
inline double qags(std::function<double(double)> f, double low, double high) {
  struct Free {
    void operator()(gsl_integration_workspace* w) const { gsl_integration_workspace_free(w); }
  };
  const std::unique_ptr<gsl_integration_workspace, Free> space(gsl_integration_workspace_alloc(2000));
  gsl_function g{&call, &f};
  double result = 0, error = 0;
  gsl_set_error_handler_off();
  const int status = gsl_integration_qags(&g, low, high, 0, 1e-11, 2000, space.get(), &result, &error);
  // Rounding may stop it just short of 1e-11; what it reached is judged by its own estimate.
  REQUIRE((status == GSL_SUCCESS || error <= 1e-9 * std::abs(result)));
  return result;
}

/// Brent's method on [low, high], where f changes sign.
inline double brent(std::function<double(double)> f, double low, double high) {
  struct Free {
    void operator()(gsl_root_fsolver* s) const { gsl_root_fsolver_free(s); }
  };
  const std::unique_ptr<gsl_root_fsolver, Free> solver(gsl_root_fsolver_alloc(gsl_root_fsolver_brent));
  gsl_function g{&call, &f};
  gsl_set_error_handler_off();
  REQUIRE(gsl_root_fsolver_set(solver.get(), &g, low, high) == GSL_SUCCESS);
  for (int i = 0; i < 200; ++i) {
    REQUIRE(gsl_root_fsolver_iterate(solver.get()) == GSL_SUCCESS);
    if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver.get()), gsl_root_fsolver_x_upper(solver.get()), 0, 1e-13) == GSL_SUCCESS) break;
  }
  return gsl_root_fsolver_root(solver.get());
}

}  // namespace curdwright::test
