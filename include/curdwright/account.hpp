// SPDX-License-Identifier: MIT
/// \file account.hpp
/// How a figure comes about: every number between it and the data, each with its formula as text.
///
///     Account a = account(batch, Figure::curd_mass);
///     for (const Term& t : a.terms()) print(t.key, t.value, t.unit, t.formula);
///
/// A formula is text over the keys of other terms, and nothing else: the value comes from the plan or from the stage
/// functions that made it. A test evaluates every text with a library of its own and must find the value.
///
/// In a text stand numbers, keys, + - * / ^ and brackets, and min, max, sum, clamp(x, low, high), exp, ln, log10, sqrt,
/// floor and normal_cdf. Lines of `where` name parts of a text, in order.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/solve.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

/// What a term is: reckoned by a formula, or a leaf.
enum class TermKind {
  formula,
  integral,   ///< of `formula` over time, along pieces of temperature
  root,       ///< value of the unknown at which `formula` is zero
  parameter,  ///< a belief at its median
  record,     ///< a figure of a record that the plan takes as it is
  setting,    ///< of recipe, kitchen or default, or found by sizing
  constant,   ///< stands in the code
};
template <>
inline constexpr std::array<std::string_view, 7> word_list<TermKind> = {"formula", "integral", "root", "parameter", "record", "setting", "constant"};

/// A name and the text it stands for.
struct NamedText {
  std::string name, text;
};

/// A stretch of an integral: t runs from 0 to `length`, s, while the temperature is T, K.
struct PieceText {
  std::string length, temperature;
};

struct Term {
  std::string key;
  double value = 0;
  std::string unit;     ///< "1" of a ratio
  std::string plain;    ///< what a cook calls it
  TermKind kind = TermKind::formula;
  std::string formula;  ///< over `of`, the names of `where`, and T of an integral or the unknown of a root
  std::vector<NamedText> where;
  std::vector<PieceText> pieces;  ///< of an integral
  std::string unknown;            ///< of a root
  std::vector<std::string> of;    ///< keys that the texts name
  Known known = Known::standard;  ///< of parameters and records
  std::string source;             ///< id of a citation; of a constant the source itself
  double low = 0, high = 0;       ///< the middle 80 % of belief, of parameters and records
  std::string from;               ///< where a leaf stands: record and field, pointer, or words
};

/// The terms of one figure: its own first, then those that it is made of, each where it is first needed.
class Account {
 public:
  explicit Account(std::vector<Term> terms) : terms_(std::move(terms)) {}
  [[nodiscard]] std::span<const Term> terms() const { return terms_; }
  [[nodiscard]] const Term& root() const { return terms_.front(); }
  [[nodiscard]] const Term* find(std::string_view key) const;

 private:
  std::vector<Term> terms_;
};

/// \param batch whose plan is whole
Account account(const Batch& batch, Figure figure);

/// All accounts of a batch, for who wants many: one walk through the stages.
std::vector<Account> account_all(const Batch& batch, std::span<const Figure> figures);

/// A word of a text: a name, or what stands between names. A name before a bracket is a function and no name.
struct TextPiece {
  std::string_view text;
  bool is_name = false;
};
std::vector<TextPiece> pieces_of(std::string_view text);

}  // namespace curdwright
