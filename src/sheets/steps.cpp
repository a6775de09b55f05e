// SPDX-License-Identifier: MIT
#include "sheets/steps.hpp"

#include <fmt/format.h>

#include <array>

#include "curdwright/properties.hpp"
#include "curdwright/settling.hpp"
#include "sheets/step_parts.hpp"

namespace curdwright::sheets {
namespace {

SheetStep soak_step(const Kitchenful& k) {
  const SoakSettings& s = k.job().soak;
  SheetStep step = begin(k, Step::sort_and_soak, Stage::soak, "Sort and soak", {Stage::soak});
  for (std::size_t i = 0; i < k.setup().legumes.size(); ++i)
    step.amounts.push_back({k.say.weigh(k.plan().dry * k.job().seeds[i].share), "dry " + k.setup().legumes[i].kitchen_name, ""});
  step.amounts.push_back({k.say.water(k.plan().dry * s.water_to_dry), fmt::format("water at {}", k.say.temperature(s.water_at)), ""});
  step.actions.push_back("Weigh after picking out stones and damaged seed. Rinse.");
  const std::string where = k.setup().soak_in == Where::fridge ? "in the fridge" : fmt::format("on the counter, at {} round it", k.say.temperature(s.surroundings));
  step.actions.push_back(fmt::format("Cover with the water in a vessel of at least {} and soak {} {}.", k.say.volume(soak_vessel(k.plan(), s.changes)), duration(s.time), where));
  if (const std::string extras = extras_here(k, Stage::soak); !extras.empty())
    step.actions.push_back(fmt::format("Stir {} into the soak water{}.", extras, shared_out(s.changes + 1, "soak waters")));
  if (s.changes > 0) step.actions.push_back(fmt::format("Pour the water off and renew it {} on the way.", many(s.changes, "time", "times")));
  const bool split = k.setup().legumes[0].form == SeedForm::split;
  step.ready = split ? "A piece snaps clean, without a chalky line inside." : "Cut a seed: one colour right through, no dry or hollow core.";
  const bool hot = s.water_at > celsius(45);  // hurts at once: common practice, no published source
  if (hot) step.actions.insert(step.actions.begin() + 1, "Gloves, and pour slowly: water so hot scalds.");
  step.if_not = hot ? "Still chalky inside: drain, rinse cold, and cover with fresh cold water for two hours in the fridge." : "Still chalky inside: two to four hours more, in the fridge.";
  return step;
}

SheetStep drain_step(const Kitchenful& k) {
  SheetStep step = begin(k, Step::drain, Stage::soak, "Drain", {});
  step.actions.push_back("Sour, slimy, foaming: throw out seed and water. Else pour the water away.");
  if (k.job().soak.skins_off) step.actions.push_back("Rub the skins off in fresh water and skim them away.");
  step.actions.push_back("Rinse cold, and let it drip two minutes.");
  step.expected.push_back(expected(k, Figure::soaked_mass, "soaked and drained"));
  return step;
}

SheetStep blend_step(const Kitchenful& k) {
  const BlendSettings& b = k.job().blend;
  SheetStep step = begin(k, Step::blend, Stage::blend, "Blend", {Stage::blend});
  warn_of_raw_poison(k, step);
  const double jars = b.jarfuls;
  step.amounts.push_back({k.say.about(k.plan().soaked.mass() / jars), "soaked " + seed_name(k.setup()), b.jarfuls > 1 ? "each jarful" : ""});
  step.amounts.push_back({k.say.water(kilograms(k.plan().water.grinding_kg / jars)), fmt::format("water at {}", k.say.temperature(b.water_at)),
                          b.jarfuls > 1 ? "each jarful" : ""});
  step.amounts.push_back({duration(b.time), "blending", b.jarfuls > 1 ? "each jarful" : ""});
  step.actions.push_back(b.jarfuls > 1 ? fmt::format("{} jarfuls, all alike: share the soaked {} out by weight, add the water, blend.", b.jarfuls, seed_name(k.setup()))
                                       : "One jarful: all the soaked seed, all the water, blend.");
  if (const std::string extras = extras_here(k, Stage::blend); !extras.empty())
    step.actions.push_back(fmt::format("Blend in {}{}.", extras, shared_out(b.jarfuls, "jarfuls")));
  step.ready = "Rub a pinch between two fingers: smooth, no bits.";
  step.if_not = "Bits: blend the jarful again, as long as before.";
  return step;
}

namespace {

/// Pulp and wash water seldom go into the jar at once.
std::string wash_jarfuls_words(const Kitchenful& k, std::size_t wash) {
  const int n = wash_jarfuls(k.job(), k.plan(), wash);
  if (n == 1) return "";
  return fmt::format(", {} jarfuls of about {} of pulp and {} of water,", n, k.say.about(k.plan().strained.pulp.mass() / n), k.say.about(k.plan().dry * (k.job().strain.washes[wash].water_to_dry / n)));
}

}  // namespace

SheetStep strain_step(const Kitchenful& k) {
  SheetStep step = begin(k, Step::strain, Stage::strain, "Strain", {Stage::strain});
  warn_of_raw_poison(k, step);
  const StrainSettings& s = k.job().strain;
  if (k.job().blend.jarfuls > 1) step.actions.push_back("Strain each jarful as it leaves the blender.");
  step.actions.push_back(k.setup().strainer.how);
  for (std::size_t i = 0; i < s.wash_count; ++i) {
    step.amounts.push_back({k.say.water(k.plan().dry * s.washes[i].water_to_dry), "wash water", s.wash_count > 1 ? fmt::format("washing {}", i + 1) : ""});
    step.actions.push_back(s.washes[i].blend.si() > 0 ? fmt::format("Blend the pulp with the wash water for {}{} and strain it again, into the same bucket.", duration(s.washes[i].blend), wash_jarfuls_words(k, i))
                                                      : "Stir the wash water into the pulp, wait five minutes, and strain it again, into the same bucket.");
  }
  step.actions.push_back(fmt::format("Weigh the pulp, then into a lidded tub, labelled \"{}\", into the fridge now.", raw_label(k)));
  step.ready = "The pulp is fine, clumps in the fist and crumbles when rubbed.";
  step.if_not = fmt::format("Bits in the pulp: back into the jar with {} of water for each jarful, and strain again. A cloth that blocks: scrape it and rinse it.", k.say.water(grams(200)));
  step.expected.push_back(expected(k, Figure::pulp_mass, "pulp"));
  step.expected.push_back(expected(k, Figure::milk_mass, "milk"));
  return step;
}

void write_gel(const Kitchenful& k, SheetStep& step) {
  const int pots = k.job().cook.pots;
  const std::string milk = pots > 1 ? fmt::format("Share the milk out over {} rounds, {} each; what waits stands in the fridge. Warm each round", pots, k.say.about((k.plan().destarched.milk.mass() + k.plan().destarched.gel.mass()) / pots)) : std::string("Milk into the pot. Warm it");
  step.actions.push_back(fmt::format("{} gently, stirring along the bottom of the pot, to {}; keep it there two minutes until it thickens.", milk, k.say.temperature(k.job().starch.gel_at)));
  const std::string_view label = boil_of(k.setup().legumes) != Boil::simmer ? raw_label(k) : "half cooked, boil first";
  step.actions.push_back(fmt::format("Strain the gel off through a coarse cloth into a clean bucket while it is warm; do not force it. Gel into a lidded tub, labelled \"{}\", into the fridge; rinse the pot{}.", label, pots > 1 ? ". The first round's milk goes back in; that of the others into shallow tubs in ice water at once" : ", and the milk goes back in"));
}

/// How long is long enough, in this vessel.
std::string settling_words(const SettlingAdvice& a) {
  const auto after = [](const std::optional<Duration>& d) { return d ? duration(*d) : std::string("more than two days"); };
  return fmt::format("Of what can settle, {} % is down by then. 90 % takes {} and 95 % takes {}; past {} waiting gains next to nothing.", fixed(100 * a.planned, 0), after(a.ninety),
                     after(a.ninety_five), after(a.enough));
}

/// The same milk over all vessels of the kitchen stands lower, and is clear sooner.
std::string idle_vessels_words(const Kitchenful& k) {
  constexpr double clear_enough = 0.9;
  const int all = k.setup().kitchen.settling_vessels;
  if (!k.settling || k.settling->planned >= clear_enough || k.job().starch.depth || k.job().starch.vessels >= all) return "";
  Batch spread = k.batch;
  spread.setup.job.starch.vessels = all;
  spread.plan = plan(spread.setup.job, spread.theta);
  const auto sooner = settling_advice(spread);
  return sooner && sooner->ninety && sooner->planned > k.settling->planned ? fmt::format("In all {} vessels it stands {} deep, and 90 % is down after {}: if you pour it so, tell depth=.", all, k.say.length(spread.plan.destarched.depth), duration(*sooner->ninety)) : "";
}

/// How the milk stands, and how it leaves its starch.
void write_settling(const Kitchenful& k, SheetStep& step) {
  const StarchSettings& s = k.job().starch;
  step.amounts.push_back({duration(s.time), s.times > 1 ? fmt::format("standing, {} times", s.times) : "standing", ""});
  step.amounts.push_back({k.say.length(k.plan().destarched.depth), "deep", s.vessels > 1 ? fmt::format("in each of {} vessels", s.vessels) : "in one vessel"});
  step.actions.push_back(fmt::format("Pour the milk into the {}, put the lid on, and let it stand {}; do not move it.", s.vessels > 1 ? "vessels, all to one depth" : "vessel",
                                     k.setup().starch_in == Where::fridge ? "in the fridge" : "at room temperature"));
  if (k.settling) step.actions.push_back(settling_words(*k.settling));
  if (std::string words = idle_vessels_words(k); !words.empty()) step.actions.push_back(std::move(words));
  step.actions.push_back(fmt::format("Ladle from the top into a clean {}. Stop at the first white swirls: the last cloudy milk stays behind with the starch.", s.times > 1 ? "bucket" : "bucket or the pot"));
  step.actions.push_back("Pour the last cloudy milk off the firm layer into a tub.");
  step.actions.push_back(fmt::format("Weigh the {} with the layer in, less {} tare; then the starch into the same tub: lid, label \"{}\", fridge.", s.vessels > 1 ? "vessels" : "vessel", s.vessels > 1 ? "their" : "its", raw_label(k)));
  if (s.times > 1) step.actions.push_back("Rinse the vessels, pour the milk back, and let it settle again in the same way.");
  step.actions.push_back("Milk to the pot.");
  step.ready = "A firm white layer on the bottom, milk above it of one even colour.";
  step.if_not = "No layer, or it swirls at a touch: twenty minutes more, in the fridge. Raw milk may be out of the cold two hours in all.";
  step.expected.push_back(expected(k, Figure::sediment_mass, s.times > 1 ? fmt::format("starch layer alone, {} times added up", s.times) : "starch layer alone"));
}

SheetStep starch_step(const Kitchenful& k) {
  const StarchSettings& s = k.job().starch;
  const bool settles = s.settles();
  SheetStep step = begin(k, Step::settle, Stage::starch, settles ? "Let the starch settle" : "Thicken and strain the starch", {Stage::starch});
  warn_of_raw_poison(k, step);
  if (settles) write_settling(k, step);
  if (s.strains_gel()) {
    warn_here_too(k, step, "K7");
    write_gel(k, step);
    step.ready += fmt::format("{}hick threads cling to the spoon, and thin milk runs through the cloth.", settles ? " Warmed: t" : "T");
    step.if_not += fmt::format("{}The cloth clogs: scrape it, and pour less at a time.", settles ? " " : "");
    step.expected.push_back({{k.say.about(k.plan().destarched.gel.mass()), "starch gel", ""}, {}});
  }
  step.expected.push_back(expected(k, Figure::settled_milk_mass, s.strains_gel() ? "milk back in the pot, the gel off" : "milk into the pot"));
  return step;
}

}  // namespace

std::string seed_name(const Setup& s) { return s.legumes.size() == 1 ? s.legumes[0].kitchen_name : "beans"; }

Volume soak_vessel(const Plan& p, int changes) {
  constexpr double headroom = 1.2;
  const double seed = p.seed.of.total_kg() / in_kilograms_per_cubic_metre(mixture_density(p.seed.of, celsius(20)));
  return Volume::from_si((seed + p.soak_water_in.of.total_kg() / (1 + changes) / in_kilograms_per_cubic_metre(water_density(celsius(20)))) * headroom);
}

bool lies_under_its_own_weight(const Setup& s) { return s.press.id == "no-press" && !s.recipe.press.pressure && !s.recipe.press.weight && !s.recipe.press.moisture; }

Mass mix_to_pour(const Batch& b) { return b.plan.set.mix.mass(); }
Mass mix_kept_back(const Batch& b) { return (coagulant_made_up(b) - kilograms(b.plan.set.dose.used_kg)) * (1 + b.setup.job.coagulate.mix_water_kg_kg); }
Mass extra_mass(const Batch& b, std::size_t i) { return b.setup.job.extras[i].mass(b.plan.dry); }
std::string extra_amount(const Batch& b, std::size_t i, const Amounts& say) {
  const auto& spoon = b.setup.extras[i].extra.teaspoon;
  return spoon ? say.weigh_fine(extra_mass(b, i), spoon->value) : say.grams_fine(extra_mass(b, i));
}

std::vector<SheetStep> write_steps(const Kitchenful& k) {
  std::vector<SheetStep> steps = {soak_step(k), drain_step(k), blend_step(k), strain_step(k)};
  if (k.job().starch.remove != StarchRemoval::none) steps.push_back(starch_step(k));
  for (auto* write : {cook_step, set_step, press_step, chill_step}) steps.push_back(write(k));
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i].number = static_cast<int>(i) + 1;
  return steps;
}

}  // namespace curdwright::sheets
