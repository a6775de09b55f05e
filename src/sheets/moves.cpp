// SPDX-License-Identifier: MIT
#include "sheets/moves.hpp"

#include <fmt/format.h>

#include <charconv>
#include <regex>
#include <string>

#include "sheets/amounts.hpp"

namespace curdwright::sheets {
namespace {

/// Weights that are not for the fine scale, from grams to pounds and ounces where the sheet is in those. "100 g" stands: it is
/// what a share is told of.
std::string in_pounds(const std::string& words, const Amounts& say) {
  static const std::regex weight(R"(\b([0-9]+(?:\.[0-9]+)?) (kg|g)\b)");
  constexpr double fine = 30;
  std::string out;
  auto from = words.cbegin();
  for (std::sregex_iterator i(words.begin(), words.end(), weight), end; i != end; ++i) {
    const std::smatch& m = *i;
    const std::string digits = m[1];
    double number = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), number);
    const double g = number * (m[2] == "kg" ? 1000 : 1);
    out.append(from, m[0].first);
    out += g < fine || m.str() == "100 g" ? m.str() : say.about(grams(g));
    from = m[0].second;
  }
  return out.append(from, words.cend());
}

}  // namespace

std::vector<SheetMove> moves_for(const Batch& batch, const Troubles& troubles, const Sighting& seen, Units units) {
  const Amounts say(units, batch.setup.kitchen);
  const auto said = [&](const std::string& words) { return units == Units::us ? in_pounds(say.in_units(words), say) : say.in_units(words); };
  const TroubleSight* sight = troubles.find(seen);
  std::vector<SheetMove> all;
  for (const Move& m : next_moves(batch, troubles, seen)) {
    SheetMove row;
    row.seen = fmt::format("{}={}", seen.what, seen.looks);
    if (sight) row.plain = said(sight->plain);
    if (all.empty() && !m.discard)
      for (const std::string& b : m.before) row.before.push_back(said(b));
    row.cause = said(m.cause), row.action = said(m.action), row.stop = said(m.stop), row.known = word(m.known);
    row.likely = m.likely, row.discard = m.discard, row.by_rule = m.id == stopped_by_rule;
    all.push_back(std::move(row));
  }
  return all;
}

}  // namespace curdwright::sheets
