"""What may be installed: the lock, what is asked for, and under which licences."""

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import licences
import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).parents[2]
LOCK = (ROOT / "requirements.lock").read_text("utf-8")
PINNED = re.compile(
    r"(?m)^(?P<name>[a-z0-9-]+)==(?P<version>[^ ;]+)(?: ; (?P<marker>[^\\\n]+?))? \\\n"
    r"(?P<hashes>(?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)"
)


def pinned() -> dict[str, list[Version]]:
    """The versions of each package in the lock: more than one where Pythons differ."""
    found: dict[str, list[Version]] = {}
    for line in PINNED.finditer(LOCK):
        found.setdefault(line["name"], []).append(Version(line["version"]))
    return found


def test_everything_is_pinned_with_its_hashes() -> None:
    """Nothing stands in the lock but versions and the SHA-256 of their files, and no address."""
    assert "" == PINNED.sub("", LOCK).strip()
    assert len(pinned()) > 30
    assert "://" not in LOCK


def test_the_lock_is_what_is_asked_for() -> None:
    """Each version fits each wish, and nothing is locked that nobody needs, but builds do."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    wishes = [line for group in licences.asked_for().values() for line in group]
    locked = pinned()
    for wish in map(Requirement, [*wishes, *project["build-system"]["requires"]]):
        versions = locked[canonicalize_name(wish.name)]
        assert all(version in wish.specifier for version in versions), wish
    assert licences.closure(wishes) == set(locked)


def test_what_is_not_pinned_exactly_has_a_ceiling() -> None:
    """A new version that breaks things does not come by itself with those the beader runs."""
    for what, wishes in licences.asked_for().items():
        if what == "running it" or what.startswith("extra"):
            for wish in map(Requirement, wishes):
                assert {"==", "<"} & {limit.operator for limit in wish.specifier}, wish


def test_the_licences_are_told(tmp_path: Path) -> None:
    """The page's table is what the installed packages say, and each says something."""
    done = subprocess.run(
        [sys.executable, licences.__file__, "--check"],
        capture_output=True, text=True, cwd=tmp_path, timeout=60, check=False,
    )  # fmt: skip
    assert (0, "") == (done.returncode, done.stderr)
    assert "not told" not in licences.PAGE.read_text("utf-8")


def test_a_licence_that_changed_is_noticed(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`--check` refuses a page with a line missing, and a run without it puts the line back."""
    whole = licences.PAGE.read_text("utf-8")
    page = tmp_path / "page.md"
    page.write_text(whole.replace("| rich | MIT | running it |\n", ""), "utf-8")
    monkeypatch.setattr(licences, "PAGE", page)
    monkeypatch.setattr(sys, "argv", ["licences.py", "--check"])
    assert 1 == licences.main()
    assert "page.md is not as it should be" in capsys.readouterr().err
    monkeypatch.setattr(sys, "argv", ["licences.py"])
    assert 0 == licences.main()
    assert whole == page.read_text("utf-8")
