// SPDX-License-Identifier: MIT
#include "curdwright/factor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <span>

#include "curdwright/recipe.hpp"
#include "curdwright/units.hpp"
#include "text/letters.hpp"
#include "text/spoken.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

Problem unreadable(std::string_view text, std::string why, std::string fix) {
  return {"factor-unreadable", {}, fmt::format("{} cannot be read", text::quoted(text)), std::move(why), std::move(fix)};
}

constexpr std::string_view ways = "write for example /starch/time=10min:50min:10min, /blend/total_water_to_dry=4:16:x2, or /coagulate/with=nigari,lemon-juice";

/// "10min" as 10 and "min".
struct Amount {
  double number = 0;
  std::string unit;
};

std::optional<Amount> amount_of(std::string_view text) {
  text = text::trimmed(text);
  Amount a;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), a.number);
  if (error != std::errc() || !std::isfinite(a.number)) return std::nullopt;
  a.unit = text::trimmed(text.substr(static_cast<std::size_t>(end - text.data())));
  return a;
}

/// Twelve digits are more than any setting has, and hide the rounding of steps such as 0.1.
std::string digits(double number) { return fmt::format("{}", text::to_digits(number, 12)); }

std::string with_unit(double number, const std::string& unit) { return unit.empty() ? digits(number) : fmt::format("{} {}", digits(number), unit); }

/// The number in another unit of the same kind: `h` in minutes. Through 0 and 1 of each, since degrees have an offset.
std::optional<double> in_unit(const Amount& a, const std::string& unit, const std::optional<QuantityKind>& kind) {
  if (a.unit == unit) return a.number;
  if (!kind || a.unit.empty() || unit.empty()) return std::nullopt;
  const auto si = parse_quantity(with_unit(a.number, a.unit), *kind), one = parse_quantity("1 " + unit, *kind), two = parse_quantity("2 " + unit, *kind);
  if (!si || !one || !two || *one == *two) return std::nullopt;
  return 1 + (*si - *one) / (*two - *one);
}

struct Told {
  std::string pointer;
  std::string_view values;
  std::optional<QuantityKind> kind;
  bool counted = false;
};

/// The pointer, which must be known, and what follows the sign of equality.
Result<Told> told_of(std::string_view text) {
  const auto equals = text.find('=');
  if (equals == std::string_view::npos || equals + 1 == text.size()) return fail(unreadable(text, "it needs a pointer, =, and what the setting may be", std::string(ways)));
  Told t{std::string(text.substr(0, equals)), text.substr(equals + 1), {}, false};
  const auto setting = setting_at(t.pointer);
  if (!setting) return fail(setting.error());
  t.kind = setting->quantity, t.counted = setting->whole;
  return t;
}

std::vector<Level> list_of(std::string_view values) {
  std::vector<Level> levels;
  for (std::string_view v : text::split(values, ',')) {
    const auto a = amount_of(v);
    levels.push_back({std::string(text::trimmed(v)), a ? std::optional(a->number) : std::nullopt});
  }
  // A number is one in the unit of all, or none: with "500 g, 1 kg" the levels stand as words.
  std::string unit;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const auto a = amount_of(levels[i].text);
    if (i == 0 && a) unit = a->unit;
    if (!a || a->unit != unit) {
      for (Level& l : levels) l.number.reset();
      break;
    }
  }
  return levels;
}

Result<std::vector<double>> steps_of(std::string_view text, double from, double to, std::string_view step, bool& logarithmic, const std::string& unit, const std::optional<QuantityKind>& kind) {
  logarithmic = !step.empty() && (step[0] == 'x' || step[0] == '*');
  const auto a = amount_of(logarithmic ? step.substr(1) : step);
  if (!a) return fail(unreadable(text, fmt::format("{} is no step", text::quoted(step)), std::string(ways)));
  double by = a->number;
  // A step of temperature is a difference, and so stays in the unit of the ends.
  if (!logarithmic && a->unit != unit) {
    const bool degrees = kind == QuantityKind::temperature;
    const auto changed = a->unit.empty() ? std::optional(a->number) : degrees ? std::nullopt : in_unit(*a, unit, kind);
    if (!changed) return fail(unreadable(text, "the step has another unit than the ends", fmt::format("write the step in {}", unit.empty() ? "plain numbers" : unit)));
    by = *changed;
  }
  const bool forward = logarithmic ? by > 1 : by > 0;
  if (!forward || (logarithmic && !(from > 0)))
    return fail(unreadable(text, logarithmic ? "logarithmic steps begin above 0 and grow by more than x1" : "a step is more than 0", std::string(ways)));
  const double count = logarithmic ? std::log(to / from) / std::log(by) : (to - from) / by;
  if (!(to >= from)) return fail(unreadable(text, "the end lies below the beginning", "write the smaller one first"));
  if (count > static_cast<double>(max_levels - 1))
    return fail(unreadable(text, fmt::format("it has {:.0f} levels; at most {} can be taken", std::floor(count) + 1, max_levels), "take larger steps"));
  std::vector<double> numbers;
  for (int i = 0; i <= static_cast<int>(std::floor(count + 1e-9)); ++i) numbers.push_back(logarithmic ? from * std::pow(by, i) : from + by * i);
  return numbers;
}

