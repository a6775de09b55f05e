// SPDX-License-Identifier: MIT
// A diary and its batches opened for a verb: with the kitchen that each was made in, and its clock.
#pragma once

#include <optional>
#include <string>

#include "program/request.hpp"
#include "sheets/diary.hpp"

namespace curdwright::program {

/// A batch with the kitchen that it was made in.
struct Opened {
  DiaryBatch batch;
  Kitchen kitchen;
  sheets::DiaryClock clock;
};
Opened opened(DiaryBatch batch);

enum class Missing { is_empty, is_wrong };
/// A diary by its file, which may not be there yet.
/// \param only one batch: the others are checked, but not read
Result<Diary> diary_at(const std::string& path, Missing missing, std::optional<std::string_view> only = std::nullopt);
/// The diary of the command line; torn lines are warned of.
/// \param only one batch: the others are checked, but not read
Result<Diary> whole_diary(const Request& r, std::optional<std::string_view> only = std::nullopt);
Result<Opened> open_batch(const Request& r, const std::string& id);

/// --at, by the kitchen's clock; now when it is not given.
Result<Instant> told_at(const Request& r, const Kitchen& kitchen);
/// --on, or today by the kitchen's clock.
Result<LocalTime> told_on(const Request& r, const sheets::DiaryClock& clock);

/// "chickpea-7", or a piece of it: "chickpea-7:A".
struct Named {
  std::string id, piece;
  bool of_piece = false;
};
Named named(const std::string& word);
Problem no_piece(const DiaryBatch& batch, const std::string& name);

}  // namespace curdwright::program
