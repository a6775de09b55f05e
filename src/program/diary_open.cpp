// SPDX-License-Identifier: MIT
#include "program/diary_open.hpp"

#include <fmt/format.h>

#include <chrono>

#include "program/answers.hpp"
#include "program/diary_file.hpp"
#include "program/files.hpp"
#include "program/zones.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Instant now() { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

/// Of a kitchen without a zone, or whose zone this machine does not know, the clock shows UTC.
sheets::DiaryClock clock_of(const Kitchen& k) {
  if (!k.time_zone.empty())
    if (auto zone = find_zone(k.time_zone)) return {[z = std::move(*zone)](Instant at) { return to_local(z, at).time; }, k.time_zone};
  return {[](Instant at) { return from_clock(std::chrono::local_seconds(at.time_since_epoch())); }, "UTC"};
}

}  // namespace

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

Result<LocalTime> told_on(const Request& r, const sheets::DiaryClock& clock) {
  const auto text = r.value("--on");
  if (!text) return clock.local(now());
  auto time = read_local_time(*text + " 12:00", "--on");
  if (!time)
    return fail(usage(fmt::format("--on cannot be {}", text::quoted(*text)), "it is a date, of the years 1970 to 2200", "for example --on 2027-03-08"));
  return *time;
}

Result<Diary> diary_at(const std::string& path, Missing missing, std::optional<std::string_view> only) {
  if (missing == Missing::is_wrong && !file_is_there(path))
    return fail(Problem{"file", {.file = path}, "there is no such diary", "", "begin one with `curdwright diary start RECIPE`, or name another with --diary"});
  const auto text = read_diary_text(path);
  if (!text) return fail(text.error());
  return read_diary(*text, path, only);
}

Result<Diary> whole_diary(const Request& r, std::optional<std::string_view> only) {
  const auto path = diary_path(r);
  if (!path) return fail(path.error());
  // A diary that is named is meant to be there; the standard one may not have begun.
  auto diary = diary_at(*path, r.has("--diary") ? Missing::is_wrong : Missing::is_empty, only);
  if (diary) warn(r, diary->warnings);
  return diary;
}

Opened opened(DiaryBatch batch) {
  // Texts that an older version accepted may be refused today; then the built-in kitchen shows it.
  auto inputs = read_inputs(texts_of(batch));
  Kitchen kitchen = inputs ? std::move(inputs->kitchen) : default_kitchen();
  sheets::DiaryClock clock = clock_of(kitchen);
  return {std::move(batch), std::move(kitchen), std::move(clock)};
}

Result<Opened> open_batch(const Request& r, const std::string& id) {
  const auto diary = whole_diary(r, id);
  if (!diary) return fail(diary.error());
  auto batch = find_batch(*diary, id);
  if (!batch) return fail(batch.error());
  return opened(std::move(*batch));
}

Named named(const std::string& word) {
  const auto colon = word.find(':');
  return colon == std::string::npos ? Named{word, ""} : Named{word.substr(0, colon), word.substr(colon + 1), true};
}

Problem no_piece(const DiaryBatch& b, const std::string& name) {
  std::vector<std::string_view> known;
  for (const DiaryPiece& p : b.pieces) known.push_back(p.name);
  const std::string near = text::suggest(name, known);
  return {"diary-id", {}, fmt::format("{} has no piece \"{}\"", b.id, text::harmless(text::cut(name, 40))), "", near.empty() ? fmt::format("tell of it first: curdwright diary piece {} A mass=310g", b.id) : near};
}

}  // namespace curdwright::program
