// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/correct.hpp"
#include "curdwright/diary_plan.hpp"
#include "curdwright/pictures.hpp"
#include "curdwright/sheet.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/day_plan.hpp"
#include "program/diary_file.hpp"
#include "program/diary_open.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "sheets/asked_of.hpp"
#include "sheets/diary.hpp"
#include "sheets/moves.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// With both ends of the day told, what is left over goes into the soak, and all is planned again.
Result<void> fill_the_day(Planned& p, const DayWish& wish, const Catalogue& catalogue) {
  constexpr Duration longest_soak = hours(96);
  for (int tries = 0; tries < 3; ++tries) {
    const auto spare = spare_time(wish, facts_of(p.batch).timeline.end());
    if (!spare) return fail(spare.error());
    if (*spare < minutes(1)) return {};
    const Duration soak = p.batch.setup.job.soak.time + *spare;
    if (soak > longest_soak)
      return fail(Problem{"out-of-range", {.file = "--start"}, fmt::format("the soak would last {:.0f} h", in_hours(soak)), "up to 96 h can be planned", "start later, or leave --start to the plan"});
    p.inputs.recipe.soak.time = soak;
    auto batch = plan_located(p.inputs, p.from, catalogue);
    if (!batch) return fail(batch.error());
    p.batch = one_run(std::move(*batch));
  }
  const auto spare = spare_time(wish, facts_of(p.batch).timeline.end());
  return spare ? Result<void>() : fail(spare.error());
}

/// The start of a batch, where one is told.
Result<std::optional<DayStart>> start_of_day(const Request& r, Planned& p, const Catalogue& catalogue) {
  const auto wish = day_wish(r, p.batch.setup.kitchen);
  if (!wish) return fail(located(wish.error(), p.from));
  if (!wish->any()) return std::optional<DayStart>();
  if (wish->ready && !facts_of(p.batch).timeline.cold)
    return fail(Problem{"out-of-reach", {.file = "--ready-by"}, "with this chilling the curd never gets cold enough, so no time can be reckoned back from",
                        fmt::format("it lies at {:.1f} degC", in_celsius(p.batch.setup.chill_medium)), "chill in ice water, or make the fridge colder; or use --start"});
  if (wish->start && wish->ready)
    if (auto filled = fill_the_day(p, *wish, catalogue); !filled) return fail(filled.error());
  auto start = day_start(*wish, facts_of(p.batch).timeline.end());
  if (!start) return fail(start.error());
  return std::optional(std::move(*start));
}

/// A batch that is stopped has no day.
int finish_calendar(const Request& r, const Sheet& sheet, const DayStart& start, std::string_view recipe) {
  if (sheet.stops.empty()) return finish(r, to_ics(sheet, start.start, recipe), done);
  write_error(to_text(sheet, {}));
  return answer_is_no;
}

/// A batch, and what was told of it so far.
struct InHand {
  Planned planned;
  std::vector<Reading> readings;
  std::vector<Sighting> seen;
  std::size_t noted = 0;  ///< of them in the diary; those after are told now
  std::vector<SheetAmount> words;  ///< scores and notes of the diary
};

/// Options that shape a recipe; the diary holds a batch as it began.
Result<void> check_batch_options(const Request& r) {
  if (!r.words.empty()) return fail(usage("a recipe and a batch of the diary are asked for", "the diary keeps the recipe of its batch", "leave out one of them"));
  for (std::string_view o : batch_options)
    if (o != "--data" && r.has(o)) return fail(usage(fmt::format("{} does not go with --batch", o), "the batch is as it was when it began", fmt::format("leave {} out; tell what was done otherwise with --measured or `curdwright diary add`", o)));
  return {};
}

