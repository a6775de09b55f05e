// SPDX-License-Identifier: MIT
// Texts that are one word or one line: amounts, prices, times, readings; and JSON itself.
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "curdwright/calendar.hpp"
#include "curdwright/diary.hpp"
#include "curdwright/measure.hpp"
#include "curdwright/price.hpp"
#include "curdwright/trouble.hpp"
#include "curdwright/units.hpp"
#include "fuzz/fuzz.hpp"
#include "json/document.hpp"
#include "program/zones.hpp"

namespace curdwright::fuzz {
namespace {

/// Problems without a place, as those of one word are; whoever shows them gives the place.
void check_refusal(const Problems& problems) { check_sentences(problems); }

void check_node(const json::Document& document, const json::Node& node) {
  hold(node.begin < document.text.size(), "a value outside of its text");
  hold(node.kind != json::Node::Kind::number || std::isfinite(node.number), "a number that is none");
  const char first = document.text[node.begin];
  if (node.kind == json::Node::Kind::object) hold(first == '{', "an object that begins elsewhere");
  if (node.kind == json::Node::Kind::array) hold(first == '[', "a list that begins elsewhere");
  if (node.kind == json::Node::Kind::string) hold(first == '"', "a text that begins elsewhere");
  for (const json::Node& i : node.items) check_node(document, i);
  for (const json::Member& m : node.members) {
    hold(document.text[m.begin] == '"', "a key that begins elsewhere");
    check_node(document, m.value);
  }
}

constexpr std::array kinds = {QuantityKind::mass, QuantityKind::volume, QuantityKind::temperature, QuantityKind::duration, QuantityKind::length, QuantityKind::area,
                              QuantityKind::pressure, QuantityKind::power, QuantityKind::fraction, QuantityKind::concentration, QuantityKind::mass_concentration, QuantityKind::dose};

bool near(double a, double b, double share) { return std::abs(a - b) <= share * std::max({std::abs(a), std::abs(b), 1e-12}); }

void check_written(double si, QuantityKind kind) {
  const std::string written = write_quantity(si, kind);
  check_numbers(written);
  const auto again = parse_quantity(written, kind);
  hold(again.has_value(), "an amount that is not read back", written);
  // Near the absolute zero the last of six digits of a degree Celsius is much of a kelvin.
  const bool same_degree = kind == QuantityKind::temperature && std::abs(*again - si) < 1e-3;
  hold(same_degree || near(*again, si, 1e-3), "an amount that is read back as another", written);
}

void try_footer(std::string_view text) {
  const auto footer = program::read_footer(text);
  if (!footer) return;
  for (const int year : {1970, 2000, 2027, 2200}) {
    const std::int64_t begins = footer->begins.in_year(year), ends = footer->ends.in_year(year);
    hold(std::abs(begins) < std::int64_t{300} * 366 * 86400 && std::abs(ends) < std::int64_t{300} * 366 * 86400, "a rule beyond its year", text);
  }
}

void try_table(std::string_view bytes) {
  const auto rules = program::ZoneRules::read(bytes);
  if (!rules) return;
  const program::Zone zone{"Fuzz/Zone", *rules};
  for (const char* when : {"1970-01-01 00:00", "2027-03-28 02:30", "2200-12-31 23:59"}) {
    const auto time = read_local_time(when, "--start");
    const auto moment = program::to_utc(zone, *time, "--start");
    if (moment)
      hold(program::to_local(zone, moment->utc).time == *time, "an instant that clocks show otherwise", when);
    else
      check_refusal(moment.error());
  }
}

void try_local_time(std::string_view text) {
  const auto time = read_local_time(text, "--start");
  if (!time) return check_refusal(time.error());
  hold(time->date.ok() && time->hour >= 0 && time->hour < 24 && time->minute >= 0 && time->minute < 60, "a time that no clock shows", text);
  hold(read_local_time(iso(*time), "--start") == *time, "a time that is not read back", text);
  hold(from_clock(on_clock(*time)) == *time, "a time that is lost in seconds", text);
  hold(later(later(*time, hours(30)), hours(-30)) == *time, "a time that does not come back", text);
  check_words(spoken(*time));
}

void try_utc(std::string_view text) {
  if (const auto at = read_utc(text)) hold(utc_text(*at) == text, "an instant that is written otherwise", text);
}

void try_zone(std::string_view name) {
  const auto zone = program::find_zone(name);
  if (!zone) return check_refusal(zone.error());
  hold(name.find("..") == std::string_view::npos, "a zone outside of its folder", name);
}

/// A kitchen with vessels to be subtracted.
const Kitchen& kitchen_with_tares() {
  static const Kitchen kitchen = [] {
    Kitchen k = default_kitchen();
    k.pots.push_back({"big", litres(20), kilograms(2.5), Material::steel});
    k.tares = {{"bowl", "412 g"}, {"bucket", "1.2 kg"}};
    return k;
  }();
  return kitchen;
}

}  // namespace

void try_json(std::string_view bytes) {
  const auto document = json::parse(std::string(bytes), "fuzz.json");
  const std::string_view plain = bytes.starts_with("\xEF\xBB\xBF") ? bytes.substr(3) : bytes;
  const bool accepted = nlohmann::json::accept(plain) && plain.find('\0') == std::string_view::npos;
  if (document) {
    hold(accepted, "taken for JSON, and is none");
    return check_node(*document, document->root);
  }
  check_problems(document.error(), "fuzz.json");
  const std::string& code = document.error()[0].code;
  // What is JSON is refused for its limits only.
  if (accepted) hold(code == "too-deep" || code == "too-many" || code == "key-repeated" || code == "file-too-large", "JSON that is refused", code);
}

void try_quantity(std::string_view bytes) {
  const QuantityKind kind = kinds[take_choice(bytes, kinds.size())];
  if (const auto number = parse_number(bytes))
    hold(std::isfinite(*number), "a number that is none", bytes);
  else
    check_refusal(number.error());
  const auto si = parse_quantity(bytes, kind);
  if (!si) return check_refusal(si.error());
  hold(std::isfinite(*si), "an amount that is none", bytes);
  // What a kitchen can hold is printed in limits and messages.
  if (*si >= 1e-3 && *si < 1e6) check_written(*si, kind);
}

void try_price(std::string_view bytes) {
  if (const auto currency = parse_currency(bytes))
    hold(minor_digits(*currency) >= 0 && minor_digits(*currency) <= 4, "money without digits", *currency);
  else
    check_refusal(currency.error());
  const auto price = parse_price(bytes);
  if (!price) return check_refusal(price.error());
  hold(std::isfinite(price->money_per_si) && price->money_per_si >= 0, "a price that is none", bytes);
}

void try_time(std::string_view bytes) {
  switch (take_choice(bytes, 5)) {
    case 0: return try_local_time(bytes);
    case 1: return try_utc(bytes);
    case 2: return try_footer(bytes);
    case 3: return try_table(bytes);
    default: return try_zone(bytes);
  }
}

void try_told(std::string_view bytes) {
  static const Troubles troubles = shipped_troubles();
  const std::string_view first = take_line(bytes);
  const auto reading = read_reading(first, kitchen_with_tares(), "--measured");
  if (!reading) check_refusal(reading.error());
  if (reading) {
    hold(std::isfinite(reading->si) && reading->si >= reading->what->low && reading->si <= reading->what->high, "a reading out of its limits", first);
    if (const auto seen = observed(*reading, kitchen_with_tares())) hold(seen->value > 0 && seen->spread > 0, "an observation without an error", first);
  }
  const auto sighting = read_sighting(first, troubles);
  if (sighting)
    hold(troubles.find(*sighting) != nullptr, "something seen that is not in the table", first);
  else
    check_refusal(sighting.error());
  std::vector<std::string> words = {std::string(first)};
  while (!bytes.empty() && words.size() < 8) words.emplace_back(take_line(bytes));
  if (const auto added = read_added(words, {}, kitchen_with_tares()); !added) check_refusal(added.error());
  if (const auto scored = read_scored(words, {}); !scored) check_refusal(scored.error());
  if (const auto piece = read_piece("A", words, nullptr); !piece) check_refusal(piece.error());
}

}  // namespace curdwright::fuzz
