// SPDX-License-Identifier: MIT
// The reference in Markdown, made from the tables of commands, options and topics and from the schemas.
#pragma once

#include <string>
#include <string_view>

#include "program/options.hpp"
#include "program/topics.hpp"

namespace curdwright::program {

/// All commands, options and topics: docs/commands.md.
std::string commands_markdown();
std::string command_markdown(const CommandRow& command);
std::string topic_markdown(const Topic& topic);

/// The keys of one kind of file or answer, by its schema: a section of docs/formats.md.
std::string format_markdown(std::string_view kind, std::string_view schema);

}  // namespace curdwright::program
