// SPDX-License-Identifier: MIT
#include "program/zones.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "program/files.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

namespace chrono = std::chrono;
namespace fs = std::filesystem;

constexpr std::int64_t widest = std::int64_t{27} * 3600;  // no offset is this large, see ZoneRules::read

std::string table_folder() {
  const std::string told = environment("TZDIR");
  return told.empty() ? "/usr/share/zoneinfo" : told;
}

/// Names lead nowhere but below the folder, and not to what a machine calls its own time: that would differ from one to the next.
bool may_be_name(std::string_view name) {
  const auto fits = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '+' || c == '/'; };
  if (name.empty() || name.size() > 64 || name.front() == '/' || name.find("//") != std::string_view::npos || !std::all_of(name.begin(), name.end(), fits)) return false;
  // right/ counts leap seconds, posix/ holds the same zones again.
  return name != "localtime" && name != "posixrules" && name.rfind("right/", 0) != 0 && name.rfind("posix/", 0) != 0;
}

std::string lower(std::string_view s) {
  std::string all = text::lower_case(s);
  std::replace(all.begin(), all.end(), ' ', '_');
  return all;
}

std::string_view city(std::string_view name) { return name.substr(name.rfind('/') + 1); }

/// All names below the folder, in order.
std::vector<std::string> all_names(const std::string& folder) {
  std::vector<std::string> names;
  std::error_code error;
  for (fs::recursive_directory_iterator i(folder, error), end; !error && i != end; i.increment(error)) {
    std::string name = fs::path(i->path()).lexically_relative(folder).string();
    std::error_code ignored;
    if (name == "right" || name == "posix") i.disable_recursion_pending();
    // Tables for people have an ending or a small first letter.
    else if (i->is_regular_file(ignored) && may_be_name(name) && name[0] >= 'A' && name[0] <= 'Z') names.push_back(std::move(name));
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// Names that may have been meant: the same but for capitals and blanks, else the same city, else a slip of the fingers.
std::vector<std::string> near_names(std::string_view name, const std::vector<std::string>& names) {
  const std::string wanted = lower(name);
  std::vector<std::string> found;
  for (const std::string& n : names)
    if (lower(n) == wanted) return {n};
  for (const std::string& n : names)
    if (lower(city(n)) == city(wanted) && found.size() < 3) found.push_back(n);
  // "UTC+2" is near to "UTC" in letters only.
  if (!found.empty() || wanted.find_first_of("0123456789") != std::string::npos) return found;
  for (const bool whole : {true, false}) {
    std::vector<std::string> low;
    low.reserve(names.size());
    for (const std::string& n : names) low.push_back(whole ? lower(n) : lower(city(n)));
    const std::vector<std::string_view> views(low.begin(), low.end());
    const std::string_view word = whole ? std::string_view(wanted) : city(wanted), best = text::nearest(word, views);
    // So many cities have short names that one is always half alike.
    const bool near = !best.empty() && (whole || text::distance(word, best) <= word.size() / 3);
    for (std::size_t i = 0; near && i < low.size() && found.size() < 3; ++i)
      if (low[i] == best) found.push_back(names[i]);
    if (!found.empty()) return found;
  }
  return found;
}

tl::unexpected<Problems> unknown(std::string_view name, const std::string& folder) {
  std::error_code error;
  const auto names = all_names(folder);
  if (names.empty()) return fail(Problem{"file", {.file = text::harmless(folder)}, "there are no tables of time zones here", "", "install the package tzdata, or name the folder of zoneinfo in TZDIR"});
  std::string list;
  for (const std::string& n : near_names(name, names)) list += fmt::format("{}\"{}\"", list.empty() ? "" : " or ", n);
  const std::string shown = name.size() <= 64 ? text::harmless(name) : fmt::format("a text of {} bytes", name.size());
  return fail(Problem{"zone-unknown", {}, fmt::format("\"{}\" is no time zone", shown), "a zone is named by part of the world and city, as in the IANA list; abbreviations and bare offsets do not tell when clocks change",
                      list.empty() ? "write one like \"Europe/Berlin\" or \"America/New_York\"" : fmt::format("did you mean {}?", list)});
}

chrono::local_seconds shown(chrono::sys_seconds instant, std::int64_t offset) { return chrono::local_seconds(instant.time_since_epoch() + chrono::seconds(offset)); }

tl::unexpected<Problems> skipped(const Zone& zone, const LocalTime& time, std::string_view option, std::int64_t change, std::int64_t before, std::int64_t after) {
  const chrono::sys_seconds at{chrono::seconds(change)};
  const LocalTime last = from_clock(shown(at, before) - chrono::seconds(1)), from = from_clock(shown(at, before)), to = from_clock(shown(at, after));
  return fail(Problem{"time-skipped", {}, fmt::format("{}: clocks in {} never show {}", option, zone.name, iso(time)),
                      fmt::format("they are put forward there, from {} to {}", iso(from), iso(to)),
                      fmt::format("write \"{}\" or earlier, or \"{}\" or later", iso(last), iso(to))});
}

}  // namespace

Result<Zone> find_zone(std::string_view name) {
  const std::string folder = table_folder();
  if (!may_be_name(name)) return unknown(name, folder);
  const std::string path = folder + "/" + std::string(name);
  std::error_code error;
  if (!fs::is_regular_file(path, error)) return unknown(name, folder);
  const auto bytes = read_text(path);
  if (!bytes) return fail(bytes.error());
  if (bytes->rfind("TZif", 0) != 0) return unknown(name, folder);
  auto rules = ZoneRules::read(*bytes);
  if (!rules) return fail(Problem{"file", {.file = text::harmless(path)}, "the table of this time zone cannot be used", "it is damaged, counts leap seconds, or has the form of before 2005 (TZif version 1)", "install the package tzdata again"});
  return Zone{std::string(name), std::move(*rules)};
}

Result<Moment> to_utc(const Zone& zone, const LocalTime& time, std::string_view option) {
  const std::int64_t local = on_clock(time).time_since_epoch().count();
  // Instants that show this time lie within the widest offset; every stretch between two changes there is tried.
  std::vector<std::int64_t> found;
  std::int64_t from = local - widest, offset = zone.rules.at(from).offset;
  std::int64_t gap = 0, before = 0, after = 0;
  while (true) {
    const auto change = zone.rules.next_change(from);
    const bool last = !change || change->at > local + widest;
    const std::int64_t utc = local - offset;
    if (utc >= from && (last || utc < change->at)) found.push_back(utc);
    if (last) break;
    if (change->at + offset <= local && local < change->at + change->to.offset) gap = change->at, before = offset, after = change->to.offset;
    from = change->at;
    offset = change->to.offset;
  }
  if (found.empty()) return skipped(zone, time, option, gap, before, after);
  return Moment{chrono::sys_seconds(chrono::seconds(*std::min_element(found.begin(), found.end()))), found.size() > 1};
}

ZonedTime to_local(const Zone& zone, chrono::sys_seconds instant) {
  const ZoneType type = zone.rules.at(instant.time_since_epoch().count());
  return {from_clock(shown(instant, type.offset)), type.abbreviation, chrono::seconds(type.offset)};
}

}  // namespace curdwright::program
