// SPDX-License-Identifier: MIT
#include "program/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "curdwright/sheet.hpp"
#include "curdwright/units.hpp"
#include "curdwright/version.hpp"
#include "json/document.hpp"
#include "program/browse.hpp"
#include "program/day_plan.hpp"
#include "program/files.hpp"
#include "program/report.hpp"
#include "sheets/json_values.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Result<std::string> chosen(const Request& r, std::string_view option, std::initializer_list<std::string_view> words) {
  const auto value = r.value(option);
  if (!value) return std::string(*words.begin());
  const std::vector<std::string_view> known(words);
  if (std::find(known.begin(), known.end(), *value) != known.end()) return *value;
  return fail(usage(fmt::format("{} cannot be \"{}\"", option, text::harmless(value->substr(0, 60))), "", text::suggest(*value, known)));
}

Result<int> count_option(const Request& r, std::string_view option, int low, int high) {
  const std::string text = r.value(option).value_or("");
  const auto number = parse_number(text);
  if (!number || *number < low || *number > high || *number != std::floor(*number) || text.find_first_not_of("0123456789") != std::string::npos)
    return fail(usage(fmt::format("{} cannot be \"{}\"", option, text::harmless(text.substr(0, 60))), fmt::format("it is a whole number, {} to {}", low, high), ""));
  return static_cast<int>(*number);
}

