// SPDX-License-Identifier: MIT
#include "program/tzif.hpp"

#include <algorithm>
#include <chrono>
#include <functional>

#include "text/letters.hpp"

namespace curdwright::program {
namespace {

namespace chrono = std::chrono;

constexpr std::int64_t day_seconds = 86400;

/// RFC 8536 keeps offsets within -25 and +26 hours; the search around a local time relies on it.
bool within_a_day(std::int64_t offset) { return offset > -25L * 3600 && offset < 26L * 3600; }

// The footer.

/// Reads from the front of a text; once anything is amiss it stays so.
class FooterReader {
 public:
  explicit FooterReader(std::string_view text) : rest_(text) {}

  [[nodiscard]] bool good() const { return good_; }
  [[nodiscard]] bool at_end() const { return rest_.empty(); }

  bool take(char c) {
    if (rest_.empty() || rest_[0] != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  void must_take(char c) { good_ = take(c) && good_; }

  int number(int most) {
    int n = 0, digits = 0;
    for (; digits < 3 && !rest_.empty() && text::is_digit(rest_[0]); ++digits, rest_.remove_prefix(1)) n = n * 10 + (rest_[0] - '0');
    good_ = good_ && digits > 0 && n <= most;
    return n;
  }

  /// [+-]hh[:mm[:ss]]; RFC 8536 lets rules reach a week to either side.
  std::int64_t time() {
    const bool negative = take('-');
    if (!negative) take('+');
    std::int64_t s = std::int64_t{number(167)} * 3600;
    if (take(':')) {
      s += std::int64_t{number(59)} * 60;
      if (take(':')) s += number(59);
    }
    return negative ? -s : s;
  }

  /// Letters, or anything between < and >.
  std::string name() {
    const bool quoted = take('<');
    std::size_t n = 0;
    const auto letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
    while (n < rest_.size() && (letter(rest_[n]) || (quoted && (text::is_digit(rest_[n]) || rest_[n] == '+' || rest_[n] == '-')))) ++n;
    std::string found(rest_.substr(0, n));
    rest_.remove_prefix(n);
    if (quoted) must_take('>');
    good_ = good_ && n >= 3;
    return found;
  }

  YearlyRule rule() {
    YearlyRule r;
    if (take('M')) {
      r.month = number(12);
      must_take('.');
      r.week = number(5);
      must_take('.');
      r.day = number(6);
      good_ = good_ && r.month >= 1 && r.week >= 1;
    } else {
      r.kind = take('J') ? YearlyRule::Kind::day_without_leap : YearlyRule::Kind::day_with_leap;
      r.day = number(365);
      good_ = good_ && (r.kind == YearlyRule::Kind::day_with_leap || r.day >= 1);
    }
    if (take('/')) r.time = time();
    return r;
  }

 private:
  std::string_view rest_;
  bool good_ = true;
};

}  // namespace

std::int64_t YearlyRule::in_year(int year) const {
  const chrono::year y(year);
  chrono::sys_days date;
  if (kind == Kind::week_day) {
    const chrono::weekday wanted(static_cast<unsigned>(day));
    const chrono::month m(static_cast<unsigned>(month));
    date = week == 5 ? chrono::sys_days(y / m / wanted[chrono::last]) : chrono::sys_days(y / m / wanted[static_cast<unsigned>(week)]);
  } else {
    const bool after_leap_day = kind == Kind::day_without_leap && y.is_leap() && day >= 60;  // 1 March is day 60 in every year
    const int from_zero = kind == Kind::day_without_leap ? day - 1 + (after_leap_day ? 1 : 0) : day;
    date = chrono::sys_days(y / chrono::January / 1) + chrono::days(from_zero);
  }
  return date.time_since_epoch().count() * day_seconds + time;
}

std::optional<Footer> read_footer(std::string_view text) {
  FooterReader in(text);
  Footer f;
  f.standard.abbreviation = in.name();
  f.standard.offset = -in.time();  // POSIX counts west of Greenwich
  if (!in.at_end()) {
    ZoneType summer{f.standard.offset + 3600, true, in.name()};
    if (!in.take(',')) {
      summer.offset = -in.time();
      in.must_take(',');
    }
    f.begins = in.rule();
    in.must_take(',');
    f.ends = in.rule();
    f.summer = summer;
  }
  const bool near = within_a_day(f.standard.offset) && (!f.summer || within_a_day(f.summer->offset));
  return in.good() && in.at_end() && near ? std::optional(f) : std::nullopt;
}

// The file.

namespace {

/// Big-endian numbers from the front of some bytes; beyond the end everything is 0 and the reader is no longer good.
class Bytes {
 public:
  explicit Bytes(std::string_view bytes) : rest_(bytes) {}

  [[nodiscard]] bool good() const { return good_; }
  [[nodiscard]] std::string_view rest() const { return rest_; }

  std::string_view take(std::size_t n) {
    good_ = good_ && n <= rest_.size();
    if (!good_) return {};
    const std::string_view front = rest_.substr(0, n);
    rest_.remove_prefix(n);
    return front;
  }
  std::uint64_t number(std::size_t width) {
    std::uint64_t n = 0;
    for (char c : take(width)) n = n << 8U | static_cast<unsigned char>(c);
    return n;
  }
  std::int64_t wide() { return static_cast<std::int64_t>(number(8)); }
  std::int32_t narrow() { return static_cast<std::int32_t>(static_cast<std::uint32_t>(number(4))); }

