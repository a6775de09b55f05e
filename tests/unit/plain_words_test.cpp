// SPDX-License-Identifier: MIT
// Words of the user's in Markdown and in cells of a table say nothing but themselves.
#include "sheets/csv.hpp"
#include "sheets/markdown_words.hpp"
#include "support/support.hpp"

using curdwright::sheets::csv_cell;
using curdwright::sheets::markdown_words;

TEST_CASE("words in Markdown are escaped where they would mean something, and only there") {
  CHECK(markdown_words("860 g of chickpeas (invented), 24.3 g; 18:00 - about 5 %") == "860 g of chickpeas (invented), 24.3 g; 18:00 - about 5 %");
  CHECK(markdown_words("- a") == "\\- a");
  CHECK(markdown_words("-0.81") == "-0.81");
  CHECK(markdown_words("---") == "\\---");
  CHECK(markdown_words("12. a") == "12\\. a");
  CHECK(markdown_words("12.5 a") == "12.5 a");
  CHECK(markdown_words("  # a | b  ") == "\\# a \\| b");
  CHECK(markdown_words("<b>&lt;") == "&lt;b&gt;&amp;lt;");
  CHECK(markdown_words("a\nb\x1b[2J") == "a?b?\\[2J");
  CHECK(markdown_words("www.x") == "www\u2060\\.x");
  CHECK(markdown_words("a@b") == "a\u2060\\@\u2060b");
  CHECK(markdown_words("h://x") == "h\\:\u2060\\/\u2060/x");
  CHECK(markdown_words("") == "");
}

TEST_CASE("a cell that a table program would reckon with is inert, and a number stays one") {
  for (const char* number : {"-1", "+3", "-12.5e3", "860.0"}) CHECK(csv_cell(number) == number);
  for (const char* formula : {"=1+1", "-1+2", "-E1", "+E1", "@SUM(A1)", " =1", "\uFF1D1"}) CHECK(csv_cell(formula) == std::string("'") + formula);
  CHECK(csv_cell("=a,b") == "\"'=a,b\"");
  CHECK(csv_cell("\t=1") == "?=1");
  CHECK(csv_cell("\u00A0 \u3000=1") == "'\u00A0 \u3000=1");
  CHECK(csv_cell("a;=1+1") == "a;'=1+1");
  CHECK(csv_cell("a; @b;c;-d") == "a;' @b;c;'-d");
  CHECK(csv_cell("say \"so\"") == "\"say \"\"so\"\"\"");
}
