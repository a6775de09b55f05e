// SPDX-License-Identifier: MIT
#include "sheets/json_writer.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace curdwright {
namespace {

constexpr int most_digits = 9;
constexpr double nothing_below = 1e-12;
/// The JSON library's own bounds of plain decimals, beyond which it writes an exponent.
constexpr int most_leading_zeros = 3, most_before_point = 15;
/// Texts of numbers longer than this are as short as they can be read back, whatever the form.
constexpr std::size_t long_number = 12;

/// digits * 10^exponent, without zeros at the end of the digits.
struct Decimal {
  std::uint32_t digits = 0;
  int count = 0;     ///< of the digits
  int exponent = 0;
};

Decimal without_end_zeros(std::uint32_t digits, int exponent) {
  int count = most_digits;
  while (digits % 10 == 0) digits /= 10, --count, ++exponent;
  return {digits, count, exponent};
}

/// Any number, by way of its text: right in every case, and slower.
Decimal by_text(double v) {
  std::array<char, 32> text{};
  const char* const end = std::to_chars(text.data(), text.data() + text.size(), v, std::chars_format::scientific, most_digits - 1).ptr;
  std::uint32_t after_point = 0;
  int power = 0;
  const char* const e = std::from_chars(text.data() + 2, end, after_point).ptr;
  std::from_chars(e[1] == '+' ? e + 2 : e + 1, end, power);
  return without_end_zeros(static_cast<std::uint32_t>(text[0] - '0') * 100'000'000U + after_point, power - (most_digits - 1));
}

/// Nine significant digits of a number above nothing. Powers of ten up to 22 are exact, so that the scaled number is off by one rounding,
/// 1e-7 at most: only next to a half does that leave the last digit open.
Decimal nine_digits(double v) {
  static constexpr std::array<double, 23> tens = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  constexpr double too_near_a_half = 1e-6;
  constexpr double least = 1e8, most = 1e9;
  if (v >= 1e22) return by_text(v);
  int shift = 8 - static_cast<int>(std::floor(std::ilogb(v) * 0.30103));
  const auto scaled_by = [v](int s) { return s >= 0 ? v * tens[static_cast<std::size_t>(s)] : v / tens[static_cast<std::size_t>(-s)]; };
  shift = std::min(shift, 22);
  double scaled = scaled_by(shift);
  if (scaled >= most) scaled = scaled_by(--shift);
  if (!(scaled >= least && scaled < most)) return by_text(v);
  auto digits = static_cast<std::uint32_t>(scaled);
  const double over = scaled - digits;
  if (std::abs(over - 0.5) < too_near_a_half) return by_text(v);
  if (over > 0.5) ++digits;
  if (digits == 1'000'000'000U) digits /= 10, --shift;
  return without_end_zeros(digits, -shift);
}

/// Digits with a point among or before them, or with an exponent. \returns the end
char* print(char* to, const Decimal& d) {
  const int point = d.count + d.exponent;  // digits before the point
  char digits[16];
  std::to_chars(digits, digits + sizeof digits, d.digits);
  const auto copy = [&](int from, int count) { to = std::copy_n(digits + from, count, to); };
  if (d.exponent >= 0 && point <= most_before_point) {
    copy(0, d.count);
    to = std::fill_n(to, d.exponent, '0');
    *to++ = '.', *to++ = '0';
  } else if (point > 0 && point <= most_before_point) {
    copy(0, point);
    *to++ = '.';
    copy(point, d.count - point);
  } else if (point <= 0 && -point <= most_leading_zeros) {
    *to++ = '0', *to++ = '.';
    to = std::fill_n(to, -point, '0');
    copy(0, d.count);
  } else {
    copy(0, 1);
    if (d.count > 1) *to++ = '.', copy(1, d.count - 1);
    const int power = point - 1;
    *to++ = 'e', *to++ = power < 0 ? '-' : '+';
    if (std::abs(power) < 10) *to++ = '0';
    to = std::to_chars(to, to + 4, std::abs(power)).ptr;
  }
  return to;
}

/// Neither quote, backslash, control character nor part of a longer character.
constexpr std::array<bool, 256> plain = [] {
  std::array<bool, 256> all{};
  for (std::size_t c = 0x20; c < 0x80; ++c) all[c] = c != '"' && c != '\\';
  return all;
}();

bool is_plain(char c) { return plain[static_cast<unsigned char>(c)]; }

/// A character of several bytes: how many of them are as they must be, and whether that is all of it (Unicode, table 3-7).
struct Sequence {
  std::size_t bytes;
  bool whole;
};

Sequence sequence_at(std::string_view s) {
  const auto byte = [s](std::size_t i) { return static_cast<unsigned char>(s[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0xC2 || lead > 0xF4) return {1, false};
  const std::size_t length = lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  // The second byte has narrower bounds where a shorter form, a surrogate or a number beyond the last character would begin.
  const unsigned char low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80, high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  for (std::size_t i = 1; i < length; ++i) {
    if (i >= s.size() || byte(i) < (i == 1 ? low : 0x80) || byte(i) > (i == 1 ? high : 0xBF)) return {i, false};
  }
  return {length, true};
}

}  // namespace

void JsonWriter::add(std::string_view s) {
  std::memcpy(room(s.size()), s.data(), s.size());
  used_ += s.size();
}

void JsonWriter::new_line() {
  add('\n');
  std::memset(room(2 * depth_), ' ', 2 * depth_);
  used_ += 2 * depth_;
}

void JsonWriter::separate() {
  if (!first_) add(',');
  first_ = false;
  if (page_ && depth_ > 0) new_line();
}

void JsonWriter::before_value() {
  if (after_key_)
    after_key_ = false;
  else
    separate();
}

void JsonWriter::name(std::string_view key) {
  if (page_) separate();  // it sees to the comma too
  char* to = room(key.size() + 5);
  if (!page_ && !first_) *to++ = ',';
  first_ = false;
  *to++ = '"';
  std::memcpy(to, key.data(), key.size());
  to += key.size();
  *to++ = '"', *to++ = ':';
  if (page_) *to++ = ' ';
  used_ = static_cast<std::size_t>(to - text_.data());
  after_key_ = true;
}

void JsonWriter::open(char bracket) {
  before_value();
  add(bracket);
  ++depth_;
  first_ = true;
}

void JsonWriter::close(char bracket) {
  --depth_;
  if (page_ && !first_) new_line();
  first_ = false;
  add(bracket);
}

void JsonWriter::item(bool v) {
  before_value();
  add(v ? "true" : "false");
}

template <class T>
void JsonWriter::whole(T v) {
  before_value();
  char* const to = room(24);
  used_ += static_cast<std::size_t>(std::to_chars(to, to + 24, v).ptr - to);
}
template void JsonWriter::whole(long long v);
template void JsonWriter::whole(unsigned long long v);

void JsonWriter::item(double v) {
  before_value();
  if (!std::isfinite(v)) return add("null");
  if (std::abs(v) < nothing_below) return add("0.0");
  char* const from = room(40);
  char* to = from;
  if (v < 0) *to++ = '-';
  to = print(to, nine_digits(std::abs(v)));
  if (static_cast<std::size_t>(to - from) > long_number) {
    double back = 0;
    std::from_chars(from, to, back);
    to = std::to_chars(from, from + 40, back).ptr;
  }
  used_ += static_cast<std::size_t>(to - from);
}

void JsonWriter::item(std::string_view s) {
  before_value();
  add('"');
  while (!s.empty()) {
    const auto end = std::find_if_not(s.begin(), s.end(), is_plain);
    const auto run = static_cast<std::size_t>(end - s.begin());
    add(s.substr(0, run));
    s.remove_prefix(run);
    if (!s.empty()) s.remove_prefix(add_escaped(s));
  }
  add('"');
}

/// \returns how many bytes of the text it wrote
std::size_t JsonWriter::add_escaped(std::string_view rest) {
  constexpr std::string_view replacement = "\xEF\xBF\xBD";
  const auto c = static_cast<unsigned char>(rest[0]);
  if (c >= 0x80) {
    const Sequence s = sequence_at(rest);
    add(s.whole ? rest.substr(0, s.bytes) : replacement);
    return s.bytes;
  }
  constexpr std::string_view short_for = "\b\t\n\f\r\"\\", letters = "btnfr\"\\";
  add('\\');
  if (const auto i = short_for.find(rest[0]); i != std::string_view::npos) {
    add(letters[i]);
    return 1;
  }
  constexpr std::string_view hex = "0123456789abcdef";
  add("u00");
  add(hex[c >> 4U]);
  add(hex[c & 15U]);
  return 1;
}

std::string JsonWriter::text() && {
  if (page_) add('\n');
  return text_.substr(0, used_);  // as long as it need be: many may be kept
}

}  // namespace curdwright
