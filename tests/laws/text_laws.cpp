// SPDX-License-Identifier: MIT
// Reading never trips, and what is written can be read.
#include <string>

#include "curdwright/units.hpp"
#include "json/document.hpp"
#include "laws/recipes.hpp"
#include "text/nearest.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

using enum QuantityKind;
constexpr std::array all_kinds = {mass, volume, temperature, duration, length, area, pressure, power, fraction, concentration, mass_concentration, dose};

QuantityKind kind() { return all_kinds[static_cast<std::size_t>(whole(0, static_cast<int>(all_kinds.size()) - 1))]; }

/// Words that quantities and JSON are made of, in any order.
std::string scramble(const std::vector<std::string>& parts, int most) {
  std::string text;
  for (int i = whole(0, most); i > 0; --i) text += draw::one_of(parts);
  return text;
}

const std::vector<std::string> quantity_parts = {"1", "0", "9", ".", "-", "/", " ", " ", "e", "1e308", "kg", "g", "lb", "oz", "h", "min", "degC", "°F", "%",
                                                 "us cup", "mg/100 ml", "cup", ",", "nan", "inf", "\xFF", "½", "+", "\t", "K", "m"};
const std::vector<std::string> json_parts = {"{", "}", "[", "]", "\"", "\"a\"", ":", ",", "1", "-", "e9", "true", "null", " ", "\n", "\\", "\\u00e9", "\xC3\xA9",
                                             "\xFF",
                                             "\"soak\"", "\"legume\"", "\"soybean\"", "1e999", "//", "\"time\": \"5 h\""};

}  // namespace

TEST_CASE("any text is read as a finite amount or refused with exactly one problem") {
  law(3000, [] {
    const std::string text = *rc::gen::exec([] { return scramble(quantity_parts, 8); });
    const auto r = parse_quantity(text, kind());
    if (r)
      RC_ASSERT(std::isfinite(*r));
    else
      RC_ASSERT(r.error().size() == 1U && !r.error()[0].code.empty() && !r.error()[0].what.empty() && r.error()[0].place == Place{});
  });
}

TEST_CASE("an amount that is written is read back to six digits") {
  law(1000, [] {
    const QuantityKind k = kind();
    const double v = k == temperature ? between(200, 400) : k == pressure || k == power ? draw::spread(10, 1e6) : draw::spread(1e-3, 1e4);
    const auto back = parse_quantity(write_quantity(v, k), k);
    RC_ASSERT(back.has_value());
    RC_ASSERT(std::abs(*back - v) <= (k == temperature ? 5e-4 : 5.1e-6 * v));
  });
}

TEST_CASE("a number with any of its units is the number times the unit") {
  law(1000, [] {
    const QuantityKind k = kind();
    const auto units = units_of(k);
    const std::string_view unit = units[static_cast<std::size_t>(whole(0, static_cast<int>(units.size()) - 1))];
    const double n = draw::spread(1e-3, 1e5);
    const auto zero = parse_quantity(fmt::format("0 {}", unit), k), one = parse_quantity(fmt::format("1 {}", unit), k),
               many = parse_quantity(fmt::format("{} {}", n, unit), k);
    RC_ASSERT(zero.has_value() && one.has_value() && many.has_value());
    RC_ASSERT(std::abs(*many - (*zero + n * (*one - *zero))) <= 1e-9 * std::max(1.0, std::abs(*many)));
  });
}

TEST_CASE("any text is parsed as JSON or refused with one problem whose place lies in it") {
  law(3000, [] {
    const std::string text = *rc::gen::exec([] { return scramble(json_parts, 12); });
    const auto r = json::parse(text, "f");
    if (r) return;
    RC_ASSERT(r.error().size() == 1U);
    const Place& p = r.error()[0].place;
    const auto lines = std::count(text.begin(), text.end(), '\n') + 1;
    RC_ASSERT(p.line >= 1 && p.line <= lines);
    RC_ASSERT(p.column >= 1 && static_cast<std::size_t>(p.column) <= text.size() + 1);
    RC_ASSERT(p.caret >= 1 && static_cast<std::size_t>(p.caret) <= p.excerpt.size() + 1);
  });
}

TEST_CASE("any JSON is read as a recipe or refused, never more than it holds") {
  int read = 0;
  law(1500, [&] {
    const std::string text = *rc::gen::exec([] { return "{\"legume\": \"soybean\"" + scramble(json_parts, 6) + "}"; });
    const auto r = read_inputs({text, "r.json", std::nullopt, "", {}, {}});
    read += r.has_value();
    if (r)
      RC_ASSERT(r->recipe.legumes.size() == 1U);
    else
      RC_ASSERT(!r.error().empty());
  });
  CHECK(read > 20);
}

TEST_CASE("every drawn recipe and kitchen is accepted by the readers") {
  law(300, [] {
    const Setup s = setup_for(draw::anything(Reach::any, "{\"dry\": \"1 kg\"}"));
    RC_ASSERT(s.job.legume_count >= 1);
    double sum = 0;
    for (std::size_t i = 0; i < s.job.legume_count; ++i) sum += s.job.seeds[i].share;
    RC_ASSERT(std::abs(sum - 1) < 1e-12);
  });
}

TEST_CASE("a kitchen that is written and read again is written the same") {
  law(200, [] {
    const auto k = read_kitchen(*rc::gen::exec([] { return draw::kitchen_text(Reach::any); }), "k.json");
    RC_ASSERT(k.has_value());
    const std::string text = write_kitchen(*k);
    const auto again = read_kitchen(text, "k.json");
    RC_ASSERT(again.has_value());
    RC_ASSERT(write_kitchen(*again) == text);
  });
}

TEST_CASE("the link scales keep order and come back") {
  law(1000, [] {
    const double v = between(1e-4, 0.9998), w = between(1e-4, 0.9998);
    for (Link link : {Link::log, Link::logit}) {
      RC_ASSERT(std::abs(from_link(link, to_link(link, v)) - v) < 1e-12);
      RC_ASSERT((v < w) == (to_link(link, v) < to_link(link, w)));
    }
  });
}

TEST_CASE("the distance of words is symmetric, nought only for the same word, and at most the longer one") {
  law(1000, [] {
    const std::vector<std::string> letters = {"a", "b", "k", "s"};
    const std::string a = scramble(letters, 8), b = scramble(letters, 8);
    const std::size_t d = text::distance(a, b);
    RC_ASSERT(d == text::distance(b, a));
    RC_ASSERT((d == 0) == (a == b));
    RC_ASSERT(d <= std::max(a.size(), b.size()));
  });
}
