"""Writes 200 random lists of parts with suppliers and the least that each costs, as scipy's solver of integer programmes has it.

Each: suppliers with shipping, the sum from which it is free (null: never) and the least they take, in cents; lines with what
all of each costs at whom, in cents; the least cost in cents, null where no choice keeps every minimum.
"""

import json
import random

import numpy
import scipy.optimize


def instance(chance):
    """A list: a few suppliers that each have some of the parts."""
    suppliers = []
    for _ in range(chance.randint(2, 6)):
        shipping = chance.choice([0, 495, 795, 1250, 1895, 2500])
        free = chance.choice([None, 5000, 9900, 15000, 25000])
        minimum = chance.choice([0, 0, 0, 1500, 3000, 5000])
        suppliers.append({"shipping": shipping, "free_from": free, "minimum": minimum})
    lines = []
    for _ in range(chance.randint(3, 18)):
        price = chance.randint(80, 9000)
        those = chance.sample(range(len(suppliers)), chance.randint(1, len(suppliers)))
        lines.append([[at, round(price * chance.uniform(0.85, 1.25))] for at in sorted(those)])
    return {"suppliers": suppliers, "lines": lines}


def least(one):
    """The least cost; None where there is none."""
    suppliers, lines = one["suppliers"], one["lines"]
    offers = [(n, at, cost) for n, line in enumerate(lines) for at, cost in line]
    count, many = len(suppliers), len(offers)
    size = many + 2 * count
    price = numpy.zeros(size)
    price[:many] = [cost for _, _, cost in offers]
    rows, low, high = [], [], []

    def hold(cells, least_of, most_of):
        row = numpy.zeros(size)
        for at, value in cells:
            row[at] += value
        rows.append(row)
        low.append(least_of)
        high.append(most_of)

    for n in range(len(lines)):
        hold([(k, 1) for k, offer in enumerate(offers) if offer[0] == n], 1, 1)
    for at, supplier in enumerate(suppliers):
        used, free = many + at, many + count + at
        price[used], price[free] = supplier["shipping"], -supplier["shipping"]
        of = [(k, offer[2]) for k, offer in enumerate(offers) if offer[1] == at]
        for k, _ in of:
            hold([(used, 1), (k, -1)], 0, numpy.inf)
        hold([(used, 1), (free, -1)], 0, numpy.inf)
        if supplier["free_from"] is None:
            hold([(free, 1)], 0, 0)
        else:
            hold([*of, (free, -supplier["free_from"])], 0, numpy.inf)
        hold([*of, (used, -supplier["minimum"])], 0, numpy.inf)
    found = scipy.optimize.milp(
        price,
        constraints=scipy.optimize.LinearConstraint(numpy.array(rows), low, high),
        integrality=numpy.ones(size),
        bounds=scipy.optimize.Bounds(0, 1),
        options={"mip_rel_gap": 0},
    )
    if found.status == 2:
        return None
    if found.status != 0:
        raise SystemExit(f"not solved: {found.message}")
    return round(found.fun)


def main():
    """The lists, one a line."""
    chance = random.Random(20260101)
    out = []
    for _ in range(200):
        one = instance(chance)
        out.append({**one, "least": least(one)})
    print("[\n" + ",\n".join(json.dumps(one, separators=(",", ":")) for one in out) + "\n]")


main()
