// SPDX-License-Identifier: MIT
#include "curdwright/stages/coagulate.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/properties.hpp"

using namespace curdwright;

namespace {

Theta figures() {
  Theta t;
  t.set(Param::coagulant_strength, 0, 1.0), t.set(Param::acid_dose, 0, 0.45), t.set(Param::vessel_coefficient, 0, 10), t.set(Param::pot_loss, 0, 20);
  t.set(Param::gdl_rate, 0, 1.31e-4), t.set(Param::gdl_activation_energy, 0, 62.76);
  return t;
}

/// Ten kilograms with `protein` kg in it.
Stream milk(double protein = 0.275) {
  Stream s;
  s.of[Component::protein] = protein, s.of[Component::sugars] = 0.2, s.of[Component::water] = 10 - 0.2 - protein;
  s.at = celsius(100);
  return s;
}

/// Pure gypsum.
CoagulateSettings gypsum() {
  CoagulateSettings s;
  s.active_mol_kg = 1 / 0.172164, s.solute_kg_kg = 1 - 0.20928, s.mix_water_kg_kg = 15;
  s.window_low = millimolar(15), s.window_high = millimolar(40);
  return s;
}

CoagulateSettings gdl() {
  CoagulateSettings s;
  s.kind = CoagulantKind::lactone, s.ion = Ion::none, s.active_mol_kg = 1 / 0.17814, s.solute_kg_kg = 1, s.mix_water_kg_kg = 10;
  s.at = celsius(85), s.wait = minutes(45);
  return s;
}

double litres_of(const Stream& s) { return in_litres(volume_at_20(s.of)); }

}  // namespace

TEST_CASE("the dose of a salt is reckoned on the protein of the milk") {
  const CoagulantDose d = coagulant_dose(milk(), 0.73, gypsum(), figures());
  CHECK(d.active_mol == Approx(0.73 * 0.275));
  CHECK(d.used_kg == Approx(0.73 * 0.275 * 0.172164));
  CHECK(in_millimolar(d.strength) == Approx(1e3 * 0.73 * 0.275 / litres_of(milk())));
  // science.md 7.3: 20 mmol/l on 2.75 % protein; 3.443 g of gypsum per litre.
  CHECK(in_millimolar(d.strength) == Approx(20).epsilon(0.02));
  CHECK(1e3 * d.used_kg / litres_of(milk()) == Approx(3.443).epsilon(0.02));
  CHECK_FALSE(d.held_low);
  CHECK_FALSE(d.held_high);
}

TEST_CASE("the dose of a salt is held inside the window of the legume, and says so") {
  const CoagulantDose thin = coagulant_dose(milk(0.1), 0.73, gypsum(), figures());
  CHECK(thin.held_low);
  CHECK(in_millimolar(thin.strength) == Approx(15));
  const CoagulantDose thick = coagulant_dose(milk(0.9), 0.73, gypsum(), figures());
  CHECK(thick.held_high);
  CHECK(in_millimolar(thick.strength) == Approx(40));
}

TEST_CASE("a dose or an amount that is told is not held") {
  CoagulateSettings s = gypsum();
  s.dose = millimoles_per_gram(0.1);
  CHECK(coagulant_dose(milk(), 0.73, s, figures()).active_mol == Approx(0.0275));
  s.used = grams(60);
  CHECK(coagulant_dose(milk(), 0.73, s, figures()).used_kg == Approx(0.06));
  CHECK_FALSE(coagulant_dose(milk(), 0.73, s, figures()).held_low);
}

TEST_CASE("a stronger salt than its label brings more ions for the same weight") {
  Theta t = figures();
  t.set(Param::coagulant_strength, 0, 1.2);
  const CoagulantDose strong = coagulant_dose(milk(), 0.73, gypsum(), t), plain = coagulant_dose(milk(), 0.73, gypsum(), figures());
  CHECK(strong.used_kg == Approx(plain.used_kg));
  CHECK(strong.active_mol == Approx(1.2 * plain.active_mol));
  CHECK(strong.strength.si() == Approx(1.2 * plain.strength.si()));
}

