// SPDX-License-Identifier: MIT
// Recipes and kitchens drawn at random, as texts that the reader accepts.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/solve.hpp"
#include "laws/law.hpp"

namespace curdwright::test {

/// A recipe with the kitchen it is cooked in.
struct Drawn {
  std::string recipe, kitchen;
  friend std::ostream& operator<<(std::ostream& out, const Drawn& d) { return out << d.recipe << "\nin the kitchen " << d.kitchen; }
};

/// How far from custom a recipe may be: `sensible` is what a cook might write; `any` is all that the reader allows.
enum class Reach { sensible, any };

namespace draw {

inline const std::vector<std::string>& legumes() {
  static const std::vector<std::string> ids = Catalogue::shipped().legume_ids();
  return ids;
}
inline const std::vector<std::string>& coagulants() {
  static const std::vector<std::string> ids = Catalogue::shipped().coagulant_ids();
  return ids;
}
inline const std::string& gear(EquipmentKind kind) {
  static const std::vector<std::vector<std::string>> ids = [] {
    std::vector<std::vector<std::string>> all;
    for (EquipmentKind k : {EquipmentKind::blender, EquipmentKind::strainer, EquipmentKind::press, EquipmentKind::chill, EquipmentKind::hob})
      all.push_back(Catalogue::shipped().equipment_ids(k));
    return all;
  }();
  const auto& some = ids[static_cast<std::size_t>(kind)];
  return some[static_cast<std::size_t>(whole(0, static_cast<int>(some.size()) - 1))];
}
inline const std::string& one_of(const std::vector<std::string>& all) { return all[static_cast<std::size_t>(whole(0, static_cast<int>(all.size()) - 1))]; }

/// A JSON object that grows key by key; each key is left out half of the time unless it is due.
class Object {
 public:
  void due(std::string_view key, const std::string& raw) { text_ += fmt::format("{}\"{}\": {}", text_.empty() ? "" : ", ", key, raw); }
  void maybe(std::string_view key, const std::string& raw) {
    if (once_in(2)) due(key, raw);
  }
  [[nodiscard]] std::string str() const { return "{" + text_ + "}"; }

 private:
  std::string text_;
};

inline std::string number(double v) { return fmt::format("{:.6g}", v); }
inline std::string amount(double v, std::string_view unit) { return fmt::format("\"{:.6g} {}\"", v, unit); }
inline std::string word(std::initializer_list<const char*> words) {
  return fmt::format("\"{}\"", *(words.begin() + whole(0, static_cast<int>(words.size()) - 1)));
}
/// From `low` to `high`, evenly in the logarithm.
inline double spread(double low, double high) { return low * std::pow(high / low, between(0, 1)); }

inline std::string legume_text() {
  const int count = once_in(3) ? whole(2, 4) : 1;
  std::vector<std::string> ids;
  while (ids.size() < static_cast<std::size_t>(count)) {
    const std::string& id = one_of(legumes());
    if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
  }
  if (count == 1) return "\"" + ids[0] + "\"";
  std::vector<double> shares;
  double sum = 0;
  for (int i = 0; i < count; ++i) sum += shares.emplace_back(between(0.05, 1));
  const bool even = once_in(3);
  std::string list;
  for (std::size_t i = 0; i < ids.size(); ++i)
    list += fmt::format("{}{{\"id\": \"{}\"{}}}", list.empty() ? "" : ", ", ids[i], even ? "" : fmt::format(", \"share\": {:.5f}", shares[i] / sum));
  return "[" + list + "]";
}

inline std::string soak_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  o.maybe("water_temperature", amount(any ? between(0, 100) : between(2, 40), "degC"));
  o.maybe("where", word({"fridge", "room"}));
  if (any) o.maybe("room", amount(between(-5, 60), "degC"));
  o.maybe("time", amount(any ? spread(0.17, 96) : between(4, 24), "h"));
  if (any) o.maybe("time_constant", amount(spread(1, 6000), "min"));
  o.maybe("water_to_dry", number(any ? spread(0.5, 20) : between(2.5, 5)));
  o.maybe("changes", fmt::format("{}", any ? whole(0, 12) : whole(0, 2)));
  o.maybe("skins_off", once_in(2) ? "true" : "false");
  return o.str();
}

inline std::string blend_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  switch (whole(0, 2)) {
    case 1: o.due("total_water_to_dry", number(any ? spread(0.5, 40) : between(5, 14))); break;
    case 2: o.due("water_to_soaked", number(any ? spread(0.1, 20) : between(2, 6))); break;
    default: break;
  }
  o.maybe("water_temperature", amount(any ? between(0, 100) : between(5, 95), "degC"));
  o.maybe("time", amount(any ? spread(3, 7200) : between(20, 120), "s"));
  return o.str();
}

