# SPDX-License-Identifier: MIT
"""Drain and press: curd and whey (docs/model.md, section 8)."""
import math

import numpy as np

from properties import CALCIUM, FAT, FIBRE, GRAVITY, MAGNESIUM, PROTEIN, SODIUM, STARCH, STRAY, WATER, curd_density, mass, solids

EARLY = 0.08            # below it the early form of the series
STEPS = 60
NEAR = 1e-14


def consolidated(t):
    """Share still to be consolidated, 1 - U, and its slope, after Terzaghi."""
    early = t < EARLY
    root = np.sqrt(np.where(early, t, 0))
    with np.errstate(divide="ignore"):
        left, slope = 1 - root * (2 / math.sqrt(math.pi)), -1 / (root * math.sqrt(math.pi))
    late = np.flatnonzero(~early)
    if late.size:
        q = np.exp(-math.pi ** 2 / 4 * t[late])
        q8 = ((q * q) ** 2) ** 2
        q16 = q8 * q8
        q25 = q16 * q8 * q
        q49 = q25 * q16 * q8
        powers = [q, q8 * q, q25, q49, q49 * q16 * q16]       # (2k + 1)^2 = 1, 9, 25, 49, 81; the next is below 1e-10 at 0.08
        left[late] = sum(8 / (math.pi * (2 * k + 1)) ** 2 * x for k, x in enumerate(powers))
        slope[late] = -2 * sum(powers)
    return left, slope


class Pressing:
    """Moisture that a block ends with when it was reckoned to end at M, less M; and its slope."""

    def __init__(self, j, insoluble, c, drained, limit, density):
        self.c1, self.drained, self.limit = 1 + c, drained, limit
        self.wet, self.dry = drained / (1 - drained), limit / (1 - limit)
        floor = j["press.mould_length"] * j["press.mould_width"]
        self.height = j["press.block"] / (1 - drained * self.c1) / density / floor
        self.flow, self.late = j["theta.consolidation"] * j["press.time"], j["theta.creep_share"]
        self.delay = j["theta.creep_delay"]

    def off(self, m, rows):
        thin = 1 - m * self.c1[rows]
        t = self.flow[rows] / (0.5 * self.height[rows] * thin) ** 2
        share, slope = consolidated(t)
        late, delay = self.late[rows], self.delay[rows]
        creep = late * np.exp(-t / delay)
        left, by_t = (1 - late) * share + creep, (1 - late) * slope - creep / delay
        span = self.wet[rows] - self.dry[rows]
        w = self.dry[rows] + span * left
        by_m = span * by_t * (2 * self.c1[rows] * t / thin) / (1 + w) ** 2
        return w / (1 + w) - m, by_m - 1


def moisture_reached(p):
    """Newton's steps inside a bracket that closes."""
    every = np.arange(len(p.drained))
    at_limit, _ = p.off(p.limit, every)
    at_drained, _ = p.off(p.drained, every)
    done_low, done_high = at_limit <= 0, at_drained >= 0
    m = np.where(done_low, p.limit, p.drained)
    rows = np.flatnonzero(~done_low & ~done_high)
    low, high = p.limit.copy(), p.drained.copy()
    m[rows] = 0.5 * (low[rows] + high[rows])
    for _ in range(STEPS):
        if not rows.size:
            break
        here = m[rows]
        f, slope = p.off(here, rows)
        low[rows], high[rows] = np.where(f > 0, here, low[rows]), np.where(f > 0, high[rows], here)
        step = here - f / slope
        inside = (step >= low[rows]) & (step <= high[rows])
        m[rows] = np.where(inside, step, 0.5 * (low[rows] + high[rows]))
        rows = rows[(np.abs(m[rows] - here) > NEAR) & (f != 0)]
    return m


def split(milk, curdled, fat_captured):
    """The insoluble part, and all else: liquid with what it dissolves."""
    insoluble = np.zeros_like(milk)
    insoluble[PROTEIN], insoluble[FAT] = curdled, milk[FAT] * fat_captured
    insoluble[STARCH], insoluble[FIBRE] = milk[STARCH], milk[FIBRE]
    liquid = milk - insoluble
    liquid[CALCIUM:] = 0
    return insoluble, liquid


def with_water(insoluble, liquid, kg):
    return insoluble + liquid * np.minimum(1, kg / liquid[WATER])


def end_moisture(j, insoluble, liquid, c, drained, limit):
    """Moisture at the end; a wanted one is taken as reached."""
    told = j["press.moisture"]
    m = np.where(np.isnan(told), drained, told)
    rows = np.flatnonzero(np.isnan(told) & (limit < drained))
    if rows.size:
        s, l = insoluble[:, rows], liquid[:, rows]
        kg = mass(s) / (1 - drained[rows] * (1 + c[rows]))
        density = curd_density(with_water(s, l, drained[rows] * kg))
        m[rows] = moisture_reached(Pressing(j.take(rows), s, c[rows], drained[rows], limit[rows], density))
    return m


def keep_minerals(j, milk, curd):
    share = curd[WATER] / milk[WATER]
    curd[CALCIUM] = milk[CALCIUM] * np.maximum(share, j["theta.calcium_retained"])
    curd[MAGNESIUM] = milk[MAGNESIUM] * np.maximum(share, j["theta.magnesium_retained"])
    curd[SODIUM] = milk[SODIUM] * share


def press(j, milk, curdled):
    insoluble, liquid = split(milk, curdled, j["theta.fat_captured"])
    c = solids(liquid) / liquid[WATER]
    drained = np.minimum(np.minimum(j["theta.drained_moisture"], liquid[WATER] / mass(milk)), 0.98 / (1 + c))
    kpa = np.clip(j["press.pressure"] * 1e-3, 0.1, 50)
    limit = j["theta.press_intercept"] - j["theta.press_slope"] * np.log10(kpa)
    m = end_moisture(j, insoluble, liquid, c, drained, limit)
    told = j["press.moisture"]
    end = np.where(np.isnan(told), np.minimum(limit, drained), told)
    out_of_reach = (1 - end * (1 + c) <= 0) | (1 - drained * (1 + c) <= 0)
    kg = mass(insoluble) / (1 - m * (1 + c))
    whole = with_water(insoluble, liquid, m * kg)
    keep_minerals(j, milk, whole)
    whole[:, out_of_reach] = 0
    q = {"whey": milk - whole, "trim": whole * j["theta.curd_cling"], "curd": whole * (1 - j["theta.curd_cling"])}
    too_wet = told > drained + 1e-12
    q["press_fault"] = np.where(too_wet, 5, np.where(out_of_reach, 6, 0))
    with np.errstate(divide="ignore", invalid="ignore"):
        height = j["press.block"] / curd_density(q["curd"]) / (j["press.mould_length"] * j["press.mould_width"])
    q["block_height"] = np.where(out_of_reach, 0, height)
    return q
