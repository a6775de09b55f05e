# SPDX-License-Identifier: MIT
"""Soak, blend, strain: from the dry seed to the strained milk (docs/model.md, sections 1 to 4)."""
import numpy as np

from integrals import arrhenius_along
from properties import (ASH, CALCIUM, FAT, FIBRE, MAGNESIUM, PARTS, PROTEIN, SALTS, SODIUM, STARCH, STRAY, SUGARS, WATER,
                        ZERO_C, mass, mixed, plain_water, solids, time_constant)

PART_NAMES = ("water", "protein", "starch", "sugars", "fat", "fibre", "ash", "salts", "calcium", "magnesium", "sodium")
AT_SOAK, AT_BLEND, AT_COOK, AT_COAGULATE, AT_PRESS = 0, 1, 4, 5, 6


def extras(j, stage):
    """What is stirred in at a stage; nothing at all where no recipe has extras."""
    rows = np.flatnonzero(j["extra_count"] > 0)
    added = np.zeros((PARTS, len(j)))
    if not rows.size:
        return added, rows
    seasoned = j.take(rows)
    for i in range(8):
        here = np.flatnonzero((seasoned["extra_count"] > i) & (seasoned[f"extra.{i}.stage"] == stage))
        few, to = seasoned.take(here), rows[here]
        kg = few[f"extra.{i}.fixed"] + few[f"extra.{i}.to_dry"] * few["dry"]
        for k, name in enumerate(PART_NAMES):
            added[k, to] += kg * few[f"extra.{i}.{name}"]
    added[STRAY] = added[STARCH]
    return added, rows


# ---- 1. seed
def seed(j, i):
    at = lambda key: j[f"theta.composition.{key}.{i}"]
    s = np.zeros((PARTS, len(j)))
    s[WATER], s[PROTEIN], s[FAT], s[ASH] = at("water"), at("protein"), at("fat"), at("ash")
    carbohydrate = np.maximum(0, 1 - s[:8].sum(axis=0))
    s[FIBRE] = np.minimum(at("fibre"), carbohydrate)
    s[SUGARS] = np.minimum(at("sugars"), carbohydrate - s[FIBRE])
    s[STARCH] = np.minimum(at("starch"), carbohydrate - s[FIBRE] - s[SUGARS])
    unnamed = carbohydrate - s[FIBRE] - s[SUGARS] - s[STARCH]
    f = np.where(j[f"seed.{i}.oily"] > 0, j["theta.unassigned_fibre_oily"], j["theta.unassigned_fibre_pulse"])
    s[FIBRE] += f * unnamed
    s[SUGARS] += (1 - f) * unnamed
    s /= mass(s)
    s[CALCIUM], s[MAGNESIUM], s[SODIUM] = at("calcium"), at("magnesium"), j[f"seed.{i}.sodium"]
    return s * (j["dry"] * j[f"seed.{i}.share"])


# ---- 2. soak
def shed(s, kg, shares):
    """Solids that leave, by their shares, never more than there is; minerals leave with the ash."""
    out = np.zeros_like(s)
    for part, share in shares:
        out[part] = np.minimum(s[part], kg * share)
    out[CALCIUM:STRAY] = s[CALCIUM:STRAY] * (out[ASH] / np.where(s[ASH] > 0, s[ASH], 1))
    return out


class Vessel:
    """Temperature of the soak: stretches between changes of water, each a relaxation."""

    def __init__(self, j, seeds):
        water = plain_water(mass(seeds) * j["soak.water_to_dry"])
        first = mixed(seeds, j["soak.seed_at"], water, j["soak.water_at"])
        told = j["soak.time_constant"]
        self.tau = np.where(np.isnan(told), time_constant(seeds + water, first, j["theta.vessel_coefficient"]), told)
        self.around, self.length = j["soak.surroundings"], j["soak.time"] / (j["soak.changes"] + 1)
        self.stretches, self.hottest, self.end = [], first.copy(), first.copy()
        rows, start = np.arange(len(j)), first
        while rows.size:
            around = self.around[rows]
            end = around + (start - around) * np.exp(-self.length[rows] / self.tau[rows])
            self.stretches.append((rows, start))
            self.end[rows] = end
            self.hottest[rows] = np.maximum(self.hottest[rows], np.maximum(start, end))
            more = np.flatnonzero(j["soak.changes"][rows] >= len(self.stretches))
            rows, start = rows[more], mixed(seeds[:, rows[more]], end[more], water[:, rows[more]], j["soak.water_at"][rows[more]])

    def integral(self, which, low, high, kink):
        """Arrhenius time at 20 degC of the rows `which`, s."""
        total = np.zeros(len(which))
        place = np.full(len(self.tau), -1)
        place[which] = np.arange(len(which))
        for rows, start in self.stretches:
            mine = place[rows] >= 0
            r, to = rows[mine], place[rows[mine]]
            total[to] += arrhenius_along(start[mine], self.around[r], self.tau[r], self.length[r], low[to], high[to],
                                         ZERO_C + kink, ZERO_C + 20)
        return total


