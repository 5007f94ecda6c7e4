"""Rows told by hand: read, refused with line and column, woven as the stitches weave, proved."""

from contextlib import suppress
from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from one_hole import a_seed_design, graph_of, table
from one_hole import woven as seeds_woven
from weaving import COLOURS, THREAD, a_design, passes_of
from weaving import woven as herringbone

from tracker.beads.catalogue import seeds, tiles
from tracker.design.model import Design, Layout, Size
from tracker.design.reader import parse_design
from tracker.design.written import LONGEST_LINE, MOST_DEEP, MOST_LINES
from tracker.path.model import ThreadPath
from tracker.path.words import step_sentence
from tracker.pattern.compiler import compile_design, prove_pattern
from tracker.problems import ProblemsError
from tracker.stitches import demands, find_stitch
from tracker.stitches.hand_moves import MOST_ROWS

NAME = "rows by hand"

HERRINGBONE = """
start up:
  pick up 3 S seeds called low and 1 A tile called odd 1
  pick up 3 S seeds called middle and 1 A tile called odd 2
  turn: pick up 3 S seeds, back through hole b of odd 2
start down:
  pick up 1 S seed called lone 2 and 1 B tile called even 2, through middle, through hole b of odd 1
  pick up 1 S seed called lone 1 and 1 B tile called even 1, through low
  turn: back through hole b of even 1
repeat 2 times:
  row up:
    pick up 1 S seed called rise 1 and 1 A tile called odd 1, through lone 1, pass by old odd 1,
      through hole b of even 2
    pick up 1 S seed called rise 2 and 1 A tile called odd 2, through lone 2
    turn: pick up 2 S seeds, back through hole b of odd 2
  row down:
    pick up 1 S seed called lone 2 and 1 B tile called even 2, through rise 2, pass by old even 2,
      through hole b of odd 1
    pick up 1 S seed called lone 1 and 1 B tile called even 1, through rise 1
    turn: pick up 2 S seeds, back through hole b of even 1
end
leave even 2 open
""".replace(",\n      through", ", through")

SQUARE = """
start up:
  pick up 1 A called below 1
  pick up 1 B called below 2
  turn: pick up 1 A called below 3
repeat 2 times as r:     # the second time round for the fourth and fifth row
  row down:
    pick up 1 A called above 3, pass by below 2, back through below 3, through above 3
    pick up 1 B called above 2, pass by below 1, back through below 2, through above 2
    turn: pick up 1 A called above 1, back through below 1, through above 1
  row up:
    repeat 2 times as n:
      pick up 1 A called below n, pass by above n+1, back through above n, through below n
    end
    turn: pick up 1 A called below 3, back through above 3, through below 3
end
"""


def by_hand(text: str, *, tile: bool = False) -> Design:
    """A design of these rows."""
    return Design(
        name="Harbour lights",
        stitch=NAME,
        lanes=1,
        size=Size(),
        tile=tiles()["half tile"] if tile else None,
        seed=seeds()["15/0" if tile else "11/0"],
        colours=COLOURS,
        layout=Layout(seeds="", kind="written", lines=tuple(text.split("\n"))),
        thread=THREAD,
    )


def woven(text: str, *, tile: bool = False) -> ThreadPath:
    """The path that the words tell."""
    return find_stitch(NAME).weave(by_hand(text, tile=tile), 0)


def refused(text: str, *, tile: bool = False) -> list[str]:
    """What is wrong with a design of these rows, each with its place."""
    with pytest.raises(ProblemsError) as caught:
        compile_design(by_hand(text, tile=tile))
    return [f"{p.where}: {p.what}; {p.mend}" for p in caught.value.problems]


def test_the_words_of_a_stitch_make_its_path() -> None:
    """Two-hole herringbone told by hand is, pass by pass, what the stitch weaves."""
    told, stitch = woven(HERRINGBONE, tile=True), herringbone(2, 6)
    assert passes_of(stitch) == passes_of(told)
    assert list(table(stitch)) == list(table(told))
    done = compile_design(by_hand(HERRINGBONE, tile=True))
    assert () == done.proof.faults == prove_pattern(done.pattern).faults
    by_stitch = compile_design(
        a_design(2, 6, layout=Layout(seeds="S", kind="rows", lines=("A", "B")))
    )
    assert by_stitch.pattern.totals == done.pattern.totals


