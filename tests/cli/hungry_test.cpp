// SPDX-License-Identifier: MIT
// The worst inputs that the limits let through: within 256 MiB and without end of work. The limit of address space holds for all
// that the program takes, so it is stricter than what is resident. The limit of processor time is there to end a loop, and is far
// from what is needed: it says nothing of speed.
#include <catch2/catch.hpp>

#include "cli/run_program.hpp"

using namespace curdwright::test;

namespace {

/// Runs a script in which `limited` stands for the program within its limits.
Outcome run(const Sandbox& box, const std::string& script) {
  return box.run("limited() { ( ulimit -v 262144; ulimit -t 60; exec curdwright \"$@\" ); }\n"
                 R"(many() { seq "$1" | sed "s|.*|$(printf %s "$2" | sed 's/[&\\|]/\\&/g; s/#/\&/g')|" | paste -sd, - | tr -d '\n'; })" "\n"
                 "filled() { { cat; head -c 1048576 /dev/zero | tr '\\0' ' '; } | head -c 1048576; }\n" +
                     script,
                 {.seconds = 300});
}

struct Worst {
  std::string what, make, command;
  int status;
  std::string says = "";  ///< why it is refused
};

void check(const std::vector<Worst>& all) {
  for (const Worst& w : all) {
    const Sandbox box;
    box.give("tests/cli/files/soy.json", ".");
    INFO(w.what);
    const Outcome o = run(box, w.make + "\nlimited " + w.command);
    INFO(o.err.substr(0, 400));
    CHECK_FALSE(o.too_slow);
    CHECK(o.status == w.status);
    CHECK(o.err.size() < 200'000);
    // Each is refused for its own reason, or not at all.
    CHECK((w.status == 0) == w.says.empty());
    CHECK(o.err.find(w.says) != std::string::npos);
  }
}

const std::string faults = "o=\"{$(many 1024 '\"k#\":0')}\"; p=\"$o,$o,$o,$o\"; ";

}  // namespace

TEST_CASE("the largest files, the deepest and the widest") {
  check({
      {"a mebibyte of blanks", "filled < soy.json > a.json", "sheet a.json", 0},
      {"as many values as may be", "{ echo '['; many 49998 '\"a short value\"'; echo ']'; } > a.json", "sheet a.json", 2, "the file holds a list"},
      {"as many lists as may be", "{ printf '{\"legume\":%030d' 0 | tr 0 '['; many 49900 '[]'; printf '%030d}' 0 | tr 0 ']'; } > a.json", "sheet a.json", 2, "is a list"},
      {"as deep as may be", "{ printf '{\"legume\":%031d' 0 | tr 0 '['; printf '%031d}' 0 | tr 0 ']'; } > a.json", "sheet a.json", 2, "is a list"},
      {"a title of a mebibyte, escaped", "{ printf '{\"title\":\"'; many 174000 '\\u00e9' | tr -d ,; printf '\",\"legume\":\"soybean\"}'; } > a.json", "sheet a.json", 2, "174000 characters"},
      {"a key of a mebibyte", "printf '{\"%01000000d\":1,\"legume\":\"soybean\"}' 0 > a.json", "sheet a.json", 2, "is not known here"},
      {"as many keys as may be, in as many objects", faults + "{ printf '['; many 40 \"$o\"; printf ']'; } > a.json", "sheet a.json", 2, "the file holds a list"},
  });
}

TEST_CASE("as many figures of as many runs as are held") {
  const std::string figures = R"(A=$(curdwright list figures --format json | grep -o '"key": "[a-z_0-9]*"' | cut -d'"' -f4 | head -24 | paste -sd, -))";
  check({
      {"on a page", figures, "vary soy.json --over /soak/time=8h:24h:3min --over /press/time=20min:57min:1min --figures $A --ranges off --format html -o page.html", 0},
      {"in JSON, with ranges", figures, "vary soy.json --over /soak/time=8h:24h:6min --over /press/time=20min:57min:1min --figures $A --format json -o answer.json", 0},
  });
}

TEST_CASE("as many faults as fit into a file are found without end of work") {
  const std::string everywhere = "echo \"{\\\"legume\\\":[$p],\\\"extras\\\":[$p,$p],\\\"want\\\":$o,\\\"soak\\\":$o,\\\"blend\\\":$o,\\\"strain\\\":$o,\\\"starch\\\":$o,\\\"cook\\\":$o,\\\"press\\\":$o,\\\"store\\\":$o}\"";
  const std::string numbers = "{ printf '{\"learned\":{\"data\":\"x\",\"model\":\"x\",\"batches\":1,\"readings\":1,\"names\":['; many 250 '\"n#\"'; printf '],\"offsets\":['; many 250 99; printf '],\"covariance\":['; many 31375 99; echo ']}}'; }";
  check({
      {"at the end of one line", faults + "{ head -c 700000 /dev/zero | tr '\\0' ' '; " + everywhere + "; } > a.json", "sheet a.json", 2, " more\n"},
      {"behind many lines, as JSON", faults + "{ yes '' | head -n 700000; " + everywhere + "; } > a.json", "sheet a.json --format json", 2, "key-unknown"},
      {"of a kitchen's numbers", "{ head -c 900000 /dev/zero | tr '\\0' ' '; " + numbers + "; } > k.json", "sheet soy.json --kitchen k.json", 2, " more\n"},
      {"of a kitchen's pots", faults + "{ head -c 700000 /dev/zero | tr '\\0' ' '; echo \"{\\\"pots\\\":[$p,$p,$p,$p]}\"; } > k.json", "sheet soy.json --kitchen k.json", 2, " more\n"},
  });
}

TEST_CASE("settings, readings and prices without number") {
  const auto times = [](int n, const std::string& option) { return "$(yes -- '" + option + "' | head -n " + std::to_string(n) + ")"; };
  check({
      {"as many settings as are read", "", "sheet soy.json " + times(1000, "--set /soak/time=12h"), 0},
      {"one more", "", "sheet soy.json " + times(1001, "--set /soak/time=12h"), 2, "1001 settings"},
      {"as many that are wrong", "", "sheet soy.json " + times(1000, "--set /soak/tme=12h"), 2, "tme"},
      {"a pointer of 100 kB", "p=$(printf '/%0100000d' 1)", "sheet soy.json --set $p=1", 2, "it is longer than 256 bytes"},
      {"a value of 100 kB", "p=$(printf '/title=%0100000d' 1)", "sheet soy.json --set $p", 2, "/title"},
      {"one word told ten thousand times", "", "sheet soy.json " + times(10000, "--measured soaked=1kg"), 2, "is told twice"},
      {"a sum of ten thousand weighings", "p=$(many 10000 1g | tr , +)", "sheet soy.json --measured soaked=$p", 0},
      {"a thousand recipes", "", "check " + times(1000, "soy.json"), 0},
  });
}

TEST_CASE("the largest batch with the smallest gear, in every form") {
  for (const std::string form : {"text", "json", "html", "markdown", "csv", "ics --start '2027-03-05 18:00'"})
    check({{form, "echo '{\"legume\":\"soybean\",\"block\":{\"mass\":\"5 g\"},\"want\":{\"dry\":\"10000 kg\"}}' > a.json; echo '{\"blender\":{\"jar\":\"0.3 l\"},\"pots\":[{\"volume\":\"1 l\"}]}' > k.json",
            "sheet a.json --kitchen k.json --format " + form, 0}});
}
