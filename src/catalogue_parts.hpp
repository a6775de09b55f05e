// SPDX-License-Identifier: MIT
// What finding a record and checking one share.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/catalogue.hpp"
#include "embedded.hpp"
#include "records.hpp"
#include "text/letters.hpp"

namespace curdwright {

inline std::string path_of(std::string_view folder, std::string_view id) { return std::string(folder) + "/" + std::string(id) + ".json"; }
/// The id of a record's path below a folder; empty when it lies elsewhere.
std::string id_below(std::string_view folder, std::string_view path);
std::vector<std::string> shipped_ids(std::string_view folder);

const EmbeddedFile* find_embedded(std::string_view path);
/// How `list` calls the gear of a kind.
constexpr std::string_view list_word(EquipmentKind kind) {
  constexpr std::array<std::string_view, word_list<EquipmentKind>.size()> words = {"blenders", "strainers", "presses", "chillers", "hobs"};
  return words[static_cast<std::size_t>(kind)];
}

/// The user's record where there is one, else the shipped one.
std::optional<RecordText> record_at(const RecordText* own, std::string_view path);

/// Every name that a record answers to.
template <class Record>
std::vector<std::string> names_of(const Record& r) {
  std::vector<std::string> all = {r.id, r.name};
  if constexpr (requires { r.kitchen_name; }) all.push_back(r.kitchen_name);
  all.insert(all.end(), r.also.begin(), r.also.end());
  return all;
}

/// \param wanted in lower case
template <class Record>
bool is_named(std::string_view wanted, const Record& r) {
  const auto names = names_of(r);
  return std::any_of(names.begin(), names.end(), [&](const std::string& n) { return text::lower_case(n) == wanted; });
}

}  // namespace curdwright
