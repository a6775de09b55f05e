// SPDX-License-Identifier: MIT
#include "program/browse.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "curdwright/cautions.hpp"
#include "curdwright/measure.hpp"
#include "curdwright/resolve.hpp"
#include "curdwright/response.hpp"
#include "curdwright/units.hpp"
#include "records.hpp"
#include "sheets/json_values.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;

constexpr int page = 79;

/// As the sheet: nine digits at most; and no value can drive a terminal.
std::string dump(const Json& j) { return text::harmless_json(shortened(j.dump(2, ' ', false, Json::error_handler_t::replace))) + "\n"; }

std::string indented(std::string_view s, int by) {
  std::string out;
  for (const std::string& line : text::wrapped(text::harmless(s), page - by)) out += std::string(static_cast<std::size_t>(by), ' ') + line + "\n";
  return out;
}

/// Widths of the columns: as their widest cell, but none so wide that the page has no room for the last, which takes the rest.
std::vector<int> widths_of(const Rows& rows) {
  constexpr int widest = 32, least_last = 8;
  std::vector<int> widths(rows[0].size(), 0);
  int before_last = 0;
  for (std::size_t i = 0; i + 1 < widths.size(); ++i) {
    for (const auto& row : rows) widths[i] = std::max(widths[i], text::width(row[i]));
    widths[i] = std::min(widths[i], widest);
    before_last += widths[i] + 2;
  }
  widths.back() = std::max(least_last, page - before_last);
  return widths;
}

/// What becomes of a last cell that is longer than its column: it wraps, or it stands whole on a line of its own.
enum class Last { wraps, beneath };

/// A row, each cell wrapped within its column.
std::string row_text(std::vector<std::string> row, const std::vector<int>& widths, Last last) {
  std::string beneath;
  if (last == Last::beneath && text::width(row.back()) > widths.back()) beneath = indented(std::exchange(row.back(), ""), 4);
  std::vector<std::vector<std::string>> cells;
  std::size_t lines = 1;
  for (std::size_t i = 0; i < row.size(); ++i) {
    cells.push_back(text::wrapped(row[i], widths[i]));
    lines = std::max(lines, cells.back().size());
  }
  std::string out;
  for (std::size_t n = 0; n < lines; ++n) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) line += text::padded(n < cells[i].size() ? cells[i][n] : "", widths[i] + 2);
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out + beneath;
}

std::string table(const std::vector<std::string>& heads, const Rows& rows, Last last) {
  Rows all = {heads};
  all.insert(all.end(), rows.begin(), rows.end());
  for (auto& row : all)
    for (std::string& cell : row) cell = text::harmless(cell);
  const std::vector<int> widths = widths_of(all);
  std::string out;
  for (const auto& row : all) out += row_text(row, widths, last);
  return out;
}

/// Rows for people, entries for scripts; both tell the same.
struct List {
  std::vector<std::string> heads;
  Rows rows;
  Json entries = Json::array();
};

std::string as_list(const List& list, std::string_view what, bool json) {
  return json ? dump({{"schema", "curdwright.list/1"}, {"what", what}, {"entries", list.entries}}) : table(list.heads, list.rows, Last::wraps);
}

std::string short_number(double v) { return fmt::format("{:.3g}", v); }

std::string with_unit(double v, std::string_view unit) { return unit == "1" ? short_number(v) : fmt::format("{} {}", short_number(v), unit); }

