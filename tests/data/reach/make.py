"""Writes budgets.f64: 10 000 random link budgets, worked out apart from the crate.

Usage: python3 make.py [COUNT] > budgets.f64      (numpy, scipy and pycraf; run with 2.4.6, 1.17.1, 2.1.0)

Nothing is shared with the crate but the definitions in its documentation: free-space and building entry loss are
held to pycraf, constants and the normal distribution come from scipy, indoor and man-made figures from the two
tables beside this file, and every inverse (fade margin, range) is found by a root finder, not by a formula.
Inputs come from a generator of their own (splitmix64) that the test repeats; they are whole numbers divided by a
power of ten, so that both sides start from the same bits.

Each record is six little-endian doubles: noise_dbm, loss_db, margin_db, outage at the drawn distance; sure_m,
maybe_m.
"""

import csv
import math
import pathlib
import struct
import sys

import astropy.units as u
from pycraf import conversions as cnv
from pycraf import pathprof
from scipy import constants, optimize, stats

HERE = pathlib.Path(__file__).parent
WORN = [0.0, 8.0, 10.0, 20.0]
CROWD = [0.0, 5.0, 12.0]
HEADS_M = 1.8
BUILDINGS = [None, pathprof.BuildingType.TRADITIONAL, pathprof.BuildingType.THERM_EFF]
# Place, by the number that the test draws: row of the indoor table, or what stands for it.
PLACES = ["open", "home", ("office", "LoS"), ("office", "NLoS"), ("corridor", "LoS"), ("corridor", "NLoS"),
          ("industrial", "LoS"), ("industrial", "NLoS")]
FLOORS = [None, (4, 4), (15, 4), (15, 4), (6, 3), (6, 3), (6, 3), (6, 3)]
SURROUNDINGS = ["city", "residential", "rural", "quiet rural"]
FARTHEST_M = 10_000.0


def table(name, *keys):
    lines = [line for line in (HERE / name).read_text().splitlines() if not line.startswith("#")]
    rows = {}
    for row in csv.DictReader(lines):
        key = tuple(row[k] for k in keys)
        rows[key if len(key) > 1 else key[0]] = row
    return rows


INDOOR = table("indoor-loss-p1238.csv", "environment", "path")
MAN_MADE = table("manmade-noise-p372.csv", "category")


class Splitmix:
    def __init__(self, seed):
        self.state = seed

    def below(self, end):
        mask = (1 << 64) - 1
        self.state = (self.state + 0x9E3779B97F4A7C15) & mask
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & mask
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
        return (z ^ (z >> 31)) % end


def draw(dice):
    """One setup; the order of the draws is the order of the test."""
    return dict(
        carrier_hz=100_000_000 + dice.below(2_300_000_001),
        bandwidth_hz=1_000 * (10 + dice.below(1_000)),
        power_mw=(1 + dice.below(1_000_000)) / 1_000,
        transmit_antenna_dbi=dice.below(4_001) / 100 - 30,
        transmit_height_m=(10 + dice.below(1_000)) / 100,
        worn=dice.below(4),
        place=dice.below(8),
        crowd=dice.below(3),
        floors=dice.below(4),
        wall=dice.below(3),
        extra_loss_db=dice.below(3_001) / 100,
        receive_antenna_dbi=dice.below(3_001) / 100 - 15,
        receive_height_m=(10 + dice.below(1_000)) / 100,
        antennas=1 + dice.below(4),
        noise=dice.below(6),
        level_dbm=dice.below(7_001) / 100 - 130,
        in_hz=1_000 * (1 + dice.below(1_000)),
        noise_figure_db=dice.below(1_501) / 100,
        needed_ratio_db=dice.below(4_001) / 100,
        availability_percent=(1_000 + dice.below(98_999)) / 1_000,
        metres=(10 + dice.below(100_000)) / 100,
    )


def db(ratio):
    return 10 * math.log10(ratio)


def noise_dbm(s):
    """Watts are added: what comes in through the antenna, and what the receiver adds."""
    k_t = constants.k * 290
    factor = 10 ** (s["noise_figure_db"] / 10)
    own = (factor - 1) * k_t * s["bandwidth_hz"]
    if s["noise"] == 0:
        outside = k_t * s["bandwidth_hz"]
    elif s["noise"] == 1:
        outside = 1e-3 * 10 ** (s["level_dbm"] / 10) / s["in_hz"] * s["bandwidth_hz"]
    else:
        row = MAN_MADE[SURROUNDINGS[s["noise"] - 2]]
        over = float(row["c"]) - float(row["d"]) * math.log10(s["carrier_hz"] / 1e6)
        outside = max(10 ** (over / 10), 1.0) * k_t * s["bandwidth_hz"]
    return db((own + outside) * 1e3)


