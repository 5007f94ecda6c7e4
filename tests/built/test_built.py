"""The wheel and the archive of the source: what they hold, and that they run from elsewhere."""

import hashlib
import importlib.util
import json
import os
import subprocess
import sys
import sysconfig
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parents[1] / "app"))
from terminals import Terminal

ROOT = Path(__file__).parents[2]
DEMO = (ROOT / "patterns" / "night-watch.design.toml").read_text("utf-8")
pytestmark = [
    pytest.mark.skipif(
        importlib.util.find_spec("hatchling") is None, reason="hatchling is not installed"
    ),
    pytest.mark.skipif(importlib.util.find_spec("pip") is None, reason="pip is not installed"),
]


def run(*words: str, at: Path, status: int = 0, **more: str) -> str:
    """What a program prints; it knows nothing of this checkout."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    done = subprocess.run(
        words, capture_output=True, text=True, cwd=at, env=kept | more, timeout=120, check=False
    )
    assert status == done.returncode, done.stdout + done.stderr
    return done.stdout


def build(source: Path, out: Path, *targets: str) -> None:
    """Build these targets, with what is installed and nothing from a network."""
    which = [word for target in targets for word in ("-t", target)]
    run(sys.executable, "-m", "hatchling", "build", "-d", str(out), *which, at=source)


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the archive, the wheel, and in `again` the wheel built from the archive."""
    out = tmp_path_factory.mktemp("built")
    build(ROOT, out, "sdist", "wheel")
    (archive,) = out.glob("*.tar.gz")
    with tarfile.open(archive) as packed:
        packed.extractall(out / "source", filter="data")
    (source,) = (out / "source").iterdir()
    build(source, out / "again", "wheel")
    return out


def names(wheel: Path) -> set[str]:
    """The files in a wheel, its own records left out."""
    with zipfile.ZipFile(wheel) as packed:
        found = {name for name in packed.namelist() if ".dist-info/" not in name}
    # The manual page goes where the system looks for it.
    return {name for name in found if not name.endswith(".data/data/share/man/man1/tracker.1")}


def test_the_wheel_holds_what_is_needed_and_nothing_else(built: Path) -> None:
    """The program, its styles, its table of beads, the demo bands, the licence: no tests."""
    (wheel,) = built.glob("*.whl")
    source = ROOT / "tracker"
    program = {path.relative_to(ROOT).as_posix() for path in source.rglob("*.py")}
    demos = {f"tracker/patterns/{path.name}" for path in (ROOT / "patterns").glob("*.toml")}
    more = {
        *(f"tracker/app/{name}.tcss" for name in ("forms", "styles")),
        *("tracker/beads/shapes.toml", "tracker/py.typed"),
        "tracker/lesson/first-steps.design.toml",
    }
    assert len(demos) >= 10
    assert program | demos | more == names(wheel)
    with zipfile.ZipFile(wheel) as packed:
        (licence,) = (name for name in packed.namelist() if name.endswith("/licenses/LICENSE"))
        assert (ROOT / "LICENSE").read_bytes() == packed.read(licence)


def test_the_archive_gives_the_same_wheel(built: Path) -> None:
    """Byte for byte, and it holds what is needed to test it."""
    wheels = [*built.glob("*.whl"), *(built / "again").glob("*.whl")]
    digests = [hashlib.sha256(wheel.read_bytes()).hexdigest() for wheel in wheels]
    assert 2 == len(digests)
    assert 1 == len(set(digests))
    (source,) = (built / "source").iterdir()
    for path in (
        "tests",
        "docs",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "requirements.lock",
        ".ci/run",
    ):
        assert (source / path).exists(), path


def test_it_runs_from_elsewhere(built: Path, tmp_path: Path) -> None:
    """Installed from the archive's wheel into an environment of its own, far from this checkout."""
    venv.create(tmp_path / "env", with_pip=False)
    python = tmp_path / "env" / "bin" / "python"
    (wheel,) = (built / "again").glob("*.whl")
    run(
        sys.executable, "-m", "pip", "--python", str(python), "install", "-q", "--no-deps",
        "--no-index", str(wheel), at=tmp_path,
    )  # fmt: skip
    # What it depends on comes from here: nothing is fetched.
    (site,) = (tmp_path / "env").glob("lib/python*/site-packages")
    (site / "others.pth").write_text(sysconfig.get_path("purelib") + "\n")
    tracker = str(python.with_name("tracker"))
    here = tmp_path / "here"
    here.mkdir()
    (here / "band.design.toml").write_text(DEMO, "utf-8")
    home = {"TRACKER_HOME": str(tmp_path / "home")}

    where = run(str(python), "-c", "import tracker; print(tracker.__file__)", at=here)
    assert Path(where.strip()).is_relative_to(site)
    assert "usage: tracker" in run(tracker, "--help", at=here)
    run(tracker, "compile", "band.design.toml", at=here, **home)
    checked = run(tracker, "check", "band.pattern.toml", at=here, **home)
    assert "Night watch" in checked
    supplies = json.loads(run(tracker, "supplies", "band.pattern.toml", "--json", at=here, **home))
    assert {"L", "M", "P"} == {bead["colour"] for bead in supplies["beads"]}
    argv = ("env", "-u", "PYTHONPATH", tracker, "open", "band.design.toml")
    with Terminal(here, *argv) as terminal:
        terminal.wait_for_place(1, 1)
        terminal.type(" ")
        terminal.wait_for_place(1, 2)
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
    with Terminal(tmp_path / "env", "env", "-u", "PYTHONPATH", tracker) as terminal:
        terminal.wait_for("first-light")  # the bench offers the demo bands that came along
        terminal.type("q")
        assert 0 == terminal.wait_for_end()
