#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Plants faults in the formulas, one at a time, and shows that the tests see them: bash tests/mutation/run.sh [--count N] [--seed N]
# [--survivors] [--show]. Takes about an hour. What was found so far stays in build/mutation, and a run that was ended goes on from there.
set -euo pipefail
cd "$(dirname "$0")/../.."
if [ "${1:-}" != --show ]; then
  # Whatever is out of date is built first: no fault is tried on stale objects.
  cmake --preset release -DCURDWRIGHT_BUILD_TESTS=ON >/dev/null
  cmake --build --preset release --target curdwright_program test_unit test_published test_rules test_oracles test_laws test_golden
fi
exec python3 tests/mutation/try.py "$@"
