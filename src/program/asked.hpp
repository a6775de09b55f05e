// SPDX-License-Identifier: MIT
// What the commands that ask "what if" have in common: which responses, and how a fault of a setting is shown.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "curdwright/response.hpp"
#include "program/request.hpp"

namespace curdwright::program {

/// Those of --figures, or these.
Result<std::vector<const Response*>> responses_of(const Request& r, std::span<const std::string_view> otherwise);

/// How much work goes into ranges: --ranges.
Result<Depth> depth_of(const Request& r);

/// The same problems, of the option that was typed.
Problems of_option(Problems problems, std::string_view option, std::string_view value);

/// Whether pictures may use more than ASCII: --plot, else the locale of the environment. Nothing when none are wanted.
Result<std::string> plot_wish(const Request& r);

/// Columns of the page: --width, else the terminal's.
Result<int> width_of(const Request& r);

}  // namespace curdwright::program
