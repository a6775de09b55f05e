// SPDX-License-Identifier: MIT
#include "curdwright/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "catalogue_parts.hpp"
#include "remembered.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

/// Borrowed evidence is this much less sure than its lender's.
constexpr double borrowed_spread = 1.5;

/// More than these are no help to choose from.
constexpr std::size_t most_meant = 12;

/// Whether the word stands in a name, in one number or the other: "bean" in "white beans".
bool holds(std::string name, const std::string& word) {
  std::replace(name.begin(), name.end(), '-', ' ');
  return text::holds_word(name, word) || text::holds_word(name, word.ends_with('s') ? word.substr(0, word.size() - 1) : word + "s");
}

/// What else may be meant by a word that names no record.
struct Kindred {
  std::vector<std::string> names;    ///< every name of every record
  std::vector<std::string> holding;  ///< ids of records with the word in a name

  void add(const std::string& id, const auto& record, const std::string& word) {
    const auto before = static_cast<std::ptrdiff_t>(names.size());
    for (const std::string& name : names_of(record)) names.push_back(text::lower_case(name));
    if (std::any_of(names.begin() + before, names.end(), [&](const std::string& n) { return holds(n, word); })) holding.push_back(id);
  }
};

/// Names that hold the word come before names that are spelt like it. Listed are the ids alone.
std::string meant(std::string_view name, const std::vector<std::string>& ids, const Kindred& kin) {
  if (kin.holding.size() > most_meant) return "say which one: many have that in their name";
  if (kin.holding.size() == 1) return fmt::format("did you mean \"{}\"?", kin.holding[0]);
  if (!kin.holding.empty()) return fmt::format("say which one: {}", fmt::join(kin.holding, ", "));
  std::vector<std::string_view> all(ids.begin(), ids.end());
  all.insert(all.end(), kin.names.begin(), kin.names.end());
  const std::string_view near = text::nearest(text::lower_case(name), all);
  return near.empty() ? text::suggest(name, std::vector<std::string_view>(ids.begin(), ids.end())) : fmt::format("did you mean \"{}\"?", near);
}

Problem not_found(std::string_view what, std::string_view name, const std::vector<std::string>& ids, const Kindred& kin, std::string_view list_command) {
  return {"record-unknown", {}, fmt::format("no {} is called \"{}\"", what, text::cut(name, 60)), fmt::format("`curdwright list {}` shows all", list_command), meant(name, ids, kin)};
}

/// The record that goes by a name, among those that `read` gives; else what is near to it.
template <class Record, class Read>
Result<Record> by_name(std::string_view name, const std::vector<std::string>& ids, Read read, std::string_view what, std::string_view list_command) {
  const std::string wanted = text::lower_case(name);
  Kindred kin;
  for (const std::string& id : ids) {
    Result<Record> r = read(id);
    if (!r) continue;
    if (is_named(wanted, *r)) return r;
    kin.add(id, *r, wanted);
  }
  return fail(not_found(what, name, ids, kin, list_command));
}

Problem is_refused(const Refused& r) {
  return {"refused", {}, fmt::format("{} is not planned (rule {})", r.name, r.rule), r.reason,
          r.instead.empty() ? "" : fmt::format("instead: {}", r.instead)};
}

/// Composition must add up, or the balance would start from a seed that does not exist.
Problems composition_problems(const Legume& l, const std::string& file) {
  const auto g = [&](Param p) { return l.evidence(p).value; };
  const double sum = g(Param::seed_water) + g(Param::seed_protein) + g(Param::seed_fat) + g(Param::seed_ash) + l.carbohydrate.value;
  if (sum > 97 && sum < 103) return {};
  return {{"composition-sum", {.file = file, .pointer = "/composition"}, fmt::format("water, protein, fat, ash and carbohydrate add to {:.1f} g of 100 g", sum),
           "they must add to 97 to 103", "carbohydrate is by difference and includes fibre"}};
}

/// A record that lends figures, and whose it is.
struct Lender {
  Legume legume;
  std::string file;
  bool own = false;
};

