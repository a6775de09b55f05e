// SPDX-License-Identifier: MIT
// JSON Schemas of the diary: a line, a batch as it is shown, all batches.
#include <fmt/format.h>

#include "curdwright/diary.hpp"
#include "sheets/schema_words.hpp"

namespace curdwright {
namespace {

using namespace sheets::schema;

const Json count = {{"type", "integer"}, {"minimum", 0}};
const Json moment = {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"}};
const Json date = {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}};

/// Numbers whose keys end in a unit, beside some fixed keys.
Json measured(const Json& properties, const std::vector<std::string>& due, std::string_view stems) {
  Json j = closed(properties, due);
  j["patternProperties"] = {{fmt::format("^({})_(g|ml|s|c|mm|fraction|count|ph)$", stems), number()}};
  return j;
}

Json versions() { return closed({{"program", text()}, {"data", text()}, {"model", text()}}, {"program", "data", "model"}); }

// --- a line ---------------------------------------------------------------------------------------

/// Keys of one kind of event, with those of all.
Json event(std::string_view kind, const Json& properties, std::vector<std::string> due) {
  Json all = {{"schema", {{"const", diary_schema_name}}}, {"kind", {{"const", kind}}}, {"at", moment}, {"id", {{"type", "string"}, {"pattern", "^[a-z0-9-]*[0-9]$"}}}, {"torn_bytes", count}};
  all.update(properties);
  all["sum"] = {{"type", "string"}, {"pattern", "^[0-9a-f]{8}$"}};
  for (const char* key : {"schema", "kind", "at", "id", "sum"}) due.emplace_back(key);
  return closed(all, due);
}

Json start_event() {
  const Json planned = closed({{"word", text()}, {"legume", text()}, {"value", number()}, {"unit", text()}}, {"word", "value"});
  const Json figure = closed({{"figure", text()}, {"value", number()}, {"low", number()}, {"high", number()}}, {"figure", "value", "low", "high"});
  const Json leftover = closed({{"what", text()}, {"mass_kg", number()}, {"ready_after_s", number()}, {"keeps_days", count}, {"care", list_of(text())}, {"record", text()}, {"not_again", text()}}, {"what", "mass_kg", "ready_after_s", "keeps_days", "care"});
  const Json two = {{"type", "array"}, {"items", number()}, {"minItems", 2}, {"maxItems", 2}};
  const Json beliefs = {{"type", "object"}, {"additionalProperties", {{"type", "object"}, {"additionalProperties", two}}}};
  return event("start",
               {{"title", text()}, {"legumes", list_of(text())}, {"versions", versions()}, {"recipe", text()}, {"recipe_file", text()}, {"kitchen", text()}, {"kitchen_file", text()}, {"set", list_of(text())},
                {"records", list_of(closed({{"path", text()}, {"text", text()}}, {"path", "text"}))}, {"planned", list_of(planned)}, {"figures", list_of(figure)},
                {"money", closed({{"currency", text()}, {"total", number()}, {"per_block", number()}}, {"currency", "total", "per_block"})}, {"made_after_s", number()}, {"last_day", count}, {"leftovers", list_of(leftover)}, {"beliefs", beliefs}},
               {"title", "legumes", "versions", "recipe", "recipe_file", "set", "planned", "figures", "made_after_s", "last_day", "leftovers", "beliefs"});
}

Json scores() { return list_of(closed({{"word", text()}, {"score", {{"type", "number"}, {"minimum", 1}, {"maximum", 5}}}}, {"word", "score"})); }

// --- a batch --------------------------------------------------------------------------------------

Json batch_properties() {
  const Json row = measured({{"word", text()}, {"told", text()}, {"at", moment}, {"inside", flag()}}, {"word", "told", "at"}, "measured|done|planned|low|high");
  const Json score = closed({{"word", text()}, {"score_points", number()}, {"one", text()}, {"five", text()}}, {"word", "score_points"});
  const Json note = closed({{"at", moment}, {"text", text()}}, {"at", "text"});
  const Json piece = measured({{"piece", text()}, {"frozen", flag()}, {"way", text()}, {"scores", list_of(score)}, {"notes", list_of(note)}}, {"piece", "scores", "notes"}, "mass|aged|before|after|lost");
  const Json left = closed({{"what", text()}, {"mass_g", number()}, {"weighed", flag()}, {"day_number", whole()}, {"keeps_days", count}, {"over", flag()}, {"care", list_of(text())}, {"not_again", text()}}, {"what", "mass_g", "weighed", "day_number", "keeps_days", "over", "care"});
  const Json days = closed({{"made", date}, {"on", date}, {"day_number", whole()}, {"last_day_number", count}, {"use_by", date}, {"over", flag()}}, {"made", "on", "day_number", "last_day_number", "use_by", "over"});
  return {{"id", text()}, {"title", text()}, {"begun_at", moment}, {"time_zone", text()}, {"legumes", list_of(text())}, {"versions", versions()}, {"days", days}, {"not_to_be_eaten", list_of(text())}, {"cares", list_of(text())}, {"measured", list_of(row)}, {"settings", list_of(row)},
          {"seen", list_of(closed({{"at", moment}, {"what", text()}, {"how", text()}}, {"at", "what", "how"}))}, {"notes", list_of(note)},
          {"replaced", list_of(closed({{"at", moment}, {"word", text()}, {"told", text()}, {"withdrawn", flag()}}, {"at", "word", "told", "withdrawn"}))}, {"scores", list_of(score)}, {"pieces", list_of(piece)}, {"leftovers", list_of(left)},
          {"planned", list_of(measured({{"word", text()}, {"legume", text()}}, {"word"}, "planned"))}, {"cost", closed({{"currency", text()}, {"total_money", number()}, {"per_block_money", number()}}, {"currency", "total_money", "per_block_money"})}};
}

const std::vector<std::string> batch_due = {"id", "title", "begun_at", "time_zone", "legumes", "versions", "days", "measured", "settings", "seen", "notes", "replaced", "scores", "pieces", "leftovers", "planned"};

}  // namespace

std::string diary_line_schema() {
  Json s = head("diary", "One line of a diary of curdwright");
  const Json reading = closed({{"word", text()}, {"told", text()}, {"value", number()}, {"unit", text()}, {"weighings", count}}, {"word", "told", "value"});
  s["oneOf"] = {start_event(),
                event("add", {{"readings", list_of(reading)}, {"withdrawn", list_of(text())}, {"seen", list_of(closed({{"what", text()}, {"how", text()}}, {"what", "how"}))}, {"note", text()}}, {}),
                event("score", {{"piece", text()}, {"scores", scores()}, {"withdrawn", list_of(text())}}, {"scores"}),
                event("piece", {{"piece", text()}, {"mass_kg", number()}, {"aged_s", number()}, {"frozen", flag()}, {"way", text()}, {"before_kg", number()}, {"after_kg", number()}, {"note", text()}, {"scores", scores()}, {"withdrawn", list_of(text())}, {"gone", flag()}}, {"piece"})};
  return written(std::move(s), "diary");
}

std::string diary_batch_schema() { return document("diary-batch", "A batch of the diary of curdwright", batch_properties(), batch_due); }

std::string diary_export_schema() {
  Json properties = batch_properties();
  const Json figure = closed({{"planned", number()}, {"low", number()}, {"high", number()}}, {"planned", "low", "high"});
  properties.update(Json{{"recipe", text()}, {"kitchen", text()}, {"set", list_of(text())}, {"figures", map_of(figure)}});
  auto due = batch_due;
  for (const char* key : {"recipe", "set", "figures"}) due.emplace_back(key);
  return document("diary-export", "All batches of a diary of curdwright", {{"batches", list_of(closed(properties, due))}}, {"batches"});
}

}  // namespace curdwright
