#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Which lines and branches the tests run through: bash tests/coverage.sh [--show]. Fails below 95 % of the lines or 85 % of the branches, or where what is left
# out is not told in tests/coverage/left_out.txt. Library and program are built anew to count; the test programs are those of the release, linked over the counting library.
# Some 20 minutes of one core, of which 10 build. Counters are plain: threads that count at once may lose a few, so that gcov now and then tells a negative number,
# which is passed over. Some tests of `cli` fail under counting: programs that write counts touch more files than they name, and who may not write cannot count.
# Branches of exceptions (nearly every call may throw) and those that the compiler never reaches are not counted.
set -euo pipefail
cd "$(dirname "$0")/.."
build=build/coverage
if [ "${1:-}" != --show ]; then
  cmake --preset release -DCURDWRIGHT_BUILD_TESTS=ON >/dev/null
  cmake --build --preset release --target test_unit test_published test_laws test_rules test_oracles test_golden test_cli
  cmake --preset coverage >/dev/null
  cmake --build --preset coverage --target curdwright curdwright_front curdwright_program
  find $build -name '*.gcda' -delete
  python3 tests/coverage/count.py build/release $build
fi
gcovr --root . --object-directory $build --gcov-ignore-parse-errors --exclude-throw-branches --exclude-unreachable-branches --filter 'src/' --filter 'include/' --json $build/coverage.json $build/src
python3 tests/coverage/show.py $build/coverage.json
