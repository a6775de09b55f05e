// SPDX-License-Identifier: MIT
// A world without files and terminal for the program's own commands: what they read stands in memory, and so does what they write.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace curdwright::fuzz {

struct World {
  std::map<std::string, std::string, std::less<>> files;
  std::string out, err;
  std::size_t written_files = 0;
};
/// The one that the program's functions see; of this thread alone.
World& world();

/// A page: words, and nothing of the user's that a browser would run.
void check_page(std::string_view html);

}  // namespace curdwright::fuzz
