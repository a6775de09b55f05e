// SPDX-License-Identifier: MIT
#include "accounts/book.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "quantiles.hpp"
#include "scopes.hpp"
#include "text/letters.hpp"

namespace curdwright {

const Term* Account::find(std::string_view key) const {
  const auto i = std::find_if(terms_.begin(), terms_.end(), [key](const Term& t) { return t.key == key; });
  return i == terms_.end() ? nullptr : &*i;
}

namespace {

bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }

/// End of a number that begins at `i`: "1e-05" is one.
std::size_t number_end(std::string_view s, std::size_t i) {
  while (i < s.size() && (text::is_digit(s[i]) || s[i] == '.' || s[i] == 'e' || ((s[i] == '-' || s[i] == '+') && s[i - 1] == 'e'))) ++i;
  return i;
}

}  // namespace

std::vector<TextPiece> pieces_of(std::string_view text) {
  std::vector<TextPiece> all;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    if (text::is_digit(text[i]))
      end = number_end(text, i);
    else if (letter(text[i]))
      while (end < text.size() && (letter(text[end]) || text::is_digit(text[end]))) ++end;
    all.push_back({text.substr(i, end - i), letter(text[i]) && (end == text.size() || text[end] != '(')});
    i = end;
  }
  return all;
}

}  // namespace curdwright

