"""Writes the instances of tests/bench/planner.rs beside this file. Invented; nothing is drawn at random."""

import json
from pathlib import Path

HERE = Path(__file__).parent
MHZ = 1_000_000


def window(low, high, step):
    return [{"low_hz": low, "high_hz": high, "step_hz": step}]


def blocked(*stretches):
    return [{"low_hz": low * MHZ, "high_hz": high * MHZ, "why": "television"} for low, high in stretches]


def write(name, links, rules, site=None, bandwidth=0):
    """`links`: a list of (how many, windows)."""
    rows = []
    for count, windows in links:
        for _ in range(count):
            rows.append({"label": str(len(rows) + 1), "bandwidth_hz": bandwidth, "windows": windows})
    head = {
        "format": "spurless-shoot", "version": 1, "name": name, "note": "Invented.",
        "site": site or {}, "rules": {"spares": 0, "unheard": "allow", **rules},
    }
    text = json.dumps(head)[:-1] + ', "links": [\n' + ",\n".join(map(json.dumps, rows)) + "\n]}\n"
    (HERE / f"{name}.json").write_text(text)


def third(spacing, two, three):
    return {"spacing_hz": spacing, "two_transmitter_3_hz": two, "three_transmitter_3_hz": three}


# Optimal Golomb rulers and one step less. Source of the lengths: OEIS A003022.
for marks, length in [(8, 34), (9, 44), (10, 55)]:
    write(f"{marks:03}-ruler", [(marks, window(0, length, 1))], third(1, 0, 0))
    write(f"{marks:03}-ruler-short", [(marks, window(0, length - 1, 1))], third(1, 0, 0))

# One window at 25 kHz, 8 of every 24 MHz taken by television.
SLOTS = blocked((614, 622), (638, 646), (662, 670))
for links, width, guard, spacing in [
    (6, 24, 50, 300), (8, 24, 50, 300), (12, 24, 50, 300), (12, 24, 100, 400), (14, 24, 50, 300),
    (16, 24, 50, 300), (17, 24, 50, 300), (16, 42, 100, 400), (20, 42, 50, 300), (24, 75, 50, 300),
]:
    write(
        f"{links:03}-in-{width}-mhz-guard-{guard}-khz",
        [(links, window(606 * MHZ, (606 + width) * MHZ, 25_000))],
        third(spacing * 1000, guard * 1000, guard * 1000),
        {"blocked": [b for b in SLOTS if b["low_hz"] < (606 + width) * MHZ]},
    )

# A whole band, nine multiplexes.
BAND = {"blocked": blocked(*((478 + 24 * i, 486 + 24 * i) for i in range(9)))}
WHOLE = window(470 * MHZ, 694 * MHZ, 25_000)
SIX = [
    WHOLE,
    window(470 * MHZ, 694 * MHZ, 125_000),
    window(470_100_000, 693_900_000, 200_000),
    window(470_012_500, 693_987_500, 25_000),
    window(470_002_500, 630_002_500, 37_500),
    window(520 * MHZ, 694 * MHZ, 100_000),
]
for links in [64, 128]:
    write(f"{links:03}-two-transmitters", [(links, WHOLE)], third(300_000, 50_000, None), BAND)
write("128-six-rasters", [(22, w) for w in SIX[:2]] + [(21, w) for w in SIX[2:]],
      third(300_000, 50_000, None), BAND)
write("200-six-rasters", [(34, w) for w in SIX[:2]] + [(33, w) for w in SIX[2:]],
      third(300_000, 25_000, None), BAND)
write("038-in-a-band", [(38, WHOLE)], third(300_000, 50_000, 50_000), BAND)

# What a camera crew meets: three sorts of kit, neighbours on the air.
NEIGHBOURS = [
    {"label": f"neighbour {i + 1}", "carrier_hz": hz, "protected": i % 3 != 2}
    for i, hz in enumerate([607_200_000, 609_150_000, 611_975_000, 623_400_000, 625_850_000, 628_525_000])
]
MIXED = [
    (4, window(606 * MHZ, 630 * MHZ, 25_000)),
    (3, window(600_100_000, 624_100_000, 200_000)),
    (3, window(612_125_000, 635_875_000, 125_000)),
]
write("010-three-rasters-six-foreign", MIXED, third(400_000, 75_000, 25_000),
      {"foreign": NEIGHBOURS, "blocked": blocked((614, 622))}, 200_000)
write("010-orders-3-and-5", [(10, window(606 * MHZ, 630 * MHZ, 25_000))],
      {**third(400_000, 75_000, 25_000), "two_transmitter_5_hz": 25_000},
      {"blocked": blocked((614, 622))}, 200_000)

# Impossible: by the room alone; by search; by what the neighbours make.
write("009-no-room", [(9, window(606 * MHZ, 609_100_000, 25_000))], third(400_000, 75_000, 25_000))
write("008-one-step-short", [(8, window(606 * MHZ, 609_650_000, 25_000))], third(300_000, 50_000, 50_000))
write("006-among-neighbours", [(6, window(607_600_000, 611_500_000, 150_000))], third(400_000, 75_000, 25_000),
      {"foreign": NEIGHBOURS}, 200_000)
