# SPDX-License-Identifier: MIT
"""Plans a second by the library and by NumPy, in turns on one core, over the same jobs and thetas.

    bench.py JOBS DRIVER [ROUNDS]      the driver is `peer_jobs time COUNT`, which makes a pass for every line it is sent

Seconds are those of the processor, since others may work on the machine. Only what both do is timed: the mass chain, not figures, not the making of jobs."""
import statistics
import subprocess
import sys
import time

import numpy as np

from chain import chain
from table import block, read

BLOCKS = (125, 250, 500, 1000, 2000, 5000, 10000)


class Library:
    def __init__(self, driver, count):
        self.run = subprocess.Popen([driver, "time", str(count)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def a_pass(self):
        self.run.stdin.write("\n")
        self.run.stdin.flush()
        seconds, curd = self.run.stdout.readline().split()
        return float(seconds), float(curd)

    def close(self):
        self.run.stdin.close()
        self.run.wait()


def blocks_of(columns, names, size):
    return [block(columns, names, i, min(i + size, len(columns))) for i in range(0, len(columns), size)]


def numpy_pass(blocks):
    start, curd = time.process_time(), 0.0
    with np.errstate(all="ignore"):
        for j in blocks:
            curd += chain(j)["curd"][:8].sum()
    return time.process_time() - start, curd


def best_block(columns, names):
    took = {}
    for size in [s for s in BLOCKS if s <= len(columns)]:
        blocks = blocks_of(columns, names, size)
        took[size] = min(numpy_pass(blocks)[0] for _ in range(3))
    print("NumPy, plans a second by rows in a block: " + ", ".join(f"{s}: {len(columns) / t:,.0f}" for s, t in took.items()))
    return min(took, key=took.get)


def alone(columns, names, count=50):
    """One recipe at a time, as a search for a batch's size has to work: milliseconds a plan."""
    took = [numpy_pass([block(columns, names, k, k + 1)])[0] for k in range(min(count, len(columns)))]
    print(f"NumPy, one recipe at a time: {1e3 * statistics.median(took):.1f} ms a plan")


def line(name, rates):
    print(f"{name}: {statistics.median(rates):,.0f} plans a second (median of {len(rates)} rounds, {min(rates):,.0f} to {max(rates):,.0f})")


def main():
    rounds = int(sys.argv[3]) if len(sys.argv) > 3 else 15
    columns, names = read(sys.argv[1])
    n = len(columns)
    size = best_block(columns, names)
    blocks, library = blocks_of(columns, names, size), Library(sys.argv[2], n)
    ours, theirs, ratios = [], [], []
    for _ in range(rounds):
        (a, curd_a), (b, curd_b) = library.a_pass(), numpy_pass(blocks)
        assert abs(curd_a - curd_b) < 1e-8 * curd_a, "the two plans differ"
        ours.append(n / a), theirs.append(n / b), ratios.append(b / a)
    library.close()
    alone(columns, names)
    line("C++ plan, one at a time", ours)
    line(f"NumPy, {size} rows at a time", theirs)
    print(f"the library is {statistics.median(ratios):.2f} times as fast (median of the rounds' ratios, {min(ratios):.2f} to {max(ratios):.2f}; "
          f"its fastest round beside NumPy's fastest {max(ours) / max(theirs):.2f})")


if __name__ == "__main__":
    main()
