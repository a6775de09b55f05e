// SPDX-License-Identifier: MIT
// Lists and records as people and scripts read them, and starter files.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "curdwright/catalogue.hpp"
#include "curdwright/kitchen.hpp"

namespace curdwright::program {

/// What list_text knows.
std::span<const std::string_view> list_words();
/// legumes, coagulants, extras, blenders, strainers, presses, rules; with `refused` the refused seeds or salts.
Result<std::string> list_text(const Catalogue& catalogue, std::string_view what, bool refused, bool json);
/// A legume, a coagulant or an extra, each figure with range, unit, how known, source.
Result<std::string> show_text(const Catalogue& catalogue, std::string_view what, std::string_view id, bool json);
/// The kitchen with the figures of its gear.
Result<std::string> kitchen_sheet(const Catalogue& catalogue, const Kitchen& kitchen, bool json);
/// A recipe with the defaults of its legume written out.
Result<std::string> starter_recipe(const Catalogue& catalogue, const Kitchen& kitchen, std::string_view legume, int blocks, std::optional<Mass> block = {});

}  // namespace curdwright::program
