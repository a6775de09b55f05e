// SPDX-License-Identifier: MIT
// Stands in for program/files.cpp.
#include "fuzz/world.hpp"

#include <fstream>
#include <sstream>

#include "fuzz/fuzz.hpp"
#include "program/files.hpp"

namespace curdwright::fuzz {

World& world() {
  static World w;
  return w;
}

}  // namespace curdwright::fuzz

namespace curdwright::program {
namespace {

constexpr std::string_view zone_folder = "/usr/share/zoneinfo/";

/// Tables of time zones are the only files that are there in truth, and nothing else may be asked for by their way.
Result<std::string> zone_table(const std::string& path) {
  fuzz::hold(path.find("..") == std::string::npos, "a file outside of its folder", path);
  std::ifstream in(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  return bytes.str();
}

}  // namespace

Result<std::string> read_text(const std::string& path) {
  if (path.starts_with(zone_folder)) return zone_table(path);
  const auto found = fuzz::world().files.find(path);
  fuzz::hold(found != fuzz::world().files.end(), "a file that nobody named", path);
  return found->second;
}

bool file_is_there(const std::string& path) { return fuzz::world().files.contains(path); }
bool same_file(const std::string& a, const std::string& b) { return a == b; }

Result<void> write_file(const std::string&, std::string_view, bool) {
  ++fuzz::world().written_files;
  return {};
}
void remove_file(const std::string&) {}

Result<void> write_out(std::string_view text) {
  fuzz::world().out += text;
  return {};
}
Result<bool> write_on(std::string_view text) {
  fuzz::world().out += text;
  return true;
}
void write_error(std::string_view text) { fuzz::world().err += text; }

Result<std::vector<RecordText>> read_records(const std::string&) { return std::vector<RecordText>{}; }
Terminal standard_output() { return {}; }
bool standard_error_is_terminal() { return false; }
bool standard_input_is_terminal() { return false; }
std::optional<std::string> read_line() { return std::nullopt; }
std::string environment(const char*) { return ""; }
bool wants_colour(std::string_view option, bool) { return option == "always"; }
void install_signal_handlers() {}
void stop_when_asked() {}
bool stop_asked() { return false; }

}  // namespace curdwright::program
