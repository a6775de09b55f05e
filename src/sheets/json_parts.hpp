// SPDX-License-Identifier: MIT
// Parts that the sections of the JSON sheet share.
#pragma once

#include <string>

#include "sheets/json_writer.hpp"

namespace curdwright::sheets {

inline void write_caution(JsonWriter& w, const Caution& c) {
  w.object([&] { w.put("rule", c.rule), w.put("severity", word(c.severity)), w.put("stage", word(c.stage)), w.put("standing", c.standing), w.put("text", c.text); });
}

/// Key of what a stream holds of a component: "water_g".
inline std::string component_key(Component c) { return std::string(word(c)) + "_g"; }

/// The section /stages: streams, settings, figures and cautions of each stage.
void write_stages(JsonWriter& w, const Facts& facts, const Sheet& s);

}  // namespace curdwright::sheets
