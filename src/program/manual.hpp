// SPDX-License-Identifier: MIT
// Pages of the manual, in the man macros that groff and mandoc read, made from the tables of commands, options and topics.
#pragma once

#include <string>

#include "program/options.hpp"
#include "program/topics.hpp"

namespace curdwright::program {

/// curdwright(1)
std::string program_page();
/// curdwright-sheet(1)
std::string command_page(const CommandRow& command);
/// curdwright-recipe(5), curdwright-amounts(7)
std::string topic_page(const Topic& topic);

}  // namespace curdwright::program
