// SPDX-License-Identifier: MIT
// One description of each kind of input, walked by several visitors: the reader that fills a struct and
// reports every fault, the writer of the JSON Schema, the finder that knows what stands at a pointer.
//
//     void describe(Fields& f, SoakRecipe& s) {
//       f.quantity("time", s.time, minutes(10), hours(72), "how long the seed soaks");
//     }
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/parameters.hpp"
#include "curdwright/quantity.hpp"
#include "curdwright/units.hpp"
#include "json/document.hpp"

namespace curdwright::json {

template <class Q>
struct KindOf;
template <> struct KindOf<Mass> { static constexpr QuantityKind kind = QuantityKind::mass; };
template <> struct KindOf<Volume> { static constexpr QuantityKind kind = QuantityKind::volume; };
template <> struct KindOf<Temperature> { static constexpr QuantityKind kind = QuantityKind::temperature; };
template <> struct KindOf<Duration> { static constexpr QuantityKind kind = QuantityKind::duration; };
template <> struct KindOf<Length> { static constexpr QuantityKind kind = QuantityKind::length; };
template <> struct KindOf<Area> { static constexpr QuantityKind kind = QuantityKind::area; };
template <> struct KindOf<Pressure> { static constexpr QuantityKind kind = QuantityKind::pressure; };
template <> struct KindOf<Power> { static constexpr QuantityKind kind = QuantityKind::power; };
template <> struct KindOf<Concentration> { static constexpr QuantityKind kind = QuantityKind::concentration; };
template <> struct KindOf<Dose> { static constexpr QuantityKind kind = QuantityKind::dose; };
template <> struct KindOf<Density> { static constexpr QuantityKind kind = QuantityKind::mass_concentration; };

/// Smallest and largest allowed, in SI.
struct Bounds {
  double low, high;
};

class Fields {
 public:
  using Describe = std::function<void(Fields&)>;
  using DescribeItem = std::function<void(Fields&, std::size_t)>;
  Fields() = default;
  Fields(const Fields&) = delete;
  Fields& operator=(const Fields&) = delete;
  virtual ~Fields() = default;

  template <class Q>
  void quantity(std::string_view key, std::optional<Q>& to, Q low, Q high, std::string_view about) {
    double si = to ? to->si() : 0;
    bool given = to.has_value();
    quantity_field(key, KindOf<Q>::kind, si, given, {low.si(), high.si()}, about);
    if (given) to = Q::from_si(si);
  }
  /// A share: "80 %" or 0.8.
  void share(std::string_view key, std::optional<double>& to, Bounds bounds, std::string_view about) {
    double si = to.value_or(0);
    bool given = to.has_value();
    quantity_field(key, QuantityKind::fraction, si, given, bounds, about);
    if (given) to = si;
  }
  virtual void number(std::string_view key, std::optional<double>& to, Bounds bounds, std::string_view about) = 0;
  virtual void count(std::string_view key, std::optional<int>& to, int low, int high, std::string_view about) = 0;
  virtual void flag(std::string_view key, std::optional<bool>& to, std::string_view about) = 0;
  virtual void text(std::string_view key, std::optional<std::string>& to, std::size_t longest, std::string_view about) = 0;
  /// One of a few words.
  virtual void choice(std::string_view key, std::optional<std::string>& to, std::span<const std::string_view> words,
                      std::string_view about) = 0;
  /// One of the values of an enum that are allowed here, by its word.
  template <Worded E, std::size_t n>
  void choice(std::string_view key, std::optional<E>& to, const std::array<E, n>& allowed, std::string_view about) {
    std::array<std::string_view, n> words;
    for (std::size_t i = 0; i < n; ++i) words[i] = word(allowed[i]);
    std::optional<std::string> text = to ? std::optional(std::string(word(*to))) : std::nullopt;
    choice(key, text, words, about);
    if (text) to = from_word<E>(*text);
  }
  template <Worded E>
  void choice(std::string_view key, std::optional<E>& to, std::string_view about) {
    choice(key, to, all_values<E>(), about);
  }
  /// What is wrong with a text, without a place; nothing when it will do.
  using Check = std::function<std::optional<Problem>(std::string_view)>;
  using Entries = std::vector<std::pair<std::string, std::string>>;
  virtual void checked_text(std::string_view key, std::optional<std::string>& to, const Check& check, std::string_view about) = 0;
  /// An object whose keys are the user's own, with a text for each.
  virtual void entries(std::string_view key, Entries& to, std::size_t most, const Check& check, std::string_view about) = 0;
  virtual void texts(std::string_view key, std::vector<std::string>& to, std::size_t most, std::string_view about) = 0;
  virtual void numbers(std::string_view key, std::vector<double>& to, std::size_t most, Bounds bounds, std::string_view about) = 0;
  virtual void object(std::string_view key, bool& given, std::string_view about, const Describe& inner) = 0;
  /// An object of which nobody asks whether it was given.
  void group(std::string_view key, std::string_view about, const Describe& inner) {
    bool given = true;
    object(key, given, about, inner);
  }
  /// A list of structs, each described in the same way.
  template <class List, class Each>
  void list(std::string_view key, List& items, std::size_t most, std::string_view about, const Each& each) {
    list(key, items.size(), most, about, [&](std::size_t n) { items.resize(n); }, [&](Fields& g, std::size_t i) { each(g, items[i]); });
  }
  /// \param now how many there are before anything is read
  virtual void list(std::string_view key, std::size_t now, std::size_t most, std::string_view about, const std::function<void(std::size_t)>& resize,
                    const DescribeItem& item) = 0;
  /// Either a plain text or a list of objects, as `legume` is.
  virtual void text_or_list(std::string_view key, std::optional<std::string>& to, std::size_t most, std::string_view about,
                            const std::function<void(std::size_t)>& resize, const DescribeItem& item) = 0;
  /// A figure with its evidence. With `optional_field` it may be left out.
  virtual void evidence(std::string_view key, Evidence& to, std::string_view unit, Link link, bool optional_field,
                        std::string_view about) = 0;
  /// The next field must be given.
  virtual void required() {}

