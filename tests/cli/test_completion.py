"""Completion in the shells themselves: commands, options, files by their endings, pieces."""

import os
import pty
import select
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from time import monotonic

import pytest

from tracker import cli
from tracker.completion import ENDINGS, SHELLS, commands_of, script
from tracker.progress.store import Store
from tracker.starting import take_up

ROOT = Path(__file__).parents[2]
COMMANDS = commands_of(cli._parser())
NAMES = {command.name for command in COMMANDS if command.name}


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one file of each kind, a folder, the scripts, and a `tracker` that runs."""
    house = tmp_path_factory.mktemp("house")
    here = house / "here"
    for name in ("band.design.toml", "band.pattern.toml", "b.piece.toml", "notes.toml", "b.svg"):
        here.mkdir(exist_ok=True)
        (here / name).touch()
    (here / "bands").mkdir()
    for shell in SHELLS:
        (house / f"tracker.{shell}").write_text(script(shell, COMMANDS), "utf-8")
    take_up(
        os.fspath(ROOT / "patterns/night-watch.design.toml"), Store(house / "home")
    ).piece.close()
    bin_ = house / "bin"
    bin_.mkdir()
    (bin_ / "tracker").write_text(f'#!/bin/sh\nexec "{sys.executable}" -m tracker "$@"\n', "utf-8")
    (bin_ / "tracker").chmod(0o755)
    return house


def environment(house: Path) -> dict[str, str]:
    """The environment of a shell that has our `tracker` first."""
    return {
        **os.environ,
        "PATH": f"{house / 'bin'}:{os.environ['PATH']}",
        "PYTHONPATH": os.fspath(ROOT),
        "TRACKER_HOME": os.fspath(house / "home"),
        "HOME": os.fspath(house),
        "XDG_CONFIG_HOME": os.fspath(house / "config"),
        "TERM": "dumb",
    }


def run_in(house: Path, *argv: str) -> list[str]:
    """The lines that a shell prints; nothing goes wrong in it."""
    done = subprocess.run(
        argv,
        capture_output=True,
        text=True,
        cwd=house / "here",
        env=environment(house),
        timeout=60,
        check=True,
    )
    assert "" == done.stderr
    return done.stdout.splitlines()


def by_bash(house: Path, *words: str) -> set[str]:
    """What bash offers for the last of the words."""
    typed = " ".join(f"'{word}'" for word in ("tracker", *words))
    code = (
        f"source '{house / 'tracker.bash'}'; complete -p tracker >/dev/null\n"
        f"COMP_WORDS=({typed}); COMP_CWORD={len(words)}; _tracker\n"
        'printf "%s\\n" "${COMPREPLY[@]}"'
    )
    return set(run_in(house, "bash", "--norc", "-c", code)) - {""}


def by_fish(house: Path, *words: str) -> set[str]:
    """What fish offers for the last of the words; it tells what an offer is behind a tab."""
    line = " ".join(("tracker", *words))
    code = f"source '{house / 'tracker.fish'}'; complete -C '{line}'"
    return {line.partition("\t")[0] for line in run_in(house, "fish", "--no-config", "-c", code)}


def by_zsh(house: Path, words: tuple[str, ...], wanted: str) -> str:
    """What zsh shows on a terminal once Tab was pressed behind the words, up to what is wanted."""
    pid, terminal = pty.fork()
    if pid == 0:  # the shell's side of the pair
        os.chdir(house / "here")
        os.execvpe("zsh", ["zsh", "-f", "-i"], environment(house))  # noqa: S606

    def until(text: str) -> str:
        shown, last = "", monotonic() + 30
        while text not in shown and monotonic() < last:
            if select.select([terminal], [], [], 1)[0]:
                shown += os.read(terminal, 10_000).decode(errors="replace")
        return shown

    try:
        ready = f"autoload -Uz compinit; compinit -u -D; source '{house / 'tracker.zsh'}'"
        # The echo of what is typed has the quotes in it.
        os.write(terminal, f"{ready}; print RE''ADY\n".encode())
        assert "READY" in until("READY")
        os.write(terminal, f"{' '.join(('tracker', *words))}\t".encode())
        return until(wanted)
    finally:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(terminal)


needs_bash = pytest.mark.skipif(shutil.which("bash") is None, reason="no bash")
needs_fish = pytest.mark.skipif(shutil.which("fish") is None, reason="no fish")
needs_zsh = pytest.mark.skipif(shutil.which("zsh") is None, reason="no zsh")
OFFERS = [
    (("",), NAMES),
    (("pi",), {"picture"}),
    (("completion", ""), {"bash", "zsh", "fish", "pieces"}),
    (("compile", "band"), {"band.design.toml", "bands"}),
    (("open", "ba"), {"band.design.toml", "band.pattern.toml", "bands"}),
    (("import", "b"), {"b.piece.toml", "bands"}),
    (("picture", "-o", "b"), {"b.svg", "bands"}),
    (("left", "--"), {"--help", "--json"}),
    (("open", "Night"), {"Night watch"}),
]
"""What was typed, and what is offered for it."""


@needs_bash
@pytest.mark.parametrize(("words", "offered"), OFFERS, ids="-".join)
def test_bash(house: Path, words: tuple[str, ...], offered: set[str]) -> None:
    """The script as bash runs it, with the words and the place of the cursor as bash gives them."""
    assert offered == by_bash(house, *words)


@needs_bash
def test_bash_and_a_name_half_typed(house: Path) -> None:
    """A piece's name goes on behind its space, escaped or in quotes."""
    assert (
        {"Night watch"} == by_bash(house, "left", "Night\\ w") == by_bash(house, "left", '"Night w')
    )


@needs_fish
@pytest.mark.parametrize(("words", "offered"), OFFERS, ids="-".join)
def test_fish(house: Path, words: tuple[str, ...], offered: set[str]) -> None:
    """What fish itself would list; folders bear their slash there."""
    assert offered == {offer.rstrip("/") for offer in by_fish(house, *words)}


@needs_zsh
@pytest.mark.terminal
@pytest.mark.parametrize(
    ("words", "shown"),
    [
        (("pi",), "tracker picture"),
        (("compile", "band."), "compile band.design.toml"),
        (("import", "b."), "import b.piece.toml"),
        (("left", "--j"), "left --json"),
        (("open", "Ni"), "open Night\\ watch"),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, tuple) else "",
)
def test_zsh(house: Path, words: tuple[str, ...], shown: str) -> None:
    """On a terminal of its own: what zsh has put on its line once Tab was pressed."""
    assert shown in by_zsh(house, words, shown)


def test_every_argument_is_known() -> None:
    """Each argument of a command has choices or endings, so that a new one is not forgotten."""
    typed = {
        word.value
        for command in COMMANDS
        for word in command.arguments
        if not word.choices and word.value not in ENDINGS
    }
    assert set() == typed


def test_the_command_prints_them(
    capsys: pytest.CaptureFixture[str], house: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`tracker completion` prints each script, and the names of the pieces."""
    monkeypatch.setenv("TRACKER_HOME", os.fspath(house / "home"))
    for shell in SHELLS:
        assert 0 == cli.main(["completion", shell])
        assert script(shell, COMMANDS) == capsys.readouterr().out
    assert 0 == cli.main(["completion", "pieces"])
    assert "Night watch\n" == capsys.readouterr().out
