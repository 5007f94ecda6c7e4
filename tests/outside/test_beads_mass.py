"""The mass of a bead against the trade's beads per gram (common practice, nominal)."""

import pytest

from tracker.beads.catalogue import seeds, tiles
from tracker.beads.mass import GLASS, grams, volume

PER_GRAM = {"15/0": 250, "11/0": 110, "8/0": 38, "6/0": 15, "cylinder 11/0": 200}


@pytest.mark.parametrize("name", PER_GRAM)
def test_beads_per_gram_agree_with_the_trade(name: str) -> None:
    """Glass volume times density gives the trade's count within 25 %."""
    seed = seeds()[name]
    assert PER_GRAM[name] == seed.per_gram
    assert 1 / grams(seed) == pytest.approx(PER_GRAM[name], rel=0.25)


def test_the_density_is_that_of_common_glass() -> None:
    """CRC Handbook of Chemistry and Physics: common glasses weigh 2.4 to 2.8 g/cm3."""
    assert 2.4 <= GLASS <= 2.8
    half = tiles()["half tile"]
    assert grams(half) / volume(half) * 1000 == pytest.approx(GLASS)


def test_a_half_tile_is_a_box_less_two_bores() -> None:
    """5.0 x 2.3 x 1.9 mm less two bores of 0.8 mm: 19.538 mm3, worked by hand."""
    assert volume(tiles()["half tile"]) == pytest.approx(19.538, abs=0.001)
