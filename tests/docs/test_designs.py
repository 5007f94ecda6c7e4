"""docs/designs.md: every example can be woven, and every key that the reader knows is told."""

import re
import tomllib
from collections.abc import Collection
from typing import Any

import pytest
import tomli_w
from documents import DESIGNS, blocks

from tracker.beads.catalogue import seeds, tiles
from tracker.design.closure_reader import USUAL_LENGTH
from tracker.design.fields import Fields
from tracker.design.reader import parse_design
from tracker.fit.model import EASES
from tracker.loading import compile_text
from tracker.problems import ProblemsError
from tracker.stitches import demands

EXAMPLES = blocks(DESIGNS, "toml")
WHOLE = EXAMPLES[0]
COMMENTED = re.compile(r"^# (\w+ = .+)$", re.MULTILINE)
BEADS = ("beads.tile", "beads.seed")
"""Tables whose keys stand in a table of their own, without the place."""


def with_example(example: str) -> str:
    """The whole design with the tables of an example in place of its own."""
    design: dict[str, Any] = tomllib.loads(WHOLE)
    given = tomllib.loads(example)
    if "stitch" in given:
        return example
    if "fit" in given:
        del design["size"]
    return tomli_w.dumps({**design, **given})


def test_the_first_example_is_whole() -> None:
    """It has everything that must be there, and says nothing against its beads."""
    assert WHOLE.startswith("format = 1")
    assert "" == compile_text(WHOLE).advice
    assert len(EXAMPLES) > 10


@pytest.mark.parametrize("example", EXAMPLES, ids=range(len(EXAMPLES)))
def test_every_example_compiles(example: str) -> None:
    """Each can be put into the whole design and proved; so it can with what it has in comments."""
    assert compile_text(with_example(example)).proof.passes > 100


def test_measured_beads_suit_each_other() -> None:
    """The example of measured beads is no worse for the weave than the named ones."""
    (measured,) = (example for example in EXAMPLES if "hole_spacing" in example)
    assert "" == compile_text(with_example(measured)).advice


def test_what_stands_in_comments_is_read() -> None:
    """The keys that an example shows in comments are ones that it may have."""
    (closure,) = (example for example in EXAMPLES if "[closure]" in example)
    said = COMMENTED.findall(closure)
    assert ["rings = 3             # with bead loops: a loop for each ring of the bar clasp"] == [
        line for line in said if line.startswith("rings")
    ]
    more = COMMENTED.sub(r"\1", closure).replace("wire guards", "bead loops")
    more = more.replace("rings = 3", "rings = 2").replace('colour = "P"', 'colour = "S"')
    closed = parse_design(with_example(more), stitches=demands()).closure
    assert (2, "S") == (closed.rings, closed.colour)


def test_every_key_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the reader would take in any table stands on the page, with its place."""
    known: dict[str, set[str]] = {}
    refuse = Fields.refuse_unknown

    def noted(self: Fields, keys: Collection[str]) -> None:
        known.setdefault(self.place, set()).update(keys)
        refuse(self, keys)

    monkeypatch.setattr(Fields, "refuse_unknown", noted)
    for example in EXAMPLES:
        parse_design(with_example(example), stitches=demands())
    assert {"", "size", "beads", "layout", "thread", "fit", "gauge", "closure", *BEADS} <= set(
        known
    )
    told = set(re.findall(r"`([^`\n]+)`", DESIGNS))
    wanted = {
        key if place in ("", *BEADS) else f"{place}.{key}"
        for place, keys in known.items()
        for key in keys
    }
    wanted -= {f"colours.{letter}.{key}" for letter in "BS" for key in ("name", "hex")}
    assert {"colours.A.name", "layout.centre", "hole_spacing", "fit.whole_repeats"} <= wanted
    assert set() == wanted - told


def test_no_key_is_made_up() -> None:
    """Each dotted name in a table's first column is a key that the reader looks for."""
    for name in re.findall(r"^\| `([a-z]+\.[a-z_]+)` \|", DESIGNS, re.MULTILINE):
        table, _, key = name.partition(".")
        # A key that is known and wrong is told otherwise than one that is not known.
        text = tomli_w.dumps({**tomllib.loads(WHOLE), table: {key: 0, "zzzz": 1}})
        with pytest.raises(ProblemsError) as error:
            parse_design(text, stitches=demands())
        unknown = [p.where for p in error.value.problems if "is no known key" in p.what]
        assert [f"{table}.zzzz"] == unknown


def test_mistakes_are_reported_as_shown() -> None:
    """Three slips in the whole design give the lines that are quoted."""
    wrong = WHOLE.replace('"150 mm"', "150").replace("seed =", "sede =").replace("BAAB", "BAB")
    with pytest.raises(ProblemsError) as error:
        parse_design(wrong, stitches=demands())
    (shown,) = (b for b in blocks(DESIGNS, "console") if "tracker compile" in b)
    assert shown.splitlines()[1:] == error.value.in_file("band.design.toml").lines()


def test_every_bead_is_named() -> None:
    """The tiles and seeds that a design may name are named."""
    assert [] == [name for name in (*tiles(), *seeds()) if f"`{name}`" not in DESIGNS]


def test_the_usual_figures_are_as_told() -> None:
    """What is taken when a key is left out, or named by a word, stands there with its figure."""
    for name, ease in EASES.items():
        assert f'"{name}" {ease:g} mm' in DESIGNS
    for kind, length in USUAL_LENGTH.items():
        assert kind == "none" or f"{kind} {length:g} mm" in DESIGNS
    thread = parse_design(WHOLE, stitches=demands()).thread
    assert f"and no thicker than a hole | {thread.diameter:g} mm |" in DESIGNS
    assert f"| {thread.length / 1000:g} m |" in DESIGNS
    assert f"| {thread.tail:g} mm |" in DESIGNS
