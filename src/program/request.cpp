// SPDX-License-Identifier: MIT
#include "program/request.hpp"

#include <utility>

namespace curdwright::program {

Problem usage(std::string what, std::string why, std::string fix) { return {"command-line", {}, std::move(what), std::move(why), std::move(fix)}; }

std::optional<std::string> Request::value(std::string_view option) const {
  const auto i = values.find(option);
  if (i == values.end() || i->second.empty()) return std::nullopt;
  return i->second.back();
}

std::vector<std::string> Request::all(std::string_view option) const {
  const auto i = values.find(option);
  return i == values.end() ? std::vector<std::string>{} : i->second;
}

}  // namespace curdwright::program
