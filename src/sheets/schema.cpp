// SPDX-License-Identifier: MIT
// JSON Schema of the sheet document.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "curdwright/sheet.hpp"

namespace curdwright {
namespace {

using Json = nlohmann::ordered_json;

const Json number = {{"type", "number"}};
const Json text = {{"type", "string"}};

Json closed(Json properties, std::vector<std::string> due) {
  return {{"type", "object"}, {"properties", std::move(properties)}, {"required", std::move(due)}, {"additionalProperties", false}};
}
Json list_of(Json item) { return {{"type", "array"}, {"items", std::move(item)}}; }
Json ref(std::string_view name) { return {{"$ref", fmt::format("#/$defs/{}", name)}}; }

Json stream_schema() {
  Json properties = Json::object();
  std::vector<std::string> due;
  for (const char* k : {"mass_g", "water_g", "protein_g", "starch_g", "sugars_g", "fat_g", "fibre_g", "ash_g", "salts_g"}) properties[k] = {{"type", "number"}, {"minimum", -1e-6}}, due.emplace_back(k);
  return closed(std::move(properties), std::move(due));
}

Json expect_schema(const Json& leaf) {
  Json expect = Json::object(), food = Json::object();
  std::vector<std::string> due, food_due;
  for (const FigureInfo& f : all_figures()) {
    Json told = leaf;
    told["description"] = f.plain;
    if (f.group == FigureGroup::expect) expect[std::string(f.key)] = told, due.emplace_back(f.key);
    if (f.group == FigureGroup::per_100g) food[std::string(f.key)] = told, food_due.emplace_back(f.key);
  }
  expect["per_100g"] = closed(food, food_due);
  expect["per_block"] = closed(food, food_due);
  due.emplace_back("per_100g"), due.emplace_back("per_block");
  return closed(std::move(expect), std::move(due));
}

Json label_schema() {
  Json amounts = Json::object(), words = Json::object(), day = Json::object(), likely = Json::object();
  for (const char* k : {"energy_kj", "energy_kcal", "fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "sodium_mg", "salt_g", "calcium_mg", "magnesium_mg"}) amounts[k] = number;
  for (const char* k : {"energy", "fat", "carbohydrate", "sugars", "fibre", "protein", "sodium", "salt", "calcium", "magnesium"}) words[k] = text;
  for (const char* k : {"fat_fraction", "carbohydrate_fraction", "fibre_fraction", "sodium_fraction", "calcium_fraction", "magnesium_fraction"}) day[k] = number;
  for (const char* k : {"protein_g", "calcium_mg", "magnesium_mg"}) likely[k] = ref("range");
  amounts["declared"] = closed(words, {"energy", "fat", "carbohydrate", "protein"});
  amounts["of_a_day"] = closed(day, {"calcium_fraction", "magnesium_fraction"});
  const Json part = closed(amounts, {"energy_kj", "energy_kcal", "fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "calcium_mg", "magnesium_mg", "declared", "of_a_day"});
  return closed({{"rules", {{"enum", {"us", "eu"}}}}, {"estimate", {{"const", true}}}, {"per_100g", part}, {"per_block", part}, {"likely_per_100g", closed(likely, {})}, {"too_little_to_declare", list_of(text)},
                 {"not_estimated", list_of(text)}},
                {"rules", "estimate", "per_100g", "per_block", "not_estimated"});
}

Json cost_schema() {
  const Json line = closed({{"id", text}, {"what", text}, {"price", text}, {"energy_kwh", number}, {"mass_g", number}, {"line_money", number}}, {"id", "what", "price", "line_money"});
  return closed({{"currency", text}, {"complete", {{"type", "boolean"}}}, {"total_money", number}, {"per_block_money", number}, {"per_100g_money", number}, {"per_10g_protein_money", number}, {"lines", list_of(line)}, {"missing", list_of(text)}},
                {"currency", "complete", "lines", "missing"});
}

Json reading_schema() {
  Json j = {{"word", text}, {"what", text}, {"stage", text}, {"observed", {{"type", "boolean"}}}, {"weight_fraction", number}, {"slip", text}};
  for (const std::string what : {"told", "planned", "low", "high"})
    for (const char* suffix : {"_g", "_ml", "_c", "_s", "_mm", "_fraction", "_count", "_ph"}) j[what + suffix] = number;
  return closed(std::move(j), {"word", "what", "stage", "observed"});
}

Json stage_schema() {
  Json keys = Json::array();
  for (Stage s : all_stages) keys.push_back(key(s));
  const Json extra = closed({{"what", text}, {"mass_g", number}}, {"what", "mass_g"});
  const Json settings = {{"type", "object"}, {"properties", {{"extras", list_of(extra)}}}};
  const Json streams = {{"type", "object"}, {"additionalProperties", ref("stream")}};
  return closed({{"stage", {{"enum", keys}}}, {"in", streams}, {"out", streams}, {"aside", streams}, {"settings", settings}, {"figures", {{"type", "object"}}},
                 {"cautions", list_of(ref("caution"))}},
                {"stage", "in", "out", "aside", "settings", "figures", "cautions"});
}

}  // namespace

std::string sheet_schema() {
  const Json amount = closed({{"amount", text}, {"what", text}, {"note", text}}, {"amount", "what"});
  const Json step = closed({{"number_count", {{"type", "integer"}}}, {"stage", text}, {"verb", text}, {"starts", text}, {"takes", text}, {"start_s", number}, {"length_s", number}, {"hands_on_s", number}, {"before", list_of(ref("caution"))}, {"amounts", list_of(ref("amount"))},
                            {"actions", list_of(text)}, {"ready", text}, {"if_not", text}, {"weigh", list_of(ref("amount"))}, {"done", {{"const", true}}}, {"told", list_of(text)}},
                           {"number_count", "stage", "verb", "before", "actions"});
  const Json caution = closed({{"rule", text}, {"severity", {{"enum", {"note", "warn", "stop"}}}}, {"stage", text}, {"standing", {{"type", "boolean"}}}, {"text", text}},
                              {"rule", "severity", "stage", "text"});
  const Json legume = closed({{"id", text}, {"dry_mass_g", number}, {"soaked_mass_g", number}}, {"id", "dry_mass_g", "soaked_mass_g"});
  const Json batch = closed({{"dry_mass_g", number}, {"soaked_mass_g", number}, {"legumes", list_of(legume)}, {"kitchen", text}}, {"dry_mass_g", "soaked_mass_g", "legumes", "kitchen"});
  const Json operation = closed({{"what", text}, {"step", text}, {"start_s", number}, {"length_s", number}, {"hands", {{"type", "boolean"}}}, {"load_count", {{"type", "integer"}}}, {"pot_count", {{"type", "integer"}}}, {"moulds_count", {{"type", "integer"}}}, {"clock", text}},
                                {"what", "step", "start_s", "length_s", "hands"});
  const Json influence = closed({{"parameter", text}, {"plain", text}, {"variance_fraction", number}, {"legume", text}, {"first_order_fraction", number}, {"total_fraction", number}},
                                {"parameter", "plain", "variance_fraction"});
  const Json sample = closed({{"kind", text}, {"plans_count", number}, {"seed_count", number}, {"low_fraction", number}, {"high_fraction", number}, {"failed_count", number}, {"index_plans_count", number},
                              {"curd_mass_depends_on", list_of(influence)}},
                             {"kind", "plans_count", "seed_count", "curd_mass_depends_on"});
  Json s = {{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"$id", "https://curdwright.invalid/schema/sheet-1.json"}, {"title", "Batch sheet of curdwright"}};
  s.update(closed({{"schema", {{"const", "curdwright.sheet/1"}}}, {"title", text}, {"summary", text}, {"versions", {{"type", "object"}}}, {"stopped", {{"const", true}}}, {"batch", batch},
                   {"stages", {{"type", "array"}, {"items", ref("stage")}, {"minItems", 8}, {"maxItems", 8}}}, {"readings", list_of(reading_schema())}, {"changed", list_of(text)}, {"moves", list_of(closed({{"seen", text}, {"cause", text}, {"action", text}, {"stop", text}, {"known", text}, {"likely", {{"type", "boolean"}}}, {"discard", {{"type", "boolean"}}}, {"before", list_of(text)}}, {"seen", "cause", "action", "stop", "known", "likely", "discard"}))}, {"expect", expect_schema(number)}, {"label", label_schema()}, {"cost", cost_schema()}, {"ranges", expect_schema(ref("range"))}, {"sample", sample}, {"cautions", list_of(ref("caution"))},
                   {"allergens", text}, {"times", closed({{"total_s", number}, {"hands_on_s", number}}, {"total_s", "hands_on_s"})}, {"clock", closed({{"start", text}, {"ready", text}, {"time_zone", text}}, {"start"})}, {"day", list_of(operation)}, {"target", closed({{"figure", text}, {"curd_mass_g", number}, {"protein_mass_g", number}, {"sure_fraction", number}, {"chance_fraction", number}}, {"figure"})},
                   {"limits", list_of(ref("amount"))}, {"batches", closed({{"why", text}, {"each", list_of(ref("amount"))}}, {"why", "each"})}, {"weigh_out", list_of(ref("amount"))}, {"vessels", list_of(text)}, {"ticks", list_of(text)}, {"steps", list_of(step)}, {"left_over", list_of(ref("amount"))}, {"made_in", list_of(text)}, {"standing", list_of(text)},
                   {"balance", closed({{"worst_component_fraction", number}}, {"worst_component_fraction"})}},
                  {"schema", "title", "versions", "batch", "stages", "expect", "label", "cautions", "standing", "balance"}));
  s["$defs"] = {{"stream", stream_schema()}, {"range", closed({{"low", number}, {"high", number}}, {"low", "high"})}, {"caution", caution}, {"amount", amount}, {"stage", stage_schema()}};
  return s.dump(2) + "\n";
}

}  // namespace curdwright
