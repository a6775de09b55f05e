// SPDX-License-Identifier: MIT
#include "program/topic_pages.hpp"

#include <fmt/format.h>

#include "curdwright/diary.hpp"

namespace curdwright::program::pages {

const std::string_view amounts = R"(An amount is a number and a unit in one text: "450 g", "1 lb 4 oz",
"1 1/2 h", "80 degC". A bare number where a unit is due is a fault that says what to write; only a share may be bare.

Numbers use a decimal point, never a comma. Fractions and exponents are read. Terms add up for masses and times only.
Upper and lower case are the same where that leaves one meaning.

A word with two meanings is resolved by the place it stands in (m is minutes for a time, metres for a length), or refused
with both spellings offered: a cup is a us cup or a metric cup, a fluid ounce a us fl oz or an imp fl oz.

  $ echo '{"legume":"soybean"}' | curdwright check - --set "/soak/time=1 1/2 h"
  $ echo '{"legume":"soybean"}' | curdwright sheet - --dry "1 lb 4 oz"
)";

const std::string_view recipe = R"(A recipe is a JSON object. Only legume must be given, and what is wanted, unless an option tells it. Every other
place has a default that fits the legume and the kitchen, and is named on the sheet. Unknown and repeated keys are faults.

  {
    "legume": "chickpea-kabuli",
    "want": { "blocks": 4 },
    "soak": { "where": "fridge", "time": "16 h" },
    "coagulate": { "with": "calcium-sulfate-dihydrate" }
  }

A mix is a list, with a share for each or for none:

  "legume": [ { "id": "pea-split-yellow", "share": 0.7 },
              { "id": "faba-split", "share": 0.3 } ]

Start from one that is ready, and let an editor check it by its schema:

  $ curdwright new recipe --legume pea-split-yellow --blocks 4
  $ curdwright schema recipe
)";

const std::string_view kitchen = R"(A kitchen is a JSON object: blender, pots, hob, scales, moulds, fridge, altitude, whose food rules, prices. Every
place may be left out; the built-in kitchen fills it. It is found by --kitchen or CURDWRIGHT_KITCHEN, never by search.

  {
    "name": "small canteen",
    "blender": { "class": "high-speed", "jar": "2 l" },
    "pots": [ { "name": "stockpot", "volume": "12 l", "tare": "1.8 kg" } ],
    "strainer": "hand-twist"
  }

The built-in kitchen, and one to change:

  $ curdwright show kitchen
  $ curdwright new kitchen
)";

const std::string_view settings = R"(A place of the recipe is named by a JSON Pointer (RFC 6901): the keys on the way to it, each with a slash before it.
/soak/time is the time of the soak. Places of the kitchen stand under /kitchen. In a list, 0 is the first entry, and - adds
one. See `curdwright help recipe` and `curdwright help kitchen` for all of them.

# To set a value

--set replaces what the file tells, and what the default would be. It may be repeated.

  $ echo '{"legume":"soybean"}' | curdwright check - --set /soak/time=12h --set /kitchen/altitude=900m
  $ echo '{"legume":"soybean"}' | curdwright check - --set /strain/washes/-/water_to_dry=1

# To vary one

--over of `vary` takes from:to:step, from:to:xN (each N times the last, up to the end), or a,b,c.

  $ echo '{"legume":"soybean"}' | curdwright vary - --dry 1kg --over /cook/hold=15min:25min:5min --plot off

# To have one chosen

--let of `best` takes low:high, or a,b,c.

  $ echo '{"legume":"soybean"}' | curdwright best - --dry 1kg --most curd_mass_g --let /press/time=20min:60min
)";

const std::string_view diary_words = R"(A batch in hand is told by words: WORD=VALUE. They go behind --measured of `sheet`, and behind `diary add ID`. What is
weighed may be a sum of weighings, each less its vessel: soaked=1552g-412g, or soaked=1552g-bowl where the kitchen tells the
bowl's tare. What was set otherwise than planned replaces the plan; what is weighed changes the estimates.

