// SPDX-License-Identifier: MIT
#include "program/browse.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "curdwright/cautions.hpp"
#include "curdwright/resolve.hpp"
#include "curdwright/units.hpp"
#include "records.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;

std::string dump(const Json& j) { return j.dump(2, ' ', false, Json::error_handler_t::replace) + "\n"; }

/// Columns as wide as their widest cell; the last one wraps at 79.
std::string table(const std::vector<std::string>& heads, const Rows& rows) {
  std::vector<int> widths;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    int w = text::width(heads[i]);
    for (const auto& row : rows) w = std::max(w, text::width(row[i]));
    widths.push_back(w);
  }
  int before_last = 0;
  for (std::size_t i = 0; i + 1 < heads.size(); ++i) before_last += widths[i] + 2;
  std::string out;
  const auto add = [&](const std::vector<std::string>& row) {
    std::string line;
    for (std::size_t i = 0; i + 1 < row.size(); ++i) line += text::padded(row[i], widths[i] + 2);
    auto last = text::wrapped(row.back(), std::max(20, 79 - before_last));
    if (last.empty()) last.emplace_back();
    for (std::size_t i = 0; i < last.size(); ++i) {
      std::string whole = (i == 0 ? line : std::string(static_cast<std::size_t>(before_last), ' ')) + last[i];
      whole.erase(whole.find_last_not_of(' ') + 1);
      out += whole + "\n";
    }
  };
  add(heads);
  for (const auto& row : rows) add(row);
  return out;
}

std::string as_list(const std::vector<std::string>& heads, const Rows& rows, std::string_view what, bool json) {
  if (!json) return table(heads, rows);
  Json list = Json::array();
  for (const auto& row : rows) {
    Json j = Json::object();
    for (std::size_t i = 0; i < heads.size(); ++i) j[heads[i]] = row[i];
    list.push_back(std::move(j));
  }
  return dump({{"schema", "curdwright.list/1"}, {"what", what}, {"entries", list}});
}

std::string short_number(double v) { return fmt::format("{:.3g}", v); }

Result<std::string> list_legumes(const Catalogue& c, bool json) {
  Rows rows;
  for (const std::string& id : c.legume_ids()) {
    const auto l = c.legume(id);
    if (!l) return fail(l.error());
    const auto borrowed = std::count_if(l->figures.begin(), l->figures.end(), [](const Evidence& e) { return !e.borrowed_from.empty(); });
    rows.push_back({id, short_number(l->evidence(Param::seed_protein).value), short_number(l->evidence(Param::seed_starch).value),
                    fmt::format("{:.0f} min", l->hold.value), fmt::format("{}", borrowed), l->name});
  }
  return as_list({"id", "protein", "starch", "simmer", "borrowed", "name"}, rows, "legumes", json);
}

Result<std::string> list_coagulants(const Catalogue& c, bool json) {
  Rows rows;
  for (const std::string& id : c.coagulant_ids()) {
    const auto k = c.coagulant(id);
    if (!k) return fail(k.error());
    rows.push_back({id, k->kind, k->form, k->e_number, k->name});
  }
  return as_list({"id", "kind", "form", "E number", "name"}, rows, "coagulants", json);
}

Result<std::string> list_equipment(const Catalogue& c, EquipmentKind kind, std::string_view what, bool json) {
  Rows rows;
  for (const std::string& id : c.equipment_ids(kind)) {
    const auto e = c.equipment(kind, id);
    if (!e) return fail(e.error());
    std::string figures;
    for (const auto& [key, f] : e->figures) figures += fmt::format("{}{} {}{}", figures.empty() ? "" : ", ", key, short_number(f.value), f.unit == "1" ? "" : " " + f.unit);
    rows.push_back({id, e->name, figures});
  }
  return as_list({"id", "name", "figures"}, rows, what, json);
}

std::string list_rules(bool json) {
  Rows rows;
  for (const Rule& r : all_rules()) rows.push_back({std::string(r.id), std::string(word(r.severity)), std::string(key(r.stage)), fmt::format("{} [{}]", r.about, r.source)});
  return as_list({"rule", "severity", "stage", "about"}, rows, "rules", json);
}

std::string list_refused(const Catalogue& c, std::string_view what, bool json) {
  Rows rows;
  for (const Refused& r : c.all_refused())
    if ((what == "legumes") == (r.what == "seed")) rows.push_back({r.id, r.rule, fmt::format("{}. {} Instead: {}.", r.name, r.reason, r.instead)});
  return as_list({"id", "rule", "reason"}, rows, what, json);
}

// --- show -----------------------------------------------------------------------------------------

