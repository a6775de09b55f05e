// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include "curdwright/response_account.hpp"
#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "sheets/explained.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

struct PageAsked {
  bool json = false;
  sheets::ExplainedPage page;
};

Result<PageAsked> page_asked(const Request& r) {
  PageAsked p;
  const auto format = chosen(r, "--format");
  if (!format) return fail(format.error());
  p.json = *format == "json";
  p.page.width = standard_output().columns;
  for (const auto& [option, low, high] : {std::tuple{"--width", 40, 120}, std::tuple{"--depth", 0, 100}}) {
    if (!r.has(option)) continue;
    const auto n = count_option(r, option, low, high);
    if (!n) return fail(n.error());
    if (std::string_view(option) == "--width")
      p.page.width = *n;
    else
      p.page.depth = *n;
  }
  return p;
}

}  // namespace

int run_explain(const Request& r) {
  auto asked = page_asked(r);
  if (!asked) return report(r, asked.error());
  const auto response = find_response(text::lower_case(text::trimmed(r.words[1])));
  if (!response) return report(r, response.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  Request recipe_only = r;
  recipe_only.words.resize(1);
  const auto planned = plan_file(recipe_only, r.words[0], *catalogue, false);
  if (!planned) return report(r, planned.error());
  const auto a = account(planned->batch, **response);
  if (!a) return report(r, a.error());
  const std::string& title = planned->batch.setup.recipe.title;
  asked->page.title = fmt::format("{}: how {} comes about", title.empty() ? "A batch" : title, (*response)->plain);
  const sheets::Citations citations = catalogue->citations();
  return finish(r, asked->json ? sheets::explained_json(*a, citations, asked->page.title) : sheets::explained_text(*a, citations, asked->page), done);
}

}  // namespace curdwright::program
