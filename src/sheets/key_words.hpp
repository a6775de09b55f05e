// SPDX-License-Identifier: MIT
// What the keys of answers mean, once for all documents: one key, one meaning.
#pragma once

#include <nlohmann/json.hpp>
#include <span>
#include <string>
#include <string_view>

namespace curdwright::sheets {

/// A key ("pulp"), or a key under another ("moves/stop"), with or without the unit that it ends in; and what it says.
struct KeyWord {
  std::string_view key, says;
};
std::span<const KeyWord> all_key_words();

/// Gives each property of a schema of that kind ("sheet") a description, where it has none: from the table by "parent/key", else by "key";
/// the unit is told by the key's ending. What the table does not know stays without, and a test finds it.
void describe_keys(nlohmann::ordered_json& schema, const std::string& kind);

}  // namespace curdwright::sheets
