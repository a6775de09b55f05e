// SPDX-License-Identifier: MIT
// The lines of a diary: how an event becomes one and comes back.
#pragma once

#include <vector>

#include "curdwright/diary.hpp"

namespace curdwright::diary {

/// CRC-32 of IEEE 802.3, as eight hexadecimal digits.
std::string checksum(std::string_view bytes);
/// Whether a line, without its line feed, is whole.
bool is_whole(std::string_view line);

/// Whether it ends as a line does, whatever its checksum: such a line was not torn, but changed.
bool is_sealed(std::string_view line);
/// Whether a line that is not whole may be the beginning of one.
bool looks_ours(std::string_view line);

/// One line without its line feed.
std::string write_line(const DiaryEvent& event, std::size_t torn_bytes);
/// Nothing when a whole line cannot be understood.
std::optional<DiaryEvent> read_line(std::string_view line);

/// The value of a key of the head of a whole line: schema, kind, at, id.
std::string_view head_word(std::string_view line, std::string_view key);
/// Bytes of torn lines that a whole line says stand before it.
std::size_t torn_before(std::string_view line);

/// Lines without their line feeds; behind the last line feed nothing more begins.
std::vector<std::string_view> lines_of(std::string_view text);

}  // namespace curdwright::diary
