"""Importing and renaming while the disk fails, the power goes, or the file means harm."""

import errno
import os
import random
import resource
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import importer
import pytest
from sealing import compiled, resealed

import tracker
from tracker.exchange import export_piece, import_piece
from tracker.problems import ProblemsError
from tracker.progress import chain, durable, exported
from tracker.progress.durable import SaveError
from tracker.progress.exported import Exported
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder
from tracker.progress.position import Position
from tracker.progress.shelf import make_again, put, rename
from tracker.progress.state import Moved, utc_now
from tracker.progress.store import Store

MUTANTS = int(os.environ.get("TRACKER_FAULTS", "400"))
MOST_BYTES = 512 << 20
PLACE = Position(2, 1)


def a_piece(home: Path) -> PieceFolder:
    """A piece in its third row."""
    pattern = compiled().pattern
    folder = Store(home).start(
        compiled().text.encode(),
        name="Harbour lights",
        digest=pattern.digest,
        design_digest=pattern.design,
        rows=6,
        source=home / "harbour.design.toml",
    )
    with open_piece(folder, pattern) as piece:
        piece.record(Moved(utc_now(), PLACE))
    return folder


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A good piece as one file."""
    path = tmp_path / "harbour.piece.toml"
    export_piece(a_piece(tmp_path / "home"), str(path))
    return path


def run(*words: str, memory: int = 4 << 30) -> subprocess.CompletedProcess[str]:
    """A Python program of this project, within so much memory."""
    environment = os.environ | {"PYTHONPATH": str(Path(tracker.__file__).parents[1])}
    return subprocess.run(
        [sys.executable, *words],
        capture_output=True,
        text=True,
        env=environment,
        check=False,
        timeout=60,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (memory, memory)),
    )


@pytest.mark.parametrize("what", ["import", "rename"])
def test_killed_at_any_moment(tmp_path: Path, file: Path, what: str) -> None:
    """There is the whole new piece or none, the old name or the new; the next try succeeds."""
    for number in range(1, 100):
        home = tmp_path / f"{what}-{number}"
        if what == "rename":
            a_piece(home)
        words = [importer.__file__, str(home), what, str(file) if what == "import" else "Other"]
        done = run(*words, str(number))
        pieces = Store(home).pieces()
        for listed in pieces:
            assert listed.folder is not None
            with open_piece(listed.folder, compiled().pattern) as piece:
                assert PLACE == piece.progress.position
                assert not piece.read_only
        if done.returncode == 0:
            assert 1 == len(pieces)
            break
        assert -signal.SIGKILL == done.returncode
        assert len(pieces) <= 1
        assert what == "import" or pieces[0].name in ("Harbour lights", "Other")
        if what == "import":
            import_piece(file, Store(home))
        else:
            rename(Store(home), *[p.folder for p in pieces if p.folder], "Other")
        names = [listed.name for listed in Store(home).pieces()]
        assert ["Harbour lights" if what == "import" else "Other"] == names
    else:
        raise AssertionError("it never lived")
    assert number > 5


def failing(patch: pytest.MonkeyPatch, name: str, after: int) -> None:
    """Let a call of the system fail for want of room, but for the first so many."""
    owner = Path if name in ("rename", "replace") else os
    real, left = getattr(owner, name), [after]

    def call(*arguments: object, **more: object) -> object:
        left[0] -= 1
        if left[0] < 0:
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(*arguments, **more)

    patch.setattr(owner, name, call)


@pytest.mark.parametrize("name", ["write", "fsync", "rename", "replace", "mkdir"])
@pytest.mark.parametrize("after", [0, 1, 2])
def test_a_full_disk_while_importing(
    tmp_path: Path, file: Path, monkeypatch: pytest.MonkeyPatch, name: str, after: int
) -> None:
    """It is said in one line, nothing is left behind, and later it works."""
    store = Store(tmp_path / "there")
    with monkeypatch.context() as patch:
        failing(patch, name, after)
        try:
            import_piece(file, store)
        except ProblemsError as error:
            (line,) = error.lines()
            assert "the disk is full" in line
            assert line.startswith(f"{file}: ")
        else:
            assert [PLACE] == [piece.position for piece in store.pieces()]
            return
    assert [] == store.pieces()
    left = [path for path in (tmp_path / "there").rglob("*") if path.is_file()]
    assert [] == left
    assert import_piece(file, store).new


@pytest.mark.parametrize("name", ["write", "fsync", "replace"])
def test_a_full_disk_while_changing_a_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Renamed, put away or made again: the piece is as it was, and nothing lies about."""
    folder = a_piece(tmp_path)
    store = Store(tmp_path)

    def state() -> dict[Path, bytes]:
        return {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}

    before = state()
    for change in (
        lambda: rename(store, folder, "Other"),
        lambda: put(folder, "finished", utc_now()),
        lambda: make_again(store, folder),
    ):
        with monkeypatch.context() as patch:
            failing(patch, name, 0)
            with pytest.raises(SaveError, match="the disk is full"):
                change()
        assert before == state()


