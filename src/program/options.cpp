// SPDX-License-Identifier: MIT
// The only file that includes the option parser.
#include "program/options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>

#include "curdwright/units.hpp"
#include "program/lists.hpp"
#include "program/choices.hpp"
#include "program/topics.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

constexpr std::string_view diary_verbs =
    "  start RECIPE             begin a batch, and print its id; takes the options of\n"
    "                           a recipe, and --at\n"
    "  add ID WORD=VALUE...     soaked=1552g-412g, pour=78degC, whey=milky,\n"
    "                           note=\"salted\", soaked=withdrawn; --at\n"
    "  score ID WORD=1..5...    taste it; score alone lists the scales; --at\n"
    "  piece ID NAME WORD=...   mass=310g aged=3d frozen=no way=pan before=310g\n"
    "                           after=262g, note, scores; or withdrawn; --at\n"
    "  list                     all batches; --format\n"
    "  show ID                  one batch, its days and leftovers; --on, --format\n"
    "  compare ID ID            what differs first; ID:NAME for a piece; --format\n"
    "  export                   all of it; --format csv|json\n"
    "  left ID WHAT             pulp, starch-layer, whey or coagulant as a record\n"
    "                           for the folder of --data; --on\n";

constexpr std::string_view shell_uses =
    "  bash   source the script from ~/.bashrc\n"
    "  zsh    keep it as _curdwright in a folder of $fpath, before compinit\n"
    "  fish   keep it as ~/.config/fish/completions/curdwright.fish\n"
    "An installed program needs none of this: its scripts are in the standard places.\n";

constexpr std::array commands = {
    CommandRow{"sheet", "[RECIPE]", "print the batch sheet of a recipe (- reads standard input), or of a batch of the diary", "curdwright sheet chickpea.json --blocks 8", 0, 1},
    CommandRow{"check", "RECIPE...", "read recipes, and print only problems and cautions", "curdwright check recipes/*.json", 1, -1},
    CommandRow{"diary", "VERB ...", "keep a diary of batches: start, add, score, piece, list, show, compare, export, left", "curdwright diary start chickpea.json --blocks 8", 1, -1, diary_verbs},
    CommandRow{"learn", "[DIARY]", "what the diary shows of this kitchen; with -o, write a kitchen file that uses it", "curdwright learn -o kitchen.json", 0, 1},
    CommandRow{"explain", "RECIPE FIGURE", "how a figure comes about: each number with its formula and its source, down to the data", "curdwright explain chickpea.json curd_mass_g", 2, 2},
    CommandRow{"vary", "RECIPE", "a table of figures over one or two settings, with pictures", "curdwright vary chickpea.json --over /starch/time=10min:50min:10min", 1, 1},
    CommandRow{"best", "RECIPE", "the settings with which a recipe does best, what holds it back, and what giving way would bring", "curdwright best chickpea.json --most protein_fraction --keep \"cost_per_block<=0.80\" --let /starch/time=10min:2h --price chickpea-kabuli=3.10/kg", 1, 1},
    CommandRow{"compare", "RECIPE RECIPE...", "recipes side by side: what differs, what comes out, and whether the difference is larger than the uncertainty", "curdwright compare chickpea.json soy.json", 2, -1},
    CommandRow{"rank", "legumes [RECIPE]", "which legume to try next, by one figure, with how sure that is and how well each is known", "curdwright rank legumes --by protein_fraction --without allergen:soybean", 1, 2},
    CommandRow{"each", "[FILE]", "recipes by the line: JSON Lines in (standard input), a sheet or its problems on each line out, in order", "curdwright each --blocks 8 < recipes.jsonl > sheets.jsonl", 0, 1},
    CommandRow{"list", "WHAT", "list legumes, coagulants, extras, blenders, strainers, presses, hobs, chillers, measures, figures or rules", "curdwright list legumes", 1, 1},
    CommandRow{"show", "WHAT [ID]", "show a legume, a coagulant, an extra or the kitchen, each figure with its evidence", "curdwright show legume chickpea-kabuli", 1, 2},
    CommandRow{"new", "[WHAT]", "write a starter recipe or kitchen; without WHAT, or with start, both from a few questions or from their options", "curdwright new recipe --legume pea-split-yellow --blocks 4 -o peas.json", 0, 1},
    CommandRow{"schema", "WHAT", "print the JSON Schema of recipe, kitchen, sheet, legume, diary, or of an answer", "curdwright schema recipe", 1, 1},
    CommandRow{"help", "[TOPIC]", "explain a command, or a topic: amounts, recipe, kitchen, settings, diary-words, exit-status, environment, formats, safety, trouble", "curdwright help sheet", 0, 1},
    CommandRow{"shell", "NAME", "print the script that completes words in a shell: bash, zsh or fish", "curdwright shell bash > curdwright.bash", 1, -1, shell_uses},
};

