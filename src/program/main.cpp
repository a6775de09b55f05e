// SPDX-License-Identifier: MIT
#include <exception>
#include <string>
#include <string_view>

#include "program/commands.hpp"
#include "program/files.hpp"
#include "program/report.hpp"

int main(int argc, char** argv) {
  using namespace curdwright;
  using namespace curdwright::program;
  install_signal_handlers();
  try {
    const auto request = read_command_line(argc, argv);
    if (request) return run(*request);
    // The request could not be read, so its format is looked up by eye.
    bool json = false;
    for (int i = 1; i < argc; ++i) {
      const std::string_view word = argv[i];
      json = json || word == "--format=json" || (word == "--format" && i + 1 < argc && std::string_view(argv[i + 1]) == "json");
    }
    write_error(json ? problems_json(request.error()) : problems_text(request.error(), wants_colour("auto", standard_error_is_terminal())));
    return bad_input;
  } catch (const std::exception& e) {
    write_error(std::string("curdwright: a fault of the program, not of your input: ") + e.what() + "\n  fix: please report it, with the command and the recipe\n");
    return our_fault;
  }
}
