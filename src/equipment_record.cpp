// SPDX-License-Identifier: MIT
// The record of a tool: its keys hang on its kind.
#include <fmt/format.h>

#include <algorithm>

#include "json/fields.hpp"
#include "record_reading.hpp"
#include "records.hpp"

namespace curdwright {
namespace {

using json::Fields;

std::vector<std::pair<std::string_view, std::string_view>> figures_of(EquipmentKind kind) {
  switch (kind) {
    case EquipmentKind::blender: return {{"protein_factor", "1"}, {"starch_release", "1"}};
    case EquipmentKind::strainer: return {{"held_liquor", "kg/kg"}};
    case EquipmentKind::press: return {{"pressure", "kPa"}};
    case EquipmentKind::chill: return {{"surface_coefficient", "W/m2K"}};
    case EquipmentKind::hob: return {{"efficiency", "1"}};
  }
  return {};
}

/// The parameter tells what its figure means; a press has a setting besides.
std::string_view meaning(std::string_view key) {
  for (const ParamInfo& p : all_params())
    if (p.scope == Scope::equipment && p.key == key) return p.plain;
  return "usual pressure on the curd";
}

}  // namespace

void describe_equipment(Fields& f, Equipment& e, EquipmentText& t, EquipmentKind kind) {
  std::optional<std::string> ignored;
  f.text("$schema", ignored, json::max_text, "where an editor finds the schema");
  text_due(f, "schema", t.schema, "curdwright.equipment/1");
  text_due(f, "id", t.id, "lower case, hyphens; the file's name");
  choice_due(f, "kind", t.kind, std::array{word(kind)}, "what it is");
  text_due(f, "name", t.name, "as lists show it");
  text_due(f, "kitchen_name", t.kitchen_name, "as a sheet says it");
  f.texts("also", e.also, 16, "other names");
  if (kind == EquipmentKind::blender) f.required(), f.quantity("full_time", t.time, seconds(5), hours(2), "time a jarful needs");
  for (const auto& [key, unit] : figures_of(kind))
    f.evidence(key, e.figures[std::string(key)], unit, unit == "1" ? Link::logit : Link::log, false, meaning(key));
  if (kind == EquipmentKind::blender) {
    f.required(), f.number("fill_cold", t.fill_cold, {0.1, 1}, "share of the jar that may be filled");
    f.required(), f.number("fill_hot", t.fill_hot, {0.1, 1}, "the same for hot liquid");
  }
  if (kind == EquipmentKind::press) f.required(), f.quantity("time", t.time, minutes(1), hours(48), "usual time");
  if (kind == EquipmentKind::press || kind == EquipmentKind::strainer) text_due(f, "how", t.how, "one sentence for the sheet");
  if (kind == EquipmentKind::chill) {
    static constexpr std::array<std::string_view, 2> media = {"fridge", "ice-water"};
    choice_due(f, "medium", t.medium, media, "what it lies in");
    f.quantity("temperature", t.temperature, celsius(-40), celsius(20), "of the medium, when not the kitchen's fridge");
  }
  f.texts("notes", e.notes, 8, "what is thin");
}

Result<Equipment> read_equipment(const RecordText& record) {
  auto document = json::parse(record.text, record.shown_as);
  if (!document) return fail(document.error());
  const json::Node* kind_node = document->root.find("kind");
  const auto kind = from_word<EquipmentKind>(kind_node ? kind_node->text : "");
  if (!kind)
    return fail(Problem{"word-unknown", document->place(kind_node ? *kind_node : document->root, "/kind"), "the kind of equipment is not known",
                        fmt::format("it is one of: {}", fmt::join(word_list<EquipmentKind>, ", ")), ""});
  Equipment e;
  EquipmentText t;
  e.kind = *kind;
  auto read = read_record(record, "curdwright.equipment/1", e, t.schema, [&](Fields& f) { describe_equipment(f, e, t, *kind); });
  if (!read) return read;
  Equipment& r = *read;
  r.id = *t.id, r.name = *t.name, r.kitchen_name = *t.kitchen_name, r.how = t.how.value_or("");
  r.time = t.time, r.temperature = t.temperature, r.ice_water = t.medium == "ice-water";
  r.fill_cold = t.fill_cold.value_or(r.fill_cold), r.fill_hot = t.fill_hot.value_or(r.fill_hot);
  return read;
}

std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Equipment& e) {
  std::vector<std::pair<std::string, const Evidence*>> all;
  for (const auto& [key, figure] : e.figures) all.emplace_back("/" + key, &figure);
  return all;
}

std::string equipment_schema() {
  std::vector<Fields::Describe> kinds;
  for (EquipmentKind kind : all_values<EquipmentKind>())
    kinds.emplace_back([kind](Fields& f) {
      Equipment e;
      EquipmentText t;
      describe_equipment(f, e, t, kind);
    });
  return json::schema_text_of_one("https://curdwright.invalid/schema/equipment-1.json", "Equipment record of curdwright", kinds);
}

}  // namespace curdwright
