// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include "curdwright/response_account.hpp"
#include "program/answers.hpp"
#include "program/asked.hpp"
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
  const auto width = width_of(r);
  if (!width) return fail(width.error());
  p.page.width = *width;
  if (!r.has("--depth")) return p;
  const auto depth = count_option(r, "--depth", 0, 100);
  if (!depth) return fail(depth.error());
  p.page.depth = *depth;
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
  const auto& shared = planned->batch.shared;
  asked->page.title = fmt::format("{}{}: how {} comes about", title.empty() ? "A batch" : title, shared ? fmt::format(", one of {} batches", shared->batches) : "", (*response)->plain);
  const sheets::Citations citations = catalogue->citations();
  return finish(r, asked->json ? sheets::explained_json(*a, citations, asked->page.title) : sheets::explained_text(*a, citations, asked->page), done);
}

}  // namespace curdwright::program
