// SPDX-License-Identifier: MIT
// From any recipe, kitchen and options to the sheet in every form, through the program's own command.
#include <array>
#include <nlohmann/json.hpp>

#include "curdwright/line.hpp"
#include "fuzz/fuzz.hpp"
#include "fuzz/world.hpp"
#include "program/answers.hpp"
#include "program/runs.hpp"

namespace curdwright::fuzz {
namespace {

constexpr std::string_view divider = "\n====\n";

/// The part before the next divider; the rest stays.
std::string take_part(std::string_view& bytes) {
  const auto end = bytes.find(divider);
  std::string part(bytes.substr(0, end));
  bytes = end == std::string_view::npos ? std::string_view() : bytes.substr(end + divider.size());
  return part;
}

struct Choice {
  std::string_view option, value;
};
/// A letter of the first line picks one of these.
constexpr std::array<Choice, 32> choices = {{
    {"--format", "text"}, {"--format", "json"}, {"--format", "html"}, {"--format", "markdown"}, {"--format", "jsonld"}, {"--format", "csv"}, {"--format", "ics"},
    {"--units", "us"}, {"--ranges", "fast"}, {"--blocks", "6"}, {"--curd", "2 kg"}, {"--dry", "500 g"}, {"--dry", "10 g"}, {"--dry", "1000 kg"}, {"--protein", "200 g"},
    {"--fill", ""}, {"--sure", "80%"}, {"--start", "2027-03-27 20:00"}, {"--ready-by", "2027-10-31 12:00"}, {"--start", "1970-01-01 00:00"}, {"--width", "40"},
    {"--measured", "soaked=1140 g"}, {"--measured", "milk=4.2 l"}, {"--measured", "pulp=700g"}, {"--measured", "soak-time=14h"}, {"--measured", "curd=900 g"},
    {"--seen", "whey=milky"}, {"--seen", "curd=custard"}, {"--set", "/kitchen/altitude=4500 m"}, {"--set", "/kitchen/time_zone=Europe/Berlin"}, {"--price", "soybean=3.10/kg"}, {"--color", "always"}}};

program::Request request_of(std::string_view letters) {
  program::Request r;
  r.command = "sheet";
  r.words = {"recipe.json"};
  r.values["--ranges"] = {"off"};  // they take ten times as long as the rest
  for (const char letter : letters.substr(0, 8)) {
    const Choice& c = choices[static_cast<unsigned char>(letter) % choices.size()];
    auto& values = r.values[std::string(c.option)];
    const bool repeats = c.option == "--measured" || c.option == "--seen" || c.option == "--set" || c.option == "--price";
    if (!repeats) values.clear();
    values.emplace_back(c.value);
  }
  return r;
}

/// Words of the user's that look like a number that is none would be found in the answer.
bool tells_of_numbers(const World& w) {
  for (const auto& [name, text] : w.files)
    for (std::string_view word : {"nan", "NaN", "inf", "Inf", "\\u"})
      if (text.find(word) != std::string::npos) return false;
  return true;
}

void check_output(const std::string& format, const std::string& out) {
  if (tells_of_numbers(world())) check_numbers(out);
  if (format == "json" || format == "jsonld") check_json(out);
  // It may stand in a script element of a page.
  if (format == "jsonld") hold(out.find('<') == std::string::npos, "markup in JSON-LD");
  if (format == "html") return check_page(out);
  if (format == "ics") hold(out.starts_with("BEGIN:VCALENDAR\r\n") && out.ends_with("END:VCALENDAR\r\n"), "a calendar without an end");
  hold(out.find('\0') == std::string::npos, "a zero byte in the answer");
}

void check_status(int status, const World& w) {
  hold(status == program::done || status == program::answer_is_no || status == program::bad_input, "a status that no input asks for");
  hold(status != program::done || !w.out.empty(), "done, and nothing is said");
  hold(status != program::bad_input || (w.out.empty() && !w.err.empty()), "refused without a word");
  hold(w.written_files == 0, "a file that nobody wanted");
}

}  // namespace

void check_page(std::string_view html) {
  hold(html.starts_with("<!doctype html>") || html.starts_with("<!DOCTYPE html>"), "a page that is none", html.substr(0, 40));
  for (std::string_view word : {"<script", "<iframe", "<object", "=\"javascript:"}) hold(html.find(word) == std::string_view::npos, "a page that a browser would run", word);
}

void try_each(std::string_view bytes) {
  static const Catalogue catalogue = Catalogue::shipped();
  static const Lines lines({}, catalogue);
  std::string line = take_part(bytes);
  const LineAnswer a = lines.answer(line, 7);
  hold(a.text.find('\n') == std::string::npos, "an answer on two lines");
  check_json(a.text);
  hold(a.text == lines.answer(line, 7).text, "an answer that differs the second time");
}

void try_sheet(std::string_view bytes) {
  const std::string letters = take_part(bytes), recipe = take_part(bytes), kitchen = take_part(bytes);
  World& w = world();
  w = {};
  w.files["recipe.json"] = recipe;
  program::Request r = request_of(letters);
  if (!kitchen.empty()) w.files["kitchen.json"] = kitchen, r.values["--kitchen"] = {"kitchen.json"};
  const int status = program::run_sheet(r);
  check_status(status, w);
  const std::string format = r.value("--format").value_or("text");
  if (!w.out.empty()) check_output(format, w.out);
  // Of problems, and of a calendar that is refused, people are told in words.
  if (!w.err.empty() && format == "json") check_json(w.err);
}

}  // namespace curdwright::fuzz
