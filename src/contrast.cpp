// SPDX-License-Identifier: MIT
#include "curdwright/contrast.hpp"

#include <algorithm>
#include <map>

#include "differing.hpp"
#include "scopes.hpp"

namespace curdwright {
namespace {

/// Whose number it is: two beliefs of one name are one ignorance.
std::string name_of_belief(const Setup& s, const Belief& b) {
  const std::string key(info(b.param).key);
  switch (b.scope) {
    case Scope::legume: return key + "@" + s.legumes[b.legume].id;
    case Scope::equipment: return key + "@" + gear_of(s, b.param).id;
    case Scope::model: return key;
  }
  return key;
}

/// For each belief of each batch, its place among all numbers that are not known.
struct Joint {
  std::vector<std::vector<std::size_t>> place;
  std::size_t size = 0;
};

Joint joint_of(std::span<const Batch* const> batches) {
  Joint j;
  std::map<std::string, std::size_t> places;
  for (const Batch* b : batches) {
    std::vector<std::size_t> mine;
    for (const Belief& belief : b->setup.beliefs.all()) mine.push_back(places.try_emplace(name_of_belief(b->setup, belief), places.size()).first->second);
    j.place.push_back(std::move(mine));
  }
  j.size = places.size();
  return j;
}

/// Values of every response of every batch, drawn together: [response][batch][draw].
using Draws = std::vector<std::vector<std::vector<std::optional<double>>>>;

Draws drawn(std::span<const Batch* const> batches, std::span<const Response* const> responses, int plans) {
  const Joint joint = joint_of(batches);
  const std::vector<double> z = sobol_normals(plans, joint.size, 1);
  Draws d(responses.size(), std::vector<std::vector<std::optional<double>>>(batches.size()));
  for (std::size_t i = 0; i < batches.size(); ++i) {
    Batch b = *batches[i];
    std::vector<double> mine(joint.place[i].size());
    for (std::size_t k = 0; k < static_cast<std::size_t>(plans); ++k) {
      for (std::size_t n = 0; n < mine.size(); ++n) mine[n] = z[k * joint.size + joint.place[i][n]];
      b.theta = b.setup.beliefs.at(mine);
      b.plan = plan(b.setup.job, b.theta);
      for (std::size_t r = 0; r < responses.size(); ++r) d[r][i].push_back(value(*responses[r], b));
    }
  }
  return d;
}

std::optional<Range> middle_of(std::vector<double> values, std::size_t plans) {
  if (2 * values.size() < plans) return std::nullopt;
  std::sort(values.begin(), values.end());
  return Range{quantile(values, 0.1), quantile(values, 0.9)};
}

Margin margin(const std::vector<double>& all, double median, const Range& range) {
  const auto more = std::count_if(all.begin(), all.end(), [](double v) { return v > 0; });
  return {median, range, static_cast<double>(more) / static_cast<double>(all.size())};
}

}  // namespace

std::vector<Contrast> contrasts(std::span<const Batch* const> batches, std::span<const Response* const> responses, int plans) {
  const Draws d = drawn(batches, responses, plans);
  const auto n = static_cast<std::size_t>(plans);
  std::vector<Contrast> all;
  for (std::size_t r = 0; r < responses.size(); ++r) {
    Contrast c;
    c.response = responses[r];
    for (std::size_t i = 0; i < batches.size(); ++i) {
      std::vector<double> mine, off;
      for (std::size_t k = 0; k < n; ++k) {
        if (d[r][i][k]) mine.push_back(*d[r][i][k]);
        if (d[r][i][k] && d[r][0][k]) off.push_back(*d[r][i][k] - *d[r][0][k]);
      }
      c.values.push_back(value(*responses[r], *batches[i]));
      c.ranges.push_back(middle_of(std::move(mine), n));
      const auto range = middle_of(off, n);
      c.to_first.push_back(i > 0 && range && c.values[i] && c.values[0] ? std::optional(margin(off, *c.values[i] - *c.values[0], *range)) : std::nullopt);
    }
    all.push_back(std::move(c));
  }
  return all;
}

std::vector<Differs> differences(std::span<const InputTexts> texts) {
  std::vector<Differs> all;
  for (std::size_t i = 0; i < texts.size(); ++i)
    for (const auto& [pointer, words] : told_values(texts[i])) {
      if (!tells_of_food(pointer)) continue;
      auto at = std::find_if(all.begin(), all.end(), [&, p = std::string_view(pointer)](const Differs& d) { return d.pointer == p; });
      if (at == all.end()) at = all.insert(all.end(), {pointer, std::vector<std::string>(texts.size())});
      at->told[i] = words;
    }
  std::erase_if(all, [](const Differs& d) { return std::all_of(d.told.begin(), d.told.end(), [&](const std::string& t) { return same_value(t, d.told[0]); }); });
  return all;
}

}  // namespace curdwright
