// SPDX-License-Identifier: MIT
// The few words that the schemas of answers are written in (JSON Schema 2020-12).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "sheets/key_words.hpp"

namespace curdwright::sheets::schema {

using Json = nlohmann::ordered_json;

inline Json text() { return {{"type", "string"}}; }
inline Json number() { return {{"type", "number"}}; }
inline Json whole() { return {{"type", "integer"}}; }
inline Json flag() { return {{"type", "boolean"}}; }
inline Json list_of(const Json& item) { return {{"type", "array"}, {"items", item}}; }
/// Keys that the document itself names.
inline Json map_of(const Json& value) { return {{"type", "object"}, {"additionalProperties", value}}; }
/// An object with these keys and no other.
inline Json closed(const Json& properties, const std::vector<std::string>& due) { return {{"type", "object"}, {"properties", properties}, {"required", due}, {"additionalProperties", false}}; }

/// Name and title of a document, which its schema begins with.
inline Json head(const std::string& kind, const std::string& title) {
  return {{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"$id", "https://curdwright.invalid/schema/" + kind + "-1.json"}, {"title", title}};
}

/// As text, each key with what it means.
inline std::string written(Json schema, const std::string& kind) {
  describe_keys(schema, kind);
  return schema.dump(2) + "\n";
}

/// The schema of a whole document "curdwright.<kind>/1".
inline Json whole_document(const std::string& kind, const std::string& title, const Json& properties, std::vector<std::string> due) {
  Json all = {{"schema", {{"const", "curdwright." + kind + "/1"}}}};
  all.update(properties);
  due.insert(due.begin(), "schema");
  Json s = head(kind, title);
  s.update(closed(all, due));
  return s;
}

inline std::string document(const std::string& kind, const std::string& title, const Json& properties, std::vector<std::string> due) {
  return written(whole_document(kind, title, properties, std::move(due)), kind);
}

}  // namespace curdwright::sheets::schema
