// SPDX-License-Identifier: MIT
// What may be typed next on a command line: one answer for every shell, made from the tables that the parser and the commands read.
//
//     Offers o = offers(std::array<std::string, 3>{"sheet", "peas.json", "--units"}, "");   // metric, us
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "program/options.hpp"

namespace curdwright::program {

struct Offer {
  std::string word, about;  ///< a word that ends in = / : or , goes on
};
struct Offers {
  enum class Kind { words, files, folders } kind = Kind::words;
  std::vector<Offer> list;  ///< of words only
};

/// \param before the words after the program's name, up to the one that is being typed
Offers offers(std::span<const std::string> before, std::string_view current);

/// The options a command takes, in the order of the table; of `diary` those of a verb, if one is given.
std::vector<const OptionRow*> options_of(std::string_view command, std::string_view verb = "");

/// For a shell's script: "words", "files" or "folders" on the first line, then a word, a tab and what it is on each.
std::string offers_text(const Offers& o);

}  // namespace curdwright::program
