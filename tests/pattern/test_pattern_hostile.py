"""Patterns that somebody sealed again after tampering: refused in words, or harmless."""

import contextlib
import re
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from one_hole import a_seed_design
from sealing import changed, compiled, problems, resealed
from tiled import a_tile_design

from tracker.design.model import Layout
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.pattern.model import Pattern
from tracker.pattern.reader import parse_pattern
from tracker.pattern.thread_plan import plan_thread
from tracker.pictures.cells import Look, draw
from tracker.pictures.scene import scene_at
from tracker.pictures.view import view_for
from tracker.problems import ProblemsError

MOVES = st.one_of(
    st.sampled_from(["sS", "tA", "tB", "sA", "tS", "sS<", "tA<", "turn", "|", "| turn", "<", ""]),
    st.builds(
        "{}{}{}{}".format,
        st.sampled_from(["", "", "!"]),
        st.integers(0, 45) | st.integers(0, 10**8),
        st.sampled_from(["", "a", "b", "c"]),
        st.sampled_from(["", "", "<"]),
    ),
)


def use(pattern: Pattern) -> None:
    """Everything that the tracker does with a pattern that it has let in."""
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    for number in range(pattern.row_count):
        row = pattern.row(number)
        assert len(row.steps) == pattern.steps_in(number)
        for i, step in enumerate(row.steps):
            for full in (True, False):
                assert step_sentence(pattern, row, step, full=full).isprintable()
            scene = scene_at(pattern, number, i, back=3, whole_row=i == 0)
            view = view_for(50, 12, low=-3.0, high=12.0, focus=scene.focus)
            assert 12 == len(draw(scene, view, colours, Look(mono=i == 1)))
    scene_at(pattern, pattern.row_count, 0, back=3)
    assert sum(len(row.beads) for row in pattern.path().rows) == pattern.totals.total()
    assert list(pattern.kinds())
    assert plan_thread(pattern.thread_before, pattern.thread).needed >= 0
    with contextlib.suppress(ProblemsError):
        prove_pattern(pattern)


def let_in(text: str) -> bool:
    """Whether a tampered pattern is read; one that is must be harmless."""
    text = resealed(text)
    found = problems(text)
    assert all(line.isprintable() for line in found)
    if not found:
        use(parse_pattern(text))
    return not found


def test_good_pattern_is_used() -> None:
    """What is done to a tampered pattern below can be done to a good one."""
    assert let_in(compiled().text)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("sS tA 13 !3 12b", "sS tA 13b !3 12b"),  # a seed has no hole b
        ("sS tA 13 !3 12b", "sS tA 13 !3 12"),  # which hole of the tile?
        ("sS tA 13 !3 12b", "sS tA 16 16"),  # straight back
        ("sS tA 13 !3 12b", "sS tA 13 !3 !3 !3"),
        ("turn sS sS 18b<", "sS sS 18b<"),
        ("turn sS sS 18b<", "turn sS sS 18b< | turn 18b | turn 18b"),
        ("3 up 15 4.81", "3 down 15 9999999.99"),
        ("columns = 2", "columns = 1000"),
        ('stitch = "two-hole herringbone"', 'stitch = "two-hole nothing"'),
        ("0.00 2.76 45.0,-1.31", "9999999.99 -9999999.99 -999.9,-1.31"),
    ],
)
def test_wrong_path_is_told_by_its_proof(old: str, new: str) -> None:
    """What no reader can see in a line is harmless to show, and the proof refuses it."""
    text = changed((old, new))
    assert let_in(text)
    with pytest.raises(ProblemsError) as caught:
        prove_pattern(parse_pattern(text))
    assert caught.value.lines()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("3 up 15 4.81 3 20.5", "3 up 15 4.81 3 0.0"),
        ('length = "1800 mm"', 'length = "0.001 mm"'),
        ('tail = "250 mm"', 'tail = "100 m"'),
        ('pitch = "2.4042 mm"', 'pitch = "0.001 mm"'),
        ('passage = "2.3 mm"', 'passage = "0.001 mm"'),
        ('diameter = "0.15 mm"', 'diameter = "99999 mm"'),
        ("pitch_spread = 0.04", "pitch_spread = 1.0"),
    ],
)
def test_measures_that_no_band_has(old: str, new: str) -> None:
    """Measures that are read but make no sense do no harm."""
    assert let_in(changed((old, new)))


