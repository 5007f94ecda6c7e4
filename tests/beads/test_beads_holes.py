from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.beads.catalogue import needles, seeds
from tracker.beads.holes import needle_that_fits, passes_that_fit, threads_that_fit

sizes = st.floats(0.05, 3.0)


def test_written_sizes_count_exactly() -> None:
    """0.6 mm takes seven threads of 0.2 mm, though 0.6 / 0.2 is a hair below 3 in floats."""
    assert 3 > 0.6 / 0.2
    assert 7 == threads_that_fit(0.6, 0.2)
    assert 0 == threads_that_fit(0.2, 0.21)


@pytest.mark.parametrize("ratio", [4.9, 5.5, 7.0, 9.3, 12.0])
def test_beyond_the_table_the_threads_really_fit(ratio: float) -> None:
    """A triangular lattice, moved about, puts at least the promised threads into the hole."""
    steps = np.arange(-20, 21)
    i, j = np.meshgrid(steps, steps)
    x, y = (i + j / 2).ravel(), (j * sqrt(3) / 2).ravel()
    moves = np.random.default_rng(1).uniform(0, 1, (4000, 2))
    out = (ratio - 1) / 2 + 1e-9
    best = max(int(((x + dx) ** 2 + (y + dy) ** 2 <= out**2).sum()) for dx, dy in moves)
    assert threads_that_fit(ratio, 1.0) <= max(best, 19)


@given(hole=sizes, thread=sizes, eye=sizes)
def test_the_bound_is_sane(hole: float, thread: float, eye: float) -> None:
    """Passes never exceed the threads that fit, nor the area; no needle in, no pass."""
    passes = passes_that_fit(hole, thread, eye)
    assert passes <= threads_that_fit(hole, thread)
    if eye > hole * 1.001:
        assert 0 == passes
    if passes:
        assert (passes - 1) * thread**2 + eye**2 <= hole**2 * 1.001


@given(hole=sizes, thread=sizes, eye=sizes, more=st.floats(1.0, 2.0))
def test_a_wider_hole_or_finer_needle_never_takes_less(
    hole: float, thread: float, eye: float, more: float
) -> None:
    """The bound grows with the hole and shrinks with the needle's eye."""
    passes = passes_that_fit(hole, thread, eye)
    assert passes <= passes_that_fit(hole * more, thread, eye)
    assert passes >= passes_that_fit(hole, thread, eye * more)


@pytest.mark.parametrize(("thread", "eye"), [(0.15, 0.46), (0.15, 0.33), (0.3, 0.38)])
def test_up_to_three_passes_the_bound_is_exact(thread: float, eye: float) -> None:
    """One thread beside the needle needs both diameters; two need the circle of Descartes."""
    assert 1 == passes_that_fit(thread + eye - 1e-6, thread, eye)
    assert 2 == passes_that_fit(thread + eye + 1e-6, thread, eye)
    # Descartes' theorem: the circle around three that touch one another has this curvature.
    a, b = 2 / eye, 2 / thread
    around = 2 / (2 * sqrt(2 * a * b + b * b) - a - 2 * b)
    assert 2 == passes_that_fit(around - 1e-6, thread, eye)
    assert 3 <= passes_that_fit(around + 1e-6, thread, eye)


def _laid(hole: float, circles: list[float]) -> float:
    """The worst overlap, mm, after pushing the circles (diameters) apart inside the hole."""
    radius = np.array(circles) / 2
    room = hole / 2 - radius
    apart = radius[:, None] + radius[None, :]
    np.fill_diagonal(apart, 0)
    rng = np.random.default_rng(7)
    best = np.inf
    for _ in range(30):
        at = rng.uniform(-hole / 4, hole / 4, (len(circles), 2))
        for _ in range(1500):
            between = at[:, None] - at[None, :]
            distance = np.hypot(between[..., 0], between[..., 1]) + 1e-12
            overlap = np.maximum(apart - distance, 0)
            out = np.hypot(at[:, 0], at[:, 1]) + 1e-12
            beyond = np.maximum(out - room, 0)
            worst = float(max(overlap.max(), beyond.max()))
            if worst < 1e-3:
                return worst
            push = (overlap / distance)[..., None] * between
            at = at + 0.4 * push.sum(axis=1) - 0.8 * (beyond / out)[:, None] * at
        best = min(best, worst)
    return best


@pytest.mark.parametrize(
    ("hole", "thread"), [(0.6, 0.15), (0.6, 0.12), (0.8, 0.2), (0.8, 0.25), (1.1, 0.3)]
)
def test_the_promised_passes_can_be_laid_out(hole: float, thread: float) -> None:
    """Circles pushed about find room for the needle and all the threads promised, to 1 um."""
    for needle in needles():
        passes = passes_that_fit(hole, thread, needle.eye)
        assert passes >= 1
        assert _laid(hole, [needle.eye] + [thread] * (passes - 1)) < 1e-3


def test_the_thickest_needle_is_chosen() -> None:
    """A size 10 needle goes once through a 15/0; a second pass needs a 12, and ten need none."""
    hole = seeds()["15/0"].hole
    found = [needle_that_fits(hole, 0.15, passes) for passes in (1, 2, 11)]
    assert ["10", "12", None] == [needle and needle.size for needle in found]


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_sizes_must_be_lengths(wrong: float) -> None:
    """A size that no hole or thread can have is refused, and named."""
    with pytest.raises(ValueError, match="thread must be a length"):
        threads_that_fit(0.6, wrong)
    with pytest.raises(ValueError, match="eye must be a length"):
        passes_that_fit(0.6, 0.15, wrong)
