// SPDX-License-Identifier: MIT
#include <array>

#include "fuzz/fuzz.hpp"

namespace curdwright::fuzz {

std::span<const Target> all_targets() {
  static constexpr std::array<Target, 13> all = {{{"json", try_json}, {"quantity", try_quantity}, {"price", try_price}, {"time", try_time},
    {"recipe", try_recipe}, {"kitchen", try_kitchen}, {"pointer", try_pointer}, {"record", try_record}, {"told", try_told},
    {"diary_line", try_diary_line}, {"diary", try_diary}, {"each", try_each}, {"sheet", try_sheet}}};
  return all;
}

}  // namespace curdwright::fuzz