 protected:
  virtual void quantity_field(std::string_view key, QuantityKind kind, double& si, bool& given, Bounds bounds,
                              std::string_view about) = 0;
};

inline constexpr std::size_t max_text = 200;

/// Fills a struct from a node. Every fault is added to `problems`; nothing is guessed.
/// Borrowed evidence is left with `borrowed_from` set and no value, for the catalogue to fill.
void read_object(const Document& document, const Node& node, Problems& problems, const Fields::Describe& describe);

/// JSON Schema 2020-12 of what `describe` describes.
std::string schema_text(std::string_view id, std::string_view title, const Fields::Describe& describe);
/// Of a document that is of one of several kinds.
std::string schema_text_of_one(std::string_view id, std::string_view title, std::span<const Fields::Describe> kinds);

/// What a pointer leads to.
enum class FieldKind { none, quantity, number, count, flag, text, object, list, text_or_list, evidence };
struct Found {
  FieldKind kind = FieldKind::none;
  std::string nearest;                    ///< nearest pointer that exists, when this one does not
  std::optional<QuantityKind> quantity;   ///< of a quantity
};
Found find_field(const std::vector<std::string>& steps, const Fields::Describe& describe);

/// Every pointer that can be set, list items as 0, in the order of the description.
std::vector<std::string> all_pointers(const Fields::Describe& describe);

/// The field at a pointer, or a problem that names the nearest.
/// \param option where the problem is to be shown; prefix and elsewhere as for set_value
Result<Found> known_field(std::string_view pointer, const std::string& option, const Fields::Describe& describe, std::string_view prefix = "",
                          const std::function<std::vector<std::string>()>& elsewhere = {});

/// Puts a value, written on the command line as text, at a pointer of the tree, making objects on the way.
/// \param prefix what the user writes before the pointer: "/kitchen", or nothing
/// \param elsewhere pointers of other trees that may be meant when this one is not known
Result<void> set_value(Node& root, std::string_view assignment, const std::string& option, const Fields::Describe& describe,
                       std::string_view prefix = "", const std::function<std::vector<std::string>()>& elsewhere = {});

}  // namespace curdwright::json
