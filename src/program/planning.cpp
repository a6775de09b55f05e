// SPDX-License-Identifier: MIT
#include "program/planning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/cost.hpp"
#include "curdwright/units.hpp"
#include "json/document.hpp"
#include "program/answers.hpp"
#include "program/files.hpp"
#include "program/zones.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Result<Mass> mass_option(const Request& r, std::string_view option) {
  const std::string told = r.value(option).value_or("");
  auto si = parse_quantity(told, QuantityKind::mass);
  if (si && (*si < 1e-3 || *si > 1e4))
    si = fail(Problem{"out-of-range", {}, fmt::format("{} is out of range", text::quoted(text::cut(told, 40))), "1 g to 10000 kg can be planned", fmt::format("check the unit; write for example {} 1kg", option)});
  if (!si) {
    for (Problem& p : si.error()) p.place.file = option;
    return fail(si.error());
  }
  return kilograms(*si);
}

std::string named(const std::string& path) { return path == "-" ? "standard input" : path; }

/// A price is a value of the kitchen: "soybean=3.10/kg" sets /kitchen/prices/soybean.
Result<std::string> price_setting(const std::string& price) {
  const auto equals = price.find('=');
  if (equals == std::string::npos || equals == 0)
    return fail(usage(fmt::format("--price cannot be {}", text::quoted(price)), "it needs what the price is of, =, and the price", "write for example --price soybean=3.10/kg"));
  return "/kitchen/prices" + json::pointer_step(price.substr(0, equals)) + price.substr(equals);
}

/// Faults of prices, and of what is wanted, point to the option that was typed.
Problems as_typed(Problems problems, const Request& r) {
  for (std::string_view option : {"--blocks", "--curd", "--dry", "--protein", "--fill"}) {
    if (!r.has(option)) continue;
    const auto value = r.value(option);
    for (Problem& p : problems)
      if (p.code == "out-of-reach" && p.place.pointer.starts_with("/want")) p.place = {.file = fmt::format("{}{}", option, value ? " " + text::harmless(text::cut(*value, 60)) : "")};
  }
  for (const std::string& price : r.all("--price")) {
    const auto set = price_setting(price);
    for (Problem& p : problems)
      if (set && (p.place.file == "--set " + *set || p.place.file == fmt::format("--set {}", text::cut(*set, 120)))) p.place.file = fmt::format("--price {}", text::cut(price, 120)), p.place.pointer.clear();
  }
  return problems;
}

}  // namespace

std::string sheet_call(const Request& r) {
  std::string line = "curdwright sheet " + text::shell_word(r.words[0]);
  for (std::string_view option : batch_options)
    for (const std::string& value : r.all(option)) line += fmt::format(" {}{}", option, option == "--fill" ? "" : " " + text::shell_word(value));
  return line;
}

Result<Want> want_of(const Request& r) {
  Want want;
  if (r.has("--blocks")) {
    auto n = count_option(r, "--blocks", 1, 100000);
    if (!n) return fail(n.error());
    want.blocks = *n;
  }
  if (r.has("--fill")) want.fill = true;
  if (const auto text = r.value("--sure")) {
    const auto share = parse_quantity(*text, QuantityKind::fraction);
    if (!share || *share < 0.05 - 1e-9 || *share > 0.95 + 1e-9)
      return fail(usage(fmt::format("--sure cannot be {}", text::quoted(*text)), "it is a chance from 5 % to 95 %", "for example --sure 80%"));
    want.sure = std::clamp(*share, 0.05, 0.95);
  }
  for (const auto& [option, to] : {std::pair{"--curd", &want.curd}, std::pair{"--dry", &want.dry}, std::pair{"--protein", &want.protein}}) {
    if (!r.has(option)) continue;
    auto m = mass_option(r, option);
    if (!m) return fail(m.error());
    *to = *m;
  }
  if (want.given() > 1) return fail(usage(fmt::format("{} things are wanted", want.given()), "one of --blocks, --curd, --dry, --protein, --fill", "keep one"));
  return want;
}

Result<std::vector<RecordText>> own_records(const Request& r) {
  const auto folder = r.value("--data");
  return folder ? read_records(*folder) : Result<std::vector<RecordText>>();
}

Result<Catalogue> catalogue_with(std::vector<RecordText> records) {
  Catalogue c = Catalogue::shipped();
  if (records.empty()) return c;
  if (auto added = c.add(std::move(records)); !added) return fail(added.error());
  return c;
}

Result<Catalogue> catalogue_of(const Request& r) {
  auto records = own_records(r);
  return records ? catalogue_with(std::move(*records)) : Result<Catalogue>(fail(records.error()));
}

std::string kitchen_path(const Request& r) { return r.value("--kitchen").value_or(environment("CURDWRIGHT_KITCHEN")); }

Result<void> kitchen_text(const Request& r, InputTexts& texts) {
  const std::string path = kitchen_path(r);
  if (path.empty() && !r.has("--kitchen")) return {};
  auto text = read_text(path);
  if (!text) {
    // Who forgot the variable cannot tell why the file is opened.
    if (!r.has("--kitchen")) text.error()[0].why = "the variable CURDWRIGHT_KITCHEN names it";
    return fail(text.error());
  }
  texts.kitchen = std::move(*text);
  texts.kitchen_file = named(path);
  return {};
}

