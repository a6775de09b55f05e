// SPDX-License-Identifier: MIT
#include "program/diary_commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>

#include "curdwright/cautions.hpp"
#include "curdwright/diary_plan.hpp"
#include "program/diary_file.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "program/report.hpp"
#include "program/zones.hpp"
#include "sheets/amounts.hpp"
#include "sheets/diary.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using sheets::DiaryClock;

// --- clocks ---------------------------------------------------------------------------------------

Instant now() { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

/// Of a kitchen without a zone, or whose zone this machine does not know, the clock shows UTC.
DiaryClock clock_of(const Kitchen& k) {
  if (!k.time_zone.empty())
    if (auto zone = find_zone(k.time_zone)) return {[z = std::move(*zone)](Instant at) { return to_local(z, at).time; }, k.time_zone};
  return {[](Instant at) { return from_clock(std::chrono::local_seconds(at.time_since_epoch())); }, "UTC"};
}

/// --at, by the kitchen's clock; now when it is not given.
Result<Instant> told_at(const Request& r, const Kitchen& k) {
  const auto text = r.value("--at");
  if (!text) return now();
  const auto time = read_local_time(*text, "--at");
  if (!time) return fail(time.error());
  if (k.time_zone.empty()) return Instant(on_clock(*time).time_since_epoch());
  const auto zone = find_zone(k.time_zone);
  if (!zone) return fail(zone.error());
  const auto moment = to_utc(*zone, *time, "--at");
  if (!moment) return fail(moment.error());
  return moment->utc;
}

/// --on, or today by the kitchen's clock.
Result<LocalTime> told_on(const Request& r, const DiaryClock& clock) {
  const auto text = r.value("--on");
  if (!text) return clock.local(now());
  auto time = read_local_time(*text + " 12:00", "--on");
  if (!time)
    return fail(usage(fmt::format("--on cannot be \"{}\"", text::harmless(text::cut(*text, 60))), "it is a date, of the years 1970 to 2200", "for example --on 2027-03-08"));
  return *time;
}

// --- reading --------------------------------------------------------------------------------------

Result<Diary> whole_diary(const Request& r, std::optional<std::string_view> only = std::nullopt) {
  const auto path = diary_path(r);
  if (!path) return fail(path.error());
  const auto text = read_diary_text(*path);
  if (!text) return fail(text.error());
  auto diary = read_diary(*text, *path, only);
  if (diary) warn(r, diary->warnings);
  return diary;
}

/// A batch with the kitchen that it was made in.
struct Opened {
  DiaryBatch batch;
  Kitchen kitchen;
  DiaryClock clock;
};

Opened opened(DiaryBatch batch) {
  // Texts that an older version accepted may be refused today; then the built-in kitchen shows it.
  auto inputs = read_inputs(texts_of(batch));
  Kitchen kitchen = inputs ? std::move(inputs->kitchen) : default_kitchen();
  DiaryClock clock = clock_of(kitchen);
  return {std::move(batch), std::move(kitchen), std::move(clock)};
}

Result<Opened> open_batch(const Request& r, const std::string& id) {
  const auto diary = whole_diary(r, id);
  if (!diary) return fail(diary.error());
  auto batch = find_batch(*diary, id);
  if (!batch) return fail(batch.error());
  return opened(std::move(*batch));
}

std::vector<std::string> words_behind(const Request& r, std::size_t first) { return {r.words.begin() + static_cast<std::ptrdiff_t>(std::min(first, r.words.size())), r.words.end()}; }

/// What is said once a line is safe on the disk.
std::string told_words(const Request& r, const std::string& id, const std::string& text) {
  return r.value("--format") == "json" ? fmt::format("{{\n  \"schema\": \"curdwright.diary-told/1\",\n  \"id\": \"{}\"\n}}\n", id) : text;
}

// --- start ----------------------------------------------------------------------------------------

/// What is wanted by options, as --set would tell it.
std::string want_setting(const Want& w) {
  std::string parts;
  const auto add = [&](std::string part) { parts += (parts.empty() ? "" : ",") + part; };
  const auto mass = [](Mass m) { return fmt::format("\"{:.9g} g\"", in_grams(m)); };
  if (w.blocks) add(fmt::format("\"blocks\":{}", *w.blocks));
  if (w.curd) add("\"curd\":" + mass(*w.curd));
  if (w.dry) add("\"dry\":" + mass(*w.dry));
  if (w.protein) add("\"protein\":" + mass(*w.protein));
  if (w.fill) add(fmt::format("\"fill\":{}", *w.fill));
  if (w.sure) add(fmt::format("\"sure\":{:.9g}", *w.sure));
  return "/want={" + parts + "}";
}

Result<StartInputs> start_inputs(const Request& r, const Planned& p) {
  StartInputs in{p.from.recipe, p.from.recipe_file, std::nullopt, "", p.from.set, {}};
  if (const auto slash = in.recipe_file.rfind('/'); slash != std::string::npos) in.recipe_file.erase(0, slash + 1);
  if (!p.from.kitchen_file.empty()) in.kitchen = p.from.kitchen, in.kitchen_file = p.from.kitchen_file.substr(p.from.kitchen_file.rfind('/') + 1);
  for (std::string_view option : {"--blocks", "--curd", "--dry", "--protein", "--fill", "--sure"})
    if (r.has(option)) {
      in.set.push_back(want_setting(p.inputs.recipe.want));
      break;
    }
  if (const auto folder = r.value("--data")) {
    auto records = read_records(*folder);
    if (!records) return fail(records.error());
    in.records = std::move(*records);
  }
  return in;
}

Problems stops_of(const Batch& batch) {
  Problems problems;
  for (const Caution& c : cautions(facts_of(batch)))
    if (c.severity == Severity::stop) problems.push_back({"refused", {}, c.text, fmt::format("rule {} stops this batch, so it is not begun", c.rule), "change the recipe; see `curdwright check`"});
  return problems;
}

int start(const Request& r) {
  const auto path = diary_path(r);
  if (!path) return report(r, path.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const auto planned = plan_file(r, r.words[1], *catalogue, true);
  if (!planned) return report(r, planned.error());
  if (const Problems stops = stops_of(planned->batch); !stops.empty()) return report(r, stops);
  const auto at = told_at(r, planned->batch.setup.kitchen);
  if (!at) return report(r, at.error());
  auto inputs = start_inputs(r, *planned);
  if (!inputs) return report(r, inputs.error());
  DiaryEvent event{*at, "", start_of(planned->batch, std::move(*inputs))};
  Problems warnings;
  const auto added = append_to_diary(*path, [&](std::string_view text) -> Result<std::string> {
    const auto diary = read_diary(text, *path, "");
    if (!diary) return fail(diary.error());
    warnings = diary->warnings;
    event.id = next_id(*diary, planned->batch.setup.legumes[0].id);
    return line_after(text, event);
  });
  if (!added) return report(r, added.error());
  warn(r, warnings);
  return finish(r, told_words(r, event.id, event.id + "\n"), done);
}

// --- add, score, piece ----------------------------------------------------------------------------

/// Makes the event from the batch as it stands in the locked diary.
using MakeEvent = std::function<Result<DiaryEvent>(const Opened&)>;

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
    told = say(open, *event);
    return line_after(text, *event);
  });
  if (!added) return report(r, added.error());
  warn(r, warnings);
  return finish(r, told_words(r, id, told), done);
}

