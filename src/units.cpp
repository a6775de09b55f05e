// SPDX-License-Identifier: MIT
#include "curdwright/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>

#include "text/letters.hpp"
#include "text/nearest.hpp"

namespace curdwright {
namespace {

using enum QuantityKind;

struct Unit {
  std::string_view name;
  QuantityKind kind;
  double factor;
  double offset = 0;  ///< SI = (value + offset) * factor
};

constexpr double lb = 0.45359237, inch = 0.0254, us_gallon = 3.785411784e-3, imp_gallon = 4.54609e-3;
constexpr double us_pint = us_gallon / 8, imp_pint = imp_gallon / 8;

constexpr std::array units = {
    Unit{"g", mass, 1e-3}, Unit{"kg", mass, 1}, Unit{"mg", mass, 1e-6}, Unit{"t", mass, 1e3}, Unit{"tonne", mass, 1e3}, Unit{"tonnes", mass, 1e3},
    Unit{"gram", mass, 1e-3}, Unit{"grams", mass, 1e-3}, Unit{"kilo", mass, 1}, Unit{"kilos", mass, 1},
    Unit{"kilogram", mass, 1}, Unit{"kilograms", mass, 1}, Unit{"lb", mass, lb}, Unit{"lbs", mass, lb},
    Unit{"pound", mass, lb}, Unit{"pounds", mass, lb}, Unit{"oz", mass, lb / 16}, Unit{"ounce", mass, lb / 16},
    Unit{"ounces", mass, lb / 16}, Unit{"oz wt", mass, lb / 16},
    Unit{"l", volume, 1e-3}, Unit{"ml", volume, 1e-6}, Unit{"cl", volume, 1e-5}, Unit{"dl", volume, 1e-4},
    Unit{"litre", volume, 1e-3}, Unit{"litres", volume, 1e-3}, Unit{"liter", volume, 1e-3}, Unit{"liters", volume, 1e-3},
    Unit{"m3", volume, 1}, Unit{"us fl oz", volume, us_pint / 16}, Unit{"imp fl oz", volume, imp_pint / 20},
    Unit{"us cup", volume, us_pint / 2}, Unit{"metric cup", volume, 250e-6}, Unit{"us pt", volume, us_pint},
    Unit{"us pint", volume, us_pint}, Unit{"imp pt", volume, imp_pint}, Unit{"imp pint", volume, imp_pint},
    Unit{"us qt", volume, 2 * us_pint}, Unit{"us quart", volume, 2 * us_pint}, Unit{"imp qt", volume, 2 * imp_pint},
    Unit{"imp quart", volume, 2 * imp_pint}, Unit{"us gal", volume, us_gallon}, Unit{"us gallon", volume, us_gallon},
    Unit{"imp gal", volume, imp_gallon}, Unit{"imp gallon", volume, imp_gallon}, Unit{"us tbsp", volume, us_pint / 32},
    Unit{"metric tbsp", volume, 15e-6}, Unit{"us tsp", volume, us_pint / 96}, Unit{"metric tsp", volume, 5e-6},
    Unit{"degC", temperature, 1, 273.15}, Unit{"°C", temperature, 1, 273.15}, Unit{"C", temperature, 1, 273.15},
    Unit{"celsius", temperature, 1, 273.15}, Unit{"degF", temperature, 5.0 / 9, 459.67},
    Unit{"°F", temperature, 5.0 / 9, 459.67}, Unit{"F", temperature, 5.0 / 9, 459.67},
    Unit{"fahrenheit", temperature, 5.0 / 9, 459.67}, Unit{"K", temperature, 1},
    Unit{"min", duration, 60}, Unit{"s", duration, 1}, Unit{"h", duration, 3600}, Unit{"d", duration, 86400},
    Unit{"m", duration, 60}, Unit{"sec", duration, 1}, Unit{"second", duration, 1}, Unit{"seconds", duration, 1},
    Unit{"minute", duration, 60}, Unit{"minutes", duration, 60}, Unit{"mins", duration, 60}, Unit{"hr", duration, 3600},
    Unit{"hrs", duration, 3600}, Unit{"hour", duration, 3600}, Unit{"hours", duration, 3600}, Unit{"day", duration, 86400},
    Unit{"days", duration, 86400},
    Unit{"cm", length, 1e-2}, Unit{"mm", length, 1e-3}, Unit{"m", length, 1}, Unit{"in", length, inch},
    Unit{"inch", length, inch}, Unit{"inches", length, inch}, Unit{"ft", length, 12 * inch}, Unit{"feet", length, 12 * inch},
    Unit{"metre", length, 1}, Unit{"metres", length, 1}, Unit{"meter", length, 1}, Unit{"meters", length, 1},
    Unit{"km", length, 1e3},
    Unit{"cm2", area, 1e-4}, Unit{"m2", area, 1}, Unit{"in2", area, inch * inch}, Unit{"cm²", area, 1e-4}, Unit{"m²", area, 1},
    Unit{"kPa", pressure, 1e3}, Unit{"Pa", pressure, 1}, Unit{"bar", pressure, 1e5}, Unit{"mbar", pressure, 1e2},
    Unit{"psi", pressure, lb * 9.80665 / (inch * inch)}, Unit{"g/cm2", pressure, 98.0665},
    Unit{"W", power, 1}, Unit{"kW", power, 1e3}, Unit{"BTU/h", power, 1055.05585262 / 3600},
    Unit{"%", fraction, 1e-2}, Unit{"percent", fraction, 1e-2},
    Unit{"mol/l", concentration, 1e3}, Unit{"mmol/l", concentration, 1}, Unit{"M", concentration, 1e3}, Unit{"mM", concentration, 1},
    Unit{"g/l", mass_concentration, 1}, Unit{"mg/l", mass_concentration, 1e-3}, Unit{"mg/100 ml", mass_concentration, 1e-2},
    Unit{"g/100 ml", mass_concentration, 10}, Unit{"mg/100ml", mass_concentration, 1e-2}, Unit{"g/100ml", mass_concentration, 10},
    Unit{"mg/ml", mass_concentration, 1}, Unit{"% w/v", mass_concentration, 10},
    Unit{"mmol/g", dose, 1},
};

/// Words that mean two amounts. What to write instead.
struct TwoMeanings {
  std::string_view word;
  QuantityKind kind;
  std::string_view first, second;
};
constexpr std::array two_meanings = {
    TwoMeanings{"oz", volume, "us fl oz", "imp fl oz"},       TwoMeanings{"ounce", volume, "us fl oz", "imp fl oz"},
    TwoMeanings{"ounces", volume, "us fl oz", "imp fl oz"},   TwoMeanings{"fl oz", volume, "us fl oz", "imp fl oz"},
    TwoMeanings{"cup", volume, "us cup", "metric cup"},       TwoMeanings{"cups", volume, "us cup", "metric cup"},
    TwoMeanings{"pint", volume, "us pint", "imp pint"},       TwoMeanings{"pt", volume, "us pint", "imp pint"},
    TwoMeanings{"pints", volume, "us pint", "imp pint"},      TwoMeanings{"quart", volume, "us qt", "imp qt"},
    TwoMeanings{"qt", volume, "us qt", "imp qt"},             TwoMeanings{"quarts", volume, "us qt", "imp qt"},
    TwoMeanings{"gallon", volume, "us gal", "imp gal"},       TwoMeanings{"gal", volume, "us gal", "imp gal"},
    TwoMeanings{"gallons", volume, "us gal", "imp gal"},      TwoMeanings{"tbsp", volume, "us tbsp", "metric tbsp"},
    TwoMeanings{"tsp", volume, "us tsp", "metric tsp"},       TwoMeanings{"ton", mass, "t", "lb"},
    TwoMeanings{"tons", mass, "t", "lb"},           TwoMeanings{"cal", power, "W", "kW"},
};

struct KindRow {
  QuantityKind kind;
  std::string_view name, example;
};
constexpr std::array kinds = {
    KindRow{mass, "a mass", "450 g"}, KindRow{volume, "a volume", "2 l"}, KindRow{temperature, "a temperature", "80 degC"},
    KindRow{duration, "a time", "40 min"}, KindRow{length, "a length", "12 cm"}, KindRow{area, "an area", "400 cm2"},
    KindRow{pressure, "a pressure", "4 kPa"}, KindRow{power, "a power", "1800 W"}, KindRow{fraction, "a share", "80 %"},
    KindRow{concentration, "a strength", "2.3 mol/l"}, KindRow{mass_concentration, "a strength", "5588 mg/100 ml"},
    KindRow{dose, "a dose", "0.73 mmol/g"},
};

/// Takes a number off the front: "1.5", "1/2", "1 1/2", "-3". Empty when there is none.
std::optional<double> take_plain(std::string_view& text) {
  if (text.empty() || (!text::is_digit(text[0]) && text[0] != '-' && text[0] != '.')) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

std::optional<double> take_number(std::string_view& text) {
  auto value = take_plain(text);
  if (!value) return std::nullopt;
  const auto over = [&](std::string_view& rest) -> std::optional<double> {
    if (rest.empty() || rest[0] != '/' || rest.size() < 2 || !text::is_digit(rest[1])) return std::nullopt;
    rest.remove_prefix(1);
    return take_plain(rest);
  };
  if (const auto below = over(text)) return *below != 0 ? std::optional(*value / *below) : std::nullopt;
  std::string_view ahead = text::trimmed(text);
  if (ahead.size() != text.size() && !ahead.empty() && text::is_digit(ahead[0])) {
    if (const auto top = take_plain(ahead))
      if (const auto below = over(ahead); below && *below != 0) {
        text = ahead;
        return *value + std::copysign(*top / *below, *value);
      }
  }
  return value;
}

const Unit* find_unit(std::string_view word, QuantityKind kind) {
  for (const Unit& u : units)
    if (u.kind == kind && u.name == word) return &u;
  const std::string low = text::lower_case(word);
  const Unit* found = nullptr;
  for (const Unit& u : units)
    if (u.kind == kind && text::lower_case(u.name) == low) {
      if (found && found->factor != u.factor) return nullptr;  // "MG" could be two things
      found = &u;
    }
  return found;
}

const KindRow& row_of(QuantityKind kind) {
  return *std::find_if(kinds.begin(), kinds.end(), [kind](const KindRow& r) { return r.kind == kind; });
}

Problem no_unit(std::string_view text, QuantityKind kind) {
  return {"unit-missing", {}, fmt::format("\"{}\" has no unit", text), fmt::format("{} needs its unit", name_of(kind)),
          fmt::format("write for example \"{}\"", example_of(kind))};
}

Problem not_a_quantity(std::string_view text, QuantityKind kind) {
  Problem p{"quantity-unreadable", {}, fmt::format("\"{}\" is not {}", text, name_of(kind)), "",
            fmt::format("write a number and a unit, for example \"{}\"", example_of(kind))};
  if (text.find(',') != std::string_view::npos) p.why = "numbers use a decimal point, not a comma";
  return p;
}

/// The nearest unit of a kind, for words so long that one slip leaves no doubt; empty when there is none.
std::string_view nearest_unit(std::string_view word, QuantityKind kind) {
  if (word.size() < 4) return "";
  const std::string low = text::lower_case(word);
  for (const Unit& u : units)
    if (u.kind == kind && u.name.size() >= 4 && text::distance(low, text::lower_case(u.name)) == 1) return u.name;
  return "";
}

Problem not_known(std::string_view word, QuantityKind kind) {
  std::string list;
  for (std::string_view name : units_of(kind)) list += (list.empty() ? "" : ", ") + std::string(name);
  std::string use = fmt::format("for {} use one of: {}", name_of(kind), list);
  Problem p{"unit-unknown", {}, fmt::format("\"{}\" is not a unit known here", word), "", use};
  if (const auto near = nearest_unit(word, kind); !near.empty()) p.why = std::move(use), p.fix = fmt::format("did you mean \"{}\"?", near);
  return p;
}

Problem minus_within(std::string_view text, QuantityKind kind) {
  return {"quantity-unreadable", {}, fmt::format("\"{}\" is not {}", text, name_of(kind)), "a minus may stand only in front of the whole sum",
          fmt::format("reckon the difference and write that, for example \"{}\"", example_of(kind))};
}

Problem unknown_unit(std::string_view word, QuantityKind kind) {
  const std::string low = text::lower_case(word);
  for (const TwoMeanings& t : two_meanings)
    if (t.kind == kind && t.word == low)
      return {"unit-ambiguous", {}, fmt::format("\"{}\" has two meanings here", word), "a guess could ruin the batch",
              fmt::format("write \"{}\" or \"{}\"", t.first, t.second)};
  for (const TwoMeanings& t : two_meanings)
    if (t.kind == volume && t.word == low && kind == mass)
      return {"unit-wrong-kind", {}, fmt::format("\"{}\" measures volume, not mass", word), "a litre of water weighs 1 kg, a US quart 0.946 kg", "weigh it, and write for example \"1.2 kg\""};
  for (const Unit& u : units)
    if (kind == mass && u.kind == volume && (u.name == word || text::lower_case(u.name) == low))
      return {"unit-wrong-kind", {}, fmt::format("\"{}\" measures volume, not mass", word), "a litre of water weighs 1 kg, a US quart 0.946 kg", "weigh it, and write for example \"1.2 kg\""};
  for (const Unit& u : units)
    if (u.name == word || text::lower_case(u.name) == low)
      return {"unit-wrong-kind", {}, fmt::format("\"{}\" measures {}, not {}", word, name_of(u.kind).substr(2), name_of(kind).substr(2)), "",
              fmt::format("write {}, for example \"{}\"", name_of(kind), example_of(kind))};
  return not_known(word, kind);
}

/// A sum of terms makes sense for these only: "1 lb 4 oz", "1 h 30 min".
bool adds_up(QuantityKind kind) { return kind == mass || kind == duration; }

}  // namespace

Result<double> parse_number(std::string_view text) {
  std::string_view rest = text::trimmed(text);
  const auto value = take_number(rest);
  if (!value || !text::trimmed(rest).empty())
    return fail(Problem{"number-unreadable", {}, fmt::format("\"{}\" is not a number", text),
                        text.find(',') != std::string_view::npos ? "numbers use a decimal point, not a comma" : "", "write for example 2.5"});
  return *value;
}

bool is_unit(std::string_view word) {
  if (word.empty() || word.size() > max_quantity_text || (word.front() >= '0' && word.front() <= '9')) return false;
  constexpr std::array with_units = {QuantityKind::mass, QuantityKind::volume, QuantityKind::temperature, QuantityKind::duration, QuantityKind::length, QuantityKind::area, QuantityKind::pressure, QuantityKind::power};
  const std::string one = fmt::format("1 {}", word);
  return std::any_of(with_units.begin(), with_units.end(), [&](QuantityKind kind) { return parse_quantity(one, kind).has_value(); });
}

Result<double> parse_quantity(std::string_view text, QuantityKind kind) {
  if (text.size() > max_quantity_text)
    return fail(Problem{"quantity-unreadable", {}, fmt::format("a text of {} bytes is not {}", text.size(), name_of(kind)),
                        fmt::format("at most {} bytes are read", max_quantity_text), fmt::format("write for example \"{}\"", example_of(kind))});
  std::string_view rest = text::trimmed(text);
  if (rest.empty() || rest.find(',') != std::string_view::npos) return fail(not_a_quantity(text, kind));
  const bool minus = rest.front() == '-';
  double sum = 0;
  for (int term = 0; !rest.empty(); ++term) {
    const auto value = take_number(rest);
    if (!value) return fail(not_a_quantity(text, kind));
    if (term > 0 && std::signbit(*value)) return fail(minus_within(text, kind));
    rest = text::trimmed(rest);
    // A unit runs to the next number, except for "mg/100 ml", whose number belongs to it.
    std::size_t end = 0;
    while (end < rest.size() && !(end > 0 && rest[end - 1] == ' ' && (text::is_digit(rest[end]) || rest[end] == '-'))) ++end;
    const std::string_view word = text::trimmed(rest.substr(0, end));
    if (word.empty()) {
      if (kind == fraction && term == 0 && rest.empty()) return *value;
      return fail(no_unit(text, kind));
    }
    const Unit* unit = find_unit(word, kind);
    if (!unit) return fail(unknown_unit(word, kind));
    if (term > 0 && !adds_up(kind)) return fail(not_a_quantity(text, kind));
    // The sign in front belongs to the whole: "-1 h 30 min" is 90 minutes below nothing.
    sum += ((term > 0 && minus ? -*value : *value) + unit->offset) * unit->factor;
    rest = text::trimmed(rest.substr(end));
  }
  if (!std::isfinite(sum)) return fail(not_a_quantity(text, kind));
  return sum;
}

std::string_view name_of(QuantityKind kind) { return row_of(kind).name; }
std::string_view example_of(QuantityKind kind) { return row_of(kind).example; }

std::vector<std::string_view> units_of(QuantityKind kind) {
  std::vector<std::string_view> names;
  for (const Unit& u : units)
    if (u.kind == kind && std::none_of(names.begin(), names.end(), [&](std::string_view n) { return find_unit(n, kind)->factor == u.factor && find_unit(n, kind)->offset == u.offset; }))
      names.push_back(u.name);
  return names;
}

namespace {

/// Six digits, and never an exponent: what is less than 1e-18 of its unit is nothing.
std::string six_digits(double v) {
  std::string digits = fmt::format("{:.6g}", v);
  if (digits.find('e') == std::string::npos) return digits;
  if (std::abs(v) >= 1) return fmt::format("{:.0f}", v);
  digits = fmt::format("{:.{}f}", v, std::min(18, 5 - static_cast<int>(std::floor(std::log10(std::abs(v))))));
  digits.erase(digits.find_last_not_of('0') + 1);
  return digits.ends_with('.') ? "0" : digits;
}

}  // namespace

std::string write_quantity(double si, QuantityKind kind) {
  const auto in = [&](std::string_view unit) {
    const Unit* u = find_unit(unit, kind);
    const double v = si / u->factor - u->offset;
    return fmt::format("{} {}", six_digits(v), unit);
  };
  switch (kind) {
    case mass: return std::abs(si) >= 1 ? in("kg") : in("g");
    case volume: return std::abs(si) >= 1e-3 ? in("l") : in("ml");
    case temperature: return in("degC");
    case duration:
      if (std::abs(si) >= 10 * 86400) return in("d");
      if (std::abs(si) >= 2 * 3600) return in("h");
      return std::abs(si) >= 60 || si == 0 ? in("min") : in("s");
    case length: return std::abs(si) >= 1 || si == 0 ? in("m") : in("cm");
    case area: return in("cm2");
    case pressure: return in("kPa");
    case power: return std::abs(si) >= 1e4 ? in("kW") : in("W");
    case fraction: return in("%");
    case concentration: return std::abs(si) >= 1e3 ? in("mol/l") : in("mmol/l");
    case mass_concentration: return in("g/l");
    case dose: return in("mmol/g");
  }
  return {};
}

}  // namespace curdwright
