// SPDX-License-Identifier: MIT
// Where the program touches files and the terminal.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/catalogue.hpp"
#include "curdwright/problem.hpp"

namespace curdwright::program {

/// Whole text of a file, or of standard input for "-". Stops a little past the largest size that is read.
Result<std::string> read_text(const std::string& path);

/// Whether something of that name is there.
bool file_is_there(const std::string& path);
/// Whether two names lead to one file.
bool same_file(const std::string& a, const std::string& b);

/// Writes whole or not at all: to a temporary name beside it, then renamed. An existing file stays unless `force`.
Result<void> write_file(const std::string& path, std::string_view text, bool force);

/// Takes back a file that was just written.
void remove_file(const std::string& path);

/// To standard output. A closed pipe is silent success.
Result<void> write_out(std::string_view text);
/// A part of a stream of answers; false when nobody reads on.
Result<bool> write_on(std::string_view text);
void write_error(std::string_view text);

/// Records of a user's folder, as Catalogue::add takes them.
Result<std::vector<RecordText>> read_records(const std::string& folder);

struct Terminal {
  bool is_terminal = false;
  int columns = 79;
};
Terminal standard_output();
bool standard_error_is_terminal();
bool standard_input_is_terminal();
/// A line that is typed, without its end; nothing where the input ends before one.
std::optional<std::string> read_line();
/// The value of an environment variable; empty when unset.
std::string environment(const char* name);

/// Whether to colour: the option beats the environment, and the environment the terminal.
bool wants_colour(std::string_view option, bool is_terminal);

void install_signal_handlers();
/// From now on an interrupt only asks to stop; a second one ends the program.
void stop_when_asked();
bool stop_asked();

}  // namespace curdwright::program
