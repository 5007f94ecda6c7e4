"""Colours of a design that are easily mistaken for each other, and what would tell them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from tracker.colours.difference import Lab, ciede2000, colour_at, lab_of
from tracker.colours.vision import VISIONS, Vision, seen
from tracker.design.model import Colour
from tracker.path.words import listed
from tracker.problems import Problem

APART = 10.0
"""The least difference (CIEDE2000) of two colours that are told apart at a glance.

About 1 is the least that is seen when two flat patches touch. Beads are small, round, and seen
under a lamp; a shade written down by eye, or another batch of the same glass, is easily 5 off.
Two such errors may add up: 10 is what must remain.
"""

_HELP: dict[Vision, str] = {
    "protan": "eyes that see little red",
    "deutan": "eyes that see little green",
    "tritan": "eyes that see little blue",
}
# Lightness is all that a change is sought in: the beader has chosen the hue.
_LIGHTEST, _DARKEST = 97, 6


def alike(colours: Sequence[Colour]) -> tuple[Problem, ...]:
    """A note on each pair that is hard to tell apart, with the nearest shade that is not.

    `where` names the two colours' letters. The shade is for the second of the pair: it differs
    from the design's by lightness alone, and stands apart from all its colours.
    """
    return tuple(_notes(colours))


def _notes(colours: Sequence[Colour]) -> Iterator[Problem]:
    views = [_views(colour.hex) for colour in colours]
    advice: dict[int, str] = {}
    for one, other in combinations(range(len(colours)), 2):
        far, *others = map(ciede2000, views[one], views[other])
        whose = [_HELP[v] for v, d in zip(VISIONS, others, strict=True) if d < APART]
        if far < APART:
            whose = ["all eyes"]
        if whose:
            if other not in advice:
                rest = [colour.hex for i, colour in enumerate(colours) if i != other]
                advice[other] = _advice(colours[other], rest)
            yield Problem(
                f"colours.{colours[one].letter} and colours.{colours[other].letter}",
                f"{colours[one].name} and {colours[other].name} are hard to tell apart "
                f"for {listed(whose)}",
                advice[other],
            )


def _advice(colour: Colour, others: Sequence[str]) -> str:
    shade = separable(colour.hex, others)
    if shade is None:
        return f"go by the letters, or choose another colour than {colour.name}"
    lighter = lab_of(shade).lightness > lab_of(colour.hex).lightness
    which = "lighter" if lighter else "darker"
    return f"a {which} {colour.name} would stand apart ({shade}); or go by the letters"


def separable(colour: str, others: Sequence[str]) -> str | None:
    """The shade nearest in lightness that is told apart from all others by all eyes, or None."""
    place = lab_of(colour)
    views = [_views(other) for other in others]
    by_nearness = sorted(
        range(_DARKEST, _LIGHTEST + 1), key=lambda lightness: abs(lightness - place.lightness)
    )
    for lightness in by_nearness:
        shade = colour_at(Lab(lightness, place.a, place.b))
        mine = _views(shade)
        if all(
            ciede2000(*pair) >= APART for view in views for pair in zip(mine, view, strict=True)
        ):
            return shade
    return None


def _views(colour: str) -> tuple[Lab, ...]:
    """A colour as eyes with all cones see it, then as each other vision does."""
    return tuple(lab_of(as_seen) for as_seen in (colour, *(seen(colour, v) for v in VISIONS)))
