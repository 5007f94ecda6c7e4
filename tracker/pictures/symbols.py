"""Beads as shapes of a drawing, each kind drawn once and used wherever it lies.

A tile is seen from above, a seed from the side: a flat face, a rim of a deeper tone inside its
true outline, a line of light along the upper edge, and dark marks where the holes open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tracker.beads.model import Finding, Seed, Shape, Tile
from tracker.colours.srgb import colour_of, ink_on, light_of, luminance
from tracker.pictures.paper import FACES, ON_PAPER, Inks, number

RIM = 0.14
"""Thickness of the rim, mm."""
METAL, METAL_WIRE = "#8a929e", 0.4
"""Tone and thickness of the outline of a finding."""
LETTER, SMALL_LETTER = 1.5, 1.1
"""Height of the letter on a tile, and of that on a seed, mm."""
LETTER_SHARE = 0.9
"""Height of a letter as a share of its bead's smaller side, at most."""


def rim_on(colour: str) -> str:
    """The rim's tone: half the bead's light, or more light where the bead is dark itself."""
    light = light_of(colour)
    if luminance(colour) > 0.035:
        return colour_of([amount * 0.45 for amount in light])
    return colour_of([amount + 0.12 * (1 - amount) for amount in light])


class Symbols:
    """The kinds of beads that a drawing uses, by shape, colour and tilt.

    Every id begins with `mark`, which sets two drawings in one page apart. Beads of the kind `body`
    bear their `letters`, and seeds among tiles theirs if there is room for `small_letters` too.
    """

    def __init__(
        self,
        colours: Mapping[str, str],
        *,
        letters: bool,
        small_letters: bool = False,
        mark: str = "",
        body: str = "tile",
        inks: Inks = ON_PAPER,
    ) -> None:
        self._mark = mark
        self._body = body
        self._inks = inks
        self._small_letters = small_letters
        self._colours = colours
        self._letters = letters
        self._drawn: dict[tuple[str, str, float], tuple[str, str]] = {}

    def bead(self, shape: Shape, colour: str, tilt: float) -> str:
        """The id of a bead of that shape, colour's letter and tilt."""
        key = (shape.name, colour, tilt)
        if key not in self._drawn:
            name = f"{self._mark}{shape.kind}-{colour}-{len(self._drawn) + 1}"
            self._drawn[key] = (name, self._bead(name, shape, colour, tilt))
        return self._drawn[key][0]

    def outline(self, shape: Shape, tilt: float) -> str:
        """The id of an outline round a bead of that shape and tilt."""
        key = (shape.name, "", tilt)
        if key not in self._drawn:
            name = f"{self._mark}{shape.kind}-outline-{len(self._drawn) + 1}"
            long, wide, round_ = size_of(shape)
            body = "".join(
                f'<rect {_box(long, wide, round_, grown)} fill="none" stroke="{colour}" '
                f'stroke-width="{number(thick)}"/>'
                for colour, thick, grown in (
                    (self._inks.paper, 0.72, 0.1),
                    (self._inks.rim, 0.34, 0.06),
                )
            )
            self._drawn[key] = (name, f'<g id="{name}"{_turned(tilt)}>{body}</g>')
        return self._drawn[key][0]

    def defs(self) -> Iterator[str]:
        """Every kind used so far, as elements for `<defs>`."""
        return (drawn for _, drawn in self._drawn.values())

    def _bead(self, name: str, shape: Shape, letter: str, tilt: float) -> str:
        colour = self._colours[letter]
        long, wide, round_ = size_of(shape)
        if isinstance(shape, Finding):
            # Metal, open inside: it has no colour of the design and no letter.
            box = _box(long, wide, round_, -METAL_WIRE / 2)
            line = f'fill="none" stroke="{METAL}" stroke-width="{METAL_WIRE}"'
            return f'<g id="{name}"{_turned(tilt)}><rect {box} {line}/></g>'
        face = (
            f'<rect {_box(long, wide, round_, -RIM / 2)} fill="{colour}" '
            f'stroke="{rim_on(colour)}" stroke-width="{RIM}"/>'
        )
        light = (
            f'<path d="M{number(-long * 0.3)} {number(0.32 - wide / 2)}h{number(long * 0.6)}" '
            'stroke="#fff" stroke-opacity=".5" stroke-width=".15" stroke-linecap="round"/>'
        )
        largest = LETTER if shape.kind == self._body else SMALL_LETTER
        lettered = self._letters if shape.kind == self._body else self._small_letters
        size = min(largest, LETTER_SHARE * min(long, wide))
        mark = letter_on(colour, letter, size) if lettered else ""
        if isinstance(shape, Seed):
            return f'<g id="{name}"><g{_turned(tilt)}>{face}{"" if mark else light}</g>{mark}</g>'
        body = f"<g{_turned(tilt)}>{face}{light}{_mouths(shape)}</g>"
        return f'<g id="{name}">{body}{mark}</g>'


def letter_on(colour: str, letter: str, size: float) -> str:
    """A letter in the middle of a bead of that colour."""
    return (
        f'<text y="{number(size * 0.36)}" font-family="{FACES}" font-size="{number(size)}" '
        f'font-weight="700" text-anchor="middle" fill="{ink_on(colour)}">{letter}</text>'
    )


def _mouths(tile: Tile) -> str:
    """Where the holes open, at the long sides."""
    deep, edge = 0.34, tile.passage / 2 - RIM
    marks = "".join(
        f"M{number(x)} {number(y)}v{number(way)}"
        for x in (-tile.hole_spacing / 2, tile.hole_spacing / 2)
        for y, way in ((-edge, deep), (edge, -deep))
    )
    return (
        f'<path d="{marks}" stroke="#000" stroke-opacity=".55" '
        f'stroke-width="{number(tile.hole * 0.55)}"/>'
    )


def size_of(shape: Shape) -> tuple[float, float, float]:
    """Size square to the hole and along it, and the radius of the corners, mm."""
    if isinstance(shape, Tile):
        return (shape.length, shape.passage, min(0.35, shape.passage / 4))
    return (shape.diameter, shape.length, shape.length * 0.38)


def _box(long: float, wide: float, round_: float, grown: float) -> str:
    """A rectangle about the middle, `grown` on every side."""
    return (
        f'x="{number(-long / 2 - grown)}" y="{number(-wide / 2 - grown)}" '
        f'width="{number(long + 2 * grown)}" height="{number(wide + 2 * grown)}" '
        f'rx="{number(max(0.0, round_ + grown))}"'
    )


def _turned(tilt: float) -> str:
    return f' transform="rotate({number(-tilt)})"' if tilt else ""
