// SPDX-License-Identifier: MIT
// A compiled time zone (TZif, RFC 8536) read from its bytes, and the rule in its footer (POSIX TZ), which holds after the last
// change that the file lists.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::program {

/// What a clock of the zone shows for a while.
struct ZoneType {
  std::int64_t offset = 0;  ///< seconds east of UTC
  bool daylight = false;
  std::string abbreviation;

  bool operator==(const ZoneType&) const = default;
};

/// "on the last Sunday of March at 02:00", or by the number of the day.
struct YearlyRule {
  enum class Kind { week_day, day_without_leap, day_with_leap } kind = Kind::week_day;
  int month = 0, week = 0, day = 0;  ///< week 5 is the last; day counts from Sunday, or within the year
  std::int64_t time = 7200;          ///< seconds after midnight; may be negative or beyond the day

  /// Seconds from 1970 on the local clock as it goes before the change.
  [[nodiscard]] std::int64_t in_year(int year) const;
};

struct Footer {
  ZoneType standard;
  std::optional<ZoneType> summer;
  YearlyRule begins, ends;  ///< of summer time
};

/// Nothing if the text is no such rule.
std::optional<Footer> read_footer(std::string_view text);

/// A change of the clock: from this second of UTC the new type holds.
struct Change {
  std::int64_t at = 0;
  ZoneType to;
};

class ZoneRules {
 public:
  /// Nothing if the bytes are damaged, of version 1, or count leap seconds.
  static std::optional<ZoneRules> read(std::string_view bytes);

  [[nodiscard]] ZoneType at(std::int64_t utc) const;
  /// The first change after that second, if one comes within two years.
  [[nodiscard]] std::optional<Change> next_change(std::int64_t utc) const;

 private:
  [[nodiscard]] std::array<Change, 6> around(std::int64_t utc) const;
  [[nodiscard]] bool by_footer(std::int64_t utc) const;

  ZoneType first_;
  std::vector<Change> changes_;
  std::optional<Footer> footer_;
};

}  // namespace curdwright::program
