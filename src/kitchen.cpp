// SPDX-License-Identifier: MIT
#include "curdwright/kitchen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "curdwright/price.hpp"
#include "kitchen_fields.hpp"
#include "text/spoken.hpp"

namespace curdwright {
namespace {

using json::Fields;

/// The visitors work on optionals; a kitchen has a value for everything.
template <class T, class Visit>
void with(T& value, Visit visit) {
  std::optional<T> v(value);
  visit(v);
  if (v) value = *v;
}

template <class Q>
void quantity(Fields& f, std::string_view key, Q& value, Q low, Q high, std::string_view about) {
  with(value, [&](auto& v) { f.quantity(key, v, low, high, about); });
}

void put_text(Fields& f, std::string_view key, std::string& value, std::string_view about) {
  with(value, [&](auto& v) { f.text(key, v, json::max_text, about); });
}

void count(Fields& f, std::string_view key, int& value, int low, int high, std::string_view about) {
  with(value, [&](auto& v) { f.count(key, v, low, high, about); });
}

template <Worded E>
void choice(Fields& f, std::string_view key, E& value, std::string_view about) {
  with(value, [&](auto& v) { f.choice(key, v, about); });
}

void describe_scale(Fields& f, std::string_view key, Scale& s, std::string_view about) {
  f.group(key, about, [&](Fields& g) {
    quantity(g, "step", s.step, grams(0.001), grams(1000), "smallest difference it shows");
    quantity(g, "capacity", s.capacity, grams(5), kilograms(5000), "most it can weigh");
  });
}

std::optional<Problem> currency_fault(std::string_view text) {
  const auto code = parse_currency(text);
  return code ? std::nullopt : std::optional(code.error()[0]);
}

std::optional<Problem> price_fault(std::string_view text) {
  const auto price = parse_price(text);
  return price ? std::nullopt : std::optional(price.error()[0]);
}

std::optional<Problem> tare_fault(std::string_view text) {
  const auto mass = parse_quantity(text, QuantityKind::mass);
  return mass && *mass >= 0 && *mass <= 500 ? std::nullopt
         : mass                             ? std::optional(Problem{"out-of-range", {}, fmt::format("\"{}\" is no empty weight", text), "0 g to 500 kg are allowed", ""})
                                            : std::optional(mass.error()[0]);
}

/// Writes the values of a description back as JSON.
class Writer : public Fields {
 public:
  nlohmann::ordered_json out = nlohmann::ordered_json::object();
  void number(std::string_view key, std::optional<double>& v, json::Bounds, std::string_view) override { put(key, v); }
  void count(std::string_view key, std::optional<int>& v, int, int, std::string_view) override { put(key, v); }
  void flag(std::string_view key, std::optional<bool>& v, std::string_view) override { put(key, v); }
  void text(std::string_view key, std::optional<std::string>& v, std::size_t, std::string_view) override { put(key, v); }
  void choice(std::string_view key, std::optional<std::string>& v, std::span<const std::string_view>, std::string_view) override { put(key, v); }
  void checked_text(std::string_view key, std::optional<std::string>& v, const Check&, std::string_view) override { put(key, v); }
  void entries(std::string_view key, Entries& v, std::size_t, const Check&, std::string_view) override {
    auto& object = out[std::string(key)] = nlohmann::ordered_json::object();
    for (const auto& [id, text] : v) object[id] = text;
  }
  void texts(std::string_view key, std::vector<std::string>& v, std::size_t, std::string_view) override { out[std::string(key)] = v; }
  void numbers(std::string_view key, std::vector<double>& v, std::size_t, json::Bounds, std::string_view) override {
    // Enough digits to be read back to what matters, few enough to be looked at.
    for (double x : v) out[std::string(key)].push_back(text::to_digits(x, 7));
  }
  void object(std::string_view key, bool& given, std::string_view, const Describe& inner) override {
    if (!given) return;
    Writer w;
    inner(w);
    if (!w.out.empty()) out[std::string(key)] = w.out;
  }
  void list(std::string_view key, std::size_t now, std::size_t, std::string_view, const std::function<void(std::size_t)>&, const DescribeItem& item) override {
    auto& all = out[std::string(key)] = nlohmann::ordered_json::array();
    for (std::size_t i = 0; i < now; ++i) {
      Writer w;
      item(w, i);
      all.push_back(std::move(w.out));
    }
  }
  // A kitchen has neither; learning_laws.cpp reads back all that a kitchen may hold.
  void text_or_list(std::string_view, std::optional<std::string>&, std::size_t, std::string_view, const std::function<void(std::size_t)>&,
                    const DescribeItem&) override {}
  void evidence(std::string_view, Evidence&, std::string_view, Link, bool, std::string_view) override {}

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double& si, bool& given, json::Bounds, std::string_view) override {
    if (given) out[std::string(key)] = write_quantity(si, kind);
  }

