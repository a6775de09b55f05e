// SPDX-License-Identifier: MIT
#include "sheets/explained.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "sheets/json_values.hpp"
#include "sheets/schema_words.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

/// Enough digits for a pocket calculator to tell right from wrong.
std::string digits(double v) { return fmt::format("{:.6g}", v); }
std::string with_unit(const Term& t) { return t.unit == "1" ? digits(t.value) : fmt::format("{} {}", digits(t.value), t.unit); }

bool cited(const Term& t) { return t.kind == TermKind::parameter || t.kind == TermKind::record; }

/// The tree, line by line. A term that was told already is named and not told again.
class Tree {
 public:
  Tree(const Account& account, const ExplainedPage& page) : account_(account), page_(page) {}

  void tell(const Term& t, int depth) {
    told_.insert(t.key);
    line(depth, fmt::format("{}: {} = {}", t.plain, t.key, with_unit(t)));
    if (t.formula.empty())
      tell_leaf(t, depth);
    else
      tell_formula(t, depth);
    tell_children(t, depth);
  }

  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] const std::set<std::string>& told() const { return told_; }

 private:
  /// Deep branches stop moving to the right while there is still room to read.
  void line(int depth, std::string_view words, int more = 0) {
    const int indent = std::min(depth, page_.width - 40) + more;
    std::string_view hang;
    for (const std::string& l : text::wrapped(text::harmless(words), page_.width - indent - 4)) {
      text_ += std::string(static_cast<std::size_t>(indent), ' ') + std::string(hang) + l + "\n";
      hang = "    ";
    }
  }

  void tell_leaf(const Term& t, int depth) {
    if (cited(t))
      line(depth, fmt::format("{}; {:.3g} to {:.3g} (80 %); {}: {}", t.from, t.low, t.high, word(t.known), t.source), 2);
    else
      line(depth, t.kind == TermKind::constant ? fmt::format("constant: {}", t.source) : t.from, 2);
  }

  [[nodiscard]] std::string with_numbers(std::string_view text) const {
    std::string out;
    for (const TextPiece& p : pieces_of(text)) {
      const Term* t = p.is_name ? account_.find(p.text) : nullptr;
      out += !t ? std::string(p.text) : t->value < 0 ? fmt::format("({})", digits(t->value)) : digits(t->value);
    }
    return out;
  }

  /// A text, and below it the same with numbers.
  void twice(int depth, const std::string& before, const std::string& text) {
    line(depth, before + text, 2);
    if (const std::string numbers = with_numbers(text); numbers != text) line(depth, before + numbers, 2);
  }

  void tell_formula(const Term& t, int depth) {
    if (t.kind == TermKind::integral) {
      twice(depth, "= integral over t of ", t.formula);
      for (const PieceText& p : t.pieces) {
        twice(depth, "from t = 0 s to ", p.length);
        twice(depth, "with T = ", p.temperature);
      }
    } else if (t.kind == TermKind::root) {
      twice(depth, fmt::format("= the {} at which 0 = ", t.unknown), t.formula);
    } else {
      twice(depth, "= ", t.formula);
    }
    for (const NamedText& w : t.where) twice(depth, fmt::format("where {} = ", w.name), w.text);
  }

  void tell_children(const Term& t, int depth) {
    std::string above, below;
    std::vector<const Term*> next;
    for (const std::string& key : t.of) {
      std::string& list = told_.contains(key) ? above : below;
      list += (list.empty() ? "" : ", ") + key;
      if (!told_.contains(key)) next.push_back(account_.find(key));
    }
    if (!above.empty()) line(depth, fmt::format("above: {}", above), 2);
    if (page_.depth && depth >= *page_.depth) {
      if (!below.empty()) line(depth, fmt::format("cut off here: {}", below), 2);
      return;
    }
    for (const Term* child : next)
      if (!told_.contains(child->key)) tell(*child, depth + 1);
  }

  const Account& account_;
  const ExplainedPage& page_;
  std::string text_;
  std::set<std::string> told_;
};

void add_wrapped(std::string& out, std::string_view words, int indent, int width) {
  for (const std::string& l : text::wrapped(text::harmless(words), width - indent)) out += std::string(static_cast<std::size_t>(indent), ' ') + l + "\n";
}

