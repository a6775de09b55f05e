// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <array>

#include "program/answers.hpp"
#include "program/planning.hpp"
#include "program/start_command.hpp"
#include "program/starter_recipe.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

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

}  // namespace

int run_new(const Request& r) {
  if (r.words.empty() || r.words[0] == "start") return new_start(r);
  if (auto ok = no_answers(r); !ok) return report(r, ok.error());
  if (r.words[0] == "kitchen") return new_kitchen(r);
  if (r.words[0] != "recipe") {
    constexpr std::array<std::string_view, 3> known = {"start", "recipe", "kitchen"};
    return report(r, {usage(fmt::format("new does not make \"{}\"", text::harmless(text::cut(r.words[0], 40))), "", text::suggest(r.words[0], known))});
  }
  const auto want = want_of(r);
  if (!want) return report(r, want.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  const auto kitchen = kitchen_of(r);
  if (!kitchen) return report(r, kitchen.error());
  const auto out = starter_recipe(*catalogue, *kitchen, r.value("--legume").value_or("chickpea-kabuli"), want->blocks.value_or(4));
  return out ? finish(r, *out, done) : report(r, out.error());
}

}  // namespace curdwright::program
