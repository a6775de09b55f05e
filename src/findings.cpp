// SPDX-License-Identifier: MIT
#include "curdwright/findings.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "curdwright/teach.hpp"
#include "curdwright/update.hpp"
#include "quantiles.hpp"
#include "scopes.hpp"

namespace curdwright {
namespace {

/// A number is told of when batches moved it by so much of its spread, or left less than so much of its spread open.
constexpr double worth_moved = 0.25, worth_open = 0.8;

std::string whose(const Setup& s, const Belief& b) {
  if (b.scope == Scope::equipment) return gear_of(s, b.param).kitchen_name;
  return b.scope == Scope::legume ? s.legumes[b.legume].kitchen_name : "";
}

/// The lasting part of each belief of a batch's setup, once for each number and whose it is.
void add_findings(std::vector<Finding>& all, std::set<std::pair<Param, std::string>>& told, const Setup& shipped, const Lesson& l) {
  std::map<std::string, std::size_t> at;
  for (std::size_t i = 0; i < l.names.size(); ++i) at[l.names[i]] = i;
  for (const Belief& b : shipped.beliefs.all()) {
    double offset = 0, lasting = 0, variance = 0;
    const std::vector<Loading> hangs = loadings(shipped, b);
    for (const Loading& k : hangs) {
      lasting += k.share;
      const auto i = at.find(k.name);
      if (i != at.end()) offset += std::sqrt(k.share) * l.offsets[i->second];
      for (const Loading& m : hangs) {
        const auto j = at.find(m.name);
        const double c = i != at.end() && j != at.end() ? l.covariance[i->second * l.names.size() + j->second] : k.name == m.name ? 1.0 : 0.0;
        variance += std::sqrt(k.share * m.share) * c;
      }
    }
    const double open = std::sqrt(variance / lasting);
    if (std::abs(offset) < worth_moved && open > worth_open) continue;
    if (!told.emplace(b.param, whose(shipped, b)).second) continue;
    const double middle = to_link(b.link, b.median), sd = b.spread * std::sqrt(variance);
    const auto value = [&](double x) { return from_link(b.link, x); };
    const double x = middle + b.spread * offset;
    all.push_back({b.param, whose(shipped, b), value(x), value(x - z90 * sd), value(x + z90 * sd), b.median, offset, open});
  }
}

}  // namespace

std::vector<Finding> findings(const Lesson& l, std::span<const Taught> taught) {
  std::vector<Finding> all;
  std::set<std::pair<Param, std::string>> told;
  // The latest batch first: its gear is what is in use.
  for (std::size_t i = taught.size(); i-- > 0;) add_findings(all, told, taught[i].batch.setup, l);
  std::stable_sort(all.begin(), all.end(), [](const Finding& a, const Finding& b) { return std::abs(a.moved) > std::abs(b.moved); });
  return all;
}

std::vector<Suspect> suspects(const Lesson& l, std::span<const Taught> taught) {
  std::vector<Suspect> all;
  for (std::size_t b = 0; b < taught.size(); ++b) {
    const std::vector<Residual>& residuals = l.batches[b].residuals;
    std::vector<Expected> expected;
    for (std::size_t i = 0; i < taught[b].readings.size(); ++i)
      if (residuals[i].weight > 0) expected.push_back({&taught[b].readings[i], taught[b].readings[i].si / residuals[i].ratio});
    for (const Expected& e : expected) {
      const double weight = residuals[static_cast<std::size_t>(e.reading - taught[b].readings.data())].weight;
      if (weight >= suspect_below) continue;
      all.push_back({taught[b].batch.id, e.reading, e.si, likely_slip(*e.reading, e.si, taught[b].batch.setup.kitchen, expected), weight});
    }
  }
  return all;
}

std::vector<BatchGain> mass_gains(const Lesson& l, std::span<const Taught> taught) {
  std::vector<BatchGain> all;
  for (std::size_t b = 0; b < taught.size(); ++b) {
    std::vector<const Reading*> count;
    for (std::size_t i = 0; i < taught[b].readings.size(); ++i)
      if (l.batches[b].residuals[i].weight >= counts_for_nothing) count.push_back(&taught[b].readings[i]);
    if (auto gain = mass_gain(plan_now(taught[b].batch.setup, l), count)) all.push_back({taught[b].batch.id, std::move(*gain)});
  }
  return all;
}

}  // namespace curdwright
