"""The commands: what they print where, and with which exit status."""

from pathlib import Path

import pytest
from command_line import Run

from tracker import __version__
from tracker.loading import load
from tracker.pattern.reader import read_pattern
from tracker.progress.position import Position
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store, data_home
from tracker.starting import take_up

ROWS = 24
"""Rows of 60 mm: 3.1 + 2.4 a row."""


def stitch_to(word: str, position: Position) -> None:
    """Start the piece if need be, and go to a place."""
    with take_up(word, Store(data_home())).piece as piece:
        piece.record(Moved(utc_now(), position))


def test_compile_writes_the_pattern_and_prints_its_summary(run: Run, design: Path) -> None:
    """The summary is the data; proof and file name are said beside it."""
    done = run("compile", str(design))

    assert 0 == done.status
    pattern = read_pattern("harbour.pattern.toml")
    assert f"Harbour lights: two-hole herringbone, 2 columns, {ROWS} rows" in done.out
    assert ROWS == pattern.row_count
    assert "half tile: 24, with " in done.out
    assert "Harbour lights: proved by all 7 rules" in done.err
    assert done.err.endswith("written to harbour.pattern.toml\n")


def test_compile_is_reproducible(run: Run, design: Path) -> None:
    """Twice gives the same bytes; the second time replaces the first."""
    run("compile", str(design))
    first = Path("harbour.pattern.toml").read_bytes()

    assert 0 == run("compile", str(design)).status
    assert first == Path("harbour.pattern.toml").read_bytes()
    assert 0 == run("compile", str(design), "-o", "elsewhere.toml").status
    assert first == Path("elsewhere.toml").read_bytes()


def test_compile_overwrites_nothing_but_patterns(run: Run, design: Path) -> None:
    """Not the design itself, no other file, no folder; each is left as it was."""
    Path("notes.txt").write_text("not a pattern")
    Path("folder").mkdir()
    before = design.read_bytes()
    for name in (str(design), "notes.txt", "folder", "/dev/null"):
        done = run("compile", str(design), "-o", name)
        assert (1, "") == (done.status, done.out)
        assert (
            f"{name}: file: is there already and is no pattern; name another file with -o\n"
            == done.err
        )
    assert before == design.read_bytes()


def test_compile_says_why_it_cannot_write(run: Run, design: Path) -> None:
    """A folder that is not there, a file in the place of a folder, a name too long."""
    for name in ("nowhere/x.toml", "harbour.design.toml/x.toml", f"{'x' * 300}.toml"):
        done = run("compile", str(design), "-o", name)
        assert (1, "") == (done.status, done.out)
        assert done.err.startswith(f"{name}: file: cannot be written: ")
        assert 1 == done.err.count("\n")


def test_check_proves_designs_patterns_and_pieces(run: Run, design: Path) -> None:
    """All three print the same proof on standard output."""
    by_design = run("check", str(design))
    run("compile", str(design))
    stitch_to(str(design), Position(2, 0))

    assert 0 == by_design.status
    assert by_design.out.startswith("Harbour lights: proved by all 7 rules: ")
    for word in ("harbour.pattern.toml", "Harbour lights", "harbour-lights"):
        assert by_design == run("check", word)


def test_path_prints_every_row_in_words(run: Run, design: Path) -> None:
    """A heading a row and a line a step, in full words or in short ones."""
    full, short = run("path", str(design)), run("path", str(design), "--short")

    assert 0 == full.status == short.status
    lines = full.out.splitlines()
    assert "Row 1 of 24, up (start)" == lines[0]
    assert "  1. pick up 3 smoke seeds and 1 lagoon tile" == lines[1]
    assert ROWS == sum(line.startswith("Row ") for line in lines)
    assert 4 * ROWS == len(lines)
    assert "  1. 3 smoke seeds, 1 lagoon tile" == short.out.splitlines()[1]
    assert len(lines) == len(short.out.splitlines())


def test_path_as_json_is_the_whole_thread_path(run: Run, design: Path) -> None:
    """Beads, sections, rows, steps and passes in their order are the pattern's own."""
    document = run("path", str(design), "--json").json
    rows = load(str(design), Store(data_home())).pattern.path().rows

    assert ["format", "beads", "sections"] == list(document)
    assert 1 == document["format"]
    assert [
        {"id": bead.id, "kind": bead.kind, "shape": bead.shape, "colour": bead.colour}
        for row in rows
        for bead in row.beads
    ] == document["beads"]
    assert list(range(len(document["beads"]))) == [bead["id"] for bead in document["beads"]]
    printed = [
        (section["name"], row["row"], row["heading"], row["steps"])
        for section in document["sections"]
        for row in section["rows"]
    ]
    assert [
        (
            row.section,
            row.number,
            row.heading,
            [
                {
                    "passes": [
                        {"bead": p.bead, "hole": p.hole, "picked_up": p.picked_up}
                        for p in step.passes
                    ],
                    "turn": step.turn,
                    "pass_by": list(step.pass_by),
                }
                for step in row.steps
            ],
        )
        for row in rows
    ] == printed


