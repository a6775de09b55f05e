// SPDX-License-Identifier: MIT
#include "program/offer_sources.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "curdwright/diary.hpp"
#include "curdwright/kitchen.hpp"
#include "curdwright/response.hpp"
#include "curdwright/trouble.hpp"
#include "program/lists.hpp"
#include "program/diary_commands.hpp"
#include "program/diary_file.hpp"
#include "program/diary_open.hpp"
#include "program/planning.hpp"
#include "program/pointers.hpp"
#include "program/schema_command.hpp"
#include "program/topics.hpp"

namespace curdwright::program::offered {
namespace {

template <class Words>
Offers plain(const Words& words) {
  Offers o;
  for (const auto& w : words) o.list.push_back({std::string(w), ""});
  return o;
}

Catalogue records(const Request& r) {
  const auto c = catalogue_of(r);
  return c ? *c : Catalogue::shipped();
}

/// Ids of a kind of record with their names.
template <class Read>
void add_records(Offers& to, const std::vector<std::string>& ids, const Read& read, std::string_view ending = "") {
  for (const std::string& id : ids)
    if (const auto record = read(id)) to.list.push_back({fmt::format("{}{}", id, ending), record->name});
}

void add_legumes(Offers& to, const Catalogue& c, std::string_view ending = "") {
  add_records(to, c.legume_ids(), [&](const std::string& id) { return c.legume(id); }, ending);
}
void add_coagulants(Offers& to, const Catalogue& c, std::string_view ending = "") {
  add_records(to, c.coagulant_ids(), [&](const std::string& id) { return c.coagulant(id); }, ending);
}
void add_extras(Offers& to, const Catalogue& c, std::string_view ending = "") {
  add_records(to, c.extra_ids(), [&](const std::string& id) { return c.extra(id); }, ending);
}
void add_gear(Offers& to, const Catalogue& c, EquipmentKind kind) {
  add_records(to, c.equipment_ids(kind), [&](const std::string& id) { return c.equipment(kind, id); });
}

/// Pointers whose value is the id of a record.
void add_ids_at(Offers& to, const Catalogue& c, std::string_view pointer) {
  if (pointer == "/legume" || pointer == "/legume/0/id") add_legumes(to, c);
  if (pointer == "/coagulate/with") add_coagulants(to, c);
  if (pointer == "/extras/0/what") add_extras(to, c);
  if (pointer == "/chill/in") add_gear(to, c, EquipmentKind::chill);
  if (pointer == "/strain/by" || pointer == "/kitchen/strainer") add_gear(to, c, EquipmentKind::strainer);
  if (pointer == "/kitchen/blender/class") add_gear(to, c, EquipmentKind::blender);
  if (pointer == "/kitchen/press") add_gear(to, c, EquipmentKind::press);
  if (pointer == "/kitchen/hob/kind") add_gear(to, c, EquipmentKind::hob);
}

/// All that --set takes: the recipe's own places, and the kitchen's under /kitchen. What `learn` writes is not typed.
std::vector<Settable> all_settings() {
  std::vector<Settable> all = settables(recipe_schema());
  all.push_back({"/kitchen", "the kitchen", "object", {}});
  for (Settable& s : settables(kitchen_schema())) {
    s.pointer.insert(0, "/kitchen");
    all.push_back(std::move(s));
  }
  std::erase_if(all, [](const Settable& s) { return s.pointer.ends_with("schema") || s.pointer.starts_with("/kitchen/learned"); });
  return all;
}

/// "/strain/washes/2/blend" stands in the schema as "/strain/washes/0/blend".
std::string first_item(std::string_view pointer) {
  std::string out;
  while (!pointer.empty()) {
    const auto next = pointer.find('/', 1);
    const std::string_view step = pointer.substr(0, next);
    out += step.size() > 1 && step.find_first_not_of("0123456789", 1) == std::string_view::npos ? "/0" : step;
    pointer.remove_prefix(std::min(next, pointer.size()));
  }
  return out;
}

Offers setting_values(const Request& r, const std::vector<Settable>& all, std::string_view pointer) {
  Offers o;
  const std::string known = first_item(pointer);
  for (const Settable& s : all)
    if (s.pointer == known) o = plain(s.words);
  if (o.list.empty()) add_ids_at(o, records(r), known);
  for (Offer& f : o.list) f.word.insert(0, fmt::format("{}=", pointer));
  return o;
}

const Diary* diary_of(const Request& r) {
  static Diary diary;
  const auto path = diary_path(r);
  if (!path) return nullptr;
  auto read = diary_at(*path, Missing::is_empty);
  if (!read) return nullptr;
  diary = std::move(*read);
  return &diary;
}

}  // namespace

Offers files(const Request&, std::string_view) { return {Offers::Kind::files, {}}; }
Offers folders(const Request&, std::string_view) { return {Offers::Kind::folders, {}}; }

Offers legumes(const Request& r, std::string_view) {
  Offers o;
  add_legumes(o, records(r));
  return o;
}

Offers blenders(const Request& r, std::string_view) {
  Offers o;
  add_gear(o, records(r), EquipmentKind::blender);
  return o;
}

Offers strainers(const Request& r, std::string_view) {
  Offers o;
  add_gear(o, records(r), EquipmentKind::strainer);
  return o;
}

Offers shown_ids(const Request& r, std::string_view) {
  Offers o;
  const Catalogue c = records(r);
  if (r.words[0] == "legume") add_legumes(o, c);
  if (r.words[0] == "coagulant") add_coagulants(o, c);
  if (r.words[0] == "extra") add_extras(o, c);
  return o;
}

Offers sold(const Request& r, std::string_view current) {
  Offers o;
  if (current.find('=') != std::string_view::npos) return o;
  const Catalogue c = records(r);
  add_legumes(o, c, "=");
  add_coagulants(o, c, "=");
  add_extras(o, c, "=");
  for (std::string_view other : {"water", "electricity", "gas", "pulp", "starch-layer", "whey"}) o.list.push_back({fmt::format("{}=", other), ""});
  return o;
}

Offers responses(const Request&, std::string_view) {
  Offers o;
  for (const Response& x : all_responses()) o.list.push_back({x.key, x.plain});
  return o;
}

Offers responses_list(const Request& r, std::string_view current) {
  Offers o = responses(r, current);
  const auto comma = current.rfind(',');
  if (comma != std::string_view::npos)
    for (Offer& f : o.list) f.word.insert(0, current.substr(0, comma + 1));
  return o;
}

Offers measures(const Request&, std::string_view) {
  Offers o;
  for (const Measurable& m : all_measurables())
    if (o.list.empty() || o.list.back().word != fmt::format("{}=", m.word)) o.list.push_back({fmt::format("{}=", m.word), std::string(m.about)});
  return o;
}

Offers sights(const Request&, std::string_view) {
  Offers o;
  for (const TroubleSight& s : shipped_troubles().sights) o.list.push_back({fmt::format("{}={}", s.sighting.what, s.sighting.looks), s.plain});
  return o;
}

Offers without(const Request&, std::string_view) {
  Offers o;
  for (std::string_view a : known_allergens) o.list.push_back({fmt::format("allergen:{}", a), ""});
  for (Hazard h : all_values<Hazard>()) o.list.push_back({fmt::format("hazard:{}", word(h)), ""});
  return o;
}

Offers settings(const Request& r, std::string_view current) {
  const std::vector<Settable> all = all_settings();
  if (const auto equals = current.find('='); equals != std::string_view::npos) return setting_values(r, all, current.substr(0, equals));
  Offers o;
  for (const Settable& s : all) {
    if (!s.pointer.starts_with(current)) continue;
    const bool inner = s.kind == "object" || s.kind == "list" || s.kind == "map";
    // One step at a time, as a path is typed.
    const auto step = s.pointer.find('/', std::max<std::size_t>(current.size(), 1));
    if (step == std::string::npos)
      o.list.push_back({fmt::format("{}{}", s.pointer, inner ? "/" : "="), s.about});
    else if (const std::string folder = s.pointer.substr(0, step + 1); std::none_of(o.list.begin(), o.list.end(), [&](const Offer& f) { return f.word == folder; }))
      o.list.push_back({folder, ""});
  }
  return o;
}

Offers verbs(const Request&, std::string_view) {
  Offers o;
  for (const DiaryVerb& v : all_verbs()) o.list.push_back({std::string(v.name), std::string(v.words)});
  return o;
}

Offers batches(const Request& r, std::string_view) {
  Offers o;
  if (const Diary* d = diary_of(r))
    for (const DiaryBatch& b : d->batches) o.list.push_back({b.id, b.start.title});
  return o;
}

Offers pieces(const Request& r, std::string_view) {
  Offers o;
  if (const Diary* d = diary_of(r))
    for (const DiaryBatch& b : d->batches)
      for (const DiaryPiece& p : b.pieces)
        if (b.id == r.words[1]) o.list.push_back({p.name, ""});
  return o;
}

Offers batches_and_pieces(const Request& r, std::string_view current) {
  Offers o = batches(r, current);
  if (const Diary* d = diary_of(r))
    for (const DiaryBatch& b : d->batches)
      for (const DiaryPiece& p : b.pieces) o.list.push_back({fmt::format("{}:{}", b.id, p.name), "a piece"});
  return o;
}

Offers diary_words(const Request& r, std::string_view current) {
  Offers o = measures(r, current);
  for (Offer& f : sights(r, current).list) o.list.push_back(std::move(f));
  o.list.push_back({"note=", "a remark"});
  return o;
}

Offers scales(const Request&, std::string_view) {
  Offers o;
  for (const TasteScale& s : all_scales()) o.list.push_back({fmt::format("{}=", s.word), fmt::format("1 {}, 5 {}", s.one, s.five)});
  return o;
}

Offers piece_words(const Request& r, std::string_view current) {
  Offers o;
  for (std::string_view w : {"mass=", "aged=", "frozen=no", "frozen=yes", "before=", "after=", "note=", "withdrawn"}) o.list.push_back({std::string(w), ""});
  for (std::string_view way : word_list<PieceWay>) o.list.push_back({fmt::format("way={}", way), ""});
  for (Offer& f : scales(r, current).list) o.list.push_back(std::move(f));
  return o;
}

Offers leftovers(const Request& r, std::string_view) {
  Offers o;
  if (const Diary* d = diary_of(r))
    for (const DiaryBatch& b : d->batches)
      for (const DiaryLeftover& l : b.start.leftovers)
        if (b.id == r.words[1]) o.list.push_back({std::string(word(l.what)), ""});
  return o;
}

Offers lists(const Request&, std::string_view) { return plain(list_words()); }
Offers showable(const Request&, std::string_view) { return plain(std::array{"legume", "coagulant", "extra", "kitchen"}); }
Offers starters(const Request&, std::string_view) { return plain(std::array{"start", "recipe", "kitchen"}); }
Offers schemas(const Request&, std::string_view) { return plain(schema_words()); }
Offers shells(const Request&, std::string_view) { return plain(std::array{"bash", "zsh", "fish"}); }
Offers rankable(const Request&, std::string_view) { return plain(std::array{"legumes"}); }

Offers topics(const Request&, std::string_view) {
  Offers o;
  for (const CommandRow& c : all_commands()) o.list.push_back({std::string(c.name), std::string(c.purpose)});
  for (const Topic& t : all_topics()) o.list.push_back({std::string(t.name), std::string(t.about)});
  return o;
}

}  // namespace curdwright::program::offered
