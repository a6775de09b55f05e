// SPDX-License-Identifier: MIT
// The commands: each answers one request and returns the exit status, in a file of its own name. Chosen by commands.cpp.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_sheet(const Request& request);    ///< a recipe or a batch of the diary, planned, corrected by what was told of it, and printed
int run_check(const Request& request);    ///< recipes that are read and planned, and what there is to take care of
int run_diary(const Request& request);    ///< its verbs are in diary_commands.hpp
int run_learn(const Request& request);    ///< from a diary to a kitchen that knows itself
int run_explain(const Request& request);  ///< how a figure of a recipe comes about
int run_vary(const Request& request);     ///< a recipe over one or two of its settings, as a table and as pictures
int run_best(const Request& request);     ///< the settings with which a recipe does best
int run_compare(const Request& request);  ///< recipes side by side
int run_rank(const Request& request);     ///< which legume to try next
int run_each(const Request& request);     ///< recipes by the line, answers by the line
int run_list(const Request& request);     ///< records, rules and the like, a line each; with show in browse_commands.cpp
int run_show(const Request& request);     ///< one of them, or the kitchen in use, whole
int run_new(const Request& request);      ///< a recipe or a kitchen to begin with
int run_schema(const Request& request);   ///< the JSON Schema of every file and answer
int run_help(const Request& request);     ///< of a command or a topic, for the terminal or as a page of the manual
int run_shell(const Request& request);    ///< scripts that complete words, and what they ask the program

}  // namespace curdwright::program
