// SPDX-License-Identifier: MIT
// The one table of commands and options: the parser and the help are made from it.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "curdwright/problem.hpp"
#include "program/request.hpp"

namespace curdwright::program {

struct CommandRow {
  std::string_view name, words, purpose, example;  ///< words: what stands after the name
  int least, most;                                 ///< number of words; most -1: any
  std::string_view more = "";                      ///< lines of its help, below the purpose
};
std::span<const CommandRow> all_commands();
/// nullptr for a word that is none.
const CommandRow* find_command(std::string_view name);

struct OptionRow {
  std::string_view name;      ///< "--blocks"
  std::string_view letter;    ///< "-o", or empty
  std::string_view value;     ///< "N"; empty for a switch
  std::string_view commands;  ///< space-separated; "*" for all
  std::string_view help;
  bool repeats = false;
};
std::span<const OptionRow> all_options();
/// By its name or its letter; nothing where there is none.
const OptionRow* option_named(std::string_view name);

Result<Request> read_command_line(int argc, const char* const* argv);
/// The value of an option of a command line that cannot be read as a whole; empty when it is not there.
std::string option_by_eye(int argc, const char* const* argv, std::string_view name);

std::string short_help();
/// Help of one command; empty when there is none of that name.
std::string help_of(std::string_view command);
std::string full_help();

}  // namespace curdwright::program
