// SPDX-License-Identifier: MIT
// Many lines: each answered in its place, whatever stands on the others, in memory that does not grow, and stopped cleanly.
#include <catch2/catch.hpp>
#include <sstream>

#include "cli/run_program.hpp"

using namespace curdwright::test;

namespace {

/// A shell lets what it runs in the background ignore interrupts, hence `env --default-signal=INT` below.
/// Writes recipes of several sizes; every hundredth line is bad, in one of three ways.
const std::string writer =
    "awk 'BEGIN { split(\"chickpea-kabuli soybean pea-split-yellow lentil-red-split mung-whole\", id, \" \");\n"
    "  for (i = 1; i <= N; ++i) if (i % 300 == 0) print \"{bad\"; else if (i % 300 == 100) print \"{\\\"legume\\\":\\\"zebra\\\"}\";\n"
    "    else if (i % 300 == 200) print \"\"; else printf \"{\\\"title\\\":\\\"%d\\\",\\\"legume\\\":\\\"%s\\\",\\\"want\\\":{\\\"blocks\\\":%d}}\\n\", i, id[i % 5 + 1], i % 9 + 1 }'";

std::string lines_of(int n) {
  std::string script = writer;
  return script.replace(script.find("i <= N"), 6, "i <= " + std::to_string(n)) + " > in.jsonl; ";
}

}  // namespace

TEST_CASE("of twenty thousand lines with one in a hundred bad, each is answered in its place") {
  const Sandbox box;
  const Outcome o = box.run(lines_of(20000) + "curdwright each in.jsonl --figures curd_mass_g --threads 2 > out.jsonl; echo $?; wc -l < out.jsonl; grep -n problems/1 out.jsonl | cut -d: -f1 | awk '$1 % 100 != 0' | wc -l; "
                                           "grep -c problems/1 out.jsonl; awk 'NR % 100 != 0' out.jsonl | grep -o '\"title\":\"[0-9]*\"' | tr -dc '0-9\\n' > titles; awk 'NR % 100 != 0 { print NR }' out.jsonl | cmp - titles && echo in order",
                            {.seconds = 120});
  INFO(o.err);
  CHECK(o.out == "1\n20000\n0\n200\nin order\n");
}

TEST_CASE("memory does not grow with the lines") {
  const Sandbox box;
  // The limit of address space is what a hundred lines need, and a little.
  const Outcome o = box.run(lines_of(20000) + "ulimit -v 65536; curdwright each in.jsonl --figures curd_mass_g | wc -l", {.seconds = 120});
  INFO(o.err);
  CHECK(o.out == "20000\n");
}

TEST_CASE("an interrupt leaves whole lines in order, and says so by its status") {
  const Sandbox box;
  const Outcome o = box.run(lines_of(50000) + "env --default-signal=INT curdwright each in.jsonl > out.jsonl & sleep 0.7; kill -INT $!; wait $!; echo $?; tail -c1 out.jsonl | od -An -c; awk 'NR % 100 != 0' out.jsonl | grep -o '^{\"schema\":\"curdwright.sheet/1\",\"title\":\"[0-9]*\"' "
                                           "| sed 's/.*\"\\([0-9]*\\)\"$/\\1/' > titles; awk 'NR % 100 != 0 { print NR }' out.jsonl | cmp - titles && echo in order",
                            {.seconds = 60});
  INFO(o.out << o.err);
  CHECK(o.out == "130\n  \\n\nin order\n");
}

TEST_CASE("an interrupted variation prints what is done") {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  const Outcome o = box.run("env --default-signal=INT curdwright vary soy.json --over /soak/time=1h:90h:0.1h --over /cook/hold=20min:60min:1min --ranges full --figures yield --format csv > out.csv & sleep 1; kill -INT $!; wait $!; echo $?; head -1 out.csv; [ $(wc -l < out.csv) -gt 2 ] && [ $(wc -l < out.csv) -lt 36000 ] && echo part of it",
                            {.seconds = 60});
  INFO(o.out << o.err);
  CHECK(o.out == "130\n/soak/time,/cook/hold,yield_fraction,yield_fraction_low,yield_fraction_high,stops,problem\r\npart of it\n");
}
