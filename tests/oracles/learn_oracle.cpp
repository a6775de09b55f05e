// SPDX-License-Identifier: MIT
// The fit of `learn` against the trust-region solver of the GNU Scientific Library: the same objective, written down again
// here with slopes by GSL's own differences, from another starting point.
#include <gsl/gsl_blas.h>
#include <gsl/gsl_deriv.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>

#include "oracles/gsl.hpp"
#include "support/kitchens.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// A batch in the eyes of this test: figures as a function of the offsets, and the root of the inverse of its errors.
struct Seen {
  const BatchSeen* batch = nullptr;
  std::vector<double> lift;            ///< half the curvature by the batch's own scatter
  std::vector<std::vector<double>> root;  ///< Cholesky factor of R, lower
};

struct Problem_ {
  std::vector<std::string> names;
  std::vector<Seen> seen;
};

std::vector<double> point(const Setup& s, const std::vector<std::string>& names, const std::vector<double>& u) {
  std::vector<double> z;
  for (const Belief& b : s.beliefs.all()) {
    double x = 0;
    for (const Loading& l : loadings(s, b)) {
      const auto i = std::find(names.begin(), names.end(), l.name);
      if (i != names.end()) x += std::sqrt(l.share) * u[static_cast<std::size_t>(i - names.begin())];
    }
    z.push_back(x);
  }
  return z;
}

double figure(const BatchSeen& b, const std::vector<double>& z, std::size_t i) { return std::log(value(plan(b.setup.job, b.setup.beliefs.at(z)), b.seen[i].what)); }

/// R and the lift at the offsets that `learn` found, with its weights.
Seen errors_of(const BatchSeen& b, const BatchLesson& lesson, const std::vector<std::string>& names, const std::vector<double>& u) {
  const std::vector<double> at = point(b.setup, names, u);
  const std::size_t m = b.seen.size(), n = at.size();
  Seen s{&b, std::vector<double>(m), std::vector<std::vector<double>>(m, std::vector<double>(m))};
  std::vector<std::vector<double>> r(m, std::vector<double>(m));
  for (std::size_t i = 0; i < m; ++i) r[i][i] = b.seen[i].spread * b.seen[i].spread / lesson.residuals[i].weight;
  for (std::size_t j = 0; j < n; ++j) {
    double own = 1;
    for (const Loading& l : loadings(b.setup, b.setup.beliefs.all()[j])) own -= l.share;
    std::vector<double> slope(m);
    for (std::size_t i = 0; i < m; ++i) {
      std::function<double(double)> along = [&, i](double x) {
        std::vector<double> z = at;
        z[j] = x;
        return figure(b, z, i);
      };
      gsl_function f{&call, &along};
      double error = 0;
      gsl_deriv_central(&f, at[j], 1e-3, &slope[i], &error);
      constexpr double h = 2e-3;
      s.lift[i] += 0.5 * own * (along(at[j] + h) + along(at[j] - h) - 2 * along(at[j])) / (h * h);
    }
    for (std::size_t i = 0; i < m; ++i)
      for (std::size_t k = 0; k < m; ++k) r[i][k] += own * slope[i] * slope[k];
  }
  for (std::size_t i = 0; i < m; ++i)
    for (std::size_t k = 0; k <= i; ++k) {
      double sum = r[i][k];
      for (std::size_t q = 0; q < k; ++q) sum -= s.root[i][q] * s.root[k][q];
      s.root[i][k] = i == k ? std::sqrt(sum) : sum / s.root[k][k];
    }
  return s;
}

int residuals(const gsl_vector* x, void* data, gsl_vector* f) {
  const auto& p = *static_cast<const Problem_*>(data);
  std::vector<double> u(p.names.size());
  for (std::size_t i = 0; i < u.size(); ++i) gsl_vector_set(f, i, u[i] = gsl_vector_get(x, i));
  std::size_t row = u.size();
  for (const Seen& s : p.seen) {
    const std::vector<double> z = point(s.batch->setup, p.names, u);
    std::vector<double> white(s.lift.size());
    for (std::size_t i = 0; i < white.size(); ++i) {
      double sum = std::log(s.batch->seen[i].value) - s.lift[i] - figure(*s.batch, z, i);
      for (std::size_t k = 0; k < i; ++k) sum -= s.root[i][k] * white[k];
      gsl_vector_set(f, row++, white[i] = sum / s.root[i][i]);
    }
  }
  return GSL_SUCCESS;
}

std::vector<double> minimised(Problem_& p, std::size_t rows) {
  gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
  how.fdtype = GSL_MULTIFIT_NLINEAR_CTRDIFF;
  how.h_df = 1e-4;
  gsl_multifit_nlinear_workspace* w = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, rows, p.names.size());
  gsl_multifit_nlinear_fdf fdf{};
  fdf.f = &residuals, fdf.n = rows, fdf.p = p.names.size(), fdf.params = &p;
  gsl_vector* start = gsl_vector_calloc(p.names.size());
  gsl_multifit_nlinear_init(start, &fdf, w);
  int info = 0;
  const int status = gsl_multifit_nlinear_driver(200, 1e-12, 1e-12, 0, nullptr, nullptr, &info, w);
  // It may end because no step lowers the sum any further.
  REQUIRE((status == GSL_SUCCESS || status == GSL_ENOPROG));
  std::vector<double> u(p.names.size());
  for (std::size_t i = 0; i < u.size(); ++i) u[i] = gsl_vector_get(w->x, i);
  gsl_vector_free(start);
  gsl_multifit_nlinear_free(w);
  return u;
}

}  // namespace

TEST_CASE("the fit of a diary is the minimum that GSL finds, to 1e-6") {
  gsl_set_error_handler_off();
  Normals draw(7);
  TrueKitchen kitchen(draw);
  std::vector<BatchSeen> batches;
  for (const char* recipe : {R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})", R"({"legume": "pea-split-yellow", "want": {"dry": "600 g"}})", R"({"legume": "chickpea-kabuli", "want": {"dry": "600 g"}})"}) {
    const Batch b = must(plan_batch(setup_of(recipe)));
    const Plan truth = plan(b.setup.job, b.setup.beliefs.at(kitchen.cook(b.setup)));
    REQUIRE(has_masses(truth));
    batches.push_back({"batch", b.setup, weighed(truth, all_weighed, draw)});
  }
  batches[1].seen[1].value *= 1.9;  // a slip, so that a weight is far from 1
  const Lesson l = learn(batches, {.tolerance = 1e-7});
  REQUIRE(l.converged);
  CHECK(l.batches[1].residuals[1].weight < 0.1);

  Problem_ p{l.names, {}};
  std::size_t rows = l.names.size();
  for (std::size_t i = 0; i < batches.size(); ++i) {
    p.seen.push_back(errors_of(batches[i], l.batches[i], l.names, l.offsets));
    rows += batches[i].seen.size();
  }
  const std::vector<double> u = minimised(p, rows);
  for (std::size_t i = 0; i < u.size(); ++i) {
    INFO(l.names[i] << ": " << l.offsets[i] << ", GSL " << u[i]);
    CHECK(l.offsets[i] == Approx(u[i]).margin(1e-6));
  }
}