inline std::string strain_text(Reach reach) {
  Object o;
  if (once_in(2)) o.due("by", "\"" + gear(EquipmentKind::strainer) + "\"");
  std::string list;
  for (int i = whole(0, reach == Reach::any ? 4 : 2); i > 0; --i) {
    Object w;
    w.due("water_to_dry", number(reach == Reach::any ? spread(0.05, 20) : between(0.3, 3)));
    w.maybe("blend", amount(spread(2, 60), "s"));
    list += (list.empty() ? "" : ", ") + w.str();
  }
  o.due("washes", "[" + list + "]");
  return o.str();
}

inline std::string starch_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  o.maybe("remove", word({"settle", "gel-and-strain", "settle-and-gel", "none"}));
  o.maybe("where", word({"room", "fridge"}));
  o.maybe("depth", amount(any ? spread(0.5, 300) : between(5, 25), "cm"));
  o.maybe("time", amount(any ? spread(1, 4320) : between(20, 180), "min"));
  o.maybe("times", fmt::format("{}", any ? whole(1, 6) : whole(1, 2)));
  return o.str();
}

inline std::string cook_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  o.maybe("hold", amount(any ? between(0, 360) : between(5, 45), "min"));
  o.maybe("heat_up", amount(any ? spread(1, 720) : between(10, 60), "min"));
  if (once_in(3)) o.due("evaporated", number(any ? between(0, 0.8) : between(0, 0.12)));
  if (any) o.maybe("in", word({"open-pot", "slow-cooker", "pressure-cooker"}));
  return o.str();
}

inline std::string coagulate_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  o.maybe("with", "\"" + one_of(coagulants()) + "\"");
  o.maybe("at", amount(any ? between(20, 100) : between(70, 90), "degC"));
  o.maybe("wait", amount(any ? spread(1, 360) : between(10, 45), "min"));
  if (any && once_in(6)) o.due("dose", amount(spread(0.01, 10), "mmol/g"));
  return o.str();
}

inline std::string press_text(Reach reach) {
  Object o;
  const bool any = reach == Reach::any;
  switch (whole(0, 3)) {
    case 1: o.due("pressure", amount(any ? spread(0.1, 1000) : between(2, 40), "kPa")); break;
    case 2: o.due("weight", amount(any ? spread(0.01, 1000) : between(2, 20), "kg")); break;
    case 3: o.due("moisture", number(any ? between(0.3, 0.95) : between(0.7, 0.84))); break;
    default: break;
  }
  o.maybe("time", amount(any ? spread(1, 5760) : between(10, 720), "min"));
  o.maybe("where", word({"fridge", "room"}));
  return o.str();
}

inline std::string recipe_text(Reach reach, const std::string& want) {
  Object o;
  o.due("legume", legume_text());
  if (!want.empty()) o.due("want", want);
  o.maybe("block", "{\"mass\": " + amount(reach == Reach::any ? spread(5, 50000) : between(200, 500), "g") + "}");
  o.maybe("soak", soak_text(reach));
  o.maybe("blend", blend_text(reach));
  o.maybe("strain", strain_text(reach));
  o.maybe("starch", starch_text(reach));
  o.maybe("cook", cook_text(reach));
  o.maybe("coagulate", coagulate_text(reach));
  o.maybe("press", press_text(reach));
  return o.str();
}

