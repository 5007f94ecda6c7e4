"""The path, pass by pass, against the trade's way of telling it.

A step is written as it would be said: `+x` picks up x, `x` goes through it, `!x` passes it by,
`<x` goes back through it at the edge. S1.2 is the second seed of the strung row's first group,
T(3,1)a hole a of row 3's tile in column 1, s(3,1) the lone seed beside it, turn(3).1 the first
of the two seeds that row 3 turns with.
"""

from dataclasses import replace

import pytest
from weaving import STITCH, a_design, beads_of, closed_with, woven

from tracker.path.model import Hole, Pass, Row
from tracker.stitches import herringbone_rows

TWO_COLUMNS_SIX_ROWS = """
1 up
    +S1.1 +S1.2 +S1.3 +T(1,1)a
    +S2.1 +S2.2 +S2.3 +T(1,2)a
    turn: +S3.1 +S3.2 +S3.3 <T(1,2)b
2 down
    +s(2,2) +T(2,2)a S2.3 S2.2 S2.1 T(1,1)b
    +s(2,1) +T(2,1)a S1.3 S1.2 S1.1
    turn: <T(2,1)b
3 up
    +s(3,1) +T(3,1)a s(2,1) !T(1,1) T(2,2)b
    +s(3,2) +T(3,2)a s(2,2)
    turn: +turn(3).1 +turn(3).2 <T(3,2)b
4 down
    +s(4,2) +T(4,2)a s(3,2) !T(2,2) T(3,1)b
    +s(4,1) +T(4,1)a s(3,1)
    turn: +turn(4).1 +turn(4).2 <T(4,1)b
5 up
    +s(5,1) +T(5,1)a s(4,1) !T(3,1) T(4,2)b
    +s(5,2) +T(5,2)a s(4,2)
    turn: +turn(5).1 +turn(5).2 <T(5,2)b
6 down
    +s(6,2) +T(6,2)a s(5,2) !T(4,2) T(5,1)b
    +s(6,1) +T(6,1)a s(5,1)
    turn: +turn(6).1 +turn(6).2 <T(6,1)b
"""


def told(columns: int, rows: int) -> str:
    """The same table for any band, from the sentences of the trade."""
    group = "+S{0}.1 +S{0}.2 +S{0}.3"
    lines = ["1 up"]
    lines += [f"{group.format(c)} +T(1,{c})a" for c in range(1, columns + 1)]
    lines += [f"turn: {group.format(columns + 1)} <T(1,{columns})b", "2 down"]
    for c in reversed(range(2, columns + 1)):
        lines.append(f"+s(2,{c}) +T(2,{c})a S{c}.3 S{c}.2 S{c}.1 T(1,{c - 1})b")
    lines += ["+s(2,1) +T(2,1)a S1.3 S1.2 S1.1", "turn: <T(2,1)b"]
    for r in range(3, rows + 1):
        up = r % 2 == 1
        c, last, on = (1, columns, 1) if up else (columns, 1, -1)
        lines.append(f"{r} {'up' if up else 'down'}")
        while c != last:
            by, out = f"!T({r - 2},{c})", f"T({r - 1},{c + on})b"
            lines.append(f"+s({r},{c}) +T({r},{c})a s({r - 1},{c}) {by} {out}")
            c += on
        lines.append(f"+s({r},{c}) +T({r},{c})a s({r - 1},{c})")
        lines.append(f"turn: +turn({r}).1 +turn({r}).2 <T({r},{c})b")
    return "\n".join(lines)


Told = tuple[bool, tuple[int, ...], tuple[Pass, ...]]
"""A step: whether it turns, what it passes by, its passes."""


def understood(table: str) -> tuple[list[tuple[int, str, list[Told]]], list[str]]:
    """The rows of a table, beads by number in the order of picking up, and the beads' roles."""
    rows: list[tuple[int, str, list[Told]]] = []
    roles: list[str] = []
    for line in table.strip().splitlines():
        words = line.split()
        if words[0].isdigit():
            rows.append((int(words[0]), words[1], []))
            continue
        upward = rows[-1][1] == "up"
        turn = words[0] == "turn:"
        by, passes = [], []
        for word in words[turn:]:
            mark = word[0] if word[0] in "+!<" else ""
            role = word.removeprefix(mark)
            hole: Hole = "a" if role.endswith("a") else "b" if role.endswith("b") else ""
            role = role.removesuffix(hole)
            if mark == "+":
                roles.append(role)
            bead = roles.index(role)
            if mark == "!":
                by.append(bead)
            else:
                passes.append(Pass(bead, hole, upward != (mark == "<"), mark == "+"))
        rows[-1][2].append((turn, tuple(by), tuple(passes)))
    return rows, roles


def as_told(row: Row) -> tuple[int, str, list[Told]]:
    """A woven row in the form of the table's."""
    steps = [(step.turn, step.pass_by, step.passes) for step in row.steps]
    return (row.number, row.heading, steps)


def test_two_columns_six_rows_as_written_out() -> None:
    """Every pass of a small band is the one that stands in the table written by hand."""
    rows, _ = understood(TWO_COLUMNS_SIX_ROWS)
    assert rows == [as_told(row) for row in woven(2, 6).rows]


def test_sentences_tell_the_table() -> None:
    """The rules from which wider bands are checked give the hand-written table as well."""
    assert understood(TWO_COLUMNS_SIX_ROWS) == understood(told(2, 6))


@pytest.mark.parametrize("rows", range(2, 13))
@pytest.mark.parametrize("columns", [2, 3, 7])
def test_wider_and_longer_bands_as_told(columns: int, rows: int) -> None:
    """Every pass of bands of 2, 3 and 7 columns is the one that the trade's sentences give."""
    due, _ = understood(told(columns, rows))
    assert due == [as_told(row) for row in woven(columns, rows).rows]


@pytest.mark.parametrize("columns", [2, 3, 7])
def test_beads_are_what_the_table_calls_them(columns: int) -> None:
    """Tiles are tiles and seeds are seeds, numbered from 0 in the order of picking up."""
    _, roles = understood(told(columns, 8))
    kinds = ["tile" if role[0] == "T" else "seed" for role in roles]
    beads = beads_of(woven(columns, 8))
    assert list(range(len(roles))) == list(beads)
    assert kinds == [bead.kind for bead in beads.values()]


def test_sections() -> None:
    """The strung row and the return are the start; every other row is of the rows."""
    assert ["start"] * 2 + ["rows"] * 4 == [row.section for row in woven(2, 6).rows]


@pytest.mark.parametrize("columns", [2, 3, 7])
@pytest.mark.parametrize("beads", [("half tile", "15/0"), ("quarter tile", "15/0")])
def test_rows_of_the_middle_are_woven_like_those_before(
    columns: int, beads: tuple[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows written down as repeats are those woven one by one, but for a tenth of thread."""
    design = a_design(columns, 31, beads=beads, closure=closed_with("bead loops", columns))
    repeated = STITCH.weave(design, 31)
    monkeypatch.setattr(herringbone_rows, "REPEATS_FROM", 31)
    for one, again in zip(STITCH.weave(design, 31).rows, repeated.rows, strict=True):
        assert one == replace(again, thread=one.thread)
        assert one.thread == pytest.approx(again.thread, abs=0.11)
