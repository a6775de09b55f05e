// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/correct.hpp"
#include "curdwright/diary_plan.hpp"
#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/diary_file.hpp"
#include "program/diary_open.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "sheets/learned.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using sheets::LearnedPage;

/// A batch as it was done, on the shipped beliefs.
Result<Taught> taught_of(const DiaryBatch& b, const Catalogue& catalogue) {
  auto batch = planned_then(b, catalogue, Believed::shipped);
  if (!batch) return fail(batch.error());
  Taught t;
  const std::vector<Reading> readings = readings_of(b);
  t.batch.id = b.id;
  t.batch.setup = as_done(batch->setup, readings);
  for (const Reading& r : readings)
    if (const auto o = observed(r, t.batch.setup.kitchen)) t.batch.seen.push_back(*o), t.readings.push_back(r);
  return t;
}

std::vector<Taught> all_taught(const Diary& diary, const Catalogue& catalogue, LearnedPage& page) {
  std::vector<Taught> all;
  for (const DiaryBatch& b : diary.batches) {
    auto t = taught_of(b, catalogue);
    if (!t)
      page.left_out.push_back(fmt::format("{}: {}", b.id, t.error()[0].what));
    else if (!t->batch.seen.empty())
      all.push_back(std::move(*t));
    else
      page.left_out.push_back(fmt::format("{}: no reading of what came out", b.id));
  }
  return all;
}

/// Batches whose plan, as they were done, has none of the figures that were read.
void leave_out_useless(const Lesson& lesson, LearnedPage& page) {
  for (const BatchLesson& b : lesson.batches)
    if (std::all_of(b.residuals.begin(), b.residuals.end(), [](const Residual& s) { return s.weight == 0; })) page.left_out.push_back(fmt::format("{}: planned as it was done, it has nothing of what was read (nothing sets, or the pulp keeps all)", b.id));
}

/// The kitchen that is named, or that of the latest batch.
Result<Kitchen> kitchen_to_write(const Request& r, const Diary& diary) {
  if (!kitchen_path(r).empty() || diary.batches.empty()) return kitchen_of(r);
  const auto inputs = read_inputs(texts_of(diary.batches.back()));
  if (!inputs) return fail(inputs.error());
  return inputs->kitchen;
}

/// Writes the kitchen with what was learned.
Result<void> write_kitchen_file(const Request& r, const Diary& diary, const Lesson& lesson) {
  if (!to_file(r)) return {};
  if (lesson.learned.batches == 0)
    return fail(Problem{"out-of-reach", {}, "nothing was learned, so no kitchen is written", "no batch of the diary has a usable reading of what came out", "weigh soaked seed, pulp, milk and curd, and note them with `curdwright diary add`"});
  auto kitchen = kitchen_to_write(r, diary);
  if (!kitchen) return fail(kitchen.error());
  kitchen->learned = lesson.learned;
  return write_file(*r.value("--output"), kitchen_as_file(std::move(*kitchen)), r.has("--force"));
}

std::string written_words(const std::string& file, const Diary& diary) {
  const std::string name = text::harmless(file);
  return fmt::format("\n{} is written: the kitchen of {}, with what was learned.\nPlan with it: --kitchen {}\n", name, diary.batches.back().id, text::shell_word(name));
}

}  // namespace

int run_learn(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  if (!r.words.empty() && r.has("--diary")) return report(r, {usage("two diaries are named", "one is learned from at a time", "leave out one of them")});
  const Result<std::string> path = r.words.empty() ? diary_path(r) : Result<std::string>(r.words[0]);
  if (!path) return report(r, path.error());
  const auto diary = diary_at(*path, Missing::is_wrong);
  if (!diary) return report(r, diary.error());
  warn(r, diary->warnings);

  LearnedPage page;
  page.explain = r.has("--explain"), page.next = r.has("--next");
  const std::vector<Taught> taught = all_taught(*diary, *catalogue, page);
  std::vector<BatchSeen> batches;
  batches.reserve(taught.size());
  for (const Taught& t : taught) batches.push_back(t.batch);
  const Lesson lesson = learn(batches);
  leave_out_useless(lesson, page);
  if (auto written = write_kitchen_file(r, *diary, lesson); !written) return report(r, written.error());
  const std::string answer = *format == "json" ? sheets::learned_json(lesson, taught, page) : sheets::learned_text(lesson, taught, page);
  const auto out = write_out(answer + (to_file(r) && *format == "text" ? written_words(*r.value("--output"), *diary) : ""));
  return out ? done : report(r, out.error());
}

}  // namespace curdwright::program
