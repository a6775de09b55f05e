// SPDX-License-Identifier: MIT
#include "program/start_command.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "curdwright/cautions.hpp"
#include "curdwright/study.hpp"
#include "curdwright/units.hpp"
#include "json/document.hpp"
#include "program/lists.hpp"
#include "program/starter_recipe.hpp"
#include "program/files.hpp"
#include "program/planning.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// What was answered so far; at the beginning, what goes without saying.
struct Answers {
  std::string legume = "chickpea-kabuli";
  int blocks = 4;
  Mass block = grams(300);
  Volume pot = litres(12), jar = litres(2);
  std::string blender = "high-speed", strainer = "hand-twist";
  int moulds = default_kitchen().moulds;
  Region region = default_kitchen().region;
  std::string recipe_file, kitchen_file = "kitchen.json";
};

/// Reads an answer; what is wrong with it is told, and it is asked for again.
using Take = Result<void> (*)(Answers&, const std::string&, const Catalogue&);

struct Question {
  std::string_view option, ask, hint;
  std::string (*otherwise)(const Answers&);  ///< what an empty answer means
  Take take;
  std::string_view list;                     ///< of `list`, shown for "?"
};

Result<void> take_legume(Answers& a, const std::string& told, const Catalogue& c) {
  const auto l = c.legume(told);
  if (!l) return fail(l.error());
  a.legume = l->id;
  return {};
}

Result<void> take_count(int& to, const std::string& told, std::string_view fault, int most) {
  const auto n = parse_number(told);
  const bool whole = n && told.find_first_not_of("0123456789") == std::string::npos && *n >= 1 && *n <= most;
  if (!whole) return fail(Problem{"command-line", {}, fmt::format("{} {}", text::quoted(text::cut(told, 40)), fault), fmt::format("it is a whole number, 1 to {}", most), "write for example 4"});
  to = static_cast<int>(*n);
  return {};
}

Result<void> take_region(Answers& a, const std::string& told, const Catalogue&) {
  const auto region = from_word<Region>(told);
  if (!region) return fail(Problem{"word-unknown", {}, fmt::format("no food rules are called {}", text::quoted(text::cut(told, 40))), "", text::suggest(told, word_list<Region>)});
  a.region = *region;
  return {};
}

template <class Q>
Result<void> take_amount(Q& to, const std::string& told, QuantityKind kind, double low, double high) {
  const auto si = parse_quantity(told, kind);
  if (!si) return fail(si.error());
  if (*si < low || *si > high)
    return fail(Problem{"out-of-range", {}, fmt::format("{} is out of range", text::quoted(text::cut(told, 40))), fmt::format("{} to {} will do", write_quantity(low, kind), write_quantity(high, kind)), "check the unit"});
  to = Q::from_si(*si);
  return {};
}

Result<void> take_gear(std::string& to, const std::string& told, EquipmentKind kind, const Catalogue& c) {
  const auto e = c.equipment(kind, told);
  if (!e) return fail(e.error());
  to = e->id;
  return {};
}

Result<void> take_file(std::string& to, const std::string& told) {
  if (text::harmless(told) != told || told == "-") return fail(Problem{"command-line", {}, fmt::format("{} is no name for a file", text::quoted(text::cut(told, 60))), "", "write a name such as peas.json"});
  to = told;
  return {};
}

std::string litres_text(Volume v) { return write_quantity(v.si(), QuantityKind::volume); }

