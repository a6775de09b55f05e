// SPDX-License-Identifier: MIT
#include "sheets/moves.hpp"

#include <fmt/format.h>

#include "sheets/amounts.hpp"

namespace curdwright::sheets {

std::vector<SheetMove> moves_for(const Batch& batch, const Troubles& troubles, const Sighting& seen, Units units) {
  const Amounts say(units, batch.setup.kitchen);
  const TroubleSight* sight = troubles.find(seen);
  std::vector<SheetMove> all;
  for (const Move& m : next_moves(batch, troubles, seen)) {
    SheetMove row;
    row.seen = fmt::format("{}={}", seen.what, seen.looks);
    if (sight) row.plain = say.in_units(sight->plain);
    if (all.empty() && !m.discard)
      for (const std::string& b : m.before) row.before.push_back(say.in_units(b));
    row.cause = say.in_units(m.cause), row.action = say.in_units(m.action), row.stop = say.in_units(m.stop), row.known = word(m.known);
    row.likely = m.likely, row.discard = m.discard;
    all.push_back(std::move(row));
  }
  return all;
}

}  // namespace curdwright::sheets