 private:
  template <class T>
  void put(std::string_view key, const std::optional<T>& v) {
    if (v) out[std::string(key)] = *v;
  }
};

void describe_learned(Fields& f, Learned& l) {
  std::optional<std::string> data = l.data_version, model = l.model_version;
  f.required(), f.text("data", data, 40, "version of the records that it starts from");
  f.required(), f.text("model", model, 40, "version of the model");
  count(f, "batches", l.batches, 0, 1'000'000, "that it was learned from");
  count(f, "readings", l.readings, 0, 100'000'000, "of those batches");
  f.texts("names", l.names, Learned::most, "the numbers that were learned");
  f.numbers("offsets", l.offsets, Learned::most, {-20, 20}, "how far each lies from what is shipped, in shipped spreads");
  f.numbers("covariance", l.covariance, Learned::most * (Learned::most + 1) / 2, {-20, 20}, "of the offsets: lower triangle, row by row");
  l.data_version = data.value_or(""), l.model_version = model.value_or("");
}

void describe_pot(Fields& f, Pot& p) {
  put_text(f, "name", p.name, "as the sheet calls it");
  quantity(f, "volume", p.volume, millilitres(100), litres(5000), "to the brim");
  quantity(f, "tare", p.tare, grams(0), kilograms(500), "weight when empty");
  choice(f, "material", p.material, "what it is made of");
}

}  // namespace

void describe_kitchen(Fields& f, Kitchen& k) {
  std::optional<std::string> schema;
  static constexpr std::array<std::string_view, 1> schemas = {"curdwright.kitchen/1"};
  f.text("$schema", k.schema_file, json::max_text, "where an editor finds the schema");
  f.choice("schema", schema, schemas, "version of this format");
  put_text(f, "name", k.name, "named on every sheet");
  f.group("blender", "what grinds the beans", [&](Fields& g) {
    put_text(g, "class", k.blender, "see `list blenders`");
    quantity(g, "jar", k.jar, millilitres(100), litres(500), "jar to the brim");
  });
  put_text(f, "strainer", k.strainer, "see `list strainers`");
  f.list("pots", k.pots, 16, "pots for cooking; the smallest that holds the milk with its foam is taken, else the largest", describe_pot);
  f.group("hob", "what heats the milk", [&](Fields& g) {
    put_text(g, "kind", k.hob, "see `list hobs`");
    quantity(g, "power", k.hob_power, watts(50), kilowatts(500), "rating of one ring");
  });
  f.group("settling", "vessels in which the starch settles", [&](Fields& g) {
    count(g, "vessels", k.settling_vessels, 1, 64, "how many stand side by side");
    quantity(g, "volume", k.settling_volume, millilitres(100), litres(5000), "of one, to the brim");
    quantity(g, "area", k.settling_area, square_centimetres(5), square_metres(50), "floor of one");
  });
  put_text(f, "press", k.press, "see `list presses`");
  f.group("mould", "footprint of one block", [&](Fields& g) {
    quantity(g, "length", k.mould_length, centimetres(2), metres(2), "");
    quantity(g, "width", k.mould_width, centimetres(2), metres(2), "");
    quantity(g, "height", k.mould_height, centimetres(1), metres(1), "to the brim");
    count(g, "count", k.moulds, 1, 1000, "how many blocks can be pressed at a time");
  });
  f.group("fridge", "where things are kept cold", [&](Fields& g) {
    quantity(g, "temperature", k.fridge, celsius(-5), celsius(20), "inside, measured");
    with(k.fridge_fan, [&](auto& v) { g.flag("fan", v, "whether a fan moves the air"); });
  });
  f.entries("tares", k.tares, 100, tare_fault, "empty weights of bowls and buckets by name, for readings as \"soaked=1552g-bowl\"");
  choice(f, "thermometer", k.thermometer, "what temperatures are read with");
  describe_scale(f, "coarse_scale", k.coarse_scale, "for seed, water, milk, curd");
  describe_scale(f, "fine_scale", k.fine_scale, "for coagulant");
  quantity(f, "altitude", k.altitude, metres(-400), metres(5500), "above the sea");
  quantity(f, "room", k.room, celsius(-5), celsius(45), "temperature of the kitchen");
  quantity(f, "tap_water", k.tap_water, celsius(0), celsius(40), "temperature of cold water");
  choice(f, "water", k.water, "what the water is");
  std::optional<std::string> zone = k.time_zone.empty() ? std::nullopt : std::optional(k.time_zone);
  f.text("time_zone", zone, json::max_text, "IANA name of the kitchen's time zone, for example Europe/Berlin");
  if (zone) k.time_zone = *zone;
  choice(f, "rule_set", k.rule_set, "cooking at home, or selling");
  choice(f, "region", k.region, "whose cooling and holding limits apply");
  f.choice("label_rules", k.label_rules, "whose rules the nutrition label follows; by the region when left out");
  with(k.currency, [&](auto& v) { f.checked_text("currency", v, currency_fault, "of the prices, a code of ISO 4217; XXX stands for none"); });
  f.entries("prices", k.prices, 200, price_fault, "by id of legume or coagulant, or water, electricity, gas, pulp, starch-layer, whey: \"3.10/kg\"");
  bool given = k.learned.has_value();
  Learned learned = k.learned.value_or(Learned{});
  f.object("learned", given, "what `curdwright learn` found; not written by hand", [&](Fields& g) { describe_learned(g, learned); });
  if (given) k.learned = std::move(learned);
  if (k.pots.empty()) k.pots.emplace_back();
}

