// SPDX-License-Identifier: MIT
// What a fuzz target is: a function that takes any bytes, and throws `Broken` where something that must hold does not. The fuzzer
// calls it a million times; an ordinary test calls it with every input of corpus/ and found/.
#pragma once

#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

#include "curdwright/problem.hpp"

namespace curdwright::fuzz {

struct Broken : std::logic_error {
  using std::logic_error::logic_error;
};

/// Never a macro of the standard: it must also hold in a release build.
inline void hold(bool condition, std::string_view what, std::string_view about = "") {
  if (!condition) throw Broken(std::string(what) + ": " + std::string(about));
}

struct Target {
  std::string_view name;
  void (*run)(std::string_view bytes);
};
std::span<const Target> all_targets();

/// A refusal says a sentence, short enough to be read.
void check_sentences(const Problems& problems);
/// The same, with a place, and fit to be shown. \param file what its place must be called; empty: any, or none
void check_problems(const Problems& problems, std::string_view file);
/// Text for people: UTF-8, without control characters.
void check_words(std::string_view text);
/// No number that is none: no "nan" and no "inf" that stands alone. Only for texts that hold no words of the user.
void check_numbers(std::string_view text);
/// It is JSON.
void check_json(std::string_view text);

/// The first line, without its end; the rest stays in `bytes`.
std::string_view take_line(std::string_view& bytes);
/// The first byte as a choice of `n`; the rest stays in `bytes`.
std::size_t take_choice(std::string_view& bytes, std::size_t n);

void try_json(std::string_view bytes);
void try_quantity(std::string_view bytes);
void try_price(std::string_view bytes);
void try_time(std::string_view bytes);
void try_recipe(std::string_view bytes);
void try_kitchen(std::string_view bytes);
void try_pointer(std::string_view bytes);
void try_record(std::string_view bytes);
void try_told(std::string_view bytes);
void try_diary_line(std::string_view bytes);
void try_diary(std::string_view bytes);
void try_each(std::string_view bytes);
void try_sheet(std::string_view bytes);

}  // namespace curdwright::fuzz
