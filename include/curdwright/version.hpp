// SPDX-License-Identifier: MIT
/// \file version.hpp
/// Which program, which records and which equations a sheet comes from.
#pragma once
#include <string_view>

namespace curdwright {

inline constexpr std::string_view program_version = "0.1.0";
inline constexpr std::string_view release_date = "2026-11-28";
inline constexpr std::string_view data_version = "2026.11";   ///< of the shipped records
inline constexpr std::string_view model_version = "1";        ///< of the equations

}  // namespace curdwright
