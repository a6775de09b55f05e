// SPDX-License-Identifier: MIT
#include "program/schema_command.hpp"

#include <fmt/format.h>

#include <array>
#include <span>

#include "curdwright/diary.hpp"
#include "curdwright/line.hpp"
#include "curdwright/sheet.hpp"
#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/reference_pages.hpp"
#include "program/runs.hpp"
#include "sheets/answer_schemas.hpp"
#include "sheets/bested.hpp"
#include "sheets/compared.hpp"
#include "sheets/explained.hpp"
#include "sheets/learned.hpp"
#include "sheets/ranked.hpp"
#include "sheets/varied.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

struct SchemaRow {
  std::string_view what;
  std::string (*schema)();
};
std::span<const SchemaRow> schema_rows() {
  using Row = SchemaRow;
  static constexpr std::array rows = {Row{"recipe", recipe_schema}, Row{"kitchen", kitchen_schema}, Row{"sheet", sheet_schema},       Row{"legume", legume_schema},
                                      Row{"diary", diary_line_schema}, Row{"diary-batch", diary_batch_schema}, Row{"diary-export", diary_export_schema}, Row{"lesson", sheets::lesson_schema}, Row{"explain", sheets::explained_schema}, Row{"variation", sheets::variation_schema}, Row{"best", sheets::answer_schema}, Row{"comparison", sheets::comparison_schema}, Row{"ranking", sheets::ranking_schema}, Row{"figures", responses_schema},
                                      Row{"check", sheets::check_schema}, Row{"list", sheets::list_schema}, Row{"problems", sheets::problems_schema}, Row{"show-legume", sheets::shown_legume_schema}, Row{"show-coagulant", sheets::shown_coagulant_schema}, Row{"show-extra", sheets::shown_extra_schema}, Row{"show-kitchen", sheets::shown_kitchen_schema},
                                      Row{"diary-list", sheets::diary_list_schema}, Row{"diary-compare", sheets::diary_compare_schema}, Row{"diary-told", sheets::diary_told_schema}, Row{"coagulant", coagulant_schema}, Row{"extra", extra_schema}, Row{"equipment", equipment_schema}};
  return rows;
}

}  // namespace

std::vector<std::string_view> schema_words() {
  std::vector<std::string_view> known;
  for (const SchemaRow& row : schema_rows()) known.push_back(row.what);
  return known;
}

int run_schema(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const std::string& what = r.words[0];
  for (const SchemaRow& row : schema_rows())
    if (row.what == what) return finish(r, *format == "json" ? row.schema() : format_markdown(what, row.schema()), done);
  const auto known = schema_words();
  // There are more than a hint lists by itself.
  const std::string_view near = text::nearest(what, known);
  const std::string fix = near.empty() ? fmt::format("use one of: {}", fmt::join(known, ", ")) : text::suggest(what, known);
  return report(r, {usage(fmt::format("there is no schema of \"{}\"", text::harmless(text::cut(what, 40))), "", fix)});
}

}  // namespace curdwright::program