/// Two ends, the second in the unit of the first.
struct Ends {
  double from = 0, to = 0;
  std::string unit;
};
Result<Ends> ends_of(std::string_view text, std::string_view from, std::string_view to, const std::optional<QuantityKind>& kind) {
  const auto a = amount_of(from), b = amount_of(to);
  if (!a || !b) return fail(unreadable(text, fmt::format("{} is no number", text::quoted(a ? to : from)), "what is no number is told as a list: a,b,c"));
  if (a->unit.empty() && !b->unit.empty()) return Ends{a->number, b->number, b->unit};
  const auto end = b->unit.empty() ? std::optional(b->number) : in_unit(*b, a->unit, kind);
  if (!end) return fail(unreadable(text, "the ends have units that do not go together", "write both in one unit"));
  return Ends{a->number, *end, a->unit};
}

}  // namespace

bool Factor::numeric() const {
  return std::all_of(levels.begin(), levels.end(), [](const Level& l) { return l.number.has_value(); });
}

Result<Factor> read_factor(std::string_view text) {
  const auto told = told_of(text);
  if (!told) return fail(told.error());
  Factor f;
  f.pointer = told->pointer;
  const auto parts = text::split(told->values, ':');
  if (parts.size() == 3) {
    const auto ends = ends_of(text, parts[0], parts[1], told->kind);
    if (!ends) return fail(ends.error());
    f.unit = ends->unit;
    const auto numbers = steps_of(text, ends->from, ends->to, parts[2], f.logarithmic, f.unit, told->kind);
    if (!numbers) return fail(numbers.error());
    for (double n : *numbers) f.levels.push_back({with_unit(n, f.unit), n});
    return f;
  }
  if (parts.size() == 2) return fail(unreadable(text, "from and to need a step", "write from:to:step, or from:to:xN for logarithmic steps"));
  f.levels = list_of(told->values);
  if (f.levels.size() > max_levels) return fail(unreadable(text, fmt::format("it lists {} levels; at most {} can be taken", f.levels.size(), max_levels), "list fewer, or take steps: from:to:step"));
  if (std::any_of(f.levels.begin(), f.levels.end(), [](const Level& l) { return l.text.empty(); })) return fail(unreadable(text, "a level is empty", "leave out the comma"));
  if (f.numeric()) f.unit = amount_of(f.levels[0].text)->unit;
  return f;
}

std::string Room::setting(double number) const { return pointer + "=" + with_unit(number, unit); }

Result<Room> read_room(std::string_view text) {
  const auto told = told_of(text);
  if (!told) return fail(told.error());
  Room r;
  r.pointer = told->pointer, r.text = told->values, r.whole = told->counted;
  const auto parts = text::split(told->values, ':');
  if (parts.size() > 2) return fail(unreadable(text, "two ends, or a list with commas", "write for example /starch/time=10min:2h"));
  if (parts.size() == 1) {
    const auto f = read_factor(text);
    if (!f) return fail(f.error());
    r.levels = f->levels, r.unit = f->unit;
    return r;
  }
  const auto ends = ends_of(text, parts[0], parts[1], told->kind);
  if (!ends) return fail(ends.error());
  if (!(ends->to > ends->from)) return fail(unreadable(text, "the second end is not above the first", "write the smaller one first"));
  r.low = ends->from, r.high = ends->to, r.unit = ends->unit;
  return r;
}

}  // namespace curdwright
