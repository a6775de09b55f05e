// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "json/fields.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::json {
namespace {

class Reader : public Fields {
 public:
  Reader(const Document& document, const Node& node, std::string pointer, Problems& problems)
      : document_(document), node_(node), pointer_(std::move(pointer)), problems_(problems) {}

  void number(std::string_view key, std::optional<double>& to, Bounds bounds, std::string_view) override {
    const Node* n = take(key, Node::Kind::number, "a plain number, for example 3");
    if (!n) return;
    if (in_bounds(*n, key, n->number, bounds, [](double v) { return fmt::format("{:.6g}", v); })) to = n->number;
  }

  void count(std::string_view key, std::optional<int>& to, int low, int high, std::string_view) override {
    const Node* n = take(key, Node::Kind::number, "a whole number, for example 2");
    if (!n) return;
    if (!n->whole || n->number != std::floor(n->number)) {
      report(*n, key, "not-whole", fmt::format("{} is not a whole number", text::cut(n->text, 40)), "a count has no fraction", "write a whole number");
      return;
    }
    if (in_bounds(*n, key, n->number, {static_cast<double>(low), static_cast<double>(high)}, [](double v) { return fmt::format("{:.0f}", v); }))
      to = static_cast<int>(n->number);
  }

  void flag(std::string_view key, std::optional<bool>& to, std::string_view) override {
    if (const Node* n = take(key, Node::Kind::boolean, "true or false, without quotes")) to = n->boolean;
  }

  void text(std::string_view key, std::optional<std::string>& to, std::size_t longest, std::string_view) override {
    const Node* n = take(key, Node::Kind::string, "a text in double quotes");
    if (n && plain(*n, key, longest)) to = n->text;
  }

  void choice(std::string_view key, std::optional<std::string>& to, std::span<const std::string_view> words,
              std::string_view) override {
    const Node* n = take(key, Node::Kind::string, "one of the words in double quotes");
    if (!n) return;
    if (std::find(words.begin(), words.end(), n->text) == words.end()) {
      const std::string fix = text::suggest(n->text, words);
      report(*n, key, "word-unknown", fmt::format("{} is not one of the words for {}", shown(n->text), key),
             fix.starts_with("use one of") ? "" : fmt::format("allowed: {}", fmt::join(words, ", ")), fix);
      return;
    }
    to = n->text;
  }

  void checked_text(std::string_view key, std::optional<std::string>& to, const Check& check, std::string_view) override {
    const Node* n = take(key, Node::Kind::string, "a text in double quotes");
    if (n && plain(*n, key, max_text) && passes(*n, fmt::format("/{}", key), check)) to = n->text;
  }

  void entries(std::string_view key, Entries& to, std::size_t most, const Check& check, std::string_view) override {
    const Node* n = take(key, Node::Kind::object, "an object in braces { }");
    if (!n) return;
    if (n->members.size() > most) return report(*n, key, "too-many", fmt::format("{} entries", n->members.size()), fmt::format("{} may have at most {}", key, most), "");
    for (const Member& m : n->members) {
      const std::string at = std::string(key) + pointer_step(m.key);
      if (m.value.kind != Node::Kind::string)
        wrong_type(m.value, at, "a text in double quotes");
      else if (plain(m.value, at, max_text) && passes(m.value, "/" + at, check))
        to.emplace_back(m.key, m.value.text);
    }
  }

  void texts(std::string_view key, std::vector<std::string>& to, std::size_t most, std::string_view) override {
    const Node* n = take(key, Node::Kind::array, "a list of texts in brackets");
    if (!n || too_many(*n, key, most)) return;
    for (std::size_t i = 0; i < n->items.size(); ++i) {
      const Node& item = n->items[i];
      const std::string at = fmt::format("{}/{}", key, i);
      if (item.kind != Node::Kind::string)
        wrong_type(item, at, "a text in double quotes");
      else if (plain(item, at, max_text))
        to.push_back(item.text);
    }
  }

