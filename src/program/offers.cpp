// SPDX-License-Identifier: MIT
#include "program/offers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "program/choices.hpp"
#include "program/diary_commands.hpp"
#include "program/offer_sources.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

using Source = Offers (*)(const Request&, std::string_view);

/// What an option takes, where the words are not fixed.
struct OptionPlace {
  std::string_view option;
  Source of;
};
constexpr std::array option_places = {
    OptionPlace{"--legume", offered::legumes},   OptionPlace{"--kitchen", offered::files},      OptionPlace{"--data", offered::folders},   OptionPlace{"--set", offered::settings},
    OptionPlace{"--over", offered::settings},    OptionPlace{"--let", offered::settings},       OptionPlace{"--price", offered::sold},     OptionPlace{"--measured", offered::measures},
    OptionPlace{"--seen", offered::sights},      OptionPlace{"--most", offered::responses},     OptionPlace{"--least", offered::responses}, OptionPlace{"--keep", offered::responses},
    OptionPlace{"--by", offered::responses},     OptionPlace{"--figures", offered::responses_list}, OptionPlace{"--without", offered::without}, OptionPlace{"--diary", offered::files},
    OptionPlace{"--batch", offered::batches},    OptionPlace{"--output", offered::files},
    OptionPlace{"--blender", offered::blenders}, OptionPlace{"--strainer", offered::strainers},  OptionPlace{"--recipe-file", offered::files}, OptionPlace{"--kitchen-file", offered::files},
};

/// What the words of a command are: the nth, and those after it when it is the last row of its command.
struct WordPlace {
  std::string_view command;
  std::size_t nth;
  Source of;
};
constexpr std::array word_places = {
    WordPlace{"sheet", 0, offered::files},   WordPlace{"check", 0, offered::files},    WordPlace{"diary", 0, offered::verbs},   WordPlace{"learn", 0, offered::files},
    WordPlace{"explain", 0, offered::files}, WordPlace{"explain", 1, offered::responses}, WordPlace{"vary", 0, offered::files}, WordPlace{"best", 0, offered::files},
    WordPlace{"compare", 0, offered::files}, WordPlace{"rank", 0, offered::rankable},  WordPlace{"rank", 1, offered::files},    WordPlace{"each", 0, offered::files},
    WordPlace{"list", 0, offered::lists},    WordPlace{"show", 0, offered::showable},  WordPlace{"show", 1, offered::shown_ids}, WordPlace{"new", 0, offered::starters},
    WordPlace{"schema", 0, offered::schemas}, WordPlace{"help", 0, offered::topics},   WordPlace{"shell", 0, offered::shells},
};
/// The same of the verbs of `diary`, counted behind the verb.
constexpr std::array verb_places = {
    WordPlace{"start", 0, offered::files},   WordPlace{"add", 0, offered::batches},   WordPlace{"add", 1, offered::diary_words}, WordPlace{"score", 0, offered::batches},
    WordPlace{"score", 1, offered::scales},  WordPlace{"piece", 0, offered::batches}, WordPlace{"piece", 1, offered::pieces},    WordPlace{"piece", 2, offered::piece_words},
    WordPlace{"show", 0, offered::batches},  WordPlace{"compare", 0, offered::batches_and_pieces}, WordPlace{"left", 0, offered::batches}, WordPlace{"left", 1, offered::leftovers},
};

template <std::size_t n>
Source word_source(const std::array<WordPlace, n>& places, std::string_view command, std::size_t nth, bool goes_on) {
  Source last = nullptr;
  for (const WordPlace& p : places) {
    if (p.command != command) continue;
    if (p.nth == nth) return p.of;
    last = p.of;
  }
  return goes_on ? last : nullptr;
}

/// A command line as far as it is typed. Nothing in it is sure, so nothing is a fault.
struct Typed {
  Request request;
  const OptionRow* open = nullptr;  ///< an option whose value comes next
  bool only_words = false;
};

Typed read_typed(std::span<const std::string> before) {
  Typed t;
  for (const std::string& w : before) {
    if (t.open) {
      t.request.values[std::string(t.open->name)].push_back(w);
      t.open = nullptr;
    } else if (!t.only_words && w == "--") {
      t.only_words = true;
    } else if (!t.only_words && w.size() > 1 && w[0] == '-') {
      const auto equals = w.find('=');
      const OptionRow* o = option_named(w.substr(0, equals));
      if (!o) continue;
      if (o->value.empty() || equals != std::string::npos)
        t.request.values[std::string(o->name)].push_back(equals == std::string::npos ? "" : w.substr(equals + 1));
      else
        t.open = o;
    } else if (t.request.command.empty()) {
      t.request.command = w;
    } else {
      t.request.words.push_back(w);
    }
  }
  return t;
}

