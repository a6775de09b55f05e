// SPDX-License-Identifier: MIT
#include "json/document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <map>
#include <tuple>

#include "text/width.hpp"

namespace curdwright::json {
namespace {

constexpr std::size_t excerpt_width = 76;

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t characters(std::string_view s) {
  return static_cast<std::size_t>(std::count_if(s.begin(), s.end(), [](char c) { return !continues_character(c); }));
}

constexpr std::size_t mark_bytes = 4096;

/// The mark of a later byte.
Mark passed(Mark m, std::string_view text, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to; ++i) {
    if (!continues_character(text[i])) ++m.characters;
    if (text[i] == '\n') ++m.line, m.line_start = i + 1, m.characters_there = m.characters;
  }
  return m;
}

std::vector<Mark> marks_of(std::string_view text) {
  std::vector<Mark> marks(1);
  for (std::size_t from = 0; from + mark_bytes <= text.size(); from += mark_bytes) marks.push_back(passed(marks.back(), text, from, from + mark_bytes));
  return marks;
}

/// A line cut to a window about the caret, on character boundaries, with control characters made plain.
void set_excerpt(Place& place, std::string_view line, std::size_t at) {
  std::size_t from = at > excerpt_width / 2 && line.size() > excerpt_width ? at - excerpt_width / 2 : 0;
  while (from > 0 && from < line.size() && continues_character(line[from])) --from;
  std::size_t to = std::min(line.size(), from + excerpt_width);
  while (to < line.size() && to > from && continues_character(line[to])) --to;
  place.excerpt = line.substr(from, to - from);
  std::replace_if(place.excerpt.begin(), place.excerpt.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }, ' ');
  place.caret = static_cast<int>(characters(line.substr(from, at - from))) + 1;
}

/// Builds the tree. The library reports values in the order of the text, so the place of each is where
/// the text goes on after the last one, past white space, commas and colons.
class Builder {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  Builder(Document& document, std::string_view called) : document_(document), called_(called) {}

  bool null() { return add(Node::Kind::null, [](Node&) {}); }
  bool boolean(bool v) {
    return add(Node::Kind::boolean, [v](Node& n) { n.boolean = v; });
  }
  bool number_integer(number_integer_t v) { return number(static_cast<double>(v), true); }
  bool number_unsigned(number_unsigned_t v) { return number(static_cast<double>(v), true); }
  bool number_float(number_float_t v, const string_t& raw) {
    return number(v, raw.find_first_of(".eE") == string_t::npos);
  }
  bool string(string_t& v) {
    return add(Node::Kind::string, [&v](Node& n) { n.text = std::move(v); });
  }
  bool binary(binary_t&) { return false; }
  bool start_object(std::size_t) { return open(Node::Kind::object); }
  bool start_array(std::size_t) { return open(Node::Kind::array); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(string_t& v) {
    const std::size_t at = next();
    Node& object = *stack_.back();
    if (object.find(v)) {
      problem = Problem{"key-repeated", document_.place(at, pointer() + pointer_step(v)), fmt::format("the key \"{}\" stands twice", text::cut(v, 60)),
                        "one of the two would be lost", "keep one and delete the other"};
      return false;
    }
    if (object.members.size() >= max_keys) return too_many(at, fmt::format("more than {} keys in one object", max_keys));
    object.members.push_back({v, at, {}});
    end_ = after_string(at);
    return true;
  }

  bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception& e) {
    problem = syntax_problem(position, e.what());
    return false;
  }

  Problem problem;

 private:
  [[nodiscard]] std::string pointer() const {
    std::string p;
    for (std::size_t i = 0; i < stack_.size(); ++i) {
      const Node& n = *stack_[i];
      if (i + 1 == stack_.size()) break;
      p += n.kind == Node::Kind::object ? pointer_step(n.members.back().key) : fmt::format("/{}", n.items.size() - 1);
    }
    return p;
  }

  [[nodiscard]] std::size_t next() const {
    std::size_t i = end_;
    while (i < document_.text.size() && std::string_view(" \t\r\n,:").find(document_.text[i]) != std::string_view::npos) ++i;
    return i;
  }

  [[nodiscard]] std::size_t after_string(std::size_t at) const {
    std::size_t i = at + 1;
    while (i < document_.text.size() && document_.text[i] != '"') i += document_.text[i] == '\\' ? 2 : 1;
    return i + 1;
  }

  [[nodiscard]] std::size_t after_word(std::size_t at) const {
    std::size_t i = at;
    while (i < document_.text.size() && std::string_view("+-.0123456789eEtrufalsn").find(document_.text[i]) != std::string_view::npos) ++i;
    return i;
  }