/// Fills what a legume borrows from its neighbours.
class Borrower {
 public:
  Borrower(Legume& l, std::string file, bool own, const std::function<const Lender*(const std::string&)>& neighbour)
      : l_(l), file_(std::move(file)), own_(own), neighbour_(neighbour) {}

  /// \param unit turns the record's number into a fraction before it is widened, so that a share stays below all
  void fill(Evidence& e, Link link, double unit, std::string_view key, const std::function<Evidence(const Legume&)>& same) {
    if (e.borrowed_from.empty()) return;
    const Lender* lender = neighbour_(e.borrowed_from);
    const Evidence lent = lender ? same(lender->legume) : Evidence{};
    if (lent.source.empty()) return cannot_lend(lender, e.borrowed_from, lent.borrowed_from, key);
    Evidence wide = lent.scaled(unit).widened(link, borrowed_spread).scaled(1.0 / unit);
    wide.borrowed_from = e.borrowed_from;
    wide.note = e.note;
    e = std::move(wide);
  }

  Problems problems;

 private:
  /// \param further of whom the lender has it
  void cannot_lend(const Lender* lender, const std::string& name, const std::string& further, std::string_view key) {
    std::string pointer = fmt::format("/{}", key);
    std::replace(pointer.begin(), pointer.end(), '.', '/');
    // A shipped record is whole as shipped: what broke it is the user's record in place of its lender.
    if (lender && lender->own && !own_)
      problems.push_back({"borrow-unknown", {.file = lender->file, .pointer = std::move(pointer)}, fmt::format("\"{}\" must hold {} itself", name, key),
                          fmt::format("{} borrows it from here, and a borrowed figure cannot be lent on", l_.id), "give a figure with its source, or give the record an id of its own"});
    else
      problems.push_back({"borrow-unknown", {.file = file_, .pointer = std::move(pointer)}, fmt::format("\"{}\" cannot lend {}", name, key),
                          further.empty() ? "the neighbour must exist and hold a figure of its own" : "it is borrowed there too, and a borrowed figure cannot be lent on",
                          further.empty() ? "borrow from another record, or give a figure" : fmt::format("borrow from \"{}\", or give a figure", further)});
  }

  const Legume& l_;
  std::string file_;
  bool own_;
  const std::function<const Lender*(const std::string&)>& neighbour_;
};

Result<Legume> borrow(Legume l, const std::string& file, bool own, const std::function<const Lender*(const std::string&)>& neighbour) {
  Borrower borrower(l, file, own, neighbour);
  for (const ParamInfo& p : all_params())
    if (p.scope == Scope::legume)
      borrower.fill(l.figures[static_cast<std::size_t>(p.param)], p.link, p.link == Link::logit ? p.to_si : 1.0, p.key,
                    [&p](const Legume& n) { return n.evidence(p.param); });
  borrower.fill(l.carbohydrate, Link::logit, 0.01, "composition.carbohydrate", [](const Legume& n) { return n.carbohydrate; });
  borrower.fill(l.sodium, Link::log, 1.0, "composition.sodium", [](const Legume& n) { return n.sodium; });
  borrower.fill(l.milk_protein, Link::logit, 0.01, "curd.milk_protein", [](const Legume& n) { return n.milk_protein; });
  borrower.fill(l.hold, Link::log, 1.0, "cook.hold", [](const Legume& n) { return n.hold; });
  // Sugars may be unpublished: then they are part of what no table names.
  Evidence& sugars = l.figures[static_cast<std::size_t>(Param::seed_sugars)];
  if (sugars.source.empty()) sugars = {0.5, 0.1, 2.0, "g/100g", Known::guess, "guess", "not published; the rest of the carbohydrate holds it", ""};
  if (borrower.problems.empty()) borrower.problems = composition_problems(l, file);
  if (!borrower.problems.empty()) return fail(std::move(borrower.problems));
  return l;
}

}  // namespace

Catalogue::Catalogue() : memory_(std::make_shared<Memory>()) {}

Catalogue Catalogue::shipped() {
  static const Catalogue all;  // its copies share what was read
  return all;
}

const RecordText* Catalogue::find(std::string_view path) const {
  for (const RecordText& r : own_)
    if (r.path == path) return &r;
  return nullptr;
}

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

