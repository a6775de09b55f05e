// SPDX-License-Identifier: MIT
#include "sheets/advice.hpp"

#include <array>

namespace curdwright::sheets {
namespace {

struct Row {
  Param param;
  std::string_view words;
};

constexpr std::array rows = {
    Row{Param::seed_water, "keep the seed dry; put the packet's figures into the recipe"},
    Row{Param::seed_protein, "put the packet's protein into the recipe (label)"},
    Row{Param::seed_fat, "put the packet's fat into the recipe (label)"},
    Row{Param::seed_fibre, "put the packet's fibre into the recipe (label)"},
    Row{Param::seed_sugars, "put the packet's sugars into the recipe (label)"},
    Row{Param::seed_starch, "put the packet's figures into the recipe (label)"},
    Row{Param::soak_k1, "weigh the soaked seed; soak until no core is dry"},
    Row{Param::soak_k2, "weigh the soaked seed"},
    Row{Param::solids_lost, "soak cold, and change the water no more than needed"},
    Row{Param::release_protein, "blend the full time, and rub the pulp for bits"},
    Row{Param::release_fat, "blend the full time, and rub the pulp for bits"},
    Row{Param::blender_protein, "blend longer, and rub the pulp for bits"},
    Row{Param::blender_starch, "weigh the starch layer"},
    Row{Param::held_liquor, "squeeze the pulp harder, and weigh it"},
    Row{Param::granule_median, "let the milk stand longer"},
    Row{Param::never_settles, "settle longer or twice; gel-and-strain takes more"},
    Row{Param::heel, "ladle carefully, and weigh what is left behind"},
    Row{Param::release_fibre, "use a finer cloth"},
    Row{Param::evaporated_per_10_min, "weigh the milk before and after cooking"},
    Row{Param::coagulable, "look at the whey: clear, or milky with protein"},
    Row{Param::dose, "look at the whey: clear, or milky with protein"},
    Row{Param::coagulant_strength, "read the coagulant's label into the recipe (strength)"},
    Row{Param::drained_moisture, "let the curd run before pressing, and weigh it"},
    Row{Param::press_intercept, "weigh the pressed block, and press on if it is heavy"},
    Row{Param::press_slope, "weigh the pressed block, and press on if it is heavy"},
    Row{Param::consolidation, "press longer if whey still runs"},
    Row{Param::creep_share, "press longer if whey still runs"},
    Row{Param::creep_delay, "press longer if whey still runs"},
    Row{Param::fat_captured, "look for fat on the whey"},
};

}  // namespace

std::string_view advice(Param p) {
  for (const Row& r : rows)
    if (r.param == p) return r.words;
  return "weigh what comes out, and write it down";
}

}  // namespace curdwright::sheets
