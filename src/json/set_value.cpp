// SPDX-License-Identifier: MIT
// What stands at a pointer, and putting a value there from the command line.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "json/fields.hpp"
#include "text/nearest.hpp"

namespace curdwright::json {
namespace {

/// Lists every pointer below a description, with what stands there.
class Lister : public Fields {
 public:
  Lister(std::string at, std::vector<std::pair<std::string, FieldKind>>& out) : at_(std::move(at)), out_(out) {}

  void number(std::string_view key, std::optional<double>&, Bounds, std::string_view) override { add(key, FieldKind::number); }
  void count(std::string_view key, std::optional<int>&, int, int, std::string_view) override { add(key, FieldKind::count); }
  void flag(std::string_view key, std::optional<bool>&, std::string_view) override { add(key, FieldKind::flag); }
  void text(std::string_view key, std::optional<std::string>&, std::size_t, std::string_view) override { add(key, FieldKind::text); }
  void choice(std::string_view key, std::optional<std::string>&, std::span<const std::string_view>, std::string_view) override {
    add(key, FieldKind::text);
  }
  void texts(std::string_view key, std::vector<std::string>&, std::size_t, std::string_view) override { add(key, FieldKind::list); }
  void object(std::string_view key, bool&, std::string_view, const Describe& inner) override {
    add(key, FieldKind::object);
    Lister below(at_ + pointer_step(key), out_);
    inner(below);
  }
  void list(std::string_view key, std::size_t, std::string_view, const std::function<void(std::size_t)>& resize,
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
    add(key, kind == QuantityKind::fraction ? FieldKind::quantity : FieldKind::text);
  }

 private:
  void add(std::string_view key, FieldKind kind) { out_.emplace_back(at_ + pointer_step(key), kind); }
  void items(std::string_view key, const std::function<void(std::size_t)>& resize, const DescribeItem& item) {
    resize(1);
    Lister below(at_ + pointer_step(key) + "/0", out_);
    out_.emplace_back(at_ + pointer_step(key) + "/0", FieldKind::object);
    item(below, 0);
  }

  std::string at_;
  std::vector<std::pair<std::string, FieldKind>>& out_;
};

bool is_index(std::string_view step) {
  return step == "-" || (!step.empty() && step.size() < 4 && std::all_of(step.begin(), step.end(), [](char c) { return c >= '0' && c <= '9'; }));
}

std::string with_zero_indices(const std::vector<std::string>& steps) {
  std::string p;
  for (const std::string& s : steps) p += is_index(s) ? "/0" : pointer_step(s);
  return p;
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
  auto document = parse(std::string(value), "");
  if (!document) return fail(document.error());
  return std::move(document->root);
}

void set_origin(Node& n, const std::string& origin) {
  n.origin = origin;
  for (Node& i : n.items) set_origin(i, origin);
  for (Member& m : n.members) set_origin(m.value, origin);
}

}  // namespace

std::vector<std::string> all_pointers(const Fields::Describe& describe) {
  std::vector<std::pair<std::string, FieldKind>> all;
  Lister lister("", all);
  describe(lister);
  std::vector<std::string> out;
  out.reserve(all.size());
  for (auto& [pointer, kind] : all) out.push_back(pointer);
  return out;
}

Found find_field(const std::vector<std::string>& steps, const Fields::Describe& describe) {
  std::vector<std::pair<std::string, FieldKind>> all;
  Lister lister("", all);
  describe(lister);
  const std::string wanted = with_zero_indices(steps);
  for (const auto& [pointer, kind] : all)
    if (pointer == wanted) return {kind, ""};
  // Nearest by the whole pointer; a slip may be long, so the bound on single words does not apply.
  Found found;
  std::size_t least = wanted.size() / 2 + 1;
  for (const auto& [pointer, kind] : all)
    if (const std::size_t d = text::distance(wanted, pointer); d < least) {
      least = d;
      found.nearest = pointer;
    }
  return found;
}

Result<void> set_value(Node& root, std::string_view assignment, const std::string& option, const Fields::Describe& describe,
                       std::string_view prefix) {
  const Place place{option, 0, 0, "", "", 0};
  const auto equals = assignment.find('=');
  if (equals == std::string_view::npos)
    return fail(Problem{"set-unreadable", place, fmt::format("\"{}\" sets nothing", assignment.substr(0, 60)), "it needs a pointer, =, and a value",
                        "write for example --set /soak/time=12h"});
  auto steps = split_pointer(assignment.substr(0, equals));
  if (!steps) {
    steps.error()[0].place = place;
    return fail(steps.error());
  }
  const Found found = find_field(*steps, describe);
  if (found.kind == FieldKind::none || steps->empty())
    return fail(Problem{"pointer-unknown", place, fmt::format("nothing is known at {}{}", prefix, assignment.substr(0, equals)),
                        "see `curdwright schema recipe` and `curdwright schema kitchen`",
                        found.nearest.empty() ? "" : fmt::format("did you mean {}{}?", prefix, found.nearest)});
  auto value = typed(assignment.substr(equals + 1), found.kind);
  if (!value) {
    for (Problem& p : value.error()) p.place = place;
    return fail(value.error());
  }
  set_origin(*value, option);

  Node* at = &root;
  for (const std::string& step : *steps) {
    if (is_index(step)) {
      if (at->kind != Node::Kind::array) {
        *at = Node{};
        at->kind = Node::Kind::array;
      }
      std::size_t i = at->items.size();
      if (step != "-") std::from_chars(step.data(), step.data() + step.size(), i);
      if (i > at->items.size() || i > 63)
        return fail(Problem{"pointer-unknown", place, fmt::format("entry {} would leave a gap", i), fmt::format("the list has {} entries", at->items.size()),
                            "use the next number, or -"});
      if (i == at->items.size()) at->items.emplace_back().kind = Node::Kind::null;
      at->origin = at->origin.empty() ? option : at->origin;
      at = &at->items[i];
    } else {
      if (at->kind != Node::Kind::object) {
        *at = Node{};
        at->kind = Node::Kind::object;
        at->origin = option;
      }
      Node* next = at->find(step);
      if (!next) {
        at->members.push_back({step, 0, {}});
        next = &at->members.back().value;
        next->origin = option;
      }
      at = next;
    }
  }
  *at = std::move(*value);
  return {};
}

}  // namespace curdwright::json
