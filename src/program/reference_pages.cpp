// SPDX-License-Identifier: MIT
#include "program/reference_pages.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "program/choices.hpp"
#include "program/offers.hpp"

namespace curdwright::program {
namespace {

using Json = nlohmann::ordered_json;

/// As it stands in a cell: a bar would end it, and `<` would begin markup.
std::string cell(std::string_view s) {
  std::string out;
  for (const char c : s) {
    if (c == '|' || c == '<' || c == '*' || c == '[') out += '\\';
    out += c;
  }
  return out;
}

/// Code in a cell: within it only the bar has to be told from the cell's.
std::string code(std::string_view s) {
  std::string out = "`";
  for (const char c : s) out += c == '|' ? "\\|" : std::string(1, c);
  return s.empty() ? "" : out + "`";
}

std::string sentence(std::string_view s) {
  std::string out = cell(s);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return out.empty() || out.ends_with('.') ? out : out + ".";
}

std::string option_markdown(const OptionRow& o, std::string_view command) {
  const std::string_view fixed = choices(o, command);
  const std::string name = o.letter.empty() ? std::string(o.name) : fmt::format("{}, {}", o.letter, o.name);
  return fmt::format("| {} | {} | {} |\n", code(name), code(fixed.empty() ? o.value : fixed), cell(help_with(o, command)));
}

std::string as_is(std::string_view lines) { return fmt::format("```text\n{}{}```\n\n", lines, lines.ends_with('\n') ? "" : "\n"); }

std::string joined(const Json& list) {
  std::string out;
  for (const Json& one : list) out += fmt::format("{}`{}`", out.empty() ? "" : ", ", one.is_string() ? one.get<std::string>() : one.dump());
  return out;
}

std::string type_of(const Json& field) {
  if (field.contains("$ref")) return field["$ref"].get<std::string>().substr(8);
  if (field.contains("const") || field.contains("enum")) return "word";
  if (field.contains("oneOf")) {
    std::string out;
    for (const Json& one : field["oneOf"])
      if (const std::string t = type_of(one); out.find(t) == std::string::npos) out += (out.empty() ? "" : " or ") + t;
    return out;
  }
  if (!field.contains("type")) return "any";
  if (field["type"].is_array()) return "any";
  const auto type = field["type"].get<std::string>();
  if (type == "string") return "text";
  if (type == "array") return field.contains("items") ? fmt::format("list of {}", type_of(field["items"])) : "list";
  if (type == "object" && field.contains("additionalProperties") && field["additionalProperties"].is_object()) return fmt::format("map of {}", type_of(field["additionalProperties"]));
  return type == "boolean" ? "flag" : type == "integer" ? "whole number" : type;
}

/// What a value may be, as far as the type does not tell.
std::string room_of(const Json& field) {
  if (field.contains("const")) return fmt::format("`{}`", field["const"].is_string() ? field["const"].get<std::string>() : field["const"].dump());
  if (field.contains("enum")) return joined(field["enum"]);
  if (field.contains("minimum") && field.contains("maximum")) return fmt::format("{} to {}", field["minimum"].dump(), field["maximum"].dump());
  if (field.contains("maxLength")) return fmt::format("at most {} characters", field["maxLength"].dump());
  if (field.contains("minItems") && field.contains("maxItems") && field["minItems"] == field["maxItems"]) return fmt::format("{} entries", field["minItems"].dump());
  if (field.contains("maxItems")) return fmt::format("at most {} entries", field["maxItems"].dump());
  if (field.contains("oneOf"))
    for (const Json& one : field["oneOf"])
      if (std::string room = room_of(one); !room.empty()) return room;
  return "";
}

/// An amount tells its kind and limits behind its meaning: "how long; a time, 10 min to 96 h".
struct Told {
  std::string kind, room, about;
};

bool is_amount(const Json& field) {
  return field.contains("examples") || (field.contains("oneOf") && field["oneOf"].back().contains("examples"));
}

Told told_of(const Json& field) {
  std::string about = field.value("description", "");
  if (!is_amount(field)) return {type_of(field), room_of(field), about};
  const auto limits = about.rfind("; "), comma = about.find(", ", limits);
  const std::string kind = about.substr(limits + 2, comma - limits - 2);
  return {kind.substr(kind.find(' ') + 1), about.substr(comma + 2), about.substr(0, limits)};
}

bool due(const Json& object, const std::string& key) {
  if (object.contains("required"))
    for (const Json& k : object["required"])
      if (k == key) return true;
  return false;
}

/// A figure with its evidence is told once for all, not at each place.
bool is_evidence(const Json& field) { return field.contains("oneOf") && field["oneOf"].back().value("$ref", "") == "#/$defs/borrowed"; }

void keys(const Json& at, const std::string& pointer, std::string& out) {
  if (at.contains("properties"))
    for (const auto& [key, field] : at["properties"].items()) {
      const std::string inner = fmt::format("{}/{}", pointer, key);
      Told told = told_of(field);
      if (is_evidence(field)) told.kind = "figure", told.room = code(field["oneOf"][0]["properties"]["unit"]["const"].get<std::string>());
      out += fmt::format("| {} | {} | {} | {} | {} |\n", code(inner), told.kind, told.room, due(at, key) ? "yes" : "", cell(told.about));
      if (!is_evidence(field)) keys(field, inner, out);
    }
  if (at.contains("items")) keys(at["items"], pointer + "/0", out);
  if (at.contains("additionalProperties") && at["additionalProperties"].is_object()) keys(at["additionalProperties"], pointer + "/NAME", out);
  if (at.contains("oneOf") && !pointer.empty())
    for (const Json& one : at["oneOf"]) keys(one, pointer, out);
}

std::string table(const Json& at) {
  std::string rows;
  keys(at, "", rows);
  return rows.empty() ? "" : "| pointer | kind | allowed | must be there | meaning |\n|---|---|---|---|---|\n" + rows + "\n";
}

/// One of several kinds is headed by the word that tells them apart.
std::string kinds(const Json& schema) {
  std::string out;
  for (const Json& one : schema["oneOf"]) {
    const Json& kind = one["properties"]["kind"];
    out += fmt::format("With `kind` {}:\n\n{}", room_of(kind), table(one));
  }
  return out;
}

}  // namespace

std::string command_markdown(const CommandRow& c) {
  std::string out = fmt::format("## {}\n\n{}{}\n\n", c.name, as_is(fmt::format("curdwright {} {}", c.name, c.words)), sentence(c.purpose));
  if (!c.more.empty()) out += as_is(c.more);
  out += "| option | takes | meaning |\n|---|---|---|\n";
  for (const OptionRow* o : options_of(c.name)) out += option_markdown(*o, c.name);
  return out + fmt::format("| `-h, --help` |  | help on the command |\n\nFor example:\n\n{}", as_is(c.example));
}

std::string topic_markdown(const Topic& t) {
  std::string out = fmt::format("## {}\n\n{}\n\n", t.name, sentence(t.about));
  for (const Block& b : blocks_of(t.page())) {
    if (b.kind == Block::Kind::heading) out += fmt::format("### {}\n\n", b.lines[0]);
    if (b.kind == Block::Kind::paragraph) out += cell(b.lines[0]) + "\n\n";
    if (b.kind == Block::Kind::as_is) out += as_is(fmt::format("{}", fmt::join(b.lines, "\n")));
    if (b.kind != Block::Kind::rows) continue;
    out += "| word | meaning |\n|---|---|\n";
    for (const std::string& l : b.lines) out += fmt::format("| {} | {} |\n", code(row_parts(l).first), cell(row_parts(l).second));
    out += "\n";
  }
  return out;
}

std::string commands_markdown() {
  std::string out = "# Commands\n\nEach command with its options, as `curdwright help COMMAND` tells them. [reference.md](reference.md) says more of what they do.\n\n";
  out += "| command | does |\n|---|---|\n";
  for (const CommandRow& c : all_commands()) out += fmt::format("| [`{0}`](#{0}) | {1} |\n", c.name, cell(c.purpose));
  out += "\n`curdwright --help` and `curdwright --version` stand alone. `curdwright help TOPIC` explains:\n\n| topic | what |\n|---|---|\n";
  for (const Topic& t : all_topics()) out += fmt::format("| `{}` | {} |\n", t.name, cell(t.about));
  out += "\n";
  for (const CommandRow& c : all_commands()) out += command_markdown(c);
  return out;
}

std::string format_markdown(std::string_view kind, std::string_view schema) {
  const Json s = Json::parse(schema);
  std::string out = fmt::format("## {}\n\n{}.\n\n", kind, s["title"].get<std::string>());
  out += s.contains("oneOf") ? kinds(s) : table(s);
  if (s.contains("$defs"))
    for (const auto& [name, one] : s["$defs"].items()) {
      const std::string rows = name == "borrowed" ? "" : table(one);
      if (!rows.empty()) out += fmt::format("### {}\n\nOf {}.\n\n{}", name, kind, rows);
    }
  return out;
}

}  // namespace curdwright::program
