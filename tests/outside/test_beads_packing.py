"""The packing ratios against the published ones.

S. Kravitz, "Packing cylinders into cylindrical containers", Mathematics Magazine 40 (1967);
R. L. Graham, "Sets of points with given minimum separation", American Mathematical Monthly 75
(1968). The figures below are cut, not rounded, after three decimals.
"""

from math import floor, hypot, pi, sqrt

import pytest

from tracker.beads.holes import PACKING_RATIO, threads_that_fit

PUBLISHED = {
    1: 1.0,
    2: 2.0,
    3: 2.154,
    4: 2.414,
    5: 2.701,
    6: 3.0,
    7: 3.0,
    8: 3.304,
    9: 3.613,
    10: 3.813,
    11: 3.923,
    12: 4.029,
    13: 4.236,
    14: 4.328,
    15: 4.521,
    16: 4.615,
    17: 4.792,
    18: 4.863,
    19: 4.863,
}


def test_ratios_are_the_published_ones() -> None:
    """Every ratio, cut after three decimals, is the published figure."""
    cut = {n: floor(ratio * 1000 + 1e-6) / 1000 for n, ratio in PACKING_RATIO.items()}
    assert PUBLISHED == cut


@pytest.mark.parametrize("n", PUBLISHED)
def test_threads_follow_the_table(n: int) -> None:
    """From its ratio on, and not before, a hole takes n threads."""
    assert threads_that_fit(PUBLISHED[n] + 0.001, 1.0) >= n
    assert threads_that_fit(PUBLISHED[n] - 0.001, 1.0) < n


@pytest.mark.parametrize(
    ("ratio", "places"),
    [
        (2, [(-1, 0), (1, 0)]),
        (1 + 2 / sqrt(3), [(-1, -1 / sqrt(3)), (1, -1 / sqrt(3)), (0, 2 / sqrt(3))]),
        (1 + sqrt(2), [(-1, -1), (-1, 1), (1, -1), (1, 1)]),
        (3, [(0, 0), (2, 0), (-2, 0), *[(x, y * sqrt(3)) for x in (-1, 1) for y in (-1, 1)]]),
    ],
)
def test_small_packings_by_construction(ratio: float, places: list[tuple[float, float]]) -> None:
    """Unit circles at these places touch but do not overlap, and just fill the ratio."""
    gaps = [hypot(a - c, b - d) for a, b in places for c, d in places if (a, b) != (c, d)]
    assert min(gaps) == pytest.approx(2)
    assert max(hypot(x, y) for x, y in places) + 1 == pytest.approx(ratio)
    assert PACKING_RATIO[len(places)] == pytest.approx(ratio)


@pytest.mark.parametrize("ratio", [1.5, 3.0, 5.0, 8.0, 15.0, 40.0])
def test_threads_never_lie_denser_than_the_plane_allows(ratio: float) -> None:
    """No packing is denser than pi / (2 sqrt 3), the densest of the whole plane (Thue)."""
    assert threads_that_fit(ratio, 1.0) <= pi / (2 * sqrt(3)) * ratio**2
