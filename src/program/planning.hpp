// SPDX-License-Identifier: MIT
// From a request to a planned batch: which texts are read, what the options set on top of them, and where a problem is to be shown.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/study.hpp"
#include "located.hpp"
#include "program/request.hpp"

namespace curdwright::program {

/// Options that shape a batch: what is wanted of it, its kitchen and records, and what is set.
inline constexpr std::array<std::string_view, 10> batch_options = {"--kitchen", "--data", "--blocks", "--curd", "--dry", "--protein", "--fill", "--sure", "--set", "--price"};
/// What can be typed to get the sheet of the recipe that a command was given, with all that shapes it.
std::string sheet_call(const Request& r);

Result<Want> want_of(const Request& r);
/// The records of --data; none without it.
Result<std::vector<RecordText>> own_records(const Request& r);
/// The shipped records, with others.
Result<Catalogue> catalogue_with(std::vector<RecordText> records);
/// The shipped records, with those of --data.
Result<Catalogue> catalogue_of(const Request& r);
/// The kitchen file that is named; empty for the built-in kitchen.
std::string kitchen_path(const Request& r);
/// Reads the kitchen file that is named, if one is.
Result<void> kitchen_text(const Request& r, InputTexts& texts);
/// The kitchen that is named, else the built-in one.
Result<Kitchen> kitchen_of(const Request& r);
/// A kitchen as a file of its own: it names the schema, so that an editor that finds it completes and checks.
std::string kitchen_as_file(Kitchen kitchen);
/// Standard input can be read once.
Result<void> check_standard_input(const Request& r);
/// A recipe with the kitchen, settings, prices and target of the options.
Result<InputTexts> with_options(const Request& r, std::string recipe, std::string file);
/// The same of a file.
Result<InputTexts> input_texts(const Request& r, const std::string& path);

/// A batch with what it was read from, so that it can be planned again with another soak.
struct Planned {
  Origin from;
  Inputs inputs;
  Batch batch;
};

/// A batch, or problems at the places of what they came from.
Result<Batch> plan_located(const Inputs& inputs, const Origin& from, const Catalogue& catalogue);
/// Texts are read and planned; problems of both kinds come back as problems.
Result<Planned> planned_texts(InputTexts texts, const Catalogue& catalogue, bool want_needed);
/// The same of a file and the options, for one run: of a batch too large for that, one of those it is shared out into.
Result<Planned> plan_file(const Request& r, const std::string& path, const Catalogue& catalogue, bool want_needed);
/// Whether the kitchen's time zone is one, as far as this machine can tell.
Result<void> check_zone(const Planned& p);

}  // namespace curdwright::program