inline std::string kitchen_text(Reach reach) {
  // Each draw is a statement of its own, so that every compiler draws in the same order.
  Object o, blender, hob, settling, mould, fridge;
  const bool any = reach == Reach::any;
  blender.due("class", "\"" + gear(EquipmentKind::blender) + "\"");
  blender.due("jar", amount(any ? spread(0.2, 100) : between(1, 3), "l"));
  o.maybe("blender", blender.str());
  o.maybe("strainer", "\"" + gear(EquipmentKind::strainer) + "\"");
  hob.due("kind", "\"" + gear(EquipmentKind::hob) + "\"");
  hob.due("power", amount(any ? spread(50, 20000) : between(1500, 3500), "W"));
  o.maybe("hob", hob.str());
  settling.due("area", amount(spread(100, 3000), "cm2"));
  settling.due("volume", amount(spread(1, 50), "l"));
  o.maybe("settling", settling.str());
  o.maybe("press", "\"" + gear(EquipmentKind::press) + "\"");
  mould.due("length", amount(between(6, 40), "cm"));
  mould.due("width", amount(between(6, 40), "cm"));
  o.maybe("mould", mould.str());
  fridge.due("temperature", amount(between(any ? -5 : 1, any ? 20 : 6), "degC"));
  fridge.due("fan", once_in(2) ? "true" : "false");
  o.maybe("fridge", fridge.str());
  o.maybe("altitude", amount(between(any ? -400 : 0, any ? 5500 : 2500), "m"));
  o.maybe("room", amount(any ? between(-5, 45) : between(15, 30), "degC"));
  o.maybe("tap_water", amount(any ? between(0, 40) : between(8, 25), "degC"));
  return o.str();
}

inline Drawn anything(Reach reach, const std::string& want = "") {
  const auto gen = rc::gen::exec([reach, want] {
    const std::string recipe = recipe_text(reach, want);
    return Drawn{recipe, kitchen_text(reach)};
  });
  return *gen;
}

/// One to eight extras, each at a stage that its record allows.
inline std::string extras_text(Reach reach) {
  static const std::vector<std::string> ids = Catalogue::shipped().extra_ids();
  std::string list;
  for (int i = whole(1, 8); i > 0; --i) {
    const std::string& id = one_of(ids);
    Object o;
    o.due("what", "\"" + id + "\"");
    if (once_in(2)) o.due("stage", "\"" + one_of(words_of(Catalogue::shipped().extra(id)->stages)) + "\"");
    const bool any = reach == Reach::any;
    if (once_in(2))
      o.due("amount", amount(any ? spread(0.01, 1e6) : spread(0.5, 50), "g"));
    else
      o.due("to_dry", number(any ? spread(1e-5, 2) : spread(0.001, 0.05)));
    list += (list.empty() ? "" : ", ") + o.str();
  }
  return "[" + list + "]";
}

inline Drawn seasoned(Reach reach, const std::string& want = "") {
  return *rc::gen::exec([reach, want] {
    const Drawn plain = anything(reach, want);
    return Drawn{plain.recipe.substr(0, plain.recipe.size() - 1) + ", \"extras\": " + extras_text(reach) + "}", plain.kitchen};
  });
}

}  // namespace draw

/// What the reader and the catalogue make of it; a text that they refuse fails the law.
inline Setup setup_for(const Drawn& d) {
  const auto told = [](const Problems& problems) {
    std::string all;
    for (const Problem& p : problems) all += p.code + " " + p.place.pointer + ": " + p.what + "\n";
    return all;
  };
  const auto in = read_inputs({d.recipe, "recipe.json", d.kitchen, "kitchen.json", {}, {}});
  if (!in) RC_FAIL(told(in.error()));
  auto setup = resolve(in->recipe, in->kitchen, Catalogue::shipped());
  if (!setup) RC_FAIL(told(setup.error()));
  return std::move(*setup);
}

}  // namespace curdwright::test