TEST_CASE("acids bring their own rule and know no window") {
  CoagulateSettings s = gdl();
  const CoagulantDose d = coagulant_dose(milk(0.05), 0.73, s, figures());
  CHECK(d.active_mol == Approx(0.45 * 0.05));
  CHECK_FALSE(d.held_low);
}

TEST_CASE("a salt sets nothing below 3, all from 8 to 50 and nothing above 210 millimoles in a litre") {
  // science.md 7.4.
  CHECK(salt_sets(millimolar(2.9)) == 0.0);
  CHECK(salt_sets(millimolar(3)) == 0.0);
  CHECK(salt_sets(millimolar(5.5)) == Approx(0.5));
  CHECK(salt_sets(millimolar(8)) == Approx(1));
  CHECK(salt_sets(millimolar(50)) == Approx(1));
  CHECK(salt_sets(millimolar(130)) == Approx(0.5));
  CHECK(salt_sets(millimolar(210)) == Approx(0).margin(1e-12));
  CHECK(salt_sets(millimolar(500)) == 0.0);
}

TEST_CASE("GDL turns sour with the printed half-lives") {
  // science.md 7.6: 4 degC 10.0 h, 20 degC 2.26 h, 25 degC 88 min, 60 degC 6.2 min, 80 degC 103 s, 90 degC 57 s.
  const double c[] = {4, 20, 25, 60, 80, 90}, half_s[] = {36000, 8136, 5280, 372, 103, 57};
  for (int i = 0; i < 6; ++i) {
    INFO(c[i]);
    CHECK(gdl_hydrolysed(TemperatureHistory(celsius(c[i])).hold(seconds(half_s[i])), figures()) == Approx(0.5).epsilon(0.01));
  }
  CHECK(gdl_hydrolysed(TemperatureHistory(celsius(90)), figures()) == 0.0);
}

TEST_CASE("the mix holds the salt without its crystal water, the water it is stirred into, and the ion") {
  const SetMilk r = coagulate(milk(), 0.73, 0.75, gypsum(), figures());
  const double used = r.dose.used_kg;
  CHECK(r.mix.of[Component::salts] == Approx(used * (1 - 0.20928)));
  CHECK(r.mix.of[Component::water] == Approx(used * (15 + 0.20928)));
  CHECK(r.mix.of.total_kg() == Approx(16 * used));
  CHECK(r.mix.minerals.calcium_kg == Approx(0.2328 * used).epsilon(1e-3));  // science.md 11: 232.8 mg/g
  CHECK(r.mix.minerals.magnesium_kg == 0.0);
  CHECK(r.milk.of.total_kg() == Approx(10 + 16 * used));
  CoagulateSettings nigari = gypsum();
  nigari.ion = Ion::magnesium, nigari.active_mol_kg = 1 / 0.203295;
  const SetMilk m = coagulate(milk(), 0.73, 0.75, nigari, figures());
  CHECK(m.mix.minerals.magnesium_kg == Approx(0.1196 * m.dose.used_kg).epsilon(1e-3));  // science.md 11: 119.6 mg/g
}

TEST_CASE("the share that curdles is the legume's, by how fully the dose sets") {
  const SetMilk r = coagulate(milk(), 0.73, 0.75, gypsum(), figures());
  CHECK(r.setting_protein == Approx(0.75));
  CHECK(r.curdled_kg == Approx(0.75 * 0.275));
  CHECK(r.fault == Fault::none);
  CoagulateSettings weak = gypsum();
  weak.dose = millimoles_per_gram(0.2);
  const SetMilk half = coagulate(milk(), 0.73, 0.75, weak, figures());
  CHECK(half.setting_protein == Approx(0.75 * salt_sets(half.dose.strength)));
  weak.dose = millimoles_per_gram(0.05);
  CHECK(coagulate(milk(), 0.73, 0.75, weak, figures()).fault == Fault::no_curd);
}