constexpr std::array options = {
    OptionRow{"--blocks", "", "N", "sheet check explain new diary vary best compare each", "how many whole blocks are wanted"},
    OptionRow{"--curd", "", "MASS", "sheet check explain diary vary best compare each", "how much pressed curd is wanted, for example 2kg"},
    OptionRow{"--dry", "", "MASS", "sheet check explain diary vary best compare each", "how much dry seed there is, for example 450g"},
    OptionRow{"--protein", "", "MASS", "sheet check explain diary vary best compare each", "how much protein is wanted in the pressed curd"},
    OptionRow{"--fill", "", "", "sheet check explain diary vary best compare each", "as much as the kitchen takes in one go, and what limits it"},
    OptionRow{"--sure", "", "CHANCE", "sheet check explain diary vary best compare each", "chance with which the target is to be reached, for example 80%"},
    OptionRow{"--legume", "", "ID", "new", "legume of the starter recipe (chickpea-kabuli)"},
    OptionRow{"--block", "", "MASS", "new", "of new start: how heavy one block is (300 g)"},
    OptionRow{"--pot", "", "VOLUME", "new", "of new start: what the largest pot holds, to the brim (12 l)"},
    OptionRow{"--blender", "", "ID", "new", "of new start: what it is blended with (high-speed); see `list blenders`"},
    OptionRow{"--jar", "", "VOLUME", "new", "of new start: what its jar holds (2 l)"},
    OptionRow{"--strainer", "", "ID", "new", "of new start: how it is strained (hand-twist); see `list strainers`"},
    OptionRow{"--moulds", "", "N", "new", "of new start: how many moulds there are (4)"},
    OptionRow{"--region", "", "us|uk|scotland|eu|canada|anz|codex", "new", "of new start: whose food rules are followed (us)"},
    OptionRow{"--recipe-file", "", "FILE", "new", "of new start: file for the recipe (the legume's id, .json)"},
    OptionRow{"--kitchen-file", "", "FILE", "new", "of new start: file for the kitchen (kitchen.json)"},
    OptionRow{"--kitchen", "", "FILE", "sheet check explain show new diary learn vary best compare rank each", "kitchen file (else CURDWRIGHT_KITCHEN, else the built-in kitchen)"},
    OptionRow{"--data", "", "DIR", "sheet check explain list show new diary learn vary best compare rank each", "folder of your own records, added to the shipped ones"},
    OptionRow{"--set", "", "/POINTER=VALUE", "sheet check explain diary vary best compare rank each", "set any value of the recipe, or /kitchen/...; may be repeated", true},
    OptionRow{"--start", "", "TIME", "sheet", "when the batch begins, for example \"2027-03-05 18:00\""},
    OptionRow{"--ready-by", "", "TIME", "sheet", "when it is to be cold; with --start, the soak fills the time between"},
    OptionRow{"--price", "", "ID=AMOUNT/UNIT", "sheet explain diary vary best compare rank each", "what something costs, soybean=3.10/kg, besides the kitchen's prices; may be repeated", true},
    OptionRow{"--units", "", "metric|us", "sheet", "units of the sheet's words (metric)"},
    OptionRow{"--measured", "", "WORD=VALUE", "sheet", "what was measured or done so far, pulp=610g; the rest follows it; see `list measures`; may be repeated", true},
    OptionRow{"--seen", "", "WHAT=LOOK", "sheet", "what looks wrong, for example whey=milky; the sheet then says what to do; see `help trouble`; may be repeated", true},
    OptionRow{"--ranges", "", "fast|full|off", "sheet vary each", "likely ranges: from 128 plans (fast), or from 4096 (full); full also tells what those of a sheet depend on"},
    OptionRow{"--over", "", "/POINTER=VALUES", "vary", "a setting to vary: from:to:step, from:to:xN (logarithmic), or a,b,c; may be given twice", true},
    OptionRow{"--most", "", "KEY", "best", "figure to make as large as possible; see `list figures`"},
    OptionRow{"--least", "", "KEY", "best", "figure to make as small as possible"},
    OptionRow{"--keep", "", "KEY<=LIMIT", "best", "a condition to keep, for example \"starch_fraction<=3%\"; may be repeated", true},
    OptionRow{"--let", "", "/POINTER=ROOM", "best", "a setting that may be chosen: low:high, or a,b,c; may be repeated", true},
    OptionRow{"--by", "", "KEY", "rank", "what to rank by (protein_fraction); see `list figures`"},
    OptionRow{"--without", "", "KIND:WORD", "rank", "leave out, for example allergen:soybean or hazard:favism; may be repeated", true},
    OptionRow{"--under", "", "AMOUNT/kg", "rank", "leave out seed that costs more, for example 3/kg"},
    OptionRow{"--threads", "", "N", "each", "how many answer lines at a time (1)"},
    OptionRow{"--figures", "", "KEY,...", "vary compare each", "figures to show; see `list figures`"},
    OptionRow{"--plot", "", "auto|unicode|ascii|off", "vary", "pictures below the table (auto: by the locale)"},
    OptionRow{"--format", "", "text|json|csv|ics|svg|html|markdown|jsonld|man", "sheet check explain list show schema diary learn vary best compare rank help", "form of the output (text; of schema, json); a page (html) of sheet, vary, compare, diary show and compare, markdown, recipe markup (jsonld), a calendar (ics) or the mass balance (csv) of a sheet, a table (csv) of diary export, vary and rank, a picture (svg) of vary, a page of the manual (man) of help, tables (markdown) of schema and help"},
    OptionRow{"--batch", "", "ID", "sheet", "a batch of the diary, with what was told of it so far"},
    OptionRow{"--explain", "", "", "learn", "how much each batch and each reading counts"},
    OptionRow{"--next", "", "", "learn", "what to measure or change next, ranked by what is learned for the work it takes"},
    OptionRow{"--diary", "", "FILE", "diary sheet learn", "the diary (else CURDWRIGHT_DIARY, else curdwright/diary.jsonl in your data folder)"},
    OptionRow{"--at", "", "TIME", "diary", "when it happened, for example \"2027-03-05 18:00\" (now)"},
    OptionRow{"--on", "", "DATE", "diary", "the day to count to, for example 2027-03-08 (today)"},
    OptionRow{"--refused", "", "", "list", "list the seeds and salts that are known and refused"},
    OptionRow{"--output", "-o", "FILE", "sheet check explain list show new schema diary learn vary best compare rank help shell", "write to a file instead of standard output"},
    OptionRow{"--force", "", "", "sheet check explain list show new schema diary learn vary best compare rank help shell", "let --output, or new start, replace a file"},
    OptionRow{"--depth", "", "N", "explain", "how many steps of the tree are shown (all)"},
    OptionRow{"--color", "", "auto|always|never", "*", "colour on the terminal (auto)"},
    OptionRow{"--width", "", "N", "sheet explain vary best compare rank", "columns of the text, 40 to 120"},
};