Json evidence_json(const Evidence& e) {
  Json j = {{"value", e.value}, {"range", {e.low, e.high}}, {"unit", e.unit}, {"known", word(e.known)}, {"source", e.source}};
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

std::string shown_text(const Catalogue& c, const Shown& s) {
  std::string out = fmt::format("{}  ({})\n", s.name, text::harmless(s.id));
  for (const auto& [key, value] : s.facts)
    if (!value.empty()) out += fmt::format("  {} {}\n", text::padded(key, 14), value);
  out += "\n";
  Rows rows;
  std::vector<std::string> sources;
  for (const auto& [pointer, e] : s.figures) {
    rows.push_back({pointer.substr(1), short_number(e->value), fmt::format("{} to {}", short_number(e->low), short_number(e->high)), e->unit, std::string(word(e->known)),
                    e->borrowed_from.empty() ? e->source : fmt::format("{}, from {}", e->source, e->borrowed_from)});
    if (std::find(sources.begin(), sources.end(), e->source) == sources.end()) sources.push_back(e->source);
  }
  out += table({"figure", "median", "80 % range", "unit", "known", "source"}, rows);
  out += "\nSources\n";
  const auto citations = c.citations();
  for (const std::string& id : sources) {
    const auto i = citations.find(id);
    const std::string words = i == citations.end() ? "not listed" : fmt::format("{} (read: {})", i->second.cite, i->second.read);
    const auto lines = text::wrapped(words, 73);
    out += fmt::format("  {}\n", id);
    for (const std::string& l : lines) out += fmt::format("      {}\n", l);
  }
  if (!s.notes.empty()) out += "\nNotes\n";
  for (const std::string& n : s.notes)
    for (const std::string& l : text::wrapped(n, 77)) out += fmt::format("  {}\n", l);
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

std::string joined(const std::vector<std::string>& list) {
  std::string out;
  for (const std::string& s : list) out += (out.empty() ? "" : ", ") + s;
  return out;
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
                   {{"also", joined(k->also)}, {"kind", k->kind}, {"form", k->form}, {"ion", k->ion}, {"grade", k->grade},
                    {"pour at", write_quantity(k->at.si(), QuantityKind::temperature)}, {"wait", write_quantity(k->wait.si(), QuantityKind::duration)},
                    {"make up", fmt::format("{:.2g} times the dose", k->make_up)}, {"rules", joined(k->cautions)}},
                   evidence_of(*k), k->notes};
  return json ? shown_json(c, s, "curdwright.show-coagulant/1") : shown_text(c, s);
}

}  // namespace

Result<std::string> list_text(const Catalogue& c, std::string_view what, bool refused, bool json) {
  if (refused && (what == "legumes" || what == "coagulants")) return list_refused(c, what, json);
  if (refused) return fail(Problem{"command-line", {}, fmt::format("no {} are refused", text::harmless(what.substr(0, 40))), "", "use --refused with legumes or coagulants"});
  if (what == "legumes") return list_legumes(c, json);
  if (what == "coagulants") return list_coagulants(c, json);
  if (what == "blenders") return list_equipment(c, EquipmentKind::blender, what, json);
  if (what == "strainers") return list_equipment(c, EquipmentKind::strainer, what, json);
  if (what == "presses") return list_equipment(c, EquipmentKind::press, what, json);
  if (what == "hobs") return list_equipment(c, EquipmentKind::hob, what, json);
  if (what == "chills") return list_equipment(c, EquipmentKind::chill, what, json);
  if (what == "rules") return list_rules(json);
  constexpr std::array<std::string_view, 8> known = {"legumes", "coagulants", "blenders", "strainers", "presses", "hobs", "chills", "rules"};
  return fail(Problem{"command-line", {}, fmt::format("there is no list of \"{}\"", text::harmless(what.substr(0, 40))), "", text::suggest(what, known)});
}

Result<std::string> show_text(const Catalogue& c, std::string_view what, std::string_view id, bool json) {
  if (what == "legume") return show_legume(c, id, json);
  if (what == "coagulant") return show_coagulant(c, id, json);
  constexpr std::array<std::string_view, 3> known = {"legume", "coagulant", "kitchen"};
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
  return fmt::format("{}\nAs a kitchen file\n{}", shown_text(c, s), own.dump(2) + "\n");
}

Result<std::string> starter_recipe(const Catalogue& c, const Kitchen& k, std::string_view name, int blocks) {
  Recipe r;
  r.legumes.resize(1);
  r.legumes[0].id = std::string(name);
  auto s = resolve(r, k, c);
  if (!s) return fail(s.error());
  const Job& j = s->job;
  const auto say = [](auto q, QuantityKind kind) { return write_quantity(q.si(), kind); };
  Json out = {{"schema", "curdwright.recipe/1"}, {"title", fmt::format("Curd of {}", s->legumes[0].kitchen_name)}, {"legume", s->legumes[0].id}};
  out["want"] = {{"blocks", blocks}};
  out["block"] = {{"mass", say(j.press.block, QuantityKind::mass)}};
  out["soak"] = {{"where", "fridge"}, {"time", say(j.soak.time, QuantityKind::duration)}, {"water_to_dry", j.soak.water_to_dry}};
  if (j.starch.remove == StarchRemoval::settle) out["starch"] = {{"remove", "settle"}, {"time", say(j.starch.time, QuantityKind::duration)}};
  out["cook"] = {{"hold", say(j.cook.hold, QuantityKind::duration)}};
  out["coagulate"] = {{"with", s->coagulant.id}};
  out["press"] = {{"pressure", say(j.press.pressure, QuantityKind::pressure)}, {"time", say(j.press.time, QuantityKind::duration)}, {"where", "room"}};
  out["chill"] = {{"in", s->chill.id}};
  return dump(out);
}

}  // namespace curdwright::program