def test_supplies_as_json(run: Run, design: Path) -> None:
    """The contract's keys, and the counts of the weave: N R tiles, (N + 2) R + 2 N - 1 seeds."""
    document = run("supplies", str(design), "--json").json

    assert ["beads", "thread_mm", "lengths", "findings"] == list(document)
    for bead in document["beads"]:
        assert ["colour", "shape", "count", "with_spare", "grams"] == list(bead)
        assert bead["count"] < bead["with_spare"]
        assert bead["grams"] > 0
    counts = {bead["colour"]: bead["count"] for bead in document["beads"]}
    assert {"A": ROWS, "B": ROWS, "S": 4 * ROWS + 3} == counts
    assert document["thread_mm"] > 0 < document["lengths"]


def test_supplies_in_words(run: Run, design: Path) -> None:
    """Each colour with its letter, thread and needle."""
    done = run("supplies", str(design))

    assert (0, "") == (done.status, done.err)
    assert "A  lagoon half tile: 24, with " in done.out
    assert f"S  smoke 15/0: {4 * ROWS + 3}, with " in done.out
    assert "\nthread  " in done.out
    assert "\nneedle  size " in done.out


def test_supplies_with_another_spare_in_packages(run: Run, design: Path) -> None:
    """Half as many again, and what to buy: 36 tiles are 25 and 10 and one more of 5."""
    sizes = ("--package", "25 beads", "--package", "10 beads", "--package", "5 beads")
    done = run("supplies", str(design), "--spare", "50 %", *sizes)

    assert 24 == ROWS
    assert (0, "") == (done.status, done.err)
    assert "A  lagoon half tile: 24, with 50% spare 36 " in done.out
    assert "; buy 1 x 25 beads and 1 x 10 beads and 1 x 5 beads, 4 over\n" in done.out
    document = run("supplies", str(design), "--spare", "0.5", "--json").json
    assert [36, 36] == [bead["with_spare"] for bead in document["beads"]][:2]


def test_each_length_of_thread_is_told(run: Run, design: Path) -> None:
    """The rows of all lengths are those of the band, and every join is named but the last's."""
    done = run("supplies", str(design))
    lengths = [line for line in done.out.splitlines() if line.startswith("length ")]

    assert lengths
    assert "rows 1 to " in lengths[0]
    assert f" to {ROWS} take " in lengths[-1]
    assert len(lengths) - 1 == done.out.count("; join after row ")


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("--spare", "many"),
        ("--spare", "-0.1"),
        ("--spare", "nan"),
        ("--spare", "1e9"),
        ("--spare", "6"),
        ("--package", "a bag"),
        ("--package", "0 g"),
        ("--package", "\x1b[31m"),
    ],
)
def test_a_wrong_spare_or_package_is_said(run: Run, design: Path, option: str, value: str) -> None:
    """One line that names the option, with what to write; nothing on standard output."""
    done = run("supplies", str(design), f"{option}={value}")

    assert (1, "") == (done.status, done.out)
    assert done.err.startswith(f"tracker supplies: {option}: ")
    assert 1 == len(done.err.splitlines())
    assert "\x1b" not in done.err


LEFT_KEYS = (
    *("piece", "section", "row", "rows", "step", "steps", "rows_left", "rows_left_range"),
    *("length_mm", "target_mm", "length_left_mm", "beads_left", "thread_left_mm"),
    *("join_in_rows", "minutes_left", "finished"),
)


def test_left_before_anything_is_started(run: Run, design: Path) -> None:
    """A design that nobody has started stands at its first step, and no piece is begun."""
    done = run("left", str(design), "--json")

    assert (0, "") == (done.status, done.err)
    document = done.json
    assert list(LEFT_KEYS) == list(document)
    assert ("Harbour lights", 1, 1, ROWS) == tuple(
        document[key] for key in ("piece", "row", "step", "rows_left")
    )
    assert {"A": ROWS, "B": ROWS, "S": 4 * ROWS + 3} == document["beads_left"]
    assert (0, 60.0, None, False) == tuple(
        document[key] for key in ("length_mm", "target_mm", "minutes_left", "finished")
    )
    assert [] == Store(data_home()).pieces()


