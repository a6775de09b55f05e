// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <thread>

#include "curdwright/line.hpp"
#include "parallel.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
#include "program/choices.hpp"
#include "program/files.hpp"
#include "program/line_reader.hpp"
#include "program/planning.hpp"

namespace curdwright::program {
namespace {

constexpr int most_threads = 256;

Result<LineOptions> line_options(const Request& r, const std::string& path) {
  const auto depth = depth_of(r);
  if (!depth) return fail(depth.error());
  const auto texts = with_options(r, "", "");
  if (!texts) return fail(texts.error());
  LineOptions o{path == "-" ? "standard input" : path, texts->kitchen, texts->kitchen_file, texts->set, texts->want, *depth, {}};
  if (!r.has("--figures")) return o;
  auto responses = responses_of(r, {});
  if (!responses) return fail(responses.error());
  o.responses = std::move(*responses);
  return o;
}

/// Answers to some lines, in their order, by so many threads.
std::vector<LineAnswer> answers_to(const std::vector<std::string>& lines, std::size_t first_number, const Lines& answerer, int threads) {
  std::vector<LineAnswer> all(lines.size());
  for_each_on(static_cast<std::size_t>(threads), lines.size(), [&](std::size_t i) {
    if (!stop_asked()) all[i] = answerer.answer(lines[i], first_number + i);
  });
  return all;
}

/// The answers that were made, up to the first that was not: after an interrupt no line stands out of its order.
void join(const std::vector<LineAnswer>& answers, std::string& out) {
  out.clear();
  for (const LineAnswer& a : answers) {
    if (a.text.empty()) break;
    out += a.text;
    out += '\n';
  }
}

}  // namespace

int run_each(const Request& r) {
  const std::string path = r.words.empty() ? "-" : r.words[0];
  int threads = 1;
  if (r.has("--threads")) {
    const auto n = count_option(r, "--threads", 1, most_threads);
    if (!n) return report(r, n.error());
    threads = *n;
  }
  const auto options = line_options(r, path);
  if (!options) return report(r, options.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const Lines answerer(*options, *catalogue);
  if (!answerer.problems().empty()) return report(r, answerer.problems());
  auto reader = LineReader::open(path);
  if (!reader) return report(r, reader.error());
  stop_when_asked();
  std::size_t number = 1;
  bool good = true;
  std::string out;  // its room is used again and again
  while (true) {
    const auto lines = reader->next();
    if (!lines) return report(r, lines.error());
    if (lines->empty()) break;
    const auto answers = answers_to(*lines, number, answerer, threads);
    number += lines->size();
    for (const LineAnswer& a : answers) good = good && a.good;
    join(answers, out);
    const auto read_on = write_on(out);
    if (!read_on) return report(r, read_on.error());
    if (!*read_on) return good ? done : answer_is_no;
    if (stop_asked()) break;
  }
  return stop_asked() ? interrupted : good ? done : answer_is_no;
}

}  // namespace curdwright::program
