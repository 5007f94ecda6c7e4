from collections.abc import Callable

import pytest

from tracker.design.model import Design

Read = Callable[..., Design]


def test_spelling_does_not_change_the_digest(read: Read) -> None:
    """Comments, spacing, the unit and the order of tables are the file's, not the design's."""
    same = read(
        ("format = 1", "# the first\nformat   =  1"),
        ('"150 mm"', '"15 cm"'),
        ("#E8DCC0", "#e8dcc0"),
        ('tail = "250 mm"\n', "tail = '0.25 m'"),
    )
    assert read().digest == same.digest
    kind, _, figure = same.digest.partition(":")
    assert ("sha256", 64) == (kind, len(figure))
    assert 0 <= int(figure, 16)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Harbour", "Harbor"),
        ("two-hole herringbone", "two-hole brick"),
        ('"150 mm"', '"151 mm"'),
        ('length = "150 mm"', "rows = 150"),
        ('"half tile"', '"quarter tile"'),
        ('"half tile"', '{ like = "half tile", hole_spacing = "3.001 mm" }'),
        ('"15/0"', '"11/0"'),
        ("lagoon", "lagoons"),
        ("#2a7f8e", "#2a7f8f"),
        ("BAAB", "BABA"),
        ("lanes", "chart"),
        ('seeds = "S"', 'seeds = "A"'),
        ("0.15 mm", "0.16 mm"),
        ("250 mm", "251 mm"),
    ],
)
def test_every_value_changes_the_digest(read: Read, old: str, new: str) -> None:
    """A design that says anything else has another digest."""
    assert read().digest != read((old, new)).digest
