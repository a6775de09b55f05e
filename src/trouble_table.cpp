// SPDX-License-Identifier: MIT
// The table of troubles as data: reading it, and finding what is seen in it.
#include <fmt/format.h>

#include <algorithm>

#include "catalogue_parts.hpp"
#include "enum_table.hpp"
#include "record_reading.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"
#include "trouble_words.hpp"

namespace curdwright {
namespace {

using json::Fields;
using F = TroubleFigure;

constexpr std::array<TroubleFigureInfo, trouble_figure_count> figures = {{
    {F::top_up, "top_up", "1", Link::logit, "coagulant of one top-up, of the dose"},
    {F::top_up_wait, "top_up_wait", "min", Link::log, "wait after a top-up"},
    {F::tries, "tries", "1", Link::log, "top-ups at most"},
    {F::acid_most, "acid_most", "1", Link::log, "most acid, times the rule"},
    {F::dose_short, "dose_short", "1", Link::logit, "a low dose, of the rule"},
    {F::dose_over, "dose_over", "1", Link::log, "a high dose, times the rule"},
    {F::dissolved_below, "dissolved_below", "1", Link::logit, "share that a salt sets when it is given up"},
    {F::cool_below, "cool_below", "degC", Link::log, "milk too cool to set well"},
    {F::hot_above, "hot_above", "degC", Link::log, "milk very hot at the pour"},
    {F::thin_below, "thin_below", "g/100g", Link::log, "protein of thin milk"},
    {F::starch_thickens, "starch_thickens", "1", Link::logit, "starch that thickens milk"},
    {F::usual_wait, "usual_wait", "min", Link::log, "shortest usual wait for curd"},
    {F::longer_wait, "longer_wait", "min", Link::log, "one wait more"},
    {F::stir_again, "stir_again", "min", Link::log, "gentle stirring of wisps"},
    {F::drain_rest, "drain_rest", "min", Link::log, "running off without weight"},
    {F::again_water, "again_water", "g", Link::log, "water for a jarful of pulp"},
    {F::blend_long, "blend_long", "1", Link::log, "long blending, times the full time"},
    {F::warm_grind, "warm_grind", "degC", Link::log, "warm raw milk"},
    {F::pot_near, "pot_near", "1", Link::logit, "milk in a nearly full pot"},
    {F::press_hard, "press_hard", "kPa", Link::log, "hard pressing"},
    {F::light, "light", "1", Link::logit, "light weight, of the planned"},
    {F::longer, "longer", "1", Link::log, "longer pressing, times the planned"},
    {F::gdl_warmer, "gdl_warmer", "K", Link::log, "warmer bath for GDL"},
    {F::gdl_top, "gdl_top", "degC", Link::log, "hottest bath for GDL"},
    {F::gdl_wait, "gdl_wait", "min", Link::log, "wait in the bath"},
    {F::gdl_done, "gdl_done", "1", Link::logit, "GDL that is through"},
    {F::soak_gain, "soak_gain", "1", Link::logit, "uptake that a soak twice as long adds"},
    {F::settled_enough, "settled_enough", "1", Link::logit, "settled well"},
    {F::settle_more, "settle_more", "min", Link::log, "standing once more"},
    {F::cube, "cube", "cm", Link::log, "cubes of set curd"},
    {F::hot_hold, "hot_hold", "degC", Link::log, "kept hot"},
    {F::warm_curd, "warm_curd", "h", Link::log, "warm curd at most"},
}};

static_assert(in_order(figures, &TroubleFigureInfo::figure), "the table follows the order of TroubleFigure");

constexpr std::size_t longest_sentence = 500, most_sights = 60, most_causes = 20;

void stage_due(Fields& f, std::string_view at, Stage& to, std::string_view about) {
  std::optional<Stage> told;
  f.required(), f.choice(at, told, about);
  to = told.value_or(to);
}

void sentence(Fields& f, std::string_view key, std::string& to, std::string_view about) {
  std::optional<std::string> text;
  f.text(key, text, longest_sentence, about);
  to = text.value_or("");
}

void sentence_due(Fields& f, std::string_view key, std::string& to, std::string_view about) {
  f.required();
  sentence(f, key, to, about);
}

void evidence_due(Fields& f, Known& known, std::string& source, std::string& note) {
  std::optional<Known> told;
  choice_due(f, "known", told, "how it is known");
  known = told.value_or(known);
  sentence_due(f, "source", source, "id of a source");
  sentence(f, "note", note, "what is thin or borrowed");
}

void describe_cause(Fields& f, TroubleCause& c) {
  sentence_due(f, "id", c.id, "lower case, hyphens");
  sentence_due(f, "cause", c.cause, "why it may look so");
  f.required(), f.texts("for", c.fits, 8, "conditions without which it is not offered");
  f.texts("likely", c.likely, 8, "conditions that make it the likely cause");
  sentence_due(f, "do", c.action, "the next move");
  sentence_due(f, "stop", c.stop, "when to stop trying");
  sentence(f, "amount", c.amount, "slot of its mass");
  sentence(f, "at", c.at, "slot of its temperature");
  sentence(f, "wait", c.wait, "slot of its time");
  std::optional<bool> discard;
  f.flag("discard", discard, "whether it ends in the bin");
  c.discard = discard.value_or(false);
  evidence_due(f, c.known, c.source, c.note);
}

void describe_sight(Fields& f, TroubleSight& s) {
  sentence_due(f, "what", s.sighting.what, "what is looked at");
  sentence_due(f, "looks", s.sighting.looks, "how it looks");
  stage_due(f, "stage", s.stage, "where it is seen");
  sentence_due(f, "plain", s.plain, "what it looks like");
  sentence(f, "care", s.care, "what comes before every move");
  f.required(), f.list("causes", s.causes, most_causes, "", describe_cause);
}

void describe_care(Fields& f, TroubleCare& c) {
  sentence_due(f, "id", c.id, "lower case, hyphens");
  f.required(), f.texts("for", c.fits, 8, "conditions under which it is said");
  stage_due(f, "from", c.from, "first stage");
  stage_due(f, "to", c.to, "last stage");
  sentence_due(f, "say", c.text, "the words");
  evidence_due(f, c.known, c.source, c.note);
}

void describe(Fields& f, Troubles& t, std::optional<std::string>& schema) {
  text_due(f, "schema", schema, "curdwright.troubles/1");
  f.required(), f.group("figures", "numbers behind the moves", [&](Fields& g) {
    for (const TroubleFigureInfo& i : figures) g.evidence(i.key, t.figures[static_cast<std::size_t>(i.figure)], i.unit, i.link, false, i.plain);
  });
  f.required(), f.list("cares", t.cares, most_causes, "", describe_care);
  f.required(), f.list("sights", t.sights, most_sights, "", describe_sight);
}

/// Finds the words of a table that no code answers to.
class WordCheck {
 public:
  explicit WordCheck(const RecordText& record) : record_(record), document_(json::parse(record.text, record.shown_as)) {}

