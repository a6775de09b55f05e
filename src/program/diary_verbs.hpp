// SPDX-License-Identifier: MIT
// The verbs of the command `diary`, one function each; what they take stands in the table of diary_commands.cpp.
#pragma once

#include "program/request.hpp"

namespace curdwright::program::diary {

// Those that add a line: diary_write.cpp.
int start(const Request& r);
int add(const Request& r);
int score(const Request& r);
int piece(const Request& r);

// Those that read: diary_read.cpp.
int list(const Request& r);
int show(const Request& r);
int compare(const Request& r);
int export_all(const Request& r);
int left(const Request& r);

}  // namespace curdwright::program::diary
