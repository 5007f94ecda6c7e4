"""Reading a design with slips in it."""

from collections.abc import Callable

import pytest
from design_texts import GOOD, STITCHES

from tracker.design.model import Design
from tracker.design.reader import parse_design
from tracker.problems import ProblemsError


def _spoilt(*changes: tuple[str, str]) -> str:
    text = GOOD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


@pytest.fixture
def read() -> Callable[..., Design]:
    """Reads the good design with parts of its text replaced."""
    return lambda *changes: parse_design(_spoilt(*changes), stitches=STITCHES)


@pytest.fixture
def faults() -> Callable[..., list[str]]:
    """The problem lines of the good design with parts of its text replaced."""

    def lines(*changes: tuple[str, str]) -> list[str]:
        with pytest.raises(ProblemsError) as caught:
            parse_design(_spoilt(*changes), stitches=STITCHES)
        return caught.value.in_file("band.design.toml").lines()

    return lines
