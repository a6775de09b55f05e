// SPDX-License-Identifier: MIT
// JSON Schema 2020-12 from a description of fields.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "json/fields.hpp"

namespace curdwright::json {
namespace {

using Json = nlohmann::ordered_json;

class SchemaWriter : public Fields {
 public:
  Json properties = Json::object();
  Json due = Json::array();

  [[nodiscard]] Json object_schema() const {
    Json s = {{"type", "object"}, {"properties", properties}};
    if (!due.empty()) s["required"] = due;
    s["additionalProperties"] = false;
    return s;
  }

  void number(std::string_view key, std::optional<double>&, Bounds b, std::string_view about) override {
    add(key, {{"type", "number"}, {"minimum", b.low}, {"maximum", b.high}}, about);
  }
  void count(std::string_view key, std::optional<int>&, int low, int high, std::string_view about) override {
    add(key, {{"type", "integer"}, {"minimum", low}, {"maximum", high}}, about);
  }
  void flag(std::string_view key, std::optional<bool>&, std::string_view about) override { add(key, {{"type", "boolean"}}, about); }
  void text(std::string_view key, std::optional<std::string>&, std::size_t longest, std::string_view about) override {
    add(key, {{"type", "string"}, {"maxLength", longest}}, about);
  }
  void choice(std::string_view key, std::optional<std::string>&, std::span<const std::string_view> words, std::string_view about) override {
    Json list = Json::array();
    for (std::string_view w : words) list.push_back(w);
    add(key, {{"type", "string"}, {"enum", list}}, about);
  }
  void checked_text(std::string_view key, std::optional<std::string>&, const Check&, std::string_view about) override {
    add(key, {{"type", "string"}, {"maxLength", max_text}}, about);
  }
  void entries(std::string_view key, Entries&, std::size_t most, const Check&, std::string_view about) override {
    add(key, {{"type", "object"}, {"additionalProperties", {{"type", "string"}, {"maxLength", max_text}}}, {"maxProperties", most}}, about);
  }
  void texts(std::string_view key, std::vector<std::string>&, std::size_t most, std::string_view about) override {
    add(key, {{"type", "array"}, {"items", {{"type", "string"}, {"maxLength", max_text}}}, {"maxItems", most}}, about);
  }
  void numbers(std::string_view key, std::vector<double>&, std::size_t most, Bounds b, std::string_view about) override {
    add(key, {{"type", "array"}, {"items", {{"type", "number"}, {"minimum", b.low}, {"maximum", b.high}}}, {"maxItems", most}}, about);
  }
  void object(std::string_view key, bool&, std::string_view about, const Describe& inner) override {
    SchemaWriter w;
    inner(w);
    add(key, w.object_schema(), about);
  }
  void list(std::string_view key, std::size_t, std::size_t most, std::string_view about, const std::function<void(std::size_t)>& resize,
            const DescribeItem& item) override {
    add(key, list_schema(most, resize, item), about);
  }
  void text_or_list(std::string_view key, std::optional<std::string>&, std::size_t most, std::string_view about,
                    const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    Json list = list_schema(most, resize, item);
    list["minItems"] = 1;
    add(key, {{"oneOf", {{{"type", "string"}, {"maxLength", max_text}}, list}}}, about);
  }
  void evidence(std::string_view key, Evidence&, std::string_view unit, Link, bool optional_field, std::string_view about) override {
    if (!optional_field) required();
    add(key, {{"oneOf", {figure(unit), {{"$ref", "#/$defs/borrowed"}}}}}, about);
  }
  void required() override { required_ = true; }

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double&, bool&, Bounds b, std::string_view about) override {
    const std::string limits = fmt::format("{}; {}, {} to {}", about, name_of(kind), write_quantity(b.low, kind), write_quantity(b.high, kind));
    Json written = {{"type", "string"}, {"maxLength", max_quantity_text}, {"examples", {std::string(example_of(kind))}}};
    if (kind == QuantityKind::fraction)
      add(key, {{"oneOf", {{{"type", "number"}, {"minimum", b.low}, {"maximum", b.high}}, written}}}, limits);
    else
      add(key, written, limits);
  }

 private:
  void add(std::string_view key, Json schema, std::string_view about) {
    Json s = {{"description", about}};
    s.update(schema);
    if (std::exchange(required_, false)) due.push_back(key);
    properties[std::string(key)] = std::move(s);
  }

  static Json list_schema(std::size_t most, const std::function<void(std::size_t)>& resize, const DescribeItem& item) {
    resize(1);
    SchemaWriter w;
    item(w, 0);
    return {{"type", "array"}, {"items", w.object_schema()}, {"maxItems", most}};
  }

  static Json figure(std::string_view unit) {
    Json s = {{"type", "object"}, {"properties", Json::object()}};
    s["properties"] = {{"value", {{"description", "the middle of belief"}, {"type", "number"}, {"exclusiveMinimum", 0}}},
                       {"range", {{"description", "the 10 % and the 90 % of belief"}, {"$ref", "#/$defs/range"}}},
                       {"unit", {{"description", "unit of value and range"}, {"const", std::string(unit)}}},
                       {"known", {{"description", "how the value is known"}, {"$ref", "#/$defs/known"}}},
                       {"source", {{"description", "id of a source"}, {"type", "string"}, {"maxLength", max_text}}},
                       {"note", {{"description", "a remark"}, {"type", "string"}, {"maxLength", 400}}}};
    s["required"] = {"value", "range", "unit", "known", "source"};
    s["additionalProperties"] = false;
    return s;
  }

  bool required_ = false;
};

Json evidence_defs() {
  Json known = Json::array();
  for (std::string_view w : word_list<Known>) known.push_back(w);
  Json defs = Json::object();
  defs["range"] = {{"description", "the 10 % and the 90 % of belief"}, {"type", "array"}, {"items", {{"type", "number"}, {"exclusiveMinimum", 0}}},
                   {"minItems", 2}, {"maxItems", 2}};
  defs["known"] = {{"description", "how the value is known"}, {"enum", known}};
  defs["borrowed"] = {{"description", "taken from a neighbour, with the spread widened 1.5 times"}, {"type", "object"},
                      {"properties", {{"borrow", {{"description", "id of the neighbour"}, {"type", "string"}, {"maxLength", max_text}}}, {"note", {{"description", "a remark"}, {"type", "string"}, {"maxLength", 400}}}}},
                      {"required", {"borrow"}}, {"additionalProperties", false}};
  return defs;
}

}  // namespace

namespace {

std::string whole(std::string_view id, std::string_view title, const Json& schema) {
  Json s = {{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"$id", std::string(id)}, {"title", std::string(title)}};
  s.update(schema);
  if (s.dump().find("#/$defs/") != std::string::npos) s["$defs"] = evidence_defs();
  return s.dump(2) + "\n";
}

Json object_schema(const Fields::Describe& describe) {
  SchemaWriter w;
  describe(w);
  return w.object_schema();
}

}  // namespace

std::string schema_text(std::string_view id, std::string_view title, const Fields::Describe& describe) { return whole(id, title, object_schema(describe)); }

std::string schema_text_of_one(std::string_view id, std::string_view title, std::span<const Fields::Describe> kinds) {
  Json one = Json::array();
  for (const Fields::Describe& describe : kinds) one.push_back(object_schema(describe));
  return whole(id, title, {{"type", "object"}, {"oneOf", one}});
}

}  // namespace curdwright::json
