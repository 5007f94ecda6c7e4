"""What the commands refuse: one line a problem, all at once, and never a traceback."""

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from command_line import DESIGN, Done, Run

from tracker import cli

ROOT = Path(__file__).parents[2]
COMMANDS = ("compile", "check", "path", "supplies", "left")


def require_problems(done: Done, file: str) -> list[str]:
    """See that nothing but problems of that file was printed; what they say after its name."""
    assert (1, "") == (done.status, done.out)
    lines = done.err.splitlines()
    assert lines
    for line in lines:
        assert line.startswith(f"{file}: ")
        assert "; " in line
        assert line.isprintable()
    return [line.removeprefix(f"{file}: ") for line in lines]


@contextmanager
def as_somebody_else() -> Iterator[None]:
    """Without the rights of root, to whom every file can be read."""
    root = os.geteuid() == 0
    if root:
        os.seteuid(65534)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.usefixtures("design")
def test_every_problem_of_a_design_at_once(run: Run, command: str) -> None:
    """Several slips give as many lines, each with its place, what is wrong and how to mend it."""
    Path("slips.design.toml").write_text(
        DESIGN.replace('"60 mm"', "60")
        .replace("columns = 2", "columns = 1")
        .replace("#2a7f8e", "blue")
        .replace('"half tile"', '"halv tile"')
        .replace('lanes = "BAAB"', 'lanes = "BAXB"'),
        "utf-8",
    )
    problems = require_problems(run(command, "slips.design.toml"), "slips.design.toml")

    places = [problem.partition(": ")[0] for problem in problems]
    assert {"columns", "size.length", "beads.tile", "colours.A.hex", "layout.lanes"} == set(places)
    assert any("half tile" in problem for problem in problems)


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("folder.toml", "is a folder"),
        ("gone.toml", "there is no such file"),
        ("binary.toml", "is not UTF-8 text"),
        ("empty.toml", "is missing"),
        ("huge.toml", "too large"),
        ("pipe.toml", "is no ordinary file"),
        ("harbour.design.toml/x.toml", "there is no such file"),
        (f"{'x' * 300}.toml", "cannot be read: File name too long"),
        ("loop.toml", "cannot be read: Too many levels of symbolic links"),
        ("zero\x00byte.toml", "there is no such file"),
    ],
    ids=lambda value: value[:10].replace("\x00", "0") if isinstance(value, str) else None,
)
@pytest.mark.usefixtures("design")
def test_files_that_are_no_designs(run: Run, command: str, name: str, says: str) -> None:
    """Whatever lies under the name, or does not, it is said in words."""
    Path("folder.toml").mkdir()
    Path("binary.toml").write_bytes(b"format = 1\n\xff\xfe\x00")
    Path("empty.toml").write_bytes(b"")
    with Path("huge.toml").open("wb") as huge:
        huge.truncate(65_000_000)
    os.mkfifo("pipe.toml")
    Path("loop.toml").symlink_to("loop.toml")
    problems = require_problems(run(command, name), name.replace("\x00", "\\x00"))

    assert says in problems[0]


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.usefixtures("design")
def test_files_that_may_not_be_read(
    run: Run, command: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the permission for a file, or for its folder, that is said."""
    monkeypatch.setenv("TRACKER_HOME", "home")  # the folders above are not everybody's either
    Path("secret.toml").write_text(DESIGN, "utf-8")
    Path("secret.toml").chmod(0)
    Path("locked").mkdir(mode=0)
    with as_somebody_else():
        for name in ("secret.toml", "locked/x.toml"):
            done = run(command, name)
            assert (1, "") == (done.status, done.out)
            assert f"{name}: file: cannot be read: Permission denied; " in done.err


@pytest.mark.parametrize("command", ["check", "path", "supplies", "left"])
@pytest.mark.usefixtures("design")
def test_a_word_that_is_no_file_and_no_piece(run: Run, command: str) -> None:
    """It is refused, with the piece that was most likely meant."""
    assert [
        "file: there is no such file and no such piece; name a design, a pattern or a piece"
    ] == (require_problems(run(command, "Harbor light"), "Harbor light"))


@pytest.mark.usefixtures("design")
def test_compile_takes_no_pattern(run: Run) -> None:
    """A compiled pattern is named as what it is."""
    run("compile", "harbour.design.toml")

    assert ["file: is a compiled pattern already; open it, or name its design"] == (
        require_problems(run("compile", "harbour.pattern.toml"), "harbour.pattern.toml")
    )


@pytest.mark.parametrize("command", ["check", "path", "supplies", "left"])
@pytest.mark.usefixtures("design")
def test_a_pattern_that_was_changed(run: Run, command: str) -> None:
    """One bead changed after the proof breaks the seal."""
    run("compile", "harbour.design.toml")
    pattern = Path("harbour.pattern.toml")
    pattern.write_text(pattern.read_text("utf-8").replace("lagoon", "lagune"), "utf-8")

    (problem,) = require_problems(run(command, pattern.name), pattern.name)
    assert problem.startswith("seal: the pattern was changed or damaged after it was proved; ")


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.usefixtures("design")
def test_control_characters_never_reach_the_terminal(run: Run, command: str) -> None:
    """In file names they are spelt out; in values the file is refused with them spelt out."""
    evil = "\x1b]0;owned\x07\x1b[2J\u202e\n.toml"
    done = run(command, evil)
    assert 1 == done.status
    assert ["\\x1b]0;owned\\x07\\x1b[2J\\u202e\\n.toml: file: there is no such file"] == [
        line.partition(";  ")[0].rpartition("; ")[0] for line in done.err.splitlines()
    ]
    Path("evil.toml").write_text(DESIGN.replace("lagoon", "la\\u001b[31mgoon"), "utf-8")
    problems = require_problems(run(command, "evil.toml"), "evil.toml")
    assert ["colours.A.name"] == [problem.partition(": ")[0] for problem in problems]


@pytest.mark.parametrize(
    "argv",
    [
        ("compile",),
        ("path", "a", "b"),
        ("wave", "x"),
        ("left", "x", "--yaml"),
        ("compile", "x", "-o"),
        ("compile", "x", "\x1b[31m"),
    ],
)
def test_wrong_usage_is_status_2(run: Run, argv: tuple[str, ...]) -> None:
    """With how to use the command on standard error, and without control characters."""
    done = run(*argv)

    assert (2, "") == (done.status, done.out)
    assert done.err.startswith("usage: tracker")
    assert "\x1b" not in done.err


def test_a_data_folder_that_cannot_be_used(
    run: Run, design: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file where the pieces should be is a problem of that place."""
    Path("pieces").write_text("no folder")
    monkeypatch.setenv("TRACKER_HOME", ".")
    done = run("left", str(design))

    assert (1, "") == (done.status, done.out)
    assert done.err.startswith("pieces: the folder: cannot be read: ")


def test_a_name_that_the_terminal_cannot_write_is_spelt_out(
    design: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a terminal of few letters a colour's name loses none."""
    text = DESIGN.replace("lagoon", "ocean bl\N{LATIN SMALL LETTER O WITH STROKE}")
    design.write_text(text, "utf-8")
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="ascii"))

    assert 0 == cli.main(["supplies", str(design)])
    assert b"A  ocean bl\\xf8 half tile: 24" in raw.getvalue()


