#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The README's test command: installs what is needed on Debian 12, builds with both compilers, runs everything.
set -euo pipefail
cd "$(dirname "$0")/.."
bash tests/install-build-tools.sh all
export RC_PARAMS="seed=20261124"

echo "== g++, release: library, program, tests"
cmake --preset release -DCURDWRIGHT_BUILD_TESTS=ON -DCURDWRIGHT_BUILD_EXAMPLES=ON
cmake --build --preset release
ctest --preset release

echo "== instructions of the main commands, against those recorded"
bash tests/performance/instructions.sh

echo "== clang++: the same sources without a warning, with both sanitizers; then the fuzz targets for a short while"
# Its warnings come before it optimises, so it need not.
cmake --preset fuzz-short
cmake --build --preset fuzz-short
bash tests/fuzz/short.sh

echo "== the sources, read for slips"
bash tests/static.sh

echo "== shells, manual and the guided start, on real terminals"
bash tests/shells/run.sh

echo "== schemas, food tables and calendars, by independent readers"
bash tests/npm/run.sh

echo "== the mass chain, by an own model in NumPy"
bash tests/peers/run.sh

echo "== each as a stage of GNU parallel and of a distributed engine"
bash tests/peers/pipes.sh

echo "== installed package, used from another project"
bash tests/consumer/run.sh

echo "== Debian packages, on a root of their own"
bash tests/package/deb.sh
