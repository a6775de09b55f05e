// SPDX-License-Identifier: MIT
#include "curdwright/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "embedded.hpp"
#include "records.hpp"
#include "text/nearest.hpp"

namespace curdwright {
namespace {

/// Borrowed evidence is this much less sure than its lender's.
constexpr double borrowed_spread = 1.5;

std::string lower_case(std::string_view s) {
  std::string out(s);
  std::transform(out.begin(), out.end(), out.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return out;
}

bool is_named(std::string_view wanted, std::string_view id, std::string_view name, std::string_view kitchen_name,
              const std::vector<std::string>& also) {
  const auto same = [&](std::string_view s) { return lower_case(s) == wanted; };
  return same(id) || same(name) || same(kitchen_name) || std::any_of(also.begin(), also.end(), same);
}

Problem not_found(std::string_view what, std::string_view name, const std::vector<std::string>& known, std::string_view list_command) {
  const std::vector<std::string_view> views(known.begin(), known.end());
  Problem p{"record-unknown", {}, fmt::format("no {} is called \"{}\"", what, name.substr(0, 60)), fmt::format("`curdwright list {}` shows all", list_command),
            text::suggest(name, views)};
  return p;
}

Problem is_refused(const Refused& r) {
  return {"refused", {}, fmt::format("{} is not planned (rule {})", r.name, r.rule), r.reason,
          r.instead.empty() ? "" : fmt::format("instead: {}", r.instead)};
}

std::string path_of(std::string_view folder, std::string_view id) { return fmt::format("{}/{}.json", folder, id); }

/// Composition must add up, or the balance would start from a seed that does not exist.
Problems composition_problems(const Legume& l, const std::string& file) {
  const auto g = [&](Param p) { return l.evidence(p).value; };
  const double sum = g(Param::seed_water) + g(Param::seed_protein) + g(Param::seed_fat) + g(Param::seed_ash) + l.carbohydrate.value;
  if (sum > 97 && sum < 103) return {};
  return {{"composition-sum", {file, 0, 0, "/composition", "", 0}, fmt::format("water, protein, fat, ash and carbohydrate add to {:.1f} g of 100 g", sum),
           "they must add to 97 to 103", "carbohydrate is by difference and includes fibre"}};
}

Result<Legume> borrow(Legume l, const std::string& file, const std::function<const Legume*(const std::string&)>& neighbour) {
  Problems problems;
  // `unit` turns the record's number into a fraction before it is widened, so that a share stays below all.
  const auto fill = [&](Evidence& e, Link link, double unit, std::string_view key, const std::function<Evidence(const Legume&)>& same) {
    if (e.borrowed_from.empty()) return;
    const Legume* lender = neighbour(e.borrowed_from);
    const Evidence lent = lender ? same(*lender) : Evidence{};
    if (lent.source.empty()) {
      std::string pointer = fmt::format("/{}", key);
      std::replace(pointer.begin(), pointer.end(), '.', '/');
      problems.push_back({"borrow-unknown", {file, 0, 0, std::move(pointer), "", 0}, fmt::format("\"{}\" cannot lend {}", e.borrowed_from, key),
                          "the neighbour must exist and hold a figure of its own", ""});
      return;
    }
    Evidence wide = lent.scaled(unit).widened(link, borrowed_spread).scaled(1.0 / unit);
    wide.borrowed_from = e.borrowed_from;
    wide.note = e.note;
    e = std::move(wide);
  };
  for (const ParamInfo& p : all_params())
    if (p.scope == Scope::legume)
      fill(l.figures[static_cast<std::size_t>(p.param)], p.link, p.link == Link::logit ? p.to_si : 1.0, p.key,
           [&p](const Legume& n) { return n.evidence(p.param); });
  fill(l.carbohydrate, Link::logit, 0.01, "composition.carbohydrate", [](const Legume& n) { return n.carbohydrate; });
  fill(l.sodium, Link::log, 1.0, "composition.sodium", [](const Legume& n) { return n.sodium; });
  fill(l.milk_protein, Link::logit, 0.01, "curd.milk_protein", [](const Legume& n) { return n.milk_protein; });
  fill(l.hold, Link::log, 1.0, "cook.hold", [](const Legume& n) { return n.hold; });
  // Sugars may be unpublished: then they are part of what no table names.
  Evidence& sugars = l.figures[static_cast<std::size_t>(Param::seed_sugars)];
  if (sugars.source.empty()) sugars = {0.5, 0.1, 2.0, "g/100g", Known::guess, "guess", "not published; the rest of the carbohydrate holds it", ""};
  if (problems.empty()) problems = composition_problems(l, file);
  if (!problems.empty()) return fail(std::move(problems));
  return l;
}

}  // namespace

Catalogue Catalogue::shipped() { return {}; }

const RecordText* Catalogue::find(std::string_view path) const {
  for (const RecordText& r : own_)
    if (r.path == path) return &r;
  return nullptr;
}

namespace {

const EmbeddedFile* find_embedded(std::string_view path) {
  const auto files = embedded_files();
  const auto i = std::lower_bound(files.begin(), files.end(), path, [](const EmbeddedFile& f, std::string_view p) { return f.path < p; });
  return i != files.end() && i->path == path ? &*i : nullptr;
}

std::optional<RecordText> record_at(const RecordText* own, std::string_view path) {
  if (own) return *own;
  const EmbeddedFile* f = find_embedded(path);
  if (!f) return std::nullopt;
  return RecordText{std::string(path), std::string(f->text), fmt::format("data/{}", path)};
}

}  // namespace

std::vector<std::string> Catalogue::ids(std::string_view folder) const {
  std::vector<std::string> all;
  const auto add = [&](std::string_view path) {
    if (!path.starts_with(folder) || path.size() < folder.size() + 7 || path[folder.size()] != '/') return;
    all.emplace_back(path.substr(folder.size() + 1, path.size() - folder.size() - 6));
  };
  for (const EmbeddedFile& f : embedded_files()) add(f.path);
  for (const RecordText& r : own_) add(r.path);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::vector<std::string> Catalogue::legume_ids() const { return ids("legumes"); }
std::vector<std::string> Catalogue::coagulant_ids() const { return ids("coagulants"); }

std::vector<std::string> Catalogue::equipment_ids(EquipmentKind kind) const {
  std::vector<std::string> all;
  for (const std::string& id : ids("equipment"))
    if (const auto e = read_equipment(*record_at(find(path_of("equipment", id)), path_of("equipment", id))); e && e->kind == kind) all.push_back(id);
  return all;
}

Result<Legume> Catalogue::legume(std::string_view name) const {
  const std::string wanted = lower_case(name);
  auto record = record_at(find(path_of("legumes", wanted)), path_of("legumes", wanted));
  if (!record) {
    if (const auto r = refused("seed", wanted)) return fail(is_refused(*r));
    for (const std::string& id : legume_ids()) {
      auto candidate = record_at(find(path_of("legumes", id)), path_of("legumes", id));
      const auto l = read_legume(*candidate);
      if (l && is_named(wanted, l->id, l->name, l->kitchen_name, l->also)) record = std::move(candidate);
    }
  }
  if (!record) return fail(not_found("legume", name, legume_ids(), "legumes"));
  auto read = read_legume(*record);
  if (!read) return read;
  std::map<std::string, Legume> lenders;
  return borrow(std::move(*read), record->shown_as, [&](const std::string& id) -> const Legume* {
    if (const auto i = lenders.find(id); i != lenders.end()) return &i->second;
    const auto text = record_at(find(path_of("legumes", id)), path_of("legumes", id));
    if (!text) return nullptr;
    auto l = read_legume(*text);
    return l ? &lenders.emplace(id, std::move(*l)).first->second : nullptr;
  });
}

Result<Coagulant> Catalogue::coagulant(std::string_view name) const {
  const std::string wanted = lower_case(name);
  if (const auto record = record_at(find(path_of("coagulants", wanted)), path_of("coagulants", wanted))) return read_coagulant(*record);
  if (const auto r = refused("salt", wanted)) return fail(is_refused(*r));
  for (const std::string& id : coagulant_ids()) {
    auto c = read_coagulant(*record_at(find(path_of("coagulants", id)), path_of("coagulants", id)));
    if (c && is_named(wanted, c->id, c->name, c->kitchen_name, c->also)) return c;
  }
  return fail(not_found("coagulant", name, coagulant_ids(), "coagulants"));
}

Result<Equipment> Catalogue::equipment(EquipmentKind kind, std::string_view name) const {
  const std::string wanted = lower_case(name);
  if (const auto record = record_at(find(path_of("equipment", wanted)), path_of("equipment", wanted))) {
    auto e = read_equipment(*record);
    if (!e || e->kind == kind) return e;
  }
  for (const std::string& id : ids("equipment")) {
    auto e = read_equipment(*record_at(find(path_of("equipment", id)), path_of("equipment", id)));
    if (e && e->kind == kind && is_named(wanted, e->id, e->name, e->kitchen_name, e->also)) return e;
  }
  const std::string plural = kind == EquipmentKind::press ? "presses" : fmt::format("{}s", word(kind));
  return fail(not_found(kind == EquipmentKind::chill ? "way to chill" : word(kind), name, equipment_ids(kind), plural));
}

std::vector<Refused> Catalogue::all_refused() const {
  // A user's list adds to the shipped one; it can never take a refusal away.
  std::vector<Refused> all;
  const auto append = [&](Result<std::vector<Refused>> list) {
    if (list) all.insert(all.end(), list->begin(), list->end());
  };
  append(read_refused(*record_at(nullptr, "refused.json")));
  if (const RecordText* own = find("refused.json")) append(read_refused(*own));
  return all;
}

std::optional<Refused> Catalogue::refused(std::string_view what, std::string_view name) const {
  for (const Refused& r : all_refused())
    if (r.what == what && is_named(lower_case(name), r.id, r.name, r.name, r.also)) return r;
  return std::nullopt;
}

Result<std::vector<std::pair<Param, Evidence>>> Catalogue::model() const { return read_model(*record_at(find("model.json"), "model.json")); }

std::map<std::string, Citation> Catalogue::citations() const {
  std::map<std::string, Citation> all;
  if (const EmbeddedFile* f = find_embedded("sources.json"))
    if (auto shipped = read_citations({"sources.json", std::string(f->text), "data/sources.json"})) all = std::move(*shipped);
  if (const RecordText* own = find("sources.json"))
    if (auto more = read_citations(*own))
      for (auto& [id, c] : *more) all[id] = c;
  return all;
}

Problems Catalogue::check() const {
  Problems problems;
  const auto known = citations();
  const auto note = [&](Problems more) { problems.insert(problems.end(), more.begin(), more.end()); };
  const auto check_sources = [&](const std::string& file, const std::vector<std::pair<std::string, const Evidence*>>& all) {
    for (const auto& [pointer, e] : all)
      if (!known.contains(e->source))
        problems.push_back({"source-unknown", {file, 0, 0, pointer, "", 0}, fmt::format("the source \"{}\" is not listed", e->source),
                            "a figure without a source cannot be checked", "add it to sources.json"});
  };
  const auto check_id = [&](const std::string& file, const std::string& id, const std::string& inside) {
    if (id != inside)
      problems.push_back({"id-wrong", {file, 0, 0, "/id", "", 0}, fmt::format("the record calls itself \"{}\"", inside), "the id is the file's name", ""});
  };
  if (const RecordText* own = find("refused.json"))
    if (const auto list = read_refused(*own); !list) note(list.error());
  const std::vector<Refused> never = all_refused();
  const auto check_refused = [&](std::string_view what, const std::string& file, const auto& record) {
    const auto clashes = [&](const std::string& name) {
      return std::any_of(never.begin(), never.end(), [&](const Refused& r) { return r.what == what && is_named(lower_case(name), r.id, r.name, r.name, r.also); });
    };
    std::vector<std::string> names = record.also;
    if constexpr (requires { record.latin; }) names.push_back(record.latin);
    names.insert(names.end(), {record.id, record.name, record.kitchen_name});
    for (const std::string& name : names)
      if (clashes(name))
        problems.push_back({"refused", {file, 0, 0, "/id", "", 0}, fmt::format("\"{}\" is the name of something that is never planned", name),
                            "a record cannot take a refusal away", "see `curdwright list legumes --refused` and `curdwright list coagulants --refused`"});
  };
  const auto shown = [&](const std::string& path) {
    const RecordText* own = find(path);
    return own ? own->shown_as : path;
  };
  for (const std::string& id : legume_ids()) {
    const std::string file = shown(path_of("legumes", id));
    if (const auto l = legume(id)) {
      check_refused("seed", file, *l);
      check_sources(file, evidence_of(*l));
      check_id(file, id, l->id);
    } else {
      note(l.error());
    }
  }
  for (const std::string& id : coagulant_ids()) {
    const std::string file = shown(path_of("coagulants", id));
    if (const auto c = coagulant(id)) {
      check_refused("salt", file, *c);
      check_sources(file, evidence_of(*c));
      check_id(file, id, c->id);
    } else {
      note(c.error());
    }
  }
  for (const std::string& id : ids("equipment")) {
    const auto e = read_equipment(*record_at(find(path_of("equipment", id)), path_of("equipment", id)));
    if (e) {
      check_sources(path_of("equipment", id), evidence_of(*e));
      check_id(path_of("equipment", id), id, e->id);
    } else {
      note(e.error());
    }
  }
  if (const auto m = model()) {
    std::vector<std::pair<std::string, const Evidence*>> all;
    for (const auto& [p, e] : *m) all.emplace_back(fmt::format("/parameters/{}", info(p).key), &e);
    check_sources("model.json", all);
  } else {
    note(m.error());
  }
  return problems;
}

Result<void> Catalogue::add(std::vector<RecordText> records) {
  Catalogue with = *this;
  // Later records go in front of earlier ones and of the shipped.
  with.own_.insert(with.own_.begin(), std::make_move_iterator(records.begin()), std::make_move_iterator(records.end()));
  for (const RecordText& r : with.own_)
    if (r.path == "sources.json")
      if (const auto read = read_citations(r); !read) return fail(read.error());
  if (Problems problems = with.check(); !problems.empty()) return fail(std::move(problems));
  *this = std::move(with);
  return {};
}

std::string legume_schema() {
  Legume l;
  LegumeText t;
  return json::schema_text("https://curdwright.invalid/schema/legume-1.json", "Legume record of curdwright",
                           [&](json::Fields& f) { describe_legume(f, l, t); });
}

}  // namespace curdwright
