// SPDX-License-Identifier: MIT
// Parts that the sections of the JSON sheet share.
#pragma once

#include <array>
#include <string_view>

#include "sheets/json_writer.hpp"

namespace curdwright::sheets {

inline void write_caution(JsonWriter& w, const Caution& c) {
  w.object([&] { w.put("rule", c.rule), w.put("severity", word(c.severity)), w.put("stage", word(c.stage)), w.put("standing", c.standing), w.put("text", c.text); });
}

/// Keys of what a stream holds, besides "mass_g", in the order of Component.
inline constexpr std::array<std::string_view, component_count> component_keys = {"water_g", "protein_g", "starch_g", "sugars_g", "fat_g", "fibre_g", "ash_g", "salts_g"};

/// The section /stages: streams, settings, figures and cautions of each stage.
void write_stages(JsonWriter& w, const Facts& facts, const Sheet& s);

}  // namespace curdwright::sheets
