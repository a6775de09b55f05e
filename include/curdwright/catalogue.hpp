// SPDX-License-Identifier: MIT
/// \file catalogue.hpp
/// What is known of legumes, coagulants, extras and equipment, each figure with its evidence.
///
///     Catalogue c = Catalogue::shipped();
///     Result<Legume> pea = c.legume("pea-split-yellow");       // or a common name
///     const Evidence& k1 = pea->evidence(Param::soak_k1);      // value, range, how known, source
///     Result<void> ok = c.add(texts);                          // records of your own, same checks
///
/// Shipped records are compiled into the program as the texts of data/ and read by the same reader as a
/// user's own. Only the records that are asked for are read, and each is read once: a catalogue remembers it for itself
/// and its copies, until records are added. Any number of threads may ask one catalogue at the same time.
#pragma once

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/composition.hpp"
#include "curdwright/parameters.hpp"
#include "curdwright/problem.hpp"
#include "curdwright/quantity.hpp"
#include "curdwright/stages/coagulate.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class SeedForm { whole, split, kernel };
template <>
inline constexpr std::array<std::string_view, 3> word_list<SeedForm> = {"whole", "split", "kernel"};
enum class SeedKind { pulse, soy, oilseed, lupin };
template <>
inline constexpr std::array<std::string_view, 4> word_list<SeedKind> = {"pulse", "soy", "oilseed", "lupin"};
enum class Hazard { kidney_lectin, lima_cyanide, favism, lupin_alkaloids, aflatoxin, trypsin_inhibitor };
template <>
inline constexpr std::array<std::string_view, 6> word_list<Hazard> = {"kidney-lectin", "lima-cyanide", "favism", "lupin-alkaloids", "aflatoxin", "trypsin-inhibitor"};

struct Legume {
  std::string id, name, kitchen_name, latin;
  std::vector<std::string> also;
  SeedForm form = SeedForm::whole;
  SeedKind kind = SeedKind::pulse;
  Duration soak_time = hours(16);
  std::array<Evidence, legume_param_count> figures;  ///< by Param
  Evidence carbohydrate;   ///< by difference, with fibre, g/100g
  Evidence sodium;         ///< mg/100g
  Evidence milk_protein;   ///< to aim for in strained milk, g/100g
  Evidence hold;           ///< of the cooking, from where `boil_of` has it begin, min
  double window_low_mm = 15, window_high_mm = 40;  ///< of a divalent salt, mmol/l
  std::string window_source;
  std::vector<std::string> allergens;
  std::vector<Hazard> hazards;
  std::vector<std::string> notes;

  [[nodiscard]] const Evidence& evidence(Param p) const { return figures[static_cast<std::size_t>(p)]; }
  [[nodiscard]] bool has(Hazard h) const;
};

/// What the milk of a mix is cooked at, and its time counted from.
enum class Boil {
  simmer,     ///< a full simmer
  uncovered,  ///< a hard boil, lid off, for what leaves with the steam: any with lima_cyanide
  rolling,    ///< a full rolling boil, probed: any with kidney_lectin
};
template <>
inline constexpr std::array<std::string_view, 3> word_list<Boil> = {"full simmer", "hard boil, lid off", "full rolling boil"};
Boil boil_of(std::span<const Legume> legumes);
/// What must not be eaten, sold or cooked by another recipe before a boil of its own has made it safe.
inline bool raw_is_poisonous(std::span<const Legume> legumes) { return boil_of(legumes) != Boil::simmer; }

enum class PourWay { at_once, thirds, drizzle, mix_cold };
template <>
inline constexpr std::array<std::string_view, 4> word_list<PourWay> = {"at-once", "thirds", "drizzle", "mix-cold"};
enum class CoagulantForm { powder, flakes, liquid };
template <>
inline constexpr std::array<std::string_view, 3> word_list<CoagulantForm> = {"powder", "flakes", "liquid"};

struct Coagulant {
  std::string id, name, kitchen_name, grade, e_number;
  CoagulantKind kind = CoagulantKind::salt;
  CoagulantForm form = CoagulantForm::powder;
  Ion ion = Ion::none;
  std::vector<std::string> also;
  Evidence molar_mass;                  ///< g/mol, of the compound as weighed
  std::optional<Evidence> crystal_water;///< mass fraction
  std::optional<Evidence> purity;       ///< solids: mass fraction of the compound
  std::optional<Evidence> strength;     ///< liquids: mol/l
  std::optional<Evidence> density;      ///< liquids: kg/l
  std::optional<Evidence> dose;         ///< acids: mmol per g protein
  Evidence mix_water;                   ///< kg/kg
  Evidence teaspoon;                    ///< g
  Temperature at = celsius(80);
  Duration wait = minutes(15);
  double make_up = 1.5;
  PourWay pour = PourWay::at_once;
  bool metal_reacts = false;
  std::vector<std::string> cautions;
  std::vector<std::string> notes;
};

/// Where seasoning and other extras may go in.
inline constexpr std::array extra_stages = {Stage::soak, Stage::blend, Stage::cook, Stage::coagulate, Stage::press};

