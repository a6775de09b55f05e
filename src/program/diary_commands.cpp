// SPDX-License-Identifier: MIT
#include "program/diary_commands.hpp"

#include <fmt/format.h>

#include <array>

#include "program/choices.hpp"
#include "program/diary_verbs.hpp"
#include "program/runs.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using Verb = DiaryVerb;

constexpr std::size_t any = 1000;
constexpr std::array verbs = {
    Verb{"start", "RECIPE", "curdwright diary start chickpea.json --blocks 8", "--blocks --curd --dry --protein --fill --sure --kitchen --data --set --price --at --format", 1, 1, diary::start},
    Verb{"add", "ID WORD=VALUE...", "curdwright diary add chickpea-1 soaked=1140g whey=milky note=\"salted\"", "--at --format", 2, any, diary::add},
    Verb{"score", "[ID WORD=1..5...]", "curdwright diary score chickpea-1 firmness=4 taste=5", "--at --format", 0, any, diary::score},
    Verb{"piece", "ID NAME WORD=VALUE...", "curdwright diary piece chickpea-1 A mass=310g aged=3d way=pan", "--at --format", 3, any, diary::piece},
    Verb{"list", "", "curdwright diary list", "--format --output --force", 0, 0, diary::list},
    Verb{"show", "ID", "curdwright diary show chickpea-1 --on 2027-03-08", "--on --format --output --force", 1, 1, diary::show},
    Verb{"compare", "ID ID", "curdwright diary compare chickpea-1 chickpea-2:A", "--format --output --force", 2, 2, diary::compare},
    Verb{"export", "", "curdwright diary export --format csv -o diary.csv", "--on --format --output --force", 0, 0, diary::export_all},
    Verb{"left", "ID WHAT", "curdwright diary left chickpea-1 pulp -o mine/extras/pulp-chickpea-1.json", "--on --output --force", 2, 2, diary::left},
};

bool takes(const Verb& v, std::string_view option) { return option == "--diary" || option == "--color" || text::holds_word(v.options, option); }

/// What is wrong with the words and options of a verb.
Problems misuse(const Request& r, const Verb& v) {
  Problems problems;
  for (const auto& [option, values] : r.values)
    if (!takes(v, option)) problems.push_back(usage(fmt::format("{} does not go with diary {}", option, v.name), "", fmt::format("for example: {}", v.example)));
  if (const auto format = chosen(r, "--format"); !format) problems.push_back(format.error()[0]);
  const std::size_t given = r.words.size() - 1;
  const bool one_word_score = v.name == "score" && given == 1;
  if (given < v.least || given > v.most || one_word_score)
    problems.push_back(usage(given > v.most ? fmt::format("diary {} takes {}, but {} words were given", v.name, v.words.empty() ? "no words" : v.words, given) : fmt::format("diary {} needs {}", v.name, v.words), "",
                             fmt::format("for example: {}", v.example)));
  return problems;
}

}  // namespace

std::span<const DiaryVerb> all_verbs() { return verbs; }

int run_diary(const Request& r) {
  std::vector<std::string_view> known;
  for (const Verb& v : verbs) {
    known.push_back(v.name);
    if (v.name != r.words[0]) continue;
    if (const Problems wrong = misuse(r, v); !wrong.empty()) return report(r, wrong);
    return v.run(r);
  }
  return report(r, {usage(fmt::format("diary does not \"{}\"", text::harmless(text::cut(r.words[0], 40))), "", text::suggest(r.words[0], known))});
}

}  // namespace curdwright::program
