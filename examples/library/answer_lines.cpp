// SPDX-License-Identifier: MIT
// A stage of a pipe: recipes by the line on standard input, two figures of each on standard output.
#include <cstddef>
#include <iostream>
#include <string>

#include "curdwright/line.hpp"

int main() {
  using namespace curdwright;
  LineOptions options;
  for (const char* key : {"dry_mass_g", "curd_mass_g"}) options.responses.push_back(*find_response(key));
  const Catalogue catalogue = Catalogue::shipped();
  const Lines lines(options, catalogue);
  std::string line;
  for (std::size_t number = 1; std::getline(std::cin, line); ++number) std::cout << lines.answer(line, number).text << '\n';
  return 0;
}
