// SPDX-License-Identifier: MIT
// Amounts as a cook reads them. The only rounding for people; machine output has its own.
#pragma once

#include <string>

#include "curdwright/kitchen.hpp"
#include "curdwright/sheet.hpp"
#include "text/spoken.hpp"

namespace curdwright::sheets {

class Amounts {
 public:
  /// \param spoons spoon measures in metric units too
  Amounts(Units units, const Kitchen& kitchen, bool spoons = false) : units_(units), spoons_(spoons || units == Units::us), kitchen_(kitchen) {}

  /// To be weighed out: as the scale shows it.
  [[nodiscard]] std::string weigh(Mass m) const;
  /// To be weighed on the fine scale, with a spoon measure beside it where those are wanted.
  [[nodiscard]] std::string weigh_fine(Mass m, double grams_per_teaspoon) const;
  /// Water to be measured: weight, or quarts with it.
  [[nodiscard]] std::string water(Mass m) const;
  /// Expected: no more digits than such a figure can have.
  [[nodiscard]] std::string about(Mass m) const;
  /// To be laid on a press: nobody loads a mould to the gram.
  [[nodiscard]] std::string load(Mass m) const;
  /// "1.6 to 2.2 kg", "730 g to 1.2 kg".
  [[nodiscard]] std::string between(Mass low, Mass high) const;
  [[nodiscard]] std::string temperature(Temperature t) const;
  /// A least temperature, rounded up: what is safe in one unit is so in the other.
  [[nodiscard]] std::string no_less_than(Temperature t) const;
  /// Words in which temperatures are written "60 degC", in the units of the sheet.
  [[nodiscard]] std::string in_units(std::string_view words) const;
  [[nodiscard]] std::string length(Length l) const;
  [[nodiscard]] std::string volume(Volume v) const;
  [[nodiscard]] std::string pressure(Pressure p) const;
  /// A weight of a fine-scale amount, whatever unit system: the step decides the digits.
  [[nodiscard]] std::string grams_fine(Mass m) const;

 private:
  Units units_;
  bool spoons_;
  const Kitchen& kitchen_;
};

using text::duration, text::fixed, text::many;
/// On the batch's own clock: "16 h 10".
std::string clock(Duration d);

}  // namespace curdwright::sheets
