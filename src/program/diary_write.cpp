// SPDX-License-Identifier: MIT
// Verbs that add to the diary.
#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "curdwright/cautions.hpp"
#include "curdwright/diary_plan.hpp"
#include "program/answers.hpp"
#include "program/diary_file.hpp"
#include "program/diary_open.hpp"
#include "program/diary_verbs.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "sheets/sharing.hpp"
#include "text/width.hpp"

namespace curdwright::program::diary {
namespace {

std::vector<std::string> words_behind(const Request& r, std::size_t first) { return {r.words.begin() + static_cast<std::ptrdiff_t>(std::min(first, r.words.size())), r.words.end()}; }

/// What is said once a line is safe on the disk.
std::string told_words(const Request& r, const std::string& id, const std::string& text) {
  return r.value("--format") == "json" ? fmt::format("{{\n  \"schema\": \"curdwright.diary-told/1\",\n  \"id\": \"{}\"\n}}\n", id) : text;
}

/// What is wanted by options, as --set would tell it.
std::string want_setting(const Want& w) {
  std::string parts;
  const auto add = [&](const std::string& part) { parts += (parts.empty() ? "" : ",") + part; };
  const auto mass = [](Mass m) { return fmt::format("\"{:.9g} g\"", in_grams(m)); };
  if (w.blocks) add(fmt::format("\"blocks\":{}", *w.blocks));
  if (w.curd) add("\"curd\":" + mass(*w.curd));
  if (w.dry) add("\"dry\":" + mass(*w.dry));
  if (w.protein) add("\"protein\":" + mass(*w.protein));
  if (w.fill) add(fmt::format("\"fill\":{}", *w.fill));
  if (w.sure) add(fmt::format("\"sure\":{:.9g}", *w.sure));
  return "/want={" + parts + "}";
}

StartInputs start_inputs(const Request& r, const Planned& p, std::vector<RecordText> records) {
  StartInputs in{p.from.recipe, p.from.recipe_file, std::nullopt, "", p.from.set, std::move(records)};
  if (const auto slash = in.recipe_file.rfind('/'); slash != std::string::npos) in.recipe_file.erase(0, slash + 1);
  if (!p.from.kitchen_file.empty()) in.kitchen = p.from.kitchen, in.kitchen_file = p.from.kitchen_file.substr(p.from.kitchen_file.rfind('/') + 1);
  for (std::string_view option : {"--blocks", "--curd", "--dry", "--protein", "--fill", "--sure"})
    if (r.has(option)) {
      in.set.push_back(want_setting(p.inputs.recipe.want));
      break;
    }
  return in;
}

/// What was told is on the disk by now, whether or not it can be said.
int finish_told(const Request& r, const std::string& id, const std::string& text) {
  const int status = finish(r, told_words(r, id, text), done);
  if (status != done) write_error(fmt::format("curdwright: it is in the diary all the same, for {}: do not tell it again\n", id));
  return status;
}

Problems stops_of(const Batch& batch) {
  Problems problems;
  for (const Caution& c : cautions(facts_of(batch)))
    if (c.severity == Severity::stop) problems.push_back({"refused", {}, c.text, fmt::format("rule {} stops this batch, so it is not begun", c.rule), "change the recipe; see `curdwright check`"});
  return problems;
}

/// What comes with the choices of this recipe, and not with the food: its sheet says the rest.
Problems cares_of(const Batch& batch, const std::string& id) {
  Problems all;
  if (batch.shared) all.push_back({"caution", {}, sheets::sharing_words(batch, sheets::Amounts(Units::metric, batch.setup.kitchen)), "one of them is begun", "begin the others when their time comes"});
  for (const Caution& c : new_warnings(cautions(facts_of(batch)), {}))
    if (c.severity == Severity::warn) all.push_back({"caution", {}, c.text, fmt::format("rule {}; the batch is begun all the same", c.rule), fmt::format("see it where it counts: `curdwright sheet --batch {}`", id)});
  return all;
}

}  // namespace

int start(const Request& r) {
  const auto path = diary_path(r);
  if (!path) return report(r, path.error());
  // Read once: what is kept with the batch is what it was planned with.
  auto records = own_records(r);
  if (!records) return report(r, records.error());
  const auto catalogue = catalogue_with(*records);
  if (!catalogue) return report(r, catalogue.error());
  const auto planned = plan_file(r, r.words[1], *catalogue, true);
  if (!planned) return report(r, planned.error());
  if (const Problems stops = stops_of(planned->batch); !stops.empty()) return report(r, stops);
  const auto at = told_at(r, planned->batch.setup.kitchen);
  if (!at) return report(r, at.error());
  // Else no time of this batch could be told by its clock later.
  if (const auto zone = check_zone(*planned); !zone) return report(r, zone.error());
  DiaryEvent event{*at, "", start_of(planned->batch, start_inputs(r, *planned, std::move(*records)))};
  Problems warnings;
  const auto added = append_to_diary(*path, [&](std::string_view text) -> Result<std::string> {
    const auto diary = read_diary(text, *path, "");
    if (!diary) return fail(diary.error());
    warnings = diary->warnings;
    event.id = next_id(*diary, planned->batch.setup.legumes[0].id);
    return line_after(text, event);
  });
  if (!added) return report(r, added.error());
  for (Problem& care : cares_of(planned->batch, event.id)) warnings.push_back(std::move(care));
  warn(r, warnings);
  return finish_told(r, event.id, event.id + "\n");
}

namespace {

/// Makes the event from the batch as it stands in the locked diary.
using MakeEvent = std::function<Result<DiaryEvent>(const Opened&)>;

/// A slip of the clock or the date, mostly; kept, since a soak may have begun before its line was written.
Problem before_it_began(const Opened& o, Instant at) {
  const auto shown = [&](Instant i) { return iso(o.clock.local(i)).replace(10, 1, " "); };
  return {"time-early", {}, fmt::format("{} is before {} began, at {}", shown(at), o.batch.id, shown(o.batch.started_at)), "it is kept as told", "if it is a slip, tell it again with the right --at"};
}

int add_event(const Request& r, const std::string& id, const MakeEvent& make, const std::function<std::string(const Opened&, const DiaryEvent&)>& say) {
  const auto path = diary_path(r);
  if (!path) return report(r, path.error());
  // A slip in the id must not leave a new file behind.
  if (no_diary_yet(*path)) return report(r, find_batch(Diary{}, id).error());
  Problems warnings;
  std::string told;
  const auto added = append_to_diary(*path, [&](std::string_view text) -> Result<std::string> {
    const auto diary = read_diary(text, *path, id);
    if (!diary) return fail(diary.error());
    warnings = diary->warnings;
    auto batch = find_batch(*diary, id);
    if (!batch) return fail(batch.error());
    const Opened open = opened(std::move(*batch));
    auto event = make(open);
    if (!event) return fail(event.error());
    event->id = id;
    if (event->at < open.batch.started_at) warnings.push_back(before_it_began(open, event->at));
    told = say(open, *event);
    return line_after(text, *event);
  });
  if (!added) return report(r, added.error());
  warn(r, warnings);
  return finish_told(r, id, told);
}

std::string withdrawn_words(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += fmt::format("{} withdrawn\n", word);
  return out;
}

/// What went, as it was told: one name may stand for a weight and for something seen.
std::string taken_back(const DiaryBatch& before, const std::string& word) {
  if (const DiaryReading* r = before.reading(word)) return fmt::format("{}={} withdrawn\n", word, r->told);
  std::string out;
  for (const DiarySighting& s : before.sightings)
    if (s.what == word) out += fmt::format("{}={} withdrawn\n", s.what, s.how);
  return out;
}

std::string added_words(const Opened& o, const DiaryEvent& e) {
  const auto& a = std::get<DiaryAdded>(e.what);
  DiaryBatch after = o.batch;
  take_up(after, e);
  std::string out;
  const std::vector<sheets::DiaryRow> rows = sheets::rows_of(after, false);
  for (const DiaryReading& reading : a.readings)
    for (const sheets::DiaryRow& row : rows)
      if (row.word == reading.word) out += sheets::row_words(row, o.kitchen) + "\n";
  for (const std::string& word : a.withdrawn) out += taken_back(o.batch, word);
  for (const DiarySighting& s : a.seen) out += fmt::format("{} {}: `curdwright sheet --batch {}` has the next move\n", s.what, s.how, o.batch.id);
  if (!a.note.empty()) out += "noted\n";
  const Verdict verdict = verdict_of(after, Catalogue::shipped());
  const auto say = [&](std::string_view mark, const std::vector<std::string>& all) {
    for (const std::string& words : all)
      for (const std::string& line : text::wrapped(std::string(mark) + sheets::Amounts(Units::metric, o.kitchen).in_units(words), 79)) out += line + "\n";
  };
  say("STOP  ", verdict.stops), say("CARE  ", verdict.cares);
  return out;
}

}  // namespace

int add(const Request& r) {
  const auto words = words_behind(r, 2);
  return add_event(
      r, r.words[1],
      [&](const Opened& o) -> Result<DiaryEvent> {
        auto at = told_at(r, o.kitchen);
        auto added = read_added(words, o.batch, o.kitchen);
        Problems problems = at ? Problems{} : at.error();
        if (!added) problems.insert(problems.end(), added.error().begin(), added.error().end());
        if (!problems.empty()) return fail(std::move(problems));
        for (DiaryReading& reading : added->readings) reading.at = *at;
        return DiaryEvent{*at, "", std::move(*added)};
      },
      added_words);
}

namespace {

std::string score_words(const std::vector<DiaryScore>& scores) {
  std::string out;
  for (const DiaryScore& s : scores)
    for (const TasteScale& scale : all_scales())
      if (scale.word == s.word) out += fmt::format("{} {}: {}\n", s.word, sheets::score_text(s.score), sheets::score_words(scale, s.score));
  return out;
}

}  // namespace

int score(const Request& r) {
  if (r.words.size() < 3) return finish(r, sheets::scales_page(), done);
  const Named to = named(r.words[1]);
  const auto words = words_behind(r, 2);
  return add_event(
      r, to.id,
      [&](const Opened& o) -> Result<DiaryEvent> {
        const DiaryPiece* piece = to.of_piece ? o.batch.piece(to.piece) : nullptr;
        if (to.of_piece && !piece) return fail(no_piece(o.batch, to.piece));
        const auto at = told_at(r, o.kitchen);
        if (!at) return fail(at.error());
        auto scored = read_scored(words, piece ? piece->scores : o.batch.scores);
        if (!scored) return fail(scored.error());
        scored->piece = to.piece;
        return DiaryEvent{*at, "", std::move(*scored)};
      },
      [](const Opened&, const DiaryEvent& e) {
        const auto& s = std::get<DiaryScored>(e.what);
        return score_words(s.scores) + withdrawn_words(s.withdrawn);
      });
}

int piece(const Request& r) {
  const auto words = words_behind(r, 3);
  return add_event(
      r, r.words[1],
      [&](const Opened& o) -> Result<DiaryEvent> {
        const auto at = told_at(r, o.kitchen);
        if (!at) return fail(at.error());
        auto piece = read_piece(r.words[2], words, o.batch.piece(r.words[2]));
        if (!piece) return fail(piece.error());
        return DiaryEvent{*at, "", std::move(*piece)};
      },
      [](const Opened& o, const DiaryEvent& e) {
        const auto& p = std::get<DiaryPiece>(e.what);
        return fmt::format("piece {} of {}{}\n", p.name, o.batch.id, p.gone ? " withdrawn" : "") + score_words(p.scores) + withdrawn_words(p.withdrawn);
      });
}

}  // namespace curdwright::program::diary
