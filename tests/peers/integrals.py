# SPDX-License-Identifier: MIT
"""Integrals along a vessel that relaxes to its surroundings: T = Ta + (T0 - Ta) u, u = exp(-t/tau).

With u in the place of time, dt = -tau du/u, and

    integral r(T) dt = r(Ta) t + tau integral (r(T) - r(Ta))/u du

whose last integrand is smooth down to u = 0, so that one Gauss-Legendre rule converges like a power of its order however long
the vessel stands."""
import functools

import numpy as np

from properties import GAS, water_density, water_viscosity

ORDER = 12


@functools.lru_cache
def rule(order):
    x, w = np.polynomial.legendre.leggauss(order)
    return x[:, None], w


def span(t0, t1, tau):
    """Nodes of u between two times, and half the width."""
    u0, u1 = np.exp(-t0 / tau), np.exp(-t1 / tau)
    x, w = rule(ORDER)
    half = 0.5 * (u0 - u1)
    return 0.5 * (u0 + u1) + half * x, w, half


def arrhenius_span(start, around, tau, t0, t1, energy, reference):
    """Integral of exp(-E/R (1/T - 1/reference)) between two times; the form is carried on beyond its kink where Ta lies there."""
    u, w, half = span(t0, t1, tau)
    e = energy / GAS
    drop = (start - around) * u
    grown = np.exp(e / around * drop / (around + drop))
    grown -= 1
    grown /= u
    return np.exp(-e * (1 / around - 1 / reference)) * (t1 - t0 + tau * half * (w @ grown))


def arrhenius_along(start, around, tau, time, low, high, kink, reference):
    """The same over the whole time, with another energy above the kink."""
    stop = around + (start - around) * np.exp(-time / tau)
    hot_first, hot_last = start > kink, stop > kink
    nothing = np.zeros_like(time)
    crosses = hot_first != hot_last
    with np.errstate(divide="ignore", invalid="ignore"):
        cross = np.where(crosses, tau * np.log((start - around) / (kink - around)), 0.0)
    cold_from = np.where(hot_first, np.where(crosses, cross, time), nothing)
    cold_to = np.where(~hot_first & crosses, cross, time)
    total = arrhenius_span(start, around, tau, cold_from, cold_to, low, reference)
    hot = np.flatnonzero(hot_first | hot_last)
    if hot.size:
        s, a, k, lo, hi = start[hot], around[hot], tau[hot], low[hot], high[hot]
        hot_from = np.where(hot_first[hot], 0.0, cross[hot])
        hot_to = np.where(hot_last[hot], time[hot], cross[hot])
        joint = np.exp(-lo / GAS * (1 / kink - 1 / reference))
        total[hot] += joint * arrhenius_span(s, a, k, hot_from, hot_to, hi, kink)
    return total


def arrhenius_ramp(start, end, time, energy, reference):
    """Along a straight line of temperature."""
    x, w = rule(ORDER)
    t = 0.5 * (start + end) + 0.5 * (end - start) * x
    return 0.5 * time * (w @ np.exp(-energy / GAS * (1 / t - 1 / reference)))


def fall_along(start, around, tau, time, density):
    """Integral of (density of granules - of water) / viscosity of water."""
    u, w, half = span(np.zeros_like(time), time, tau)
    t = around + (start - around) * u
    last = (density - water_density(around)) / water_viscosity(around)
    grown = (density - water_density(t)) / water_viscosity(t) - last
    return last * time + tau * half * (w @ (grown / u))
