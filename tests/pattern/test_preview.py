"""What is shown of a draft while it is typed is what the compiled design comes to."""

from dataclasses import replace
from pathlib import Path

import pytest

from tracker.design.editing import NEW, Draft, draft_of
from tracker.loading import compile_text
from tracker.pattern import preview
from tracker.pattern.preview import preview_of, seen
from tracker.pattern.supplies import supplies_of

ROOT = Path(__file__).parents[2]
DRAFTS = [
    NEW,
    *(draft_of(d.read_text("utf-8")) for d in sorted((ROOT / "patterns").glob("*.design.toml"))),
]


@pytest.mark.parametrize("most", [preview.MOST_TILES, 40], ids=["whole", "first rows"])
@pytest.mark.parametrize("draft", DRAFTS, ids=lambda draft: draft.name)
def test_the_figures_are_those_of_the_pattern(
    draft: Draft, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rows, beads, thread, lengths, needle and steps: woven whole, or told by the first rows."""
    monkeypatch.setattr(preview, "MOST_TILES", most)
    found = seen(draft, "")
    shown = found.preview
    assert shown is not None, found.checked.problems
    pattern = compile_text(found.checked.text).pattern
    supplies = supplies_of(pattern)

    whole = most > 40 or draft.closure != "none"
    assert whole == (shown.pattern.row_count == pattern.row_count)
    assert pattern.woven_rows == shown.rows
    assert pattern.gauge == shown.gauge
    assert pattern.totals == shown.beads
    assert pytest.approx(supplies.thread, abs=1) == shown.thread
    assert supplies.lengths == shown.lengths
    assert supplies.needle == shown.needle
    assert sum(map(pattern.steps_in, range(pattern.row_count))) == shown.steps


def test_the_first_rows_have_the_colours_of_the_whole_band(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Centred layouts begin where the whole band begins, not where a short one would."""
    monkeypatch.setattr(preview, "MOST_TILES", 40)
    for draft in DRAFTS:
        found = seen(draft, "")
        assert found.checked.design is not None
        short = preview_of(found.checked.design).pattern
        whole = compile_text(found.checked.text).pattern
        for row in range(short.woven_rows):
            assert [bead.colour for bead in whole.row(row).beads] == [
                bead.colour for bead in short.row(row).beads
            ]


def test_what_cannot_be_woven_is_a_problem() -> None:
    """A design that reads well and cannot be proved has no preview, and says why."""
    found = seen(replace(NEW, wide="40", lines=("A" * 80,), thread="30 cm", tail="1 cm"), "")

    assert found.preview is None
    assert ["thread.length"] == [problem.where for problem in found.checked.problems]
    assert found.checked.design is not None
