// SPDX-License-Identifier: MIT
#include "sheets/learned.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "quantiles.hpp"
#include "sheets/amounts.hpp"
#include "sheets/corrected.hpp"
#include "sheets/json_values.hpp"
#include "sheets/schema_words.hpp"
#include "sheets/measures.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

constexpr std::size_t most_told = 12;
/// A gain that is told of.
constexpr double worth_gain = 0.005;
/// Fewer batches than this say little: judgement.
constexpr int few_batches = 3;

std::string sentence(const Finding& f) {
  const std::string now = param_amount(f.param, f.now), books = param_amount(f.param, f.books);
  const std::string likely = fmt::format("{} to {}", param_amount(f.param, f.low), param_amount(f.param, f.high));
  switch (f.param) {
    case Param::held_liquor: return fmt::format("Your straining ({}) leaves {:.2f} kg of liquid in the pulp per kg of its solids ({:.2f} to {:.2f}), books say {:.2f}.", f.whose, f.now, f.low, f.high, f.books);
    case Param::hob_efficiency: return fmt::format("Of your hob's heat ({}) {} reaches the milk ({}), books say {}.", f.whose, now, likely, books);
    case Param::evaporated_per_10_min: return fmt::format("Your pot boils off {} in ten minutes ({}), books say {}.", now, likely, books);
    case Param::heel: return fmt::format("You leave {} of the milk behind with the starch ({}), books say {}.", now, likely, books);
    case Param::spill: return fmt::format("{} of the ground beans stays on jar and bucket ({}), books say {}.", now, likely, books);
    case Param::curd_cling: return fmt::format("{} of the curd stays in cloth and mould ({}), books say {}.", now, likely, books);
    case Param::drip: return fmt::format("Your curd drips {} on its first day ({}), books say {}.", now, likely, books);
    default: break;
  }
  std::string what(info(f.param).plain);
  what[0] = static_cast<char>(what[0] >= 'a' && what[0] <= 'z' ? what[0] - 'a' + 'A' : what[0]);
  return fmt::format("{}{}: {} here ({}), books say {}.", what, f.whose.empty() ? "" : fmt::format(" ({})", f.whose), now, likely, books);
}

