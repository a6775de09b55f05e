// SPDX-License-Identifier: MIT
#include "scopes.hpp"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "curdwright/version.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Shares of the variance: judgement. A bag of seed differs from the next one; a legume's soak and curd are mostly of the
// kitchen and its water, less of the legume in it; gear and habits stay what they are.
constexpr double seed_of_legume = 0.6;
constexpr double kitchen_share = 0.5, legume_share = 0.3;
constexpr double lasting_share = 0.8;

bool of_the_bag(Param p) { return p <= Param::seed_magnesium; }

/// Numbers of the learned, by name.
std::map<std::string, Index, std::less<>> places_of(const Learned& l) {
  std::map<std::string, Index, std::less<>> at;
  for (std::size_t i = 0; i < l.names.size(); ++i) at[l.names[i]] = static_cast<Index>(i);
  return at;
}

Problem wrong(std::string what, std::string why) { return {"learned", {.pointer = "/kitchen/learned"}, std::move(what), std::move(why), "write it anew with `curdwright learn`, or take \"learned\" out of the kitchen file"}; }

/// Names that no parameter has, or that stand twice; offsets that no batch could have taught.
std::optional<Problem> wrong_names(const Learned& l) {
  constexpr double most_spreads = 8;
  std::set<std::string_view> told;
  for (std::size_t i = 0; i < l.names.size(); ++i) {
    const std::string_view name = l.names[i], key = name.substr(0, name.find('@'));
    if (std::none_of(all_params().begin(), all_params().end(), [&](const ParamInfo& p) { return p.key == key; })) return wrong(fmt::format("\"{}\" is no number of this model", text::harmless(text::cut(name, 40))), "");
    if (!told.insert(name).second) return wrong(fmt::format("\"{}\" stands twice", text::harmless(text::cut(name, 40))), "");
    if (!(std::abs(l.offsets[i]) <= most_spreads)) return wrong(fmt::format("\"{}\" lies {:.3g} spreads from what is shipped", text::harmless(text::cut(name, 40)), l.offsets[i]), "no batch could have taught that");
  }
  return std::nullopt;
}

/// Names that the beliefs of a setup hang on, and how.
struct Structure {
  std::vector<std::string> names;
  MatrixXd weight;  ///< belief by name: root of the share
  VectorXd batch;   ///< variance of the batch's own
};

Structure structure_of(const Setup& s) {
  Structure t;
  const auto beliefs = s.beliefs.all();
  std::map<std::string, Index> at;
  std::vector<std::vector<Loading>> all;
  for (const Belief& b : beliefs) {
    all.push_back(loadings(s, b));
    for (const Loading& l : all.back())
      if (at.emplace(l.name, static_cast<Index>(at.size())).second) t.names.push_back(l.name);
  }
  t.weight = MatrixXd::Zero(static_cast<Index>(beliefs.size()), static_cast<Index>(t.names.size()));
  t.batch = VectorXd::Ones(static_cast<Index>(beliefs.size()));
  for (std::size_t i = 0; i < all.size(); ++i)
    for (const Loading& l : all[i]) {
      t.weight(static_cast<Index>(i), at[l.name]) = std::sqrt(l.share);
      t.batch(static_cast<Index>(i)) -= l.share;
    }
  return t;
}

/// Mean and covariance of the names: learned where they are, standard normal where not.
void recall(const Structure& t, const Learned& l, VectorXd& mean, MatrixXd& covariance) {
  const auto places = places_of(l);
  const auto n = static_cast<Index>(t.names.size());
  mean = VectorXd::Zero(n);
  covariance = MatrixXd::Identity(n, n);
  std::vector<Index> from(t.names.size(), -1);
  for (std::size_t i = 0; i < t.names.size(); ++i)
    if (const auto found = places.find(t.names[i]); found != places.end()) from[i] = found->second;
  const auto entry = [&](Index i, Index j) { return l.covariance[static_cast<std::size_t>(std::max(i, j) * (std::max(i, j) + 1) / 2 + std::min(i, j))]; };
  for (Index i = 0; i < n; ++i) {
    const Index a = from[static_cast<std::size_t>(i)];
    if (a < 0) continue;
    mean(i) = l.offsets[static_cast<std::size_t>(a)];
    for (Index j = 0; j < n; ++j)
      if (const Index b = from[static_cast<std::size_t>(j)]; b >= 0) covariance(i, j) = entry(a, b);
  }
}

}  // namespace

Gear gear_of(const Setup& s, Param p) {
  switch (p) {
    case Param::held_liquor: return {"strainer", s.strainer.id, s.strainer.kitchen_name};
    case Param::hob_efficiency: return {"hob", s.hob.id, s.hob.kitchen_name};
    case Param::chill_coefficient: return {"chill", s.chill.id, s.chill.kitchen_name};
    case Param::blender_protein:
    case Param::blender_starch: return {"blender", s.blender.id, s.blender.kitchen_name};
    default: return {"coagulant", s.coagulant.id, s.coagulant.kitchen_name};
  }
}

std::vector<Loading> loadings(const Setup& s, const Belief& b) {
  const std::string key(info(b.param).key);
  if (b.scope == Scope::model) return {{key, lasting_share}};
  if (b.scope == Scope::equipment) return {{key + "@" + gear_of(s, b.param).id, lasting_share}};
  const std::string of_legume = key + "@" + s.legumes[b.legume].id;
  if (of_the_bag(b.param)) return {{of_legume, seed_of_legume}};
  return {{key, kitchen_share}, {of_legume, legume_share}};
}

Problems apply_learned(Setup& s, const Learned& l) {
  const std::size_t n = l.names.size();
  if (l.offsets.size() != n || l.covariance.size() != n * (n + 1) / 2)
    return {wrong(fmt::format("{} names, {} offsets and {} covariances do not go together", n, l.offsets.size(), l.covariance.size()), fmt::format("{0} names take {0} offsets and {1} covariances", n, n * (n + 1) / 2))};
  if (l.data_version != data_version || l.model_version != model_version)
    return {wrong(fmt::format("it starts from data {} and model {}", l.data_version, l.model_version), fmt::format("this is data {} and model {}, whose figures may differ", data_version, model_version))};
  if (auto p = wrong_names(l)) return {std::move(*p)};
  const Structure t = structure_of(s);
  VectorXd mean;
  MatrixXd covariance;
  recall(t, l, mean, covariance);
  VectorXd by = t.weight * mean;
  MatrixXd of_beliefs = t.weight * covariance * t.weight.transpose();
  of_beliefs.diagonal() += t.batch;
  const Eigen::LLT<MatrixXd> root(of_beliefs);
  if (root.info() != Eigen::Success || covariance.diagonal().minCoeff() <= 0) return {wrong("its covariance is none", "it must be positive definite")};
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> factor = root.matrixL();
  for (Index i = 0; i < by.size(); ++i) {
    const double spread = s.beliefs.all()[static_cast<std::size_t>(i)].spread;
    by(i) *= spread;
    factor.row(i) *= spread;
  }
  s.beliefs.move(std::span(by.data(), static_cast<std::size_t>(by.size())), std::vector<double>(factor.data(), factor.data() + factor.size()));
  return {};
}

}  // namespace curdwright
