// SPDX-License-Identifier: MIT
// The diary's words, for every page that shows them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/price.hpp"
#include "sheets/amounts.hpp"
#include "sheets/diary.hpp"
#include "sheets/diary_pairs.hpp"

namespace curdwright::sheets {

std::string range_words(const DiaryRow& r, const Kitchen& k) {
  const Amounts say(Units::metric, k);
  if (r.unit == "g") return say.between(grams(*r.low), grams(*r.high));
  return fmt::format("{} to {}", spoken_measure({*r.low, r.unit}, k), spoken_measure({*r.high, r.unit}, k));
}

std::string_view verdict_word(const DiaryRow& r) {
  if (!r.inside) return "";
  if (*r.inside) return "inside";
  return *r.done < *r.low ? "BELOW" : "ABOVE";
}

std::string begun_words(const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  return fmt::format("Begun {} {} ({}), curd made {}.", dated(in.clock.local(b.started_at)), iso(in.clock.local(b.started_at)).substr(11), in.clock.zone, dated(in.clock.local(b.made_at())));
}

std::string made_with_words(const ShowInputs& in) {
  const DiaryStart& s = in.batch.start;
  return fmt::format("Kitchen: {}. Recipe: {}. Program {}, data {}, model {}.", in.kitchen.name, s.recipe_file, s.program, s.data, s.model);
}

std::string seen_words(const Troubles& troubles, const DiarySighting& s) {
  if (const TroubleSight* known = troubles.find({s.what, s.how})) return fmt::format("{} {}: {}", s.what, s.how, known->plain);
  return s.how;
}

std::pair<std::string, std::string> pair_words(const PairGroup& g, const Pair& p, const Kitchen& kitchen) {
  const auto say = [&](const std::optional<double>& v, const std::string& words, bool planned, const std::string& currency) {
    return v ? (!currency.empty() ? fixed(*v, minor_digits(currency)) : g.scores ? score_text(*v) : p.unit == "days" ? age_words(*v) : spoken_measure({*v, p.unit}, kitchen)) + (planned ? "*" : "") : words;
  };
  return {say(p.one, p.one_words, p.one_planned, p.one_currency), say(p.other, p.other_words, p.other_planned, p.other_currency)};
}

std::string score_words(const TasteScale& scale, double score) {
  const bool end = score == 1 || score == 5, middle = score == 3;
  return fmt::format("{}{}", end || middle ? "" : "toward: ", anchor(scale, score));
}

std::string piece_words(const DiaryPiece& p, const Kitchen& k) {
  std::vector<std::string> words;
  const auto mass = [&](double kg) { return spoken_measure({kg * 1e3, "g"}, k); };
  if (p.mass_kg) words.push_back(mass(*p.mass_kg));
  if (p.aged_s) words.push_back((*p.aged_s == 0 ? "" : "aged ") + age_words(*p.aged_s / 86400));
  if (p.frozen) words.emplace_back(*p.frozen ? "frozen" : "never frozen");
  if (p.way) words.emplace_back(word(*p.way));
  if (p.before_kg) words.push_back("before " + mass(*p.before_kg));
  if (p.after_kg) words.push_back("after " + mass(*p.after_kg));
  if (const auto lost = lost_share(p)) words.push_back(fmt::format("{} {} %", *lost < 0 ? "took up" : "lost", fixed(100 * std::abs(*lost), 1)));
  std::string all;
  for (const std::string& w : words) all += (all.empty() ? "" : ", ") + w;
  return all;
}

std::string left_words(const ShowInputs& in, const DiaryLeftover& l) {
  const LeftDays d = left_days(in.batch, l, in.clock, in.on);
  const bool weighed = l.what != LeftKind::coagulant && in.batch.reading(word(l.what));
  const bool reckoned = l.what == LeftKind::coagulant && in.batch.reading("coagulant");
  const auto days = [](int n) { return fmt::format("{} {}", n, n == 1 ? "day" : "days"); };
  std::string age = d.day < 1 ? "not yet" : d.over ? fmt::format("{} old: PAST ITS {} DAYS, throw it out", days(d.day - 1), l.keeps_days) : fmt::format("{} old, keeps {}", days(d.day - 1), l.keeps_days);
  if (d.over && l.what != LeftKind::coagulant && l.what != LeftKind::whey) age += ", unless it was frozen in time";
  std::string words = fmt::format("{}{}; {}.", spoken_measure({in.batch.left_kg(l) * 1e3, "g"}, in.kitchen), weighed ? "" : reckoned ? " by what was poured" : " as planned", age);
  for (const std::string& care : l.care) words += " " + care;
  if (!l.not_again.empty()) words += fmt::format(" Not for another recipe: {}.", l.not_again);
  return words;
}

std::string day_words(const DiaryDays& d) {
  if (d.last_day < 1 && d.begun) return fmt::format("Day {} on {}. This curd may not be kept: what was not eaten on {} is thrown out.", d.day, dated(d.on), dated(d.made));
  if (!d.begun) return fmt::format("Not made yet on {}.", dated(d.on));
  if (d.over) return fmt::format("PAST ITS DAYS: day {} on {}, and the last was day {}, {}. Throw it out; smelling fine proves nothing. Days in a freezer at -18 degC do not count, those before and after do.", d.day, dated(d.on), std::max(1, d.last_day), dated(d.last));
  return fmt::format("Day {} of {} on {}, the making day being day 1: eat it by {}.", d.day, d.last_day, dated(d.on), dated(d.last));
}

namespace {

void add_scores(std::vector<SheetAmount>& to, const std::vector<DiaryScore>& scores, const std::string& whose) {
  for (const TasteScale& scale : all_scales())
    for (const DiaryScore& s : scores)
      if (s.word == scale.word) to.push_back({score_text(s.score) + " of 5", whose + std::string(s.word), score_words(scale, s.score)});
}

void add_notes(std::vector<SheetAmount>& to, const std::vector<DiaryNote>& notes, const std::string& whose) {
  for (const DiaryNote& n : notes) to.push_back({"", whose + n.text, ""});
}

}  // namespace

std::vector<SheetAmount> noted_of(const DiaryBatch& b, const Kitchen& kitchen) {
  std::vector<SheetAmount> all;
  add_scores(all, b.scores, "");
  add_notes(all, b.notes, "");
  for (const DiaryPiece& p : b.pieces) {
    const std::string whose = fmt::format("piece {}: ", p.name), words = piece_words(p, kitchen);
    if (!words.empty()) all.push_back({"", whose + words, ""});
    add_scores(all, p.scores, whose), add_notes(all, p.notes, whose);
  }
  return all;
}

}  // namespace curdwright::sheets
