"""Which packages to buy: as few beads over as can be, then as few packages. Pure."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection
from fractions import Fraction
from math import floor, gcd

from tracker.problems import shown
from tracker.records import record

_AMOUNT = re.compile(r"([0-9]{1,7}(?:\.[0-9]{1,3})?) *(g|beads)?")
_HOW = 'write a number with g or beads, such as "10 g" or "250 beads"'
_LONGEST_TEXT = 30


@record
class Package:
    """A package size as it was typed, and how many beads of a kind are in it."""

    size: str
    beads: int


@record
class Purchase:
    """What to buy of a kind of bead."""

    packages: tuple[tuple[Package, int], ...]
    """Each size with how many of it, largest first."""
    over: int
    """Beads more than were needed."""

    def words(self) -> str:
        """`2 x 10 g and 1 x 5 g`, or `nothing`."""
        return " and ".join(f"{n} x {p.size}" for p, n in self.packages) or "nothing"


def beads_in(amount: str, each: float) -> int:
    """How many beads are in an amount, "10 g", "250 beads" or "250", of beads of `each` grams.

    A bead that is not whole is none. Raises ValueError, in words for the beader, if it is no
    amount.
    """
    said = amount.strip()
    found = _AMOUNT.fullmatch(said)
    if found is None or (found[2] != "g" and "." in found[1]):
        short = shown(said if len(said) <= _LONGEST_TEXT else said[:_LONGEST_TEXT] + "...")
        raise ValueError(f'"{short}" is no amount of beads: {_HOW}')
    if found[2] == "g":
        # Exact, and a hair below a whole bead counts as whole: 5 g of beads of 0.005 g are 1,000.
        return floor(Fraction(found[1]) / Fraction(each) + Fraction(1, 10**9))
    return int(found[1])


def package(size: str, each: float) -> Package:
    """A package of beads of `each` grams; raises ValueError if there is no bead in it."""
    beads = beads_in(size, each)
    if not beads:
        raise ValueError(f'"{shown(size.strip())}" holds not one bead: name a larger package')
    return Package(size.strip(), beads)


def packages(need: int, sizes: Collection[str], each: float) -> Purchase:
    """What to buy for `need` beads of `each` grams out of packages of these sizes.

    The fewest beads over; of those the fewest packages; of those the largest ones. Raises
    ValueError if a size is none or there are none.
    """
    if not sizes:
        raise ValueError(f"there is no package to buy: {_HOW}")
    offered = {package(size, each) for size in sizes}
    # Of two sizes with as many beads one will do, the one that is named first.
    by_beads = {p.beads: p for p in sorted(offered, key=lambda p: p.size, reverse=True)}
    counts = sorted(by_beads, reverse=True)
    bought = _fewest(max(0, need), counts)
    return Purchase(
        tuple((by_beads[beads], bought[beads]) for beads in counts if bought[beads]),
        sum(beads * n for beads, n in bought.items()) - max(0, need),
    )


def _fewest(need: int, counts: list[int]) -> Counter[int]:
    """How many of each of `counts`, largest first, make the least sum of at least `need`."""
    unit = gcd(*counts)
    goal = -(-need // unit)
    steps = [count // unit for count in counts]
    # last[n]: the package bought last to make n with the fewest packages, 0 where n cannot be.
    fewest = [0]
    last = [0]
    for n in range(1, goal + max(steps)):
        best, chosen = 0, 0
        for step in steps:
            if step <= n and (step == n or last[n - step]):
                number = fewest[n - step] + 1
                if not chosen or number < best:
                    best, chosen = number, step
        fewest.append(best)
        last.append(chosen)
    n = next(n for n in range(goal, len(last)) if last[n] or not n)
    bought: Counter[int] = Counter()
    while n:
        bought[last[n] * unit] += 1
        n -= last[n]
    return bought