  void numbers(std::string_view key, std::vector<double>& to, std::size_t most, Bounds b, std::string_view) override {
    const Node* n = take(key, Node::Kind::array, "a list of numbers in brackets");
    if (!n || too_many(*n, key, most)) return;
    for (std::size_t i = 0; i < n->items.size(); ++i) {
      const Node& item = n->items[i];
      const std::string at = fmt::format("{}/{}", key, i);
      if (item.kind != Node::Kind::number)
        wrong_type(item, at, "a number");
      else if (!(item.number >= b.low && item.number <= b.high))
        report(item, at, "out-of-range", fmt::format("{} is {}", at, item.text), fmt::format("{:g} to {:g} is allowed", b.low, b.high), "");
      else
        to.push_back(item.number);
    }
  }

  void object(std::string_view key, bool& given, std::string_view, const Describe& inner) override {
    const Node* n = take(key, Node::Kind::object, "an object in braces { }");
    if (!n) return;
    given = true;
    if (n->find("borrow")) return report(*n, key, "borrow-unknown", fmt::format("{} cannot be borrowed", key), "only a single figure of a record can", "copy it from the other record, and go through it");
    nested(*n, pointer_ + pointer_step(key), inner);
  }

  void list(std::string_view key, std::size_t, std::size_t most, std::string_view, const std::function<void(std::size_t)>& resize,
            const DescribeItem& item) override {
    const Node* n = take(key, Node::Kind::array, "a list in brackets [ ]");
    if (n) read_list(*n, key, most, resize, item);
  }

  void text_or_list(std::string_view key, std::optional<std::string>& to, std::size_t most, std::string_view,
                    const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    const Node* n = take_any(key);
    if (!n) return;
    if (n->kind == Node::Kind::string) {
      if (plain(*n, key, max_text)) to = n->text;
    } else if (n->kind == Node::Kind::array) {
      read_list(*n, key, most, resize, item);
    } else {
      wrong_type(*n, key, "a name in double quotes, or a list of { \"id\", \"share\" }");
    }
  }

  void evidence(std::string_view key, Evidence& to, std::string_view unit, Link link, bool optional_field,
                std::string_view) override {
    if (!optional_field) required();
    const Node* n = take(key, Node::Kind::object, "a figure: { \"value\", \"range\", \"unit\", \"known\", \"source\" }");
    if (!n) return;
    const std::string at = pointer_ + pointer_step(key);
    if (n->find("borrow")) return read_borrowed(*n, at, to);
    const std::size_t before = problems_.size();
    std::optional<double> value, low, high;
    std::optional<std::string> unit_text, source, note;
    std::optional<Known> known;
    Reader inner(document_, *n, at, problems_);
    inner.required(), inner.number("value", value, {-1e12, 1e12}, "");
    inner.read_range(low, high);
    inner.required(), inner.text("unit", unit_text, max_text, "");
    inner.required(), static_cast<Fields&>(inner).choice("known", known, "");
    inner.required(), inner.text("source", source, max_text, "");
    inner.text("note", note, 400, "");
    inner.finish();
    if (problems_.size() > before) return;
    check_evidence(*n, key, *value, *low, *high, *unit_text, unit, link);
    to = {*value, *low, *high, *unit_text, *known, *source, note.value_or(""), ""};
  }

  void required() override { required_ = true; }

