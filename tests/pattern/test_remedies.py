"""Changes that make the beads last, counted again in the band as it is woven."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from weaving import STITCH, a_design, layouts

from tracker.design.layout import tile_colour
from tracker.design.model import Design, Layout, Size
from tracker.fit.model import Wish
from tracker.pattern.compiler import compile_design
from tracker.pattern.stock import Remedy, beads_of, remedies


def lanes(lines: str) -> Design:
    """A band of 62 rows in lengthwise stripes."""
    layout = Layout(seeds="S", kind="lanes", lines=(lines,))
    return a_design(len(lines) // 2, 62, layout=layout)


def rows(lines: str, *, mirror: bool = False, centre: bool = False) -> Design:
    """A two-column band of 62 rows in crosswise stripes."""
    layout = Layout(seeds="S", kind="rows", lines=tuple(lines), mirror=mirror, centre=centre)
    return a_design(2, 62, layout=layout)


def words(found: tuple[Remedy, ...]) -> list[str]:
    """The words of the remedies."""
    return [remedy.words for remedy in found]


def woven_beads(design: Design, rows: int) -> Counter[str]:
    """The beads of the band, counted where they are picked up."""
    path = STITCH.weave(design, rows)
    return Counter(bead.kind[0] + bead.colour for row in path.rows for bead in row.beads)


def test_lengthwise_stripes_by_hand() -> None:
    """BAAAAB takes 31 tiles a lane, 124 of A: 70 are enough for two lanes, or for 35 rows."""
    assert [
        "weave 35 rows, 87 mm, instead of 62 rows, 152 mm",
        'make the stripes lanes = "BBAABB" instead of "BAAAAB"',
        "swap lagoon and sand",
    ] == words(remedies(lanes("BAAAAB"), {"tA": 70}))


def test_stripes_of_a_band_with_two_edges_that_differ() -> None:
    """One lane of three changes its colour: 62 of A instead of 93."""
    found = remedies(lanes("BBABAA"), {"tA": 70})
    assert 'make the stripes lanes = "BBBBAA" instead of "BBABAA"' not in words(found)
    assert ["weave 47 rows, 116 mm, instead of 62 rows, 152 mm"] == words(found[:1])
    assert 62 == found[1].beads["tA"]
    assert "another stripe width" == found[1].kind


def test_crosswise_stripes_by_hand() -> None:
    """AABB takes 64 of A in 62 rows; with B twice as wide 44; both lanes stay filled."""
    assert [
        "weave 49 rows, 121 mm, instead of 62 rows, 152 mm",
        'make the stripes rows = "AABBBB" instead of "AABB"',
    ] == words(remedies(rows("AABB"), {"tA": 50}))


def test_narrower_before_wider() -> None:
    """Where the short colour's stripe can be narrower, no other is made wider."""
    found = remedies(rows("AAAAAABB", mirror=True, centre=True), {"tA": 70})
    assert 'make the stripes rows = "AABB" instead of "AAAAAABB"' in words(found)


def test_seeds_run_short() -> None:
    """A row takes N + 2 = 4 seeds: 200 last for 49 rows, 4 x 49 + 3 = 199."""
    found = remedies(lanes("BAAB"), {"sS": 200})
    assert ["weave 49 rows, 121 mm, instead of 62 rows, 152 mm"] == words(found)
    assert 199 == found[0].beads["sS"]


def test_enough_of_everything() -> None:
    """Nothing is proposed where nothing is short, or nothing was counted."""
    assert () == remedies(lanes("BAAB"), {"tA": 62, "tB": 62, "sS": 251})
    assert () == remedies(lanes("BAAB"), {})


def test_no_remedy_at_all() -> None:
    """Too few for even two rows, with nothing to swap for: an honest nothing."""
    assert () == remedies(lanes("AAAA"), {"tA": 3})


def test_a_chart_is_woven_in_whole_ranks() -> None:
    """A picture may be shortened by ranks of two rows, but its lines are left alone."""
    layout = Layout(seeds="S", kind="chart", lines=("AABB", "BAAB", "ABAB"))
    found = remedies(a_design(2, 62, layout=layout), {"tA": 41})
    assert ["fewer rows"] == [remedy.kind for remedy in found]
    assert 0 == found[0].rows % 2


