// SPDX-License-Identifier: MIT
// A diary in memory, for tests of what is told in one.
#pragma once

#include "curdwright/calendar.hpp"
#include "curdwright/diary.hpp"
#include "support/support.hpp"

namespace curdwright::test {

inline const char* const soy = R"({"legume": "soybean", "want": {"blocks": 4}})";

inline Instant at(int minute) { return Instant(std::chrono::seconds(1'804'269'600 + 60 * minute)); }

inline const DiaryStart& start() {
  static const DiaryStart s = start_of(batch_of(soy), {soy, "soy.json", std::nullopt, "", {}, {}});
  return s;
}

/// A diary that grows as the program's does.
struct Book {
  std::string text;
  Book& tell(DiaryEvent e) {
    text += must(line_after(text, e));
    return *this;
  }
  Book& begin(const std::string& id) { return tell({at(0), id, start()}); }
  Book& weigh(const std::string& id, std::string word, double kg, int minute) {
    return tell({at(minute), id, DiaryAdded{{{std::move(word), "told", kg, "kg", 1, {}, false}}, {}, {}, ""}});
  }
  [[nodiscard]] Diary read() const { return must(read_diary(text, "d.jsonl")); }
  [[nodiscard]] Problems fault() const {
    const auto d = read_diary(text, "d.jsonl");
    return d ? Problems{} : d.error();
  }
};

}  // namespace curdwright::test
