// SPDX-License-Identifier: MIT
// A batch in hand: measured beside planned, and what is planned otherwise now.
#pragma once

#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// Fills what a sheet says of it, and marks the steps that are done. Steps and cautions must be there.
void write_correction(Sheet& sheet, const Correction& c, const SheetOptions& options, const Amounts& say);

/// Made up by the plan and not poured, as far as is told. With several pots the dose of those to come is not in it.
Mass mix_in_jug(const Correction& c);

/// What a slip most likely is, in words: "weighed with the stockpot?".
std::string slip_words(const Slip& slip);

/// "pulp and milk together weigh 6 % more than what went in: ..."
std::string gain_words(const MassGain& gain);
/// What was told by that word, where it may be believed; nullptr else.
const Told* trusted(const Correction& c, std::string_view word);

/// A number of a parameter's own in its unit, for people: "3.5 kg/kg".
std::string param_amount(Param p, double value);

}  // namespace curdwright::sheets