/// A key that ends in its unit: "kPa" gives "pressure_kpa", a plain ratio "efficiency_fraction".
std::string key_with_unit(std::string_view key, std::string_view unit) {
  if (unit == "1" || unit == "kg/kg") return fmt::format("{}_fraction", key);
  std::string out = fmt::format("{}_", key);
  for (char c : unit) out += c == '/' ? "_per_" : std::string(1, c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  return out;
}

std::string joined(const std::vector<std::string>& list) {
  std::string out;
  for (const std::string& s : list) out += (out.empty() ? "" : ", ") + s;
  return out;
}

Result<std::string> list_legumes(const Catalogue& c, bool json) {
  List list{{"id", "protein", "starch", "simmer", "borrowed", "name"}, {}, Json::array()};
  for (const std::string& id : c.legume_ids()) {
    const auto l = c.legume(id);
    if (!l) return fail(l.error());
    const auto borrowed = std::count_if(l->figures.begin(), l->figures.end(), [](const Evidence& e) { return !e.borrowed_from.empty(); });
    const double protein = l->evidence(Param::seed_protein).value, starch = l->evidence(Param::seed_starch).value;
    list.rows.push_back({id, short_number(protein), short_number(starch), fmt::format("{:.0f} min", l->hold.value), fmt::format("{}", borrowed), l->name});
    list.entries.push_back({{"id", id}, {"protein_g_per_100g", number(protein)}, {"starch_g_per_100g", number(starch)}, {"simmer_s", number(60 * l->hold.value)},
                            {"borrowed_count", borrowed}, {"name", l->name}});
  }
  return as_list(list, "legumes", json);
}

Result<std::string> list_coagulants(const Catalogue& c, bool json) {
  List list{{"id", "kind", "form", "E number", "name"}, {}, Json::array()};
  for (const std::string& id : c.coagulant_ids()) {
    const auto k = c.coagulant(id);
    if (!k) return fail(k.error());
    list.rows.push_back({id, std::string(word(k->kind)), std::string(word(k->form)), k->e_number, k->name});
    list.entries.push_back({{"id", id}, {"kind", word(k->kind)}, {"form", word(k->form)}, {"e_number", k->e_number}, {"name", k->name}});
  }
  return as_list(list, "coagulants", json);
}

Result<std::string> list_extras(const Catalogue& c, bool json) {
  List list{{"id", "stages", "allergens", "name"}, {}, Json::array()};
  for (const std::string& id : c.extra_ids()) {
    const auto e = c.extra(id);
    if (!e) return fail(e.error());
    list.rows.push_back({id, joined(e->stages), joined(e->allergens), e->name});
    list.entries.push_back({{"id", id}, {"stages", e->stages}, {"allergens", e->allergens}, {"name", e->name}});
  }
  return as_list(list, "extras", json);
}

Result<std::string> list_equipment(const Catalogue& c, EquipmentKind kind, std::string_view what, bool json) {
  List list{{"id", "name", "figures"}, {}, Json::array()};
  for (const std::string& id : c.equipment_ids(kind)) {
    const auto e = c.equipment(kind, id);
    if (!e) return fail(e.error());
    std::string words;
    Json figures = Json::object();
    for (const auto& [key, f] : e->figures) {
      words += fmt::format("{}{} {}", words.empty() ? "" : ", ", key, with_unit(f.value, f.unit));
      figures[key_with_unit(key, f.unit)] = number(f.value);
    }
    list.rows.push_back({id, e->name, words});
    list.entries.push_back({{"id", id}, {"name", e->name}, {"figures", figures}});
  }
  return as_list(list, what, json);
}

/// What can be told with --measured and in the diary.
std::string list_measures(bool json) {
  List list{{"example", "stage", "what"}, {}, Json::array()};
  for (const Measurable& m : all_measurables()) {
    const std::string what = m.observes ? std::string(m.about) : fmt::format("{} (as done)", m.about);
    list.rows.push_back({std::string(m.example), std::string(key(m.stage)), what});
    list.entries.push_back({{"word", m.word}, {"stage", key(m.stage)}, {"observed", m.observes.has_value()}, {"example", m.example}, {"what", m.about}});
  }
  return as_list(list, "measures", json);
}

/// What the commands that compare and search can be asked for.
std::string list_responses(bool json) {
  List list{{"key", "unit", "what"}, {}, Json::array()};
  for (const Response& r : all_responses()) {
    list.rows.push_back({r.key, r.unit, r.plain});
    list.entries.push_back({{"key", r.key}, {"what", r.plain}});
  }
  return as_list(list, "responses", json);
}

std::string list_rules(bool json) {
  List list{{"rule", "severity", "stage", "about"}, {}, Json::array()};
  for (const Rule& r : all_rules()) {
    list.rows.push_back({std::string(r.id), std::string(word(r.severity)), std::string(key(r.stage)), fmt::format("{} [{}]", r.about, r.source)});
    list.entries.push_back({{"rule", r.id}, {"severity", word(r.severity)}, {"stage", key(r.stage)}, {"about", r.about}, {"source", r.source}});
  }
  return as_list(list, "rules", json);
}

std::string sentence(std::string_view s) { return fmt::format("{}{}", s, s.ends_with('.') ? "" : "."); }

std::string list_refused(const Catalogue& c, std::string_view what, bool json) {
  List list{{"id", "rule", "reason"}, {}, Json::array()};
  for (const Refused& r : c.all_refused()) {
    if ((what == "legumes") != (r.what == "seed")) continue;
    list.rows.push_back({r.id, r.rule, fmt::format("{} {} Instead: {}", sentence(r.name), sentence(r.reason), sentence(r.instead))});
    list.entries.push_back({{"id", r.id}, {"rule", r.rule}, {"name", r.name}, {"reason", r.reason}, {"instead", r.instead}});
  }
  return as_list(list, what, json);
}

// --- show -----------------------------------------------------------------------------------------

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

Result<std::string> show_legume(const Catalogue& c, std::string_view id, bool json) {
  const auto l = c.legume(id);
  if (!l) return fail(l.error());
  std::string hazards;
  for (Hazard h : l->hazards) hazards += (hazards.empty() ? "" : ", ") + std::string(word(h));
  const Shown s = {l->id, l->name,
                   {{"latin", l->latin}, {"also", joined(l->also)}, {"form", std::string(word(l->form))}, {"allergens", joined(l->allergens)}, {"hazards", hazards},
                    {"soak", write_quantity(l->soak_time.si(), QuantityKind::duration) + " in the fridge"},
                    {"dose window", fmt::format("{} to {} mmol/l ({})", l->window_low_mm, l->window_high_mm, l->window_source)}},
                   evidence_of(*l), l->notes};
  return json ? shown_json(c, s, "curdwright.show-legume/1") : shown_text(c, s);
}

Result<std::string> show_coagulant(const Catalogue& c, std::string_view id, bool json) {
  const auto k = c.coagulant(id);
  if (!k) return fail(k.error());
  const Shown s = {k->id, k->name,
                   {{"also", joined(k->also)}, {"kind", std::string(word(k->kind))}, {"form", std::string(word(k->form))}, {"ion", std::string(word(k->ion))}, {"grade", k->grade},
                    {"pour at", write_quantity(k->at.si(), QuantityKind::temperature)}, {"wait", write_quantity(k->wait.si(), QuantityKind::duration)},
                    {"make up", fmt::format("{:.2g} times the dose", k->make_up)}, {"rules", joined(k->cautions)}},
                   evidence_of(*k), k->notes};
  return json ? shown_json(c, s, "curdwright.show-coagulant/1") : shown_text(c, s);
}

Result<std::string> show_extra(const Catalogue& c, std::string_view id, bool json) {
  const auto e = c.extra(id);
  if (!e) return fail(e.error());
  const Shown s = {e->id, e->name,
                   {{"also", joined(e->also)}, {"grade", e->grade}, {"stages", joined(e->stages)}, {"allergens", joined(e->allergens)}, {"rules", joined(e->cautions)}},
                   evidence_of(*e), e->notes};
  return json ? shown_json(c, s, "curdwright.show-extra/1") : shown_text(c, s);
}

}  // namespace

