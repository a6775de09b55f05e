// SPDX-License-Identifier: MIT
// Where the stages enter their terms. What is entered twice stands once; what nothing needs is left out in the end.
#pragma once

#include <array>
#include <functional>
#include <map>
#include <optional>

#include "accounts/text.hpp"
#include "curdwright/account.hpp"

namespace curdwright::accounts {

/// What is followed through the stages, kg: the eight components, starch that can settle, and three minerals.
inline constexpr std::size_t part_count = 12, settling = 8, calcium = 9, magnesium = 10, sodium = 11;
inline constexpr std::size_t part(Component c) { return static_cast<std::size_t>(c); }
std::string_view part_name(std::size_t part);
double part_of(const Stream& s, std::size_t part);

/// A stream as texts: keys, or formulas that stand in no term of their own.
struct Flow {
  std::array<Ex, part_count> part{};
  Ex mass, solids;
  Ex at;  ///< temperature, K
  [[nodiscard]] const Ex& operator[](Component c) const { return part[static_cast<std::size_t>(c)]; }
};

using PartFormula = std::function<Ex(std::size_t)>;

class Book {
 public:
  explicit Book(const Batch& b) : batch(b), plan(b.plan), job(b.setup.job), setup(b.setup), theta(b.theta) {}
  const Batch& batch;
  const Plan& plan;
  const Job& job;
  const Setup& setup;
  const Theta& theta;

  /// "_2" of the second legume of a mix; nothing where there is one legume.
  [[nodiscard]] std::string tail(std::size_t legume) const;

  Ex formula(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& text, std::vector<NamedText> where = {});
  Ex param(Param p, std::size_t legume = 0);
  Ex setting(const std::string& key, double value, std::string_view unit, std::string_view plain, std::string from);
  Ex constant(const std::string& key, double value, std::string_view unit, std::string_view plain, std::string_view source);
  /// \param factor from the record's unit to `unit`
  Ex record(const std::string& key, const Evidence& e, double factor, std::string_view unit, std::string_view plain, std::string from);
  Ex integral(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& integrand, std::vector<PieceText> pieces, std::vector<NamedText> where = {});
  Ex root(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& zero, std::string_view unknown, std::vector<NamedText> where);

  /// Enters the parts of a stream that are there, its mass and its solids: "milk_protein_kg", "milk_kg", "milk_solids_kg".
  Flow flow(const std::string& prefix, std::string_view plain, const Stream& s, const PartFormula& text);

  [[nodiscard]] const Term* find(std::string_view key) const;

 private:
  Ex enter(Term t);
  std::map<std::string, Term, std::less<>> terms_;
};

/// "recipe /soak/time", or where it comes from when the recipe does not tell.
std::string told_or(bool told, std::string_view pointer, std::string_view otherwise);

/// A stream with the extras of a stage stirred in.
Flow with_extras(Book& book, const Flow& plain, Stage stage, const std::string& prefix);
/// The extras of a stage.
Flow extras_flow(Book& book, Stage stage);

// Properties of streams as terms.
Ex heat_capacity(Book& book, const std::string& key, std::string_view plain, const Flow& f, const Stream& s, Temperature at, const Ex& at_k);
Ex mixed(Book& book, const std::string& key, std::string_view plain, Temperature value, const std::array<Ex, 2>& heats, const std::array<Ex, 2>& temperatures);
/// m3 at 20 degC, with Kell's water.
Ex volume(Book& book, const std::string& key, std::string_view plain, const Flow& f, const Composition& c);
/// Volume of kilograms by the densities at 20 degC: sum of kg over density, water by Choi and Okos.
Ex volume_text(Book& book, const Flow& f);
/// The same with the water of Kell, as milk and whey are measured.
Ex liquid_volume_text(Book& book, const Flow& f);
Ex pot_surface_text(const Ex& mass);
Ex kelvin_term(Book& book, const std::string& key, Temperature t, std::string_view plain, std::string from);

/// Starch in a bin of sizes, of what can settle.
using BinMasses = std::array<Ex, Granules::bins>;

// The stages, in order; each takes the flow of the one before and gives its own.
struct Soaking {
  std::array<LotSoak, max_legumes> lots;
  std::array<Flow, max_legumes> seed;     ///< soaked, by legume
  std::array<Ex, max_legumes> dissolved;  ///< share of the soak's extras that each took up
  Flow soaked;
  Ex uptake;
};
Flow seed_terms(Book& book, std::array<Flow, max_legumes>& lots);
Soaking soak_terms(Book& book);
struct Ground {
  Flow free, bound, releasable;
  Ex dose, coagulable;
  BinMasses bins;  ///< of the releasable
};
Ground blend_terms(Book& book, const Soaking& soaked);
Flow strain_terms(Book& book, const Ground& ground);
Flow starch_terms(Book& book, const Ground& ground, const Flow& strained);
Flow cook_terms(Book& book, const Flow& milk);
Flow coagulate_terms(Book& book, const Ground& ground, const Flow& cooked);
Flow press_terms(Book& book, const Flow& set);

}  // namespace curdwright::accounts
