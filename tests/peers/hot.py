# SPDX-License-Identifier: MIT
"""Starch, cook and coagulate: from the strained milk to the set milk (docs/model.md, sections 5 to 7)."""
import math

import numpy as np

from integrals import arrhenius_ramp, fall_along
from properties import (CALCIUM, GRAVITY, MAGNESIUM, PARTS, PROTEIN, SALTS, STARCH, STRAY, WATER, ZERO_C, mass, mixed,
                        normal_share, pot_surface, heat_capacity, time_constant, volume)

SETTLE, GEL, BOTH, NONE = range(4)
BINS = 24
LOG_EDGES = np.linspace(math.log(3e-6), math.log(75e-6), BINS + 1)
SQUARES = np.exp(LOG_EDGES[:-1] + LOG_EDGES[1:])[:, None]       # diameter^2 in the middle of a bin, in the logarithm
SALT, ACID, LACTONE = range(3)
MOLAR = {"calcium": 40.078e-3, "magnesium": 24.305e-3, "water": 18.015e-3, "lactone": 178.140e-3}


# ---- 5. starch
def sizes(j, i):
    """Share of a legume's granules in each bin; the open tails belong to the first and the last."""
    at = lambda key: j[f"theta.granules.{key}.{i}"]
    below = normal_share((LOG_EDGES[1:-1, None] - np.log(at("median"))) / np.log(at("spread")))
    shares = np.empty((BINS, len(j)))
    shares[0], shares[-1] = below[0], 1 - below[-1]
    shares[1:-1] = below[1:] - below[:-1]
    return shares * (1 - at("never_settles"))


def granules(j, rows, milk, starches):
    """kg in each bin of the milk of `rows`: every legume's starch is ground alike, so all keep the sizes of the mix."""
    place = np.full(len(j), -1)
    place[rows] = np.arange(len(rows))
    kg, total = np.zeros((BINS, len(rows))), np.zeros(len(rows))
    for i, lot, starch in starches:
        mine = place[lot] >= 0
        to = place[lot[mine]]
        kg[:, to] += sizes(j.take(lot[mine]), i) * starch[mine]
        total[to] += starch[mine]
    with np.errstate(divide="ignore", invalid="ignore"):
        return kg * np.where(total > 0, (milk[STARCH] - milk[STRAY]) / total, 0)


def settling_distance(j, milk, at, tau, floating):
    """Distance fallen over diameter squared, 1/m."""
    litres = volume(milk)
    density = j["theta.granule_density"]
    phi = np.minimum(0.6, milk[STARCH] * (1 + j["theta.granule_water"]) / density / litres)
    p = np.minimum(0.4, j["theta.protein_voluminosity"] * 1e-3 * milk[PROTEIN] / litres)
    slow = (1 - phi) ** j["theta.hindered_exponent"] / (1 + p * (2.5 + 6.2 * p))
    return slow * GRAVITY / 18 * fall_along(at, j["starch.surroundings"], tau, j["starch.time"], density)


def settle_once(j, milk, at, floating):
    """One standing and ladling: milk, its temperature and granules, bed, heel, depth, starch in the bed that can settle."""
    packed, heel = j["theta.bed_fraction"], j["theta.heel"]
    per_m3 = packed * j["theta.granule_density"] / (1 + j["theta.granule_water"])
    around, litres = j["starch.surroundings"], volume(milk)
    tau = time_constant(milk / j["starch.vessels"], at, j["theta.vessel_coefficient"])
    told = j["starch.depth"]
    depth = np.where(np.isnan(told), litres / (j["starch.vessel"] * j["starch.vessels"]), told)
    clear = depth * (1 - heel - np.minimum(0.5, floating.sum(axis=0) / per_m3 / litres))
    fallen = settling_distance(j, milk, at, tau, floating)
    down = floating * np.minimum(1, fallen / clear * SQUARES)
    starch = down.sum(axis=0)
    bed = np.zeros_like(milk)
    bed[STARCH] = starch
    bed[WATER] = np.minimum(starch * j["theta.granule_water"], 0.5 * milk[WATER])
    rest = milk - bed
    between = np.minimum(0.9, starch / per_m3 * (1 - packed) / volume(rest))
    floating = floating - down
    bed += rest * between
    rest *= 1 - between
    cold = around + (at - around) * np.exp(-j["starch.time"] / tau)
    in_bed = starch + floating.sum(axis=0) * between
    return rest * (1 - heel), cold, floating * ((1 - between) * (1 - heel)), bed, rest * heel, depth, in_bed


