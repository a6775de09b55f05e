// SPDX-License-Identifier: MIT
// Every number of every output: what it can never be, by the name of its key.
#pragma once

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace curdwright::test {

/// Ratios of two different things, which may pass one, and the reading of an instrument on its own scale: mostly oil in the
/// grinding water shows more than 100 degrees. All other keys in `_fraction` are parts of a whole.
inline bool is_part(std::string_view key) {
  constexpr std::array ratios = {"water_to_dry_fraction", "water_to_soaked_fraction",
                                  "yield_fraction", "make_up_fraction", "to_dry_fraction", "milk_brix_fraction"};
  return key.ends_with("_fraction") && std::none_of(ratios.begin(), ratios.end(), [&](const char* r) { return key.ends_with(r); });
}

/// Temperatures, money that by-products may earn back, and differences may lie below zero; nothing else may.
inline bool may_be_negative(std::string_view path) {
  for (const char* part : {"/cost", "/to_first", "beside", "difference", "/offsets", "/covariance", "/worth_money", "/moved"})
    if (path.find(part) != std::string_view::npos) return true;
  return path.find("_c/") != std::string_view::npos || path.ends_with("_c");
}

/// What is wrong with the number at a path; empty when it can be.
inline std::string number_fault(const std::string& path, double v) {
  const std::string_view key = std::string_view(path).substr(path.rfind('/') + 1);
  const bool end = key == "low" || key == "high";
  const std::string_view above = end ? std::string_view(path).substr(0, path.rfind('/')) : path;
  const std::string_view name = above.substr(above.rfind('/') + 1);
  if (!std::isfinite(v)) return path + " is not finite\n";
  if (v < 0 && !may_be_negative(path)) return path + " is " + std::to_string(v) + "\n";
  const bool of_a_day = path.find("/of_a_day/") != std::string::npos;  // of a reference intake: may pass it
  if (((is_part(name) && !of_a_day && !may_be_negative(path)) || name.starts_with("chance")) && v > 1 + 1e-9) return path + " is " + std::to_string(v) + "\n";
  return "";
}

/// All faults of the numbers in a JSON document. A null stands where a number was none: the documents leave out what is not there.
inline std::string number_faults(const nlohmann::json& j, const std::string& path = "") {
  std::string all;
  if (j.is_null()) all += path + " is null\n";
  if (j.is_number()) all += number_fault(path, j.get<double>());
  if (j.is_object() && j.contains("low") && j.contains("high") && j["low"].is_number() && j["high"].is_number() && j["low"].get<double>() > j["high"].get<double>())
    all += path + ": low is above high\n";
  if (j.is_structured())
    for (const auto& [key, inner] : j.items()) {
      std::string below = path + "/";
      below += key;
      all += number_faults(inner, below);
    }
  return all;
}

inline std::string number_faults_of(const std::string& text) {
  const auto j = nlohmann::json::parse(text, nullptr, false);
  return j.is_discarded() ? "not JSON\n" : number_faults(j);
}

/// Numbers that a page for people must not hold: "nan", "inf", "-3 g", "1e+06", thirteen digits in a row.
/// \param data a table for programs, in which exponents and long numbers are at home
inline std::string page_fault(std::string_view page, bool data = false) {
  const auto letter = [&](std::size_t i) { return i < page.size() && std::isalnum(static_cast<unsigned char>(page[i])) != 0; };
  const auto digit = [&](std::size_t i) { return i < page.size() && std::isdigit(static_cast<unsigned char>(page[i])) != 0; };
  const auto around = [&](std::size_t i) { return "..." + std::string(page.substr(i < 40 ? 0 : i - 40, 80)) + "...\n"; };
  for (std::string_view word : {"nan", "inf", "-nan", "-inf", "null"})
    for (std::size_t i = page.find(word); i != std::string_view::npos; i = page.find(word, i + 1))
      if ((i == 0 || !letter(i - 1)) && !letter(i + word.size())) return around(i);
  std::size_t run = 0;
  for (std::size_t i = 0; i < page.size(); ++i) {
    run = digit(i) ? run + 1 : 0;
    if (run >= 13 && !data) return around(i);
    if (!data && digit(i) && i + 2 < page.size() && page[i + 1] == 'e' && (page[i + 2] == '+' || page[i + 2] == '-')) return around(i);
    // A minus before an amount; a span of two numbers has a digit before it, a temperature its own unit behind it.
    if (data && page.substr(i).starts_with(",-")) return around(i);
    if (page[i] != '-' || !digit(i + 1) || (i > 0 && page[i - 1] != ' ' && page[i - 1] != '(' && page[i - 1] != '\n')) continue;
    std::size_t end = i + 1;
    while (digit(end) || (end < page.size() && page[end] == '.')) ++end;
    for (std::string_view unit : {"g", "kg", "mg", "ml", "l", "s", "min", "h", "cm", "mm", "kPa", "oz", "lb", "kcal", "blocks"})
      if (page.substr(end).starts_with(" " + std::string(unit)) && !letter(end + 1 + unit.size())) return around(i);
  }
  return "";
}

}  // namespace curdwright::test