  void conditions(const std::string& pointer, const std::vector<std::string>& keys) {
    for (const std::string& k : keys)
      if (!trouble::find_condition(k)) unknown(pointer, k, "condition");
  }
  void slots(const std::string& pointer, std::string_view sentence) {
    for (std::string_view s : trouble::slots_of(sentence))
      if (!trouble::find_slot(s)) unknown(pointer, s, "slot");
  }
  void slot_of(const std::string& pointer, const std::string& name, trouble::SlotKind kind) {
    if (name.empty()) return;
    const trouble::Slot* s = trouble::find_slot(name);
    if (!s || s->kind != kind) unknown(pointer, name, "slot for this amount");
  }
  Problems problems;

 private:
  void unknown(const std::string& pointer, std::string_view word, std::string_view what) {
    const json::Node* n = document_ ? json::node_at(*document_, pointer) : nullptr;
    problems.push_back({"word-unknown", n ? document_->place(*n, pointer) : Place{.file = record_.shown_as, .pointer = pointer}, fmt::format("\"{}\" is not a known {}", text::cut(word, 60), what),
                        "conditions and slots are answered by the program", ""});
  }
  const RecordText& record_;
  Result<json::Document> document_;
};

void check_cause(WordCheck& check, const TroubleCause& c, const std::string& at) {
  using trouble::SlotKind;
  check.conditions(at + "/for", c.fits);
  check.conditions(at + "/likely", c.likely);
  check.slots(at + "/cause", c.cause);
  check.slots(at + "/do", c.action);
  check.slots(at + "/stop", c.stop);
  check.slot_of(at + "/amount", c.amount, SlotKind::mass);
  check.slot_of(at + "/at", c.at, SlotKind::temperature);
  check.slot_of(at + "/wait", c.wait, SlotKind::duration);
}

Problems unknown_words(const Troubles& t, const RecordText& record) {
  WordCheck check(record);
  for (std::size_t i = 0; i < t.cares.size(); ++i) {
    const std::string at = fmt::format("/cares/{}", i);
    check.conditions(at + "/for", t.cares[i].fits);
    check.slots(at + "/say", t.cares[i].text);
  }
  for (std::size_t i = 0; i < t.sights.size(); ++i) {
    check.slots(fmt::format("/sights/{}/care", i), t.sights[i].care);
    for (std::size_t j = 0; j < t.sights[i].causes.size(); ++j) check_cause(check, t.sights[i].causes[j], fmt::format("/sights/{}/causes/{}", i, j));
  }
  return std::move(check.problems);
}

std::string comma_list(const std::vector<std::string_view>& all) {
  std::string list;
  for (std::string_view w : all) list += (list.empty() ? "" : ", ") + std::string(w);
  return list;
}

/// Each word once, in the order of the table.
template <class Pick>
std::vector<std::string_view> words_of(const Troubles& t, Pick pick) {
  std::vector<std::string_view> all;
  for (const TroubleSight& s : t.sights)
    if (const std::string_view w = pick(s); !w.empty() && std::find(all.begin(), all.end(), w) == all.end()) all.push_back(w);
  return all;
}

/// "milky" alone is answered with "whey=milky".
std::string meant(const Troubles& t, std::string_view word) {
  for (const TroubleSight& s : t.sights)
    if (s.sighting.looks == word) return fmt::format("did you mean \"{}={}\"?", s.sighting.what, word);
  return "write for example \"whey=milky\"; `curdwright help trouble` shows all";
}

Problem not_seen(std::string_view found, std::string why, std::string fix) { return {"seen-unknown", {}, std::string(found), std::move(why), std::move(fix)}; }

}  // namespace

std::span<const TroubleFigureInfo> trouble_figures() { return figures; }

const TroubleSight* Troubles::find(const Sighting& seen) const {
  const auto s = std::find_if(sights.begin(), sights.end(), [&](const TroubleSight& x) { return x.sighting == seen; });
  return s == sights.end() ? nullptr : &*s;
}

Result<Troubles> read_troubles(std::string text, std::string file) {
  const RecordText record{"troubles.json", std::move(text), std::move(file)};
  Troubles t;
  std::optional<std::string> schema;
  auto read = read_record(record, "curdwright.troubles/1", t, schema, [&](Fields& f) { describe(f, t, schema); });
  if (!read) return read;
  if (Problems problems = unknown_words(*read, record); !problems.empty()) return fail(std::move(problems));
  return read;
}

Troubles shipped_troubles() {
  const RecordText record = *record_at(nullptr, "troubles.json");
  return read_troubles(record.text, record.shown_as).value();
}

Result<Sighting> read_sighting(std::string_view text, const Troubles& t) {
  const std::string shown = text::harmless(text::cut(text, 60)), lower = text::lower_case(text);
  const auto equals = lower.find('=');
  if (equals == std::string::npos) return fail(not_seen(fmt::format("\"{}\" does not say what is seen", shown), "it is a thing and how it looks, with = between", meant(t, lower)));
  const Sighting seen{lower.substr(0, equals), lower.substr(equals + 1)};
  if (t.find(seen)) return seen;
  const auto things = words_of(t, [](const TroubleSight& s) -> std::string_view { return s.sighting.what; });
  const auto looks = words_of(t, [&](const TroubleSight& s) -> std::string_view { return s.sighting.what == seen.what ? std::string_view(s.sighting.looks) : std::string_view{}; });
  if (looks.empty())
    return fail(not_seen(fmt::format("\"{}\": nothing is known of such a thing", shown), fmt::format("what can be seen: {}", comma_list(things)), text::suggest(seen.what, things)));
  return fail(not_seen(fmt::format("\"{}\": {} has no such look", shown, seen.what), fmt::format("{} may look: {}", seen.what, comma_list(looks)), text::suggest(seen.looks, looks)));
}

}  // namespace curdwright