bool belongs(const OptionRow& o, std::string_view command) {
  return o.commands == "*" || text::holds_word(o.commands, command);
}

/// How a word that begins with a dash is to be read.
struct Seen {
  bool known = false;
  bool takes_next = false;  ///< the next word is its value
};

/// "--dry", "--dry=1kg".
Seen seen_long(std::string_view a) {
  const std::string_view name = a.substr(0, a.find('='));
  if (name == "--help" || name == "--version") return {true, false};
  for (const OptionRow& o : options)
    if (name == o.name) return {true, !o.value.empty() && name.size() == a.size()};
  return {};
}

/// "-h", "-o", "-oFILE", and letters together as "-ho".
Seen seen_short(std::string_view a) {
  for (std::size_t i = 1; i < a.size(); ++i) {
    if (a[i] == 'h') continue;
    for (const OptionRow& o : options)
      if (!o.letter.empty() && o.letter[1] == a[i] && !o.value.empty()) return {true, i + 1 == a.size()};
    return {};
  }
  return {true, false};
}

/// The first word that is no option and no option's value, or the unknown option before it, behind which nothing is sure.
struct Head {
  std::string word, unknown;
};

Head head_of(int argc, const char* const* argv) {
  for (int i = 1; i < argc; ++i) {
    const std::string_view a = argv[i];
    if (a == "--") return {i + 1 < argc ? argv[i + 1] : "", ""};
    if (a.size() < 2 || a[0] != '-') return {std::string(a), ""};
    const Seen seen = a[1] == '-' ? seen_long(a) : seen_short(a);
    if (!seen.known) return {"", std::string(a)};
    if (seen.takes_next) ++i;
  }
  return {};
}