class Lines {
 public:
  void line(std::string_view s = "") { out_ += std::string(s) + "\n"; }
  void block(std::string_view lead, std::string_view words) { out_ += text::hung(lead, words, 79); }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

std::string percent(double share) { return fixed(100 * share, share < 0.0995 ? 1 : 0) + " %"; }

void write_head(Lines& out, const Lesson& l, std::span<const Taught> taught) {
  const Learned& k = l.learned;
  out.line(fmt::format("Learned from {} with {}.", many(k.batches, "batch", "batches"), many(k.readings, "reading", "readings")));
  if (k.batches == 0) return out.block("", "There is nothing to learn from yet: no batch has a reading of what came out that can be used. Weigh soaked seed, pulp, milk and curd, and note them with `curdwright diary add`.");
  if (k.batches < few_batches) out.block("", fmt::format("{} little: not much is changed. From about {} on it is worth relying on.", k.batches == 1 ? "One batch says" : "So few batches say", few_batches));
  if (!l.converged) out.block("", "The fit did not come quite to rest; look at the readings that do not go with the rest.");
  const Open open = open_curd(taught.back().batch.setup, l);
  out.block("", fmt::format("The likely range of the curd's mass was {} either way, and is now {}; what differs from batch to batch comes on top.", percent(std::expm1(z90 * open.before)), percent(std::expm1(z90 * open.now))));
}

void write_findings(Lines& out, const std::vector<Finding>& all, int batches) {
  if (all.empty()) return;
  out.line();
  out.line(fmt::format("THIS KITCHEN, {} (likely range in brackets)", many(batches, "BATCH", "BATCHES")));
  const Kitchen plain;
  const Amounts say(Units::metric, plain);
  for (std::size_t i = 0; i < std::min(most_told, all.size()); ++i) out.block("  * ", say.in_units(sentence(all[i])));
  if (all.size() > most_told) out.line(fmt::format("  and {} more, in the JSON answer", all.size() - most_told));
}

std::string told_by(const Reading& r) { return text::harmless(text::cut(r.told, 40)); }

std::string expected_words(const Suspect& s) {
  const Kitchen plain;
  const Amounts say(Units::metric, plain);
  const Measurable& what = *s.reading->what;
  return what.kind == QuantityKind::mass ? say.about(kilograms(s.expected_si)) : spoken_measure(measure_of(what, s.expected_si), say);
}

void write_suspects(Lines& out, const std::vector<Suspect>& all, const std::vector<BatchGain>& gains) {
  if (!gains.empty()) out.line(), out.line("MORE CAME OUT THAN WENT IN");
  for (const BatchGain& g : gains) out.block("  * ", fmt::format("{}: {}", g.batch, gain_words(g.gain)));
  if (all.empty()) return;
  out.line();
  out.line("READINGS THAT DO NOT GO WITH THE REST (counted for little or nothing)");
  for (const Suspect& s : all) {
    const std::string slip = slip_words(s.slip);
    out.block("  * ", fmt::format("{}: {}={}, about {} was to be expected. {}", s.batch, s.reading->what->word, told_by(*s.reading), expected_words(s), slip.empty() ? "Look at the scale and the notes." : slip));
  }
}

void write_weights(Lines& out, const Lesson& l, std::span<const Taught> taught) {
  out.line();
  out.line("EACH BATCH            share of what was learned   readings, those that count");
  for (std::size_t b = 0; b < taught.size(); ++b) {
    double count = 0;
    for (const Residual& s : l.batches[b].residuals) count += s.weight;
    out.line(fmt::format("  {}{}{}", text::padded(taught[b].batch.id, 20), text::padded_left(percent(l.batches[b].pull), 14), text::padded_left(fmt::format("{}, {}", taught[b].readings.size(), fixed(count, 1)), 25)));
    for (std::size_t i = 0; i < taught[b].readings.size(); ++i) {
      const Residual& s = l.batches[b].residuals[i];
      if (s.weight == 0 || (s.weight > 0.9 && std::abs(s.surprise) < 2)) continue;
      out.block("      ", fmt::format("{}={}: weight {}, {} standard deviations {} what the rest expects", taught[b].readings[i].what->word, told_by(taught[b].readings[i]), fixed(s.weight, 2), fixed(std::abs(s.surprise), 1), s.surprise > 0 ? "above" : "below"));
    }
  }
}

std::string worth_words(const Worth& w) { return fmt::format("{}: {}", w.word, w.about); }

void write_worth(Lines& out, std::string_view heading, const std::vector<Worth>& all, std::size_t most) {
  out.line();
  out.block("", heading);
  std::size_t told = 0;
  for (std::size_t i = 0; i < all.size() && told < most; ++i) {
    if (all[i].gain < worth_gain) continue;
    ++told;
    out.block(fmt::format("  {}{}   ", text::padded_left(percent(all[i].gain), 8), text::padded_left(all[i].minutes < 1 ? "no work" : fmt::format("{} min", fixed(all[i].minutes, 0)), 10)), worth_words(all[i]));
  }
  if (told == 0) out.block("  ", fmt::format("nothing: each makes it less than {} surer", percent(worth_gain)));
}

/// What the last batch was measured by, or all that can be.
std::vector<Observation> usual_readings(std::span<const Taught> taught) { return taught.empty() ? std::vector<Observation>{} : taught.back().batch.seen; }

nlohmann::ordered_json worth_json(const std::vector<Worth>& all) {
  auto list = nlohmann::ordered_json::array();
  for (const Worth& w : all) list.push_back({{"word", w.word}, {"what", w.about}, {"gain_fraction", number(w.gain)}, {"work_s", number(60 * w.minutes)}});
  return list;
}

}  // namespace

std::string learned_text(const Lesson& l, std::span<const Taught> taught, const LearnedPage& page) {
  Lines out;
  write_head(out, l, taught);
  write_findings(out, findings(l, taught), l.learned.batches);
  write_suspects(out, suspects(l, taught), mass_gains(l, taught));
  if (!page.left_out.empty()) out.line(), out.line("LEFT OUT");
  for (const std::string& why : page.left_out) out.block("  * ", why);
  if (page.explain && !taught.empty()) write_weights(out, l, taught);
  if (page.next && !taught.empty()) {
    const Setup& next = taught.back().batch.setup;
    write_worth(out, "WORTH MEASURING NEXT, each by itself (how much surer the curd's mass; most for the work first)", worth_measuring(next, l), 8);
    write_worth(out, "WORTH TRYING NEXT, measured as the last batch was (how much surer what it does to the curd)", worth_changing(next, l, usual_readings(taught)), 5);
  }
  return out.take();
}

