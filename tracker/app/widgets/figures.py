"""What a design comes to, in lines beside its fields."""

from __future__ import annotations

from rich.style import Style

from tracker.app.lines import Run, fold, spoken
from tracker.app.look import Dress
from tracker.pattern.preview import Preview
from tracker.progress.left import duration

USUAL_STEP = 25.0
"""Seconds a step takes until a pace is known: an assumption to begin with, and told as one."""
LABEL = 8


def figures(preview: Preview, dress: Dress, width: int, pace: float | None) -> list[list[Run]]:
    """Rows, width, length, thread, needle, time and beads; `pace` is seconds a step, if known."""
    strong, quiet = dress.text(bold=True), dress.quiet

    def row(label: str, value: str, rest: str = "") -> list[Run]:
        return [(f" {label:<{LABEL}}", dress.label), (value, strong), (rest, quiet)]

    gauge, rows = preview.gauge, preview.rows
    low, high = gauge.length_range(rows)
    cut = preview.design.thread.length / 1000
    needle = preview.needle
    minutes = preview.steps * (pace or USUAL_STEP) / 60
    rate = "at your pace" if pace else f"at {USUAL_STEP:.0f} s a step"
    wide = gauge.width * gauge.width_spread
    lines = [
        row("ROWS", str(rows)),
        row("LENGTH", f"≈{gauge.length(rows):.0f}", f" mm, {low:.0f} to {high:.0f}"),
        *([row("INSIDE", *_inside(preview))] if preview.inside is not None else []),
        row(
            "GIRTH" if preview.pattern.around else "WIDTH",
            f"≈{gauge.width:.1f}",
            f" ±{wide:.1f} mm",
        ),
        row("THREAD", f"{preview.thread / 1000:.1f} m", f", {preview.lengths} of {cut:g} m"),
        row("NEEDLE", f"size {needle.size}", " or finer")
        if needle
        else row("NEEDLE", "", "none known passes"),
        row("TIME", f"≈{duration(minutes)}", f" {rate}"),
        *_beads(preview, dress),
    ]
    for note in preview.notes:
        lines += fold([(" ", quiet), *spoken(note, quiet)], width, 2)
    return lines


def _inside(preview: Preview) -> tuple[str, str]:
    inside, ease = preview.inside or 0.0, preview.ease
    said = f"{ease:.0f} mm of ease" if ease >= 0 else f"{-ease:.0f} mm too short"
    return f"≈{inside:.0f}", f" mm, {said}"


def _beads(preview: Preview, dress: Dress) -> list[list[Run]]:
    lines = []
    design = preview.design
    order = [colour.letter for colour in design.colours]
    for key in sorted(preview.beads, key=lambda key: (key[0] != "t", order.index(key[1]))):
        colour = design.colour(key[1])
        shape = design.own_tile if key[0] == "t" else design.own_seed
        kind = shape.kind
        chip = dress.chip(colour, kind)
        lines.append(
            [
                (" ", Style()),
                chip,
                (" " * (6 - len(chip[0])), dress.quiet),
                (f"{preview.beads[key]:>6} ", dress.text(bold=True)),
                (f"{colour.name} {shape.name}", dress.quiet),
            ]
        )
    return lines