@pytest.mark.parametrize(
    "word",
    [
        "Harbour lights",
        "HARBOUR LIGHTS",
        "harbour-lights",
        "harbour.design.toml",
        "harbour.pattern.toml",
        "./harbour.pattern.toml",
    ],
)
@pytest.mark.usefixtures("design")
def test_left_of_a_piece_by_any_of_its_names(run: Run, word: str) -> None:
    """By name in any case, folder, design or pattern file: where the piece stands."""
    run("compile", "harbour.design.toml")
    stitch_to("harbour.design.toml", Position(2, 1))
    done = run("left", word, "--json")

    assert (0, "") == (done.status, done.err)
    assert ("Harbour lights", "rows", 3, 2, 3, ROWS - 2) == tuple(
        done.json[key] for key in ("piece", "section", "row", "step", "steps", "rows_left")
    )
    # In row 3 one seed and one tile of the inner lane are picked up.
    assert {"A": ROWS - 3, "B": ROWS - 2, "S": 4 * ROWS + 3 - 9 - 2 - 1} == done.json["beads_left"]


def test_left_of_a_finished_piece(run: Run, design: Path) -> None:
    """Nothing is left, in words and as JSON."""
    stitch_to(str(design), Position(ROWS, 0))
    document = run("left", "Harbour lights", "--json").json

    assert (True, 0, None) == tuple(
        document[key] for key in ("finished", "rows_left", "join_in_rows")
    )
    assert {"A": 0, "B": 0, "S": 0} == document["beads_left"]
    assert f"Harbour lights: finished, {ROWS} rows\n" == run("left", "Harbour lights").out


def test_left_in_words(run: Run, design: Path) -> None:
    """Place, rows, length, beads and thread, a line each."""
    stitch_to(str(design), Position(2, 1))
    lines = run("left", str(design)).out.splitlines()

    assert f"Harbour lights: row 3 of {ROWS}, step 2 of 3 (rows)" == lines[0]
    assert lines[1].startswith(f"rows    {ROWS - 2} to go")
    assert any(line.startswith("thread  ") for line in lines)


def test_a_changed_design_goes_on_as_it_was_started(run: Run, design: Path) -> None:
    """The piece's own pattern counts; that the file has changed is said on standard error."""
    stitch_to(str(design), Position(2, 1))
    design.write_text(design.read_text("utf-8").replace("60 mm", "90 mm"), "utf-8")
    done = run("left", str(design), "--json")

    assert (0, ROWS) == (done.status, done.json["rows"])
    assert done.err.startswith(f"note: {design} has changed since this piece was started")


def test_left_only_looks(run: Run, design: Path) -> None:
    """Asking what is left changes no file of the piece."""
    stitch_to(str(design), Position(2, 1))
    (listed,) = Store(data_home()).pieces()
    before = {path: path.read_bytes() for path in listed.path.iterdir()}
    run("left", str(design))

    assert before == {path: path.read_bytes() for path in listed.path.iterdir()}


def test_version_and_help(run: Run) -> None:
    """Both go to standard output with status 0; the help names every command."""
    assert (0, f"tracker {__version__}\n", "") == tuple(vars(run("--version")).values())
    done = run("--help")
    assert (0, "") == (done.status, done.err)
    for name in ("open", "read", "compile", "check", "path", "supplies", "left"):
        assert f"    {name} " in done.out
        assert 0 == run(name, "--help").status


def test_a_piece_is_exported_and_imported(run: Run, design: Path, tmp_path: Path) -> None:
    """Out by its name, in elsewhere, found again there; the second time it is there already."""
    stitch_to(str(design), Position(1, 0))
    done = run("export", "harbour lights")
    assert (0, "") == (done.status, done.out)
    assert "written to harbour-lights.piece.toml" in done.err
    here = run("left", "Harbour lights", "--json").json
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TRACKER_HOME", str(tmp_path / "there"))
        first = run("import", "harbour-lights.piece.toml")
        again = run("import", "harbour-lights.piece.toml")
        there = run("left", "Harbour lights", "--json").json
    assert (0, "Harbour lights: row 2 of 24\n", "") == (first.status, first.out, first.err)
    assert (0, first.out) == (again.status, again.out)
    assert "is here already" in again.err
    assert here == there


def test_what_is_not_started_has_no_progress_to_take_along(run: Run, design: Path) -> None:
    """A design without a piece is refused, and no file is written."""
    done = run("export", str(design), "-o", "out.piece.toml")
    assert 1 == done.status
    assert "is not started yet" in done.err
    assert not Path("out.piece.toml").exists()


@pytest.mark.parametrize("command", ["left", "check", "path", "supplies", "read"])
def test_an_exported_piece_is_taken_in_first(run: Run, design: Path, command: str) -> None:
    """Every command that is given the file says how."""
    stitch_to(str(design), Position(1, 0))
    run("export", "harbour lights")
    done = run(command, "harbour-lights.piece.toml")
    assert (1, "") == (done.status, done.out)
    assert (
        "harbour-lights.piece.toml: file: is a piece as one file; "
        "take it in first: tracker import harbour-lights.piece.toml\n"
    ) == done.err
