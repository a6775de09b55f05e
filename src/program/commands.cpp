// SPDX-License-Identifier: MIT
#include "program/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "curdwright/diary.hpp"
#include "curdwright/line.hpp"
#include "curdwright/sheet.hpp"
#include "curdwright/version.hpp"
#include "program/best_command.hpp"
#include "program/browse.hpp"
#include "program/compare_command.hpp"
#include "program/diary_commands.hpp"
#include "program/diary_file.hpp"
#include "program/each_command.hpp"
#include "program/explain_command.hpp"
#include "program/files.hpp"
#include "program/help_command.hpp"
#include "program/learn_command.hpp"
#include "program/planning.hpp"
#include "program/rank_command.hpp"
#include "program/reference_pages.hpp"
#include "program/report.hpp"
#include "program/sheet_command.hpp"
#include "program/shell_command.hpp"
#include "program/start_command.hpp"
#include "program/vary_command.hpp"
#include "sheets/answer_schemas.hpp"
#include "sheets/bested.hpp"
#include "sheets/compared.hpp"
#include "sheets/explained.hpp"
#include "sheets/json_values.hpp"
#include "sheets/learned.hpp"
#include "sheets/ranked.hpp"
#include "sheets/varied.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

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
  return finish(r, kitchen_as_file(default_kitchen()), done);
}

/// Answers to questions that are not asked.
Result<void> no_answers(const Request& r) {
  for (std::string_view option : start_options())
    if (r.has(option) && option != "--legume" && option != "--blocks")
      return fail(usage(fmt::format("{} does not go with new {}", option, r.words[0]), "it answers a question of new start", fmt::format("leave {} out, or write: curdwright new start", option)));
  return {};
}

int run_new(const Request& r) {
  if (r.words.empty() || r.words[0] == "start") return new_start(r);
  if (auto ok = no_answers(r); !ok) return report(r, ok.error());
  if (r.words[0] == "kitchen") return new_kitchen(r);
  if (r.words[0] != "recipe") {
    constexpr std::array<std::string_view, 3> known = {"start", "recipe", "kitchen"};
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

struct SchemaRow {
  std::string_view what;
  std::string (*schema)();
};
std::span<const SchemaRow> schema_rows() {
  using Row = SchemaRow;
  static constexpr std::array rows = {Row{"recipe", recipe_schema}, Row{"kitchen", kitchen_schema}, Row{"sheet", sheet_schema},       Row{"legume", legume_schema},
                                      Row{"diary", diary_line_schema}, Row{"diary-batch", diary_batch_schema}, Row{"diary-export", diary_export_schema}, Row{"lesson", sheets::lesson_schema}, Row{"explain", sheets::explained_schema}, Row{"variation", sheets::variation_schema}, Row{"best", sheets::answer_schema}, Row{"comparison", sheets::comparison_schema}, Row{"ranking", sheets::ranking_schema}, Row{"responses", responses_schema},
                                      Row{"check", sheets::check_schema}, Row{"list", sheets::list_schema}, Row{"problems", sheets::problems_schema}, Row{"show-legume", sheets::shown_legume_schema}, Row{"show-coagulant", sheets::shown_coagulant_schema}, Row{"show-extra", sheets::shown_extra_schema}, Row{"show-kitchen", sheets::shown_kitchen_schema},
                                      Row{"diary-list", sheets::diary_list_schema}, Row{"diary-compare", sheets::diary_compare_schema}, Row{"diary-told", sheets::diary_told_schema}, Row{"coagulant", coagulant_schema}, Row{"extra", extra_schema}, Row{"equipment", equipment_schema}};
  return rows;
}

int run_schema(const Request& r) {
  const auto format = chosen(r, "--format", {"json", "markdown"});
  if (!format) return report(r, format.error());
  const std::string& what = r.words[0];
  for (const SchemaRow& row : schema_rows())
    if (row.what == what) return finish(r, *format == "json" ? row.schema() : format_markdown(what, row.schema()), done);
  const auto known = schema_words();
  // There are more than a hint lists by itself.
  const std::string_view near = text::nearest(what, known);
  const std::string fix = near.empty() ? fmt::format("use one of: {}", fmt::join(known, ", ")) : text::suggest(what, known);
  return report(r, {usage(fmt::format("there is no schema of \"{}\"", text::harmless(what.substr(0, 40))), "", fix)});
}

}  // namespace

namespace {

/// What a command reads is never what it writes: a diary above all is only added to.
Result<void> check_output(const Request& r) {
  if (!to_file(r)) return {};
  const std::string out = *r.value("--output");
  std::vector<std::string> inputs = r.words;
  for (const std::string& named : {r.value("--kitchen").value_or(environment("CURDWRIGHT_KITCHEN"))}) inputs.push_back(named);
  if (const auto diary = diary_path(r); diary) inputs.push_back(*diary), inputs.push_back(*diary + ".lock");
  for (const std::string& word : r.words) inputs.push_back(word + ".lock");
  // learn may renew the kitchen that it reads.
  const bool renews = r.command == "learn";
  for (const std::string& in : inputs)
    if (!in.empty() && same_file(in, out) && !(renews && in == r.value("--kitchen").value_or(environment("CURDWRIGHT_KITCHEN"))))
      return fail(usage(fmt::format("--output names {}, which this command reads", text::harmless(text::cut(out, 60))), "what is read is not overwritten by what is answered", "name another file"));
  return {};
}

}  // namespace

std::vector<std::string_view> schema_words() {
  std::vector<std::string_view> known;
  for (const SchemaRow& row : schema_rows()) known.push_back(row.what);
  return known;
}

int run(const Request& r) {
  if (const auto colour = chosen(r, "--color", {"auto", "always", "never"}); !colour) return report(r, colour.error());
  if (r.version) return finish(r, fmt::format("curdwright {} (data {}, model {})\n", program_version, data_version, model_version), done);
  if (r.command.empty()) return finish(r, r.help ? full_help() : short_help(), done);
  if (r.help) return finish(r, help_of(r.command), done);
  if (auto ok = check_output(r); !ok) return report(r, ok.error());
  struct Row {
    std::string_view name;
    int (*run)(const Request&);
  };
  static constexpr std::array rows = {Row{"sheet", run_sheet}, Row{"check", run_check}, Row{"diary", run_diary}, Row{"learn", run_learn}, Row{"explain", run_explain}, Row{"vary", run_vary}, Row{"best", run_best}, Row{"compare", run_compare}, Row{"rank", run_rank}, Row{"each", run_each}, Row{"list", run_list}, Row{"show", run_show},
                                      Row{"new", run_new},     Row{"schema", run_schema}, Row{"help", run_help}, Row{"shell", run_shell}};
  for (const Row& row : rows)
    if (row.name == r.command) return row.run(r);
  return our_fault;
}

}  // namespace curdwright::program
