// SPDX-License-Identifier: MIT
// Rules T: time and temperature.
#include "rules/rules.hpp"

namespace curdwright::test {
namespace {

void unknown_fridge(Batch& b) { b.setup.kitchen.fridge = celsius(unknown); }
void unknown_press(Facts& f) { f.uncontrolled_h = unknown; }

}  // namespace

std::vector<Row> time_rows() {
  using enum Severity;
  return {
      {"T1", warn, "only cold", pea(), never_silent(no_condition), nothing_missing(no_condition)},
      // A fridge at 6 degC never brings the centre under 5: a time that does not exist is not met.
      {"T2", warn, "from 57 under 21 degC within 2 h", pea({"/press/time=3 h"}), silent(pea({"/press/time=2 h"})),
       left_out(pea({"/chill/in=still-fridge", "/kitchen/fridge/temperature=6 degC"}))},
      {"T4", warn, "still fridge", pea({"/block/mass=550 g", "/chill/in=still-fridge"}), silent(pea({"/block/mass=450 g", "/chill/in=still-fridge"})),
       unknown_in_batch([](Batch& b) { b.plan.pressed.block_height = centimetres(unknown); })},
      {"T5", warn, "at 57 degC or above. Planned: 56 degC", pea({"/store/where=hot", "/store/at=56 degC"}), silent(pea({"/store/where=hot", "/store/at=57 degC"})),
       left_out(pea({"/store/where=hot"}))},
      {"T6", warn, "must hold 5 degC", pea({"/kitchen/fridge/temperature=5.5 degC"}), silent(pea({"/kitchen/fridge/temperature=5 degC"})),
       unknown_in_batch(unknown_fridge)},
      {"T7", warn, "After 4 h", pea({"/press/time=5 h"}), silent(pea({"/press/time=4 h"})), unknown_fact(unknown_press)},
      {"T8", warn, "2 h on the counter", pea({"/press/time=3 h"}), silent(pea({"/press/time=2 h"})), unknown_fact(unknown_press)},
      {"T9", warn, "from 63 under 8 degC within 90 min", pea({"/kitchen/region=uk", "/press/time=3 h"}), silent(pea({"/kitchen/region=uk"})),
       left_out(pea({"/kitchen/region=uk", "/chill/in=still-fridge", "/kitchen/fridge/temperature=8 degC"}))},
      {"T10", warn, "82 degC", pea({"/kitchen/region=scotland", "/store/reheat=81 degC"}), silent(pea({"/kitchen/region=scotland", "/store/reheat=82 degC"})),
       left_out(pea({"/kitchen/region=scotland", "/store/where=hot"}))},
      {"T11", warn, "from 60 under 10 degC within 2 h", pea({"/kitchen/region=codex", "/press/time=3 h"}), silent(pea({"/kitchen/region=codex"})),
       left_out(pea({"/kitchen/region=codex", "/chill/in=still-fridge"}))},
      {"T12", warn, "from 60 under 20 degC within 2 h", pea({"/kitchen/region=canada", "/press/time=3 h"}),
       silent(pea({"/kitchen/region=canada"})), left_out(pea({"/kitchen/region=canada", "/chill/in=still-fridge"}))},
      {"T13", note, "no single cooling clock", pea({"/kitchen/region=eu"}), silent(pea({"/kitchen/region=us"})), nothing_missing("a kitchen always has a region")},
      {"T14", warn, "Planned for day 8, but the last day at this temperature is day 7", pea({"/store/days=8"}), silent(pea({"/store/days=7"})),
       unknown_in_batch(unknown_fridge)},  // the seven days hold only for a fridge that is known to be cold
      {"T15", warn, "1 of 7", pea({"/store/where=freezer", "/store/days_before_freezing=1"}), silent(pea({"/store/where=freezer", "/store/days_before_freezing=0"})),
       nothing_missing(declared)},
      {"T16", warn, "4 days, not 7", pea({"/kitchen/fridge/temperature=6 degC"}), silent(pea({"/kitchen/fridge/temperature=5 degC"})),
       unknown_in_batch(unknown_fridge)},
      {"T17", warn, "57 degC or more before", pea({"/store/where=hot", "/store/reheat=56 degC"}), silent(pea({"/store/where=hot", "/store/reheat=57 degC"})),
       left_out(pea({"/store/where=hot", "/store/at=60 degC"}))},
      {"T18", warn, "74 degC within 2 h", pea({"/store/where=hot", "/store/reheat=73 degC"}), silent(pea({"/store/where=hot", "/store/reheat=74 degC"})),
       left_out(pea({"/store/where=hot", "/store/at=60 degC"}))},
      {"T19", stop, "botulism", pea({"/store/where=room"}), silent(pea({"/store/where=fridge", "/store/ferment=false"})), nothing_missing(asked)},
      {"T20", warn, "not shelf-stable on a claim", pea({"/store/ph=4.6"}), silent(pea({"/store/ph=4.7"})), nothing_missing(asked)},
      {"T21", warn, "Sealed without air", pea({"/store/pack=sealed"}), silent(pea({"/store/pack=open"})), nothing_missing(declared)},
  };
}

}  // namespace curdwright::test
