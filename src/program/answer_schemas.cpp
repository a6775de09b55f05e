// SPDX-License-Identifier: MIT
#include "program/answer_schemas.hpp"

#include "sheets/schema_words.hpp"

namespace curdwright::program {
namespace {

using namespace sheets::schema;

Json words(std::vector<std::string> all) { return {{"enum", std::move(all)}}; }

Json problem() {
  return closed({{"code", text()}, {"file", text()}, {"line_count", whole()}, {"column_count", whole()}, {"pointer", text()}, {"what", text()}, {"why", text()}, {"fix", text()}}, {"code", "what"});
}

Json stage() { return words({"soak", "blend", "strain", "starch", "cook", "coagulate", "press", "chill"}); }

Json caution() {
  return closed({{"rule", text()}, {"severity", words({"note", "warn", "stop"})}, {"stage", stage()}, {"standing", flag()}, {"text", text()}}, {"rule", "severity", "stage", "standing", "text"});
}

Json evidence() {
  const Json range = {{"type", "array"}, {"items", number()}, {"minItems", 2}, {"maxItems", 2}};
  return closed({{"value", number()}, {"range", range}, {"unit", text()}, {"known", text()}, {"source", text()}, {"borrowed_from", text()}, {"note", text()}}, {"value", "range", "unit", "known", "source"});
}

/// A record as it is shown: what it is, beside some facts of its kind.
std::string shown(const std::string& kind, const std::string& title, const std::vector<std::string>& facts, const Json& more = Json::object()) {
  Json properties = {{"id", text()}, {"name", text()}};
  for (const std::string& fact : facts) properties[fact] = text();
  properties.update(Json{{"figures", map_of(evidence())}, {"sources", map_of(closed({{"cite", text()}, {"read", text()}}, {"cite", "read"}))}, {"notes", list_of(text())}});
  properties.update(more);
  std::vector<std::string> due = {"id", "name", "figures", "sources", "notes"};
  for (const auto& [key, value] : more.items()) due.push_back(key);
  return document(kind, title, properties, due);
}

/// Entries of `list`, one form for each thing that can be listed.
Json entries() {
  const Json legume = closed({{"id", text()}, {"protein_g_per_100g", number()}, {"starch_g_per_100g", number()}, {"simmer_s", number()}, {"borrowed_count", whole()}, {"name", text()}},
                             {"id", "protein_g_per_100g", "starch_g_per_100g", "simmer_s", "borrowed_count", "name"});
  const Json coagulant = closed({{"id", text()}, {"kind", text()}, {"form", text()}, {"e_number", text()}, {"name", text()}}, {"id", "kind", "form", "e_number", "name"});
  const Json extra = closed({{"id", text()}, {"stages", list_of(stage())}, {"allergens", list_of(text())}, {"name", text()}}, {"id", "stages", "allergens", "name"});
  const Json gear = closed({{"id", text()}, {"name", text()}, {"figures", map_of(number())}}, {"id", "name", "figures"});
  const Json measure = closed({{"word", text()}, {"stage", stage()}, {"observed", flag()}, {"example", text()}, {"what", text()}}, {"word", "stage", "observed", "example", "what"});
  const Json response = closed({{"key", text()}, {"what", text()}}, {"key", "what"});
  const Json rule = closed({{"rule", text()}, {"severity", words({"note", "warn", "stop"})}, {"stage", stage()}, {"about", text()}, {"source", text()}}, {"rule", "severity", "stage", "about", "source"});
  const Json refused = closed({{"id", text()}, {"rule", text()}, {"name", text()}, {"reason", text()}, {"instead", text()}}, {"id", "rule", "name", "reason", "instead"});
  return list_of({{"oneOf", {legume, coagulant, extra, gear, measure, response, rule, refused}}});
}

}  // namespace

std::string problems_schema() { return document("problems", "Why a command failed", {{"problems", list_of(problem())}}, {"problems"}); }

std::string check_schema() {
  const Json recipe = closed({{"file", text()}, {"problems", list_of(problem())}, {"cautions", list_of(caution())}}, {"file", "problems", "cautions"});
  return document("check", "Recipes, checked", {{"recipes", list_of(recipe)}}, {"recipes"});
}

std::string list_schema() { return document("list", "What there is to choose from", {{"what", text()}, {"entries", entries()}}, {"what", "entries"}); }

std::string show_legume_schema() { return shown("show-legume", "A legume with its evidence", {"latin", "also", "form", "allergens", "hazards", "soak", "dose window"}); }
std::string show_coagulant_schema() { return shown("show-coagulant", "A coagulant with its evidence", {"also", "kind", "form", "ion", "grade", "pour at", "wait", "make up", "rules"}); }
std::string show_extra_schema() { return shown("show-extra", "An extra with its evidence", {"also", "grade", "stages", "allergens", "rules"}); }
std::string show_kitchen_schema() { return shown("show-kitchen", "A kitchen with the evidence of its gear and of the model", {}, {{"kitchen", {{"type", "object"}}}}); }

std::string diary_list_schema() {
  const Json batch = closed({{"id", text()}, {"title", text()}, {"begun_at", text()}, {"state", text()}, {"curd_mass_g", number()}, {"taste_count", number()}}, {"id", "title", "begun_at", "state"});
  return document("diary-list", "Batches of a diary", {{"batches", list_of(batch)}}, {"batches"});
}

std::string diary_compare_schema() {
  Json pair = closed({{"what", text()}, {"one", text()}, {"other", text()}, {"one_planned", flag()}, {"other_planned", flag()}}, {"what"});
  pair["patternProperties"] = {{"^(one|other)_(g|ml|s|c|mm|fraction|count|ph|days|money)$", number()}};
  const Json differs = closed({{"at", text()}, {"one", text()}, {"other", text()}}, {"at"});
  Json properties = {{"one", text()}, {"other", text()}, {"differs", list_of(differs)}, {"one_thing_differs", flag()}};
  for (const char* group : {"pieces", "settings", "measured", "yields", "cost", "scores"}) properties[group] = list_of(pair);
  return document("diary-compare", "Two batches, or pieces of them, side by side", properties, {"one", "other", "differs", "one_thing_differs"});
}

std::string diary_told_schema() { return document("diary-told", "What was told is in the diary", {{"id", text()}}, {"id"}); }

}  // namespace curdwright::program
