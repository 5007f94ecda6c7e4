"""Files that mean harm, of every kind, as programs within 512 MB: refused in words, or harmless."""

import os
import re
import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import hostile
import pytest
from sealing import compiled, resealed

import tracker
from tracker.loading import load
from tracker.progress.store import Store
from tracker.settings.reader import effective
from tracker.starting import take_up

MUTANTS = int(os.environ.get("TRACKER_FAULTS", "60"))
SEED = int(os.environ.get("TRACKER_FAULTS_SEED", "20261127"))
MEMORY = 512 << 20
ROOT = Path(tracker.__file__).parents[1]
DEMO = ROOT / "patterns" / "night-watch.design.toml"
DESIGN = DEMO.read_text("utf-8")
SETTINGS = """\
format = 1
bounce = 40
words = "full"
rest = 30
rule = "0.5 mm"

[keys]
forward = ["space", "f5"]

[speak]
on = false
program = ["say", "--slow"]

[listen.phrases]
forward = "next one please"

[tempo]
seconds = 1.5

[supplies]
spare = 0.2
packages = ["10 g", "250 beads"]
"""


def run(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A Python program of this project, within 512 MB; one that hangs runs into the timeout."""
    paths = os.pathsep.join(map(str, (ROOT, ROOT / "tests", ROOT / "tests" / "faults")))
    return subprocess.run(
        [sys.executable, *words],
        capture_output=True,
        text=True,
        cwd=home.parent,
        env=os.environ | {"PYTHONPATH": paths, "TRACKER_HOME": str(home)},
        timeout=60,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
    )


def state(folder: Path) -> dict[Path, bytes]:
    """All that lies in a folder."""
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("kind", ["design", "pattern", "settings", "piece", "journal"])
def test_mutated_files_do_no_harm(tmp_path: Path, kind: str) -> None:
    """No traceback, nothing unprintable, nothing changed elsewhere; some are let in, some not.

    `TRACKER_FAULTS=5000` gives the long form, `TRACKER_FAULTS_SEED` another one. Exported pieces
    have their own in `test_exchanged`.
    """
    home = tmp_path / "home"
    if kind in ("piece", "journal"):
        take_up(str(DEMO), Store(home)).piece.close()
    (tmp_path / "good.toml").write_text(SETTINGS, "utf-8")
    assert list(effective_of(SETTINGS, tmp_path / "s" / "settings.toml"))
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "file").write_text("as it was")
    done = run(home, hostile.__file__, kind, str(SEED), str(MUTANTS), str(tmp_path))
    *faults, let_in = done.stdout.splitlines() or [""]
    assert ([], "") == (faults[:5], done.stderr[-2000:])
    assert 0 < int(let_in) < 3 * MUTANTS
    assert {"file": b"as it was"} == {
        path.name: data for path, data in state(tmp_path / "elsewhere").items()
    }
    known = ("home", "elsewhere", "good.toml", f"odd.{kind}.toml")
    odd = {path.name for path in tmp_path.iterdir()} - set(known)
    assert all(name.endswith(".piece.toml") for name in odd - {"s"})


def effective_of(text: str, path: Path) -> list[tuple[str, str, str]]:
    """The settings of a text: it is a good one."""
    from tracker.settings.actions import COMMANDS, USUAL_KEYS  # noqa: PLC0415
    from tracker.settings.reader import parse_settings  # noqa: PLC0415

    return list(effective(parse_settings(text, actions=USUAL_KEYS, commands=COMMANDS), path))


def keys(size: int) -> str:
    """Lines of TOML, so many characters in all."""
    return "".join(f"a{i}=1\n" for i in range(size // 10))


def before_row_1(text: str) -> str:
    """A pattern with this before its first row."""
    return resealed(compiled().text.replace("1 up 0", f"{text}1 up 0", 1))


COLUMNS = "columns = 2"
BOMBS: dict[str, Callable[[], str]] = {
    "lists.design": lambda: DESIGN + "x = " + "[" * 400_000,
    "tables.design": lambda: "x = " + "{a=" * 190_000,
    "dots.design": lambda: ".".join(["a"] * 490_000) + " = 1\n",
    "dots in quotes.design": lambda: "[" + " . ".join(['"a"'] * 190_000) + "]\n",
    "keys.design": lambda: keys(990_000),
    "inline keys.design": lambda: "x = {" + ",".join(f"a{i}=1" for i in range(90_000)) + "}\n",
    "digits.design": lambda: DESIGN.replace(COLUMNS, f"columns = {'9' * 900_000}"),
    "hex.design": lambda: DESIGN.replace(COLUMNS, f"columns = 0x{'f' * 900_000}"),
    "a name.design": lambda: DESIGN.replace("Night watch", "n" * 900_000),
    "a chart.design": lambda: 'format = 1\n[layout]\nchart = """\n' + "BA\n" * 29_000 + '"""\n',
    "twice.design": lambda: DESIGN + "\n[thread]\n[thread]\n",
    "nul.design": lambda: DESIGN.replace("Night", "Ni\0ght"),
    "too large.design": lambda: "#" * 1_000_001,
    "keys.pattern": lambda: resealed(compiled().text + keys(30_000_000)),
    "lists.pattern": lambda: resealed(compiled().text + "x = " + "[" * 30_000_000),
    "inline.pattern": lambda: resealed(compiled().text + f"x = [{'{},' * 10_000_000}]\n"),
    "rows.pattern": lambda: before_row_1("x\n" * 15_000_000),
    "a row.pattern": lambda: before_row_1("1 up 0 4.81 1 20.5: " + "sS " * 10_000_000),
    "keys in a block.pattern": lambda: resealed(f"{compiled().text}# '''\n{keys(10**7)}# '''\n"),
    "keys.settings": lambda: keys(99_000),
    "dots.settings": lambda: ".".join(["a"] * 49_000) + " = 1\n",
}  # fmt: skip


@pytest.mark.parametrize("kind", BOMBS)
def test_files_made_to_take_time_and_memory(tmp_path: Path, kind: str) -> None:
    """Each is refused within 512 MB, in lines that begin with its name."""
    home = tmp_path / "home"
    home.mkdir()
    path = tmp_path / f"bomb.{kind.rpartition('.')[2]}.toml"
    argv = ["check", path.name]
    if kind.endswith("settings"):
        path, argv = home / "settings.toml", ["settings"]
    path.write_text(BOMBS[kind](), "utf-8")
    done = run(home, "-m", "tracker", *argv)
    path.unlink()
    assert (1, "") == (done.returncode, done.stdout), done.stderr[-500:]
    lines = done.stderr.splitlines()
    assert lines
    assert [] == [line[:300] for line in lines if path.name not in line or not line.isprintable()]
    assert len(lines) < 10_000


@pytest.mark.parametrize("file", ["piece.toml", "journal.toml", "pattern.toml"])
@pytest.mark.parametrize("what", ["pipe", "device", "huge"])
def test_odd_things_in_a_piece(tmp_path: Path, file: str, what: str) -> None:
    """Where a piece's file should be: it is not waited for, and told in words."""
    home = tmp_path / "home"
    take_up(str(DEMO), Store(home)).piece.close()
    (piece,) = Store(home).pieces()
    path = piece.path / file
    path.unlink()
    if what == "pipe":
        os.mkfifo(path)
    elif what == "device":
        path.symlink_to("/dev/zero")
    else:
        with path.open("wb") as huge:
            huge.truncate(65_000_000)
    done = run(home, "-m", "tracker", "left", "Night watch")
    assert (1, "") == (done.returncode, done.stdout)
    assert done.stderr.count("\n") < 5
    assert all(map(str.isprintable, done.stderr.splitlines()))


@pytest.mark.parametrize(
    "name",
    ["../out", "/var/out", "..", ".", "a/../../b", "con", "-rf", "~", "$HOME", "a\\..\\b", "[red]"],
)
def test_names_lead_nowhere(tmp_path: Path, name: str) -> None:
    """A piece's folder lies beside the others, whatever the band is called."""
    home = tmp_path / "home"
    design = tmp_path / "band.design.toml"
    design.write_text(DESIGN.replace("Night watch", name.replace("\\", "\\\\")), "utf-8")
    in_hand = take_up(str(design), Store(home))
    in_hand.piece.close()
    (piece,) = Store(home).pieces()
    assert home / "pieces" == piece.path.parent
    assert re.fullmatch(r"[a-z0-9][a-z0-9-]*", piece.path.name)
    assert name == piece.name
    assert {"home", "band.design.toml"} == {path.name for path in tmp_path.iterdir()}
    assert load(name, Store(home)).piece is not None or os.path.exists(name)  # noqa: PTH110
