// SPDX-License-Identifier: MIT
// The diary: one line, and whole files of lines with all that is made of them.
#include "curdwright/diary_plan.hpp"
#include "diary_lines.hpp"
#include "fuzz/fuzz.hpp"
#include "fuzz/world.hpp"
#include "program/diary_open.hpp"
#include "sheets/diary.hpp"

namespace curdwright::fuzz {
namespace {

/// A line may end in its own checksum, or in a word that stands for the right one: no fuzzer guesses 32 bits.
constexpr std::string_view unsealed = ",\"sum\":\"?\"}";

std::string sealed(std::string_view line) {
  if (!line.ends_with(unsealed)) return std::string(line);
  const std::string body(line.substr(0, line.size() - unsealed.size()));
  return body + ",\"sum\":\"" + diary::checksum(body) + "\"}";
}

std::string sealed_lines(std::string_view bytes) {
  std::string text;
  while (!bytes.empty()) {
    const bool ends = bytes.find('\n') != std::string_view::npos;
    text += sealed(take_line(bytes));
    if (ends) text += '\n';
  }
  return text;
}

void check_batch(const DiaryBatch& b, bool deep) {
  hold(!b.id.empty(), "a batch without an id");
  static_cast<void>(b.made_at());
  static_cast<void>(readings_of(b));
  static_cast<void>(texts_of(b));
  for (const DiaryLeftover& l : b.start.leftovers) static_cast<void>(left_record(b, l)), static_cast<void>(b.left_kg(l));
  if (!deep) return;
  const program::Opened open = program::opened(b);
  const Verdict verdict = verdict_of(open.batch, Catalogue::shipped());
  const sheets::ShowInputs in{open.batch, open.kitchen, open.clock, open.clock.local(open.batch.last_at), verdict.stops, verdict.cares};
  check_words(sheets::show_page(in));
  check_json(sheets::show_json(in));
  check_page(sheets::show_html(in));
  const auto alone = [&](const auto& take) { take(in); };
  check_json(sheets::export_json(alone));
  check_words(sheets::export_csv(alone));
  check_words(sheets::list_page({{&b, open.clock.local(b.started_at), false}}));
}

void check_pair(const DiaryBatch& one, const DiaryBatch& other) {
  const Kitchen kitchen = program::opened(one).kitchen;
  static_cast<void>(recipe_differences(one, other));
  check_words(sheets::compare_page({one}, {other}, kitchen));
  check_json(sheets::compare_json({one}, {other}));
  check_page(sheets::compare_html({one}, {other}, kitchen));
}

/// Whatever stands in a diary that can be read, one more line leaves it so, with all that it told.
void check_next_line(const std::string& text, const Diary& diary) {
  if (diary.batches.empty()) return;
  const auto next = line_after(text, {diary.batches[0].started_at, diary.batches[0].id, DiaryAdded{{}, {}, {}, "one more"}});
  hold(next.has_value(), "a short line that does not fit");
  const auto after = read_diary(text + *next, "diary.jsonl");
  if (!after) throw Broken("a diary that cannot be read with one more line: " + after.error()[0].what);
  hold(after->batches.size() == diary.batches.size() && after->warnings.size() == diary.warnings.size(), "a diary that changed with one more line");
  hold(after->batches[0].notes.size() == diary.batches[0].notes.size() + 1, "a line that was lost");
}

}  // namespace

void try_diary_line(std::string_view bytes) {
  const std::string line = sealed(bytes);
  static_cast<void>(diary::is_sealed(line)), static_cast<void>(diary::looks_ours(line)), static_cast<void>(diary::torn_before(line));
  const auto event = diary::read_line(line);
  if (!event) return;
  const std::string written = diary::write_line(*event, 0);
  hold(diary::is_whole(written) || written.size() > max_diary_line, "a line that is not whole when it is written");
  const auto again = diary::read_line(written);
  hold(again.has_value(), "a line that is not read back", written.substr(0, 300));
  hold(diary::write_line(*again, 0) == written, "a line that changes when it is written again", written.substr(0, 300));
}

void try_diary(std::string_view bytes) {
  const bool deep = take_choice(bytes, 4) == 0;
  const std::string text = sealed_lines(bytes);
  const auto diary = read_diary(text, "diary.jsonl");
  if (!diary) return check_problems(diary.error(), "diary.jsonl");
  if (!diary->warnings.empty()) check_problems(diary->warnings, "diary.jsonl");
  hold(diary->ids.size() == diary->batches.size(), "ids without batches");
  hold(!find_batch(*diary, "none such").has_value(), "a batch that nobody began");
  hold(diary->find(next_id(*diary, "soybean")) == nullptr, "an id that is taken");
  for (std::size_t i = 0; i < diary->batches.size() && i < 3; ++i) {
    check_batch(diary->batches[i], deep);
    const auto only = read_diary(text, "diary.jsonl", diary->batches[i].id);
    hold(only && only->batches.size() == 1 && only->lines == diary->lines, "one batch alone is read otherwise");
  }
  if (deep && diary->batches.size() > 1) check_pair(diary->batches[0], diary->batches[1]);
  check_next_line(text, *diary);
}

}  // namespace curdwright::fuzz
