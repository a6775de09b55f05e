// SPDX-License-Identifier: MIT
// The longest diaries that are read: within 256 MiB, as the other worst inputs of hungry_test.cpp; and one line more is not taken.
#include <catch2/catch.hpp>
#include <fstream>

#include "cli/run_program.hpp"
#include "diary_lines.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// The start of a real batch, as the program writes it.
DiaryEvent real_start(const Sandbox& box) {
  box.give("tests/cli/files/soy.json", ".");
  const Outcome o = box.run("curdwright diary start soy.json --diary one.jsonl --at '2027-03-05 18:00'");
  REQUIRE(o.status == 0);
  std::string line = read_file((box.work() / "one.jsonl").string());
  line.pop_back();
  const auto event = diary::read_line(line);
  REQUIRE(event.has_value());
  return *event;
}

DiaryEvent with_id(DiaryEvent e, std::size_t number) {
  e.id = "soybean-" + std::to_string(number);
  return e;
}

/// Lines of `event`, each of the batch that it is told, until the diary is as long as may be.
template <class Next>
std::size_t write(const Sandbox& box, Next next) {
  std::ofstream out(box.work() / "d.jsonl", std::ios::binary);
  std::size_t bytes = 0, lines = 0;
  while (true) {
    const std::string line = next(lines) + "\n";
    if (line.size() == 1 || bytes + line.size() > max_diary - 1000) return lines;
    out << line;
    bytes += line.size(), ++lines;
  }
}

/// \returns how many lines: real batches, as many as fit
std::size_t write_real_batches(const Sandbox& box) {
  const DiaryEvent start = real_start(box);
  return write(box, [&](std::size_t i) { return diary::write_line(with_id(start, i + 1), 0); });
}

/// Batches of which as much is told as may be: readings that replace each other.
std::size_t write_talkative_batches(const Sandbox& box) {
  const DiaryEvent start = real_start(box);
  DiaryEvent told = start;
  DiaryAdded added;
  for (const char* word : {"soaked", "pulp", "milk", "curd"}) added.readings.push_back({word, "1.2kg", 1.2, "kg", 1, start.at, false});
  told.what = added;
  std::size_t batch = 0, used = max_batch_lines;
  return write(box, [&](std::size_t) {
    const bool full = used + 1000 > max_batch_lines;
    const std::string line = diary::write_line(with_id(full ? start : told, full ? ++batch : batch), 0);
    used = full ? line.size() : used + line.size();
    return line;
  });
}

/// As many batches as may be, each with nearly nothing in it.
std::size_t write_small_batches(const Sandbox& box) {
  DiaryEvent start = real_start(box);
  start.what = DiaryStart{};
  return write(box, [&](std::size_t i) { return i < max_batches ? diary::write_line(with_id(start, i + 1), 0) : std::string(); });
}

void check(const Sandbox& box, const std::string& command, int status = 0) {
  INFO(command);
  const Outcome o = box.run("ulimit -v 262144; ulimit -t 120; exec curdwright diary " + command + " --diary d.jsonl > out", {.seconds = 600});
  INFO(o.err.substr(0, 400));
  CHECK_FALSE(o.too_slow);
  CHECK(o.status == status);
}

}  // namespace

TEST_CASE("a diary full of batches is shown and exported") {
  const Sandbox box;
  CHECK(write_real_batches(box) > 1000);
  for (const std::string command : {"show soybean-7", "compare soybean-1 soybean-900", "export", "export --format json"}) check(box, command);
  // It is full: what is told next is refused, and what it holds is kept.
  const auto before = fs::file_size(box.work() / "d.jsonl");
  check(box, "start soy.json", 2);
  CHECK(fs::file_size(box.work() / "d.jsonl") == before);
}

TEST_CASE("batches of which ten thousand things are told are shown and exported, and nothing more is told of them") {
  const Sandbox box;
  CHECK(write_talkative_batches(box) > 50'000);
  for (const std::string command : {"list", "show soybean-2", "show soybean-2 --format json", "show soybean-2 --format html", "export", "export --format json"}) check(box, command);
  std::string note;
  for (std::size_t i = 0; i < max_note; ++i) note += "\u00e9";
  check(box, "add soybean-2 'note=" + note + "'", 2);
}

TEST_CASE("a diary of as many batches as may be is exported, and takes no more") {
  const Sandbox box;
  CHECK(write_small_batches(box) == max_batches);
  for (const std::string command : {"export", "export --format json"}) check(box, command);
  check(box, "start soy.json", 2);
}

TEST_CASE("a diary that holds more than may be is refused at its place, whoever wrote it") {
  const Sandbox box;
  DiaryEvent start = real_start(box);
  DiaryEvent told = start;
  told.what = DiaryAdded{{}, {}, {}, std::string(1000, 'x')};
  std::string text = diary::write_line(start, 0) + "\n";
  const std::size_t lines_at_most = max_batch_lines / 1000;
  for (std::size_t i = 0; i < lines_at_most; ++i) text += diary::write_line(told, 0) + "\n";
  const auto diary = read_diary(text, "d.jsonl");
  REQUIRE_FALSE(diary.has_value());
  REQUIRE(diary.error().size() == 1);
  CHECK(diary.error()[0].code == "diary-full");
  CHECK(diary.error()[0].place.line > 1000);
  CHECK(read_diary(text.substr(0, max_batch_lines / 2), "d.jsonl").has_value());
}
