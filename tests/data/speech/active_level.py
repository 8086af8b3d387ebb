#!/usr/bin/env python3
"""Active speech levels of synthetic speech by ITU-T P.56, method B, written down sample by sample.

    python3 -m venv DIRECTORY && DIRECTORY/bin/pip install numpy==2.4.6 scipy==1.17.1
    DIRECTORY/bin/python tests/data/speech/active_level.py > tests/data/speech/active-level.csv

Independent of the code under test: another language, numpy and scipy, every sample through both filters, every
threshold counted sample by sample, nothing left out. What it follows is the text of P.56 as the ITU-T software tool
library (G.191) carries it out: two one-pole filters of 30 ms on the absolute value, thresholds a factor of two apart,
0.2 s of hang-over, 15.9 dB of margin, a straight line between two thresholds.

The sounds are made of whole numbers from a generator that a test can repeat to the bit; see `sound`.
Invented data: nobody spoke.
"""
import numpy as np
from scipy.signal import lfilter

RATES = (8000, 16000, 44100, 48000, 96000)
SECONDS = 10


def chance(seed):
    """Numerical Recipes' linear congruential generator (from memory); the upper 16 bits."""
    state = seed
    while True:
        state = (state * 1664525 + 1013904223) % 2**32
        yield state >> 16


def sound(seed, rate):
    """Syllables: noise and a buzz under triangles of 60 to 315 ms, pauses after some, over a steady noise.

    Every sample is a whole number divided by 32768, so it is the same in any language.
    """
    numbers = chance(seed)
    draw = lambda below: next(numbers) % below
    loud, floor = 2000 + draw(14000), 1 + draw(8)
    samples = []
    total = SECONDS * rate
    while len(samples) < total:
        length = rate * (60 + draw(256)) // 1000
        pause = rate * draw(1500) // 1000 if draw(4) == 0 else rate * draw(60) // 1000
        period, hiss = rate // (90 + draw(130)), draw(3)
        size = loud // (1 + draw(6))
        for at in range(length):
            envelope = min(at, length - at) * 2
            # A falling ramp each period, less its mean; or noise.
            buzz = (period - 2 * (at % period)) * 1000 // period
            noise = draw(2001) - 1000
            value = noise if hiss == 0 else buzz
            samples.append(value * size // 1000 * envelope // length + draw(2 * floor + 1) - floor)
        for _ in range(pause):
            samples.append(draw(2 * floor + 1) - floor)
    return np.array(samples[:total], dtype=np.float64) / 32768.0


def active_level(x, rate):
    g = np.exp(-1.0 / (rate * 0.03))
    envelope = lfilter([1 - g], [1, -g], lfilter([1 - g], [1, -g], np.abs(x)))
    hangover = int(0.2 * rate + 0.5)
    squares = np.sum(x * x)
    below = None
    for k in range(24, -1, -1):
        threshold = 2.0**-k
        above = envelope >= threshold
        index = np.arange(len(x))
        last = np.maximum.accumulate(np.where(above, index, -(10**12)))
        active = np.count_nonzero(index - last <= hangover)
        if active == 0:
            return None
        level = 10 * np.log10(squares / active)
        excess = level - 20 * np.log10(threshold) - 15.9
        if excess <= 0:
            lower_level, lower_excess = below
            share = lower_excess / (lower_excess - excess)
            found = lower_level + share * (level - lower_level)
            return found, 10 ** ((10 * np.log10(squares / len(x)) - found) / 10)
        below = level, excess
    return None


print("# Active speech level by ITU-T P.56, method B. Made by active_level.py, which says how; invented sounds.")
print("seed,rate_hz,level_dbfs,activity")
for seed in range(1, 11):
    rate = RATES[seed % len(RATES)]
    level, activity = active_level(sound(seed, rate), rate)
    print(f"{seed},{rate},{level:.4f},{activity:.4f}")
