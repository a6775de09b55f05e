// SPDX-License-Identifier: MIT
// Verbs that show what the diary holds.
#include <fmt/format.h>

#include "curdwright/diary_plan.hpp"
#include "program/answers.hpp"
#include "program/diary_open.hpp"
#include "program/diary_verbs.hpp"
#include "program/planning.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program::diary {
namespace {

bool wants_json(const Request& r) { return r.value("--format") == "json"; }
bool wants_html(const Request& r) { return r.value("--format") == "html"; }

}  // namespace

int list(const Request& r) {
  const auto diary = whole_diary(r);
  if (!diary) return report(r, diary.error());
  const Catalogue catalogue = Catalogue::shipped();  // a batch keeps records of one's own with it
  std::vector<sheets::ListLine> lines;
  for (const DiaryBatch& b : diary->batches) lines.push_back({&b, opened(b).clock.local(b.started_at), !verdict_of(b, catalogue).stops.empty()});
  return finish(r, wants_json(r) ? sheets::list_json(lines) : sheets::list_page(lines), done);
}

int show(const Request& r) {
  const auto open = open_batch(r, r.words[1]);
  if (!open) return report(r, open.error());
  const auto on = told_on(r, open->clock);
  if (!on) return report(r, on.error());
  const Verdict verdict = verdict_of(open->batch, Catalogue::shipped());
  const sheets::ShowInputs in{open->batch, open->kitchen, open->clock, *on, verdict.stops, verdict.cares};
  return finish(r, wants_json(r) ? sheets::show_json(in) : wants_html(r) ? sheets::show_html(in) : sheets::show_page(in), done);
}

int compare(const Request& r) {
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
  const Kitchen kitchen = opened(batches[0]).kitchen;
  return finish(r, wants_json(r) ? sheets::compare_json(one, other) : wants_html(r) ? sheets::compare_html(one, other, kitchen) : sheets::compare_page(one, other, kitchen), done);
}

int export_all(const Request& r) {
  const auto diary = whole_diary(r);
  if (!diary) return report(r, diary.error());
  Problems problems;
  const auto all = [&](const auto& take) {
    for (const DiaryBatch& b : diary->batches) {
      const Opened o = opened(b);
      const auto on = told_on(r, o.clock);
      if (!on) return problems = on.error(), void();
      take(sheets::ShowInputs{o.batch, o.kitchen, o.clock, *on, {}, {}});
    }
  };
  const std::string out = wants_json(r) ? sheets::export_json(all) : sheets::export_csv(all);
  return problems.empty() ? finish(r, out, done) : report(r, problems);
}

namespace {

Problem no_leftover(const DiaryBatch& b, const std::string& what) {
  std::vector<std::string_view> known;
  for (const DiaryLeftover& l : b.start.leftovers) known.push_back(word(l.what));
  return {"diary-word", {}, fmt::format("{} leaves no \"{}\"", b.id, text::harmless(text::cut(what, 40))), "", text::suggest(what, known)};
}

}  // namespace

int left(const Request& r) {
  const auto open = open_batch(r, r.words[1]);
  if (!open) return report(r, open.error());
  const auto on = told_on(r, open->clock);
  if (!on) return report(r, on.error());
  const auto kind = from_word<LeftKind>(r.words[2]);
  const DiaryLeftover* l = kind ? open->batch.leftover(*kind) : nullptr;
  if (!l) return report(r, {no_leftover(open->batch, r.words[2])});
  const std::string_view what = kitchen_words(l->what);
  if (const auto why = verdict_of(open->batch, Catalogue::shipped()).stops; !why.empty()) return report(r, {Problem{"refused", {}, fmt::format("nothing of {} is for another recipe", open->batch.id), why.front(), "throw it out"}});
  const LeftRecord record = left_record(open->batch, *l);
  if (record.text.empty()) return report(r, {{"refused", {}, fmt::format("the {} of {} is not for another recipe", what, open->batch.id), l->not_again, fmt::format("throw it away, or see in `curdwright diary show {}` how long it must boil", open->batch.id)}});
  const sheets::LeftDays days = sheets::left_days(open->batch, *l, open->clock, *on);
  if (days.over)
    return report(r, {{"refused", {}, fmt::format("the {} of {} is {} days old", what, open->batch.id, days.day - 1), fmt::format("it keeps {} days in the fridge", l->keeps_days), "throw it out; if it was frozen in time, give the day it was frozen with --on"}});
  return finish(r, record.text, done);
}

}  // namespace curdwright::program::diary
