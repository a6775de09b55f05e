// SPDX-License-Identifier: MIT
/// \file words.hpp
/// Words for the values of an enum, as recipes, kitchens, records and outputs spell them.
///
///     std::string_view said = word(Where::fridge);                // "fridge"
///     std::optional<Where> told = from_word<Where>("freezer");    // nothing for a word that is none
///
/// Each enum with words stands in the header of what it belongs to, with its `word_list` beside it.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright {

/// The words of an enum, in the order of its values. An enum without words has none.
template <class E>
inline constexpr std::array<std::string_view, 0> word_list{};

template <class E>
concept Worded = !word_list<E>.empty();

template <Worded E>
constexpr std::string_view word(E value) {
  constexpr const auto& words = word_list<E>;
  return words[static_cast<std::size_t>(value)];
}

template <Worded E>
constexpr std::optional<E> from_word(std::string_view text) {
  constexpr const auto& words = word_list<E>;
  for (std::size_t i = 0; i < words.size(); ++i)
    if (words[i] == text) return static_cast<E>(i);
  return std::nullopt;
}

/// The words of some values, as a list of texts.
template <Worded E>
std::vector<std::string> words_of(const std::vector<E>& values) {
  std::vector<std::string> words;
  for (E value : values) words.emplace_back(word(value));
  return words;
}

/// Every value, in order.
template <Worded E>
constexpr auto all_values() {
  std::array<E, word_list<E>.size()> all{};
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<E>(i);
  return all;
}

}  // namespace curdwright