Problem unknown_command(std::string_view word) {
  std::string what = fmt::format("{} is not a command", text::quoted(word));
  // A recipe by itself is most likely to be cooked.
  if (word.ends_with(".json")) return usage(std::move(what), "a command comes first, then its file", "for the sheet of a recipe: curdwright sheet FILE");
  const auto lists = list_words();
  if (std::find(lists.begin(), lists.end(), word) != lists.end()) return usage(std::move(what), "it is the name of a list", fmt::format("curdwright list {}", word));
  std::vector<std::string_view> names;
  names.reserve(commands.size());
  for (const CommandRow& c : commands) names.push_back(c.name);
  return usage(std::move(what), "", text::suggest(word, names));
}

std::string see_help(std::string_view command) { return command.empty() ? "see `curdwright --help`" : fmt::format("see `curdwright help {}`", command); }

/// \param command empty when none is known
Problem unknown_option(std::string_view word, std::string_view command) {
  const std::string_view name = word.substr(0, word.find('='));
  std::vector<std::string_view> known = {"--help", "--version"};
  for (const OptionRow& o : options)
    if (command.empty() || belongs(o, command)) known.push_back(o.name);
  const std::string_view near = text::nearest(name, known);
  const std::string fix = near.empty() ? see_help(command) : fmt::format("did you mean \"{}\"?", near);
  if (const OptionRow* o = option_named(name))
    return usage(fmt::format("{} does not go with {}", name, command.empty() ? "curdwright" : command), fmt::format("it belongs to: {}", o->commands), fix);
  return usage(fmt::format("the option {} is not known", text::quoted(name)), "", fix);
}

/// The parser's own words do not say what to write.
Problem without_value(std::string_view told, std::string_view command) {
  for (const OptionRow& o : options)
    if (told.find(o.name) != std::string_view::npos) return usage(fmt::format("{} has no value", o.name), std::string(o.help), fmt::format("write {} {}", o.name, o.value));
  return usage("an option that needs a value has none", "", see_help(command));
}