  void finish() {
    for (const Member& m : node_.members) {
      if (std::find(seen_.begin(), seen_.end(), m.key) != seen_.end()) continue;
      std::vector<std::string_view> known(seen_.begin(), seen_.end());
      Place place = m.value.origin.empty() ? document_.place(m.begin, pointer_ + pointer_step(m.key))
                                           : document_.place(m.value, pointer_ + pointer_step(m.key));
      problems_.push_back({"key-unknown", std::move(place), fmt::format("the key {} is not known here", shown(m.key)),
                           "a key that is passed over in silence would leave its default in force", text::suggest(m.key, known)});
    }
  }

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double& si, bool& given, Bounds bounds, std::string_view) override {
    const Node* n = take_any(key);
    if (!n) return;
    if (n->kind == Node::Kind::number && kind == QuantityKind::fraction) {
      if (in_bounds(*n, key, n->number, bounds, [&](double v) { return write_quantity(v, kind); })) {
        si = n->number;
        given = true;
      }
      return;
    }
    if (n->kind == Node::Kind::number) {
      report(*n, key, "unit-missing", fmt::format("{} has no unit", text::cut(n->text, 40)), fmt::format("{} needs its unit, in double quotes", name_of(kind)),
             fmt::format("write for example \"{}\"", example_of(kind)));
      return;
    }
    if (n->kind != Node::Kind::string) return wrong_type(*n, key, fmt::format("{} in double quotes, for example \"{}\"", name_of(kind), example_of(kind)));
    const auto value = parse_quantity(n->text, kind);
    if (!value) {
      for (Problem p : value.error()) {
        p.place = document_.place(*n, pointer_ + pointer_step(key));
        problems_.push_back(std::move(p));
      }
      return;
    }
    if (in_bounds(*n, key, *value, bounds, [&](double v) { return write_quantity(v, kind); })) {
      si = *value;
      given = true;
    }
  }