def test_a_full_disk_while_exporting(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The earlier file stays as it was."""
    before = file.read_bytes()
    (listed,) = Store(tmp_path / "home").pieces()
    assert listed.folder is not None
    for name in ("write", "fsync", "replace"):
        with monkeypatch.context() as patch:
            failing(patch, name, 0)
            with pytest.raises(ProblemsError, match="the disk is full"):
                export_piece(listed.folder, str(file))
        assert before == file.read_bytes()
        assert [] == list(tmp_path.glob(".harbour*"))


def mutated(chance: random.Random, text: str) -> str:
    """A good file with something done to it, half the time with a seal that is right again."""
    for _ in range(chance.randint(1, 4)):
        at, length = chance.randrange(len(text)), chance.choice([1, 1, 3, 40, 400])
        new = chance.choice(
            [
                "",
                "'''",
                "\n",
                "\x1b[2J",
                "../../../etc/passwd",
                '"""',
                "]\n",
                text[at : at + length] * 3,
                chance.choice("0123456789abcxyzABC'\"=[]{}#\\|:~\u202e\U0001f9f5"),
                str(chance.randrange(10**9)),
            ]
        )
        text = text[:at] + new + text[at + chance.choice([0, length]) :]
    if chance.random() < 0.5:
        return text
    # The seals inside first: the pattern's own, as whoever means harm would.
    if chance.random() < 0.7:
        start, end = text.find("format = 1\nseal"), text.find("journal = [")
        if 0 <= start < end:
            inner = text[start:end].replace("''',\n'''\n", "'''").removesuffix("''',\n]\n")
            inner = resealed(inner).replace("'''", "''',\n'''\n")
            text = f"{text[:start]}{inner}''',\n]\n{text[end:]}"
    return sealed_again(text)


def sealed_again(text: str) -> str:
    """The text with the outermost seal set right."""
    head, line, rest = text.partition('kind = "exported piece"\nseal = "')
    _, quote, rest = rest.partition('"\n')
    return f"{head}{line}{exported._seal(rest)}{quote}{rest}"


def test_a_good_file_sealed_again_is_good(file: Path, tmp_path: Path) -> None:
    """What sets the seals right below does so."""
    text = file.read_text("utf-8")
    assert text == sealed_again(text)
    file.write_text(sealed_again(text.replace('"Harbour lights"', '"Other"', 1)), "utf-8")
    assert "Other" == import_piece(file, Store(tmp_path / "there")).folder.name


def test_mutated_files_do_no_harm(file: Path, tmp_path: Path) -> None:
    """Each is refused in lines that can be shown, or becomes a piece that opens; nothing else.

    `TRACKER_FAULTS=20000` in the environment gives the long form.
    """
    chance = random.Random(20261126)  # noqa: S311  (to choose mutations)
    good, odd, home = file.read_text("utf-8"), tmp_path / "odd.piece.toml", tmp_path / "deep" / "in"
    around = set(tmp_path.rglob("*")) | {odd, home.parent, home}
    let_in, said = 0, []
    for _ in range(MUTANTS):
        odd.write_bytes(mutated(chance, good).encode("utf-8", "surrogatepass"))
        try:
            found = import_piece(odd, Store(home))
        except ProblemsError as error:
            said += error.lines()
            continue
        let_in += 1
        assert home / "pieces" == found.folder.path.parent
        with open_piece(found.folder, compiled().pattern) as piece:
            assert not piece.read_only
    assert all(line.isprintable() for line in said)
    outside = set(tmp_path.rglob("*")) - around
    assert all(path.is_relative_to(home) for path in outside)
    assert 0 < let_in < MUTANTS / 2