std::string sources_text(const Account& account, const Tree& tree, const Citations& citations, int width) {
  std::set<std::string> ids;
  for (const Term& t : account.terms())
    if (cited(t) && tree.told().contains(t.key)) ids.insert(t.source);
  std::string out = ids.empty() ? "" : "\nSources\n";
  for (const std::string& id : ids) {
    const auto c = citations.find(id);
    add_wrapped(out, id, 2, width);
    add_wrapped(out, c == citations.end() ? "the packet of the seed" : fmt::format("{} (read: {})", c->second.cite, c->second.read), 6, width);
  }
  return out;
}

using Json = nlohmann::ordered_json;

Json term_json(const Term& t, const Citations& citations) {
  Json j = {{"key", t.key}, {"plain", t.plain}, {"value", t.value}, {"unit", t.unit}, {"kind", word(t.kind)}};
  if (!t.formula.empty()) j["formula"] = t.formula;
  for (const NamedText& w : t.where) j["where"].push_back({{"name", w.name}, {"text", w.text}});
  for (const PieceText& p : t.pieces) j["pieces"].push_back({{"length", p.length}, {"temperature", p.temperature}});
  if (!t.unknown.empty()) j["unknown"] = t.unknown;
  if (!t.formula.empty()) j["of"] = t.of;
  if (!t.from.empty()) j["from"] = t.from;
  if (cited(t)) j["range"] = {t.low, t.high}, j["known"] = word(t.known);
  if (!t.source.empty()) j["source"] = t.source;
  if (const auto c = citations.find(t.source); cited(t) && c != citations.end()) j["cite"] = c->second.cite;
  return j;
}

}  // namespace

std::string explained_text(const Account& account, const Citations& citations, const ExplainedPage& page) {
  Tree tree(account, page);
  tree.tell(account.root(), 0);
  std::string out;
  add_wrapped(out, page.title, 0, page.width);
  add_wrapped(out, "Below each number: its formula, the same with the numbers put in, then what it is made of, one step to the right.", 0, page.width);
  out += "\n" + tree.text();
  const std::size_t left = account.terms().size() - tree.told().size();
  if (left > 0) {
    out += "\n";
    add_wrapped(out, fmt::format("Cut at depth {}: {} of {} terms are not shown.", *page.depth, left, account.terms().size()), 0, page.width);
  }
  return out + sources_text(account, tree, citations, page.width);
}

std::string explained_json(const Account& account, const Citations& citations, const std::string& title) {
  Json j = {{"schema", "curdwright.explain/1"}, {"title", title}, {"figure", account.root().key}, {"terms", Json::array()}};
  for (const Term& t : account.terms()) j["terms"].push_back(term_json(t, citations));
  // All digits, not nine: a reader's check starts from what the plan has.
  return text::harmless_json(shortened(j.dump(2, ' ', false, Json::error_handler_t::replace))) + "\n";
}

std::string explained_schema() {
  using namespace schema;
  Json kinds = Json::array();
  for (int k = 0; k <= static_cast<int>(TermKind::constant); ++k) kinds.push_back(word(static_cast<TermKind>(k)));
  const Json where = closed({{"name", text()}, {"text", text()}}, {"name", "text"}), piece = closed({{"length", text()}, {"temperature", text()}}, {"length", "temperature"});
  const Json range = {{"type", "array"}, {"items", number()}, {"minItems", 2}, {"maxItems", 2}};
  const Json term = closed({{"key", text()}, {"plain", text()}, {"value", number()}, {"unit", text()}, {"kind", {{"enum", kinds}}}, {"formula", text()}, {"where", list_of(where)}, {"pieces", list_of(piece)},
                            {"unknown", text()}, {"of", list_of(text())}, {"from", text()}, {"range", range}, {"known", text()}, {"source", text()}, {"cite", text()}},
                           {"key", "plain", "value", "unit", "kind"});
  return document("explain", "How curdwright came to a figure", {{"title", text()}, {"figure", text()}, {"terms", list_of(term)}}, {"title", "figure", "terms"});
}

}  // namespace curdwright::sheets
