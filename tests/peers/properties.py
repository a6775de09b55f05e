# SPDX-License-Identifier: MIT
"""Properties of water and of food, for whole columns of recipes (docs/model.md, section 12).

A stream is one array of twelve rows: eight components and three minerals in kg, and the starch of extras, which is part of
the starch above and never settles."""
import math

import numpy as np

WATER, PROTEIN, STARCH, SUGARS, FAT, FIBRE, ASH, SALTS = range(8)
CALCIUM, MAGNESIUM, SODIUM, STRAY = range(8, 12)
PARTS = 12
ZERO_C = 273.15
GRAVITY = 9.80665
GAS = 8.314463e-3

# Choi and Okos 1986: a + b t + c t^2. Starch and sugars are carbohydrate, salts are ash.
CARBOHYDRATE_HEAT, ASH_HEAT = (1.5488, 1.9625e-3, -5.9399e-6), (1.0926, 1.8896e-3, -3.6817e-6)
HEAT = 1e3 * np.array([(4.1762, -9.0864e-5, 5.4731e-6), (2.0082, 1.2089e-3, -1.3129e-6), CARBOHYDRATE_HEAT, CARBOHYDRATE_HEAT,
                       (1.9842, 1.4733e-3, -4.8008e-6), (1.8459, 1.8306e-3, -4.6509e-6), ASH_HEAT, ASH_HEAT]).T.copy()
CARBOHYDRATE_DENSITY, ASH_DENSITY = (1599.1, -0.31046, 0), (2423.8, -0.28063, 0)
DENSITY = np.array([(997.18, 3.1439e-3, -3.7574e-3), (1329.9, -0.51840, 0), CARBOHYDRATE_DENSITY, CARBOHYDRATE_DENSITY,
                    (925.59, -0.41757, 0), (1311.5, -0.36589, 0), ASH_DENSITY, ASH_DENSITY])


def water_density(kelvin):
    """Kell 1975, kg/m3."""
    t = kelvin - ZERO_C
    top = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t))))
    return top / (1 + 16.879850e-3 * t)


def water_viscosity(kelvin):
    """IAPWS 2008, short form, Pa s."""
    log_t = np.log(kelvin / 300)
    terms = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
    return 1e-6 * sum(a * np.exp(b * log_t) for a, b in terms)


SOLID_VOLUME = 1 / (DENSITY @ np.array([1, 20, 400]))        # m3/kg at 20 degC, water by Choi and Okos
LIQUID_VOLUME = SOLID_VOLUME.copy()
LIQUID_VOLUME[WATER] = 1 / water_density(ZERO_C + 20)        # water by Kell


def mass(s):
    return s[:8].sum(axis=0)


def solids(s):
    return s[1:8].sum(axis=0)


def heat_capacity(s, kelvin):
    """J/K of the whole stream."""
    a, b, c = HEAT @ s[:8]
    t = kelvin - ZERO_C
    return a + t * (b + t * c)


def volume(s):
    """m3 at 20 degC."""
    return LIQUID_VOLUME @ s[:8]


def curd_density(s):
    return mass(s) / (SOLID_VOLUME @ s[:8])


def mixed(a, at_a, b, at_b):
    """Temperature of two streams stirred together."""
    ca, cb = heat_capacity(a, at_a), heat_capacity(b, at_b)
    return (ca * at_a + cb * at_b) / (ca + cb)


def plain_water(kg):
    s = np.zeros((PARTS, len(kg)))
    s[WATER] = kg
    return s


def pot_surface(kg):
    return 0.2 * np.cbrt((kg / 10) ** 2)


def time_constant(s, kelvin, coefficient):
    return heat_capacity(s, kelvin) / (coefficient * pot_surface(mass(s)))


# ---- share of a normal distribution below x; NumPy has no error function
def _tail_shape(s):
    """exp(x^2/2) Q(x) with x = 3 (1 + s)/(1 - s)."""
    x = 3 * (1 + s) / (1 - s)
    return np.array([math.exp(v * v / 2) * 0.5 * math.erfc(v / math.sqrt(2)) for v in x])


_FARTHEST = 9.0                                             # the tail beyond is 1e-19
_TAIL = np.polynomial.Chebyshev.interpolate(_tail_shape, 26, domain=[-1, (_FARTHEST - 3) / (_FARTHEST + 3)]) \
    .convert(kind=np.polynomial.Polynomial, domain=[-1, 1]).coef


def normal_share(x):
    a = np.minimum(np.abs(x), _FARTHEST)
    s = (a - 3) / (a + 3)
    shape = np.full_like(s, _TAIL[-1])
    for c in _TAIL[-2::-1]:
        shape *= s
        shape += c
    tail = np.exp(-0.5 * a * a) * shape
    return np.where(x < 0, tail, 1 - tail)