/// Salt, oil, herbs and the like: what goes in besides seed, water and coagulant.
struct Extra {
  std::string id, name, kitchen_name, grade;
  std::vector<std::string> also;
  std::array<Evidence, component_count> parts;       ///< by Component, g/100g; one without a source is none
  std::optional<Evidence> sodium, calcium;           ///< mg/100g; absent: none to speak of
  std::optional<Evidence> teaspoon;                  ///< g
  std::vector<std::string> allergens;
  std::vector<Stage> stages;                         ///< of extra_stages; the first is where it goes unless told
  std::vector<std::string> cautions;                 ///< ids of the rules it calls up
  std::vector<std::string> notes;

  /// Per kg, scaled so that the parts add to 1.
  [[nodiscard]] Composition composition() const;
  [[nodiscard]] Minerals minerals() const;           ///< kg per kg
};

/// Allergens by the words of the records. A word that is not here would be passed over on the label.
inline constexpr std::array<std::string_view, 17> known_allergens = {"soybean", "peanut", "lupin",     "sesame",    "mustard", "celery", "wheat",      "barley",   "rye",
                                                                     "oats",    "milk",   "egg",       "fish",      "crustaceans", "molluscs", "tree nuts", "sulphites"};

enum class EquipmentKind { blender, strainer, press, chill, hob };
template <>
inline constexpr std::array<std::string_view, 5> word_list<EquipmentKind> = {"blender", "strainer", "press", "chill", "hob"};

struct Equipment {
  std::string id, name, kitchen_name, how;
  EquipmentKind kind = EquipmentKind::blender;
  std::vector<std::string> also, notes;
  std::map<std::string, Evidence, std::less<>> figures;  ///< by field name
  std::optional<Duration> time;            ///< full time of a blender, usual time of a press
  std::optional<Temperature> temperature;  ///< of a chilling medium with its own
  bool ice_water = false;
  double fill_cold = 0.667, fill_hot = 0.333;
};

/// A seed or salt that is known and never planned.
struct Refused {
  std::string id, what, name, rule, reason, source, instead;
  std::vector<std::string> also;
};

struct Citation {
  std::string cite;
  std::string read;  ///< how much of it was read: full, table, abstract, secondary, memory, none
};

/// A record as text: its path below the data folder ("legumes/adzuki.json"), and where it came from.
struct RecordText {
  std::string path;
  std::string text;
  std::string shown_as;  ///< file name for messages
};

class Catalogue {
 public:
  Catalogue();
  Catalogue(const Catalogue&) = default;
  Catalogue& operator=(const Catalogue&) = default;
  static Catalogue shipped();

  /// Adds or replaces records; the first fault of each is reported, and then nothing is added.
  Result<void> add(std::vector<RecordText> records);

  /// By id or by any of its names. A refused seed gives the problem "refused".
  [[nodiscard]] Result<Legume> legume(std::string_view name) const;
  [[nodiscard]] Result<Coagulant> coagulant(std::string_view name) const;
  [[nodiscard]] Result<Extra> extra(std::string_view name) const;
  [[nodiscard]] Result<Equipment> equipment(EquipmentKind kind, std::string_view name) const;
  [[nodiscard]] std::optional<Refused> refused(std::string_view what, std::string_view name) const;
  [[nodiscard]] std::vector<Refused> all_refused() const;

  [[nodiscard]] std::vector<std::string> legume_ids() const;
  [[nodiscard]] std::vector<std::string> coagulant_ids() const;
  [[nodiscard]] std::vector<std::string> extra_ids() const;
  [[nodiscard]] std::vector<std::string> equipment_ids(EquipmentKind kind) const;

  /// Evidence of the parameters of scope model, by Param.
  [[nodiscard]] Result<std::vector<std::pair<Param, Evidence>>> model() const;
  [[nodiscard]] std::map<std::string, Citation> citations() const;

  /// Reads every record and checks that sources and neighbours exist; what a test of the data calls.
  [[nodiscard]] Problems check() const;

 private:
  [[nodiscard]] const RecordText* find(std::string_view path) const;
  [[nodiscard]] std::vector<std::string> ids(std::string_view folder) const;
  void check_legumes(Problems& problems) const;
  void check_coagulants(Problems& problems) const;
  void check_extras(Problems& problems) const;
  void check_rest(Problems& problems) const;
  [[nodiscard]] Result<Legume> read_legume_named(std::string_view name) const;
  [[nodiscard]] Result<Coagulant> read_coagulant_named(std::string_view name) const;
  [[nodiscard]] Result<Extra> read_extra_named(std::string_view name) const;
  [[nodiscard]] Result<Equipment> read_equipment_named(EquipmentKind kind, std::string_view name) const;
  struct Memory;
  std::vector<RecordText> own_;      ///< in front of the shipped ones
  std::shared_ptr<Memory> memory_;   ///< of what own and shipped records hold; its copies share it
};

/// JSON Schemas of records, for who writes their own.
std::string legume_schema();
std::string coagulant_schema();
std::string extra_schema();
std::string equipment_schema();

}  // namespace curdwright