Result<Mass> mass_option(const Request& r, std::string_view option) {
  auto si = parse_quantity(r.value(option).value_or(""), QuantityKind::mass);
  if (si && (*si < 1e-3 || *si > 1e4))
    si = fail(Problem{"out-of-range", {}, fmt::format("{} is out of range", write_quantity(*si, QuantityKind::mass)), "1 g to 10000 kg can be planned", ""});
  if (!si) {
    for (Problem& p : si.error()) p.place.file = option;
    return fail(si.error());
  }
  return kilograms(*si);
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
      return fail(usage(fmt::format("--sure cannot be \"{}\"", text::harmless(text->substr(0, 60))), "it is a chance from 5 % to 95 %", "for example --sure 80%"));
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

Result<Catalogue> catalogue_of(const Request& r) {
  Catalogue c = Catalogue::shipped();
  if (const auto folder = r.value("--data")) {
    auto records = read_records(*folder);
    if (!records) return fail(records.error());
    if (auto added = c.add(std::move(*records)); !added) return fail(added.error());
  }
  return c;
}

std::string named(const std::string& path) { return path == "-" ? "standard input" : path; }

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

/// Standard input can be read once.
Result<void> check_standard_input(const Request& r) {
  const bool kitchen = kitchen_path(r) == "-";
  const auto recipes = std::count(r.words.begin(), r.words.end(), "-");
  if (recipes + (kitchen ? 1 : 0) < 2) return {};
  return fail(usage(kitchen ? "recipe and kitchen are both to come from standard input" : "two recipes are to come from standard input", "it can be read once", "name a file for one of them"));
}

/// A price is a value of the kitchen: "soybean=3.10/kg" sets /kitchen/prices/soybean.
Result<std::string> price_setting(const std::string& price) {
  const auto equals = price.find('=');
  if (equals == std::string::npos || equals == 0)
    return fail(usage(fmt::format("--price cannot be \"{}\"", text::harmless(price.substr(0, 60))), "it needs what the price is of, =, and the price", "write for example --price soybean=3.10/kg"));
  return "/kitchen/prices" + json::pointer_step(price.substr(0, equals)) + price.substr(equals);
}

/// Faults of prices point to the option that was typed.
Problems as_typed(Problems problems, const Request& r) {
  for (const std::string& price : r.all("--price")) {
    const auto set = price_setting(price);
    for (Problem& p : problems)
      if (set && (p.place.file == "--set " + *set || p.place.file == fmt::format("--set {}", text::cut(*set, 120)))) p.place.file = fmt::format("--price {}", text::cut(price, 120)), p.place.pointer.clear();
  }
  return problems;
}

Result<InputTexts> input_texts(const Request& r, const std::string& path) {
  InputTexts texts;
  if (auto once = check_standard_input(r); !once) return fail(once.error());
  auto recipe = read_text(path);
  if (!recipe) return fail(recipe.error());
  texts.recipe = std::move(*recipe);
  texts.recipe_file = named(path);
  if (auto k = kitchen_text(r, texts); !k) return fail(k.error());
  texts.set = r.all("--set");
  for (const std::string& price : r.all("--price")) {
    auto set = price_setting(price);
    if (!set) return fail(set.error());
    texts.set.push_back(std::move(*set));
  }
  auto want = want_of(r);
  if (!want) return fail(want.error());
  texts.want = *want;
  return texts;
}

/// What was read, kept so that a problem found later can be shown at its place.
struct Origin {
  std::string recipe, recipe_file, kitchen, kitchen_file;
  std::vector<std::string> set;
};

/// Problems that were found after reading have a pointer only; here they get file, line and column.
Problems located(Problems problems, const Origin& from) {
  for (Problem& p : problems) {
    if (!p.place.file.empty() || p.place.pointer.empty()) continue;
    const std::string pointer = p.place.pointer;
    const auto set = std::find_if(from.set.begin(), from.set.end(), [&](const std::string& s) { return s.starts_with(pointer + "=") || s.starts_with(pointer + "/"); });
    const bool in_kitchen = pointer.starts_with("/kitchen");
    p.place.file = set != from.set.end() ? fmt::format("--set {}", text::cut(*set, 120)) : in_kitchen ? from.kitchen_file : from.recipe_file;
    if (set != from.set.end()) continue;
    const auto document = json::parse(in_kitchen ? from.kitchen : from.recipe, p.place.file);
    if (!document) continue;
    if (const json::Node* node = json::node_at(*document, in_kitchen ? pointer.substr(8) : pointer)) p.place = document->place(*node, pointer);
  }
  return problems;
}

/// A batch with what it was read from, so that it can be planned again with another soak.
struct Planned {
  Origin from;
  Inputs inputs;
  Batch batch;
};

Result<Batch> plan_inputs(const Inputs& inputs, const Origin& from, const Catalogue& catalogue) {
  auto setup = resolve(inputs.recipe, inputs.kitchen, catalogue);
  Problems problems = setup ? Problems{} : setup.error();
  for (Problem& p : check_prices(inputs.kitchen, catalogue)) problems.push_back(std::move(p));
  if (!problems.empty()) return fail(located(std::move(problems), from));
  auto batch = plan_batch(std::move(*setup));
  if (!batch) return fail(located(batch.error(), from));
  if (!batch->plan.whole()) return fail(located({explain(batch->plan, batch->setup)}, from));
  return batch;
}

/// A file is read and planned; problems of both kinds come back as problems.
Result<Planned> plan_file(const Request& r, const std::string& path, const Catalogue& catalogue, bool want_needed) {
  auto texts = input_texts(r, path);
  if (!texts) return fail(texts.error());
  Origin from = {texts->recipe, texts->recipe_file, texts->kitchen.value_or("{}"), texts->kitchen_file, texts->set};
  auto inputs = read_inputs(std::move(*texts));
  if (!inputs) return fail(as_typed(inputs.error(), r));
  if (!want_needed && inputs->recipe.want.given() == 0) inputs->recipe.want.dry = kilograms(1);
  auto batch = plan_inputs(*inputs, from, catalogue);
  if (!batch) return fail(as_typed(batch.error(), r));
  return Planned{std::move(from), std::move(*inputs), std::move(*batch)};
}

/// With both ends of the day told, what is left over goes into the soak, and all is planned again.
Result<void> fill_the_day(Planned& p, const DayWish& wish, const Catalogue& catalogue) {
  constexpr Duration longest_soak = hours(96);
  for (int tries = 0; tries < 3; ++tries) {
    const auto spare = spare_time(wish, facts_of(p.batch).timeline.end());
    if (!spare) return fail(spare.error());
    if (*spare < minutes(1)) return {};
    const Duration soak = p.batch.setup.job.soak.time + *spare;
    if (soak > longest_soak)
      return fail(Problem{"out-of-range", {"--start", 0, 0, "", "", 0}, fmt::format("the soak would last {:.0f} h", in_hours(soak)), "up to 96 h can be planned", "start later, or leave --start to the plan"});
    p.inputs.recipe.soak.time = soak;
    auto batch = plan_inputs(p.inputs, p.from, catalogue);
    if (!batch) return fail(batch.error());
    p.batch = std::move(*batch);
  }
  const auto spare = spare_time(wish, facts_of(p.batch).timeline.end());
  return spare ? Result<void>() : fail(spare.error());
}

/// The start of a batch, where one is told.
Result<std::optional<DayStart>> start_of_day(const Request& r, Planned& p, const Catalogue& catalogue) {
  const auto wish = day_wish(r, p.batch.setup.kitchen);
  if (!wish) return fail(located(wish.error(), p.from));
  if (!wish->any()) return std::optional<DayStart>();
  if (wish->ready && !facts_of(p.batch).timeline.cold)
    return fail(Problem{"out-of-reach", {"--ready-by", 0, 0, "", "", 0}, "with this chilling the curd never gets cold enough, so no time can be reckoned back from",
                        fmt::format("it lies at {:.1f} degC", in_celsius(p.batch.setup.chill_medium)), "chill in ice water, or make the fridge colder; or use --start"});
  if (wish->start && wish->ready)
    if (auto filled = fill_the_day(p, *wish, catalogue); !filled) return fail(filled.error());
  auto start = day_start(*wish, facts_of(p.batch).timeline.end());
  if (!start) return fail(start.error());
  return std::optional(std::move(*start));
}

bool to_file(const Request& r) { return r.has("--output") && r.value("--output") != "-"; }

/// Whether what is answered may be coloured: never in a file.
bool coloured(const Request& r) { return !to_file(r) && wants_colour(r.value("--color").value_or("auto"), standard_output().is_terminal); }

int report(const Request& r, const Problems& problems) {
  const bool colour = wants_colour(r.value("--color").value_or("auto"), standard_error_is_terminal());
  write_error(r.value("--format") == "json" ? problems_json(problems) : problems_text(problems, colour));
  return status_of(problems);
}

int finish(const Request& r, std::string_view text, int status) {
  const Result<void> written = to_file(r) ? write_file(*r.value("--output"), text, r.has("--force")) : write_out(text);
  return written ? status : report(r, written.error());
}

/// A batch that is stopped has no day.
int finish_calendar(const Request& r, const Sheet& sheet, const DayStart& start, std::string_view recipe) {
  if (sheet.stops.empty()) return finish(r, to_ics(sheet, start.start, recipe), done);
  write_error(to_text(sheet, {}));
  return answer_is_no;
}

int run_sheet(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json", "ics"});
  if (!format) return report(r, format.error());
  if (*format == "ics" && !r.has("--start") && !r.has("--ready-by"))
    return report(r, {usage("a calendar needs a time to begin or to end", "", "add --start \"2027-03-05 18:00\" or --ready-by \"2027-03-06 17:00\"")});
  const auto units = chosen(r, "--units", {"metric", "us"});
  if (!units) return report(r, units.error());
  const auto depth = chosen(r, "--ranges", {"fast", "full", "off"});
  if (!depth) return report(r, depth.error());
  TextOptions text;
  text.width = standard_output().columns;
  if (r.has("--width")) {
    const auto w = count_option(r, "--width", 40, 120);
    if (!w) return report(r, w.error());
    text.width = *w;
  }
  text.colour = coloured(r);

  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  auto planned = plan_file(r, r.words[0], *catalogue, true);
  if (!planned) return report(r, planned.error());
  const auto start = start_of_day(r, *planned, *catalogue);
  if (!start) return report(r, start.error());
  const Batch& batch = planned->batch;
  const Facts facts = facts_of(batch);
  std::optional<Ranges> found;
  if (*depth == "fast") found = ranges(batch.setup.job, batch.setup.beliefs, {});
  if (*depth == "full") found = ranges(batch.setup.job, batch.setup.beliefs, {.plans = 4096, .index_base = 256});
  const Ranges* given = found ? &*found : nullptr;
  const Sheet sheet = make_sheet(facts, {*units == "us" ? Units::us : Units::metric, given, *start ? &(*start)->clock : nullptr});
  if (*format == "ics") return finish_calendar(r, sheet, **start, planned->from.recipe);
  return finish(r, *format == "json" ? to_json(facts, sheet, given) : to_text(sheet, text), sheet.stops.empty() ? done : answer_is_no);
}

/// What check found of one file.
struct Checked {
  std::string text;
  nlohmann::ordered_json json;
  int status = done;
};

Checked check_file(const Request& r, const std::string& path, const Catalogue& catalogue) {
  const std::string name = text::harmless(path);
  Checked c{"", {{"file", name}, {"problems", nlohmann::ordered_json::array()}, {"cautions", nlohmann::ordered_json::array()}}};
  const bool colour = coloured(r);
  const auto batch = plan_file(r, path, catalogue, false);
  if (!batch) {
    c.status = status_of(batch.error());
    c.text = problems_text(batch.error(), colour);
    c.json["problems"] = nlohmann::ordered_json::parse(problems_json(batch.error()))["problems"];
    return c;
  }
  const auto list = cautions(facts_of(batch->batch));
  if (stops(list)) c.status = answer_is_no;
  for (const Caution& caution : list) {
    if (!caution.standing)
      c.text += fmt::format("{}: {} ({}, {}): {}\n", name, strong(word(caution.severity), colour && caution.severity == Severity::stop), key(caution.stage), caution.rule, caution.text);
    c.json["cautions"].push_back(caution_json(caution));
  }
  return c;
}

int run_check(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  if (auto once = check_standard_input(r); !once) return report(r, once.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  int status = done;
  std::string text;
  nlohmann::ordered_json files = nlohmann::ordered_json::array();
  for (const std::string& path : r.words) {
    Checked c = check_file(r, path, *catalogue);
    status = std::max(status, c.status);
    text += c.text;
    files.push_back(std::move(c.json));
  }
  const nlohmann::ordered_json document = {{"schema", "curdwright.check/1"}, {"recipes", files}};
  return finish(r, *format == "json" ? document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n" : text, status);
}

int run_list(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const auto out = list_text(*catalogue, r.words[0], r.has("--refused"), *format == "json");
  return out ? finish(r, *out, done) : report(r, out.error());
}

int run_show(const Request& r) {
  const auto format = chosen(r, "--format", {"text", "json"});
  if (!format) return report(r, format.error());
  const bool json = *format == "json";
  if (r.words[0] == "kitchen") {
    if (r.words.size() > 1)
      return report(r, {usage(fmt::format("show kitchen takes no id, but \"{}\" was given", text::harmless(text::cut(r.words[1], 40))), "one kitchen is in use at a time",
                              "show another with --kitchen FILE")});
    InputTexts texts;
    if (auto k = kitchen_text(r, texts); !k) return report(r, k.error());
    const auto kitchen = read_kitchen(texts.kitchen.value_or("{}"), texts.kitchen_file);
    if (!kitchen) return report(r, kitchen.error());
    const auto catalogue = catalogue_of(r);
    if (!catalogue) return report(r, catalogue.error());
    const auto out = kitchen_sheet(*catalogue, *kitchen, json);
    return out ? finish(r, *out, done) : report(r, out.error());
  }
  if (r.words.size() < 2) return report(r, {usage(fmt::format("show {} needs an id", text::harmless(r.words[0].substr(0, 40))), "", "for example: curdwright show legume chickpea-kabuli")});
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const auto out = show_text(*catalogue, r.words[0], r.words[1], json);
  return out ? finish(r, *out, done) : report(r, out.error());
}

int new_kitchen(const Request& r) {
  for (std::string_view option : {"--legume", "--blocks", "--kitchen", "--data"})
    if (r.has(option))
      return report(r, {usage(fmt::format("{} does not go with new kitchen", option), "the file holds the built-in kitchen, whatever is cooked in it", fmt::format("leave {} out", option))});
  return finish(r, write_kitchen(default_kitchen()), done);
}

int run_new(const Request& r) {
  if (r.words[0] == "kitchen") return new_kitchen(r);
  if (r.words[0] != "recipe") {
    constexpr std::array<std::string_view, 2> known = {"recipe", "kitchen"};
    return report(r, {usage(fmt::format("new does not make \"{}\"", text::harmless(r.words[0].substr(0, 40))), "", text::suggest(r.words[0], known))});
  }
  const auto want = want_of(r);
  if (!want) return report(r, want.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  InputTexts texts;
  if (auto k = kitchen_text(r, texts); !k) return report(r, k.error());
  const auto kitchen = read_kitchen(texts.kitchen.value_or("{}"), texts.kitchen_file);
  if (!kitchen) return report(r, kitchen.error());
  const auto out = starter_recipe(*catalogue, *kitchen, r.value("--legume").value_or("chickpea-kabuli"), want->blocks.value_or(4));
  return out ? finish(r, *out, done) : report(r, out.error());
}

int run_schema(const Request& r) {
  const std::string& what = r.words[0];
  if (what == "recipe") return finish(r, recipe_schema(), done);
  if (what == "kitchen") return finish(r, kitchen_schema(), done);
  if (what == "legume") return finish(r, legume_schema(), done);
  if (what == "sheet") return finish(r, sheet_schema(), done);
  constexpr std::array<std::string_view, 4> known = {"recipe", "kitchen", "sheet", "legume"};
  return report(r, {usage(fmt::format("there is no schema of \"{}\"", text::harmless(what.substr(0, 40))), "", text::suggest(what, known))});
}

int run_help(const Request& r) {
  if (r.words.empty()) return finish(r, full_help(), done);
  const std::string text = help_of(r.words[0]);
  if (!text.empty()) return finish(r, text, done);
  std::vector<std::string_view> known;
  for (const CommandRow& c : all_commands()) known.push_back(c.name);
  return report(r, {usage(fmt::format("\"{}\" is not a command", text::harmless(r.words[0].substr(0, 40))), "", text::suggest(r.words[0], known))});
}

}  // namespace

Status status_of(const Problems& problems) {
  const auto all = [&](auto is) { return !problems.empty() && std::all_of(problems.begin(), problems.end(), is); };
  if (std::any_of(problems.begin(), problems.end(), [](const Problem& p) { return p.code == "file"; })) return bad_file;
  if (all([](const Problem& p) { return p.code == "out-of-reach" || p.code == "refused"; })) return answer_is_no;
  return bad_input;
}

int run(const Request& r) {
  if (const auto colour = chosen(r, "--color", {"auto", "always", "never"}); !colour) return report(r, colour.error());
  if (r.version) return finish(r, fmt::format("curdwright {} (data {}, model {})\n", program_version, data_version, model_version), done);
  if (r.command.empty()) return finish(r, r.help ? full_help() : short_help(), done);
  if (r.help) return finish(r, help_of(r.command), done);
  struct Row {
    std::string_view name;
    int (*run)(const Request&);
  };
  static constexpr std::array rows = {Row{"sheet", run_sheet}, Row{"check", run_check}, Row{"list", run_list}, Row{"show", run_show},
                                      Row{"new", run_new},     Row{"schema", run_schema}, Row{"help", run_help}};
  for (const Row& row : rows)
    if (row.name == r.command) return row.run(r);
  return our_fault;
}

}  // namespace curdwright::program
