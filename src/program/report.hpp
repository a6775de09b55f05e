// SPDX-License-Identifier: MIT
// Problems as people and scripts read them.
#pragma once

#include <string>
#include <string_view>

#include "curdwright/problem.hpp"

namespace curdwright::program {

/// Bold red when coloured.
std::string strong(std::string_view s, bool colour);
std::string problems_text(const Problems& problems, bool colour);
std::string problems_json(const Problems& problems);

/// The name of a file as problems show it; an empty one would otherwise be no name at all.
Place shown_as(const std::string& path);
/// What to do about an error of writing to a file. \param error as errno tells it
std::string mend_writing(int error);

}  // namespace curdwright::program
