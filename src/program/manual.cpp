// SPDX-License-Identifier: MIT
#include "program/manual.hpp"

#include <fmt/format.h>

#include "curdwright/version.hpp"
#include "program/choices.hpp"
#include "program/offers.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// Text as roff prints it: no escape, no request, and a minus that can be copied to a shell.
std::string plain(std::string_view s) {
  std::string out;
  for (const char c : s) {
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else if (c == '`')
      out += "\\(ga";
    else if (c == '\'')
      out += "\\(aq";
    else if (c == '"')
      out += "\\(dq";
    else if (c == '~')
      out += "\\(ti";
    else if (c == '^')
      out += "\\(ha";
    else
      out += c;
  }
  return out.starts_with('.') ? "\\&" + out : out;
}

/// A paragraph, broken where the source is easy to read.
std::string filled(std::string_view s) {
  std::string out;
  for (const std::string& line : text::wrapped(s, 62)) out += (out.empty() ? "" : "\n") + plain(line);
  return out;
}

std::string bold(std::string_view s) { return fmt::format("\\fB{}\\fR", plain(s)); }

std::string capitals(std::string_view s) {
  std::string out(s);
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return out;
}

std::string sentence(std::string_view s) {
  std::string out(s);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return filled(out.ends_with('.') ? out : out + ".");
}

std::string head(std::string_view name, int section, std::string_view about) {
  return fmt::format(".TH {} {} {} \"curdwright {}\" \"curdwright manual\"\n.SH NAME\n{} \\- {}\n", plain(capitals(name)), section, release_date, program_version, plain(name), filled(about));
}

std::string row(std::string_view left, std::string_view right) { return fmt::format(".TP\n{}\n{}\n", left, right); }

std::string as_is(std::string_view lines) {
  std::string out = ".PP\n.EX\n";
  while (!lines.empty()) {
    const auto end = lines.find('\n');
    out += plain(lines.substr(0, end)) + "\n";
    lines.remove_prefix(end == std::string_view::npos ? lines.size() : end + 1);
  }
  return out + ".EE\n";
}

std::string option_row(const OptionRow& o, std::string_view command) {
  const std::string_view fixed = choices(o, command);
  std::string left = o.letter.empty() ? "" : bold(o.letter) + ", ";
  left += bold(o.name);
  if (!o.value.empty()) left += fixed.empty() ? fmt::format(" \\fI{}\\fR", plain(o.value)) : fmt::format(" {}", bold(fixed));
  return row(left, sentence(help_with(o, command)));
}

std::string status_rows() {
  std::string out;
  for (const Block& b : blocks_of(find_topic("exit-status")->page()))
    if (b.kind == Block::Kind::rows)
      for (const std::string& l : b.lines) out += row(bold(row_parts(l).first), sentence(row_parts(l).second));
  return ".SH EXIT STATUS\n" + out;
}

std::string see_also(std::string_view but) {
  std::string out = but == "curdwright" ? "" : "\\fBcurdwright\\fR(1)";
  for (const Topic& t : all_topics())
    if (t.name != but) out += fmt::format("{}\\fB\\%curdwright\\-{}\\fR({})", out.empty() ? "" : ", ", plain(t.name), t.section);
  std::string broken = ".SH SEE ALSO\n";
  for (const char c : out) broken += c == ' ' ? '\n' : c;
  return broken + "\n";
}

std::string block_roff(const Block& b) {
  std::string out;
  if (b.kind == Block::Kind::heading) return fmt::format(".SH {}\n", plain(capitals(b.lines[0])));
  if (b.kind == Block::Kind::paragraph) return fmt::format(".PP\n{}\n", filled(b.lines[0]));
  if (b.kind == Block::Kind::rows) {
    for (const std::string& l : b.lines) out += row(bold(row_parts(l).first), row_parts(l).second.empty() ? "\\&" : filled(row_parts(l).second));
    return out;
  }
  for (const std::string& l : b.lines) out += l + "\n";
  return as_is(out);
}

/// .PP straight behind a heading would be an empty paragraph.
std::string without_empty_paragraphs(std::string page) {
  for (auto at = page.find("\n.SH "); at != std::string::npos; at = page.find("\n.SH ", at + 1)) {
    const auto line = page.find('\n', at + 1);
    if (line != std::string::npos && page.compare(line, 5, "\n.PP\n") == 0) page.erase(line, 4);
  }
  return page;
}

}  // namespace

std::string program_page() {
  std::string out = head("curdwright", 1, "plan a batch of legume curd");
  out += ".SH SYNOPSIS\n.B curdwright\n.I COMMAND\n.RI [ WORD ...]\n.RI [ OPTION ...]\n";
  out += ".SH DESCRIPTION\n" + filled("From a short recipe to a sheet to cook from: how much dry legume, how much water, how long to soak, settle, cook and press, how much coagulant, how to chill safely, "
                                      "and what comes out, with how sure that is. Figures are estimates, not a validated process; local food codes and licensed practice come first.") + "\n";
  out += as_is("curdwright new recipe --legume chickpea-kabuli --blocks 4 -o chickpea.json\ncurdwright sheet chickpea.json");
  out += ".SH COMMANDS\n";
  for (const CommandRow& c : all_commands()) out += row(fmt::format("{} {}", bold(c.name), plain(c.words)), fmt::format("{}\nSee \\fBcurdwright\\-{}\\fR(1).", sentence(c.purpose), c.name));
  out += ".SH OPTIONS\n" + plain("Which command takes which is told on the page of the command.") + "\n";
  for (const OptionRow& o : all_options()) out += option_row(o, "");
  out += row("\\fB\\-h\\fR, \\fB\\-\\-help\\fR", "Help, also of a command.") + row("\\fB\\-\\-version\\fR", "Versions of program, data and model.");
  out += ".SH TOPICS\n";
  for (const Topic& t : all_topics()) out += row(bold(fmt::format("curdwright help {}", t.name)), sentence(t.about));
  return without_empty_paragraphs(out + status_rows() + see_also("curdwright"));
}

std::string command_page(const CommandRow& c) {
  std::string out = head(fmt::format("curdwright-{}", c.name), 1, c.purpose);
  out += fmt::format(".SH SYNOPSIS\n.B curdwright {}\n{}\n.RI [ OPTION ...]\n.SH DESCRIPTION\n{}\n", plain(c.name), plain(c.words), sentence(c.purpose));
  if (!c.more.empty()) out += as_is(c.more);
  out += ".SH OPTIONS\n";
  for (const OptionRow* o : options_of(c.name)) out += option_row(*o, c.name);
  out += row("\\fB\\-h\\fR, \\fB\\-\\-help\\fR", "This text, shorter.");
  out += ".SH EXAMPLES\n" + as_is(c.example);
  return without_empty_paragraphs(out + status_rows() + see_also(c.name));
}

std::string topic_page(const Topic& t) {
  std::string out = head(fmt::format("curdwright-{}", t.name), t.section, t.about) + ".SH DESCRIPTION\n";
  for (const Block& b : blocks_of(t.page())) out += block_roff(b);
  return without_empty_paragraphs(out + see_also(t.name));
}

}  // namespace curdwright::program
