// SPDX-License-Identifier: MIT
#include "text/nearest.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace curdwright::text {

std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, change});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

std::string_view nearest(std::string_view word, std::span<const std::string_view> known) {
  std::string_view best;
  std::size_t least = std::clamp<std::size_t>((word.size() + 1) / 3, 1, 3);
  if (word.size() > 64) return best;
  for (std::string_view k : known) {
    if (k.size() > word.size() + 3 || word.size() > k.size() + 3) continue;
    const std::size_t d = distance(word, k);
    if (d < least || (d == least && best.empty())) {
      least = d;
      best = k;
    }
  }
  return best;
}

std::string suggest(std::string_view word, std::span<const std::string_view> known) {
  if (const auto near = nearest(word, known); !near.empty()) return fmt::format("did you mean \"{}\"?", near);
  if (known.size() > 16 || known.empty()) return "";
  std::string list;
  for (std::string_view k : known) list += (list.empty() ? "" : ", ") + std::string(k);
  return fmt::format("use one of: {}", list);
}

}  // namespace curdwright::text
