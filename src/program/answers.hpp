// SPDX-License-Identifier: MIT
// What all commands share: options that are numbers, and how an answer or a problem leaves the program.
#pragma once

#include <string>
#include <string_view>

#include "program/request.hpp"

namespace curdwright::program {

enum Status { done = 0, answer_is_no = 1, bad_input = 2, bad_file = 3, our_fault = 70, interrupted = 130 };

/// Status that a set of problems asks for.
Status status_of(const Problems& problems);

Result<int> count_option(const Request& r, std::string_view option, int low, int high);

bool to_file(const Request& r);
/// Whether what is answered may be coloured: never in a file.
bool coloured(const Request& r);

/// Tells problems; returns their status.
int report(const Request& r, const Problems& problems);
/// Tells what does not stand in the way.
void warn(const Request& r, const Problems& warnings);
/// Writes an answer to where it is wanted; returns `status`, or that of the problem of writing.
int finish(const Request& r, std::string_view text, int status);

}  // namespace curdwright::program
