// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/lists.hpp"
#include "program/records_shown.hpp"
#include "program/planning.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Result<std::string> shown_kitchen(const Request& r, bool json) {
  if (r.words.size() > 1)
    return fail(usage(fmt::format("show kitchen takes no id, but \"{}\" was given", text::harmless(text::cut(r.words[1], 40))), "one kitchen is in use at a time",
                      "show another with --kitchen FILE"));
  const auto kitchen = kitchen_of(r);
  if (!kitchen) return fail(kitchen.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return fail(catalogue.error());
  return kitchen_sheet(*catalogue, *kitchen, json);
}

Result<std::string> shown_record(const Request& r, bool json) {
  if (r.words.size() < 2)
    return fail(usage(fmt::format("show {} needs an id", text::harmless(text::cut(r.words[0], 40))), "", "for example: curdwright show legume chickpea-kabuli"));
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return fail(catalogue.error());
  return show_text(*catalogue, r.words[0], r.words[1], json);
}

int answer(const Request& r, const Result<std::string>& text) { return text ? finish(r, *text, done) : report(r, text.error()); }

}  // namespace

int run_list(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  return answer(r, list_text(*catalogue, r.words[0], r.has("--refused"), *format == "json"));
}

int run_show(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const bool json = *format == "json";
  return answer(r, r.words[0] == "kitchen" ? shown_kitchen(r, json) : shown_record(r, json));
}

}  // namespace curdwright::program
