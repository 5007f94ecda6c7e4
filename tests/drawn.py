"""Drawings read back: SVG by the rules of SVG, PNG by those of PNG, with no code of the tracker."""

import math
import re
import struct
import xml.etree.ElementTree as ET
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

SVG = "{http://www.w3.org/2000/svg}"
Matrix = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Box:
    """A rectangle of the drawing: its fill, its outer corners and its middle in user units."""

    fill: str
    corners: Matrix
    middle: tuple[float, float]
    name: str
    """The id of the symbol that it comes from."""


def boxes(svg: str, kind: str) -> list[Box]:
    """The faces of all beads of a kind ("tile", "seed"), wherever they are used."""
    return [box for box in _boxes(ET.fromstring(svg)) if box.name.startswith(kind)]  # noqa: S314  our own drawing


def _boxes(root: ET.Element) -> Iterator[Box]:
    by_id = {node.attrib["id"]: node for node in root.iter() if "id" in node.attrib}

    def walk(node: ET.Element, matrix: Matrix, name: str) -> Iterator[Box]:
        matrix = matrix @ _transform(node.get("transform", ""))
        name = node.get("id", name)
        if node.tag == SVG + "use":
            matrix = matrix @ _shift(float(node.get("x", 0)), float(node.get("y", 0)))
            yield from walk(by_id[node.attrib["href"].removeprefix("#")], matrix, name)
        elif node.tag == SVG + "rect" and node.get("stroke") and node.get("fill") != "none":
            yield _box(node, matrix, name)
        elif node.tag != SVG + "defs":
            for child in node:
                yield from walk(child, matrix, name)

    yield from walk(root, np.eye(3), "")


def _box(node: ET.Element, matrix: Matrix, name: str) -> Box:
    grown = float(node.attrib["stroke-width"]) / 2
    x, y, wide, high = (float(node.attrib[key]) for key in ("x", "y", "width", "height"))
    across, down = (x - grown, x + wide + grown), (y - grown, y + high + grown)
    corners = np.array([(i, j, 1.0) for i, j in zip(across * 2, sorted(down * 2), strict=True)])
    around = corners[[0, 1, 3, 2]] @ matrix.T
    middle = matrix @ np.array([x + wide / 2, y + high / 2, 1.0])
    return Box(node.attrib["fill"], around[:, :2], (float(middle[0]), float(middle[1])), name)


def _shift(x: float, y: float) -> Matrix:
    return np.array([[1, 0, x], [0, 1, y], [0, 0, 1]], dtype=np.float64)


def _transform(text: str) -> Matrix:
    matrix = np.eye(3)
    for kind, figures in re.findall(r"(\w+)\(([^)]*)\)", text):
        numbers = [float(figure) for figure in figures.split()]
        if kind == "translate":
            matrix = matrix @ _shift(numbers[0], numbers[1] if len(numbers) > 1 else 0.0)
        elif kind == "rotate":
            turn = math.radians(numbers[0])
            cos, sin = math.cos(turn), math.sin(turn)
            matrix = matrix @ np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]])
        else:
            raise AssertionError(f"unknown transform {kind}")
    return matrix


def pixels(png: bytes) -> npt.NDArray[np.uint8]:
    """Rows of pixels of a PNG of 8 bits a channel: height x width x 3 or 4."""
    wide, high, depth, colour_type = struct.unpack(">IIBB", png[16:26])
    assert (8, True) == (depth, colour_type in (2, 6))
    channels = 3 if colour_type == 2 else 4
    raw = np.frombuffer(zlib.decompress(b"".join(_chunks(png, b"IDAT"))), np.uint8)
    lines = raw.reshape(high, 1 + wide * channels)
    out = np.zeros((high + 1, wide + 1, channels), dtype=np.int64)
    for row in range(1, high + 1):
        kind, line = int(lines[row - 1, 0]), lines[row - 1, 1:].reshape(wide, channels)
        _unfilter(out, row, kind, line.astype(np.int64))
    return out[1:, 1:].astype(np.uint8)


def _unfilter(out: npt.NDArray[np.int64], row: int, kind: int, line: npt.NDArray[np.int64]) -> None:
    """Undo one row's filter (PNG, section 9); `out` has an empty edge above and to the left."""
    if kind in (0, 2):
        out[row, 1:] = line if kind == 0 else line + out[row - 1, 1:]
    elif kind == 1:
        out[row, 1:] = np.cumsum(line, axis=0)
    else:
        for i in range(1, len(line) + 1):
            left, up, corner = out[row, i - 1], out[row - 1, i], out[row - 1, i - 1]
            guess = (left + up) // 2 if kind == 3 else _paeth(left, up, corner)
            out[row, i] = (line[i - 1] + guess) % 256
    out[row] %= 256


def _paeth(
    left: npt.NDArray[np.int64], up: npt.NDArray[np.int64], corner: npt.NDArray[np.int64]
) -> npt.NDArray[np.int64]:
    guess = left + up - corner
    by_left, by_up, by_corner = abs(guess - left), abs(guess - up), abs(guess - corner)
    nearest = np.where(by_up <= by_corner, up, corner)
    return np.where((by_left <= by_up) & (by_left <= by_corner), left, nearest)


def fineness(png: bytes) -> tuple[int, int, int]:
    """What the chunk pHYs says: pixels to a metre across and down, and 1 for metres."""
    (chunk,) = _chunks(png, b"pHYs")
    across, down, unit = struct.unpack(">IIB", chunk)
    return across, down, unit


def _chunks(png: bytes, wanted: bytes) -> Iterator[bytes]:
    at = 8
    while at < len(png):
        (long,) = struct.unpack(">I", png[at : at + 4])
        kind, data = png[at + 4 : at + 8], png[at + 8 : at + 8 + long]
        (check,) = struct.unpack(">I", png[at + 8 + long : at + 12 + long])
        assert check == zlib.crc32(kind + data), "a chunk's check sum is wrong"
        if kind == wanted:
            yield data
        at += 12 + long
