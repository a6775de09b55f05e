// SPDX-License-Identifier: MIT
// The texts of data/, compiled in; written by cmake/embed.cmake.
#pragma once

#include <span>
#include <string_view>

namespace curdwright {

struct EmbeddedFile {
  std::string_view path;  ///< below data/
  std::string_view text;
};
/// Sorted by path.
std::span<const EmbeddedFile> embedded_files();

}  // namespace curdwright
