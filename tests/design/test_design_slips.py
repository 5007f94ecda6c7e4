"""Every key of every demo design misspelt, and every line left out: told in words, at its place."""

import re
from pathlib import Path

import pytest

import tracker
from tracker.loading import compile_text
from tracker.problems import ProblemsError

DEMOS = sorted((Path(tracker.__file__).parents[1] / "patterns").glob("*.design.toml"))
KEY = re.compile(r"^(?:\[(\w+)\]|(\w+) *=)", re.MULTILINE)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.name.partition(".")[0])
def test_a_misspelt_key_is_told(demo: Path) -> None:
    """It is no known key, in its table; what is known is offered where it is that near."""
    good = demo.read_text("utf-8")
    for found in KEY.finditer(good):
        key = found[1] or found[2]
        end = found.start(1 if found[1] else 2) + len(key)
        if len(key) == 1:
            continue  # a colour's letter
        with pytest.raises(ProblemsError) as caught:
            compile_text(f"{good[:end]}e{good[end:]}")
        told = [f"{problem.where}: {problem.what}" for problem in caught.value.problems]
        assert [line for line in told if f"{key}e: is no known key" in line], (key, told)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.name.partition(".")[0])
def test_a_line_left_out_is_told_or_harmless(demo: Path) -> None:
    """Whatever is missing then, it is a problem with a place and a mend, or another good band."""
    lines = demo.read_text("utf-8").splitlines(keepends=True)
    for number in range(len(lines)):
        try:
            compiled = compile_text("".join(lines[:number] + lines[number + 1 :]))
        except ProblemsError as error:
            told = error.problems
            assert [] == [problem for problem in told if not (problem.where and problem.mend)]
        else:
            assert compiled.text