std::string kitchen_as_file(Kitchen kitchen) {
  if (!kitchen.schema_file) kitchen.schema_file = "kitchen.schema.json";
  return write_kitchen(kitchen);
}

Result<Kitchen> kitchen_of(const Request& r) {
  InputTexts texts;
  if (auto read = kitchen_text(r, texts); !read) return fail(read.error());
  return read_kitchen(texts.kitchen.value_or("{}"), texts.kitchen_file);
}

Result<void> check_standard_input(const Request& r) {
  const bool kitchen = kitchen_path(r) == "-";
  const auto recipes = std::count(r.words.begin(), r.words.end(), "-");
  if (recipes + (kitchen ? 1 : 0) < 2) return {};
  return fail(usage(kitchen ? "recipe and kitchen are both to come from standard input" : "two recipes are to come from standard input", "it can be read once", "name a file for one of them"));
}

Result<InputTexts> with_options(const Request& r, std::string recipe, std::string file) {
  InputTexts texts;
  texts.recipe = std::move(recipe);
  texts.recipe_file = std::move(file);
  if (auto k = kitchen_text(r, texts); !k) return fail(k.error());
  texts.set = r.all("--set");
  for (const std::string& price : r.all("--price")) {
    auto set = price_setting(price);
    if (!set) return fail(set.error());
    texts.set.push_back(std::move(*set));
  }
  constexpr std::size_t most_settings = 1000;
  if (texts.set.size() > most_settings)
    return fail(Problem{"too-many", {.file = "--set"}, fmt::format("{} settings on the command line", texts.set.size()), fmt::format("at most {} are read", most_settings), "write them into the recipe or the kitchen"});
  auto want = want_of(r);
  if (!want) return fail(want.error());
  texts.want = *want;
  return texts;
}

Result<InputTexts> input_texts(const Request& r, const std::string& path) {
  if (auto once = check_standard_input(r); !once) return fail(once.error());
  auto recipe = read_text(path);
  if (!recipe) return fail(recipe.error());
  return with_options(r, std::move(*recipe), named(path));
}

Result<Batch> plan_located(const Inputs& inputs, const Origin& from, const Catalogue& catalogue) {
  auto batch = plan_inputs(inputs, catalogue);
  if (!batch) return fail(located(batch.error(), from));
  return batch;
}

namespace {

/// What is wrong with the texts, and with the names in what of them can be read: one run tells of both.
Problems with_names(PartInputs read, const Origin& from, const Catalogue& catalogue) {
  const auto same_place = [](const Problem& a, const Problem& b) { return a.place.file == b.place.file && a.place.line == b.place.line && a.place.column == b.place.column; };
  Problems names = unknown_names(read.inputs, catalogue);
  for (Problem& p : check_prices(read.inputs.kitchen, catalogue)) names.push_back(std::move(p));
  names = located(std::move(names), from);
  for (Problem& p : names) {
    const bool written = p.place.line > 0 || p.place.file.starts_with("--set ");
    const bool told = std::any_of(read.problems.begin(), read.problems.end(), [&](const Problem& q) { return same_place(p, q); });
    if (written && !told) read.problems.push_back(std::move(p));
  }
  json::in_file_order(read.problems);
  return std::move(read.problems);
}

}  // namespace

Result<Planned> planned_texts(InputTexts texts, const Catalogue& catalogue, bool want_needed) {
  Origin from = {texts.recipe, texts.recipe_file, texts.kitchen.value_or("{}"), texts.kitchen_file, texts.set};
  PartInputs read = read_part_inputs(std::move(texts));
  if (!read.problems.empty()) return fail(with_names(std::move(read), from, catalogue));
  Inputs& inputs = read.inputs;
  if (!want_needed && inputs.recipe.want.given() == 0) inputs.recipe.want.dry = kilograms(1);
  auto batch = plan_located(inputs, from, catalogue);
  if (!batch) return fail(batch.error());
  return Planned{std::move(from), std::move(inputs), std::move(*batch)};
}

Result<Planned> plan_file(const Request& r, const std::string& path, const Catalogue& catalogue, bool want_needed) {
  auto texts = input_texts(r, path);
  if (!texts) return fail(texts.error());
  auto planned = planned_texts(std::move(*texts), catalogue, want_needed);
  if (!planned) return fail(as_typed(planned.error(), r));
  planned->batch = one_run(std::move(planned->batch));
  return planned;
}

Result<void> check_zone(const Planned& p) {
  const std::string& zone = p.batch.setup.kitchen.time_zone;
  if (zone.empty()) return {};
  const auto known = find_zone(zone);
  // Where the tables are missing, nothing is wrong with the name.
  if (!known && known.error()[0].code == "zone-unknown") return fail(located(known.error(), p.from));
  return {};
}

}  // namespace curdwright::program
