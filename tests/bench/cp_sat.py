"""One shoot put to a general constraint solver: OR-tools CP-SAT, one worker.

    cp_sat.py SHOOT.json SECONDS

Prints one line of JSON: status (complete, infeasible, not settled, too large), processor seconds that the
solver itself took (building the model is not counted), carriers in hertz. SECONDS, its limit, are by the
clock: on a busy machine it gets less of the processor than that, and is charged with no more.

The model. One variable a link on what it may tune beside what stands (every condition on one carrier alone
is taken out of its domain beforehand). Links that tune alike ascend. Spacing and, where all links ascend,
differences that must stand apart are intervals that may not overlap; every other condition is a
disjunction, a Boolean for its side. Needs `ortools` (9.15 was used).
"""

import json
import sys
import time
from itertools import combinations, permutations
from math import gcd

from ortools.sat.python import cp_model

MOST_DISJUNCTIONS = 600_000


def problem(shoot):
    rules, site = shoot["rules"], shoot.get("site", {})
    foreign = [(f["carrier_hz"], f.get("protected", False)) for f in site.get("foreign", [])]
    links = []
    for link in shoot["links"]:
        if link.get("transmitters") and any(t.get("windows") for t in link["transmitters"]):
            sys.exit("transmitters with windows of their own are not modelled")
        half = link.get("bandwidth_hz", 200_000) // 2
        carriers = [c for w in link["windows"] for c in range(w["low_hz"], w["high_hz"] + 1, w["step_hz"])]
        for b in site.get("blocked", []):
            low, high = b["low_hz"], b["high_hz"]
            carriers = [c for c in carriers if not (low <= c <= high or (c + half > low and c - half < high))]
        links.append(tuple(sorted(set(carriers))))
    return rules, foreign, links


def alone(carrier, rules, foreign):
    """Whether a carrier keeps every condition in which only it and foreign carriers take part."""
    spacing = max(rules["spacing_hz"], 1)
    if any(abs(carrier - f) < spacing for f, _ in foreign):
        return False
    two, three, five = (rules.get(k) for k in
                        ("two_transmitter_3_hz", "three_transmitter_3_hz", "two_transmitter_5_hz"))
    for (a, a_kept), (b, b_kept) in permutations(foreign, 2):
        if two is not None:
            if abs(2 * a - b - carrier) <= two:
                return False
            if abs(2 * carrier - a - b) <= two and (a_kept or b_kept):
                return False
        if five is not None:
            if abs(3 * a - 2 * b - carrier) <= five:
                return False
            if b_kept and (abs(3 * carrier - 2 * a - b) <= five or abs(3 * a - 2 * carrier - b) <= five):
                return False
    if three is not None:
        for (a, _), (b, _), (c, _) in permutations(foreign, 3):
            if a < b and abs(a + b - c - carrier) <= three:
                return False
    return True


