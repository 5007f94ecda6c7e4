"""A layout that draws the outline of the work: a line a row, a letter a bead.

Letters stand two characters apart, so a character is half a bead. Each row lies between the beads
of the one before: at either edge it reaches half a bead further out or in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from tracker.design.fields import quoted
from tracker.problems import Problem


def drawn_outline(rows: Iterable[str]) -> tuple[tuple[int, int], ...]:
    """For each row where its first bead lies, in half beads, and how many beads it has."""
    return tuple((len(row) - len(row.lstrip(" ")), len(row.replace(" ", ""))) for row in rows)


def faults_of_shape(where: str, rows: Mapping[int, str], most: int) -> Iterator[Problem]:
    """What is wrong with the rows (by the numbers of their lines), of no more than `most` beads."""
    if len(rows) == 1:
        yield Problem(where, "has one row", "draw two or more, a line each")
    sound = True
    for n, line in rows.items():
        fault = _of_row(line, most, may_be_one=n == max(rows) and n > min(rows))
        if fault is not None:
            sound = False
            yield Problem(f"{where} line {n}", *fault)
    if sound:
        for (_, before), (n, line) in pairwise(rows.items()):
            for fault in _of_edges(before, line):
                yield Problem(f"{where} line {n}", *fault)


def _of_row(line: str, most: int, *, may_be_one: bool) -> tuple[str, str] | None:
    row = line.strip(" ")
    beads = len(row.replace(" ", ""))
    if not row:
        return ("is empty within the shape", "take the line out, or draw its row")
    if row[1::2].strip(" "):
        what = f"{quoted(row)} has letters that do not stand two characters apart"
        return (what, "write one space between two letters: a character is half a bead")
    if " " in row[::2]:
        return (
            f"{quoted(row)} has a gap",
            "fill it: a row is one piece, its edges alone are shaped",
        )
    if beads == 1 and not may_be_one:
        return ("has one bead, which only the last row may", "draw two or more")
    if beads > most:
        return (f"has {beads} beads", f"draw no more than {most}")
    return None


def _of_edges(before: str, line: str) -> Iterator[tuple[str, str]]:
    starts = [len(drawn) - len(drawn.lstrip(" ")) for drawn in (before, line)]
    for edge, out, shift in (
        ("begins", "left", starts[0] - starts[1]),
        ("ends", "right", len(line) - len(before)),
    ):
        if abs(shift) == 1:
            continue
        if not shift:
            what = f"{edge} at the same place as the line before"
        else:
            way = "further out" if shift > 0 else "further in"
            what = f"{edge} {abs(shift)} characters {way} than the line before"
        back = {"left": "right", "right": "left"}[out]
        yield (what, f"let it be one character further {out} or {back}: half a bead a row")