constexpr std::array questions = {
    Question{"--legume", "Which legume", "Its name; ? lists them.", [](const Answers& a) { return a.legume; }, take_legume, "legumes"},
    Question{"--blocks", "How many blocks", "A whole number.", [](const Answers& a) { return fmt::format("{}", a.blocks); },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_count(a.blocks, t, "blocks cannot be made", 100000); }, ""},
    Question{"--block", "How heavy is one block", "For example 300 g.", [](const Answers& a) { return write_quantity(a.block.si(), QuantityKind::mass); },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_amount(a.block, t, QuantityKind::mass, 0.005, 50); }, ""},
    Question{"--pot", "How much does your largest pot hold, to the brim", "For example 12 l.", [](const Answers& a) { return litres_text(a.pot); },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_amount(a.pot, t, QuantityKind::volume, 1e-4, 5); }, ""},
    Question{"--blender", "What do you blend with", "? lists what is known.", [](const Answers& a) { return a.blender; },
             [](Answers& a, const std::string& t, const Catalogue& c) { return take_gear(a.blender, t, EquipmentKind::blender, c); }, "blenders"},
    Question{"--jar", "How much does its jar hold, or the vessel you blend in", "For example 2 l.", [](const Answers& a) { return litres_text(a.jar); },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_amount(a.jar, t, QuantityKind::volume, 1e-4, 0.5); }, ""},
    Question{"--strainer", "How do you strain", "? lists what is known.", [](const Answers& a) { return a.strainer; },
             [](Answers& a, const std::string& t, const Catalogue& c) { return take_gear(a.strainer, t, EquipmentKind::strainer, c); }, "strainers"},
    Question{"--moulds", "How many moulds do you have", "A whole number.", [](const Answers& a) { return fmt::format("{}", a.moulds); },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_count(a.moulds, t, "moulds cannot be planned with", 1000); }, ""},
    Question{"--region", "Whose food rules do you follow", "One of us, uk, scotland, eu, canada, anz, codex.", [](const Answers& a) { return std::string(word(a.region)); }, take_region, ""},
    Question{"--recipe-file", "File for the recipe", "A name.", [](const Answers& a) { return a.recipe_file.empty() ? a.legume + ".json" : a.recipe_file; },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_file(a.recipe_file, t); }, ""},
    Question{"--kitchen-file", "File for the kitchen", "A name.", [](const Answers& a) { return a.kitchen_file; },
             [](Answers& a, const std::string& t, const Catalogue&) { return take_file(a.kitchen_file, t); }, ""},
};

Kitchen kitchen_of(const Answers& a) {
  Kitchen k = default_kitchen();
  k.name = "own kitchen";
  k.blender = a.blender, k.jar = a.jar, k.strainer = a.strainer;
  k.moulds = a.moulds, k.region = a.region;
  k.pots[0].volume = a.pot;
  return k;
}

Result<std::string> recipe_of(const Answers& a, const Catalogue& c) { return starter_recipe(c, kitchen_of(a), a.legume, a.blocks, a.block); }

/// What a sheet of these answers would warn of, beyond what comes with the food.
Result<std::vector<Caution>> avoidable(const Answers& a, const Catalogue& c) {
  const auto recipe = recipe_of(a, c);
  if (!recipe) return fail(recipe.error());
  InputTexts texts;
  texts.recipe = *recipe, texts.kitchen = write_kitchen(kitchen_of(a));
  auto batch = plan_texts(std::move(texts), c);
  if (!batch) return fail(batch.error());
  const Batch run = one_run(std::move(*batch));
  std::vector<Caution> all = cautions(facts_of(run));
  std::erase_if(all, [](const Caution& x) { return x.standing || x.severity == Severity::note; });
  return all;
}

bool will_do(Answers a, int blocks, const Catalogue& c) {
  a.blocks = blocks;
  const auto list = avoidable(a, c);
  return list && list->empty();
}

/// The most blocks that go without a caution, up to what is wanted; 0 where not even one does.
int most_blocks(const Answers& a, const Catalogue& c) {
  if (!will_do(a, 1, c)) return 0;
  int low = 1, high = a.blocks;
  while (high - low > 1) {
    const int middle = low + (high - low) / 2;
    (will_do(a, middle, c) ? low : high) = middle;
  }
  return low;
}

/// Whether the answers make a batch, and if not, what to answer otherwise. Fewer blocks help where the kitchen is too small for many.
Result<void> check_whole(const Answers& a, const Catalogue& c) {
  const auto list = avoidable(a, c);
  if (!list) return fail(list.error());
  if (list->empty()) return {};
  const int most = most_blocks(a, c);
  const std::string fix = most > 0 ? fmt::format("{} {} of {} would do", most, most == 1 ? "block" : "blocks", write_quantity(a.block.si(), QuantityKind::mass)) : "smaller blocks, a larger pot or a larger jar would help";
  Problems all;
  for (const Caution& x : *list) all.push_back({"out-of-reach", {}, x.text, fmt::format("rule {}", x.rule), ""});
  all.back().fix = fix;
  return fail(std::move(all));
}

void say(std::string_view s) { write_error(s); }

