// SPDX-License-Identifier: MIT
// Reads tests/cli/*.transcript: what a user types, and all that comes back. The format is told in README.md beside it.
#pragma once

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace curdwright::test {

/// What is due on one of the two streams.
struct Due {
  std::vector<std::string> whole;         ///< lines that are the whole text, in order
  std::vector<std::string> holds, lacks;  ///< texts that must, or must not, stand in it
  [[nodiscard]] bool in_part() const { return !holds.empty() || !lacks.empty(); }
};

struct Case {
  std::string file, title, script, awaits;
  int line = 0, status = -1;
  Due out, err;
  RunAs as;
};

struct Transcript {
  std::vector<Case> cases;
  std::vector<std::string> faults;  ///< of the transcript itself
};

namespace transcript_detail {

inline bool take(std::string& line, std::string_view mark) {
  if (line.rfind(mark, 0) != 0) return false;
  line.erase(0, mark.size());
  return true;
}

inline void read_due(Due& due, std::string line) {
  if (take(line, "+ "))
    due.holds.push_back(line);
  else if (take(line, "- "))
    due.lacks.push_back(line);
  else if (line.empty() || take(line, " "))
    due.whole.push_back(line);
  else
    due.whole.push_back("(a line of the transcript that cannot be read) " + line);
}

inline bool read_note(Case& c, std::string line) {
  if (line == "nobody") return c.as.nobody = true;
  if (take(line, "seconds ")) return (c.as.seconds = std::atoi(line.c_str())) > 0;
  if (take(line, "awaits ")) return !(c.awaits = line).empty();
  return false;
}

}  // namespace transcript_detail

inline Transcript read_transcript(const std::string& name, const std::string& text) {
  using transcript_detail::take;
  Transcript t;
  std::istringstream in(text);
  std::string line;
  const auto fault = [&](int number, const std::string& what) { t.faults.push_back(name + ":" + std::to_string(number) + ": " + what); };
  bool open = false;
  for (int number = 1; std::getline(in, line); ++number) {
    if (line.empty() || line[0] == '#') continue;
    if (take(line, "== ")) {
      if (open) fault(number, "the case before has no status line");
      t.cases.emplace_back();
      t.cases.back().file = name, t.cases.back().title = line, t.cases.back().line = number;
      open = true;
      continue;
    }
    if (!open) {
      fault(number, "outside a case: " + line);
      continue;
    }
    Case& c = t.cases.back();
    if (take(line, "$ "))
      c.script += (c.script.empty() ? "" : "\n") + line;
    else if (take(line, "@ ")) {
      if (!transcript_detail::read_note(c, line)) fault(number, "not a note: " + line);
    } else if (take(line, ">"))
      transcript_detail::read_due(c.out, line);
    else if (take(line, "!"))
      transcript_detail::read_due(c.err, line);
    else if (take(line, "= ")) {
      c.status = std::atoi(line.c_str());
      open = false;
      if (c.script.empty()) fault(number, "a case without a command");
      for (const Due* d : {&c.out, &c.err})
        if (!d->whole.empty() && d->in_part()) fault(number, "a stream is told both whole and in part");
    } else {
      fault(number, "cannot be read: " + line);
    }
  }
  if (open) fault(t.cases.back().line, "the last case has no status line");
  return t;
}

/// Empty when the text is as due; else both texts, whole.
inline std::string difference(std::string_view stream, const Due& due, const std::string& got) {
  std::string wanted;
  bool same = true;
  if (due.in_part()) {
    for (const std::string& h : due.holds) {
      const bool is = got.find(h) != std::string::npos;
      same = same && is;
      wanted += (is ? "  has:      " : "  MISSING:  ") + h + "\n";
    }
    for (const std::string& l : due.lacks) {
      const bool is = got.find(l) != std::string::npos;
      same = same && !is;
      wanted += (is ? "  TOO MUCH: " : "  has not:  ") + l + "\n";
    }
  } else {
    for (const std::string& l : due.whole)
      wanted += l + "\n";
    same = wanted == got;
  }
  if (same) return "";
  return "--- " + std::string(stream) + ", due:\n" + wanted + "--- " + std::string(stream) + ", got:\n" + got;
}

inline std::string difference(const Case& c, const Outcome& o) {
  std::string all;
  if (o.too_slow) all += "--- ran longer than " + std::to_string(c.as.seconds) + " s and was killed\n";
  all += difference("standard output", c.out, o.out) + difference("standard error", c.err, o.err);
  if (o.status != c.status) all += "--- status, due: " + std::to_string(c.status) + ", got: " + std::to_string(o.status) + "\n";
  // Whoever reads a wrong status wants to see what was said.
  if (!all.empty() && all.find("standard error, got") == std::string::npos && !o.err.empty()) all += "--- standard error was as due:\n" + o.err;
  return all;
}

/// All transcripts in the folder, in the order of the names.
inline std::vector<Transcript> read_all_transcripts() {
  std::vector<fs::path> paths;
  for (const auto& e : fs::directory_iterator(std::string(CURDWRIGHT_SOURCE_DIR) + "/tests/cli"))
    if (e.path().extension() == ".transcript") paths.push_back(e.path());
  std::sort(paths.begin(), paths.end());
  std::vector<Transcript> all;
  for (const fs::path& p : paths)
    all.push_back(read_transcript(p.filename().string(), read_file(p.string())));
  return all;
}

/// Read once: a test case with sections runs from its beginning for each of them.
inline const std::vector<Transcript>& all_transcripts() {
  static const std::vector<Transcript> all = read_all_transcripts();
  return all;
}

}  // namespace curdwright::test