def test_an_interrupt_is_status_130(
    run: Run, design: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl+C while a command works ends it without a traceback."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("tracker.loading.compile_text", interrupted)
    assert 130 == run("check", str(design)).status


# --- as programs ---------------------------------------------------------------------------


def shell(script: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """A line of shell in which `tracker` is the program."""
    tracker = f'tracker() {{ "{sys.executable}" -m tracker "$@"; }}; '
    return subprocess.run(
        ["sh", "-c", tracker + script],
        capture_output=True,
        text=True,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TRACKER_HOME": str(folder / "home")},
        timeout=60,
        check=False,
    )


def test_a_reader_that_has_seen_enough_is_no_error(tmp_path: Path) -> None:
    """`| head` gets its lines; the command ends quietly, as done."""
    (tmp_path / "long.toml").write_text(DESIGN.replace("60 mm", "2 m"), "utf-8")
    done = shell(
        "{ tracker path long.toml; echo $? >status; } | head -n 1; "
        "{ tracker path long.toml --json; echo $? >>status; } | head -c 10",
        tmp_path,
    )

    assert ("Row 1 of 831, up (start)\n" + '{"format":', "") == (done.stdout, done.stderr)
    assert "0\n0\n" == (tmp_path / "status").read_text()


def test_data_and_narration_go_their_own_ways(tmp_path: Path) -> None:
    """Standard output of a command can be kept or piped with nothing else in it."""
    (tmp_path / "band.design.toml").write_text(DESIGN, "utf-8")
    done = shell("tracker compile band.design.toml 2>said && cat said >&2", tmp_path)

    assert 0 == done.returncode
    assert "written to band.pattern.toml" in done.stderr
    assert "written to" not in done.stdout
    assert (1, 2) == (
        shell("tracker left nothing.toml", tmp_path).returncode,
        shell("tracker left", tmp_path).returncode,
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_full_disk_for_the_output_is_a_problem(tmp_path: Path) -> None:
    """Status 1 and one line, not a traceback."""
    (tmp_path / "band.design.toml").write_text(DESIGN, "utf-8")
    done = shell("tracker path band.design.toml >/dev/full", tmp_path)

    assert 1 == done.returncode
    assert done.stderr.startswith("tracker: output: cannot be written: No space left on device; ")
    assert 1 == done.stderr.count("\n")