DAMAGES = [
    ('"lagoon"', r'"la\u001b[31mgoon"', "colours.A.name", "cannot be shown, U+001B"),
    ('"lagoon"', r'"la\u202egoon"', "colours.A.name", "cannot be shown, U+202E"),
    ('"Harbour lights"', r'"a\nb"', "name", "cannot be shown, U+000A"),
    ('name = "rows"', r'name = "r\u009bows"', "sections[2].name", "U+009B"),
    ('"#2a7f8e"', r'"#2a7f8e\u001b"', "colours.A.hex", "is not in its form"),
    ('"#2a7f8e"', '"red"', "colours.A.hex", "is not in its form"),
    ("[colours.A]", "[colours.AA]", "colours.AA", "is not one capital letter"),
    ("[shapes.t]", "[shapes.T]", "shapes.T", "is not one small letter"),
    ('kind = "tile"', 'kind = "cube"', "shapes.t.kind", '"cube" is not known'),
    ('kind = "tile"', 'kind = "seed"', "shapes", "should hold a tile, a seed or both"),
    ('"half tile"', '"15/0"', "shapes", "has one name for two shapes"),
    ('hole_spacing = "3 mm"', 'hole_spacing = "5 mm"', "shapes.t", "holes that it cannot have"),
    ('hole_spacing = "3 mm"', 'hole_spacing = "0.5 mm"', "shapes.t", "holes that it cannot have"),
    ('pitch = "2.4042 mm"', 'pitch = "nan mm"', "gauge.pitch", "nan"),
    ('pitch = "2.4042 mm"', 'pitch = "0 mm"', "gauge.pitch", "0 mm"),
    ('pitch = "2.4042 mm"', "pitch = 2.4", "gauge.pitch", "should be a length in quotes"),
    ("pitch_spread = 0.04", "pitch_spread = nan", "gauge.pitch_spread", "should be a share"),
    ("pitch_spread = 0.04", "pitch_spread = -0.5", "gauge.pitch_spread", "should be a share"),
    ("columns = 2", "columns = 0", "columns", "0 is out of range"),
    ("columns = 2", "columns = true", "columns", "should be a whole number"),
    ("columns = 2", "columns = 2\npath = 3", "path", "is no known key"),
    ('design = "sha256:', 'design = "sha257:', "design", "is not in its form"),
    ("[places]", "[plaices]", "plaices", "is no known key"),
    ('name = "start"\nrows', 'name = "start"\nrose', "sections[1].rose", "is no known key"),
]


@pytest.mark.parametrize(("old", "new", "where", "what"), DAMAGES)
def test_damaged_tables(old: str, new: str, where: str, what: str) -> None:
    """A table that cannot be is refused with its place, and nothing of it reaches a terminal."""
    found = problems(changed((old, new)))
    assert all(line.isprintable() for line in found)
    assert 1 == len([line for line in found if f": {where}: " in line and what in line])


def test_sections_that_are_none() -> None:
    """Sections of another kind, without rows, or with a single row, are refused."""
    text = compiled().text
    before, _, after = text.partition("\n[[sections]]\n")
    assert any("sections: " in line for line in problems(resealed(f"{before}\n[sections]\n")))
    listed = changed(("name = ", "sections = [1]\nname = "), text=before)
    assert any("sections: " in line for line in problems(listed))
    one_row = after[: after.index("2 down")] + "'''\n"
    assert (
        "there are 1 rows, from 2 to 10000 go"
        in (problems(resealed(f"{before}\n[[sections]]\n{one_row}"))[0])
    )


def test_every_key_missing() -> None:
    """A pattern without one of its keys or tables is refused by its name."""
    text = compiled().text
    for key in tomllib.loads(text).keys() - {"format", "seal", "sections"}:
        renamed = re.sub(rf"(?m)^(\[?){key}\b", rf"\1{key}x", text)
        assert any(f"pattern.toml: {key}" in line for line in problems(resealed(renamed)))


@given(st.data())
@settings(max_examples=150, deadline=None)
def test_any_tampering_with_rows(draw: st.DataObject) -> None:
    """Rows with any moves in them are refused, or everything that the tracker does works."""
    head, middle, tail = compiled().text.partition('name = "rows"')
    words = tail.split(" ")
    for _ in range(draw.draw(st.integers(1, 4))):
        words[draw.draw(st.integers(0, len(words) - 1))] = draw.draw(MOVES)
    let_in(head + middle + " ".join(words))


