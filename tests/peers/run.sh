#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# 10,000 random recipes, planned by the library and by an own model in NumPy: every mass and figure has to agree to 1e-9.
# Then the check itself is checked: an input that is off by 1e-6 has to be noticed.
set -euo pipefail
cd "$(dirname "$0")/../.."
bash tests/install-build-tools.sh all
cmake --build build/release --target peer_jobs -- -j2 >/dev/null
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
# NumPy is Debian's, and so is the Python that finds it.
python=/usr/bin/python3
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 PYTHONDONTWRITEBYTECODE=1
build/release/tests/peer_jobs write "$here/jobs" 10000
$python tests/peers/compare.py "$here/jobs"
$python tests/peers/compare.py "$here/jobs" --break
