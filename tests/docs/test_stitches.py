"""docs/stitches.md: every stitch has its chapter, and the design in it is woven."""

import re

import pytest
from documents import PAGES, blocks

from tracker.design.reader import parse_design
from tracker.loading import compile_text
from tracker.stitches import demands, stitch_names

PAGE = PAGES["docs/stitches.md"]
EXAMPLES = blocks(PAGE, "toml")


def test_every_stitch_has_a_chapter_and_a_design() -> None:
    """No stitch without one, and none told that is not there."""
    headings = re.findall(r"^##+ (.+)$", PAGE, re.MULTILINE)
    chapters = {name.lower() for name in headings}
    assert set() == set(stitch_names()) - chapters
    assert sorted(stitch_names()) == sorted(
        parse_design(example, stitches=demands()).stitch for example in EXAMPLES
    )


@pytest.mark.parametrize("example", EXAMPLES, ids=range(len(EXAMPLES)))
def test_every_design_is_woven(example: str) -> None:
    """Each is a whole design, proved, and nothing is said against its beads."""
    done = compile_text(example)
    assert () == done.proof.faults
    assert "" == done.advice