In the diary, WORD=withdrawn takes a reading back, note="..." keeps a remark, and WHAT=LOOK tells what looks wrong; see
`curdwright help trouble`.

  $ echo '{"legume":"soybean"}' | curdwright sheet - --dry 1kg --measured soaked=2400g-212g
)";

const std::string_view exit_status = R"(= 0 | done; cautions may have been printed
= 1 | no batch: out of reach, a refused seed or salt, or a rule that stops it
= 2 | bad command line, recipe, kitchen, diary or data
= 3 | a file could not be read or written
= 70 | a fault of the program; please report it
= 130 | interrupted

`check` of several recipes returns the worst of them. A bad line of `each` is answered in its place, and makes the status 1.

  $ echo '{"legume":"soybean"}' | curdwright check -
)";

const std::string_view environment = R"(= CURDWRIGHT_KITCHEN | kitchen file when --kitchen is not given
= CURDWRIGHT_DIARY | the diary when --diary is not given
= XDG_DATA_HOME, HOME | where the diary is when nothing names it: curdwright/diary.jsonl in the data folder
= NO_COLOR | not empty: no colour
= CLICOLOR_FORCE | not empty and not 0: colour even when not on a terminal; NO_COLOR beats it
= TERM | dumb or unset: no colour
= COLUMNS | width of the terminal, when there is one
= TZDIR | folder of the time zone tables, /usr/share/zoneinfo when unset; read only when a zone is named

--color beats all that is said of colour. Nothing else in the environment touches the output: the same input gives the same bytes.

  $ NO_COLOR=1 curdwright list presses
)";

const std::string_view formats = R"(--format tells the form of the output; without it, text for people. Not every command has every form; see
`curdwright help COMMAND`.

= text | for people, as wide as the terminal
= json | for programs: one document, with a "schema" that names its kind and version. Keys end in their unit: _g, _ml, _c, _s, _kpa, _mm, _fraction, _count, _number. What is not known is left out
= csv | a table: the mass balance of a sheet, figures, rankings, the diary
= html | a page for a browser, or to print
= markdown | a page to publish; tables of schemas and of help
= jsonld | recipe markup (schema.org)
= ics | the day of a sheet as a calendar (RFC 5545); needs --start or --ready-by
= svg | pictures of a variation
= man | of `help`: a page of the manual

The same input gives the same bytes. --output writes a file whole or not at all, and replaces one only with --force.

  $ echo '{"legume":"soybean"}' | curdwright sheet - --dry 1kg --format json
  $ curdwright schema sheet
)";

const std::string_view safety = R"(Local food codes and licensed practice come first. A sheet is an estimate, not a validated process.

Cautions come from a table of rules, each with its source. STOP ends the batch: the status is 1 and no amounts are printed.
CARE stands before the action that it is about. Some come with the food and stand on every sheet; those that another choice would
avoid are what `curdwright check` prints. Note is to be known. In JSON they are stop, warn and note. What only the cook can know is a
line to tick. What cannot be reckoned counts as not met.

The chief dangers, and where the rules stand: raw legumes hold poisons that heat takes away (hold a full simmer, and for kidney, navy, pinto and black beans a full rolling boil, for lima beans a hard boil with the lid off, for the time told,
and taste nothing before); warm soaks and warm curd grow what harms (soak in the fridge, chill within the limits, eat in time);
some seeds and salts are never planned.

  $ curdwright list rules
  $ curdwright list legumes --refused

`curdwright check` prints the cautions of a recipe that could be avoided, and nothing else: none for a recipe of defaults.

  $ echo '{"legume":"kidney-red"}' | curdwright check -
)";

std::string scales() {
  std::string rows;
  for (const TasteScale& s : all_scales()) rows += fmt::format("= {} | 1 {}, 5 {}\n", s.word, s.one, s.five);
  return rows;
}

}  // namespace curdwright::program::pages
