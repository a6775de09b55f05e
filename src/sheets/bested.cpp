// SPDX-License-Identifier: MIT
#include "sheets/bested.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "sheets/schema_words.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

using Json = nlohmann::ordered_json;

std::string gain_words(double now, double then) {
  const double percent = 100 * (then / now - 1);
  return fmt::format("{}{} %", percent < 0 ? "-" : "+", fixed(std::abs(percent), std::abs(percent) < 10 ? 1 : 0));
}

void rows(std::string& out, const std::vector<std::array<std::string, 3>>& all) {
  int first = 0, second = 0;
  for (const auto& r : all) first = std::max(first, text::width(r[0])), second = std::max(second, text::width(r[1]));
  for (const auto& r : all) {
    std::string line = "  " + text::padded(r[0], first) + "  " + text::padded(r[1], second) + "  " + r[2];
    while (line.ends_with(' ')) line.pop_back();
    out += line + "\n";
  }
}

std::string limit_words(const Relaxed& r, const std::string& currency) {
  if (r.response) return said(*r.response, r.to, currency);
  return said_number(r.to) + (r.unit.empty() ? "" : " " + r.unit);
}

void write_limits(std::string& out, const Question& q, const Answer& a, const std::string& currency, int width) {
  if (a.relaxed.empty()) {
    if (a.whole) out += "\nNo condition and no end of the room holds it back: what lies beyond is no better, or a rule stops it.\n";
    return;
  }
  out += "\nWhat holds it back, and what giving way would bring\n";
  for (const Relaxed& r : a.relaxed)
    out += text::hung("  * ", fmt::format("{}: at {} the aim comes to {} ({})", text::harmless(r.what), limit_words(r, currency), said(*q.aim.response, r.aim, currency), gain_words(a.aim, r.aim)), width);
}

/// Times as hours, like the aim itself; other figures without the unit, which the aim has named.
std::string in_words(const Response& r, double v) { return r.key.ends_with("_s") ? said(r, v, "") : said_number(v * r.to_unit); }

}  // namespace

std::string answer_text(const Question& q, const Answer& a, const std::string& command, int width) {
  const std::string& currency = a.batch.setup.kitchen.currency;
  const Response& aim = *q.aim.response;
  std::string out = fmt::format("{} {}: {}{}\n", q.aim.most ? "Most" : "Least", aim.plain, said(aim, a.aim, currency), a.range ? fmt::format(" ({} to {} is likely)", in_words(aim, a.range->low), in_words(aim, a.range->high)) : "");
  if (a.as_it_stands) out += fmt::format("As the recipe stands: {} ({})\n", said(aim, *a.as_it_stands, currency), gain_words(*a.as_it_stands, a.aim));
  out += "\n";
  std::vector<std::array<std::string, 3>> chosen, kept;
  for (std::size_t i = 0; i < q.let.size(); ++i) chosen.push_back({q.let[i].pointer, text::harmless(a.settings[i].substr(q.let[i].pointer.size() + 1)), "of " + text::harmless(q.let[i].text)});
  rows(out, chosen);
  if (!q.keep.empty()) out += "\n";
  for (std::size_t i = 0; i < q.keep.size(); ++i) kept.push_back({text::harmless(q.keep[i].text), said(*q.keep[i].response, a.kept[i], currency), a.binds[i] ? "kept, and holds it back" : "kept"});
  rows(out, kept);
  write_limits(out, q, a, currency, width);
  out += "\n";
  if (!a.whole) out += "Stopped before the end of the search: this is the best so far.\n";
  out += text::hung("", fmt::format("{} plans were looked at; the figures are those of the sheet, medians of estimates. Its recipe:", a.plans), width);
  out += "  " + text::harmless(command);
  for (const std::string& setting : a.settings) out += " --set " + text::harmless(text::shell_word(setting));
  return out + "\n";
}

std::string answer_json(const Question& q, const Answer& a) {
  Json j = {{"schema", "curdwright.best/1"}, {"aim", {{"key", q.aim.response->key}, {"most", q.aim.most}}}, {"settings", a.settings}, {"currency", a.batch.setup.kitchen.currency}};
  j["aim"]["value"] = number(a.aim);
  if (a.range) j["aim"]["low"] = number(a.range->low), j["aim"]["high"] = number(a.range->high);
  if (a.as_it_stands) j["aim"]["as_it_stands"] = number(*a.as_it_stands);
  j["conditions"] = Json::array();
  for (std::size_t i = 0; i < q.keep.size(); ++i) j["conditions"].push_back({{"text", q.keep[i].text}, {"key", q.keep[i].response->key}, {"value", number(a.kept[i])}, {"limit", number(q.keep[i].limit)}, {"binds", static_cast<bool>(a.binds[i])}});
  j["relaxed"] = Json::array();
  for (const Relaxed& r : a.relaxed) j["relaxed"].push_back({{"what", r.what}, {"to", number(r.to)}, {"aim", number(r.aim)}});
  j["plans_count"] = a.plans;
  j["whole"] = a.whole;
  return printed(j, Layout::page);
}

std::string answer_schema() {
  using namespace schema;
  const Json aim = closed({{"key", text()}, {"most", flag()}, {"value", number()}, {"low", number()}, {"high", number()}, {"as_it_stands", number()}}, {"key", "most", "value"});
  const Json condition = closed({{"text", text()}, {"key", text()}, {"value", number()}, {"limit", number()}, {"binds", flag()}}, {"text", "key", "value", "limit", "binds"});
  const Json relaxed = closed({{"what", text()}, {"to", number()}, {"aim", number()}}, {"what", "to", "aim"});
  return document("best", "Settings with which a recipe does best", {{"aim", aim}, {"settings", list_of(text())}, {"currency", text()}, {"conditions", list_of(condition)}, {"relaxed", list_of(relaxed)}, {"plans_count", whole()}, {"whole", flag()}},
                  {"aim", "settings", "currency", "conditions", "relaxed", "plans_count", "whole"});
}

}  // namespace curdwright::sheets