Result<InHand> from_diary(const Request& r, const Catalogue& catalogue) {
  if (auto ok = check_batch_options(r); !ok) return fail(ok.error());
  const auto path = diary_path(r);
  if (!path) return fail(path.error());
  const auto diary = diary_at(*path, Missing::is_wrong);
  if (!diary) return fail(diary.error());
  auto kept = find_batch(*diary, *r.value("--batch"));
  if (!kept) {
    Problems all = diary->warnings;
    all.insert(all.end(), kept.error().begin(), kept.error().end());
    return fail(std::move(all));
  }
  warn(r, diary->warnings);
  auto batch = planned_then(*kept, catalogue, Believed::then);
  if (!batch) return fail(batch.error());
  const InputTexts texts = texts_of(*kept);
  InHand h;
  h.planned.from = {texts.recipe, texts.recipe_file, texts.kitchen.value_or("{}"), texts.kitchen_file, texts.set};
  h.planned.inputs = {batch->setup.recipe, batch->setup.kitchen};
  h.planned.batch = std::move(*batch);
  h.readings = readings_of(*kept);
  for (const DiarySighting& s : kept->sightings) h.seen.push_back({s.what, s.how});
  h.noted = h.seen.size();
  h.words = sheets::noted_of(*kept, h.planned.batch.setup.kitchen);
  return h;
}

/// "chickpea-7" where a file is looked for.
bool looks_like_a_batch(std::string_view word) {
  const auto dash = word.rfind('-');
  return dash != std::string_view::npos && dash > 0 && dash + 1 < word.size() && word.find_first_not_of("0123456789", dash + 1) == std::string_view::npos && word.find_first_of("./") == std::string_view::npos;
}

Result<InHand> in_hand(const Request& r, const Catalogue& catalogue) {
  if (r.has("--batch")) return from_diary(r, catalogue);
  if (r.words.empty()) return fail(usage("sheet needs a recipe", "or a batch of the diary, with --batch ID", "for example: curdwright sheet chickpea.json --blocks 8"));
  auto planned = plan_file(r, r.words[0], catalogue, true);
  if (!planned) {
    Problems problems = planned.error();
    if (problems[0].code == "file" && looks_like_a_batch(r.words[0])) problems[0].fix = fmt::format("check the name; for a batch of the diary write --batch {}", r.words[0]);
    return fail(std::move(problems));
  }
  return InHand{std::move(*planned), {}, {}, 0, {}};
}

