// SPDX-License-Identifier: MIT
/// \file stages/coagulate.hpp
/// Setting the curd: cooked milk and coagulant in, set milk out.
///
///     CoagulantDose d = coagulant_dose(milk, 0.73, settings, theta);   // of a pulse
///     SetMilk s = coagulate(cooked, dose_mmol_g, coagulable, settings, theta);
///
/// One rule for every divalent salt: mmol of divalent ion per gram of milk protein, then held inside the
/// window of concentrations of the legume. Acids: mmol of acid per gram of milk protein. Litres are those
/// of the milk after evaporation. Only the coagulant used enters the balance, not what is made up.
#pragma once

#include <optional>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"
#include "curdwright/temperature_history.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class CoagulantKind : std::uint8_t { salt, acid, lactone };
template <>
inline constexpr std::array<std::string_view, 3> word_list<CoagulantKind> = {"salt", "acid", "lactone"};
enum class Ion : std::uint8_t { none, calcium, magnesium };
template <>
inline constexpr std::array<std::string_view, 3> word_list<Ion> = {"none", "calcium", "magnesium"};

struct CoagulateSettings {
  CoagulantKind kind = CoagulantKind::salt;
  Ion ion = Ion::calcium;
  double active_mol_kg = 5.8;   ///< moles of divalent ion, or of acid, per kg as weighed
  double solute_kg_kg = 0.79;   ///< salt without crystal water, or acid, per kg as weighed
  double mix_water_kg_kg = 15;  ///< water to stir a kg of it into
  Concentration window_low = millimolar(15);   ///< salts only
  Concentration window_high = millimolar(40);
  Temperature at = celsius(80);
  Duration wait = minutes(15);
  double make_up = 1.5;         ///< mixed ready, times the expected dose
  Temperature mix_at = celsius(20);
  Temperature room = celsius(20);
  int pots = 1;
  std::optional<Mass> used;     ///< as weighed, whatever the size of the batch; reckoned when absent
  std::optional<Dose> dose;     ///< instead of the rule
};

/// How much to use.
struct CoagulantDose {
  double used_kg = 0;       ///< as weighed
  double active_mol = 0;
  Concentration strength;   ///< in the milk, before the mix is added
  bool held_low = false;    ///< raised to the window's lower end
  bool held_high = false;   ///< lowered to its upper end
};

struct SetMilk {
  Stream milk;              ///< with the coagulant, before draining
  Stream mix;               ///< what was poured in
  CoagulantDose dose;
  double setting_protein = 0;  ///< share of the milk protein that the dose brings down
  double acid_to_rule = 0;     ///< acid free at the end of the wait, as a share of what the rule asks; acids only
  double curdled_kg = 0;       ///< protein
  Temperature after_pouring;
  TemperatureHistory history;  ///< from the boil through cooling to the end of the wait
  double hydrolysed = 0;       ///< share of GDL turned to acid by the end of the wait
  Composition made;            ///< by reaction: the water that GDL takes up; sums to zero
  Fault fault = Fault::none;
};

/// \param dose_mmol_g what the legumes ask of a salt; acids bring their own
CoagulantDose coagulant_dose(const Stream& milk, double dose_mmol_g, const CoagulateSettings& settings, const Theta& theta);

/// How fully a divalent salt sets the curd at this strength: nothing below 3 mM, all from 8 to 50, nothing
/// above 210 (magnesium chloride in soy milk, 2021; borrowed for the other salts and legumes). 0 to 1.
double salt_sets(Concentration strength);
/// The same for an acid, by its share of the rule: nothing below 0.3, all from 0.7. The rule is a sensory
/// optimum, so a little less still sets; where that ends is a guess.
double acid_sets(double acid_to_rule);

/// Share of GDL hydrolysed along a history, first order with Arrhenius: 1 - exp(-integral of k dt),
/// k 1.31e-4 1/s at 25 degC (Sawyer and Bagger 1959).
double gdl_hydrolysed(const TemperatureHistory& history, const Theta& theta);

/// Molar masses, kg/mol, IUPAC abridged weights: calcium, magnesium, water, GDL.
inline constexpr double calcium_kg_mol = 40.078e-3, magnesium_kg_mol = 24.305e-3, water_kg_mol = 18.015e-3,
                        gdl_kg_mol = 178.140e-3;

SetMilk coagulate(const Stream& cooked, double dose_mmol_g, double coagulable, const CoagulateSettings& settings, const Theta& theta);

}  // namespace curdwright
