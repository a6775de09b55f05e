// SPDX-License-Identifier: MIT
#include "program/lists.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "catalogue_parts.hpp"
#include "curdwright/cautions.hpp"
#include "curdwright/measure.hpp"
#include "curdwright/response.hpp"
#include "program/page_table.hpp"
#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// Rows for people, entries for scripts; both tell the same.
struct List {
  std::vector<std::string> heads;
  Rows rows;
  Json entries = Json::array();
};

std::string as_list(const List& list, std::string_view what, bool json) {
  return json ? dump({{"schema", "curdwright.list/1"}, {"what", what}, {"entries", list.entries}}) : table(list.heads, list.rows, Last::wraps);
}

/// A key that ends in its unit: "kPa" gives "pressure_kpa", a plain ratio "efficiency_fraction".
std::string key_with_unit(std::string_view key, std::string_view unit) {
  if (unit == "1" || unit == "kg/kg") return fmt::format("{}_fraction", key);
  std::string out = fmt::format("{}_", key);
  for (char c : unit) out += c == '/' ? "_per_" : std::string(1, c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  return out;
}

Result<std::string> list_legumes(const Catalogue& c, bool json) {
  List list{{"id", "protein", "starch", "cook, min", "borrowed", "name"}, {}, Json::array()};
  for (const std::string& id : c.legume_ids()) {
    const auto l = c.legume(id);
    if (!l) return fail(l.error());
    const auto borrowed = std::count_if(l->figures.begin(), l->figures.end(), [](const Evidence& e) { return !e.borrowed_from.empty(); });
    const Boil boil = boil_of({&*l, 1});
    const double protein = l->evidence(Param::seed_protein).value, starch = l->evidence(Param::seed_starch).value;
    list.rows.push_back({id, short_number(protein), short_number(starch), fmt::format("{} {:.0f}", boil == Boil::simmer ? "simmer" : "boil", l->hold.value), fmt::format("{}", borrowed), l->name});
    list.entries.push_back({{"id", id}, {"protein_g_per_100g", number(protein)}, {"starch_g_per_100g", number(starch)}, {"hold_s", number(60 * l->hold.value)}, {"boil", word(boil)},
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
    list.rows.push_back({id, joined(words_of(e->stages)), joined(e->allergens), e->name});
    list.entries.push_back({{"id", id}, {"stages", words_of(e->stages)}, {"allergens", e->allergens}, {"name", e->name}});
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
Result<std::string> list_measures(const Catalogue&, bool json) {
  List list{{"example", "stage", "what"}, {}, Json::array()};
  for (const Measurable& m : all_measurables()) {
    const std::string what = m.measured() ? std::string(m.about) : fmt::format("{} (as done)", m.about);
    list.rows.push_back({std::string(m.example), std::string(word(m.stage)), what});
    list.entries.push_back({{"word", m.word}, {"stage", word(m.stage)}, {"observed", m.measured()}, {"example", m.example}, {"what", m.about}});
  }
  return as_list(list, "measures", json);
}

/// What the commands that compare and search can be asked for.
Result<std::string> list_responses(const Catalogue&, bool json) {
  List list{{"key", "shown in", "what"}, {}, Json::array()};
  for (const Response& r : all_responses()) {
    list.rows.push_back({r.key, r.unit, r.plain});
    list.entries.push_back({{"key", r.key}, {"what", r.plain}});
  }
  return as_list(list, "figures", json);
}

Result<std::string> list_rules(const Catalogue&, bool json) {
  List list{{"rule", "severity", "stage", "about"}, {}, Json::array()};
  for (const Rule& r : all_rules()) {
    list.rows.push_back({std::string(r.id), std::string(sheets::said_severity(r.severity)), std::string(word(r.stage)), fmt::format("{} [{}]", r.about, r.source)});
    list.entries.push_back({{"rule", r.id}, {"severity", word(r.severity)}, {"stage", word(r.stage)}, {"about", r.about}, {"source", r.source}});
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

struct Listed {
  std::string_view word;
  Result<std::string> (*make)(const Catalogue&, bool json);
};
template <EquipmentKind kind>
Result<std::string> gear(const Catalogue& c, bool json) {
  return list_equipment(c, kind, list_word(kind), json);
}
constexpr std::array lists = {
    Listed{"legumes", list_legumes},
    Listed{"coagulants", list_coagulants},
    Listed{"extras", list_extras},
    Listed{list_word(EquipmentKind::blender), gear<EquipmentKind::blender>},
    Listed{list_word(EquipmentKind::strainer), gear<EquipmentKind::strainer>},
    Listed{list_word(EquipmentKind::press), gear<EquipmentKind::press>},
    Listed{list_word(EquipmentKind::hob), gear<EquipmentKind::hob>},
    Listed{list_word(EquipmentKind::chill), gear<EquipmentKind::chill>},
    Listed{"measures", list_measures},
    Listed{"figures", list_responses},
    Listed{"rules", list_rules},
};


}  // namespace

std::span<const std::string_view> list_words() {
  static constexpr auto known = [] {
    std::array<std::string_view, lists.size()> all;
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = lists[i].word;
    return all;
  }();
  return known;
}

Result<std::string> list_text(const Catalogue& c, std::string_view what, bool refused, bool json) {
  if (refused && (what == "legumes" || what == "coagulants")) return list_refused(c, what, json);
  if (refused) return fail(Problem{"command-line", {}, fmt::format("no {} are refused", text::harmless(text::cut(what, 40))), "", "use --refused with legumes or coagulants"});
  const auto list = std::find_if(lists.begin(), lists.end(), [&](const Listed& l) { return l.word == what; });
  if (list != lists.end()) return list->make(c, json);
  return fail(Problem{"command-line", {}, fmt::format("there is no list of \"{}\"", text::harmless(text::cut(what, 40))), "", text::suggest(what, list_words())});
}

}  // namespace curdwright::program
