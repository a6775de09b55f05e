// SPDX-License-Identifier: MIT
// JSON Schema of the sheet document.
#include <fmt/format.h>

#include "curdwright/sheet.hpp"
#include "sheets/json_parts.hpp"
#include "sheets/schema_words.hpp"

namespace curdwright {
namespace {

using namespace sheets::schema;

Json ref(std::string_view name) { return {{"$ref", fmt::format("#/$defs/{}", name)}}; }

/// The same kind of value under many keys.
Json all_of(std::initializer_list<const char*> keys, const Json& value) {
  Json properties = Json::object();
  for (const char* k : keys) properties[k] = value;
  return properties;
}

std::vector<std::string> keys_of(const Json& properties) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : properties.items()) keys.push_back(key);
  return keys;
}

Json stream_schema() {
  const Json mass = {{"type", "number"}, {"minimum", -1e-6}};
  Json parts = {{"mass_g", mass}};
  for (Component c : all_components) parts[sheets::component_key(c)] = mass;
  return closed(parts, keys_of(parts));
}

Json expect_schema(const Json& leaf) {
  Json expect = Json::object(), food = Json::object();
  for (const FigureInfo& f : all_figures()) {
    Json told = leaf;
    told["description"] = f.plain;
    if (f.group == FigureGroup::expect) expect[std::string(f.key)] = told;
    if (f.group == FigureGroup::per_100g) food[std::string(f.key)] = told;
  }
  expect["per_100g"] = closed(food, keys_of(food));
  expect["per_block"] = closed(food, keys_of(food));
  return closed(expect, keys_of(expect));
}

