// SPDX-License-Identifier: MIT
#include "program/records_shown.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "program/page_table.hpp"
#include "records.hpp"
#include "sheets/json_values.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Json evidence_json(const Evidence& e) {
  Json j = {{"value", number(e.value)}, {"range", {number(e.low), number(e.high)}}, {"unit", e.unit}, {"known", word(e.known)}, {"source", e.source}};
  if (!e.borrowed_from.empty()) j["borrowed_from"] = e.borrowed_from;
  if (!e.note.empty()) j["note"] = e.note;
  return j;
}

struct Shown {
  std::string id, name;
  std::vector<std::pair<std::string, std::string>> facts;
  std::vector<std::pair<std::string, const Evidence*>> figures;
  std::vector<std::string> notes;
};

/// A heading with its text beside it, the further lines under the first.
std::string fact_text(std::string_view key, std::string_view value) {
  constexpr int column = 17;
  std::string out;
  for (const std::string& line : text::wrapped(text::harmless(value), page - column))
    out += text::padded(out.empty() ? fmt::format("  {}", key) : "", column) + line + "\n";
  return out;
}

std::string figures_table(const Shown& s) {
  Rows rows;
  for (const auto& [pointer, e] : s.figures) {
    std::string from = fmt::format("{}: {}", word(e->known), e->source);
    if (!e->borrowed_from.empty()) from += fmt::format(", from {}", e->borrowed_from);
    rows.push_back({pointer.substr(1), with_unit(e->value, e->unit), fmt::format("{} to {}", short_number(e->low), short_number(e->high)), std::move(from)});
  }
  return table({"figure", "median", "80 % range", "known: source"}, rows, Last::beneath);
}

std::string shown_text(const Catalogue& c, const Shown& s) {
  const std::string title = text::harmless(fmt::format("{}  ({})", s.name, s.id));
  std::string out = text::width(title) <= page ? title + "\n" : indented(title, 0);
  for (const auto& [key, value] : s.facts)
    if (!value.empty()) out += fact_text(key, value);
  out += "\n" + figures_table(s) + "\nSources\n";
  std::vector<std::string> sources;
  for (const auto& [pointer, e] : s.figures)
    if (std::find(sources.begin(), sources.end(), e->source) == sources.end()) sources.push_back(e->source);
  const auto citations = c.citations();
  for (const std::string& id : sources) {
    const auto i = citations.find(id);
    out += indented(id, 2) + indented(i == citations.end() ? "not listed" : fmt::format("{} (read: {})", i->second.cite, i->second.read), 6);
  }
  if (!s.notes.empty()) out += "\nNotes\n";
  for (const std::string& n : s.notes) out += indented(n, 2);
  return out;
}

std::string shown_json(const Catalogue& c, const Shown& s, std::string_view schema) {
  Json j = {{"schema", schema}, {"id", s.id}, {"name", s.name}};
  for (const auto& [key, value] : s.facts)
    if (!value.empty()) j[key] = value;
  Json figures = Json::object(), sources = Json::object();
  const auto citations = c.citations();
  for (const auto& [pointer, e] : s.figures) {
    figures[pointer.substr(1)] = evidence_json(*e);
    if (const auto i = citations.find(e->source); i != citations.end()) sources[e->source] = {{"cite", i->second.cite}, {"read", i->second.read}};
  }
  j["figures"] = figures;
  j["sources"] = sources;
  j["notes"] = s.notes;
  return dump(j);
}

std::string quantity(auto q, QuantityKind kind) { return write_quantity(q.si(), kind); }

// What is shown points into its record.
Shown shown(const Legume& l) {
  std::string hazards;
  for (Hazard h : l.hazards) hazards += (hazards.empty() ? "" : ", ") + std::string(word(h));
  return {l.id, l.name,
          {{"latin", l.latin}, {"also", joined(l.also)}, {"form", std::string(word(l.form))}, {"allergens", joined(l.allergens)}, {"hazards", hazards},
           {"soak", quantity(l.soak_time, QuantityKind::duration) + " in the fridge"},
           {"dose window", fmt::format("{} to {} mmol/l ({})", l.window_low_mm, l.window_high_mm, l.window_source)}},
          evidence_of(l), l.notes};
}

Shown shown(const Coagulant& k) {
  return {k.id, k.name,
          {{"also", joined(k.also)}, {"kind", std::string(word(k.kind))}, {"form", std::string(word(k.form))}, {"ion", std::string(word(k.ion))}, {"grade", k.grade},
           {"pour at", quantity(k.at, QuantityKind::temperature)}, {"wait", quantity(k.wait, QuantityKind::duration)},
           {"make up", fmt::format("{:.2g} times the dose", k.make_up)}, {"rules", joined(k.cautions)}},
          evidence_of(k), k.notes};
}

Shown shown(const Extra& e) {
  return {e.id, e.name,
          {{"also", joined(e.also)}, {"grade", e.grade}, {"stages", joined(words_of(e.stages))}, {"allergens", joined(e.allergens)}, {"rules", joined(e.cautions)}},
          evidence_of(e), e.notes};
}

template <class T>
Result<std::string> show(const Catalogue& c, const Result<T>& record, std::string_view schema, bool json) {
  if (!record) return fail(record.error());
  return json ? shown_json(c, shown(*record), schema) : shown_text(c, shown(*record));
}

}  // namespace

Result<std::string> show_text(const Catalogue& c, std::string_view what, std::string_view id, bool json) {
  if (what == "legume") return show(c, c.legume(id), "curdwright.show-legume/1", json);
  if (what == "coagulant") return show(c, c.coagulant(id), "curdwright.show-coagulant/1", json);
  if (what == "extra") return show(c, c.extra(id), "curdwright.show-extra/1", json);
  constexpr std::array<std::string_view, 4> known = {"legume", "coagulant", "extra", "kitchen"};
  return fail(Problem{"command-line", {}, fmt::format("show does not know \"{}\"", text::harmless(text::cut(what, 40))), "", text::suggest(what, known)});
}

Result<std::string> kitchen_sheet(const Catalogue& c, const Kitchen& k, bool json) {
  const Json own = Json::parse(write_kitchen(k));
  std::vector<Equipment> all;
  const auto add = [&](EquipmentKind kind, const std::string& id) -> Result<void> {
    auto e = c.equipment(kind, id);
    if (!e) return fail(e.error());
    all.push_back(std::move(*e));
    return {};
  };
  for (const auto& [kind, id] : {std::pair{EquipmentKind::blender, k.blender}, std::pair{EquipmentKind::strainer, k.strainer}, std::pair{EquipmentKind::press, k.press},
                                 std::pair{EquipmentKind::hob, k.hob}})
    if (auto added = add(kind, id); !added) return fail(added.error());
  const auto model = c.model();
  if (!model) return fail(model.error());
  Shown s = {k.name, "Kitchen", {}, {}, {}};
  for (const Equipment& e : all)
    for (const auto& [pointer, figure] : evidence_of(e)) s.figures.emplace_back(fmt::format("/{}/{}", e.id, pointer.substr(1)), figure);
  for (const auto& [param, figure] : *model) s.figures.emplace_back(fmt::format("/model/{}", info(param).key), &figure);
  if (json) {
    Json j = Json::parse(shown_json(c, s, "curdwright.show-kitchen/1"));
    j["kitchen"] = own;
    return dump(j);
  }
  return fmt::format("{}\nAs a kitchen file\n{}", shown_text(c, s), dump(own));
}

}  // namespace curdwright::program