/// "soaked 1140 g: planned 1128 g, likely 1050 to 1210 g: inside"
std::string reading_words(const Opened& o, const DiaryReading& reading) {
  DiaryBatch after = o.batch;
  std::erase_if(after.readings, [&](const DiaryReading& old) { return old.word == reading.word; });
  after.readings.push_back(reading);
  for (const sheets::DiaryRow& row : sheets::rows_of(after, false)) {
    if (row.word != reading.word) continue;
    const auto say = [&](double v) { return sheets::spoken_measure({v, row.unit}, o.kitchen); };
    std::string words = fmt::format("{} {}", row.word, say(*row.done));
    if (row.planned) words += fmt::format(", planned {}", say(*row.planned));
    if (row.low) words += fmt::format(", likely {} to {}: {}", say(*row.low), say(*row.high), *row.inside ? "inside" : *row.done < *row.low ? "BELOW" : "ABOVE");
    return words + "\n";
  }
  return "";
}

/// The batch with what is being added.
DiaryBatch with(DiaryBatch b, const DiaryAdded& a) {
  const auto drop = [&](const std::string& word) { std::erase_if(b.readings, [&](const DiaryReading& old) { return old.word == word; }); };
  for (const std::string& word : a.withdrawn) drop(word);
  for (const DiaryReading& r : a.readings) drop(r.word), b.readings.push_back(r);
  b.sightings.insert(b.sightings.end(), a.seen.begin(), a.seen.end());
  return b;
}

