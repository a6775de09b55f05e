// SPDX-License-Identifier: MIT
// A JSON document written key after key, with no tree of it in memory: what is told stands in the text at once.
//
//     JsonWriter w(Layout::line);
//     w.object([&] {
//       w.put("dry_mass_g", 1131.0);
//       w.list("vessels", [&] { w.item("one bucket"); });
//     });
//     std::string text = std::move(w).text();
//
// Texts and numbers stand as the JSON library prints them in every other document; tests compare the two byte by byte.
#pragma once

#include <concepts>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/sheet.hpp"

namespace curdwright {

class JsonWriter {
 public:
  explicit JsonWriter(Layout layout) : page_(layout == Layout::page), text_(first_room, '\0') {}

  /// `fill` writes what is inside. With a key it is a member of an object, without one an item of a list, or the document.
  template <class Fill>
  void object(Fill fill) {
    open('{');
    fill();
    close('}');
  }
  template <class Fill>
  void object(std::string_view key, Fill fill) {
    name(key);
    object(fill);
  }
  template <class Fill>
  void list(Fill fill) {
    open('[');
    fill();
    close(']');
  }
  template <class Fill>
  void list(std::string_view key, Fill fill) {
    name(key);
    list(fill);
  }

  /// Nine significant digits at most; what is smaller than rounding noise is nothing, what is no number is null.
  void item(double v);
  void item(std::signed_integral auto v) { whole(static_cast<long long>(v)); }
  void item(std::unsigned_integral auto v) { whole(static_cast<unsigned long long>(v)); }
  void item(bool v);
  /// What is not UTF-8 is replaced.
  void item(std::string_view v);
  void item(const char* v) { item(std::string_view(v)); }
  void item(const std::string& v) { item(std::string_view(v)); }

  /// A member. The key is a word of the program's own: nothing in it needs an escape, and it stands once in its object.
  template <class T>
  void put(std::string_view key, const T& v) {
    name(key);
    item(v);
  }
  template <class T>
  void put(std::string_view key, const std::vector<T>& all) {
    list(key, [&] {
      for (const T& v : all) item(v);
    });
  }

  /// The document. A page ends its last line.
  [[nodiscard]] std::string text() &&;

 private:
  static constexpr std::size_t first_room = 40'000;  // a sheet has some 30 kB

  void name(std::string_view key);
  template <class T>
  void whole(T v);
  void open(char bracket);
  void close(char bracket);
  void separate();
  /// A comma and a new line where they are due before a value.
  void before_value();
  void new_line();
  /// Room for so many more bytes; what is written there is kept by `used_`.
  char* room(std::size_t bytes) {
    if (text_.size() - used_ < bytes) text_.resize(2 * text_.size() + bytes);
    return text_.data() + used_;
  }
  void add(char c) { *room(1) = c, ++used_; }
  void add(std::string_view s);
  std::size_t add_escaped(std::string_view rest);

  bool page_;
  bool first_ = true;       ///< nothing stands in the open object or list yet
  bool after_key_ = false;
  std::size_t depth_ = 0;
  std::size_t used_ = 0;
  std::string text_;
};

}  // namespace curdwright