Problem wrong_words(const CommandRow& c, const std::vector<std::string>& words) {
  const std::size_t given = words.size();
  const auto unit = std::find_if(words.begin(), words.end(), [](const std::string& w) { return is_unit(w); });
  if (unit != words.end()) return usage(fmt::format("\"{}\" is a word of its own", *unit), "an amount is one word to a shell", fmt::format("write it together, as 12{}, or in quotes, as \"12 {}\"", *unit, *unit));
  return usage(given < static_cast<std::size_t>(c.least) ? fmt::format("{} needs {}", c.name, c.words) : fmt::format("{} takes {}, but {} words were given", c.name, c.words, given), "",
               fmt::format("for example: {}", c.example));
}

void wrap_row(std::string& out, std::string_view left, std::string_view right) {
  constexpr int column = 29;
  const auto lines = text::wrapped(right, 79 - column);
  out += text::width(left) + 2 > column ? fmt::format("{}\n{}", left, std::string(column, ' ')) : text::padded(left, column);
  for (std::size_t i = 0; i < lines.size(); ++i) out += (i > 0 ? std::string(column, ' ') : "") + lines[i] + "\n";
}

std::string option_left(const OptionRow& o, std::string_view command = "") {
  const std::string_view fixed = choices(o, command);
  return fmt::format("  {}{}{}{}", o.letter.empty() ? "" : fmt::format("{}, ", o.letter), o.name, o.value.empty() ? "" : " ", fixed.empty() ? o.value : fixed);
}

constexpr std::string_view statuses =
    "Exit status\n"
    "  0 done   1 no batch: out of reach, refused, or stopped by a rule\n"
    "  2 bad command line, recipe, kitchen, diary or data   3 a file could not be\n"
    "  read or written   70 a fault of the program   130 interrupted\n";

}  // namespace

const CommandRow* find_command(std::string_view name) {
  for (const CommandRow& c : commands)
    if (c.name == name) return &c;
  return nullptr;
}

std::span<const CommandRow> all_commands() { return commands; }
std::span<const OptionRow> all_options() { return options; }

const OptionRow* option_named(std::string_view name) {
  for (const OptionRow& o : options)
    if (!name.empty() && (o.name == name || o.letter == name)) return &o;
  return nullptr;
}

namespace {

/// Gives the options of a command to the parser, with the places their values go to.
void give_options(CLI::App& app, const CommandRow* command, Request& r, std::map<std::string, bool>& switches) {
  app.set_help_flag();
  app.allow_extras();
  app.add_flag("-h,--help", r.help);
  app.add_flag("--version", r.version);
  for (const OptionRow& o : options) {
    if (!command || !belongs(o, command->name)) continue;
    const std::string flag = o.letter.empty() ? std::string(o.name) : fmt::format("{},{}", o.letter, o.name);
    const std::string key(o.name);
    if (o.value.empty())
      app.add_flag(flag, switches[key]);
    else
      app.add_option(flag, r.values[key])->allow_extra_args(false)->expected(1)->take_all();
  }
}

/// Words are taken from what the parser leaves over: as its own they would be split at commas where brackets enclose them.
Result<std::vector<std::string>> words_left(const CLI::App& app, std::string_view command) {
  std::vector<std::string> words;
  bool only_words = false;
  for (const std::string& left : app.remaining()) {
    if (!only_words && left == "--")
      only_words = true;
    else if (!only_words && left.size() > 1 && left[0] == '-')
      return fail(unknown_option(left, command));
    else
      words.push_back(left);
  }
  return words;
}

Result<void> check_repeats(const Request& r) {
  for (const OptionRow& o : options)
    if (const auto i = r.values.find(o.name); i != r.values.end() && i->second.size() > 1 && !o.repeats)
      return fail(usage(fmt::format("{} is given {} times", o.name, i->second.size()), "it may be given once", "keep one"));
  return {};
}

}  // namespace