std::span<const std::string_view> list_words() {
  static constexpr std::array<std::string_view, 11> known = {"legumes", "coagulants", "extras", "blenders", "strainers", "presses", "hobs", "chills", "measures", "responses", "rules"};
  return known;
}

Result<std::string> list_text(const Catalogue& c, std::string_view what, bool refused, bool json) {
  if (refused && (what == "legumes" || what == "coagulants")) return list_refused(c, what, json);
  if (refused) return fail(Problem{"command-line", {}, fmt::format("no {} are refused", text::harmless(what.substr(0, 40))), "", "use --refused with legumes or coagulants"});
  if (what == "legumes") return list_legumes(c, json);
  if (what == "coagulants") return list_coagulants(c, json);
  if (what == "extras") return list_extras(c, json);
  if (what == "blenders") return list_equipment(c, EquipmentKind::blender, what, json);
  if (what == "strainers") return list_equipment(c, EquipmentKind::strainer, what, json);
  if (what == "presses") return list_equipment(c, EquipmentKind::press, what, json);
  if (what == "hobs") return list_equipment(c, EquipmentKind::hob, what, json);
  if (what == "chills") return list_equipment(c, EquipmentKind::chill, what, json);
  if (what == "rules") return list_rules(json);
  if (what == "measures") return list_measures(json);
  if (what == "responses") return list_responses(json);
  return fail(Problem{"command-line", {}, fmt::format("there is no list of \"{}\"", text::harmless(what.substr(0, 40))), "", text::suggest(what, list_words())});
}