 private:
  /// A user's own words, cut so that a message stays a message.
  static std::string shown(std::string_view s) {
    std::string out = text::cut(s, 60);
    std::replace_if(out.begin(), out.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }, ' ');
    return fmt::format("\"{}\"", out);
  }

  void report(const Node& n, std::string_view key, std::string_view code, std::string what, std::string why, std::string fix) {
    problems_.push_back({std::string(code), document_.place(n, fmt::format("{}/{}", pointer_, key)),
                         std::move(what), std::move(why), std::move(fix)});
  }

  bool passes(const Node& n, std::string_view at, const Check& check) {
    std::optional<Problem> fault = check(n.text);
    if (!fault) return true;
    fault->place = document_.place(n, fmt::format("{}{}", pointer_, at));
    problems_.push_back(std::move(*fault));
    return false;
  }

  void wrong_type(const Node& n, std::string_view key, std::string_view due) {
    report(n, key, "type-wrong", fmt::format("{} is {}", key, word(n.kind)), fmt::format("it must be {}", due), "");
  }

  const Node* take_any(std::string_view key) {
    const bool due = std::exchange(required_, false);
    seen_.emplace_back(key);
    const Node* n = node_.find(key);
    if (!n && due)
      problems_.push_back({"key-missing", document_.place(node_, pointer_), fmt::format("the key \"{}\" is missing", key), "it has no default",
                           fmt::format("add \"{}\"", key)});
    return n;
  }

  const Node* take(std::string_view key, Node::Kind kind, std::string_view due) {
    const Node* n = take_any(key);
    if (!n || n->kind == kind) return n;
    wrong_type(*n, key, due);
    return nullptr;
  }

  template <class Write>
  bool in_bounds(const Node& n, std::string_view key, double v, Bounds b, Write write) {
    // A bound that was printed and typed back may differ in its last bit.
    const double hair = 1e-12 * std::max(std::abs(b.low), std::abs(b.high));
    if (v >= b.low - hair && v <= b.high + hair) return true;
    const bool low = v < b.low;
    report(n, key, "out-of-range", fmt::format("{} is {} {}", write(v), low ? "below" : "above", write(low ? b.low : b.high)),
           fmt::format("{} may be {} to {}", key, write(b.low), write(b.high)), "");
    return false;
  }

  bool plain(const Node& n, std::string_view key, std::size_t longest) {
    const auto length = static_cast<std::size_t>(
        std::count_if(n.text.begin(), n.text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
    if (length > longest) {
      report(n, key, "text-too-long", fmt::format("this text has {} characters", length), fmt::format("at most {} are read", longest), "shorten it");
      return false;
    }
    if (std::any_of(n.text.begin(), n.text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; })) {
      report(n, key, "text-control", "this text holds a control character", "a tab or line break would spoil the sheet", "write it as plain text");
      return false;
    }
    return true;
  }

  bool too_many(const Node& n, std::string_view key, std::size_t most) {
    if (n.items.size() <= most) return false;
    report(n, key, "too-many", fmt::format("{} entries", n.items.size()), fmt::format("{} may have at most {}", key, most), "");
    return true;
  }

  void nested(const Node& n, std::string pointer, const Describe& inner) {
    Reader reader(document_, n, std::move(pointer), problems_);
    inner(reader);
    reader.finish();
  }

  void read_list(const Node& n, std::string_view key, std::size_t most, const std::function<void(std::size_t)>& resize,
                 const DescribeItem& item) {
    if (too_many(n, key, most)) return;
    resize(n.items.size());
    for (std::size_t i = 0; i < n.items.size(); ++i) {
      const std::string at = fmt::format("{}{}/{}", pointer_, pointer_step(key), i);
      if (n.items[i].kind != Node::Kind::object) {
        wrong_type(n.items[i], fmt::format("{}/{}", key, i), "an object in braces { }");
        continue;
      }
      nested(n.items[i], at, [&](Fields& f) { item(f, i); });
    }
  }

  void read_borrowed(const Node& n, const std::string& at, Evidence& to) {
    std::optional<std::string> from, note;
    Reader inner(document_, n, at, problems_);
    inner.required(), inner.text("borrow", from, max_text, "");
    inner.text("note", note, 400, "");
    inner.finish();
    to = {};
    to.borrowed_from = from.value_or("");
    to.note = note.value_or("");
  }

  void read_range(std::optional<double>& low, std::optional<double>& high) {
    required();
    const Node* n = take("range", Node::Kind::array, "two numbers, the 10 % and the 90 % of belief");
    if (!n) return;
    if (n->items.size() != 2 || n->items[0].kind != Node::Kind::number || n->items[1].kind != Node::Kind::number) {
      wrong_type(*n, "range", "two numbers, the 10 % and the 90 % of belief");
      return;
    }
    low = n->items[0].number;
    high = n->items[1].number;
  }

  void check_evidence(const Node& n, std::string_view key, double value, double low, double high, std::string_view unit,
                      std::string_view due, Link link) {
    if (unit != due)
      report(n, key, "unit-wrong", fmt::format("the unit is {}", shown(unit)), fmt::format("{} is given in \"{}\"", key, due), "");
    if (!(low < value && value < high))
      report(n, key, "range-wrong", fmt::format("{:.6g} is not between {:.6g} and {:.6g}", value, low, high),
             "the range holds the middle 80 % of belief about the value", "");
    const double most = link == Link::logit ? (due == "g/100g" ? 100.0 : 1.0) : INFINITY;
    if (!(low > 0) || !(high < most))
      report(n, key, "range-wrong", fmt::format("the range {:.6g} to {:.6g} leaves what is possible", low, high),
             link == Link::logit ? "a share lies between none and all" : "it must be above 0", "");
  }

  const Document& document_;
  const Node& node_;
  std::string pointer_;
  Problems& problems_;
  std::vector<std::string> seen_;
  bool required_ = false;
};

}  // namespace

void read_object(const Document& document, const Node& node, Problems& problems, const Fields::Describe& describe) {
  if (node.kind != Node::Kind::object) {
    problems.push_back({"type-wrong", document.place(node, ""), fmt::format("the file holds {}", word(node.kind)),
                        "it must hold one object in braces { }", "start from one that `curdwright new recipe` writes"});
    return;
  }
  Reader reader(document, node, "", problems);
  describe(reader);
  reader.finish();
}

}  // namespace curdwright::json
