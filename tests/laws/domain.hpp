// SPDX-License-Identifier: MIT
// Recipes and kitchens over all that the readers accept: every key of the fields' own description, over its whole range.
// A key that is added to the description is drawn from then on, without a word here, unless it is a new kind of name.
#pragma once

#include <nlohmann/json.hpp>

#include "kitchen_fields.hpp"
#include "laws/recipes.hpp"
#include "recipe_fields.hpp"

namespace curdwright::test {

/// Keys of one object of which a recipe may tell only one.
inline const std::vector<std::vector<std::string_view>>& one_of_these() {
  static const std::vector<std::vector<std::string_view>> sets = {{"total_water_to_dry", "water_to_soaked", "water"},
                                                                  {"blocks", "curd", "dry", "protein", "fill"},
                                                                  {"pressure", "weight"},
                                                                  {"dose", "amount", "to_dry"}};
  return sets;
}

/// Names that a text field may hold, by its key; none: any words will do.
inline std::vector<std::string> names_for(std::string_view key) {
  const Catalogue& c = Catalogue::shipped();
  if (key == "id") return c.legume_ids();
  if (key == "with") return c.coagulant_ids();
  if (key == "what") return c.extra_ids();
  if (key == "by" || key == "strainer") return c.equipment_ids(EquipmentKind::strainer);
  if (key == "class") return c.equipment_ids(EquipmentKind::blender);
  if (key == "kind") return c.equipment_ids(EquipmentKind::hob);
  if (key == "press") return c.equipment_ids(EquipmentKind::press);
  if (key == "in") return c.equipment_ids(EquipmentKind::chill);
  if (key == "title" || key == "name") return {"A batch", "x"};
  if (key == "time_zone") return {"Europe/Berlin", "UTC"};
  if (key == "currency") return {"EUR", "JPY", "KWD"};
  return {};
}

/// Exactly what is meant, in the unit of the SI: no rounding moves a limit out of its range.
inline std::string in_si(double si, QuantityKind kind) {
  if (kind == QuantityKind::temperature) return fmt::format("{:.15g} degC", si - 273.15);
  static constexpr std::string_view units[] = {"kg", "m3", "", "s", "m", "m2", "Pa", "W", "", "mol/m3", "kg/m3", "mol/kg"};
  const auto written = units_of(kind);
  const std::string_view unit = units[static_cast<std::size_t>(kind)];
  if (std::find(written.begin(), written.end(), unit) != written.end()) return fmt::format("{:.15g} {}", si, unit);
  return write_quantity(si, kind);
}

/// Draws a JSON object along a description. What is told of a key is left to `told`: whether it is given at all.
class Drawer : public json::Fields {
 public:
  using Json = nlohmann::ordered_json;
  /// \param given how many keys in ten are told
  explicit Drawer(int given) : given_(given) {}
  Json out = Json::object();

  void number(std::string_view key, std::optional<double>&, json::Bounds b, std::string_view) override {
    if (told(key)) out[std::string(key)] = in(b);
  }
  void count(std::string_view key, std::optional<int>&, int low, int high, std::string_view) override {
    if (told(key)) out[std::string(key)] = static_cast<int>(std::lround(in({static_cast<double>(low), static_cast<double>(high)})));
  }
  void flag(std::string_view key, std::optional<bool>&, std::string_view) override {
    if (told(key)) out[std::string(key)] = once_in(2);
  }
  void text(std::string_view key, std::optional<std::string>&, std::size_t, std::string_view) override {
    if (key == "$schema" || !told(key)) return;
    std::vector<std::string> names = names_for(key);
    if (key == "id") {
      // No legume stands twice in a mix.
      std::erase_if(names, [&](const std::string& n) { return used_ && std::find(used_->begin(), used_->end(), n) != used_->end(); });
    }
    if (names.empty()) throw std::logic_error("domain.hpp knows no names for " + std::string(key));
    const std::string& name = draw::one_of(names);
    out[std::string(key)] = name;
    if (key == "id" && used_) used_->push_back(name);
  }
  void choice(std::string_view key, std::optional<std::string>&, std::span<const std::string_view> words, std::string_view) override {
    // An extra goes in where its record lets it; elsewhere it is refused.
    if (key == "stage" && out.contains("what")) {
      if (told(key)) out["stage"] = draw::one_of(words_of(Catalogue::shipped().extra(out["what"].get<std::string>())->stages));
    } else if (told(key)) {
      out[std::string(key)] = words[static_cast<std::size_t>(whole(0, static_cast<int>(words.size()) - 1))];
    }
  }
  void checked_text(std::string_view key, std::optional<std::string>& v, const Check&, std::string_view about) override { text(key, v, 0, about); }
  void entries(std::string_view key, Entries&, std::size_t, const Check&, std::string_view) override {
    if (!told(key)) return;
    Json& all = out[std::string(key)] = Json::object();
    for (const char* what : {"soybean", "chickpea-kabuli", "calcium-sulfate-dihydrate", "water", "electricity", "gas", "pulp", "starch-layer", "whey"})
      if (key == "prices" && once_in(2)) all[what] = price(what);
    if (key == "tares") all["bowl"] = "412 g";
  }
  void texts(std::string_view, std::vector<std::string>&, std::size_t, std::string_view) override {}
  void numbers(std::string_view, std::vector<double>&, std::size_t, json::Bounds, std::string_view) override {}
  void object(std::string_view key, bool&, std::string_view, const Describe& inner) override {
    if (key == "learned") return;  // its lists hang together: learning_laws.cpp
    Drawer d(key == "label" ? 1 : given_);
    inner(d);
    if (!d.out.empty()) out[std::string(key)] = std::move(d.out);
  }
  void list(std::string_view key, std::size_t, std::size_t most, std::string_view, const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    if (told(key)) out[std::string(key)] = items(static_cast<std::size_t>(whole(0, once_in(4) ? static_cast<int>(most) : 2)), resize, item, {});
  }
  void text_or_list(std::string_view key, std::optional<std::string>&, std::size_t most, std::string_view, const std::function<void(std::size_t)>& resize,
                    const DescribeItem& item) override {
    const auto n = static_cast<std::size_t>(once_in(2) ? 1 : whole(1, static_cast<int>(most)));
    if (n == 1 && once_in(2))
      out[std::string(key)] = draw::one_of(names_for("id"));
    else
      out[std::string(key)] = items(n, resize, item, shares(n));
    due_ = false;
  }
  void evidence(std::string_view, Evidence&, std::string_view, Link, bool, std::string_view) override {}
  void required() override { due_ = true; }

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double&, bool&, json::Bounds b, std::string_view) override {
    if (key == "share") {
      if (share_) out["share"] = *share_;
      due_ = false;
    } else if (told(key)) {
      if (kind == QuantityKind::fraction)
        out[std::string(key)] = in(b);
      else
        out[std::string(key)] = in_si(in(b), kind);
    }
  }

