// SPDX-License-Identifier: MIT
// Rules K (coagulants and gear) and P (the plan itself).
#include "rules/rules.hpp"

namespace curdwright::test {
namespace {

constexpr std::string_view always_reckoned = "the planner always reckons it, from figures that have defaults";

/// A packet of very starchy pea, washed twice and scarcely pressed.
Try heavy(const std::string& moisture) {
  return {R"({"legume":"pea-split-yellow","want":{"dry":"1 kg"},"strain":{"washes":[{"water_to_dry":3},{"water_to_dry":3}]},"starch":{"remove":"none"}})",
          {"/press/moisture=" + moisture}};
}

Try little(const std::string& step) { return {R"({"legume":"pea-split-yellow","want":{"dry":"100 g"}})", {step}}; }

}  // namespace

std::vector<Row> gear_rows() {
  using enum Severity;
  const std::string with = "/coagulate/with=", pot = "/kitchen/pots/0/material=";
  return {
      {"K1", warn, "food grade, E516, from a food seller", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"K2", stop, "are not food", pea({"/coagulate/grade=hardware"}), silent(pea({"/coagulate/grade=food"})), nothing_missing(declared)},
      {"K3", warn, "sets hard", pea({with + "calcium-sulfate-hemihydrate"}), silent(pea({with + "calcium-sulfate-dihydrate"})), nothing_missing(from_record)},
      {"K4", warn, "magnesium loosens the bowels", pea({with + "nigari-flakes"}), silent(pea({with + "calcium-chloride-dihydrate"})), nothing_missing(from_record)},
      {"K6", warn, "heats up in water", pea({with + "calcium-chloride-anhydrous"}), silent(pea({with + "calcium-chloride-dihydrate"})), nothing_missing(from_record)},
      {"K7", warn, "above 60 degC by hand", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"K8", warn, "blow the lid off", pea({"/blend/water_temperature=61 degC"}), silent(pea({"/blend/water_temperature=60 degC"})),
       nothing_missing("water whose temperature is left out comes from the tap, 40 degC at most")},
      {"K9", warn, "at most half full", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"K10", warn, "never ground beans", pea({"/cook/in=pressure-cooker"}), silent(pea({"/cook/in=open-pot"})), nothing_missing(declared)},
      {"K11", warn, "away from the hob's edge", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"K12", warn, "bare aluminium do not go together", pea({with + "gdl", pot + "aluminium"}), silent(pea({with + "gdl", pot + "enamel"})),
       nothing_missing("a pot whose material is left out is steel; the record tells what the coagulant does")},
      {"K13", warn, "Boil the cloth", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"K14", note, "mg per 100 g of curd", pea(), silent(pea({with + "magnesium-chloride-hexahydrate"})), nothing_missing("a figure for a label, given when there is calcium to speak of")},
  };
}

std::vector<Row> plan_rows() {
  using enum Severity;
  return {
      {"P1", warn, "starch-set block", pea({"/starch/remove=none"}), silent(pea({"/starch/remove=settle"})), nothing_missing("left out, the starch is settled")},
      {"P2", warn, "use more soak water", pea({"/soak/water_to_dry=0.5"}), silent(pea({"/soak/water_to_dry=2"})), nothing_missing(always_reckoned)},
      {"P3", warn, "60.0 kPa lies outside", pea({"/press/pressure=60 kPa"}), silent(pea({"/press/pressure=45 kPa"})), nothing_missing("left out, the pressure is that of the press's record")},
      {"P4", warn, "Under-dosed: 6", pea({"/coagulate/dose=0.2 mmol/g"}), silent(pea({"/coagulate/dose=0.3 mmol/g"})),
       unknown_in_batch("the strength of the coagulant", [](Batch& b) { b.plan.set.dose.strength = millimolar(0); })},  // what the planner gives when there is no milk
      {"P5", warn, "closely enough. Use one that shows 0.2", pea({"/kitchen/fine_scale/step=10 g"}), silent(pea({"/kitchen/fine_scale/step=1 g"})), nothing_missing(always_reckoned)},
      {"P6", warn, "rinse cold when it is over", pea({"/soak/water_temperature=90 degC", "/soak/time=1 h"}), silent(pea({"/soak/water_temperature=50 degC", "/soak/time=1 h"})),
       unknown_in_batch("the soak's temperature", [](Batch& b) { b.plan.soaking = TemperatureHistory(celsius(unknown)); })},
      {"P7", warn, "Use cooler water", pea({"/blend/water_temperature=70 degC"}), silent(pea({"/blend/water_temperature=45 degC"})),
       unknown_in_batch("the milk's temperature", [](Batch& b) { b.plan.strained.milk.at = celsius(unknown); })},
      {"P8", warn, "kg per kg of seed is more than", heavy("89 %"), silent(heavy("85 %")), unknown_in_batch("the water of the curd", [](Batch& b) { b.plan.pressed.curd.of[Component::water] = unknown; })},
      {"P9", warn, "in 4 fillings", pea({"/press/time=3 h", "/kitchen/mould/count=1"}), silent(pea({"/press/time=3 h", "/kitchen/mould/count=4"})),
       nothing_missing(always_reckoned)},
      {"P10", note, "swells less and slower", pea_packet("\"age\":\"800 d\""), silent(pea_packet("\"age\":\"700 d\"")), nothing_missing(declared)},
      {"P11", note, "oil out of the milk", of("peanut"), silent(soy()), nothing_missing(from_record)},
      {"P12", warn, "fills 2 settling vessels and the kitchen has 1", pea({"/kitchen/settling/vessels=1"}), silent(pea({"/kitchen/settling/vessels=2"})),
       nothing_missing(always_reckoned)},
      {"P13", warn, "and the mould 3.3 cm", pea({"/kitchen/mould/height=3.3 cm"}), silent(pea({"/kitchen/mould/height=4 cm"})),
       unknown_in_batch("the drained height", [](Batch& b) { b.plan.pressed.drained_height = centimetres(unknown); })},
      {"P14", note, "nothing to take out", soy({"/starch/remove=settle"}), silent(pea({"/starch/remove=settle"})), nothing_missing(asked)},
      {"P15", warn, "3.9 kg of water per kg of seed", pea({"/blend/total_water_to_dry=3.9"}), silent(pea({"/blend/total_water_to_dry=4.1"})),
       unknown_in_batch("the water per seed", [](Batch& b) { b.plan.water.total_to_dry = unknown; })},
      {"P16", warn, "met only just", pea({"/chill/in=still-fridge"}), silent(pea({"/chill/in=still-fridge", "/block/mass=200 g"})),
       nothing_missing("a time that does not exist is not met, and then T2, T9, T11 or T12 fires")},
      {"P18", note, "what is planned", pea({"/kitchen/altitude=3000 m", "/coagulate/at=95 degC"}), silent(pea({"/coagulate/at=95 degC"})), nothing_missing(asked)},
      {"P19", warn, "the batch grew from 100", little("/kitchen/coarse_scale/step=200 g"),
       silent(little("/kitchen/coarse_scale/step=5 g")), nothing_missing(always_reckoned)},
      {"P20", warn, "Alkaline (baking soda)", pea({"/extras/-/what=baking-soda", "/extras/0/to_dry=0.005"}), silent(pea({"/extras/-/what=salt", "/extras/0/stage=soak", "/extras/0/to_dry=0.005"})),
       nothing_missing(from_record)},
      {"P21", note, "before it sets (salt)", pea({"/extras/-/what=salt", "/extras/0/stage=coagulate", "/extras/0/amount=12 g"}),
       silent(pea({"/extras/-/what=salt", "/extras/0/stage=press", "/extras/0/amount=12 g"})), nothing_missing(from_record)},
      {"P22", warn, "Nothing boils what goes in here (ground black pepper)", pea({"/extras/-/what=black-pepper", "/extras/0/stage=press", "/extras/0/amount=5 g"}),
       silent(pea({"/extras/-/what=black-pepper", "/extras/0/stage=cook", "/extras/0/amount=5 g"})), nothing_missing(from_record)},
      {"P23", warn, "this ring needs about", pea({"/cook/heat_up=2 min"}), silent(pea({"/cook/heat_up=25 min"})), nothing_missing(asked)},
      {"P17", warn, "98 degC or more in the middle, for 35 min", kidney(), silent(pea()), nothing_missing(from_record)},
  };
}

}  // namespace curdwright::test