Result<Request> read_command_line(int argc, const char* const* argv) {
  const Head head = head_of(argc, argv);
  if (!head.unknown.empty()) return fail(unknown_option(head.unknown, ""));
  const CommandRow* command = find_command(head.word);
  if (!head.word.empty() && !command) return fail(unknown_command(head.word));
  const std::string_view name = command ? command->name : "";
  Request r;
  CLI::App app("curdwright");
  std::map<std::string, bool> switches;
  give_options(app, command, r, switches);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ArgumentMismatch& e) {
    return fail(without_value(e.what(), name));
  } catch (const CLI::ParseError& e) {
    return fail(usage(e.what(), "", see_help(name)));
  }
  auto words = words_left(app, name);
  if (!words) return fail(words.error());
  std::erase_if(r.values, [](const auto& v) { return v.second.empty(); });
  for (const auto& [key, on] : switches)
    if (on) r.values[key] = {"true"};
  if (auto once = check_repeats(r); !once) return fail(once.error());
  if (!command) return r;
  r.command = command->name;
  if (words->empty() || words->front() != command->name)
    return fail(usage("the command line cannot be read", "", fmt::format("put the command first: curdwright {}", command->name)));
  r.words.assign(words->begin() + 1, words->end());
  const bool wrong = r.words.size() < static_cast<std::size_t>(command->least) || (command->most >= 0 && r.words.size() > static_cast<std::size_t>(command->most));
  if (wrong && !r.help) return fail(wrong_words(*command, r.words));
  return r;
}

std::string option_by_eye(int argc, const char* const* argv, std::string_view name) {
  std::string value;
  for (int i = 1; i < argc && std::string_view(argv[i]) != "--"; ++i) {
    const std::string_view word = argv[i];
    if (word.starts_with(name) && word.substr(name.size()).starts_with("=")) value = word.substr(name.size() + 1);
    if (word == name && i + 1 < argc) value = argv[i + 1];
  }
  return value;
}

std::string short_help() {
  std::string out = "curdwright plans a batch of legume curd: from a recipe to a sheet to cook from.\n\n";
  out += "  curdwright new recipe --legume chickpea-kabuli --blocks 4 -o chickpea.json\n";
  out += "  curdwright sheet chickpea.json\n\nCommands\n";
  for (const CommandRow& c : commands) wrap_row(out, fmt::format("  {} {}", c.name, c.words), c.purpose);
  out += "\n`curdwright help TOPIC` explains a command or a topic; `curdwright --help`\nshows all options and topics.\n";
  return out;
}

std::string help_of(std::string_view name) {
  const CommandRow* c = find_command(name);
  if (!c) return "";
  std::string out = fmt::format("curdwright {} {}\n\n", c->name, c->words);
  for (const std::string& l : text::wrapped(fmt::format("{}.", c->purpose), 79)) out += l + "\n";
  if (!c->more.empty()) out += fmt::format("\n{}", c->more);
  out += fmt::format("\n  {}\n\nOptions\n", c->example);
  for (const OptionRow& o : options)
    if (belongs(o, name)) wrap_row(out, option_left(o, name), help_with(o, name));
  wrap_row(out, "  -h, --help", "this text");
  return out + "\n" + std::string(statuses);
}

std::string full_help() {
  std::string out = short_help() + "\nOptions\n";
  for (const OptionRow& o : options) wrap_row(out, option_left(o), o.commands == "*" ? std::string(o.help) : fmt::format("{} [{}]", o.help, o.commands));
  wrap_row(out, "  -h, --help", "help, also of a command");
  wrap_row(out, "  --version", "versions of program, data and model");
  out += "\nTopics\n";
  for (const Topic& t : all_topics()) wrap_row(out, fmt::format("  help {}", t.name), t.about);
  out += "\nEnvironment\n";
  wrap_row(out, "  CURDWRIGHT_KITCHEN", "kitchen file when --kitchen is not given");
  wrap_row(out, "  CURDWRIGHT_DIARY", "the diary when --diary is not given");
  wrap_row(out, "  NO_COLOR, CLICOLOR_FORCE", "colour off, colour on; --color beats both");
  wrap_row(out, "  COLUMNS, TERM", "width and kind of the terminal");
  return out + "\n" + std::string(statuses) + "\nDocumentation: the manual (man curdwright), README.md and docs/ of the source.\n";
}

}  // namespace curdwright::program
