// SPDX-License-Identifier: MIT
#include "located.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "json/document.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

/// Whether a setting wrote what stands at a pointer, or a part of it, or what it is a part of.
bool wrote(std::string_view setting, std::string_view pointer) {
  const std::string_view set = setting.substr(0, setting.find('='));
  const auto holds = [](std::string_view whole, std::string_view part) { return part.starts_with(whole) && (part.size() == whole.size() || part[whole.size()] == '/'); };
  return holds(set, pointer) || holds(pointer, set);
}

/// A text that is read once, when its first problem is placed.
class PlacedText {
 public:
  PlacedText(const std::string& text, const std::string& file) : text_(text), file_(file) {}
  [[nodiscard]] Place place_of(std::string_view below, const std::string& pointer) {
    if (!read_) document_ = json::parse(text_, file_), read_ = true;
    const json::Node* node = document_ ? json::node_at(*document_, below) : nullptr;
    return node ? document_->place(*node, pointer) : Place{.file = file_, .pointer = pointer};
  }

 private:
  const std::string& text_;
  const std::string& file_;
  bool read_ = false;
  Result<json::Document> document_;
};

}  // namespace

Problems located(Problems problems, const Origin& from) {
  PlacedText recipe(from.recipe, from.recipe_file), kitchen(from.kitchen, from.kitchen_file);
  for (Problem& p : problems) {
    if (!p.place.file.empty() || p.place.pointer.empty()) continue;
    const std::string pointer = p.place.pointer;
    // Of several settings the last one holds.
    const auto set = std::find_if(from.set.rbegin(), from.set.rend(), [&](const std::string& s) { return wrote(s, pointer); });
    const Way way = way_of(pointer);
    if (set != from.set.rend())
      p.place.file = fmt::format("--set {}", text::cut(*set, 120));
    else
      p.place = (way.to_kitchen ? kitchen : recipe).place_of(way.below, pointer);
  }
  return problems;
}

}  // namespace curdwright