/// What the command line tells replaces what the diary holds of the same word.
Result<void> add_told(const Request& r, InHand& h, const Troubles& table) {
  Problems problems;
  const auto readings = read_readings(r.all("--measured"), h.planned.batch.setup.kitchen, "--measured");
  if (!readings) problems = readings.error();
  for (const std::string& told : r.all("--seen")) {
    const auto seen = read_sighting(told, table);
    if (seen) {
      h.seen.push_back(*seen);
      continue;
    }
    for (Problem p : seen.error()) {
      p.place.file = fmt::format("--seen {}", text::harmless(text::cut(told, 120)));
      problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return fail(std::move(problems));
  for (const Reading& n : *readings) {
    std::erase_if(h.readings, [&](const Reading& o) { return o.what->word == n.what->word; });
    h.readings.push_back(n);
  }
  std::stable_sort(h.readings.begin(), h.readings.end(), [](const Reading& a, const Reading& b) { return a.what < b.what; });
  return {};
}

/// Next moves for what was seen. What was noted of a stage that is past is history, unless it is thrown out for it.
std::vector<SheetMove> moves_of(const InHand& h, Batch batch, const Correction* c, const Troubles& table, Units units) {
  std::vector<SheetMove> all;
  // A pour that was too cool is no aim.
  batch.setup.job.coagulate.at = h.planned.batch.setup.job.coagulate.at;
  for (std::size_t i = 0; i < h.seen.size(); ++i) {
    const TroubleSight* sight = table.find(h.seen[i]);
    const auto moves = sheets::moves_for(batch, table, h.seen[i], units);
    const bool thrown_out = std::any_of(moves.begin(), moves.end(), [](const SheetMove& m) { return m.discard; });
    if (i < h.noted && !thrown_out && c && sight && sight->stage < c->done) continue;
    all.insert(all.end(), moves.begin(), moves.end());
  }
  // What is lost is not saved for something else that was seen.
  if (std::any_of(all.begin(), all.end(), [](const SheetMove& m) { return m.discard; })) std::erase_if(all, [](const SheetMove& m) { return !m.discard; });
  return all;
}

/// What the options ask of the page.
struct PageWish {
  std::string format;
  Depth depth = Depth::fast;
  Units units = Units::metric;
  TextOptions text;
};
Result<PageWish> page_wish(const Request& r) {
  PageWish w;
  const auto format = chosen(r, "--format");
  if (!format) return fail(format.error());
  if (*format == "ics" && !r.has("--start") && !r.has("--ready-by"))
    return fail(usage("a calendar needs a time to begin or to end", "", "add --start \"2027-03-05 18:00\" or --ready-by \"2027-03-06 17:00\""));
  const auto units = chosen(r, "--units");
  if (!units) return fail(units.error());
  const auto depth = depth_of(r);
  if (!depth) return fail(depth.error());
  w.format = *format, w.depth = *depth, w.units = *units == "us" ? Units::us : Units::metric;
  const auto width = width_of(r);
  if (!width) return fail(width.error());
  w.text.width = *width;
  w.text.colour = coloured(r);
  return w;
}

std::optional<Ranges> ranges_wished(const PageWish& w, const Batch& b) {
  if (w.depth == Depth::off) return std::nullopt;
  return ranges(b.setup.job, b.setup.beliefs, sample_for(b.setup.beliefs, w.depth));
}

/// What is stopped or thrown out is answered too, and the answer is no; but no recipe of it goes out for others to cook.
int finish_sheet(const Request& r, const PageWish& w, const Facts& facts, const Sheet& sheet, const Ranges* ranges) {
  const int status = sheet.stops.empty() && !sheets::thrown_out(sheet) ? done : answer_is_no;
  if (w.format == "json") return finish(r, to_json(facts, sheet, ranges), status);
  if (w.format == "html") return finish(r, to_html(sheet, pictures_of(facts, ranges)), status);
  if (w.format == "csv") return finish(r, to_csv(facts), status);
  if (w.format == "markdown") return finish(r, to_markdown(sheet), status);
  if (w.format == "text") return finish(r, to_text(sheet, w.text), status);
  if (status == done) return finish(r, to_json_ld(facts, sheet, w.units), done);
  write_error(to_text(sheet, {}));
  return answer_is_no;
}

}  // namespace

int run_sheet(const Request& r) {
  const auto wish = page_wish(r);
  if (!wish) return report(r, wish.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  auto hand = in_hand(r, *catalogue);
  if (!hand) return report(r, hand.error());
  const Troubles table = r.has("--seen") || !hand->seen.empty() ? shipped_troubles() : Troubles{};
  if (auto told = add_told(r, *hand, table); !told) return report(r, told.error());
  if (r.has("--start") && r.has("--ready-by") && (r.has("--batch") || !hand->readings.empty()))
    return report(r, {usage("--start and --ready-by together do not go with a batch in hand", "they stretch the soak to fill the time between", "keep one of them")});
  const auto start = start_of_day(r, hand->planned, *catalogue);
  if (!start) return report(r, start.error());
  std::optional<Correction> correction;
  if (!hand->readings.empty()) {
    auto c = correct(hand->planned.batch, hand->readings);
    if (!c) return report(r, located(c.error(), hand->planned.from));
    correction = std::move(*c);
  }
  const Batch& batch = correction ? correction->batch : hand->planned.batch;
  const Facts facts = facts_of(batch);
  const std::optional<Ranges> found = ranges_wished(*wish, batch);
  const Ranges* given = found ? &*found : nullptr;
  const bool publish = wish->format == "markdown" || wish->format == "jsonld";
  Sheet sheet = make_sheet(facts, {wish->units, given, *start ? &(*start)->clock : nullptr, correction ? &*correction : nullptr, publish});
  sheet.moves = moves_of(*hand, batch, correction ? &*correction : nullptr, table, wish->units);
  if (publish) sheet.noted = std::move(hand->words);
  if (wish->format == "ics") return finish_calendar(r, sheet, **start, hand->planned.from.recipe);
  return finish_sheet(r, *wish, facts, sheet, given);
}

}  // namespace curdwright::program