def path_db(s, metres):
    kind = PLACES[s["place"]]
    carrier = s["carrier_hz"]
    if kind == "open":
        free = 20 * math.log10(4 * math.pi * metres * carrier / constants.c)
        ground = -20 * math.log10(s["transmit_height_m"] * s["receive_height_m"] / metres**2)
        return max(free, ground)
    if kind == "home":
        return 20 * math.log10(carrier / 1e6) + 28 * math.log10(metres) - 28
    row = INDOOR[kind]
    return (10 * float(row["alpha"]) * math.log10(metres) + float(row["beta"])
            + 10 * float(row["gamma"]) * math.log10(carrier / 1e9))


def spread_db(s):
    kind = PLACES[s["place"]]
    return {"open": 3.0, "home": 8.0}[kind] if isinstance(kind, str) else float(INDOOR[kind]["sigma_db"])


def entry_db(wall, carrier_hz):
    """The median of P.2109, level: three losses added as powers. The library's own inverse of the normal
    distribution is good to 1e-8 dB only, so the formula is written out and the library has to agree to that."""
    r, s, t, w, x = [(12.64, 3.72, 0.96, 9.1, -3.0), (28.19, -3.0, 8.48, 27.8, -2.9)][wall - 1]
    decades = math.log10(carrier_hz / 1e9)
    parts = [r + s * decades + t * decades**2, w + x * decades, -3.0]
    entry = db(sum(10 ** (part / 10) for part in parts))
    library = pathprof.building_entry_loss(
        carrier_hz * u.Hz, 0 * u.deg, 0.5 * cnv.dimless, BUILDINGS[wall]).to_value(cnv.dB).item()
    assert abs(library - entry) < 1e-7, (library, entry)
    return entry


def fixed_db(s):
    low, high = sorted([s["transmit_height_m"], s["receive_height_m"]])
    # The share of a straight line that lies under the heads, by cutting the heights.
    below = 1.0 if high <= HEADS_M else max(0.0, min(1.0, (HEADS_M - low) / (high - low))) if high > low else 0.0
    floors = 0.0
    if FLOORS[s["place"]] and s["floors"]:
        first, more = FLOORS[s["place"]]
        floors = first + more * (s["floors"] - 1)
    entry = 0.0 if s["wall"] == 0 else entry_db(s["wall"], s["carrier_hz"])
    return WORN[s["worn"]] + CROWD[s["crowd"]] * below + floors + entry + s["extra_loss_db"]


def outage(margin_db, antennas):
    return float(stats.expon.cdf(10 ** (-margin_db / 10))) ** antennas


def root(function, low, high):
    return optimize.brentq(function, low, high, xtol=1e-13, rtol=8.9e-16, maxiter=500)


def fade_margin_db(share, antennas):
    def excess(m):
        return antennas * math.log(-math.expm1(-(10 ** (-m / 10)))) - math.log(share)

    return root(excess, -25.0, 130.0)


def range_m(s, allowed_db):
    """The distance at which the loss by distance is what is allowed, found in its logarithm."""
    decades = root(lambda x: path_db(s, 10**x) - allowed_db, -60.0, 60.0)
    kind = PLACES[s["place"]]
    farthest = FARTHEST_M if isinstance(kind, str) else float(INDOOR[kind]["d_high_m"])
    return min(10**decades, farthest)


def record(s):
    noise, fixed = noise_dbm(s), fixed_db(s)
    sent = db(s["power_mw"]) + s["transmit_antenna_dbi"] + s["receive_antenna_dbi"] - fixed
    path = path_db(s, s["metres"])
    if PLACES[s["place"]] == "open":  # the library agrees, before the ground comes in
        free = -float(cnv.free_space_loss(s["metres"] * u.m, s["carrier_hz"] * u.Hz).to_value(cnv.dB))
        ground = -20 * math.log10(s["transmit_height_m"] * s["receive_height_m"] / s["metres"] ** 2)
        assert abs(max(free, ground) - path) < 1e-9, (free, ground, path)
    needed = noise + s["needed_ratio_db"]
    margin = sent - path - needed
    share = (100 - s["availability_percent"]) / 100
    fade, fade_nine = fade_margin_db(share, s["antennas"]), fade_margin_db(0.1, s["antennas"])
    place = float(stats.norm.ppf(0.9)) * spread_db(s)
    sure = range_m(s, sent - needed - fade - place)
    maybe = max(sure, range_m(s, sent - needed - fade_nine))
    return noise, path + fixed, margin, outage(margin, s["antennas"]), sure, maybe


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    dice = Splitmix(20_261_125)
    for _ in range(count):
        sys.stdout.buffer.write(struct.pack("<6d", *record(draw(dice))))


main()