def test_repeats_nest_and_names_go_on() -> None:
    """Square stitch told with repeats within repeats is what the stitch weaves."""
    layout = Layout(seeds="", kind="lanes", lines=("ABA",))
    stitch = seeds_woven(a_seed_design("square stitch", 3, 5, layout=layout))
    assert list(table(stitch)) == list(table(woven(SQUARE)))


def test_a_thread_gone_under() -> None:
    """Brick by hand: the needle may go straight back through a bead if it hangs on a thread."""
    ladder = (
        "start up:\n pick up 2 A called base\n through base 1, through base 2\n"
        "row up:\n pick up 1 B called top, {}back through top\n"
    )
    held = compile_design(by_hand(ladder.format("under base 1 and base 2, ")))
    assert () == held.proof.faults
    assert 1 == sum(len(s.under) for row in held.pattern.path().rows for s in row.steps)
    (line,) = refused(ladder.format(""))
    assert line.startswith("layout.written line 5 column 2 (row 2, step 1): rule 2 of the proof: ")


def test_the_same_file_each_time_and_read_again() -> None:
    """The words go into the pattern, which proves from its file alone, the same bytes each time."""
    done = compile_design(by_hand(SQUARE))
    assert done.text == compile_design(by_hand(SQUARE)).text
    assert by_hand(SQUARE).layout.lines == done.pattern.written
    assert "repeat 2 times as r:" in done.text


def test_a_path_that_cannot_lie_flat_is_refused() -> None:
    """Five beads each sewn to each other (K5, no plane graph; Kuratowski 1930) do not prove."""
    ring = "start up:\n pick up 5 A called bead\n through bead 1\n"
    star = ring + "row up:\n through bead 3, through bead 5, through bead 2, through bead 4\n"
    assert nx.check_planarity(graph_of(woven(star)))[0]
    k5 = star + "row up:\n through bead 1\n"
    assert not nx.check_planarity(graph_of(woven(k5)))[0]
    assert any("rule 6 of the proof: the thread crosses itself" in line for line in refused(k5))


def test_beads_that_hold_a_part_alone_are_told() -> None:
    """Networkx finds the same beads; a band may hang by one thread, but one should know."""
    text = "start up:\n pick up 3 A called ring\n through ring 1\n pick up 2 B called chain\n"
    done = compile_design(by_hand(text))
    cut = set(nx.articulation_points(graph_of(done.pattern.path())))
    assert {0, 3} == cut
    assert done.advice.startswith("beads 1, 4 (counted as they are picked up) each hold a part")


def test_beads_are_called_by_their_names() -> None:
    """The step says which bead is meant, by colour and by the beader's own name for it."""
    pattern = compile_design(by_hand(SQUARE)).pattern
    row = pattern.row(1)
    assert (
        "pick up 1 lagoon seed; pass by the sand seed; go through the lagoon seed, below 3; "
        "go through the lagoon seed you just added, above 3"
    ) == step_sentence(pattern, row, row.steps[0], full=True)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", "line 1 column 1: no row is written"),
        ("pick up 1 A", "line 1 column 1: a step belongs to a row; begin a row first"),
        ("start sideways:", 'line 1 column 7: "sideways" stands where up or down is due'),
        ("start up", "line 1 column 9: the end of the line stands where : is due"),
        ("start up:\n  pik up 1 A", 'line 2 column 3: "pik" begins no move; begin it with pick up'),
        ("start up:\n pick up A", 'line 2 column 10: "A" is no number of beads'),
        ("start up:\n pick up 2 called x", 'line 2 column 12: "called" is no colour\'s letter'),
        ("start up:\n pick up 1 A called b", 'line 2 column 21: "b" is no name of a bead'),
        ("start up:\n pick up 1 A !", "line 2 column 14: '!' has no meaning here"),
        ("start up:\n pick up 1 A 2", 'line 2 column 14: "2" is too much here'),
        ("start up:\n end", "line 2 column 2: there is no repeat to end"),
        ("start up:\n repeat 2 times:\n pick up 1 A", "line 2 column 2: the repeat has no end"),
        ("repeat n times:\n start up:\n pick up 1 A\nend", "line 1 column 1: n counts no repeat"),
        ("start up:\n pick up 1 A called one, through two", "line 2 column 34: no bead is called"),
        (
            "start up:\n pick up 1 A called one, through one 2",
            "line 2 column 34: there is no one 2",
        ),
        ("start up:\n pick up 1 A called one, through old one", "there is no old one"),
        ("start up:\n pick up 1 A called one, through hole b of one", "is a seed and has one hole"),
        ("start up:\n pick up 1 A tile", "line 2 column 10: the design has no tile"),
        ("start up:\n pick up 2 A called two, under two and two 1", "two is 2 beads, one is meant"),
        ("start up:\n pick up 1 A called one\n pass by one", "the step goes through no bead"),
        ("start up:\nrow down:\n pick up 1 A", "line 1 column 1: a row has no steps"),
        ("start up:\n leave one open", "line 2 column 8: no bead is called one yet"),
        ("start up:\n pick up 1 A\n" + " repeat 2 times:\n" * (MOST_DEEP + 1), "repeats within"),
        (
            "start up:\n pick up 1 A" + " " * LONGEST_LINE + "#",
            "line 2 column 200: the line is too",
        ),
        ("start up:\n pick up 1 A\n" + "\n" * MOST_LINES, f"there are {MOST_LINES + 4} lines"),
        (
            "repeat 5000 times:\n row up:\n pick up 1 A\n end\nrow up:\n pick up 1 A",
            f"it comes to over {MOST_ROWS} rows",
        ),
        (
            "start up:\n repeat 5000 times:\n repeat 5000 times:\n pick up 9 A\n end\n end",
            "it comes to over 10,000 beads or 100,000 passes; write fewer",
        ),
    ],
)
def test_slips_are_told_with_their_place(text: str, line: str) -> None:
    """Line and column as an editor counts them, what is wrong and how to mend it."""
    said = refused(text + "\n" if text else text)
    assert any(line in problem for problem in said), said
    assert all(problem.startswith("layout.written line ") for problem in said)