def loss_of_solids(vessel, n):
    """Hours at 20 degC over 12, and the end, as multiples of the loss in 12 h."""
    every = np.arange(n)
    hours = vessel.integral(every, np.full(n, 59.5), np.full(n, 22.6), 61) / 3600
    warmth = np.maximum(0, (vessel.hottest - ZERO_C - 20) / 80)
    return np.minimum(hours / 12, 2.3 / 2.03 + (10.2 - 2.3) / 2.03 * warmth)


def soak_lot(j, i, s, rows, vessel, lost):
    """One legume: soaked seed, its soak water, its skins, kg taken up."""
    at = lambda key: j[f"theta.{key}.{i}"]
    dry, matter, poured = mass(s), solids(s), mass(s) * j["soak.water_to_dry"]
    drunk = vessel.integral(rows, at("soak.activation_energy"), at("soak.activation_energy_hot"), 60) / at("soak.k1")
    gain = drunk / (1 + at("soak.k2") * drunk)
    leached = shed(s, at("soak.solids_lost") * lost[rows] * matter, ((PROTEIN, 0.20), (SUGARS, 0.62), (ASH, 0.18)))
    soaked = s - leached
    wanted = np.maximum(0, (s[WATER] / matter + gain) * solids(soaked) - s[WATER]) + at("soak.clinging_water") * dry
    uptake = np.minimum(wanted, poured)
    soaked[WATER] += uptake
    leached[WATER] += poured * (1 + j["soak.changes"]) - uptake
    kg = np.where(j["soak.skins_off"] > 0, at("soak.hull") * j["theta.hull_removed"] * solids(soaked), 0.0)
    skins = shed(soaked, kg, ((FIBRE, 0.85), (PROTEIN, 0.06), (ASH, 0.03), (SUGARS, 0.06)))
    skins[WATER] = soaked[WATER] / solids(soaked) * solids(skins)
    return soaked - skins, leached, skins, uptake


def soak(j, p):
    n = len(j)
    lots = [(i, np.flatnonzero(j["legume_count"] > i)) for i in range(4)]
    lots = [(i, rows, j.take(rows)) for i, rows in lots if rows.size]
    seeds = [seed(few, i) for i, rows, few in lots]
    for name in ("seed", "soaked", "soak_water", "hulls"):
        p[name] = np.zeros((PARTS, n))
    for (i, rows, few), s in zip(lots, seeds):
        p["seed"][:, rows] += s
    vessel = Vessel(j, p["seed"])
    lost = loss_of_solids(vessel, n)
    dissolved, seasoned = extras(j, AT_SOAK)
    poured = j["dry"] * (j["soak.water_to_dry"] * (1 + j["soak.changes"]))
    left, p["uptake"], out = np.ones(n), np.zeros(n), []
    for (i, rows, few), s in zip(lots, seeds):
        soaked, water, skins, uptake = soak_lot(few, i, s, rows, vessel, lost)
        taken = np.zeros_like(soaked)
        if seasoned.size:
            share = np.minimum(left[rows], uptake / poured[rows])
            taken = dissolved[:, rows] * share
            taken[STRAY] = 0                        # starch out of the soak water is ground like the seed's own
            left[rows] -= share
        soaked = soaked + taken
        for name, part in (("soaked", soaked), ("soak_water", water), ("hulls", skins)):
            p[name][:, rows] += part
        p["uptake"][rows] += uptake
        out.append((i, rows, few, soaked, taken))
    p["soak_water"] += dissolved * left
    p["soak_start"], p["soak_end"] = vessel.stretches[0][1], vessel.end
    return out


# ---- 3. blend
def course(t, full):
    return -np.expm1(-3 * t / full) / -np.expm1(-3)


def free_whatever(few, s, taken):
    """What dissolves at once: water, sugars, ash, some fibre, salts, and all that came out of the soak water."""
    out = np.zeros_like(s)
    out[WATER], out[SALTS] = s[WATER], s[SALTS]
    for part, key in ((SUGARS, "sugars"), (ASH, "ash"), (FIBRE, "fibre")):
        out[part] = s[part] * few[f"theta.release_{key}"]
    for part, key in ((CALCIUM, "calcium"), (MAGNESIUM, "magnesium"), (SODIUM, "ash")):
        out[part] = taken[part] + (s[part] - taken[part]) * few[f"theta.release_{key}"]
    return out


