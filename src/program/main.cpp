// SPDX-License-Identifier: MIT
#include <exception>
#include <string>
#include <string_view>

#include "program/answers.hpp"
#include "program/commands.hpp"
#include "program/files.hpp"
#include "program/options.hpp"
#include "program/report.hpp"

int main(int argc, char** argv) {
  using namespace curdwright;
  using namespace curdwright::program;
  install_signal_handlers();
  try {
    const auto request = read_command_line(argc, argv);
    if (request) return run(*request);
    const bool json = option_by_eye(argc, argv, "--format") == "json";
    const bool colour = wants_colour(option_by_eye(argc, argv, "--color"), standard_error_is_terminal());
    write_error(json ? problems_json(request.error()) : problems_text(request.error(), colour));
    return bad_input;
  } catch (const std::exception& e) {
    write_error(std::string("curdwright: a fault of the program, not of your input: ") + e.what() + "\n  fix: please report it, with the command and the recipe\n");
    return our_fault;
  }
}
