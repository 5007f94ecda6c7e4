from itertools import pairwise

from tracker.beads.catalogue import needles, seeds, tiles


def test_the_trade_s_names_are_known() -> None:
    """Shapes go by the names that designs use, each carrying its own name."""
    assert ["full tile", "half tile", "quarter tile", "two-hole oval"] == list(tiles())
    assert ["15/0", "11/0", "8/0", "6/0", "cylinder 11/0"] == list(seeds())
    for known in (tiles(), seeds()):
        assert list(known) == [shape.name for shape in known.values()]


def test_nominal_sizes_are_common_practice() -> None:
    """The two beads of the usual band have the outer sizes that the trade prints on the tube."""
    half, small = tiles()["half tile"], seeds()["15/0"]
    assert (5.0, 2.3, 1.9) == (half.length, half.passage, half.thickness)
    assert (1.5, 1.1) == (small.diameter, small.length)


def test_holes_lie_inside_the_glass() -> None:
    """No shape's holes break out of it or into each other."""
    for tile in tiles().values():
        assert tile.hole < min(tile.thickness, tile.hole_spacing)
        assert tile.hole + tile.hole_spacing < tile.length
    for seed in seeds().values():
        assert seed.hole < seed.diameter


def test_a_larger_aught_number_is_a_smaller_seed() -> None:
    """Round seeds shrink in every measure as the number before /0 grows."""
    sizes = [seeds()[name] for name in ("6/0", "8/0", "11/0", "15/0")]
    for larger, smaller in pairwise(sizes):
        assert larger.diameter > smaller.diameter
        assert larger.length > smaller.length
        assert larger.hole > smaller.hole


def test_needles_come_thickest_first() -> None:
    """A larger needle number is a finer needle, and the thickest is offered first."""
    assert ["10", "12", "13"] == [needle.size for needle in needles()]
    assert sorted((n.eye for n in needles()), reverse=True) == [n.eye for n in needles()]