MOVES_OF_A_ROW = re.compile(r"(?m)^\d+ (?:up|down) [^:]*: (.*)$")
REFERENCE = re.compile(r"!?\d+[ab]?<?")


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_any_tampering_with_references(draw: st.DataObject) -> None:
    """Rows that the reader lets in, because each bead is there, do no harm."""
    text = compiled().text
    row = draw.draw(st.sampled_from(list(MOVES_OF_A_ROW.finditer(text))))
    at = draw.draw(st.sampled_from(list(REFERENCE.finditer(text, *row.span(1)))))
    bead = draw.draw(st.integers(0, 10))
    holes = st.sampled_from(["", "a", "b", "<", "a<", "b<"])
    new = draw.draw(st.just(f"!{bead}") | holes.map(lambda hole: f"{bead}{hole}"))
    assert let_in(text[: at.start()] + new + text[at.end() :])


def _other(stitch: str) -> str:
    """A pattern in a stitch of another kind."""
    tiled = "two-hole" in stitch
    design = a_tile_design(stitch, 3, 4) if tiled else a_seed_design(stitch, 3, 4)
    return compile_design(design).text


OTHERS = {
    name: _other(name)
    for name in ("ladder stitch", "brick stitch", "two-hole ladder", "two-hole brick")
}
A_MOVE = re.compile(r"~\d+~\d+|!?\d+[ab]?<?|[a-z][A-Z]<?|turn|\|")


@pytest.mark.parametrize("stitch", OTHERS)
@given(st.data())
@settings(max_examples=60, deadline=None)
def test_any_tampering_with_other_stitches(stitch: str, draw: st.DataObject) -> None:
    """Words, pictures and proof of the other stitches bear whatever the reader lets in."""
    text = OTHERS[stitch]
    for _ in range(draw.draw(st.integers(1, 3))):
        row = draw.draw(st.sampled_from(list(MOVES_OF_A_ROW.finditer(text))))
        at = draw.draw(st.sampled_from(list(A_MOVE.finditer(text, *row.span(1)))))
        unders = st.builds("~{}~{}".format, st.integers(0, 12), st.integers(0, 12))
        moves = unders | st.sampled_from(["| sA", "| tB", "|", ""]) | MOVES
        text = text[: at.start()] + draw.draw(moves) + text[at.end() :]
        text = text.replace("  ", " ").replace(" \n", "\n")
    let_in(text)


def test_the_last_move_of_a_step_goes_somewhere() -> None:
    """A thread to go under with nothing behind it is refused with its row."""
    good = OTHERS["brick stitch"]
    row = next(line for line in good.splitlines() if line.startswith("2 down"))
    wrong = problems(resealed(good.replace(row, f"{row} ~1~0")))
    assert ["row 2: it goes under a thread and nowhere from there"] == [
        line.partition("pattern.toml: ")[2].partition(";")[0] for line in wrong
    ]


def test_an_outline_is_that_of_the_rows() -> None:
    """Rows that are not as long as the outline says are refused."""
    layout = Layout(seeds="", kind="shape", lines=(" A A", "A A A"))
    text = compile_design(a_seed_design("brick stitch", 3, 2, layout=layout)).text
    for outline in ("1+2", "1+2 0+3 1+2", "1+2 0+4", "0+3 1+2"):
        wrong = problems(changed(('outline = "1+2 0+3"', f'outline = "{outline}"'), text=text))
        assert ["outline: is not that of the rows"] == [
            line.partition("pattern.toml: ")[2].partition(";")[0] for line in wrong
        ]
    broken = problems(changed(('outline = "1+2 0+3"', 'outline = "1+2 0"'), text=text))
    assert [True] == ["outline: is not in its form" in line for line in broken]


def test_distant_beads_take_no_time() -> None:
    """A bead said to lie ten kilometres off is not drawn to, pixel by pixel."""
    pattern = parse_pattern(changed(("0.00 2.76 45.0,-1.31", "9999999.99 -9999999.99 0.0,-1.31")))
    scene = scene_at(pattern, 0, 0, back=3, whole_row=True)
    assert [point for point in scene.way if abs(point[0]) > 10**6]
    colours = {colour.letter: colour.hex for colour in pattern.colours}
    view = view_for(50, 12, low=-3.0, high=12.0, focus=(0.0, 0.0))
    assert 12 == len(draw(scene, view, colours, Look()))
