// SPDX-License-Identifier: MIT
// What stands at a pointer, and putting a value there from the command line.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <functional>

#include "json/fields.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::json {
namespace {

/// Ends a pointer below which any one key may stand.
constexpr std::string_view any_key = "/*";

bool leads_to(std::string_view pointer, std::string_view wanted) {
  if (pointer == wanted) return true;
  if (!pointer.ends_with(any_key)) return false;
  pointer.remove_suffix(1);
  return wanted.size() > pointer.size() && wanted.starts_with(pointer) && wanted.find('/', pointer.size()) == std::string_view::npos;
}

/// Lists every pointer below a description, with what stands there.
struct Listed {
  std::string pointer;
  FieldKind kind;
  std::optional<QuantityKind> quantity;
};

class Lister : public Fields {
 public:
  Lister(std::string at, std::vector<Listed>& out) : at_(std::move(at)), out_(out) {}

  void number(std::string_view key, std::optional<double>&, Bounds, std::string_view) override { add(key, FieldKind::number); }
  void count(std::string_view key, std::optional<int>&, int, int, std::string_view) override { add(key, FieldKind::count); }
  void flag(std::string_view key, std::optional<bool>&, std::string_view) override { add(key, FieldKind::flag); }
  void text(std::string_view key, std::optional<std::string>&, std::size_t, std::string_view) override { add(key, FieldKind::text); }
  void choice(std::string_view key, std::optional<std::string>&, std::span<const std::string_view>, std::string_view) override {
    add(key, FieldKind::text);
  }
  void checked_text(std::string_view key, std::optional<std::string>&, const Check&, std::string_view) override { add(key, FieldKind::text); }
  void entries(std::string_view key, Entries&, std::size_t, const Check&, std::string_view) override {
    add(key, FieldKind::object);
    out_.push_back({at_ + pointer_step(key) + std::string(any_key), FieldKind::text, {}});
  }
  void texts(std::string_view key, std::vector<std::string>&, std::size_t, std::string_view) override { add(key, FieldKind::list); }
  void numbers(std::string_view key, std::vector<double>&, std::size_t, Bounds, std::string_view) override { add(key, FieldKind::list); }
  void object(std::string_view key, bool&, std::string_view, const Describe& inner) override {
    add(key, FieldKind::object);
    Lister below(at_ + pointer_step(key), out_);
    inner(below);
  }
  void list(std::string_view key, std::size_t, std::size_t, std::string_view, const std::function<void(std::size_t)>& resize,
            const DescribeItem& item) override {
    add(key, FieldKind::list);
    items(key, resize, item);
  }
  void text_or_list(std::string_view key, std::optional<std::string>&, std::size_t, std::string_view,
                    const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    add(key, FieldKind::text_or_list);
    items(key, resize, item);
  }
  void evidence(std::string_view key, Evidence&, std::string_view, Link, bool, std::string_view) override { add(key, FieldKind::evidence); }

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double&, bool&, Bounds, std::string_view) override {
    out_.push_back({at_ + pointer_step(key), kind == QuantityKind::fraction ? FieldKind::quantity : FieldKind::text, kind});
  }

 private:
  void add(std::string_view key, FieldKind kind) { out_.push_back({at_ + pointer_step(key), kind, {}}); }
  void items(std::string_view key, const std::function<void(std::size_t)>& resize, const DescribeItem& item) {
    resize(1);
    Lister below(at_ + pointer_step(key) + "/0", out_);
    out_.push_back({at_ + pointer_step(key) + "/0", FieldKind::object, {}});
    item(below, 0);
  }

  std::string at_;
  std::vector<Listed>& out_;
};

bool is_index(std::string_view step) { return step == "-" || (step.size() < 4 && list_index(step)); }

std::string with_zero_indices(const std::vector<std::string>& steps) {
  std::string p;
  for (const std::string& s : steps) p += is_index(s) ? "/0" : pointer_step(s);
  return p;
}

/// "01" as "1"; other steps as they are.
std::string without_leading_zeros(std::string step) {
  if (step.size() > 1 && step.find_first_not_of("0123456789") == std::string::npos) step.erase(0, std::min(step.find_first_not_of('0'), step.size() - 1));
  return step;
}

Node text_node(std::string_view text) {
  Node n;
  n.kind = Node::Kind::string;
  n.text = text;
  return n;
}

/// The value takes the type that the description gives; what does not fit stays text, for the reader to refuse.
Result<Node> typed(std::string_view value, FieldKind kind) {
  Node n = text_node(value);
  if (kind == FieldKind::text) return n;
  if (kind == FieldKind::text_or_list && !value.starts_with('[')) return n;
  if (kind == FieldKind::flag) {
    if (value != "true" && value != "false") return n;
    n.kind = Node::Kind::boolean;
    n.boolean = value == "true";
    return n;
  }
  if (kind == FieldKind::number || kind == FieldKind::count || kind == FieldKind::quantity) {
    double v = 0;
    const auto [end, error] = std::from_chars(value.data(), value.data() + value.size(), v);
    if (error != std::errc() || end != value.data() + value.size()) return n;
    n.kind = Node::Kind::number;
    n.number = v;
    n.whole = value.find_first_of(".eEnN") == std::string_view::npos;
    return n;
  }
  auto document = parse(std::string(value), "", "value");
  if (!document) return fail(document.error());
  return std::move(document->root);
}

/// Nearest by the whole pointer; a slip may be long, so the bound on single words does not apply.
std::string nearest_pointer(std::string_view wanted, const std::vector<std::string>& known) {
  std::string nearest;
  std::size_t least = wanted.size() / 2 + 1;
  for (const std::string& pointer : known)
    if (const std::size_t d = text::distance(wanted, pointer); d < least) {
      least = d;
      nearest = pointer;
    }
  return nearest;
}