def build(rules, foreign, links):
    order = sorted(range(len(links)), key=lambda i: (links[i][0] if links[i] else 0, links[i]))
    domains = {}
    for carriers in set(links):
        domains[carriers] = [c for c in carriers if alone(c, rules, foreign)]
        if not domains[carriers]:
            return None, [], order
    unit, base = 0, min(min(d) for d in domains.values())
    for number in [c - base for d in domains.values() for c in d] + [f - base for f, _ in foreign]:
        unit = gcd(unit, number)
    unit = unit or 1
    scaled = lambda hz: (hz - base) // unit
    # |x| > guard and |x| >= spacing in whole units.
    over = lambda guard: guard // unit + 1
    spacing = -(-max(rules["spacing_hz"], 1) // unit)
    two, three, five = (rules.get(k) for k in
                        ("two_transmitter_3_hz", "three_transmitter_3_hz", "two_transmitter_5_hz"))

    n = len(links)
    one_group = len(domains) == 1
    standing = [(scaled(f), kept) for f, kept in foreign]
    total = n + len(standing)
    estimate = 0
    if two is not None and not (one_group and three == two):
        estimate += n**3 // (6 if one_group else 2)
    if three is not None and not one_group:
        estimate += n**4 // 8
    if three is not None and standing:
        estimate += n**2 * total**2 // 4
    if five is not None:
        estimate += total**3
    if estimate > MOST_DISJUNCTIONS:
        return "too large", [], order

    model = cp_model.CpModel()
    x = [model.new_int_var_from_domain(cp_model.Domain.from_values([scaled(c) for c in domains[links[i]]]), f"x{i}")
         for i in order]
    for i, (a, b) in enumerate(zip(order, order[1:])):
        if links[a] == links[b]:
            model.add(x[i + 1] >= x[i] + spacing)
    model.add_no_overlap([model.new_fixed_size_interval_var(v, spacing, f"s{i}") for i, v in enumerate(x)])

    def apart(expression, least):
        side = model.new_bool_var("")
        model.add(expression >= least).only_enforce_if(side)
        model.add(expression <= -least).only_enforce_if(side.negated())

    ours = [(v, True, True) for v in x]
    all_ = ours + [(f, kept, False) for f, kept in standing]
    ascending = one_group
    if three is not None and ascending:
        # a + d against b + c of a < b < c < d: differences that stand apart. Where carriers stand farther
        # apart than the guard, and 2A-B is kept at least as clear, that asks for nothing more.
        assert spacing >= over(three) and two is not None and two >= three
        size, differences = over(three), []
        for i, j in combinations(range(n), 2):
            difference = model.new_int_var(0, max(map(scaled, domains[links[0]])), f"d{i}-{j}")
            model.add(difference == x[j] - x[i])
            differences.append(model.new_fixed_size_interval_var(difference, size, f"i{i}-{j}"))
        model.add_no_overlap(differences)
    elif three is not None:
        for a, b, c, d in combinations(range(n), 4):
            for p, q in (((a, b), (c, d)), ((a, c), (b, d)), ((a, d), (b, c))):
                apart(x[p[0]] + x[p[1]] - x[q[0]] - x[q[1]], over(three))
    if three is not None:
        for k in (2, 3):
            for own in combinations(range(n), k):
                for other in combinations(standing, 4 - k):
                    four = [x[i] for i in own] + [f for f, _ in other]
                    for q in (1, 2, 3):
                        p = [i for i in (1, 2, 3) if i != q]
                        apart(four[0] + four[q] - four[p[0]] - four[p[1]], over(three))
    if two is not None and not (ascending and three == two):
        for i, j, k in combinations(range(n), 3):
            for m in ([j] if ascending else [i, j, k]):
                a, b = [v for v in (i, j, k) if v != m]
                apart(2 * x[m] - x[a] - x[b], over(two))
    if two is not None:
        for (f, kept), (i, j) in ((s, p) for s in standing for p in combinations(range(n), 2)):
            apart(2 * x[i] - x[j] - f, over(two))
            apart(2 * x[j] - x[i] - f, over(two))
            apart(2 * f - x[i] - x[j], over(two))
    if five is not None:
        for a, b, v in permutations(range(total), 3):
            own = [all_[i][2] for i in (a, b, v)]
            if sum(own) >= 2 and all_[v][1]:
                apart(3 * all_[a][0] - 2 * all_[b][0] - all_[v][0], over(five))
    back = lambda value: base + unit * value
    return model, [(v, back) for v in x], order


def main():
    path, seconds = sys.argv[1], float(sys.argv[2])
    with open(path) as file:
        rules, foreign, links = problem(json.load(file))
    for kind in ("three_transmitter_5_hz", "two_transmitter_7_hz"):
        if rules.get(kind) is not None:
            sys.exit(f"{kind} is not modelled")
    model, variables, order = build(rules, foreign, links)
    if model is None:
        print(json.dumps({"status": "infeasible", "seconds": 0.0, "carriers": []}))
        return
    if model == "too large":
        print(json.dumps({"status": "too large", "seconds": 0.0, "carriers": []}))
        return
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    before = time.process_time()
    status = solver.solve(model)
    spent = time.process_time() - before
    carriers = [0] * len(order)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        for link, (variable, back) in zip(order, variables):
            carriers[link] = back(solver.value(variable))
        said = "complete"
    else:
        carriers, said = [], "infeasible" if status == cp_model.INFEASIBLE else "not settled"
    print(json.dumps({"status": said, "seconds": spent, "carriers": carriers}))


main()