std::string learned_json(const Lesson& l, std::span<const Taught> taught, const LearnedPage& page) {
  using Json = nlohmann::ordered_json;
  Json j = {{"schema", "curdwright.lesson/1"}, {"batches_count", l.learned.batches}, {"readings_count", l.learned.readings}, {"converged", l.converged}};
  if (l.learned.batches > 0) {
    const Open open = open_curd(taught.back().batch.setup, l);
    j["curd_open"] = {{"before_fraction", number(std::expm1(z90 * open.before))}, {"now_fraction", number(std::expm1(z90 * open.now))}};
  }
  j["findings"] = Json::array();
  for (const Finding& f : findings(l, taught)) {
    const double unit = 1 / info(f.param).to_si;
    Json row = {{"parameter", info(f.param).key}, {"plain", info(f.param).plain}};
    if (!f.whose.empty()) row["whose"] = f.whose;
    row.update({{"unit", info(f.param).unit}, {"now", number(f.now * unit)}, {"low", number(f.low * unit)}, {"high", number(f.high * unit)}, {"books", number(f.books * unit)}, {"text", sentence(f)}});
    j["findings"].push_back(std::move(row));
  }
  j["suspects"] = Json::array();
  for (const Suspect& s : suspects(l, taught)) j["suspects"].push_back({{"batch", s.batch}, {"word", s.reading->what->word}, {"told", told_by(*s.reading)}, {"expected", expected_words(s)}, {"weight_fraction", number(s.weight)}, {"slip", slip_words(s.slip)}});
  j["gains"] = Json::array();
  for (const BatchGain& g : mass_gains(l, taught)) j["gains"].push_back({{"batch", g.batch}, {"readings", g.gain.readings}, {"excess_fraction", number(g.gain.share)}});
  j["left_out"] = page.left_out;
  if (page.explain) {
    j["weights"] = Json::array();
    for (std::size_t b = 0; b < taught.size(); ++b) {
      Json batch = {{"batch", taught[b].batch.id}, {"share_fraction", number(l.batches[b].pull)}, {"readings", Json::array()}};
      for (std::size_t i = 0; i < taught[b].readings.size(); ++i) batch["readings"].push_back({{"word", taught[b].readings[i].what->word}, {"weight_fraction", number(l.batches[b].residuals[i].weight)}, {"surprise_spreads", number(l.batches[b].residuals[i].surprise)}});
      j["weights"].push_back(std::move(batch));
    }
  }
  if (page.next && !taught.empty()) j["next"] = {{"measure", worth_json(worth_measuring(taught.back().batch.setup, l))}, {"change", worth_json(worth_changing(taught.back().batch.setup, l, usual_readings(taught)))}};
  return shortened(j.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

std::string lesson_schema() {
  using schema::closed, schema::list_of, schema::Json;
  const Json text = schema::text(), number = schema::number(), whole = schema::whole();
  const Json finding = closed({{"parameter", text}, {"plain", text}, {"whose", text}, {"unit", text}, {"now", number}, {"low", number}, {"high", number}, {"books", number}, {"text", text}}, {"parameter", "plain", "unit", "now", "low", "high", "books", "text"});
  const Json suspect = closed({{"batch", text}, {"word", text}, {"told", text}, {"expected", text}, {"weight_fraction", number}, {"slip", text}}, {"batch", "word", "told", "expected", "weight_fraction", "slip"});
  const Json gain = closed({{"batch", text}, {"readings", text}, {"excess_fraction", number}}, {"batch", "readings", "excess_fraction"});
  const Json reading = closed({{"word", text}, {"weight_fraction", number}, {"surprise_spreads", number}}, {"word", "weight_fraction", "surprise_spreads"});
  const Json weight = closed({{"batch", text}, {"share_fraction", number}, {"readings", list_of(reading)}}, {"batch", "share_fraction", "readings"});
  const Json worth = list_of(closed({{"word", text}, {"what", text}, {"gain_fraction", number}, {"work_s", number}}, {"word", "what", "gain_fraction", "work_s"}));
  return schema::document("lesson", "What curdwright learned from a diary",
                          {{"batches_count", whole}, {"readings_count", whole}, {"converged", schema::flag()}, {"curd_open", closed({{"before_fraction", number}, {"now_fraction", number}}, {"before_fraction", "now_fraction"})},
                           {"findings", list_of(finding)}, {"suspects", list_of(suspect)}, {"gains", list_of(gain)}, {"left_out", list_of(text)}, {"weights", list_of(weight)}, {"next", closed({{"measure", worth}, {"change", worth}}, {"measure", "change"})}},
                          {"batches_count", "readings_count", "converged", "findings", "suspects", "gains", "left_out"});
}

}  // namespace curdwright::sheets
