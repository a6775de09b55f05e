// SPDX-License-Identifier: MIT
// Descriptions of the data records, for the reader, the schema and the tests.
#pragma once

#include <set>

#include "curdwright/catalogue.hpp"
#include "json/fields.hpp"

namespace curdwright {

/// What a legume record holds besides its figures, while it is being read.
struct LegumeText {
  std::optional<std::string> schema, id, name, kitchen_name, latin, window_unit, window_source;
  std::optional<SeedForm> form;
  std::optional<SeedKind> kind;
  std::optional<Known> window_known;
  std::optional<double> window_low, window_high;
  std::vector<std::string> hazards;
};
void describe_legume(json::Fields& f, Legume& legume, LegumeText& text);

struct CoagulantText {
  std::optional<std::string> schema, id, name, kitchen_name, grade, e_number;
  std::optional<CoagulantKind> kind;
  std::optional<CoagulantForm> form;
  std::optional<Ion> ion;
  std::optional<PourWay> pour;
  std::optional<Temperature> at;
  std::optional<Duration> wait;
  std::optional<double> make_up;
  std::optional<bool> metal_reacts;
  Evidence crystal_water, purity, strength, density, dose;
};
void describe_coagulant(json::Fields& f, Coagulant& coagulant, CoagulantText& text);

struct ExtraText {
  std::optional<std::string> schema, id, name, kitchen_name, grade;
  Evidence sodium, calcium, teaspoon;
  std::vector<std::string> stages;
};
void describe_extra(json::Fields& f, Extra& extra, ExtraText& text);

struct EquipmentText {
  std::optional<std::string> schema, id, name, kitchen_name, kind, how, medium;
  std::optional<Duration> time;
  std::optional<Temperature> temperature;
  std::optional<double> fill_cold, fill_hot;
};
void describe_equipment(json::Fields& f, Equipment& equipment, EquipmentText& text, EquipmentKind kind);

/// Reads a legume without filling what it borrows.
Result<Legume> read_legume(const RecordText& record);
Result<Coagulant> read_coagulant(const RecordText& record);
Result<Extra> read_extra(const RecordText& record);
Result<Equipment> read_equipment(const RecordText& record);
Result<std::vector<Refused>> read_refused(const RecordText& record);
Result<std::map<std::string, Citation>> read_citations(const RecordText& record);
Result<std::vector<std::pair<Param, Evidence>>> read_model(const RecordText& record);

/// Every evidence of a record, with its pointer.
std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Legume& legume);
std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Coagulant& coagulant);
std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Extra& extra);
std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Equipment& equipment);

}  // namespace curdwright
