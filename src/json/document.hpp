// SPDX-License-Identifier: MIT
// A JSON text as a tree that remembers where everything stood, so that every fault, found while parsing
// or long after, can be shown at its place. The one reader for recipes, kitchens and data records.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright::json {

inline constexpr std::size_t max_bytes = 1 << 20;
inline constexpr int max_depth = 32;
inline constexpr std::size_t max_keys = 1024;     ///< of one object
inline constexpr std::size_t max_values = 50'000; ///< of one text

struct Member;

struct Node {
  enum class Kind { null, boolean, number, string, array, object };
  Kind kind = Kind::null;
  bool boolean = false;
  double number = 0;
  bool whole = false;        ///< a number written without fraction or exponent
  std::string text;          ///< a string's value; a number as written
  std::vector<Node> items;   ///< of an array
  std::vector<Member> members;
  std::size_t begin = 0;     ///< byte offset in the text
  std::string origin;        ///< the command line option that set it; empty when it came from the text

  [[nodiscard]] const Node* find(std::string_view key) const;
  [[nodiscard]] Node* find(std::string_view key);
};

struct Member {
  std::string key;
  std::size_t begin = 0;
  Node value;
};

std::string_view word(Node::Kind kind);

/// What stands before a byte of the text, noted every few kilobytes: a text with ten thousand faults is not counted through for each.
struct Mark {
  int line = 1;
  std::size_t characters = 0;       ///< before the mark
  std::size_t line_start = 0;       ///< in bytes
  std::size_t characters_there = 0; ///< before the start of the line
};

struct Document {
  std::string file;
  std::string text;
  Node root;
  std::vector<Mark> marks;

  /// The place of a node, with its line and a caret.
  [[nodiscard]] Place place(const Node& node, std::string pointer) const;
  [[nodiscard]] Place place(std::size_t offset, std::string pointer) const;
};

/// Strict JSON, RFC 8259: no comments, no trailing commas, no repeated keys, UTF-8; a byte order mark is
/// skipped. At most max_bytes, max_depth, max_keys and max_values.
/// \param called what messages call the text: "file", or "value" for one from the command line
Result<Document> parse(std::string text, std::string file, std::string_view called = "file");

/// Puts the problems of each file into the order of its lines and columns; files stay in the order of their first problem.
void in_file_order(Problems& problems);

/// One step of a JSON Pointer, escaped.
std::string pointer_step(std::string_view key);
/// Splits a JSON Pointer into unescaped steps; empty result for a pointer that is none.
Result<std::vector<std::string>> split_pointer(std::string_view pointer);
/// The number that a step gives as index of a list; RFC 6901 allows no leading zeros.
std::optional<std::size_t> list_index(std::string_view step);
/// The node at a pointer; none where nothing stands there.
const Node* node_at(const Document& document, std::string_view pointer);

}  // namespace curdwright::json