/// Why an answer cannot be used, in the middle of the questions.
void explain(const Problems& problems) {
  for (const Problem& p : problems) {
    std::string told = p.what;
    for (const std::string& more : {p.why, p.fix})
      if (!more.empty()) told += fmt::format("{} {}", told.ends_with('.') || told.ends_with('?') ? "" : ";", more);
    for (const std::string& line : text::wrapped(text::harmless(told), 74)) say(fmt::format("  ! {}\n", line));
  }
}

/// Asks one question until its answer can be used. False where the answers end.
bool ask(const Question& q, Answers& a, const Catalogue& c) {
  for (;;) {
    say(fmt::format("{}? {} [{}] ", q.ask, q.hint, q.otherwise(a)));
    const auto line = read_line();
    if (!line) return false;
    std::string told(text::trimmed(*line));
    if (told == "?" && !q.list.empty()) {
      say(list_text(c, q.list, false, false).value_or(""));
      continue;
    }
    if (told.empty()) told = q.otherwise(a);
    const auto taken = q.take(a, told, c);
    if (taken) return true;
    explain(taken.error());
  }
}

/// A file that is there is only replaced where that is said, here or with --force.
bool ask_file(const Question& q, Answers& a, const std::string& name, bool force, bool& replace, const Catalogue& c) {
  while (ask(q, a, c)) {
    if (force || !file_is_there(name)) return true;
    say(fmt::format("{} is there already. Replace it (yes or no)? [no] ", text::harmless(name)));
    const auto line = read_line();
    if (!line) return false;
    if (text::lower_case(text::trimmed(*line)) == "yes") return replace = true;
  }
  return false;
}

/// Whether two names lead to one file, be it there or not.
bool one_file(const std::string& a, const std::string& b) {
  namespace fs = std::filesystem;
  if (a == b || same_file(a, b)) return true;
  std::error_code odd;
  const fs::path one = fs::weakly_canonical(fs::absolute(a, odd), odd), other = fs::weakly_canonical(fs::absolute(b, odd), odd);
  return !odd && one == other;
}

bool ask_all(Answers& a, bool& replace, const Catalogue& c) {
  const bool force = replace;
  say("A recipe and a kitchen from a few answers. Enter takes what stands in brackets;\nctrl-C ends it, and nothing is written.\n\n");
  for (const Question& q : questions)
    if (!q.option.ends_with("-file") && !ask(q, a, c)) return false;
  for (auto whole = check_whole(a, c); !whole; whole = check_whole(a, c)) {
    say("\nThis kitchen does not make so much in one go:\n");
    explain(whole.error());
    const int most = most_blocks(a, c);
    if (most > 0) a.blocks = most;
    // Not one block goes: block, pot or jar may be a slip.
    for (const std::size_t i : {2U, 3U, 5U})
      if (most == 0 && !ask(questions[i], a, c)) return false;
    if (!ask(questions[1], a, c)) return false;
  }
  const auto& recipe = questions[questions.size() - 2];
  const auto& kitchen = questions.back();
  if (!ask_file(recipe, a, a.recipe_file, force, replace, c)) return false;
  for (;;) {
    if (!ask_file(kitchen, a, a.kitchen_file, force, replace, c)) return false;
    if (!one_file(a.kitchen_file, a.recipe_file)) return true;
    say("The recipe is to stand there. Name another file.\n");
  }
}

Result<Answers> from_options(const Request& r, const Catalogue& c) {
  Answers a;
  Problems problems;
  for (const Question& q : questions) {
    const auto told = r.value(q.option);
    if (!told) continue;
    if (const auto taken = q.take(a, *told, c); !taken)
      for (Problem p : taken.error()) {
        p.place.file = q.option;
        problems.push_back(std::move(p));
      }
  }
  if (a.recipe_file.empty()) a.recipe_file = a.legume + ".json";
  if (one_file(a.recipe_file, a.kitchen_file)) problems.push_back(usage("recipe and kitchen would stand in one file", "", "name two with --recipe-file and --kitchen-file"));
  if (!problems.empty()) return fail(std::move(problems));
  if (auto whole = check_whole(a, c); !whole) {
    problems = whole.error();
    problems.back().fix += "; nothing is written. `curdwright new recipe` writes one to be changed by hand";
    return fail(std::move(problems));
  }
  return a;
}

