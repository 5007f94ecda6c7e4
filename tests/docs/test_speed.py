"""What docs/speed.md says of the speed is what was measured last; nothing is timed here."""

import sys
from pathlib import Path

BENCH = Path(__file__).parents[1] / "bench"
sys.path.append(str(BENCH))

import figures  # noqa: E402  the path comes first


def test_the_table_is_made_of_the_figures() -> None:
    """The page is, to the letter, what `tests/bench/bench.py --docs` makes of figures.json."""
    kept = figures.read()
    assert kept is not None
    assert "\n".join(figures.markdown(kept)) + "\n" == figures.DOCS.read_text("utf-8")


def test_figures_are_kept_as_they_are(tmp_path: Path) -> None:
    """What is read back is what was written, and the checked-in file is in that form."""
    kept = figures.read()
    assert kept is not None
    figures.write(kept, tmp_path / "figures.json")
    assert kept == figures.read(tmp_path / "figures.json")
    assert (tmp_path / "figures.json").read_text("utf-8") == figures.FILE.read_text("utf-8")


def test_what_got_worse_is_marked() -> None:
    """A ratio that grew by over 15 % is marked, a smaller change and a bare baseline are not."""
    before = figures.figure("part", "what", "ms", [10.0, 10.0], [5.0, 5.0])
    slower = figures.figure("part", "what", "ms", [12.0, 12.0], [5.0, 5.0])
    machine = figures.figure("part", "what", "ms", [20.0, 20.0], [10.0, 10.0])
    assert "WORSE" in figures.told(slower, before)
    assert "WORSE" not in figures.told(machine, before)
    bare = figures.figure("part", "alone", "ms", [10.0, 10.0])
    assert not figures.figure("part", "alone", "ms", [99.0, 99.0]).worse_than(bare)