TEST_CASE("a pour of a cold mix cools the milk by a degree or three") {
  const SetMilk r = coagulate(milk(), 0.73, 0.75, gypsum(), figures());
  const double fall = in_celsius(celsius(80)) - in_celsius(r.after_pouring);
  CHECK((fall > 1 && fall < 4));  // science.md 7.5: 1-3 K
  Stream hot = milk();
  hot.at = celsius(80);
  CHECK(in_celsius(r.after_pouring) == Approx(in_celsius(mixed_temperature(hot, r.mix))));
}

TEST_CASE("the open pot cools from the boil to the pour, and on through the wait under its lid") {
  const SetMilk r = coagulate(milk(), 0.73, 0.75, gypsum(), figures());
  const double tau = in_seconds(pot_time_constant(milk().of, celsius(80), 20));
  const double cooling = tau * std::log((100.0 - 20) / (80.0 - 20));
  CHECK(in_seconds(r.history.length()) == Approx(cooling + 900));
  CHECK(in_celsius(r.history.at(seconds(cooling))) == Approx(80));
  const double covered = in_seconds(pot_time_constant(r.milk.of, celsius(80), 10));
  CHECK(in_celsius(r.history.end()) == Approx(20 + (in_celsius(r.after_pouring) - 20) * std::exp(-900 / covered)));
  CHECK(r.milk.at == r.history.end());
}

TEST_CASE("milk that is to be poured at the boil or above does not cool first") {
  CoagulateSettings s = gypsum();
  s.at = celsius(100);
  CHECK(in_minutes(coagulate(milk(), 0.73, 0.75, s, figures()).history.length()) == Approx(15));
}

TEST_CASE("an acid that is told sets by what the rule asks, not by itself") {
  CoagulateSettings s = gdl();
  s.kind = CoagulantKind::acid;
  s.dose = millimoles_per_gram(0.45 * 0.2);  // a fifth of the rule
  CHECK(coagulate(milk(), 0.73, 0.75, s, figures()).fault == Fault::no_curd);
  s.dose = millimoles_per_gram(0.45 * 0.5);
  const SetMilk half = coagulate(milk(), 0.73, 0.75, s, figures());
  CHECK(half.acid_to_rule == Approx(0.5));
  CHECK(half.setting_protein == Approx(0.75 * 0.5));  // acid_sets(0.5)
  s.dose.reset();
  CHECK(coagulate(milk(), 0.73, 0.75, s, figures()).acid_to_rule == Approx(1));
}

TEST_CASE("GDL that has had no time or warmth to turn sour does not set") {
  CoagulateSettings s = gdl();
  s.at = celsius(20), s.wait = minutes(5);
  const SetMilk cold = coagulate(milk(), 0.73, 0.75, s, figures());
  CHECK(cold.hydrolysed < 0.3);
  CHECK(cold.fault == Fault::no_curd);
}

TEST_CASE("milk that is to be poured colder than the room stands until it is as cold as the room, and then is chilled") {
  CoagulateSettings s = gypsum();
  s.at = celsius(15);
  const SetMilk r = coagulate(milk(), 0.73, 0.75, s, figures());
  CHECK(in_hours(r.history.length()) > 5);
  CHECK(in_celsius(r.after_pouring) < 20.5);
}

TEST_CASE("GDL takes up water as it sours, and the balance knows") {
  const SetMilk r = coagulate(milk(), 0.73, 0.75, gdl(), figures());
  CHECK(r.hydrolysed > 0.99);
  CHECK(r.made[Component::salts] == Approx(r.hydrolysed * r.dose.used_kg * 18.015 / 178.140));
  CHECK(r.made.total_kg() == Approx(0).margin(1e-18));
  CHECK(r.milk.of[Component::salts] == Approx(r.mix.of[Component::salts] + r.made[Component::salts]));
  CHECK(r.setting_protein == Approx(0.75));
  CHECK(in_celsius(r.after_pouring) == Approx(85));
  CoagulateSettings s = gypsum();
  CHECK(coagulate(milk(), 0.73, 0.75, s, figures()).made.total_kg() == 0.0);
}
