#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Completions in real shells, and every page of the manual through man, groff and mandoc without a warning.
set -euo pipefail
cd "$(dirname "$0")/../.."
program=$PWD/build/release/curdwright
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
for shell in bash zsh; do "$program" shell "$shell" > "$here/script" && "$shell" -n "$here/script"; done
"$program" shell fish > "$here/script" && fish --no-execute "$here/script"
python3 tests/shells/shells.py "$program" "$PWD"
python3 tests/shells/dialogue.py "$program"

pages=0
for topic in "" $("$program" shell offer -- help "" | tail -n +2 | cut -f 1); do
  page=$here/curdwright${topic:+-$topic}.roff
  "$program" help $topic --format man > "$page"
  said=$(
    LC_ALL=C.UTF-8 man -l --warnings -E UTF-8 "$page" 2>&1 >/dev/null
    groff -ww -k -man -Tutf8 "$page" 2>&1 >/dev/null
    # Only what is shown beyond the page's edge for the sake of one line in the source is let through.
    mandoc -T lint "$page" | grep -v -e 'STYLE: input text line longer than 80 bytes' -e 'STYLE: referenced manual not found' || true
  )
  [ -z "$said" ] || { echo "$said"; exit 1; }
  # What a page says of its name is what an index of the manual finds.
  LC_ALL=C.UTF-8 lexgrog "$page" | grep -q "curdwright${topic:+-$topic} - " || { echo "no name in the page of ${topic:-curdwright}"; exit 1; }
  pages=$((pages + 1))
done
echo "manual: $pages pages without a warning"
