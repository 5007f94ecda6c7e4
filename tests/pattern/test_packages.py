"""What to buy, against every way of buying."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.pattern.packages import beads_in, packages

# A half tile of 2.5 g/cm3 weighs about 0.049 g.
TILE = 0.049


def best_of_all(need: int, counts: list[int]) -> tuple[int, int]:
    """Beads over and packages of the best purchase, found by trying every one."""
    ranges = [range(need // count + 2) for count in counts]
    sums = (
        (sum(n * count for n, count in zip(numbers, counts, strict=True)), sum(numbers))
        for numbers in product(*ranges)
    )
    beads, number = min(found for found in sums if found[0] >= need)
    return beads - need, number


@given(st.integers(0, 120), st.lists(st.integers(1, 60), min_size=1, max_size=3, unique=True))
def test_no_way_of_buying_is_better(need: int, counts: list[int]) -> None:
    """The fewest beads over, and of those the fewest packages, as by trying them all."""
    bought = packages(need, [f"{count} beads" for count in counts], TILE)
    number = sum(n for _, n in bought.packages)
    assert (bought.over, number) == best_of_all(need, counts)
    assert need + bought.over == sum(package.beads * n for package, n in bought.packages)


def test_grams_and_beads_by_hand() -> None:
    """5 g hold 102 tiles of 0.049 g, 10 g 204: 300 tiles are 306 in 15 g, or 350 and over."""
    bought = packages(300, ["5 g", "10 g", "350 beads"], TILE)
    assert "1 x 10 g and 1 x 5 g" == bought.words()
    assert 6 == bought.over
    assert "1 x 350 beads" == packages(310, ["5 g", "10 g", "350 beads"], TILE).words()


def test_nothing_is_needed() -> None:
    """Nothing is bought for no beads, or where there are more than enough."""
    assert [("nothing", 0)] * 2 == [
        (bought.words(), bought.over) for bought in (packages(n, ["5 g"], TILE) for n in (0, -3))
    ]


def test_two_sizes_with_as_many_beads() -> None:
    """The same answer whichever was typed first."""
    sizes = ["102 beads", "5 g"]
    assert packages(200, sizes, TILE) == packages(200, sizes[::-1], TILE)


def test_a_large_band() -> None:
    """200,000 beads of a 40-column band of 5,000 rows, to the bead nothing over."""
    bought = packages(200_000, ["250 beads", "999 beads", "1024 beads"], TILE)
    assert 0 == bought.over


@pytest.mark.parametrize(
    ("amount", "beads"),
    [("5 g", 102), ("4.9 g", 100), ("4.899 g", 99), ("250 beads", 250), (" 250 ", 250), ("0", 0)],
)
def test_amounts(amount: str, beads: int) -> None:
    """Grams are weighed out in whole beads; a number alone is a count."""
    assert beads == beads_in(amount, TILE)


@pytest.mark.parametrize(
    "amount", ["", "g", "5 kg", "-5 g", "2.5 beads", "1e9 g", "5\x1b g", "99999999", "5 g 5 g"]
)
def test_what_is_no_amount(amount: str) -> None:
    """It is refused in words, with nothing in them that a terminal would obey."""
    with pytest.raises(ValueError, match="is no amount of beads: write a number with g") as caught:
        beads_in(amount, TILE)
    assert str(caught.value).isprintable()


def test_packages_that_hold_nothing() -> None:
    """Neither an empty package nor none at all can be bought."""
    with pytest.raises(ValueError, match=r'^"0.01 g" holds not one bead: name a larger package'):
        packages(10, ["5 g", "0.01 g"], TILE)
    with pytest.raises(ValueError, match=r"^there is no package to buy"):
        packages(10, [], TILE)