std::string verb_of(const Request& r) { return r.command == "diary" && !r.words.empty() ? r.words[0] : ""; }

Offers values_of(const OptionRow& o, const Request& r, std::string_view current) {
  if (const std::string_view words = choices(o, command_and_verb(r)); !words.empty()) {
    Offers fixed;
    for (std::string_view word : text::split(words, '|')) fixed.list.push_back({std::string(word), ""});
    return fixed;
  }
  for (const OptionPlace& p : option_places)
    if (p.option == o.name) return p.of(r, current);
  return {};
}

Offers option_offers(const Request& r) {
  Offers o;
  for (const OptionRow* row : options_of(r.command, verb_of(r)))
    if (row->repeats || !r.has(row->name)) o.list.push_back({std::string(row->name), std::string(row->help)});
  o.list.push_back({"--help", "what the command does and takes"});
  if (r.command.empty()) o.list.push_back({"--version", "versions of program, data and model"});
  return o;
}

Offers word_offers(const Request& r, std::string_view current) {
  Offers o;
  if (r.command.empty()) {
    for (const CommandRow& c : all_commands()) o.list.push_back({std::string(c.name), std::string(c.purpose)});
    return o;
  }
  const CommandRow* command = find_command(r.command);
  if (!command) return o;
  const std::size_t nth = r.words.size();
  if (command->most >= 0 && nth >= static_cast<std::size_t>(command->most)) return o;
  const bool verb = r.command == "diary" && nth > 0;
  const Source of = verb ? word_source(verb_places, r.words[0], nth - 1, r.words[0] != "start" && r.words[0] != "show" && r.words[0] != "left") : word_source(word_places, r.command, nth, command->most < 0 && r.command != "shell");
  return of ? of(r, current) : o;
}

/// Whether every shell takes a word as it stands. Ids of a cook's own records and batches are whatever they are.
bool safe(std::string_view word) {
  constexpr std::string_view also = "-_/.=:,+@%";
  return std::all_of(word.begin(), word.end(), [&](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || also.find(c) != std::string_view::npos; });
}

/// Only what goes on with what is there.
Offers narrowed(Offers o, std::string_view current) {
  std::erase_if(o.list, [&](const Offer& f) { return !f.word.starts_with(current) || !safe(f.word.substr(current.size())); });
  return o;
}

}  // namespace

std::vector<const OptionRow*> options_of(std::string_view command, std::string_view verb) {
  std::string_view only;
  for (const DiaryVerb& v : all_verbs())
    if (command == "diary" && v.name == verb) only = v.options;
  std::vector<const OptionRow*> all;
  for (const OptionRow& o : all_options()) {
    const bool everywhere = o.commands == "*";
    const bool of_verb = only.data() == nullptr || o.name == "--diary" || text::holds_word(only, o.name);
    if (everywhere || (text::holds_word(o.commands, command) && of_verb)) all.push_back(&o);
  }
  return all;
}

Offers offers(std::span<const std::string> before, std::string_view current) {
  const Typed t = read_typed(before);
  if (t.open) return narrowed(values_of(*t.open, t.request, current), current);
  if (t.only_words || !current.starts_with('-')) return narrowed(word_offers(t.request, current), current);
  const auto equals = current.find('=');
  if (equals == std::string_view::npos) return narrowed(option_offers(t.request), current);
  const OptionRow* o = option_named(current.substr(0, equals));
  if (!o || o->value.empty()) return {};
  Offers values = values_of(*o, t.request, current.substr(equals + 1));
  for (Offer& f : values.list) f.word.insert(0, current.substr(0, equals + 1));
  return narrowed(std::move(values), current);
}

std::string offers_text(const Offers& o) {
  std::string out = o.kind == Offers::Kind::files ? "files\n" : o.kind == Offers::Kind::folders ? "folders\n" : "words\n";
  for (const Offer& f : o.list) out += fmt::format("{}\t{}\n", f.word, text::harmless(f.about));
  return out;
}

}  // namespace curdwright::program