std::string added_words(const Opened& o, const DiaryAdded& a) {
  std::string out;
  for (const DiaryReading& reading : a.readings) out += reading_words(o, reading);
  for (const std::string& word : a.withdrawn) out += fmt::format("{} withdrawn\n", word);
  for (const DiarySighting& s : a.seen) out += fmt::format("{} {}: `curdwright sheet --batch {}` has the next move\n", s.what, s.how, o.batch.id);
  if (!a.note.empty()) out += "noted\n";
  const Verdict verdict = verdict_of(with(o.batch, a), Catalogue::shipped());
  const auto say = [&](std::string_view mark, const std::vector<std::string>& all) {
    for (const std::string& words : all)
      for (const std::string& line : text::wrapped(std::string(mark) + sheets::Amounts(Units::metric, o.kitchen).in_units(words), 79)) out += line + "\n";
  };
  say("STOP  ", verdict.stops), say("CARE  ", verdict.cares);
  return out;
}

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
      [](const Opened& o, const DiaryEvent& e) { return added_words(o, std::get<DiaryAdded>(e.what)); });
}

std::string score_words(const std::vector<DiaryScore>& scores) {
  std::string out;
  for (const DiaryScore& s : scores)
    for (const TasteScale& scale : all_scales())
      if (scale.word == s.word) out += fmt::format("{} {}: {}{}\n", s.word, sheets::score_text(s.score), s.score == 1 || s.score == 5 || s.score == 3 ? "" : "toward: ", anchor(scale, s.score));
  return out;
}

/// "chickpea-7:A"
struct Named {
  std::string id, piece;
};
Named named(const std::string& word) {
  const auto colon = word.find(':');
  return colon == std::string::npos ? Named{word, ""} : Named{word.substr(0, colon), word.substr(colon + 1)};
}

Problem no_piece(const DiaryBatch& b, const std::string& name) {
  std::vector<std::string_view> known;
  for (const DiaryPiece& p : b.pieces) known.push_back(p.name);
  const std::string near = text::suggest(name, known);
  return {"diary-id", {}, fmt::format("{} has no piece \"{}\"", b.id, text::harmless(text::cut(name, 40))), "", near.empty() ? fmt::format("tell of it first: curdwright diary piece {} A mass=310g", b.id) : near};
}

int score(const Request& r) {
  if (r.words.size() < 3) return finish(r, sheets::scales_page(), done);
  const Named to = named(r.words[1]);
  const auto words = words_behind(r, 2);
  return add_event(
      r, to.id,
      [&](const Opened& o) -> Result<DiaryEvent> {
        if (r.words[1].find(':') != std::string::npos && !o.batch.piece(to.piece)) return fail(no_piece(o.batch, to.piece));
        const auto at = told_at(r, o.kitchen);
        if (!at) return fail(at.error());
        auto scored = read_scored(words);
        if (!scored) return fail(scored.error());
        scored->piece = to.piece;
        return DiaryEvent{*at, "", std::move(*scored)};
      },
      [](const Opened&, const DiaryEvent& e) { return score_words(std::get<DiaryScored>(e.what).scores); });
}

