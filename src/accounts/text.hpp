// SPDX-License-Identifier: MIT
// Formulas as text, put together so that what is zero drops out and brackets stand where they must.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::accounts {

/// A text over keys. Empty: zero.
class Ex {
 public:
  Ex() = default;
  Ex(double number);  // NOLINT: numbers stand in formulas as they are
  static Ex name(std::string_view key) { return {std::string(key), atom}; }
  static Ex call(std::string_view function, std::initializer_list<Ex> arguments);
  static Ex call(std::string_view function, const std::vector<Ex>& arguments);

  [[nodiscard]] bool zero() const { return text_.empty(); }
  [[nodiscard]] std::string str() const { return zero() ? "0" : text_; }

  friend Ex operator+(const Ex& a, const Ex& b);
  friend Ex operator-(const Ex& a, const Ex& b);
  friend Ex operator*(const Ex& a, const Ex& b);
  friend Ex operator/(const Ex& a, const Ex& b);
  friend Ex power(const Ex& a, const Ex& b);

 private:
  enum Level { sum, product, atom };
  Ex(std::string text, Level level) : text_(std::move(text)), level_(level) {}
  [[nodiscard]] std::string inside(Level least) const { return level_ < least ? "(" + text_ + ")" : text_; }
  std::string text_;
  Level level_ = atom;
};

Ex operator+(const Ex& a, const Ex& b);
Ex operator-(const Ex& a, const Ex& b);
Ex operator*(const Ex& a, const Ex& b);
Ex operator/(const Ex& a, const Ex& b);
Ex power(const Ex& a, const Ex& b);
inline Ex name(std::string_view key) { return Ex::name(key); }
inline Ex minimum(std::initializer_list<Ex> of) { return Ex::call("min", of); }
inline Ex maximum(std::initializer_list<Ex> of) { return Ex::call("max", of); }
inline Ex exponential(const Ex& x) { return Ex::call("exp", {x}); }
inline Ex logarithm(const Ex& x) { return Ex::call("ln", {x}); }

}  // namespace curdwright::accounts