def test_under_way_what_is_stitched_stays() -> None:
    """With 20 rows done, stripes that would change them are not proposed any more."""
    assert ["weave 49 rows, 121 mm, instead of 62 rows, 152 mm"] == words(
        remedies(rows("AABB"), {"tA": 50}, done=20)
    )
    # With 50 rows done 52 of A are in the work: neither fewer rows nor other stripes help.
    assert () == remedies(rows("AABB"), {"tA": 40}, done=50)


def test_a_centred_band_under_way() -> None:
    """The middle moves with the end, so only lengths that leave the rows done alone count."""
    design = rows("AAAAAABB", centre=True)
    before = tile_colour(design.layout, 2, 62)
    found = remedies(design, {"tA": 60}, done=20)
    assert ["fewer rows"] == [remedy.kind for remedy in found]
    after = tile_colour(design.layout, 2, found[0].rows)
    assert [before(r, 1) for r in range(1, 21)] == [after(r, 1) for r in range(1, 21)]


def test_whole_repeats_stay_whole() -> None:
    """177.969 mm are 72.7 rows: 7 repeats of 10 rows, and 9 of 8 come next."""
    wish = Wish(wrist=160.0, ease=12.0, whole_repeats=True)
    design = replace(rows("AAAAABBBBB"), size=Size(), fit=wish)
    found = remedies(design, {"tA": 60})
    assert [
        # 3.16 + 60 x 2.4042 = 147.4 mm, less 5.97 of bending, is 18.6 mm less than 160.
        "weave 60 rows, 147 mm, instead of 70 rows, 171 mm: 19 mm less than the wrist",
        'make the stripes rows = "AAABBBBB" instead of "AAAAABBBBB", 72 rows instead of 70',
    ] == words(found)
    for remedy in found:
        assert remedy.rows == compile_design(remedy.design).pattern.row_count
    # 9 repeats of 3 rows of 2 tiles.
    assert 54 == found[1].beads["tA"]


@given(st.data(), st.integers(2, 4), st.integers(4, 40))
@settings(max_examples=80, deadline=None)
def test_every_remedy_is_what_it_says(data: st.DataObject, columns: int, rows: int) -> None:
    """Woven, each changed design takes the beads it says, no more than there are, and compiles."""
    design = a_design(columns, rows, layout=data.draw(layouts(columns)))
    beads = beads_of(design, rows)
    stock = {key: data.draw(st.integers(0, n), label=key) for key, n in beads.items()}
    done = data.draw(st.integers(0, rows), label="done")
    assume(any(stock[key] < beads[key] for key in stock))
    colour = tile_colour(design.layout, columns, rows)
    for remedy in remedies(design, stock, done):
        woven = woven_beads(remedy.design, remedy.rows)
        assert woven == remedy.beads
        assert all(woven[key] <= there for key, there in stock.items())
        assert remedy.rows == compile_design(remedy.design).pattern.row_count
        after = tile_colour(remedy.design.layout, columns, remedy.rows)
        for row in range(1, done + 1):
            assert colour(row, 1) == after(row, 1)


@given(st.data(), st.integers(2, 3), st.integers(4, 30))
@settings(max_examples=60, deadline=None)
def test_no_longer_band_lasts(data: st.DataObject, columns: int, rows: int) -> None:
    """Of all numbers of rows the one proposed is the largest that the stock lasts for."""
    design = a_design(columns, rows, layout=data.draw(layouts(columns)))
    stock = {
        key: data.draw(st.integers(0, n), label=key) for key, n in beads_of(design, rows).items()
    }
    step = 2 if design.layout.kind == "chart" else 1
    lasting = [
        n
        for n in range(2, rows, step)
        if all(woven_beads(design, n)[key] <= there for key, there in stock.items())
    ]
    found = [r.rows for r in remedies(design, stock) if r.kind == "fewer rows"]
    short = any(beads_of(design, rows)[key] > there for key, there in stock.items())
    assert (lasting[-1:] if short else []) == found


@pytest.mark.parametrize("done", [0, 30])
def test_a_large_band_is_answered(done: int) -> None:
    """40 columns by 5,000 rows: the answer is there, and right."""
    design = a_design(40, 5000, layout=Layout(seeds="S", kind="lanes", lines=("BAAAA" * 16,)))
    found = remedies(design, {"tA": 150_000}, done)
    assert "fewer rows" == found[0].kind
    assert 149_984 == found[0].beads["tA"]