def settle(j, q, starches):
    rows = np.flatnonzero((j["starch.remove"] == SETTLE) | (j["starch.remove"] == BOTH))
    if not rows.size:
        return
    few, milk, at = j.take(rows), q["milk"][:, rows], q["at"][rows]
    floating = granules(j, rows, milk, starches)
    before, times = milk[STARCH].copy(), few["starch.times"]
    in_bed = np.zeros(len(rows))
    for k in range(int(times.max())):
        now = np.flatnonzero(times > k)
        milk_k, at_k, floating_k, bed, heel, depth, settled = settle_once(few.take(now), milk[:, now], at[now], floating[:, now])
        milk[:, now], at[now], floating[:, now] = milk_k, at_k, floating_k
        in_bed[now] += settled
        q["sediment"][:, rows[now]] += bed
        q["heel"][:, rows[now]] += heel
        if k == 0:
            q["depth"][rows] = depth
    q["milk"][:, rows], q["at"][rows] = milk, at
    with np.errstate(divide="ignore", invalid="ignore"):
        q["settled"][rows] = np.where(before > 0, in_bed / before, 0)


def strain_gel(j, q):
    rows = np.flatnonzero((j["starch.remove"] == GEL) | (j["starch.remove"] == BOTH))
    if not rows.size:
        return
    few, milk = j.take(rows), q["milk"][:, rows]
    gel = np.zeros_like(milk)
    for part in (STARCH, STRAY):
        gel[part] = few["theta.gel_removed"] * milk[part]
    milk -= gel
    share = np.minimum(0.6, few["theta.gel_holds"] * gel[STARCH] / mass(milk))
    q["gel"][:, rows] = gel + milk * share
    q["milk"][:, rows] = milk * (1 - share)


def starch(j, milk, at, starches):
    n = len(j)
    q = {name: np.zeros((PARTS, n)) for name in ("sediment", "heel", "gel")}
    q.update(milk=milk.copy(), at=at.copy(), depth=np.zeros(n), settled=np.zeros(n))
    settle(j, q, starches)
    strain_gel(j, q)
    q["settled_milk"] = q.pop("milk")
    return q


# ---- 6. cook
def heating(j, milk, at, q):
    """Time to the boil and to 95 degC; whether the ring is too weak."""
    boil, room = j["cook.boil"], j["cook.room"]
    pot = milk / j["cook.pots"]
    lost = j["theta.pot_loss"] * pot_surface(mass(pot))
    tau = heat_capacity(pot, 0.5 * (at + boil)) / lost
    end = room + j["cook.hob"] * j["theta.efficiency"] / lost
    weak = end < boil + 0.5
    start = np.minimum(at, boil)
    told = j["cook.heat_up"]
    gentle, level = np.clip(ZERO_C + 65, start, boil), ZERO_C + 95
    slow = tau * j["theta.gentle_heating"]
    with np.errstate(invalid="ignore", divide="ignore"):
        time_to = lambda t: tau * np.log((end - start) / (end - np.minimum(t, gentle))) + \
            np.where(t > gentle, slow * np.log((end - gentle) / (end - np.maximum(t, gentle))), 0)
        own, own_95 = time_to(boil), time_to(np.full_like(boil, level))
        up = np.where(np.isnan(told), np.where(weak, 3 * tau, own), told)
        ramp_95 = told * (level - start) / (boil - start)
        weak_95 = tau * np.log((end - start) / (end - level))
    ends_at = np.where(weak, end + (start - end) * np.exp(-up / tau), boil)
    to_95 = np.where(weak, weak_95, np.where(np.isnan(told), own_95, ramp_95))
    q["to_95"] = np.where((start >= level) | (ends_at < level), 0, np.where(ends_at == level, up, to_95))
    q["heat_up"], q["weak"] = up, weak


