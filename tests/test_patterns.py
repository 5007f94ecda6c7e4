"""The patterns that come with the tracker are those of their designs."""

from pathlib import Path

import pytest

from tracker.loading import compile_file
from tracker.pattern.compiler import prove_pattern
from tracker.pattern.reader import read_pattern

PATTERNS = Path(__file__).parents[1] / "patterns"
DESIGNS = sorted(PATTERNS.glob("*.design.toml"))


def pattern_file(design: Path) -> Path:
    """The compiled file beside a design."""
    return design.with_name(design.name.replace(".design.", ".pattern."))


def test_every_pattern_has_its_design() -> None:
    """Neither is there without the other."""
    assert DESIGNS
    assert sorted(map(pattern_file, DESIGNS)) == sorted(PATTERNS.glob("*.pattern.toml"))


@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.name)
def test_a_pattern_is_in_step_with_its_design(design: Path) -> None:
    """Compiling the design gives the very bytes of the file; if not, compile it again."""
    assert compile_file(design).text.encode() == pattern_file(design).read_bytes()


@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.name)
def test_a_pattern_proves(design: Path) -> None:
    """What the file itself says passes every rule, with as many passes as steps take."""
    pattern = read_pattern(pattern_file(design))
    proof = prove_pattern(pattern)

    findings = sum(b.kind == "finding" for row in pattern.path().rows for b in row.beads)
    assert proof.beads == sum(pattern.totals.values()) + findings
    assert proof.passes == sum(
        len(step.passes) for row in pattern.path().rows for step in row.steps
    )