void set_origin(Node& n, const std::string& origin) {
  n.origin = origin;
  for (Node& i : n.items) set_origin(i, origin);
  for (Member& m : n.members) set_origin(m.value, origin);
}

}  // namespace

std::vector<std::string> all_pointers(const Fields::Describe& describe) {
  std::vector<Listed> all;
  Lister lister("", all);
  describe(lister);
  std::vector<std::string> out;
  out.reserve(all.size());
  for (Listed& l : all) out.push_back(std::move(l.pointer));
  return out;
}

Found find_field(const std::vector<std::string>& steps, const Fields::Describe& describe) {
  std::vector<Listed> all;
  Lister lister("", all);
  describe(lister);
  const std::string wanted = with_zero_indices(steps);
  std::vector<std::string> pointers;
  for (const Listed& l : all) {
    if (leads_to(l.pointer, wanted)) return {l.kind, "", l.quantity};
    pointers.push_back(l.pointer);
  }
  return {FieldKind::none, nearest_pointer(wanted, pointers), {}};
}

namespace {

Problem unknown_pointer(const std::vector<std::string>& steps, std::string_view pointer, const Place& place, const Fields::Describe& describe,
                        std::string_view prefix, const std::vector<std::string>& elsewhere) {
  Problem p{"pointer-unknown", place, fmt::format("nothing is known at {}{}", prefix, pointer), "see `curdwright schema recipe` and `curdwright schema kitchen`", ""};
  std::vector<std::string> plain = steps;
  std::transform(plain.begin(), plain.end(), plain.begin(), without_leading_zeros);
  if (plain != steps && find_field(plain, describe).kind != FieldKind::none) {
    p.why = "the number of a list entry has no leading zeros";
    p.fix = fmt::format("write {}", prefix);
    for (const std::string& step : plain) p.fix += pointer_step(step);
    return p;
  }
  std::vector<std::string> known = all_pointers(describe);
  for (std::string& k : known) k.insert(0, prefix);
  known.insert(known.end(), elsewhere.begin(), elsewhere.end());
  if (const std::string near = nearest_pointer(std::string(prefix) + with_zero_indices(steps), known); !near.empty()) p.fix = fmt::format("did you mean {}?", near);
  return p;
}

/// The entry of a list, one past its end made new.
Result<Node*> entry_at(Node& list, const std::string& step, const std::string& option) {
  if (list.kind != Node::Kind::array) {
    list = Node{};
    list.kind = Node::Kind::array;
  }
  const std::size_t i = step == "-" ? list.items.size() : *list_index(step);
  if (i > list.items.size() || i > 63)
    return fail(Problem{"pointer-unknown", {.file = option}, fmt::format("entry {} would leave a gap", i),
                        fmt::format("the list has {} entries", list.items.size()), "use the next number, or -"});
  if (i == list.items.size()) list.items.emplace_back().kind = Node::Kind::null;
  list.origin = list.origin.empty() ? option : list.origin;
  return &list.items[i];
}

Node* member_at(Node& object, const std::string& key, const std::string& option) {
  if (object.kind != Node::Kind::object) {
    object = Node{};
    object.kind = Node::Kind::object;
    object.origin = option;
  }
  if (Node* there = object.find(key)) return there;
  object.members.push_back({key, 0, {}});
  object.members.back().value.origin = option;
  return &object.members.back().value;
}

/// Goes to a pointer and makes what is missing on the way.
Result<Node*> make_way(Node& root, const std::vector<std::string>& steps, const std::string& option) {
  Node* at = &root;
  for (const std::string& step : steps) {
    if (!is_index(step)) {
      at = member_at(*at, step, option);
      continue;
    }
    auto next = entry_at(*at, step, option);
    if (!next) return next;
    at = *next;
  }
  return at;
}

}  // namespace

Result<Found> known_field(std::string_view pointer, const std::string& option, const Fields::Describe& describe, std::string_view prefix,
                          const std::function<std::vector<std::string>()>& elsewhere) {
  const Place place{.file = option};
  auto steps = split_pointer(pointer);
  if (!steps) {
    steps.error()[0].place = place;
    return fail(steps.error());
  }
  Found found = find_field(*steps, describe);
  if (found.kind == FieldKind::none || steps->empty()) return fail(unknown_pointer(*steps, pointer, place, describe, prefix, elsewhere ? elsewhere() : std::vector<std::string>{}));
  return found;
}

Result<void> set_value(Node& root, std::string_view assignment, const std::string& option, const Fields::Describe& describe,
                       std::string_view prefix, const std::function<std::vector<std::string>()>& elsewhere) {
  const Place place{.file = option};
  if (!text::is_utf8(assignment))
    return fail(Problem{"set-unreadable", place, "this option holds a byte that is not UTF-8", "recipes and kitchens are UTF-8", "write it with characters of UTF-8"});
  const auto equals = assignment.find('=');
  if (equals == std::string_view::npos)
    return fail(Problem{"set-unreadable", place, fmt::format("\"{}\" sets nothing", text::cut(assignment, 60)), "it needs a pointer, =, and a value",
                        "write for example --set /soak/time=12h"});
  const auto found = known_field(assignment.substr(0, equals), option, describe, prefix, elsewhere);
  if (!found) return fail(found.error());
  auto value = typed(assignment.substr(equals + 1), found->kind);
  if (!value) {
    for (Problem& p : value.error()) p.place = place;
    return fail(value.error());
  }
  set_origin(*value, option);
  auto at = make_way(root, *split_pointer(assignment.substr(0, equals)), option);
  if (!at) return fail(at.error());
  **at = std::move(*value);
  return {};
}

}  // namespace curdwright::json
