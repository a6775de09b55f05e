// SPDX-License-Identifier: MIT
#include "accounts/text.hpp"

#include <fmt/format.h>

#include <utility>

namespace curdwright::accounts {

Ex::Ex(double number) {
  if (number == 0) return;
  text_ = fmt::format("{}", number);
  level_ = number < 0 ? sum : atom;
}

Ex Ex::call(std::string_view function, const std::vector<Ex>& arguments) {
  std::string text = fmt::format("{}(", function);
  for (std::size_t i = 0; i < arguments.size(); ++i) text += (i > 0 ? ", " : "") + arguments[i].str();
  return {text + ")", atom};
}

Ex Ex::call(std::string_view function, std::initializer_list<Ex> arguments) { return call(function, std::vector<Ex>(arguments)); }

Ex operator+(const Ex& a, const Ex& b) {
  if (a.zero()) return b;
  if (b.zero()) return a;
  return {a.text_ + " + " + b.inside(b.text_[0] == '-' ? Ex::atom : Ex::sum), Ex::sum};
}

Ex operator-(const Ex& a, const Ex& b) {
  if (b.zero()) return a;
  if (a.zero()) return {"-" + b.inside(Ex::product), Ex::sum};
  return {a.text_ + " - " + b.inside(Ex::product), Ex::sum};
}

Ex operator*(const Ex& a, const Ex& b) {
  if (a.zero() || b.zero()) return {};
  if (a.text_ == "1") return b;
  if (b.text_ == "1") return a;
  return {a.inside(Ex::product) + " * " + b.inside(Ex::product), Ex::product};
}

Ex operator/(const Ex& a, const Ex& b) {
  if (a.zero() || b.text_ == "1") return a;
  return {a.inside(Ex::product) + " / " + b.inside(Ex::atom), Ex::product};
}

Ex power(const Ex& a, const Ex& b) {
  if (a.zero()) return a;
  return {a.inside(Ex::atom) + "^" + b.inside(Ex::atom), Ex::product};
}

}  // namespace curdwright::accounts
