// SPDX-License-Identifier: MIT
// JSON Schemas of the answers that the program itself lays out: lists, records shown, checks, problems, and the diary's small ones.
#pragma once

#include <string>

namespace curdwright::program {

std::string check_schema();
std::string list_schema();
std::string show_legume_schema();
std::string show_coagulant_schema();
std::string show_extra_schema();
std::string show_kitchen_schema();
std::string diary_list_schema();
std::string diary_compare_schema();
std::string diary_told_schema();
std::string problems_schema();

}  // namespace curdwright::program