 private:
  std::string_view rest_;
  bool good_ = true;
};

struct Header {
  bool good = false;
  char version = 0;
  std::size_t utc_marks = 0, standard_marks = 0, leaps = 0, changes = 0, types = 0, letters = 0;

  /// Bytes of the block that follows, with times of 4 or 8 bytes.
  [[nodiscard]] std::size_t size(std::size_t width) const { return changes * (width + 1) + types * 6 + letters + leaps * (width + 4) + standard_marks + utc_marks; }
};

Header read_header(Bytes& in) {
  Header h;
  const bool magic = in.take(4) == "TZif";
  const std::string_view version = in.take(1);
  h.version = version.empty() ? '\0' : version[0];
  in.take(15);
  for (std::size_t* count : {&h.utc_marks, &h.standard_marks, &h.leaps, &h.changes, &h.types, &h.letters}) *count = static_cast<std::size_t>(in.number(4));
  h.good = magic && in.good() && h.types >= 1;
  return h;
}

struct RawType {
  std::int32_t offset;
  bool daylight;
  std::size_t letters;
};

std::optional<std::vector<ZoneType>> read_types(Bytes& in, const Header& h) {
  std::vector<RawType> raw;
  for (std::size_t i = 0; i < h.types; ++i) raw.push_back({in.narrow(), in.number(1) != 0, static_cast<std::size_t>(in.number(1))});
  const std::string_view letters = in.take(h.letters);
  std::vector<ZoneType> types;
  for (const RawType& r : raw) {
    const std::size_t end = r.letters < letters.size() ? letters.find('\0', r.letters) : std::string_view::npos;
    if (end == std::string_view::npos || !within_a_day(r.offset)) return std::nullopt;
    types.push_back({r.offset, r.daylight, std::string(letters.substr(r.letters, end - r.letters))});
  }
  return types;
}

}  // namespace

std::optional<ZoneRules> ZoneRules::read(std::string_view bytes) {
  Bytes in(bytes);
  const Header old = read_header(in);
  if (!old.good || old.version < '2') return std::nullopt;
  in.take(old.size(4));  // the same for readers of 32 bits
  const Header h = read_header(in);
  if (!h.good || h.leaps > 0 || h.size(8) > in.rest().size()) return std::nullopt;

  std::vector<std::int64_t> times;
  for (std::size_t i = 0; i < h.changes; ++i) times.push_back(in.wide());
  const std::string_view indices = in.take(h.changes);
  const auto types = read_types(in, h);
  in.take(h.standard_marks + h.utc_marks);
  if (!types || !in.good() || std::adjacent_find(times.begin(), times.end(), std::greater_equal<>()) != times.end()) return std::nullopt;

  ZoneRules z;
  z.first_ = types->front();
  for (std::size_t i = 0; i < h.changes; ++i) {
    const auto type = static_cast<unsigned char>(indices[i]);
    if (type >= types->size()) return std::nullopt;
    z.changes_.push_back({times[i], (*types)[type]});
  }
  const std::string_view tail = in.rest();
  if (tail.size() < 2 || tail.front() != '\n' || tail.back() != '\n') return std::nullopt;
  if (tail.size() == 2) return z;
  z.footer_ = read_footer(tail.substr(1, tail.size() - 2));
  return z.footer_ ? std::optional(z) : std::nullopt;
}

bool ZoneRules::by_footer(std::int64_t utc) const { return footer_ && (changes_.empty() || utc >= changes_.back().at); }

/// Changes by the footer in the year of an instant and its neighbours, in order.
std::array<Change, 6> ZoneRules::around(std::int64_t utc) const {
  const auto day = chrono::floor<chrono::days>(chrono::sys_seconds(chrono::seconds(utc)));
  const int year = static_cast<int>(chrono::year_month_day(day).year());
  std::array<Change, 6> all;
  for (int i = 0; i < 3; ++i) {
    const auto at = 2 * static_cast<std::size_t>(i);
    // Where summer time never ends, its end and its next beginning are the same second; the beginning must come last.
    all[at] = {footer_->ends.in_year(year - 1 + i) - footer_->summer->offset, footer_->standard};
    all[at + 1] = {footer_->begins.in_year(year - 1 + i) - footer_->standard.offset, *footer_->summer};
  }
  std::stable_sort(all.begin(), all.end(), [](const Change& a, const Change& b) { return a.at != b.at ? a.at < b.at : !a.to.daylight && b.to.daylight; });
  return all;
}

ZoneType ZoneRules::at(std::int64_t utc) const {
  if (by_footer(utc)) {
    if (!footer_->summer) return footer_->standard;
    ZoneType now = footer_->standard;
    for (const Change& c : around(utc))
      if (c.at <= utc) now = c.to;
    return now;
  }
  const auto after = std::upper_bound(changes_.begin(), changes_.end(), utc, [](std::int64_t t, const Change& c) { return t < c.at; });
  return after == changes_.begin() ? first_ : std::prev(after)->to;
}

std::optional<Change> ZoneRules::next_change(std::int64_t utc) const {
  const auto after = std::upper_bound(changes_.begin(), changes_.end(), utc, [](std::int64_t t, const Change& c) { return t < c.at; });
  if (after != changes_.end()) return Change{after->at, at(after->at)};
  if (!footer_ || !footer_->summer) return std::nullopt;
  for (const Change& c : around(utc))
    if (c.at > utc && at(c.at) == c.to) return c;
  return std::nullopt;
}

}  // namespace curdwright::program
