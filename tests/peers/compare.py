# SPDX-License-Identifier: MIT
"""Holds the C++ plans against the chain in NumPy.

    compare.py FILE            every mass and figure agrees, and the quadrature has converged; else 1
    compare.py FILE --break    one input of the chain after another is off by 1e-6, and every time it must be noticed; else 1"""
import math
import sys

import numpy as np

import integrals
from chain import STREAMS, chain, figures
from properties import GAS, mass
from table import Columns, block, read
from wet import PART_NAMES

TOLERANCE = 1e-10       # relative; what is found is some 1e-13
FLOOR = 1e-12           # of the batch's mass, of a share of one, of a second, of a degree
CONVERGED = 1e-10       # between two orders of the quadrature here
ROWS = 1000             # at a time
# Inputs that --break moves: at least one of every stage, of every integral and of every root.
BROKEN = ("theta.composition.protein.0", "theta.soak.k1.0", "theta.soak.activation_energy.0", "theta.soak.activation_energy_hot.0", "soak.surroundings",
          "theta.soak.solids_lost.0", "theta.soak.hull.0", "theta.vessel_coefficient", "blend.time", "theta.starch_release", "theta.held_liquor",
          "wash.0.water_to_dry", "wash.1.blend", "theta.granules.median.1", "theta.granules.spread.0", "theta.hindered_exponent", "theta.protein_voluminosity",
          "theta.heel", "theta.gel_holds", "theta.pot_loss", "theta.gentle_heating", "theta.film", "theta.evaporated_per_10_min", "theta.curd.coagulable.0",
          "theta.gdl_activation_energy", "coagulate.mix_water_kg_kg", "theta.press_slope", "theta.consolidation", "theta.creep_delay", "press.mould_length",
          "theta.calcium_retained", "extra.0.protein", "extra.1.to_dry")


def batch_mass(j, p):
    """kg that go in, about: the yardstick of what is next to nothing."""
    return mass(p["seed"]) + mass(p["soaked"]) + mass(p["soak_water"]) + mass(p["free"]) + mass(p["milk"])


def worked(j):
    """All results by the names of the file, with the floor of each."""
    with np.errstate(all="ignore"):
        p = chain(j)
        told = figures(j, p)
    scale = FLOOR * batch_mass(j, p)
    out = {"plan.fault": (p["fault"], scale * 0)}
    for name in STREAMS:
        for k, part in enumerate(PART_NAMES):
            out[f"plan.{name}.{part}"] = (p[name][k], scale)
    for key, value in told.items():
        floor = 1e3 * scale if key.endswith(("_mass_g", "_ml")) else FLOOR * (1e3 if key.endswith("_s") else 1e2)
        out[f"figure.{key}"] = (value, floor + np.zeros(len(j)))
    # A difference of two masses can be as wrong as they are.
    out["figure.end_piece_mass_g"] = (told["end_piece_mass_g"], TOLERANCE * told["curd_mass_g"])
    return out


def errors(got, want, floor):
    """Relative error where it is above the floor; what is no number on one side only is as wrong as can be."""
    apart = np.abs(got - want)
    size = np.maximum(np.abs(got), np.abs(want))
    with np.errstate(divide="ignore", invalid="ignore"):
        relative = np.where(apart <= floor, 0, apart / size)
    return np.where(np.isfinite(got) & np.isfinite(want), relative, np.inf)


def held_against(columns, names, got=None):
    """Per result: the largest error over what is allowed, the row where, the error, both values, how many rows are beyond it."""
    got = got or results(columns, names)
    table = []
    for name, (value, floor) in got.items():
        e = errors(value, columns[name], floor)
        row = int(np.argmax(e))
        table.append((float(e[row] / TOLERANCE), name, row, float(e[row]), float(value[row]), float(columns[name][row]), int(np.sum(e > TOLERANCE))))
    return sorted(table, reverse=True)


def results(columns, names):
    parts = [worked(block(columns, names, i, min(i + ROWS, len(columns)))) for i in range(0, len(columns), ROWS)]
    return {name: tuple(np.concatenate([part[name][k] for part in parts]) for k in (0, 1)) for name in parts[0]}


def told(table):
    for over, name, row, error, value, want, many in [t for t in table if t[0] > 1][:20]:
        print(f"  recipe {row}: {name}: C++ {want:.15g}, NumPy {value:.15g}, off by {error:.2e}; {many} recipes")


def unconverged(got, columns, names):
    """Largest change of any result when the order of the quadrature is half as high again."""
    kept, integrals.ORDER = integrals.ORDER, integrals.ORDER * 3 // 2
    finer = results(columns, names)
    integrals.ORDER = kept
    return max(float(np.max(errors(value, finer[name][0], floor))) for name, (value, floor) in got.items())


def judge(columns, names):
    got = results(columns, names)
    missing = [n for n in names if n.startswith(("plan.", "figure.")) and n not in got]
    table = held_against(columns, names, got)
    change = unconverged(got, columns, names)
    faults = np.bincount(columns["plan.fault"].astype(int), minlength=7)
    print(f"{len(columns)} recipes, {len(table)} results of each; without fault {faults[0]}, by kind of fault {faults[1:].tolist()}")
    print("largest difference {:.1e} ({}); a quadrature of half as many nodes again moves nothing by more than {:.0e}".format(table[0][3], table[0][1], max(change, FLOOR)))
    bad = table[0][0] > 1 or change > CONVERGED or bool(missing)
    if bad:
        print("NumPy and C++ disagree:" if not missing else f"not worked out: {missing}")
        told(table)
    return 1 if bad else 0


def broken(columns, names):
    unseen = []
    for name in BROKEN:
        off = {n: columns[n] for n in names}
        off[name] = off[name] * (1 + 1e-6)
        if held_against(Columns(off, None, len(columns)), names)[0][0] <= 1:
            unseen.append(name)
    print(f"{len(BROKEN)} inputs moved by 1e-6, one by one: {len(BROKEN) - len(unseen)} noticed", *unseen)
    return 1 if unseen else 0


def main():
    columns, names = read(sys.argv[1])
    if "--break" in sys.argv[2:]:
        few = block(columns, names, 0, min(ROWS, len(columns)))
        return broken(few, names)
    return judge(columns, names)


if __name__ == "__main__":
    sys.exit(main())
