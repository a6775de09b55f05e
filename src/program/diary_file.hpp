// SPDX-License-Identifier: MIT
// The diary on disk: where it is, how it is read, and how a line is added so that nothing that was said to be done is ever lost.
//
//     Result<std::string> path = diary_path(request);
//     Result<std::string> text = read_diary_text(*path);        // empty where there is none yet
//     Result<void> done = append_to_diary(*path, [&](std::string_view text) { return line_after(text, event); });
#pragma once

#include <functional>
#include <string>

#include "program/request.hpp"

namespace curdwright::program {

/// --diary, else CURDWRIGHT_DIARY, else curdwright/diary.jsonl in the data folder of the XDG base directory rules.
Result<std::string> diary_path(const Request& r);

/// The whole diary, read while nobody writes. No file is an empty diary.
Result<std::string> read_diary_text(const std::string& path);

/// Whether there is nothing at all at that place.
bool no_diary_yet(const std::string& path);

/// What to add to a diary that holds `text`. It may be called once only, with the diary locked.
using NextBytes = std::function<Result<std::string>(std::string_view text)>;

/// Adds to the diary: locked, in one write, flushed to the disk. A write that fails is taken back whole.
Result<void> append_to_diary(const std::string& path, const NextBytes& next);

}  // namespace curdwright::program