def grinding_water(j, p):
    basis, w = j["blend.basis"], j["blend.water"]
    kg = np.select([basis == 0, basis == 1, basis == 2], [w * j["dry"] - p["uptake"], w * mass(p["soaked"]), w * j["dry"]], w)
    return np.maximum(0, kg), kg < 0


def most(bound, can, extent):
    """Some of each component stays bound."""
    for k in (PROTEIN, FAT, STARCH):
        with np.errstate(divide="ignore", invalid="ignore"):
            extent = np.where(can[k] > 0, np.minimum(extent, 0.999 * bound[k] / can[k]), extent)
    return extent


def blend(j, p, lots):
    n = len(j)
    bound, free, can = np.zeros((PARTS, n)), np.zeros((PARTS, n)), np.zeros((PARTS, n))
    sets, asks = np.zeros(n), np.zeros(n)
    p["starches"] = []                              # rows and kg that a full blend sets free, by legume
    for i, rows, few, s, taken in lots:
        fine = few["theta.protein_factor"]
        protein = s[PROTEIN] * few[f"theta.release.protein.{i}"] * fine
        starch = s[STARCH] * few["theta.starch_release"]
        can[PROTEIN, rows] += protein
        can[FAT, rows] += s[FAT] * few[f"theta.release.fat.{i}"] * fine
        can[STARCH, rows] += starch
        sets[rows] += protein * few[f"theta.curd.coagulable.{i}"]
        asks[rows] += protein * few[f"theta.curd.dose.{i}"]
        at_once = free_whatever(few, s, taken)
        bound[:, rows] += s - at_once
        free[:, rows] += at_once
        p["starches"].append((i, rows, starch))
    water, p["too_dry"] = grinding_water(j, p)
    p["coagulable"], p["dose"] = sets / can[PROTEIN], asks / can[PROTEIN]
    at = mixed(p["soaked"], p["soak_end"], plain_water(water), j["blend.water_at"])
    free[WATER] += water
    step = can * most(bound, can, course(j["blend.time"], j["blend.full_time"]))
    bound -= step
    free += step
    spill = j["theta.spill"]
    p["grinding_water"], p["spill"] = water, (free + bound) * spill
    return free * (1 - spill), bound * (1 - spill), can * (1 - spill), at


# ---- 4. strain and wash
def wash(j, k, state):
    """One wash of the rows of j. State: free, bound, releasable, their temperature, milk, its temperature, time blended."""
    free, bound, can, at, milk, milk_at, blended = state
    water = plain_water(j[f"wash.{k}.water_to_dry"] * j["dry"])
    at = mixed(free + bound, at, water, j["strain.wash_at"])
    free = free + water
    longer, full = j[f"wash.{k}.blend"], j["blend.full_time"]
    more = course(blended + longer, full) - course(blended, full)
    step = can * np.where(longer > 0, most(bound, can, more), 0)
    free, bound = free + step, bound - step
    held = np.minimum(j["theta.held_liquor"] * solids(bound), 0.98 * free[WATER]) / free[WATER]
    off = free * (1 - held)
    return [free * held, bound, can, at, milk + off, mixed(milk, milk_at, off, at), blended + longer]


def strain(j, p, ground):
    free, bound, can, at = ground
    held = j["theta.held_liquor"] * solids(bound) / free[WATER]
    p["keeps_all"] = held >= 0.98
    state = [free * held, bound.copy(), can, at.copy(), free * (1 - held), at.copy(), j["blend.time"].copy()]
    for k in range(4):
        rows = np.flatnonzero((j["strain.wash_count"] > k) & ~p["keeps_all"])
        if not rows.size:
            break
        for whole, part in zip(state, wash(j.take(rows), k, [x[..., rows] for x in state])):
            whole[..., rows] = part
    p["pulp"], p["milk"], p["milk_at"] = state[0] + state[1], state[4], state[5]
    p["pulp"] = np.where(p["keeps_all"], free + bound, p["pulp"])
    p["milk"] = np.where(p["keeps_all"], 0, p["milk"])


def wet(j):
    p = {}
    lots = soak(j, p)
    free, bound, can, at = blend(j, p, lots)
    added, seasoned = extras(j, AT_BLEND)
    if seasoned.size:
        free = free + added
    p["free"], p["bound"] = free, bound
    strain(j, p, (free, bound, can, at))
    p["fault"] = np.where(p["too_dry"], 1, np.where(p["keeps_all"], 2, 0))
    for name in ("spill", "free", "bound", "pulp", "milk"):
        p[name] = np.where(p["too_dry"], 0, p[name])
    return p