int piece(const Request& r) {
  const auto words = words_behind(r, 3);
  return add_event(
      r, r.words[1],
      [&](const Opened& o) -> Result<DiaryEvent> {
        const auto at = told_at(r, o.kitchen);
        if (!at) return fail(at.error());
        auto piece = read_piece(r.words[2], words, o.kitchen);
        if (!piece) return fail(piece.error());
        return DiaryEvent{*at, "", std::move(*piece)};
      },
      [](const Opened& o, const DiaryEvent& e) {
        const auto& p = std::get<DiaryPiece>(e.what);
        return fmt::format("piece {} of {}\n", p.name, o.batch.id) + score_words(p.scores);
      });
}

// --- list, show, compare, export, left ------------------------------------------------------------

int list(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  const auto diary = whole_diary(r);
  if (!diary) return report(r, diary.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  std::vector<sheets::ListLine> lines;
  for (const DiaryBatch& b : diary->batches) lines.push_back({&b, opened(b).clock.local(b.started_at), !verdict_of(b, *catalogue).stops.empty()});
  return finish(r, *format == "json" ? sheets::list_json(lines) : sheets::list_page(lines), done);
}

int show(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  const auto open = open_batch(r, r.words[1]);
  if (!open) return report(r, open.error());
  const auto on = told_on(r, open->clock);
  if (!on) return report(r, on.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const Verdict verdict = verdict_of(open->batch, *catalogue);
  const sheets::ShowInputs in{open->batch, open->kitchen, open->clock, *on, verdict.stops, verdict.cares};
  return finish(r, *format == "json" ? sheets::show_json(in) : sheets::show_page(in), done);
}

int compare(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  const auto diary = whole_diary(r);
  if (!diary) return report(r, diary.error());
  std::vector<DiaryBatch> batches;
  std::vector<Named> names = {named(r.words[1]), named(r.words[2])};
  Problems problems;
  for (const Named& n : names) {
    auto batch = find_batch(*diary, n.id);
    if (!batch)
      problems.push_back(batch.error()[0]);
    else if (!n.piece.empty() && !batch->piece(n.piece))
      problems.push_back(no_piece(*batch, n.piece));
    else
      batches.push_back(std::move(*batch));
  }
  if (!problems.empty()) return report(r, problems);
  const sheets::Side one{batches[0], batches[0].piece(names[0].piece)}, other{batches[1], batches[1].piece(names[1].piece)};
  return finish(r, *format == "json" ? sheets::compare_json(one, other) : sheets::compare_page(one, other, opened(batches[0]).kitchen), done);
}

int export_all(const Request& r) {
  const auto format = chosen(r, "--format", {"csv", "json"});
  if (!format) return report(r, format.error());
  const auto diary = whole_diary(r);
  if (!diary) return report(r, diary.error());
  std::vector<Opened> all;
  for (const DiaryBatch& b : diary->batches) all.push_back(opened(b));
  std::vector<sheets::ShowInputs> inputs;
  for (const Opened& o : all) {
    const auto on = told_on(r, o.clock);
    if (!on) return report(r, on.error());
    inputs.push_back({o.batch, o.kitchen, o.clock, *on, {}, {}});
  }
  return finish(r, *format == "json" ? sheets::export_json(inputs) : sheets::export_csv(inputs), done);
}

Problem no_leftover(const DiaryBatch& b, const std::string& what) {
  std::vector<std::string_view> known;
  for (const DiaryLeftover& l : b.start.leftovers) known.push_back(l.what);
  return {"diary-word", {}, fmt::format("{} leaves no \"{}\"", b.id, text::harmless(text::cut(what, 40))), "", text::suggest(what, known)};
}

int left(const Request& r) {
  const auto open = open_batch(r, r.words[1]);
  if (!open) return report(r, open.error());
  const auto on = told_on(r, open->clock);
  if (!on) return report(r, on.error());
  const DiaryLeftover* l = open->batch.leftover(r.words[2]);
  if (!l) return report(r, {no_leftover(open->batch, r.words[2])});
  const std::string what = sheets::kitchen_words(l->what);
  const LeftRecord record = left_record(open->batch, *l);
  if (record.text.empty()) return report(r, {{"refused", {}, fmt::format("the {} of {} is not for another recipe", what, open->batch.id), l->not_again, "throw it away, or see `curdwright diary show` for how to eat it"}});
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  if (const auto why = verdict_of(open->batch, *catalogue).stops; !why.empty()) return report(r, {Problem{"refused", {}, fmt::format("nothing of {} is for another recipe", open->batch.id), why.front(), "throw it out"}});
  const sheets::LeftDays days = sheets::left_days(open->batch, *l, open->clock, *on);
  if (days.over)
    return report(r, {{"refused", {}, fmt::format("the {} of {} is {} days old", what, open->batch.id, days.day - 1), fmt::format("it keeps {} days in the fridge", l->keeps_days), "throw it out; if it was frozen in time, give the day it was frozen with --on"}});
  return finish(r, record.text, done);
}

// --- verbs ----------------------------------------------------------------------------------------

struct Verb {
  std::string_view name, words, example, options;
  std::size_t least, most;
  int (*run)(const Request&);
};

constexpr std::size_t any = 1000;
constexpr std::array verbs = {
    Verb{"start", "RECIPE", "curdwright diary start chickpea.json --blocks 8", "--blocks --curd --dry --protein --fill --sure --kitchen --data --set --price --at --format", 1, 1, start},
    Verb{"add", "ID WORD=VALUE...", "curdwright diary add chickpea-1 soaked=1140g whey=milky note=\"salted\"", "--at --format", 2, any, add},
    Verb{"score", "[ID WORD=1..5...]", "curdwright diary score chickpea-1 firmness=4 taste=5", "--at --format", 0, any, score},
    Verb{"piece", "ID NAME WORD=VALUE...", "curdwright diary piece chickpea-1 A mass=310g aged=3d way=pan", "--at --format", 3, any, piece},
    Verb{"list", "", "curdwright diary list", "--format --output --force", 0, 0, list},
    Verb{"show", "ID", "curdwright diary show chickpea-1 --on 2027-03-08", "--on --format --output --force", 1, 1, show},
    Verb{"compare", "ID ID", "curdwright diary compare chickpea-1 chickpea-2:A", "--format --output --force", 2, 2, compare},
    Verb{"export", "", "curdwright diary export --format csv -o diary.csv", "--on --format --output --force", 0, 0, export_all},
    Verb{"left", "ID WHAT", "curdwright diary left chickpea-1 pulp -o mine/extras/pulp-chickpea-1.json", "--on --format --output --force", 2, 2, left},
};

bool takes(const Verb& v, std::string_view option) {
  if (option == "--diary" || option == "--color") return true;
  for (std::string_view rest = v.options; !rest.empty();) {
    const auto space = rest.find(' ');
    if (rest.substr(0, space) == option) return true;
    rest.remove_prefix(space == std::string_view::npos ? rest.size() : space + 1);
  }
  return false;
}

/// What is wrong with the words and options of a verb.
Problems misuse(const Request& r, const Verb& v) {
  Problems problems;
  for (const auto& [option, values] : r.values)
    if (!takes(v, option)) problems.push_back(usage(fmt::format("{} does not go with diary {}", option, v.name), "", fmt::format("for example: {}", v.example)));
  if (v.name != "export")
    if (const auto format = chosen(r, "--format", {"text", "json"}); !format) problems.push_back(format.error()[0]);
  const std::size_t given = r.words.size() - 1;
  const bool one_word_score = v.name == "score" && given == 1;
  if (given < v.least || given > v.most || one_word_score)
    problems.push_back(usage(given > v.most ? fmt::format("diary {} takes {}, but {} words were given", v.name, v.words.empty() ? "no words" : v.words, given) : fmt::format("diary {} needs {}", v.name, v.words), "",
                             fmt::format("for example: {}", v.example)));
  return problems;
}

}  // namespace

int run_diary(const Request& r) {
  std::vector<std::string_view> known;
  for (const Verb& v : verbs) {
    known.push_back(v.name);
    if (v.name != r.words[0]) continue;
    if (const Problems wrong = misuse(r, v); !wrong.empty()) return report(r, wrong);
    return v.run(r);
  }
  return report(r, {usage(fmt::format("diary does not \"{}\"", text::harmless(text::cut(r.words[0], 40))), "", text::suggest(r.words[0], known))});
}

}  // namespace curdwright::program
