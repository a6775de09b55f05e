# SPDX-License-Identifier: MIT
"""The mass chain of docs/model.md once more, for whole columns of recipes. Written from its equations, as a judge of the C++
plan: other quadrature, another root search, starch sizes worked out only where milk stands."""
import numpy as np

from hot import coagulate, cook, starch
from pressing import press
from properties import CALCIUM, FAT, FIBRE, MAGNESIUM, PARTS, PROTEIN, SALTS, SODIUM, STARCH, SUGARS, WATER, ZERO_C, mass, solids, volume
from wet import AT_COAGULATE, AT_COOK, AT_PRESS, extras, wet

STREAMS = ("seed", "soaked", "soak_water", "hulls", "spill", "free", "bound", "pulp", "milk", "sediment", "heel", "gel", "settled_milk",
           "steam", "film", "cooked", "mix", "set", "curd", "whey", "trim")
ZEROS = ("depth", "settled", "to_95", "heat_up", "used", "strength", "poured_at", "block_height", "curdled")


def stirred(j, stage, s):
    added, rows = extras(j, stage)
    return s + added if rows.size else s


def boil_and_set(j, milk, at, starches, asked, coagulable):
    q = starch(j, milk, at, starches)
    q.update(cook(j, stirred(j, AT_COOK, q["settled_milk"]), q["at"]))
    q.update(coagulate(j, stirred(j, AT_COAGULATE, q["cooked"]), asked, coagulable))
    q["fault"] = np.where(q["weak"], 3, np.where(q["curdled"] > 0, 0, 4))
    return q


def press_and_season(j, milk, curdled):
    q = press(j, milk, curdled)
    added, rows = extras(j, AT_PRESS)
    if rows.size:
        q["curd"] = q["curd"] + np.where(mass(q["curd"]) > 0, added, 0)
    return q


def scatter(p, rows, part):
    for name, value in part.items():
        if name in p:
            p[name][..., rows] = value


def narrowed(rows, starches, n):
    """The legumes' starch for some of the rows."""
    place = np.full(n, -1)
    place[rows] = np.arange(len(rows))
    return [(i, place[lot][place[lot] >= 0], kg[place[lot] >= 0]) for i, lot, kg in starches]


def chain(j):
    """All streams (twelve rows each), the fault, and what figures need besides."""
    n = len(j)
    p = wet(j)
    for name in STREAMS:
        p.setdefault(name, np.zeros((PARTS, n)))
    p.update({name: np.zeros(n) for name in ZEROS})
    rows = np.flatnonzero(p["fault"] == 0)
    few = j.take(rows)
    q = boil_and_set(few, p["milk"][:, rows], p["milk_at"][rows], narrowed(rows, p["starches"], n), p["dose"][rows], p["coagulable"][rows])
    p["poured_at"][:] = ZERO_C
    scatter(p, rows, q)
    sets = np.flatnonzero(q["curdled"] > 0)
    r = press_and_season(few.take(sets), q["set"][:, sets], q["curdled"][sets])
    scatter(p, rows[sets], r)
    first = p["fault"][rows[sets]]
    p["fault"][rows[sets]] = np.where(first > 0, first, r["press_fault"])
    return p


# ---- figures, in the units of their keys
def share(part, whole):
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(whole > 0, part / whole, 0)


def masses(j, p):
    f = {f"{key}_mass_g": 1e3 * mass(p[name]) for key, name in (("soaked", "soaked"), ("pulp", "pulp"), ("milk", "milk"), ("sediment", "sediment"),
         ("settled_milk", "settled_milk"), ("cooked_milk", "cooked"), ("whey", "whey"), ("curd", "curd"))}
    f["dry_mass_g"], f["milk_volume_ml"] = 1e3 * j["dry"], 1e6 * volume(p["milk"])
    curd, block = mass(p["curd"]), j["press.block"]
    f["blocks_count"] = curd / block
    f["whole_blocks_count"] = np.floor(f["blocks_count"] + 1e-3)
    f["block_mass_g"], f["end_piece_mass_g"] = 1e3 * block, 1e3 * np.maximum(0, curd - f["whole_blocks_count"] * block)
    f["yield_fraction"] = curd / j["dry"]
    f["stored_mass_g"], f["protein_mass_g"] = 1e3 * curd * (1 - j["theta.drip"]), 1e3 * p["curd"][PROTEIN]
    return f


def per_100g(p):
    c, kg = p["curd"], mass(p["curd"])
    carbohydrate = c[STARCH] + c[SUGARS] + c[FIBRE]
    f = {key: 100 * share(x, kg) for key, x in (("water_g", c[WATER]), ("protein_g", c[PROTEIN]), ("fat_g", c[FAT]), ("carbohydrate_g", carbohydrate),
         ("fibre_g", c[FIBRE]), ("starch_g", c[STARCH]), ("salts_g", c[SALTS]), ("energy_kcal", 3.47 * c[PROTEIN] + 8.37 * c[FAT] + 4.07 * carbohydrate))}
    f.update({key: 1e5 * share(c[row], kg) for key, row in (("calcium_mg", CALCIUM), ("magnesium_mg", MAGNESIUM), ("sodium_mg", SODIUM))})
    return f


def of_stages(j, p):
    milk, settled, pulp, curd = p["milk"], p["settled_milk"], p["pulp"], p["curd"]
    f = {"milk_protein_fraction": share(milk[PROTEIN], mass(milk)), "milk_solids_fraction": share(solids(milk), mass(milk)),
         "cooked_milk_protein_fraction": share(p["cooked"][PROTEIN], mass(p["cooked"])), "starch_left_fraction": share(settled[STARCH], mass(settled)),
         "pulp_moisture_fraction": share(pulp[WATER], mass(pulp)), "pulp_solids_fraction": share(solids(pulp), mass(pulp)),
         "evaporated_fraction": share(mass(p["steam"]), mass(settled)), "curd_solids_fraction": share(solids(curd), mass(curd)),
         "milk_brix_fraction": share(solids(settled) - settled[STARCH], mass(settled)) / j["theta.solids_per_brix"]}
    f["settled_fraction"], f["depth_mm"], f["block_height_mm"] = p["settled"], 1e3 * p["depth"], 1e3 * p["block_height"]
    f["coagulant_mass_g"], f["coagulant_mmol_per_l"] = 1e3 * p["used"], p["strength"]
    f["heat_up_s"], f["to_95_s"], f["after_pouring_c"] = p["heat_up"], p["to_95"], p["poured_at"] - ZERO_C
    return f


def figures(j, p):
    return {**masses(j, p), **per_100g(p), **of_stages(j, p)}
