// SPDX-License-Identifier: MIT
// The checks that all records pass, and those that keep a user's record from taking away what a shipped one warns of.
#include <fmt/format.h>

#include "catalogue_parts.hpp"

namespace curdwright {
namespace {

using Pointed = std::vector<std::pair<std::string, const Evidence*>>;

/// Species of a botanical name: "Lupinus albus, L. angustifolius" has two; an author's name behind is passed over.
std::vector<std::string> species_of(std::string_view latin) {
  std::vector<std::string> all;
  std::string genus;
  for (std::string rest = text::lower_case(latin); !rest.empty();) {
    const std::size_t comma = std::min(rest.find(','), rest.size());
    std::vector<std::string> words;
    std::string word;
    for (char c : rest.substr(0, comma) + " ")
      if (c != ' ')
        word += c;
      else if (!word.empty())
        words.push_back(std::move(word)), word.clear();
    rest.erase(0, comma + 1);
    if (words.size() < 2) continue;
    if (words[0].size() != 2 || words[0][1] != '.') genus = words[0];
    all.push_back(genus + " " + words[1]);
  }
  return all;
}

std::vector<std::string> hazard_words(const std::vector<Hazard>& hazards) {
  std::vector<std::string> all;
  all.reserve(hazards.size());
  for (Hazard h : hazards) all.emplace_back(word(h));
  return all;
}

template <class T>
bool holds(const std::vector<T>& all, const T& one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

/// Checks one record after another, and keeps what is wrong.
class Check {
 public:
  Check(std::map<std::string, Citation> known, std::vector<Refused> never) : known_(std::move(known)), never_(std::move(never)) {}

  void note(const Problems& more) { problems.insert(problems.end(), more.begin(), more.end()); }

  /// What follows is about this record. Records that fail to be read tell that themselves.
  void look_at(const RecordText& record, bool own) {
    file_ = record.shown_as;
    own_ = own;
    auto read = json::parse(record.text, record.shown_as);
    document_ = read ? std::optional(std::move(*read)) : std::nullopt;
  }

  /// Problems that know only their pointer are shown at its line.
  void located(Problems more) {
    for (Problem& p : more) {
      if (p.place.line == 0 && p.place.file == file_) p.place = place(p.place.pointer);
      problems.push_back(std::move(p));
    }
  }

  void sources(const Pointed& all) {
    for (const auto& [pointer, e] : all)
      if (!known_.contains(e->source))
        problems.push_back({"source-unknown", place(pointer), fmt::format("the source \"{}\" is not listed", e->source), "a figure without a source cannot be checked",
                            "add it to sources.json"});
  }

  void id(const std::string& file_name, const std::string& inside) {
    if (file_name != inside)
      problems.push_back({"id-wrong", place("/id"), fmt::format("the record calls itself \"{}\"", inside), "the id is the file's name",
                          fmt::format("write \"{}\", or rename the file", file_name)});
  }

  /// No name, and no Latin name, may be that of something that is never planned.
  void refused(std::string_view what, const std::vector<std::string>& names) {
    for (const std::string& name : names)
      if (std::any_of(never_.begin(), never_.end(), [&](const Refused& r) { return r.what == what && is_named(text::lower_case(name), r); }))
        problems.push_back({"refused", place("/id"), fmt::format("\"{}\" is the name of something that is never planned", name), "a record cannot take a refusal away",
                            "see `curdwright list legumes --refused` and `curdwright list coagulants --refused`"});
  }

  /// A user's record may not answer to the name of a shipped record with another id.
  template <class Record>
  void names(const Record& mine, const Record& shipped) {
    if (!own_ || shipped.id == mine.id) return;
    for (const std::string& name : names_of(mine))
      if (is_named(text::lower_case(name), shipped)) {
        problems.push_back({"name-taken", place("/id"), fmt::format("\"{}\" is a name of the shipped {}", name, shipped.id),
                            "a recipe that says it would no longer mean the same", fmt::format("give it another name, or replace {} by a record of that id", shipped.id)});
        return;
      }
  }

  /// What a shipped record warns of, a record in its place must warn of too.
  void keeps(std::string_view key, const std::vector<std::string>& mine, const std::vector<std::string>& due, const std::string& from) {
    if (!own_) return;
    const std::string pointer = fmt::format("/{}", key);
    for (const std::string& one : due)
      if (!holds(mine, one) && !told(pointer, one))
        problems.push_back({"hazard-missing", place(pointer), fmt::format("\"{}\" is missing from {}", one, key), fmt::format("{} holds it; a record may add a warning and never take one away", from),
                            fmt::format("add \"{}\" to {}", one, key)});
  }

  void keeps_metal(bool mine, bool due, const std::string& from) {
    if (own_ && due && !mine)
      problems.push_back({"hazard-missing", place("/metal_reacts"), "metal_reacts is false", fmt::format("{} says true; a record may add a warning and never take one away", from),
                          "write true"});
  }

  Problems problems;

 private:
  [[nodiscard]] Place place(const std::string& pointer) const {
    const json::Node* n = document_ ? json::node_at(*document_, pointer) : nullptr;
    return n ? document_->place(*n, pointer) : Place{.file = file_, .pointer = pointer};
  }

  /// The same lack may follow from the id and from the Latin name; it is told once.
  [[nodiscard]] bool told(const std::string& pointer, const std::string& one) const {
    return std::any_of(problems.begin(), problems.end(), [&](const Problem& p) {
      return p.code == "hazard-missing" && p.place.file == file_ && p.place.pointer == pointer && p.what.find("\"" + one + "\"") != std::string::npos;
    });
  }

  std::map<std::string, Citation> known_;
  std::vector<Refused> never_;
  std::string file_;
  bool own_ = false;
  std::optional<json::Document> document_;
};

template <class Record>
using Reader = Result<Record> (*)(const RecordText&);

template <class Record>
std::vector<Record> shipped_records(std::string_view folder, Reader<Record> read) {
  std::vector<Record> all;
  for (const std::string& id : shipped_ids(folder))
    if (auto r = read(*record_at(nullptr, path_of(folder, id)))) all.push_back(std::move(*r));
  return all;
}

std::vector<std::string> in_both(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  std::vector<std::string> both;
  std::copy_if(a.begin(), a.end(), std::back_inserter(both), [&](const std::string& s) { return holds(b, s); });
  return both;
}

/// What all shipped legumes of a species warn of, and one of the user's must too.
void check_species(Check& check, const Legume& mine, const std::string& species, const std::vector<Legume>& shipped) {
  std::optional<std::vector<std::string>> hazards, allergens;
  for (const Legume& s : shipped) {
    if (!holds(species_of(s.latin), species)) continue;
    hazards = hazards ? in_both(*hazards, hazard_words(s.hazards)) : hazard_words(s.hazards);
    allergens = allergens ? in_both(*allergens, s.allergens) : s.allergens;
  }
  if (!hazards) return;
  const std::string from = fmt::format("every shipped {}", species);
  check.keeps("hazards", hazard_words(mine.hazards), *hazards, from);
  check.keeps("allergens", mine.allergens, *allergens, from);
}

/// A legume of the user's beside the shipped ones: its names, and the warnings of its id and of its species.
void check_own(Check& check, const Legume& mine, const std::vector<Legume>& shipped) {
  for (const Legume& s : shipped) {
    check.names(mine, s);
    if (s.id != mine.id) continue;
    check.keeps("hazards", hazard_words(mine.hazards), hazard_words(s.hazards), "the shipped " + s.id);
    check.keeps("allergens", mine.allergens, s.allergens, "the shipped " + s.id);
  }
  for (const std::string& species : species_of(mine.latin)) check_species(check, mine, species, shipped);
}

void check_own(Check& check, const Coagulant& mine, const std::vector<Coagulant>& shipped) {
  for (const Coagulant& s : shipped) {
    check.names(mine, s);
    if (s.id != mine.id) continue;
    check.keeps("cautions", mine.cautions, s.cautions, "the shipped " + s.id);
    check.keeps_metal(mine.metal_reacts, s.metal_reacts, "the shipped " + s.id);
  }
}

void check_own(Check& check, const Extra& mine, const std::vector<Extra>& shipped) {
  for (const Extra& s : shipped) {
    check.names(mine, s);
    if (s.id != mine.id) continue;
    check.keeps("allergens", mine.allergens, s.allergens, "the shipped " + s.id);
    check.keeps("cautions", mine.cautions, s.cautions, "the shipped " + s.id);
  }
}

void check_own(Check& check, const Equipment& mine, const std::vector<Equipment>& shipped) {
  for (const Equipment& s : shipped)
    if (s.kind == mine.kind) check.names(mine, s);
}

void check_refused(Check& check, const Legume& l) {
  std::vector<std::string> names = names_of(l);
  names.push_back(l.latin);
  check.refused("seed", names);
}
void check_refused(Check& check, const Coagulant& c) { check.refused("salt", names_of(c)); }
void check_refused(Check& check, const Extra& e) {
  for (const char* what : {"salt", "seed"}) check.refused(what, names_of(e));
}
void check_refused(Check&, const Equipment&) {}

/// A folder of records: each beside what is refused, its sources and its id, and one of the user's own beside the shipped ones.
/// \param own_of the user's record at a path, or none
/// \param read a record by its id and text
template <class T, class OwnOf, class Read>
void check_folder(Check& check, std::string_view folder, const std::vector<std::string>& ids, const std::vector<T>& shipped, OwnOf own_of, Read read) {
  for (const std::string& id : ids) {
    const std::string path = path_of(folder, id);
    const RecordText* own = own_of(path);
    const RecordText text = *record_at(own, path);
    check.look_at(text, own != nullptr);
    const Result<T> record = read(id, text);
    if (!record) {
      check.located(record.error());
      continue;
    }
    check_refused(check, *record);
    check.sources(evidence_of(*record));
    check.id(id, record->id);
    if (own) check_own(check, *record, shipped);
  }
}

}  // namespace

void Catalogue::check_legumes(Problems& problems) const {
  Check check(citations(), all_refused());
  const auto shipped = own_.empty() ? std::vector<Legume>{} : shipped_records<Legume>("legumes", read_legume);
  check_folder<Legume>(check, "legumes", legume_ids(), shipped, [this](const std::string& path) { return find(path); }, [this](const std::string& id, const RecordText&) { return legume(id); });
  problems.insert(problems.end(), check.problems.begin(), check.problems.end());
}

void Catalogue::check_coagulants(Problems& problems) const {
  Check check(citations(), all_refused());
  const auto shipped = own_.empty() ? std::vector<Coagulant>{} : shipped_records<Coagulant>("coagulants", read_coagulant);
  check_folder<Coagulant>(check, "coagulants", coagulant_ids(), shipped, [this](const std::string& path) { return find(path); }, [this](const std::string& id, const RecordText&) { return coagulant(id); });
  problems.insert(problems.end(), check.problems.begin(), check.problems.end());
}

void Catalogue::check_extras(Problems& problems) const {
  Check check(citations(), all_refused());
  const auto shipped = own_.empty() ? std::vector<Extra>{} : shipped_records<Extra>("extras", read_extra);
  check_folder<Extra>(check, "extras", extra_ids(), shipped, [this](const std::string& path) { return find(path); }, [](const std::string&, const RecordText& text) { return read_extra(text); });
  problems.insert(problems.end(), check.problems.begin(), check.problems.end());
}

void Catalogue::check_rest(Problems& problems) const {
  Check check(citations(), {});
  const auto shipped = own_.empty() ? std::vector<Equipment>{} : shipped_records<Equipment>("equipment", read_equipment);
  check_folder<Equipment>(check, "equipment", ids("equipment"), shipped, [this](const std::string& path) { return find(path); }, [](const std::string&, const RecordText& text) { return read_equipment(text); });
  check.look_at(*record_at(find("model.json"), "model.json"), find("model.json") != nullptr);
  if (const auto m = model()) {
    Pointed all;
    for (const auto& [p, e] : *m) all.emplace_back(fmt::format("/parameters/{}", info(p).key), &e);
    check.sources(all);
  } else {
    check.note(m.error());
  }
  problems.insert(problems.end(), check.problems.begin(), check.problems.end());
}

Problems Catalogue::check() const {
  Problems problems;
  if (const RecordText* own = find("refused.json"))
    if (const auto list = read_refused(*own); !list) problems = list.error();
  check_legumes(problems);
  check_coagulants(problems);
  check_extras(problems);
  check_rest(problems);
  return problems;
}

}  // namespace curdwright
