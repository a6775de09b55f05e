// SPDX-License-Identifier: MIT
#include <algorithm>
#include <nlohmann/json.hpp>

#include "fuzz/fuzz.hpp"
#include "json/document.hpp"
#include "program/report.hpp"

namespace curdwright::fuzz {
namespace {

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (static_cast<unsigned char>(c) & 0x80U) != 0; }

/// Whether a word stands alone in a text: "nan" of "Brennan" is none.
bool stands_alone(std::string_view text, std::string_view word) {
  for (std::size_t at = 0; (at = text.find(word, at)) != std::string_view::npos; ++at) {
    const bool before = at > 0 && is_letter(text[at - 1]), after = at + word.size() < text.size() && is_letter(text[at + word.size()]);
    if (!before && !after) return true;
  }
  return false;
}

bool is_utf8(std::string_view text) {
  // The JSON library's own check: it throws at what is not UTF-8.
  try {
    static_cast<void>(nlohmann::json(std::string(text)).dump());
    return true;
  } catch (const nlohmann::json::exception&) {
    return false;
  }
}

}  // namespace

void check_sentences(const Problems& problems) {
  hold(!problems.empty(), "a refusal without a problem");
  for (const Problem& p : problems) {
    hold(!p.code.empty(), "a problem without a code", p.what);
    hold(p.what.size() > 3, "a problem without a sentence", p.code);
    hold(p.what.size() + p.why.size() + p.fix.size() < 4096, "a problem longer than a screen", p.code);
    hold(p.place.excerpt.size() < 400, "an excerpt that is no excerpt", p.code);
  }
}

void check_problems(const Problems& problems, std::string_view file) {
  check_sentences(problems);
  for (const Problem& p : problems) {
    hold(file.empty() || p.place.file == file, "a problem of another file", p.place.file);
    // A file is too large as a whole; everything else stands somewhere.
    if (!file.empty() && p.code != "file-too-large") hold(p.place.line >= 1 && p.place.column >= 1, "a problem without its place", p.code);
  }
  check_words(program::problems_text(problems, false));
  check_json(program::problems_json(problems));
}

void check_words(std::string_view text) {
  hold(is_utf8(text), "text that is not UTF-8");
  const bool escapes = std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\r'; });
  hold(!escapes, "text with a control character", text.substr(0, 200));
}

void check_numbers(std::string_view text) {
  for (std::string_view word : {"nan", "NaN", "inf", "-inf", "Infinity"}) hold(!stands_alone(text, word), "a number that is none", word);
}

void check_json(std::string_view text) {
  hold(nlohmann::json::accept(text), "JSON that is none", text.substr(0, 200));
}

std::string_view take_line(std::string_view& bytes) {
  const std::size_t end = bytes.find('\n');
  const std::string_view line = bytes.substr(0, end);
  bytes = end == std::string_view::npos ? std::string_view() : bytes.substr(end + 1);
  return line;
}

std::size_t take_choice(std::string_view& bytes, std::size_t n) {
  if (bytes.empty()) return 0;
  const auto choice = static_cast<unsigned char>(bytes.front()) % n;
  bytes.remove_prefix(1);
  return choice;
}

}  // namespace curdwright::fuzz
