"""The JSON documents that the commands print; keys are fixed, values are plain data."""

from __future__ import annotations

from collections import Counter
from itertools import groupby

from tracker.path.model import Row
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import Supplies
from tracker.progress.left import Left

FORMAT = 1

Json = dict[str, object]


def path_document(pattern: Pattern) -> Json:
    """The whole thread path."""
    rows = pattern.path().rows
    return {
        "format": FORMAT,
        "beads": [
            {"id": bead.id, "kind": bead.kind, "shape": bead.shape, "colour": bead.colour}
            for row in rows
            for bead in row.beads
        ],
        "sections": [
            {"name": name, "rows": [_row(row) for row in section]}
            for name, section in groupby(rows, key=lambda row: row.section)
        ],
    }


def _row(row: Row) -> Json:
    steps = [
        {
            "passes": [
                {"bead": p.bead, "hole": p.hole, "picked_up": p.picked_up} for p in step.passes
            ],
            "turn": step.turn,
            "pass_by": list(step.pass_by),
            **({"note": step.note} if step.note else {}),
            # Before which pass the needle goes under the thread between which two beads.
            **({"under": [[at, *beads] for at, beads in step.under]} if step.under else {}),
        }
        for step in row.steps
    ]
    return {"row": row.number, "heading": row.heading, "steps": steps}


def supplies_document(supplies: Supplies) -> Json:
    """What to have ready."""
    return {
        "beads": [
            {
                "colour": bead.colour,
                "shape": bead.shape.name,
                "count": bead.count,
                "with_spare": bead.with_spare,
                "grams": round(bead.grams, 2),
            }
            for bead in supplies.beads
        ],
        "thread_mm": round(supplies.thread, 1),
        "lengths": supplies.lengths,
        "findings": [{"name": name, "count": count} for name, count in supplies.findings],
    }


def left_document(piece: str, left: Left) -> Json:
    """What is still to do."""
    beads: Counter[str] = Counter()
    for key, count in left.beads.items():
        beads[key[1]] += count
    return {
        "piece": piece,
        "section": left.section,
        "row": left.row,
        "rows": left.rows,
        "step": left.step,
        "steps": left.steps,
        "rows_left": left.rows_left,
        "rows_left_range": list(left.rows_left_range),
        "length_mm": round(left.length, 1),
        "target_mm": round(left.target, 1),
        "length_left_mm": round(left.length_left, 1),
        "beads_left": dict(beads),
        "thread_left_mm": round(left.thread, 1),
        "join_in_rows": left.join_in_rows,
        "minutes_left": None if left.minutes is None else round(left.minutes, 1),
        "finished": left.finished,
    }
