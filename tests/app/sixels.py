"""Eyes for sixels: what a VT340 would paint, after its programmer's manual (DEC, EK-VT3XX-TP)."""

import re

Colour = tuple[int, int, int]

_TOKEN = re.compile(
    r'"[\d;]*|#(?P<colour>[\d;]+)|!(?P<times>\d+)(?P<what>[?-~])|[$-]|(?P<one>[?-~])'
)


def decoded(sixels: str) -> dict[tuple[int, int], Colour]:
    """The pixels, by column and row from the upper left, that a sequence paints."""
    body = sixels[sixels.index("q") + 1 :]
    palette: dict[int, Colour] = {}
    pixels: dict[tuple[int, int], Colour] = {}
    x = top = colour = 0
    for token in _TOKEN.finditer(body):
        said = token[0]
        if token["colour"]:
            colour, *more = map(int, token["colour"].split(";"))
            if more:
                assert 2 == more[0], "red, green and blue in percent"
                palette[colour] = (more[1], more[2], more[3])
        elif said == "$":
            x = 0
        elif said == "-":
            x, top = 0, top + 6
        elif said[0] != '"':
            bits = ord(token["what"] or token["one"]) - 63
            end = x + int(token["times"] or 1)
            for row in (row for row in range(6) if bits >> row & 1):
                pixels.update(((at, top + row), palette[colour]) for at in range(x, end))
            x = end
    return {at: _of_255(percent) for at, percent in pixels.items()}


def _of_255(percent: Colour) -> Colour:
    red, green, blue = (round(part * 2.55) for part in percent)
    return (red, green, blue)