/// What a file holds before it is replaced, so that it can be put back; nothing where none is there, or no regular one.
Result<std::string> text_to_put_back(const std::string& path) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(path, ignored)) return std::string();
  auto text = read_text(path);
  if (text && text->size() > json::max_bytes) return fail(Problem{"file", {.file = text::harmless(path)}, "is too large to be replaced", "nothing was changed", "name another file"});
  return text;
}

/// Both files, or neither. False where it was interrupted.
Result<bool> write_both(const Answers& a, bool replace, const Catalogue& c) {
  const auto recipe = recipe_of(a, c);
  if (!recipe) return fail(recipe.error());
  const bool new_recipe = !file_is_there(a.recipe_file), new_kitchen = !file_is_there(a.kitchen_file);
  // Before the recipe is written, the kitchen that is in the way is told as any file is.
  if (!new_kitchen && !replace) {
    auto refused = write_file(a.kitchen_file, "", false);
    if (!refused) return fail(refused.error());
  }
  // What the recipe's file held comes back where the kitchen cannot be written.
  const auto before = text_to_put_back(a.recipe_file);
  if (!before) return fail(before.error());
  stop_when_asked();
  if (auto ok = write_file(a.recipe_file, *recipe, replace); !ok) return fail(ok.error());
  auto ok = write_file(a.kitchen_file, kitchen_as_file(kitchen_of(a)), replace);
  // A wish to stop that comes when both are written comes too late.
  if (ok) return true;
  if (new_recipe)
    remove_file(a.recipe_file);
  else if (auto back = write_file(a.recipe_file, *before, true); !back)
    return fail(back.error());
  if (stop_asked()) return false;
  return fail(ok.error());
}

Result<void> check_options(const Request& r, bool asks) {
  if (r.has("--output")) return fail(usage("--output does not go with new start", "it writes two files", "name them with --recipe-file and --kitchen-file"));
  if (r.has("--kitchen")) return fail(usage("--kitchen does not go with new start", "it writes a kitchen of its own", "for a recipe to a kitchen that is there: curdwright new recipe --kitchen FILE"));
  if (asks && !(standard_input_is_terminal() && standard_error_is_terminal())) {
    std::string options;
    for (std::string_view o : start_options()) options += fmt::format("{}{}", options.empty() ? "" : ", ", o);
    return fail(usage("there is no terminal to ask on", fmt::format("the answers are options: {}; what is left out is as in `curdwright show kitchen`", options),
                      "for example: curdwright new start --legume chickpea-kabuli --blocks 4 --pot 12l; or: curdwright new recipe, curdwright new kitchen"));
  }
  return {};
}

/// A file's name as it is typed to a shell.
std::string typed(const std::string& name) { return text::shell_word(name.starts_with('-') ? "./" + name : name); }

}  // namespace

std::vector<std::string_view> start_options() {
  std::vector<std::string_view> all;
  all.reserve(questions.size());
  for (const Question& q : questions) all.push_back(q.option);
  return all;
}

int new_start(const Request& r) {
  const auto given = start_options();
  const bool asks = std::none_of(given.begin(), given.end(), [&](std::string_view o) { return r.has(o); });
  if (auto ok = check_options(r, asks); !ok) return report(r, ok.error());
  const auto catalogue = catalogue_of(r);
  if (!catalogue) return report(r, catalogue.error());
  Answers a;
  bool replace = r.has("--force");
  if (asks && !ask_all(a, replace, *catalogue)) {
    say("\nNothing was written.\n");
    return interrupted;
  }
  if (!asks) {
    auto told = from_options(r, *catalogue);
    if (!told) return report(r, told.error());
    a = std::move(*told);
  }
  const auto written = write_both(a, replace, *catalogue);
  if (!written) return report(r, written.error());
  if (!*written) return interrupted;
  return finish(r, fmt::format("{} and {} are written. What comes next:\n\n  curdwright sheet {} --kitchen {}\n\nThe moulds' size, hob, scales, fridge and altitude stand in the kitchen's file\ntoo, as the built-in kitchen has them; see `curdwright help kitchen`.\n", a.recipe_file, a.kitchen_file, typed(a.recipe_file), typed(a.kitchen_file)), done);
}

}  // namespace curdwright::program
