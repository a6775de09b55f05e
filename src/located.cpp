// SPDX-License-Identifier: MIT
#include "located.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "json/document.hpp"
#include "text/width.hpp"

namespace curdwright {

Problems located(Problems problems, const Origin& from) {
  for (Problem& p : problems) {
    if (!p.place.file.empty() || p.place.pointer.empty()) continue;
    const std::string pointer = p.place.pointer;
    const auto set = std::find_if(from.set.begin(), from.set.end(), [&](const std::string& s) { return s.starts_with(pointer + "=") || s.starts_with(pointer + "/"); });
    const bool in_kitchen = pointer.starts_with("/kitchen");
    p.place.file = set != from.set.end() ? fmt::format("--set {}", text::cut(*set, 120)) : in_kitchen ? from.kitchen_file : from.recipe_file;
    if (set != from.set.end()) continue;
    const auto document = json::parse(in_kitchen ? from.kitchen : from.recipe, p.place.file);
    if (!document) continue;
    if (const json::Node* node = json::node_at(*document, in_kitchen ? pointer.substr(8) : pointer)) p.place = document->place(*node, pointer);
  }
  return problems;
}

}  // namespace curdwright