def cook(j, milk, at):
    q = {}
    heating(j, milk, at, q)
    q["film"] = milk * j["theta.film"]
    rest = milk - q["film"]
    told = j["cook.evaporated"]
    own = -np.expm1(np.log1p(-j["theta.evaporated_per_10_min"]) * j["cook.hold"] / 600)
    q["steam"] = np.zeros_like(milk)
    q["steam"][WATER] = np.minimum(np.where(np.isnan(told), own, told) * mass(rest), 0.9 * rest[WATER])
    q["cooked"] = rest - q["steam"]
    return q


# ---- 7. coagulate
def dose(j, milk, asked, q):
    """Coagulant as weighed, what of it acts, and how strong that makes the milk."""
    kind, label = j["coagulate.kind"], j["coagulate.active_mol_kg"]
    m3, told, used = volume(milk), j["coagulate.dose"], j["coagulate.used"]
    rule = np.where(kind == SALT, asked, j["theta.dose"])
    held = np.clip(rule * milk[PROTEIN], j["coagulate.window_low"] * m3, j["coagulate.window_high"] * m3)
    mol = np.where(kind == SALT, held, rule * milk[PROTEIN])
    mol = np.where(np.isnan(told), mol, told * milk[PROTEIN])
    q["used"] = np.where(np.isnan(used), mol / label, used)
    q["active"] = q["used"] * label * j["theta.strength"]
    q["strength"] = q["active"] / m3
    q["rule"] = rule * milk[PROTEIN]


def hydrolysed(j):
    """Share of the lactone that is acid at the end of the wait: mixed at 15 degC, heated in 30 min, held."""
    reference, energy, at = ZERO_C + 25, j["theta.gdl_activation_energy"], j["coagulate.at"]
    ramp = arrhenius_ramp(np.full_like(at, ZERO_C + 15), at, 1800.0, energy, reference)
    hold = arrhenius_ramp(at, at, j["coagulate.wait"], energy, reference)
    return -np.expm1(-j["theta.gdl_rate"] * (ramp + hold))


def mix(j, q):
    m = np.zeros((PARTS, len(j)))
    m[SALTS] = q["used"] * j["coagulate.solute_kg_kg"]
    m[WATER] = q["used"] * (1 - j["coagulate.solute_kg_kg"] + j["coagulate.mix_water_kg_kg"])
    m[CALCIUM] = np.where(j["coagulate.ion"] == 1, q["active"] * MOLAR["calcium"], 0)
    m[MAGNESIUM] = np.where(j["coagulate.ion"] == 2, q["active"] * MOLAR["magnesium"], 0)
    return m


def coagulate(j, milk, asked, coagulable):
    q = {}
    dose(j, milk, asked, q)
    kind, at = j["coagulate.kind"], j["coagulate.at"]
    q["mix"] = mix(j, q)
    q["set"] = milk + q["mix"]
    q["poured_at"] = np.where(kind == LACTONE, at, mixed(milk, at, q["mix"], j["coagulate.mix_at"]))
    acid = np.ones(len(j))
    rows = np.flatnonzero(kind == LACTONE)
    if rows.size:
        acid[rows] = hydrolysed(j.take(rows))
        bound = acid[rows] * q["mix"][SALTS, rows] * (MOLAR["water"] / MOLAR["lactone"])
        q["set"][WATER, rows] -= bound
        q["set"][SALTS, rows] += bound
    with np.errstate(divide="ignore", invalid="ignore"):
        x = np.where(q["rule"] > 0, q["active"] * acid / q["rule"], 0)
    c = q["strength"]
    salt = np.clip(np.minimum((c - 3) / 5, (210 - c) / 160), 0, 1)
    extent = np.where(kind == SALT, salt, np.clip((x - 0.3) / 0.4, 0, 1))
    q["curdled"] = milk[PROTEIN] * coagulable * extent
    return q