namespace {

/// A covariance has thousands of numbers: a line for each row of it, and not for each number.
std::string with_rows(nlohmann::ordered_json kitchen) {
  constexpr std::string_view mark = "\"covariance\": null";
  if (!kitchen.contains("learned") || !kitchen["learned"].contains("covariance")) return kitchen.dump(2) + "\n";
  const nlohmann::ordered_json numbers = std::exchange(kitchen["learned"]["covariance"], nullptr);
  std::string rows;
  for (std::size_t i = 0, row = 1; i < numbers.size(); ++row) {
    rows += rows.empty() ? "\n      " : ",\n      ";
    for (std::size_t j = 0; j < row && i < numbers.size(); ++i, ++j) rows += (j > 0 ? ", " : "") + numbers[i].dump();
  }
  std::string text = kitchen.dump(2) + "\n";
  // No text of the user's can hold this: quotes inside a text are escaped.
  return text.replace(text.find(mark), mark.size(), fmt::format("\"covariance\": [{}\n    ]", rows));
}

}  // namespace

Kitchen default_kitchen() { return {}; }

const Pot& largest_pot(const Kitchen& k) {
  return *std::max_element(k.pots.begin(), k.pots.end(), [](const Pot& a, const Pot& b) { return a.volume < b.volume; });
}

Result<Kitchen> read_kitchen(std::string text, std::string file) {
  auto document = json::parse(std::move(text), std::move(file));
  if (!document) return fail(document.error());
  Problems problems;
  Kitchen k;
  json::read_object(*document, document->root, problems, [&](Fields& f) { describe_kitchen(f, k); });
  json::in_file_order(problems);
  if (!problems.empty()) return fail(std::move(problems));
  return k;
}

std::string write_kitchen(const Kitchen& kitchen) {
  Kitchen k = kitchen;
  Writer w;
  w.out["schema"] = "curdwright.kitchen/1";
  describe_kitchen(w, k);
  return with_rows(std::move(w.out));
}

std::string kitchen_schema() {
  Kitchen k;
  return json::schema_text("https://curdwright.invalid/schema/kitchen-1.json", "Kitchen of curdwright", [&](Fields& f) { describe_kitchen(f, k); });
}

}  // namespace curdwright
