// SPDX-License-Identifier: MIT
#include "program/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "curdwright/sheet.hpp"
#include "curdwright/version.hpp"
#include "program/browse.hpp"
#include "program/day_plan.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "program/report.hpp"
#include "sheets/json_values.hpp"
#include "sheets/moves.hpp"
#include "sheets/trouble_text.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

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

/// A batch that is stopped has no day.
int finish_calendar(const Request& r, const Sheet& sheet, const DayStart& start, std::string_view recipe) {
  if (sheet.stops.empty()) return finish(r, to_ics(sheet, start.start, recipe), done);
  write_error(to_text(sheet, {}));
  return answer_is_no;
}

/// The batch in hand, where something was told of it.
Result<std::optional<Correction>> correction_of(const Request& r, const Planned& p) {
  if (!r.has("--measured")) return std::optional<Correction>();
  const auto readings = read_readings(r.all("--measured"), p.batch.setup.kitchen, "--measured");
  if (!readings) return fail(readings.error());
  auto c = correct(p.batch, *readings);
  if (!c) return fail(located(c.error(), p.from));
  return std::optional(std::move(*c));
}

/// Next moves for what was seen, in the order in which it was told.
Result<std::vector<SheetMove>> moves_of(const Request& r, const Batch& batch, Units units) {
  const Troubles table = shipped_troubles();
  std::vector<SheetMove> all;
  Problems problems;
  for (const std::string& told : r.all("--seen")) {
    const auto seen = read_sighting(told, table);
    if (seen) {
      const auto moves = sheets::moves_for(batch, table, *seen, units);
      all.insert(all.end(), moves.begin(), moves.end());
      continue;
    }
    for (Problem p : seen.error()) {
      p.place.file = fmt::format("--seen {}", text::harmless(text::cut(told, 120)));
      problems.push_back(std::move(p));
    }
  }
  if (!problems.empty()) return fail(std::move(problems));
  return all;
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
  const auto correction = correction_of(r, *planned);
  if (!correction) return report(r, correction.error());
  const Batch& batch = *correction ? (*correction)->batch : planned->batch;
  const Facts facts = facts_of(batch);
  std::optional<Ranges> found;
  if (*depth == "fast") found = ranges(batch.setup.job, batch.setup.beliefs, {});
  if (*depth == "full") found = ranges(batch.setup.job, batch.setup.beliefs, {.plans = 4096, .index_base = 256});
  const Ranges* given = found ? &*found : nullptr;
  const Units shown_in = *units == "us" ? Units::us : Units::metric;
  auto moves = moves_of(r, batch, shown_in);
  if (!moves) return report(r, moves.error());
  Sheet sheet = make_sheet(facts, {shown_in, given, *start ? &(*start)->clock : nullptr, *correction ? &**correction : nullptr});
  sheet.moves = std::move(*moves);
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
  if (r.words[0] == "trouble") return finish(r, sheets::trouble_table(shipped_troubles(), 79), done);
  const std::string text = help_of(r.words[0]);
  if (!text.empty()) return finish(r, text, done);
  std::vector<std::string_view> known;
  for (const CommandRow& c : all_commands()) known.push_back(c.name);
  return report(r, {usage(fmt::format("\"{}\" is not a command", text::harmless(r.words[0].substr(0, 40))), "", text::suggest(r.words[0], known))});
}

}  // namespace

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