def test_every_slip_is_told_at_once() -> None:
    """Lines that cannot be read are all told; then, of those that can, what they mean."""
    said = refused("start up:\n pik up 1 A\n through\n pick up 1 A\n trough one")
    assert ["2 column 2", "3 column 9", "5 column 2"] == [p[20:30].rstrip(": ") for p in said]


def test_tiles_have_two_holes() -> None:
    """A tile's hole must be named, and hole b gone through, or said to be left open."""
    text = "start up:\n pick up 1 A tile called one and 1 S seed called two\n"
    assert any(
        "one is a tile and has two holes" in p for p in refused(text + " through one", tile=True)
    )
    (line,) = refused(text, tile=True)
    assert (
        "hole b of bead 0 (tile in A) stays open for ever; go through it, or write `leave" in line
    )
    assert () == compile_design(by_hand(text + "leave one open", tile=True)).proof.faults


def test_a_design_file_of_rows_by_hand() -> None:
    """From the text of a file: remarks, colours held against the design's, no size beside it."""
    text = (
        'format = 1\nname = "x"\nstitch = "rows by hand"\n[beads]\nseed = "11/0"\n'
        '[colours]\nA = { name = "sand", hex = "#e8dcc0" }\n'
        '[layout]\nwritten = """\nstart up:  # all of it\n  pick up 4 A called all\n"""\n'
    )
    design = parse_design(text, stitches=demands())
    assert ("start up:", "  pick up 4 A called all") == design.layout.lines
    with pytest.raises(ProblemsError) as caught:
        parse_design(text.replace("4 A", "4 C") + "[size]\nrows = 4\n", stitches=demands())
    said = [problem.line("") for problem in caught.value.problems]
    assert any("layout.written line" in p and '"C" is no colour\'s letter' in p for p in said)
    assert any("size: has no place here: layout.written tells every row" in p for p in said)


WORDS = """\
start row up down : pick up 1 2 7 A S seed tile called one two , through back hole a b of pass by
under and repeat times as n end leave open old 2n-1 turn # ! é"""
words = st.sampled_from([*WORDS.split(), "\n"])


@given(st.lists(words, max_size=60).map(" ".join))
def test_whatever_is_written_is_read_or_refused(text: str) -> None:
    """Any words in any order: a path with its proof, or problems with their places."""
    with suppress(ProblemsError):
        done = compile_design(by_hand(f"start up:\n{text}"))
        assert () == done.proof.faults == prove_pattern(done.pattern).faults


def test_a_thread_too_thick_is_told_at_the_words() -> None:
    """Where the holes take no more, the line that picks the bead up is named."""
    design = replace(by_hand(SQUARE), thread=replace(THREAD, diameter=0.45))
    with pytest.raises(ProblemsError) as caught:
        compile_design(design)
    assert all(
        "rule 5" in p.what and p.where.startswith("layout.written") for p in caught.value.problems
    )
