// SPDX-License-Identifier: MIT
// JSON Schemas of the small answers: check, list, show, problems, and the diary's list, comparison and receipt.
#pragma once

#include <string>

namespace curdwright::sheets {

std::string check_schema();
std::string list_schema();
std::string problems_schema();
std::string shown_legume_schema();
std::string shown_coagulant_schema();
std::string shown_extra_schema();
std::string shown_kitchen_schema();
std::string diary_list_schema();
std::string diary_compare_schema();
std::string diary_told_schema();

}  // namespace curdwright::sheets