 private:
  [[nodiscard]] bool told(std::string_view key) {
    const bool due = std::exchange(due_, false);
    for (const auto& set : one_of_these())
      if (std::find(set.begin(), set.end(), key) != set.end())
        for (std::string_view other : set)
          if (other != key && out.contains(other)) return false;
    if (!suits(key)) return false;
    return due || key == "to_dry" || whole(1, 10) <= given_;
  }

  /// A solid coagulant is told by its purity, a liquid by its strength or its ion.
  [[nodiscard]] bool suits(std::string_view key) const {
    if (key != "purity" && key != "strength" && key != "label_ion") return true;
    if (!out.contains("with")) return false;
    const auto c = Catalogue::shipped().coagulant(out["with"].get<std::string>());
    const bool liquid = c && c->form == CoagulantForm::liquid;
    return key == "purity" ? !liquid : liquid && (key == "strength" || c->ion != Ion::none);
  }

  /// One time in eight an end of the range. Else even in the logarithm where it spans more than a factor of twenty.
  static double in(json::Bounds b) {
    const int end = whole(0, 15);
    if (end == 15) return b.high;
    if (end == 14) return b.low;
    return b.low > 0 && b.high > 20 * b.low ? std::clamp(draw::spread(b.low, b.high), b.low, b.high) : between(b.low, b.high);
  }

  static std::string price(std::string_view what) {
    const double money = once_in(8) ? 0 : draw::spread(1e-6, 1e6);
    return fmt::format("{:.9f}/{}", money, what == "electricity" || what == "gas" ? "kWh" : "kg");
  }

  /// Shares that add to one, none below a thousandth; or none told.
  static std::vector<double> shares(std::size_t n) {
    std::vector<double> all;
    if (n < 2 || once_in(3)) return all;
    double sum = 0;
    for (std::size_t i = 0; i < n; ++i) sum += all.emplace_back(draw::spread(0.004, 1));
    for (double& s : all) s /= sum;
    return all;
  }

  [[nodiscard]] Json items(std::size_t n, const std::function<void(std::size_t)>& resize, const DescribeItem& item, const std::vector<double>& share) const {
    Json list = Json::array();
    std::vector<std::string> used;
    resize(n);
    for (std::size_t i = 0; i < n; ++i) {
      Drawer d(given_);
      d.used_ = &used;
      if (!share.empty()) d.share_ = share[i];
      item(d, i);
      list.push_back(std::move(d.out));
    }
    return list;
  }

  int given_;
  bool due_ = false;
  std::optional<double> share_;
  std::vector<std::string>* used_ = nullptr;
};

namespace draw {

/// Any recipe in any kitchen. Few keys make recipes that can be cooked, many make recipes that strain the planner.
inline Drawn whole_domain() {
  return *rc::gen::exec([] {
    const int given = once_in(2) ? 1 : whole(1, 6);
    Recipe r;
    Kitchen k;
    Drawer recipe(given), kitchen(given);
    describe_recipe(recipe, r);
    describe_kitchen(kitchen, k);
    recipe.out.erase("schema"), kitchen.out.erase("schema");
    return Drawn{recipe.out.dump(), kitchen.out.dump()};
  });
}

}  // namespace draw
}  // namespace curdwright::test
