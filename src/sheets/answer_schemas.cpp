// SPDX-License-Identifier: MIT
#include "sheets/answer_schemas.hpp"

#include "curdwright/cautions.hpp"
#include "sheets/schema_words.hpp"

namespace curdwright::sheets {
namespace {

using namespace schema;

Json about(Json of, std::string_view words) {
  of["description"] = words;
  return of;
}

Json problem() {
  return closed({{"code", about(text(), "what kind of problem; docs/reference.md lists them")}, {"file", text()}, {"line_number", whole()}, {"column_number", whole()},
                 {"pointer", about(text(), "JSON pointer of the value")}, {"what", text()}, {"why", text()}, {"fix", about(text(), "what to write or do instead")}},
                {"code", "what"});
}

Json caution() {
  return closed({{"rule", about(text(), "see `list rules`")}, {"severity", {{"enum", word_list<Severity>}}}, {"stage", text()}, {"standing", about(flag(), "said of every batch of the kind")}, {"text", text()}},
                {"rule", "severity", "stage", "standing", "text"});
}

/// What show tells of one thing; further facts stand beside as texts.
std::string shown(const std::string& kind, const std::string& title, const Json& more) {
  const Json figure = closed({{"value", number()}, {"range", {{"type", "array"}, {"items", number()}, {"minItems", 2}, {"maxItems", 2}, {"description", "the 10 % and the 90 % of belief"}}},
                              {"unit", text()}, {"known", text()}, {"source", about(text(), "a key of /sources")}, {"borrowed_from", text()}, {"note", text()}},
                             {"value", "range", "unit", "known", "source"});
  Json properties = {{"id", text()}, {"name", text()}, {"figures", about(map_of(figure), "by the pointer in the record")}, {"sources", map_of(closed({{"cite", text()}, {"read", text()}}, {"cite", "read"}))},
                     {"notes", list_of(text())}};
  const bool kitchen = !more.empty();
  properties.update(more);
  Json s = whole_document(kind, title, properties, {"id", "name", "figures", "sources", "notes"});
  if (!kitchen) s["additionalProperties"] = text();
  return written(std::move(s), kind);
}

Json moment() { return {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"}}; }

}  // namespace

std::string problems_schema() { return document("problems", "Why a command of curdwright gave no answer", {{"problems", list_of(problem())}}, {"problems"}); }

std::string check_schema() {
  const Json recipe = closed({{"file", text()}, {"problems", list_of(problem())}, {"cautions", list_of(caution())}, {"batches_count", whole()}, {"why", text()}}, {"file", "problems", "cautions"});
  return document("check", "Problems and cautions of recipes, by curdwright", {{"recipes", list_of(recipe)}}, {"recipes"});
}

std::string list_schema() {
  const Json cell = {{"type", {"string", "number", "boolean", "array", "object"}}};
  return document("list", "What curdwright knows of a kind", {{"what", about(text(), "what is listed: legumes, rules, ...")}, {"entries", about(list_of(map_of(cell)), "each with the same keys")}}, {"what", "entries"});
}

std::string shown_legume_schema() { return shown("show-legume", "A legume, as curdwright shows it", Json::object()); }
std::string shown_coagulant_schema() { return shown("show-coagulant", "A coagulant, as curdwright shows it", Json::object()); }
std::string shown_extra_schema() { return shown("show-extra", "An extra, as curdwright shows it", Json::object()); }
std::string shown_kitchen_schema() { return shown("show-kitchen", "A kitchen, as curdwright shows it", {{"kitchen", {{"type", "object"}, {"description", "the kitchen as a file; see the schema of kitchen"}}}}); }

std::string diary_list_schema() {
  const Json batch = closed({{"id", text()}, {"title", text()}, {"begun_at", moment()}, {"state", text()}, {"curd_mass_g", about(number(), "as weighed")}, {"taste_points", about(number(), "of five")}}, {"id", "title", "begun_at", "state"});
  return document("diary-list", "The batches of a diary of curdwright", {{"batches", list_of(batch)}}, {"batches"});
}

std::string diary_compare_schema() {
  Json row = closed({{"what", text()}, {"one", text()}, {"other", text()}}, {"what"});
  row["patternProperties"] = {{"^(one|other)_[a-z0-9_]+$", {{"type", {"number", "boolean"}}}}};
  const Json differs = closed({{"at", about(text(), "pointer into recipe or kitchen")}, {"one", text()}, {"other", text()}}, {"at"});
  Json properties = {{"one", text()}, {"other", text()}, {"differs", list_of(differs)}, {"one_thing_differs", flag()}};
  for (const char* group : {"pieces", "settings", "measured", "yields", "cost", "scores"}) properties[group] = list_of(row);
  return document("diary-compare", "Two batches of a diary of curdwright, side by side", properties, {"one", "other", "differs", "one_thing_differs"});
}

std::string diary_told_schema() { return document("diary-told", "A line that is safe in a diary of curdwright", {{"id", about(text(), "of the batch")}}, {"id"}); }

}  // namespace curdwright::sheets
