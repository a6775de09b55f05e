// SPDX-License-Identifier: MIT
#include "program/pointers.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "text/letters.hpp"

namespace curdwright::program {
namespace {

using Json = nlohmann::ordered_json;

std::string kind_of(const Json& field) {
  if (field.contains("enum")) return "word";
  if (field.contains("oneOf")) return field["oneOf"][0].value("type", "") == "number" ? "number" : "text";
  const std::string type = field.value("type", "");
  if (type == "string") return "text";
  if (type == "integer") return "count";
  if (type == "boolean") return "flag";
  return type == "array" ? "list" : type;
}

void walk(const Json& at, const std::string& pointer, std::vector<Settable>& to) {
  if (at.contains("properties"))
    for (const auto& [key, field] : at["properties"].items()) {
      const std::string inner = fmt::format("{}/{}", pointer, key);
      Settable s{inner, field.value("description", ""), kind_of(field), {}};
      // A field that says nothing but its limits begins with their mark.
      if (s.about.starts_with("; ")) s.about.erase(0, 2);
      if (field.contains("enum")) s.words = field["enum"].get<std::vector<std::string>>();
      if (s.kind == "object" && field["additionalProperties"].is_object()) s.kind = "map";
      if (s.kind == "flag") s.words = {"true", "false"};
      to.push_back(std::move(s));
      walk(field, inner, to);
    }
  if (at.contains("items")) walk(at["items"], pointer + "/0", to);
  if (at.contains("oneOf"))
    for (const Json& one : at["oneOf"]) walk(one, pointer, to);
}

}  // namespace

std::vector<Settable> settables(std::string_view schema) {
  std::vector<Settable> all;
  walk(Json::parse(schema), "", all);
  return all;
}

}  // namespace curdwright::program
