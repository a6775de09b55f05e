// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <array>

#include "program/answers.hpp"
#include "program/offers.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

// Each script hands the words typed so far to the program and shows what it offers. Without the program there is nothing to complete.

constexpr std::string_view bash_script = R"sh(# Completion of curdwright in bash, as `curdwright shell bash` prints it.
_curdwright() {
  # bash cuts words at = and :, which stand inside ours: what has no blank before it belongs to the word before.
  local rest=${COMP_LINE:0:COMP_POINT} typed=() word bare i
  for ((i = 0; i <= COMP_CWORD; i++)); do
    bare=${rest#"${rest%%[![:space:]]*}"}
    ((i < COMP_CWORD)) && word=${COMP_WORDS[i]} || word=$bare
    if ((i == 0 || ${#bare} < ${#rest})) || [[ -z $rest ]]; then typed+=("$word"); else typed[${#typed[@]} - 1]+=$word; fi
    rest=${bare#"$word"}
  done
  local last=$((${#typed[@]} - 1)) program=${typed[0]/#\~/$HOME}
  for ((i = 1; i <= last; i++)); do typed[i]=${typed[i]//[\"\'\\]/}; done
  local current=${typed[last]} piece=${COMP_WORDS[COMP_CWORD]//[\"\'\\]/} lines=() line
  # What bash replaces is the last piece only.
  [[ $piece == [=:]* ]] && piece=${piece:1}
  [[ $current == *"$piece" ]] || piece=$current
  local before=${current%"$piece"}
  mapfile -t lines < <("$program" shell offer -- "${typed[@]:1}" 2>/dev/null)
  COMPREPLY=()
  case ${lines[0]-} in
    files) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -f -- "$piece") ;;
    folders) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -d -- "$piece") ;;
    words)
      for line in "${lines[@]:1}"; do
        line=${line%%$'\t'*}
        COMPREPLY+=("${line#"$before"}")
      done
      [[ ${#COMPREPLY[@]} -gt 0 && ${COMPREPLY[0]} == *[=/:,] ]] && compopt -o nospace
      ;;
  esac
}
complete -F _curdwright curdwright
)sh";

constexpr std::string_view zsh_script = R"sh(#compdef curdwright
# Completion of curdwright in zsh, as `curdwright shell zsh` prints it.
_curdwright() {
  local -a lines words_on shown_on words_done shown_done
  local line word about program=${(Q)words[1]}
  program=${program/#\~/$HOME}
  lines=("${(@f)$("$program" shell offer -- "${(@Q)words[2,CURRENT-1]}" "${(Q)PREFIX}" 2>/dev/null)}")
  case $lines[1] in
    files | folders)
      [[ $PREFIX == --*=* ]] && compset -P 1 '*='
      if [[ $lines[1] == files ]]; then _files; else _files -/; fi
      return ;;
    words) ;;
    *) return 1 ;;
  esac
  local widest=0
  for line in "${(@)lines[2,-1]}"; do word=${line%%$'\t'*}; (( $#word > widest )) && widest=$#word; done
  for line in "${(@)lines[2,-1]}"; do
    word=${line%%$'\t'*} about=${line#*$'\t'}
    about="${(r:widest:)word}  $about"
    about=${about[1,COLUMNS-1]}
    # What goes on gets no blank behind it.
    if [[ $word == *[=/:,] ]]; then words_on+=("$word") shown_on+=("$about"); else words_done+=("$word") shown_done+=("$about"); fi
  done
  local lost=1
  (( $#words_done )) && compadd -l -d shown_done -a words_done && lost=0
  (( $#words_on )) && compadd -l -S '' -d shown_on -a words_on && lost=0
  return $lost
}
if [[ $funcstack[1] == _curdwright ]]; then _curdwright "$@"; else compdef _curdwright curdwright; fi
)sh";

constexpr std::string_view fish_script = R"sh(# Completion of curdwright in fish, as `curdwright shell fish` prints it.
function __curdwright_offer
    set -l typed (commandline -opc)
    set -l current (commandline -ct)
    set -l program (string replace -r '^~' $HOME -- $typed[1])
    set -e typed[1]
    set -l lines ($program shell offer -- $typed "$current" 2>/dev/null)
    set -l parts (string match -r '^(--[^=]*=)(.*)$' -- $current)
    set -l before "$parts[2]"
    set -l path $current
    test (count $parts) -gt 0; and set path "$parts[3]"
    switch "$lines[1]"
        case files
            printf '%s\n' $before(__fish_complete_path "$path")
        case folders
            printf '%s\n' $before(__fish_complete_directories "$path" '')
        case words
            set -e lines[1]
            printf '%s\n' $lines
    end
end
complete -c curdwright -f -a '(__curdwright_offer)'
)sh";

int offer(const Request& r) {
  const std::vector<std::string> typed(r.words.begin() + 1, r.words.end());
  if (typed.empty()) return finish(r, offers_text(offers({}, "")), done);
  return finish(r, offers_text(offers(std::span(typed).first(typed.size() - 1), typed.back())), done);
}

}  // namespace

int run_shell(const Request& r) {
  const std::string& what = r.words[0];
  if (what == "offer") return offer(r);
  constexpr std::array<std::string_view, 3> known = {"bash", "zsh", "fish"};
  constexpr std::array scripts = {bash_script, zsh_script, fish_script};
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (known[i] != what) continue;
    if (r.words.size() > 1) return report(r, {usage(fmt::format("shell {} takes no more words, but {} were given", what, r.words.size() - 1), "", fmt::format("write: curdwright shell {}", what))});
    return finish(r, scripts[i], done);
  }
  return report(r, {usage(fmt::format("there is no script for {}", text::quoted(text::cut(what, 40))), "", text::suggest(what, known))});
}

}  // namespace curdwright::program