  Node& slot() {
    if (stack_.empty()) return document_.root;
    Node& top = *stack_.back();
    if (top.kind == Node::Kind::array) return top.items.emplace_back();
    return top.members.back().value;
  }

  template <class Fill>
  bool add(Node::Kind kind, Fill fill) {
    const std::size_t at = next();
    if (++values_ > max_values) return too_many(at, fmt::format("more than {} values", max_values));
    Node& n = slot();
    n.kind = kind;
    n.begin = at;
    fill(n);
    end_ = kind == Node::Kind::string ? after_string(at) : after_word(at);
    return true;
  }

  bool number(double v, bool whole) {
    return add(Node::Kind::number, [&](Node& n) {
      n.number = v;
      n.whole = whole;
      n.text = document_.text.substr(n.begin, after_word(n.begin) - n.begin);
    });
  }

  bool open(Node::Kind kind) {
    const std::size_t at = next();
    if (stack_.size() >= static_cast<std::size_t>(max_depth)) {
      problem = Problem{"too-deep", document_.place(at, ""), fmt::format("more than {} levels of brackets", max_depth),
                        "no recipe, kitchen or record needs them", "flatten the file"};
      return false;
    }
    if (++values_ > max_values) return too_many(at, fmt::format("more than {} values", max_values));
    Node& n = slot();
    n.kind = kind;
    n.begin = at;
    stack_.push_back(&n);
    end_ = at + 1;
    return true;
  }

  bool too_many(std::size_t at, std::string what) {
    problem = Problem{"too-many", document_.place(at, ""), std::move(what), "no recipe, kitchen or record needs them", "split or shorten the file"};
    return false;
  }

  bool close() {
    end_ = next() + 1;
    stack_.pop_back();
    return true;
  }

  /// Where the part begins that the parser could not take. The parser tells its last byte.
  [[nodiscard]] std::size_t part_begin(std::size_t last) const {
    if (last >= document_.text.size() || document_.text[last] == ',' || document_.text[last] == ':') return last;
    return std::min(next(), last);
  }

  Problem syntax_problem(std::size_t position, std::string_view message) {
    const std::size_t at = std::min(position > 0 ? position - 1 : 0, document_.text.size());
    Problem p{"json-syntax", document_.place(at, ""), "", "", ""};
    const auto has = [&](std::string_view part) { return message.find(part) != std::string_view::npos; };
    if (document_.text.find_first_not_of(" \t\r\n") == std::string::npos) {
      p.what = fmt::format("the {} is empty", called_);
      p.fix = called_ == "file" ? "start from one that `curdwright new recipe` writes" : "write the JSON that is due";
    } else if (has("unexpected end of input") || at >= document_.text.size()) {
      p.what = fmt::format("the {} ends too early", called_);
      p.fix = "close what is open: a quote, a brace } or a bracket ]";
    } else if (has("ill-formed UTF-8")) {
      p.what = "a byte here is not UTF-8";
      p.fix = fmt::format("save the {} as UTF-8", called_);
    } else if (has("out of range") || has("overflow")) {
      p.place = document_.place(part_begin(at), "");
      p.what = "this number is too large for any computer";
      p.fix = "write the amount that you mean";
    } else {
      if (!has("invalid string")) p.place = document_.place(part_begin(at), "");
      p.what = has("invalid string") ? "this text is not closed or holds a character that must be escaped" : "this is not JSON from here on";
      p.why = has("object key") ? "after { or , a key in double quotes is due"
              : has("object separator") ? "after a key a colon is due"
              : has("while parsing object") ? "after a value a comma or } is due"
              : has("while parsing array") ? "after a value a comma or ] is due"
                                           : "";
      p.fix = "look just before the mark for a missing or extra comma, quote or bracket; JSON has no comments";
    }
    return p;
  }

  Document& document_;
  std::string_view called_;
  std::vector<Node*> stack_;
  std::size_t values_ = 0;
  std::size_t end_ = 0;
};

}  // namespace

const Node* Node::find(std::string_view key) const {
  for (const Member& m : members)
    if (m.key == key) return &m.value;
  return nullptr;
}

Node* Node::find(std::string_view key) { return const_cast<Node*>(std::as_const(*this).find(key)); }

std::string_view word(Node::Kind kind) {
  switch (kind) {
    case Node::Kind::null: return "null";
    case Node::Kind::boolean: return "true or false";
    case Node::Kind::number: return "a number";
    case Node::Kind::string: return "a text";
    case Node::Kind::array: return "a list";
    case Node::Kind::object: return "an object";
  }
  return "";
}

