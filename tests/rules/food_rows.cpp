// SPDX-License-Identifier: MIT
// Rules S (soak and microbes), L (toxins), H (hands and leftovers) and G (allergens).
#include "rules/rules.hpp"

namespace curdwright::test {
namespace {

/// Soak on a counter in a kitchen at 25 degC, with water as warm.
Try warm_soak(const std::string& time) {
  return pea({"/soak/where=room", "/soak/time=" + time, "/kitchen/room=25 degC", "/kitchen/tap_water=25 degC"});
}
Try counter_soak(const std::string& time) { return pea({"/soak/where=room", "/soak/time=" + time}); }

}  // namespace

std::vector<Row> soak_rows() {
  using enum Severity;
  return {
      {"S1", warn, "-fold in this soak; the limit is 10", counter_soak("14 h"), silent(counter_soak("12 h")), unknown_fact("growth in the soak", [](Facts& f) { f.soak_growth = unknown; })},
      {"S2", warn, "above 20 degC: use the fridge", warm_soak("13 h"), silent(warm_soak("12 h")),
       nothing_missing("time and temperatures left out are the legume's and the kitchen's, and the reader takes none that is not a number")},
      {"S4", warn, "does not undo a bad soak", counter_soak("14 h"), silent(counter_soak("12 h")), nothing_missing("it explains S1, which fires when growth is unknown")},
      {"S8", warn, "throw out seed and water", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"S9", stop, "only in drinking-grade water", pea({"/kitchen/water=untreated"}), silent(pea({"/kitchen/water=drinking"})), nothing_missing(declared)},
      {"S10", warn, "every day", pea({"/store/pack=water"}), silent(pea({"/store/pack=open"})), nothing_missing(declared)},
  };
}

std::vector<Row> toxin_rows() {
  using enum Severity;
  return {
      {"L1", stop, "kept a full rolling boil for 30 min. This plan has 29 min", kidney({"/cook/hold=29 min"}), silent(kidney({"/cook/hold=30 min", "/soak/time=5 h"})),
       unknown_in_batch("the hold", [](Batch& b) { b.setup.job.cook.hold = minutes(unknown); })},
      {"L2", stop, "Never in a slow cooker", kidney({"/cook/in=slow-cooker"}), silent(kidney({"/cook/in=open-pot"})),
       nothing_missing("what it is cooked in is an open pot unless the recipe says otherwise; the heat of that pot is judged by L1 and L3")},
      {"L3", stop, "too cool to make this bean safe", kidney({"/kitchen/altitude=600 m"}), silent(kidney({"/kitchen/altitude=580 m"})),
       unknown_in_batch("the boiling point", [](Batch& b) { b.setup.job.cook.boil = celsius(unknown); })},
      {"L4", note, "at least 10 min. This tool keeps 30 min", kidney({"/kitchen/region=uk"}), silent(kidney({"/kitchen/region=us"})), nothing_missing(from_record)},
      {"L5", warn, "of the trypsin inhibitor would be left", soy({"/cook/hold=3 min"}), silent(soy({"/cook/hold=6 min"})),
       unknown_fact("the trypsin inhibitor left", [](Facts& f) { f.trypsin_left = unknown; })},
      {"L6", warn, "Do not taste raw milk", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"L7", warn, "G6PD", of("faba-whole"), silent(pea()), nothing_missing(from_record)},
      {"L9", warn, "sweet lupin", of("lupin-sweet"), silent(soy()), nothing_missing(from_record)},
      {"L10", note, "boil uncovered", lima(), silent(pea()), unknown_in_batch("the hold", [](Batch& b) {
         b.setup.legumes = {must(Catalogue::shipped().legume("lima-large-white"))};
         b.setup.job.cook.hold = minutes(unknown);
       })},
      {"L12", warn, "no mouldy", of("peanut"), silent(pea()), nothing_missing(from_record)},
      {"L13", warn, "before eating", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"L14", stop, "food-grade seed only", pea_packet("\"sold_for\":\"sowing\""), silent(pea_packet("\"sold_for\":\"food\"")), nothing_missing(declared)},
  };
}

std::vector<Row> hand_rows() {
  using enum Severity;
  return {
      {"H1", warn, "clean hands", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"H2", warn, "2 h is the limit", pea({"/starch/time=70 min"}), silent(pea({"/starch/time=40 min"})), unknown_fact("the time that raw milk stands", [](Facts& f) { f.standing_h = unknown; })},
      {"H3", warn, "within two days", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"H4", warn, "two days", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      {"H5", warn, "looks like milk", pea({"/coagulate/make_up=1.2"}), silent(pea({"/coagulate/make_up=1"})),
       nothing_missing("how much is made up has a default in the coagulant's record")},
      {"H6", warn, "count the days", pea({"/store/days=4"}), silent(pea({"/store/days=3"})), nothing_missing("days not planned are not kept; the press time has a default")},
      {"H7", warn, "of the surface", pea({"/kitchen/thermometer=infrared"}), silent(pea({"/kitchen/thermometer=probe"})), left_out(pea({"/kitchen/thermometer=none"}))},
      {"H8", warn, "no aged or long-kept curd", pea({"/store/eaters=vulnerable"}), silent(pea({"/store/eaters=anyone"})), nothing_missing(declared)},
      {"H9", warn, "stones", pea(), never_silent(no_condition), nothing_missing(no_condition)},
  };
}

std::vector<Row> allergen_rows() {
  using enum Severity;
  return {
      {"G1", warn, "Contains: soy.", soy({"/kitchen/region=us"}), silent(pea({"/kitchen/region=us"})), nothing_missing(from_record)},
      {"G2", warn, "Contains: lupin.", of("lupin-sweet", {"/kitchen/region=eu"}), silent(of("lupin-sweet", {"/kitchen/region=us"})), nothing_missing(from_record)},
      {"G3", warn, "Contains: peanut.", of("peanut", {"/kitchen/region=canada"}), silent(of("lupin-sweet", {"/kitchen/region=canada"})), nothing_missing(from_record)},
      {"G4", warn, "Contains: lupin.", of("lupin-sweet", {"/kitchen/region=anz"}), silent(pea({"/kitchen/region=anz"})), nothing_missing(from_record)},
      {"G5", warn, "can react", pea(), silent(soy()), nothing_missing(from_record)},
      {"G6", warn, "do not claim soy-free unless", pea({"/store/claim=soy-free", "/store/shared_gear=true"}), silent(pea({"/store/claim=soy-free", "/store/shared_gear=false"})),
       left_out(pea({"/store/claim=soy-free"}))},
      {"G7", warn, "sulphites", soy({"/coagulate/with=lemon-juice"}), silent(soy({"/coagulate/with=citric-acid"})), nothing_missing(from_record)},
      {"G8", warn, "barley", soy({"/coagulate/with=vinegar-5"}), silent(soy({"/coagulate/with=lemon-juice"})), nothing_missing(from_record)},
  };
}

}  // namespace curdwright::test