Result<std::string> show_text(const Catalogue& c, std::string_view what, std::string_view id, bool json) {
  if (what == "legume") return show_legume(c, id, json);
  if (what == "coagulant") return show_coagulant(c, id, json);
  if (what == "extra") return show_extra(c, id, json);
  constexpr std::array<std::string_view, 4> known = {"legume", "coagulant", "extra", "kitchen"};
  return fail(Problem{"command-line", {}, fmt::format("show does not know \"{}\"", text::harmless(what.substr(0, 40))), "", text::suggest(what, known)});
}

Result<std::string> kitchen_sheet(const Catalogue& c, const Kitchen& k, bool json) {
  const Json own = Json::parse(write_kitchen(k));
  Json gear = Json::object();
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

Result<std::string> starter_recipe(const Catalogue& c, const Kitchen& k, std::string_view name, int blocks, std::optional<Mass> block) {
  Recipe r;
  r.legumes.resize(1);
  r.legumes[0].id = std::string(name);
  auto s = resolve(r, k, c);
  if (!s) return fail(s.error());
  const Job& j = s->job;
  const auto say = [](auto q, QuantityKind kind) { return write_quantity(q.si(), kind); };
  Json out = {{"schema", "curdwright.recipe/1"}, {"$schema", "recipe.schema.json"}, {"title", fmt::format("Curd of {}", s->legumes[0].kitchen_name)}, {"legume", s->legumes[0].id}};
  out["want"] = {{"blocks", blocks}};
  out["block"] = {{"mass", say(block.value_or(j.press.block), QuantityKind::mass)}};
  out["soak"] = {{"where", word(Where::fridge)}, {"time", say(j.soak.time, QuantityKind::duration)}, {"water_to_dry", j.soak.water_to_dry}};
  if (j.starch.remove == StarchRemoval::settle) out["starch"] = {{"remove", word(StarchRemoval::settle)}, {"time", say(j.starch.time, QuantityKind::duration)}};
  out["cook"] = {{"hold", say(j.cook.hold, QuantityKind::duration)}};
  out["coagulate"] = {{"with", s->coagulant.id}};
  out["press"] = {{"pressure", say(j.press.pressure, QuantityKind::pressure)}, {"time", say(j.press.time, QuantityKind::duration)}, {"where", word(Where::room)}};
  out["chill"] = {{"in", s->chill.id}};
  return dump(out);
}

}  // namespace curdwright::program