Json label_schema() {
  Json amounts = all_of({"energy_kj", "energy_kcal", "fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "sodium_mg", "salt_g", "calcium_mg", "magnesium_mg"}, number());
  amounts["declared"] = closed(all_of({"energy", "fat", "carbohydrate", "sugars", "fibre", "protein", "sodium", "salt", "calcium", "magnesium"}, text()), {"energy", "fat", "carbohydrate", "protein"});
  amounts["of_a_day"] = closed(all_of({"fat_fraction", "carbohydrate_fraction", "fibre_fraction", "sodium_fraction", "calcium_fraction", "magnesium_fraction"}, number()), {"calcium_fraction", "magnesium_fraction"});
  const Json part = closed(amounts, {"energy_kj", "energy_kcal", "fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "calcium_mg", "magnesium_mg", "declared", "of_a_day"});
  return closed({{"rules", {{"enum", word_list<LabelRules>}}}, {"estimate", {{"const", true}}}, {"per_100g", part}, {"per_block", part}, {"likely_per_100g", closed(all_of({"protein_g", "calcium_mg", "magnesium_mg"}, ref("range")), {})},
                 {"too_little_to_declare", list_of(text())}, {"not_estimated", list_of(text())}},
                {"rules", "estimate", "per_100g", "per_block", "not_estimated"});
}

Json cost_schema() {
  const Json line = closed({{"id", text()}, {"what", text()}, {"price", text()}, {"energy_kwh", number()}, {"mass_g", number()}, {"line_money", number()}}, {"id", "what", "price", "line_money"});
  return closed({{"currency", text()}, {"complete", flag()}, {"total_money", number()}, {"per_block_money", number()}, {"per_100g_money", number()}, {"per_10g_protein_money", number()}, {"lines", list_of(line)}, {"missing", list_of(text())}},
                {"currency", "complete", "lines", "missing"});
}

Json reading_schema() {
  Json j = {{"word", text()}, {"what", text()}, {"stage", text()}, {"observed", flag()}, {"weight_fraction", number()}, {"slip", text()}};
  for (const std::string what : {"told", "planned", "low", "high"})
    for (const char* suffix : {"_g", "_ml", "_c", "_s", "_mm", "_fraction", "_count", "_ph"}) j[what + suffix] = number();
  return closed(j, {"word", "what", "stage", "observed"});
}

Json move_schema() {
  return closed({{"seen", text()}, {"cause", text()}, {"action", text()}, {"stop", text()}, {"known", text()}, {"likely", flag()}, {"discard", flag()}, {"before", list_of(text())}},
                {"seen", "cause", "action", "stop", "known", "likely", "discard"});
}

Json stage_schema() {
  Json keys = Json::array();
  for (Stage s : all_stages) keys.push_back(word(s));
  const Json extra = closed({{"what", text()}, {"mass_g", number()}}, {"what", "mass_g"});
  const Json settings = {{"type", "object"}, {"properties", {{"extras", list_of(extra)}}}};
  const Json streams = map_of(ref("stream"));
  return closed({{"stage", {{"enum", keys}}}, {"in", streams}, {"out", streams}, {"aside", streams}, {"settings", settings}, {"figures", {{"type", "object"}}}, {"cautions", list_of(ref("caution"))}},
                {"stage", "in", "out", "aside", "settings", "figures", "cautions"});
}

Json step_schema() {
  return closed({{"step_number", whole()}, {"stage", text()}, {"verb", text()}, {"starts", text()}, {"takes", text()}, {"start_s", number()}, {"length_s", number()}, {"hands_on_s", number()}, {"before", list_of(ref("caution"))},
                 {"amounts", list_of(ref("amount"))}, {"actions", list_of(text())}, {"ready", text()}, {"if_not", text()}, {"weigh", list_of(ref("weighing"))}, {"done", {{"const", true}}}, {"told", list_of(text())}},
                {"step_number", "stage", "verb", "before", "actions"});
}

Json batch_schema() {
  const Json legume = closed({{"id", text()}, {"dry_mass_g", number()}, {"soaked_mass_g", number()}}, {"id", "dry_mass_g", "soaked_mass_g"});
  return closed({{"dry_mass_g", number()}, {"soaked_mass_g", number()}, {"legumes", list_of(legume)}, {"kitchen", text()}}, {"dry_mass_g", "soaked_mass_g", "legumes", "kitchen"});
}

Json day_schema() {
  return list_of(closed({{"what", text()}, {"step", text()}, {"start_s", number()}, {"length_s", number()}, {"hands", flag()}, {"load_number", whole()}, {"pot_number", whole()}, {"moulds_count", whole()}, {"clock", text()}},
                        {"what", "step", "start_s", "length_s", "hands"}));
}

Json sample_schema() {
  const Json influence = closed({{"parameter", text()}, {"plain", text()}, {"variance_fraction", number()}, {"legume", text()}, {"first_order_fraction", number()}, {"total_fraction", number()}}, {"parameter", "plain", "variance_fraction"});
  return closed({{"kind", text()}, {"plans_count", number()}, {"seed_number", number()}, {"low_fraction", number()}, {"high_fraction", number()}, {"failed_count", number()}, {"index_plans_count", number()}, {"curd_mass_depends_on", list_of(influence)}},
                {"kind", "plans_count", "seed_number", "curd_mass_depends_on"});
}

Json target_schema() {
  return closed({{"figure", text()}, {"curd_mass_g", number()}, {"protein_mass_g", number()}, {"sure_fraction", number()}, {"chance_fraction", number()}}, {"figure"});
}

/// In the order in which the document tells them.
Json sheet_properties() {
  const Json versions = closed({{"program", text()}, {"data", text()}, {"model", text()}}, {"program", "data", "model"});
  Json stages = list_of(ref("stage"));
  stages["minItems"] = stages["maxItems"] = all_stages.size();
  return {{"title", text()}, {"summary", text()}, {"versions", versions}, {"stopped", {{"const", true}}}, {"batch", batch_schema()}, {"stages", stages},
          {"readings", list_of(reading_schema())}, {"changed", list_of(text())}, {"moves", list_of(move_schema())},
          {"expect", expect_schema(number())}, {"label", label_schema()}, {"cost", cost_schema()}, {"ranges", expect_schema(ref("range"))}, {"sample", sample_schema()}, {"cautions", list_of(ref("caution"))},
          {"allergens", text()}, {"times", closed({{"total_s", number()}, {"hands_on_s", number()}}, {"total_s", "hands_on_s"})}, {"clock", closed({{"start", text()}, {"ready", text()}, {"time_zone", text()}}, {"start"})},
          {"day", day_schema()}, {"target", target_schema()}, {"limits", list_of(ref("amount"))}, {"batches", closed({{"batches_count", whole()}, {"why", text()}, {"dry_mass_g", number()}, {"last_blocks_count", whole()}}, {"batches_count", "why", "dry_mass_g"})},
          {"weigh_out", list_of(ref("amount"))}, {"vessels", list_of(text())}, {"ticks", list_of(text())}, {"steps", list_of(step_schema())}, {"leftovers", list_of(ref("amount"))}, {"made_in", list_of(text())}, {"standing", list_of(text())},
          {"balance", closed({{"worst_component_fraction", number()}}, {"worst_component_fraction"})}};
}

}  // namespace

std::string sheet_schema() {
  const Json amount = closed({{"amount", text()}, {"what", text()}, {"note", text()}}, {"amount", "what"});
  const Json weighing = closed({{"amount", text()}, {"what", text()}, {"note", text()}, {"measure", text()}, {"weighings_count", whole()}}, {"amount", "what"});
  const Json caution = closed({{"rule", text()}, {"severity", {{"enum", word_list<Severity>}}}, {"stage", text()}, {"standing", flag()}, {"text", text()}}, {"rule", "severity", "stage", "text"});
  Json s = whole_document("sheet", "Batch sheet of curdwright", sheet_properties(), {"title", "versions", "batch", "stages", "expect", "label", "cautions", "standing", "balance"});
  s["$defs"] = {{"stream", stream_schema()}, {"range", closed({{"low", number()}, {"high", number()}}, {"low", "high"})}, {"caution", caution}, {"amount", amount}, {"weighing", weighing}, {"stage", stage_schema()}};
  return written(std::move(s), "sheet");
}

}  // namespace curdwright
