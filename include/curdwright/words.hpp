// SPDX-License-Identifier: MIT
/// \file words.hpp
/// Words for the values of an enum, as recipes, kitchens, records and outputs spell them.
///
///     std::string_view said = word(Where::fridge);                // "fridge"
///     std::optional<Where> told = from_word<Where>("freezer");    // nothing for a word that is none
///
/// Each enum with words stands in the header of what it belongs to, with a `Words` beside it.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

namespace curdwright {

/// Specialised for an enum: `all`, its words in the order of its values.
template <class E>
struct Words;

template <class E>
concept Worded = requires { Words<E>::all.size(); };

template <Worded E>
constexpr std::string_view word(E value) {
  return Words<E>::all[static_cast<std::size_t>(value)];
}

template <Worded E>
constexpr std::optional<E> from_word(std::string_view text) {
  for (std::size_t i = 0; i < Words<E>::all.size(); ++i)
    if (Words<E>::all[i] == text) return static_cast<E>(i);
  return std::nullopt;
}

/// Every value, in order.
template <Worded E>
constexpr auto all_values() {
  std::array<E, Words<E>::all.size()> all{};
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<E>(i);
  return all;
}

}  // namespace curdwright