namespace curdwright::accounts {
namespace {


/// Names in the order in which they are first read.
using NamesRead = std::vector<std::string>;

bool holds(const NamesRead& names, std::string_view name) { return std::find(names.begin(), names.end(), name) != names.end(); }

void add_names(NamesRead& names, std::string_view text) {
  for (const TextPiece& p : pieces_of(text))
    if (p.is_name && !holds(names, p.text)) names.emplace_back(p.text);
}

/// Lines of `where` that the text does not need go; the rest tell which keys there are.
void settle_names(Term& t) {
  NamesRead names, local = {"T", "t", t.unknown};
  add_names(names, t.formula);
  for (std::size_t i = t.where.size(); i-- > 0;) {
    if (!holds(names, t.where[i].name)) {
      t.where.erase(t.where.begin() + static_cast<std::ptrdiff_t>(i));
      continue;
    }
    add_names(names, t.where[i].text);
    local.push_back(t.where[i].name);
  }
  for (const PieceText& p : t.pieces) add_names(names, p.length), add_names(names, p.temperature);
  for (const std::string& n : names)
    if (!holds(local, n)) t.of.push_back(n);
}

std::string code_key(const ParamInfo& p) {
  std::string key(p.key);
  std::replace(key.begin(), key.end(), '.', '_');
  return p.param == Param::acid_dose ? "acid_dose" : key;
}

/// Unit of the number in the code.
std::string_view code_unit(const ParamInfo& p) {
  if (p.unit == "g/100g" || p.unit == "mg/100g") return "kg/kg";
  if (p.unit == "h" || p.unit == "min") return "s";
  return p.unit == "um" ? "m" : p.unit;
}

std::string record_of(const Setup& s, Param p, std::size_t legume) {
  switch (info(p).scope) {
    case Scope::legume: return fmt::format("legume {}", s.legumes[legume].id);
    case Scope::model: return "model";
    case Scope::equipment: break;
  }
  const Gear gear = gear_of(s, p);
  return fmt::format("{} {}", gear.kind, gear.id);
}

}  // namespace

std::string_view part_name(std::size_t p) {
  constexpr std::array<std::string_view, part_count - component_count> more = {"settling_starch", "calcium", "magnesium", "sodium"};
  return p < component_count ? word(all_components[p]) : more[p - component_count];
}

double part_of(const Stream& s, std::size_t p) {
  if (p < component_count) return s.of.kg[p];
  if (p == settling) return s.granules.settleable_kg();
  return p == calcium ? s.minerals.calcium_kg : p == magnesium ? s.minerals.magnesium_kg : s.minerals.sodium_kg;
}

std::string Book::tail(std::size_t legume) const { return job.legume_count == 1 ? "" : fmt::format("_{}", legume + 1); }

const Term* Book::find(std::string_view key) const {
  const auto i = terms_.find(key);
  return i == terms_.end() ? nullptr : &i->second;
}

Ex Book::enter(Term t) {
  settle_names(t);
  const Ex key = Ex::name(t.key);
  terms_.try_emplace(t.key, std::move(t));
  return key;
}

Ex Book::formula(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& text, std::vector<NamedText> where) {
  Term t;
  t.key = key, t.value = value, t.unit = unit, t.plain = plain, t.formula = text.str(), t.where = std::move(where);
  return enter(std::move(t));
}

Ex Book::integral(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& integrand, std::vector<PieceText> pieces, std::vector<NamedText> where) {
  Term t;
  t.kind = TermKind::integral;
  t.key = key, t.value = value, t.unit = unit, t.plain = plain, t.formula = integrand.str(), t.where = std::move(where), t.pieces = std::move(pieces);
  return enter(std::move(t));
}

Ex Book::root(const std::string& key, double value, std::string_view unit, std::string_view plain, const Ex& zero, std::string_view unknown, std::vector<NamedText> where) {
  Term t;
  t.kind = TermKind::root;
  t.key = key, t.value = value, t.unit = unit, t.plain = plain, t.formula = zero.str(), t.where = std::move(where), t.unknown = unknown;
  return enter(std::move(t));
}

Ex Book::param(Param p, std::size_t legume) {
  const ParamInfo& row = info(p);
  const bool of_legume = row.scope == Scope::legume;
  const std::string key = code_key(row) + (of_legume ? tail(legume) : "");
  if (find(key)) return Ex::name(key);
  Term t;
  t.kind = TermKind::parameter;
  t.key = key, t.unit = code_unit(row), t.plain = row.plain;
  t.value = of_legume ? theta.of(p, legume) : theta[p];
  for (const Belief& b : setup.beliefs.all()) {
    if (b.param != p || (of_legume && b.legume != legume)) continue;
    const double middle = to_link(b.link, b.median);
    t.known = b.known, t.source = b.source;
    t.low = from_link(b.link, middle - z90 * b.spread), t.high = from_link(b.link, middle + z90 * b.spread);
  }
  t.from = t.source == "packet" ? "recipe /legume, its label" : fmt::format("{}, {}{}", record_of(setup, p, legume), row.key, setup.kitchen.learned ? ", moved by what the kitchen learned" : "");
  return enter(std::move(t));
}

Ex Book::record(const std::string& key, const Evidence& e, double factor, std::string_view unit, std::string_view plain, std::string from) {
  Term t;
  t.kind = TermKind::record;
  t.key = key, t.value = e.value * factor, t.unit = unit, t.plain = plain, t.from = std::move(from);
  t.known = e.known, t.source = e.source, t.low = e.low * factor, t.high = e.high * factor;
  return t.value == 0 ? Ex() : enter(std::move(t));
}

Ex Book::setting(const std::string& key, double value, std::string_view unit, std::string_view plain, std::string from) {
  Term t;
  t.kind = TermKind::setting;
  t.key = key, t.value = value, t.unit = unit, t.plain = plain, t.from = std::move(from);
  return value == 0 ? Ex() : enter(std::move(t));
}

Ex Book::constant(const std::string& key, double value, std::string_view unit, std::string_view plain, std::string_view source) {
  Term t;
  t.kind = TermKind::constant;
  t.key = key, t.value = value, t.unit = unit, t.plain = plain, t.source = source;
  return enter(std::move(t));
}

Flow Book::flow(const std::string& prefix, std::string_view plain, const Stream& s, const PartFormula& text) {
  // What is left where all was taken is rounding, and told as nothing.
  const double least = 1e-14 * plan.seed.of.total_kg();
  Flow f;
  std::vector<Ex> all, dry;
  for (std::size_t p = 0; p < part_count; ++p) {
    const double kg = part_of(s, p);
    const Ex formed = std::abs(kg) > least ? text(p) : Ex();
    if (formed.zero()) continue;
    f.part[p] = formula(fmt::format("{}_{}_kg", prefix, part_name(p)), kg, "kg", fmt::format("{}: {}", plain, p == settling ? "starch that can settle" : part_name(p)), formed);
    if (p < component_count) all.push_back(f.part[p]);
    if (p > 0 && p < component_count) dry.push_back(f.part[p]);
  }
  if (!all.empty()) f.mass = formula(prefix + "_kg", s.of.total_kg(), "kg", fmt::format("{}: all of it", plain), Ex::call("sum", all));
  if (!dry.empty()) f.solids = formula(prefix + "_solids_kg", s.of.solids_kg(), "kg", fmt::format("{}: solids", plain), Ex::call("sum", dry));
  return f;
}

std::string told_or(bool told, std::string_view pointer, std::string_view otherwise) { return told ? fmt::format("recipe {}", pointer) : std::string(otherwise); }

Flow extras_flow(Book& book, Stage stage) {
  const Added& a = book.plan.extras[static_cast<std::size_t>(stage)];
  Stream s;
  s.of = a.of, s.minerals = a.minerals;
  std::vector<std::pair<Ex, const Addition*>> of_stage;
  std::vector<const Extra*> records;
  for (std::size_t i = 0; i < book.job.extra_count; ++i) {
    const Addition& e = book.job.extras[i];
    if (e.stage != stage) continue;
    const std::string& id = book.setup.extras[i].extra.id;
    const std::string key = fmt::format("extra_{}_kg", i + 1);
    const Ex dry = name("dry_kg");
    const Ex fixed = book.setting(fmt::format("extra_{}_fixed_kg", i + 1), e.fixed.si(), "kg", id, "recipe /extras");
    const Ex to_dry = book.setting(fmt::format("extra_{}_to_dry", i + 1), e.to_dry, "kg/kg", fmt::format("{} per kg of dry seed", id), "recipe /extras, rounded to the scale");
    of_stage.emplace_back(book.formula(key, e.mass(book.job.dry).si(), "kg", id, fixed + dry * to_dry), &e);
    records.push_back(&book.setup.extras[i].extra);
  }
  if (of_stage.empty()) return {};
  return book.flow(fmt::format("extras_{}", word(stage)), fmt::format("extras at the stage {}", word(stage)), s, [&](std::size_t p) {
    Ex sum;
    for (std::size_t i = 0; i < of_stage.size(); ++i) {
      Stream each;
      each.of = of_stage[i].second->of, each.minerals = of_stage[i].second->minerals;
      sum = sum + of_stage[i].first * book.setting(fmt::format("extra_{}_{}_{}", word(stage), i + 1, part_name(p)), part_of(each, p), "kg/kg", fmt::format("{} of {}", part_name(p), records[i]->id),
                                                   fmt::format("record of {}, its parts scaled so that they add to 1", records[i]->id));
    }
    return sum;
  });
}

Flow with_extras(Book& book, const Flow& plain, Stage stage, const std::string& prefix) {
  if (book.plan.extras[static_cast<std::size_t>(stage)].of.total_kg() <= 0) return plain;
  const Flow extras = extras_flow(book, stage);
  Stream s = stage == Stage::cook ? book.plan.destarched.milk : book.plan.cooked.milk;
  stir_in(book.plan.extras[static_cast<std::size_t>(stage)], s);
  Flow f = book.flow(prefix, stage == Stage::cook ? "milk in the pot, seasoned" : "cooked milk, seasoned", s, [&](std::size_t p) { return plain.part[p] + extras.part[p]; });
  f.at = plain.at;
  return f;
}

}  // namespace curdwright::accounts