Place Document::place(const Node& node, std::string pointer) const {
  if (node.origin.empty()) return place(node.begin, std::move(pointer));
  return Place{.file = node.origin, .pointer = std::move(pointer)};
}

Place Document::place(std::size_t offset, std::string pointer) const {
  offset = std::min(offset, text.size());
  const std::size_t block = std::min(offset / mark_bytes, marks.empty() ? 0 : marks.size() - 1);
  const Mark at = passed(marks.empty() ? Mark{} : marks[block], text, block * mark_bytes, offset);
  // As much of the line as an excerpt shows.
  std::size_t end = std::string_view(text).substr(offset, excerpt_width).find('\n');
  end = end == std::string::npos ? std::min(text.size(), offset + excerpt_width) : offset + end;
  if (end > at.line_start && end < text.size() && text[end] == '\n' && text[end - 1] == '\r') --end;
  Place p{file, at.line, static_cast<int>(at.characters - at.characters_there) + 1, std::move(pointer), "", 0};
  set_excerpt(p, std::string_view(text).substr(at.line_start, end - at.line_start), std::min(offset, end) - at.line_start);
  return p;
}

Result<Document> parse(std::string text, std::string file, std::string_view called) {
  Document document;
  document.file = std::move(file);
  if (text.size() > max_bytes)
    return fail(Problem{"file-too-large", {.file = document.file}, fmt::format("the {} has more than {} bytes", called, max_bytes),
                        fmt::format("at most {} bytes (1 MiB) are read", max_bytes), "cut it down; a recipe is a few hundred bytes"});
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  document.text = std::move(text);
  document.marks = marks_of(document.text);
  // The parser would take a zero byte for the end of the text.
  if (const std::size_t zero = document.text.find('\0'); zero != std::string::npos)
    return fail(Problem{"json-syntax", document.place(zero, ""), "a zero byte stands here", "JSON is text; UTF-16 files hold many zero bytes", "save the file as UTF-8"});
  Builder builder(document, called);
  if (!nlohmann::json::sax_parse(document.text, &builder)) return fail(std::move(builder.problem));
  return document;
}

void in_file_order(Problems& problems) {
  std::map<std::string, std::size_t> files;
  for (const Problem& p : problems) files.emplace(p.place.file, files.size());
  const auto order = [&](const Problem& p) { return std::tuple(files.at(p.place.file), p.place.line, p.place.column); };
  std::stable_sort(problems.begin(), problems.end(), [&](const Problem& a, const Problem& b) { return order(a) < order(b); });
}

std::string pointer_step(std::string_view key) {
  std::string step = "/";
  for (char c : key) step += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
  return step;
}

Result<std::vector<std::string>> split_pointer(std::string_view pointer) {
  std::vector<std::string> steps;
  if (pointer.empty()) return steps;
  const auto bad = [&](std::string_view why) {
    return fail(Problem{"pointer-unreadable", {}, fmt::format("\"{}\" is not a JSON Pointer", text::cut(pointer, 60)), std::string(why),
                        "write for example /soak/time or /strain/washes/0/water_to_dry"});
  };
  if (pointer.size() > 256) return bad("it is longer than 256 bytes");
  if (pointer[0] != '/') return bad("it must begin with /");
  std::string step;
  for (std::size_t i = 1; i <= pointer.size(); ++i) {
    if (i == pointer.size() || pointer[i] == '/') {
      steps.push_back(std::move(step));
      step.clear();
    } else if (pointer[i] == '~') {
      if (i + 1 >= pointer.size() || (pointer[i + 1] != '0' && pointer[i + 1] != '1')) return bad("~ must be written ~0, and / inside a key ~1");
      step += pointer[++i] == '0' ? '~' : '/';
    } else {
      step += pointer[i];
    }
  }
  return steps;
}

std::optional<std::size_t> list_index(std::string_view step) {
  std::size_t i = 0;
  const auto [end, error] = std::from_chars(step.data(), step.data() + step.size(), i);
  if (error != std::errc() || end != step.data() + step.size() || (step.size() > 1 && step[0] == '0')) return std::nullopt;
  return i;
}

const Node* node_at(const Document& document, std::string_view pointer) {
  const auto steps = split_pointer(pointer);
  if (!steps) return nullptr;
  const Node* n = &document.root;
  for (const std::string& step : *steps) {
    const auto index = list_index(step);
    if (n->kind == Node::Kind::array)
      n = index && *index < n->items.size() ? &n->items[*index] : nullptr;
    else
      n = n->find(step);
    if (!n) return nullptr;
  }
  return n;
}

}  // namespace curdwright::json