T = "2026-11-25T12:00:00.000Z"
SIZE = 11_000_000


def keys(size: int) -> str:
    """Lines of TOML that take a parser long."""
    return "".join(f"a{i}=1\n" for i in range(size // 10))


def with_journal(good: Exported, *texts: str) -> Exported:
    """The piece with a journal of these lines, each with its right check."""
    data, mark = chain.header(compiled().pattern.digest)
    for text in (f"{T} started", *texts):
        line, mark = chain.line(mark, text)
        data += line
    return replace(good, journal=data.decode())


def bombs(good: Exported) -> dict[str, str]:
    """Files made to take time and memory, every seal and check of them right."""

    def pattern(text: str) -> str:
        return exported.write(replace(good, pattern=resealed(text)))

    snapshot = (
        f"{T} snapshot started: {T}; at: row 1 step 1; last stitched: never; by: step; measured: "
        "none; cuts: none; lost: none; unpicking: none; furthest: row 1 step 1; last move: never; "
        f"row started: never; row seconds: {' '.join(['60.000'] * (SIZE // 8))}; gaps: none"
    )
    block = 'format = 1\nkind = "exported piece"\n'
    return {
        "keys": pattern(good.pattern + keys(SIZE)),
        "keys in a block": pattern(f"{good.pattern}# '''\n{keys(SIZE)}# '''\n"),
        "rows": pattern(good.pattern.replace("1 up 0", "x\n" * (SIZE // 2) + "1 up 0")),
        "wide letters": pattern(
            good.pattern.replace("1 up 0", "\U0001f9f5" * (SIZE // 4) + "\n1 up 0")
        ),
        "blocks": exported.write(replace(good, pattern="'''" * (SIZE // 12))),
        "lines": exported.write(
            with_journal(good, *([f"{T} measured 10.000 mm at 1 rows"] * 50_000))
        ),
        "a snapshot": exported.write(with_journal(good, snapshot)),
        "a design": exported.write(replace(good, design=keys(230_000))),
        "a comment": "# x\n" * (SIZE // 4),
        "nothing": block,
        "too much": "#" * 13_000_000,
    }


def test_files_made_to_take_time_and_memory(file: Path, tmp_path: Path) -> None:
    """Each is refused within 512 MB, without a traceback; one that hangs runs into the timeout.

    How long each takes is told by `tests/bench`: a shared machine may take twice as long.
    """
    for name, text in bombs(exported.read(file.read_text("utf-8"))).items():
        file.write_text(text, "utf-8")
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("TRACKER_HOME", str(tmp_path / "there"))
            done = run("-m", "tracker", "import", str(file), memory=MOST_BYTES)
        assert (1, "") == (done.returncode, done.stdout), (name, done.stderr[-500:])
        assert "Traceback" not in done.stderr, name
        assert done.stderr.startswith(f"{file}: "), name
    assert [] == list((tmp_path / "there").rglob("*.toml"))


def test_a_link_is_followed_by_nobody(file: Path, tmp_path: Path) -> None:
    """A link where the new folder would go is left alone, and so is what it leads to."""
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    pieces = tmp_path / "there" / "pieces"
    pieces.mkdir(parents=True)
    (pieces / "harbour-lights").symlink_to(elsewhere)
    found = import_piece(file, Store(tmp_path / "there"))

    assert pieces / "harbour-lights-2" == found.folder.path
    assert [] == list(elsewhere.iterdir())


@pytest.mark.parametrize("kind", ["folder", "gone", "fifo"])
def test_what_is_no_file(tmp_path: Path, kind: str) -> None:
    """A folder, nothing and a pipe are refused at once."""
    path = tmp_path / "x.piece.toml"
    if kind == "folder":
        path.mkdir()
    elif kind == "fifo":
        os.mkfifo(path)
    with pytest.raises(ProblemsError, match=r"x\.piece\.toml: file: "):
        import_piece(path, Store(tmp_path / "home"))


def test_the_folder_of_names_is_synced(file: Path, tmp_path: Path) -> None:
    """A piece that was taken in is on the disk, its name in the folder too, when that is said."""
    synced: list[Path] = []
    real = durable.sync_folder
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(durable, "sync_folder", lambda path: (synced.append(path), real(path))[1])
        import_piece(file, Store(tmp_path / "there"))
    assert tmp_path / "there" / "pieces" == synced[-1]
