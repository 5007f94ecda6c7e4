"""A design as a draft: into its file and back, comments and spelling kept."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from design_texts import GOOD, STITCHES
from hypothesis import given
from hypothesis import strategies as st

from tracker.design.editing import (
    KINDS,
    NEW,
    Draft,
    DraftColour,
    SizeBy,
    checked,
    draft_of,
    written,
)
from tracker.design.model import Kind
from tracker.design.reader import parse_design
from tracker.problems import ProblemsError
from tracker.stitches import demands

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "patterns").glob("*.design.toml"))

SPELT = """\
# A band of my own
format=1   # the first
name = 'Harbour lights'
stitch = "two-hole herringbone"
size.length = "150 mm"   # by the old one
beads = { tile = { like = "half tile", hole_spacing = "3.1 mm" }, seed="15/0" }

[colours.A]   # from the blue tube
name = "lagoon"
hex = "#2A7F8E"
[colours.S]
name = "smoke"
hex = "#6b6f76"

# lanes, not rows
[layout]
seeds="S"
lanes  =  "AAAA"   # all alike
"""
"""As no writer would spell it: dotted keys, tables in lines and tables in sections."""

typed = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\r"), max_size=12)
letters = st.sampled_from("ABCDS")
lines_of = {
    "lanes": st.tuples(typed),
    "rows": st.tuples(typed),
    "chart": st.lists(st.text("ABS", min_size=1, max_size=8), min_size=1, max_size=5).map(tuple),
    "shape": st.lists(
        st.text("AB ", min_size=1, max_size=8).map(str.rstrip).filter(bool), min_size=1, max_size=5
    ).map(tuple),
}
colours = st.lists(
    st.builds(DraftColour, letters, typed, typed), unique_by=lambda c: c.letter, max_size=5
)


@st.composite
def drafts(draw: st.DrawFn) -> Draft:
    """Drafts of whatever may be typed."""
    kind: Kind = draw(st.sampled_from(KINDS))
    size_by: SizeBy = draw(st.sampled_from(("fit", "length", "rows")))
    fit = size_by == "fit"
    return Draft(
        name=draw(typed),
        stitch=draw(typed),
        across=draw(st.sampled_from(("columns", "lanes"))),
        start=draw(st.sampled_from(("", "ladder"))),
        wide=draw(st.one_of(typed, st.integers(0, 99).map(str))),
        size_by=size_by,
        size=draw(st.one_of(typed, st.integers(0, 99).map(str))),
        ease=draw(typed) if fit else "comfortable",
        whole_repeats=fit and draw(st.booleans()),
        tile=draw(st.sampled_from(("half tile", "", '{ like = "half tile", hole = "0.9 mm" }'))),
        seed=draw(typed),
        colours=tuple(draw(colours)),
        seeds=draw(typed),
        layout=kind,
        lines=draw(lines_of[kind]),
        mirror=draw(st.booleans()),
        centre=draw(st.booleans()),
        diameter=draw(typed),
        thread=draw(typed),
        tail=draw(typed),
        closure=draw(st.sampled_from(("none", "wire guards"))),
    )


@given(drafts(), st.sampled_from(["", GOOD, SPELT, *(d.read_text("utf-8") for d in DEMOS)]))
def test_what_is_written_is_what_was_drafted(draft: Draft, old: str) -> None:
    """Whatever is typed, over whatever file, comes back as it was typed."""
    assert draft == draft_of(written(draft, old))


@pytest.mark.parametrize("text", [GOOD, SPELT, *(d.read_text("utf-8") for d in DEMOS)])
def test_a_file_that_is_not_changed_stays_to_the_byte(text: str) -> None:
    """Opened and saved, a sound design keeps every character."""
    assert text == written(draft_of(text), text)


@given(drafts(), st.sampled_from([SPELT, *(d.read_text("utf-8") for d in DEMOS)]))
def test_a_change_taken_back_changes_nothing_that_is_said(draft: Draft, old: str) -> None:
    """There and back again, the design has the digest that it had."""
    before = draft_of(old)
    after = written(before, written(draft, old))
    known = demands()

    assert parse_design(old, stitches=known).digest == parse_design(after, stitches=known).digest


def test_comments_stay() -> None:
    """Values change, a colour comes, and each comment is where it was; unknown keys stay too."""
    text = DEMOS[-1].read_text("utf-8").replace("\ncolumns", '\nnote = "mine"\ncolumns')
    draft = draft_of(text)
    more = DraftColour("X", "rust", "#803020")
    changed = replace(draft, name="Other", wide="3", colours=(*draft.colours, more))
    new = written(changed, text)
    comments = [line for line in text.splitlines() if "#" in line and "hex" not in line]

    assert len(comments) >= 3
    assert [] == [line for line in comments if line not in new.splitlines()]
    assert 'note = "mine"\n' in new
    assert 'X = { name = "rust", hex = "#803020" }\n' in new
    assert "rust" == tomllib.loads(new)["colours"]["X"]["name"]


def test_a_comment_beside_a_changed_value_stays() -> None:
    """Behind the value, as it stood, whichever way the table is spelt."""
    changed = replace(draft_of(SPELT), lines=("ASSA",), size="16 cm", seed="11/0")
    new = written(changed, SPELT)

    assert "ASSA" == tomllib.loads(new)["layout"]["lanes"]
    for comment in ("# the first", "# by the old one", "# from the blue tube", "# all alike"):
        assert comment in new


def test_a_number_in_quotes_is_mended() -> None:
    """What the field shows is what is written, though the file said it as a text."""
    text = GOOD.replace("columns = 2", 'columns = "2"')

    assert "columns = 2\n" in written(draft_of(text), text)


def test_a_new_band_is_a_sound_design() -> None:
    """What the screen begins with has no problem, in the order of the README's design."""
    found = checked(NEW, "", stitches=STITCHES)

    assert () == found.problems
    assert found.design is not None
    assert NEW.name == found.design.name
    heads = [line for line in found.text.splitlines() if line.startswith("[")]
    assert ["[fit]", "[beads]", "[colours]", "[layout]", "[thread]"] == heads


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"wide": "two"}, "columns"),
        ({"wide": "007"}, "columns"),
        ({"size": "16"}, "fit.wrist"),
        ({"ease": "tight"}, "fit.ease"),
        ({"size_by": "rows", "size": "1"}, "size.rows"),
        ({"tile": "whole tile"}, "beads.tile"),
        ({"tile": "{ like = "}, "beads.tile"),
        ({"tile": '{ like = "half tile", hole = "9 mm" }'}, "beads.tile.hole"),
        ({"seeds": "T"}, "layout.seeds"),
        ({"lines": ("ABB",)}, "layout.lanes"),
        ({"layout": "chart", "lines": ("ABBA", "AB")}, "layout.chart line 2"),
        ({"diameter": "1 m"}, "thread.diameter"),
        ({"name": "bell\a"}, "name"),
        ({"colours": (*NEW.colours, NEW.colours[0])}, "colours.A"),
        ({"colours": (*NEW.colours, DraftColour("", "", ""))}, "colours"),
    ],
)
def test_problems_stand_at_their_keys(change: dict[str, object], where: str) -> None:
    """What was typed and is no good is found by the reader, under the key of its field."""
    found = checked(replace(NEW, **change), "", stitches=STITCHES)  # type: ignore[arg-type]

    assert found.design is None
    assert where in [problem.where for problem in found.problems]


def test_what_is_no_toml_is_a_problem() -> None:
    """A file that cannot be read at all is said so, not begun anew."""
    with pytest.raises(ProblemsError, match="cannot be read as TOML"):
        draft_of("name = ")
    with pytest.raises(ProblemsError, match="cannot be read as TOML"):
        written(NEW, "name = ")