std::vector<std::string> shipped_ids(std::string_view folder) {
  std::vector<std::string> all;
  for (const EmbeddedFile& f : embedded_files())
    if (const std::string id = id_below(folder, f.path); !id.empty()) all.push_back(id);
  return all;
}

std::string id_below(std::string_view folder, std::string_view path) {
  if (!path.starts_with(folder) || path.size() < folder.size() + 7 || path[folder.size()] != '/') return "";
  return std::string(path.substr(folder.size() + 1, path.size() - folder.size() - 6));
}

std::vector<std::string> Catalogue::ids(std::string_view folder) const {
  std::vector<std::string> all = shipped_ids(folder);
  for (const RecordText& r : own_)
    if (const std::string id = id_below(folder, r.path); !id.empty()) all.push_back(id);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::vector<std::string> Catalogue::legume_ids() const { return ids("legumes"); }
std::vector<std::string> Catalogue::coagulant_ids() const { return ids("coagulants"); }
std::vector<std::string> Catalogue::extra_ids() const { return ids("extras"); }

std::vector<std::string> Catalogue::equipment_ids(EquipmentKind kind) const {
  std::vector<std::string> all;
  for (const std::string& id : ids("equipment"))
    if (const auto e = read_equipment(*record_at(find(path_of("equipment", id)), path_of("equipment", id))); e && e->kind == kind) all.push_back(id);
  return all;
}

Result<Legume> Catalogue::legume(std::string_view name) const {
  return memory_->legumes.get(text::lower_case(name), [&] { return read_legume_named(name); });
}

Result<Legume> Catalogue::read_legume_named(std::string_view name) const {
  const std::string wanted = text::lower_case(name);
  auto record = record_at(find(path_of("legumes", wanted)), path_of("legumes", wanted));
  Kindred kin;
  if (!record) {
    if (const auto r = refused("seed", wanted)) return fail(is_refused(*r));
    for (const std::string& id : legume_ids()) {
      auto candidate = record_at(find(path_of("legumes", id)), path_of("legumes", id));
      const auto l = read_legume(*candidate);
      if (!l) continue;
      if (is_named(wanted, *l)) record = std::move(candidate);
      kin.add(id, *l, wanted);
    }
  }
  if (!record) return fail(not_found("legume", name, legume_ids(), kin, "legumes"));
  auto read = read_legume(*record);
  if (!read) return read;
  std::map<std::string, Lender> lenders;
  return borrow(std::move(*read), record->shown_as, find(record->path) != nullptr, [&](const std::string& id) -> const Lender* {
    if (const auto i = lenders.find(id); i != lenders.end()) return &i->second;
    const RecordText* own = find(path_of("legumes", id));
    const auto text = record_at(own, path_of("legumes", id));
    if (!text) return nullptr;
    auto l = read_legume(*text);
    return l ? &lenders.emplace(id, Lender{std::move(*l), text->shown_as, own != nullptr}).first->second : nullptr;
  });
}

Result<Coagulant> Catalogue::coagulant(std::string_view name) const {
  return memory_->coagulants.get(text::lower_case(name), [&] { return read_coagulant_named(name); });
}

Result<Coagulant> Catalogue::read_coagulant_named(std::string_view name) const {
  const std::string wanted = text::lower_case(name);
  if (const auto record = record_at(find(path_of("coagulants", wanted)), path_of("coagulants", wanted))) return read_coagulant(*record);
  if (const auto r = refused("salt", wanted)) return fail(is_refused(*r));
  const auto read = [this](const std::string& id) { return read_coagulant(*record_at(find(path_of("coagulants", id)), path_of("coagulants", id))); };
  return by_name<Coagulant>(name, coagulant_ids(), read, "coagulant", "coagulants");
}

Result<Extra> Catalogue::extra(std::string_view name) const {
  return memory_->extras.get(text::lower_case(name), [&] { return read_extra_named(name); });
}

Result<Extra> Catalogue::read_extra_named(std::string_view name) const {
  const std::string wanted = text::lower_case(name);
  // What is refused as a seed or as a coagulant is refused as a seasoning too.
  for (std::string_view what : {"salt", "seed"})
    if (const auto r = refused(what, wanted)) {
      Problem p = is_refused(*r);
      p.fix = "season with what is sold as food";  // what is offered instead of a refused coagulant is a coagulant
      return fail(std::move(p));
    }
  if (const auto record = record_at(find(path_of("extras", wanted)), path_of("extras", wanted))) return read_extra(*record);
  const auto read = [this](const std::string& id) { return read_extra(*record_at(find(path_of("extras", id)), path_of("extras", id))); };
  return by_name<Extra>(name, extra_ids(), read, "extra", "extras");
}

Result<Equipment> Catalogue::equipment(EquipmentKind kind, std::string_view name) const {
  return memory_->equipment.get(fmt::format("{}/{}", word(kind), text::lower_case(name)), [&] { return read_equipment_named(kind, name); });
}

Result<Equipment> Catalogue::read_equipment_named(EquipmentKind kind, std::string_view name) const {
  const std::string wanted = text::lower_case(name);
  if (const auto record = record_at(find(path_of("equipment", wanted)), path_of("equipment", wanted))) {
    auto e = read_equipment(*record);
    if (!e || e->kind == kind) return e;
  }
  const auto read = [this](const std::string& id) { return read_equipment(*record_at(find(path_of("equipment", id)), path_of("equipment", id))); };
  return by_name<Equipment>(name, equipment_ids(kind), read, kind == EquipmentKind::chill ? "way to chill" : word(kind), list_word(kind));
}

std::vector<Refused> Catalogue::all_refused() const {
  return *memory_->refused.get("", [this] {
    // A user's list adds to the shipped one; it can never take a refusal away.
    std::vector<Refused> all;
    const auto append = [&](Result<std::vector<Refused>> list) {
      if (list) all.insert(all.end(), list->begin(), list->end());
    };
    append(read_refused(*record_at(nullptr, "refused.json")));
    if (const RecordText* own = find("refused.json")) append(read_refused(*own));
    return Result<std::vector<Refused>>(std::move(all));
  });
}

std::optional<Refused> Catalogue::refused(std::string_view what, std::string_view name) const {
  for (const Refused& r : all_refused())
    if (r.what == what && is_named(text::lower_case(name), r)) return r;
  return std::nullopt;
}

Result<std::vector<std::pair<Param, Evidence>>> Catalogue::model() const {
  return memory_->model.get("", [this] { return read_model(*record_at(find("model.json"), "model.json")); });
}

std::map<std::string, Citation> Catalogue::citations() const {
  std::map<std::string, Citation> all;
  if (const EmbeddedFile* f = find_embedded("sources.json"))
    if (auto shipped = read_citations({"sources.json", std::string(f->text), "data/sources.json"})) all = std::move(*shipped);
  if (const RecordText* own = find("sources.json"))
    if (auto more = read_citations(*own))
      for (auto& [id, c] : *more) all[id] = c;
  return all;
}

Result<void> Catalogue::add(std::vector<RecordText> records) {
  Catalogue with;
  with.own_ = own_;
  // Later records go in front of earlier ones and of the shipped.
  with.own_.insert(with.own_.begin(), std::make_move_iterator(records.begin()), std::make_move_iterator(records.end()));
  for (const RecordText& r : with.own_)
    if (r.path == "sources.json")
      if (const auto read = read_citations(r); !read) return fail(read.error());
  if (Problems problems = with.check(); !problems.empty()) return fail(std::move(problems));
  *this = with;
  return {};
}

std::string legume_schema() {
  Legume l;
  LegumeText t;
  return json::schema_text("https://curdwright.invalid/schema/legume-1.json", "Legume record of curdwright",
                           [&](json::Fields& f) { describe_legume(f, l, t); });
}

std::string coagulant_schema() {
  Coagulant c;
  CoagulantText t;
  return json::schema_text("https://curdwright.invalid/schema/coagulant-1.json", "Coagulant record of curdwright", [&](json::Fields& f) { describe_coagulant(f, c, t); });
}

std::string extra_schema() {
  Extra e;
  ExtraText t;
  return json::schema_text("https://curdwright.invalid/schema/extra-1.json", "Extra record of curdwright", [&](json::Fields& f) { describe_extra(f, e, t); });
}

}  // namespace curdwright
