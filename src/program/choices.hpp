// SPDX-License-Identifier: MIT
// The words that an option may be: one table for the commands, the help and the shells.
#pragma once

#include <string>
#include <string_view>

#include "program/options.hpp"

namespace curdwright::program {

/// "text|json|ics": what an option takes with a command ("sheet") or a verb ("diary show"), first what goes without saying; empty where it takes
/// what the user makes up.
std::string_view choices(const OptionRow& option, std::string_view command);
/// What an option does with a command.
std::string_view help_with(const OptionRow& option, std::string_view command);

/// "sheet", or "diary show".
std::string command_and_verb(const Request& r);
/// The word that an option gives, one of its choices; the first when it is not given.
Result<std::string> chosen(const Request& r, std::string_view option);

}  // namespace curdwright::program
