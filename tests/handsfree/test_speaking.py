import shutil
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from tracker.handsfree.programs import Program
from tracker.handsfree.speaking import NO_SPEECH, Speaker, speech_program, spoken

# A beader's own speech command: it notes what it was given and, while the file `hold` is there,
# goes on speaking, with a child that speaks along.
RECORDING = """\
#!{python}
import os, subprocess, sys, time
folder = {folder!r}
with open(os.path.join(folder, "said"), "a") as said:
    said.write(repr((sys.argv[1:], sys.stdin.read())) + "\\n")
if os.path.exists(os.path.join(folder, "hold")):
    child = subprocess.Popen([sys.executable, "-c", "import time; time.sleep(60)"])
    with open(os.path.join(folder, "running"), "a") as running:
        running.write(f"{{os.getpid()}} {{child.pid}}\\n")
    time.sleep(60)
"""


def executable(path: Path, text: str) -> str:
    """The path of a new program."""
    path.write_text(text)
    path.chmod(0o755)
    return str(path)


@pytest.fixture
def recording(tmp_path: Path) -> str:
    """A speech command that records in `tmp_path`."""
    text = RECORDING.format(python=sys.executable, folder=str(tmp_path))
    return executable(tmp_path / "voice", text)


def until(condition: Callable[[], bool], seconds: float = 50) -> bool:
    """Whether the condition comes true in time."""
    end = time.monotonic() + seconds
    while not condition():
        if time.monotonic() > end:
            return False
        time.sleep(0.01)
    return True


def said(folder: Path) -> list[str]:
    """What the recording command noted."""
    path = folder / "said"
    return path.read_text().splitlines() if path.exists() else []


def running(folder: Path) -> list[int]:
    """The processes of the recording command, those of its children with them."""
    path = folder / "running"
    return [int(pid) for pid in path.read_text().split()] if path.exists() else []


def alive(pid: int) -> bool:
    """Whether the process exists and is no zombie of ours (a killed orphan is its adopter's)."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    except FileNotFoundError:
        return False
    return state[0] != "Z" or int(state[1]) == my_pid()


def my_pid() -> int:
    """This process."""
    return int(Path("/proc/self").readlink().name)


on_linux = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="looks at processes in /proc"
)


def test_text_is_the_last_argument_as_it_stands(tmp_path: Path, recording: str) -> None:
    """Quotes, dollars, semicolons and the like reach the command as text: there is no shell."""
    hostile = "$(touch x); 'a' \"b\" `c` & | > \\ % *"
    speaker = Speaker(speech_program((recording, "--slow")))
    speaker.say(hostile)
    assert until(lambda: len(said(tmp_path)) == 1)
    assert repr((["--slow", hostile], "")) == said(tmp_path)[0]
    speaker.close()


def test_text_on_the_input(tmp_path: Path, recording: str) -> None:
    """A program that reads its input gets the text there, and no argument."""
    speaker = Speaker(Program((recording,), on_input=True))
    speaker.say("pick up 1 søde seed")
    assert until(lambda: len(said(tmp_path)) == 1)
    assert repr(([], "pick up 1 søde seed")) == said(tmp_path)[0]
    speaker.close()


@pytest.mark.parametrize("text", ["-w /tmp/out", "--version", "-"])
def test_text_is_never_an_option(tmp_path: Path, recording: str, text: str) -> None:
    """Text that begins with a dash no longer does when the command gets it."""
    speaker = Speaker(speech_program((recording,)))
    speaker.say(text)
    assert until(lambda: len(said(tmp_path)) == 1)
    assert repr(([f" {text}"], "")) == said(tmp_path)[0]
    speaker.close()


def test_control_characters_and_inline_commands_are_not_spoken() -> None:
    """Nothing in a file's text can steer a speech program or a terminal."""
    assert "a b c [ [rate 900] ]" == spoken("a\0b\x1bc [[rate 900]]")


@on_linux
def test_a_new_saying_cuts_off_the_old(tmp_path: Path, recording: str) -> None:
    """`say` returns at once, and the old program and its child are gone when the new one runs."""
    (tmp_path / "hold").touch()
    speaker = Speaker(speech_program((recording,)))
    speaker.say("one")
    assert until(lambda: len(running(tmp_path)) == 2)
    old = running(tmp_path)
    (tmp_path / "hold").unlink()
    speaker.say("two")
    assert until(lambda: len(said(tmp_path)) == 2)
    assert until(lambda: not any(map(alive, old)))
    assert until(lambda: not speaker.speaking)
    speaker.close()


@on_linux
def test_hush_and_close_leave_no_process(tmp_path: Path, recording: str) -> None:
    """Hushed and closed in the middle of speaking, nothing of it lives on, not even as a zombie."""
    (tmp_path / "hold").touch()
    speaker = Speaker(speech_program((recording,)))
    speaker.say("one")
    assert until(lambda: len(running(tmp_path)) == 2)
    assert until(lambda: speaker.speaking)
    speaker.hush()
    assert not speaker.speaking
    speaker.say("two")
    assert until(lambda: len(running(tmp_path)) == 4)
    speaker.close()
    assert until(lambda: not any(map(alive, running(tmp_path))))


@on_linux
def test_a_program_that_ends_by_itself_is_buried(tmp_path: Path, recording: str) -> None:
    """After the last word no zombie waits for the next saying."""
    speaker = Speaker(speech_program((recording,)))
    speaker.say("one")
    assert until(lambda: len(said(tmp_path)) == 1)
    assert until(lambda: not speaker.speaking)
    children = Path(f"/proc/{my_pid()}/task/{my_pid()}/children")
    assert until(lambda: children.read_text() == "")
    speaker.close()


def test_speaking_is_told_in_order(tmp_path: Path, recording: str) -> None:
    """A listener hears of one stretch of speaking, though a second saying cut off the first."""
    (tmp_path / "hold").touch()
    told: list[bool] = []
    speaker = Speaker(speech_program((recording,)), on_speaking=told.append)
    speaker.say("one")
    speaker.say("two")
    assert [True] == told
    speaker.hush()
    assert [True, False] == told
    speaker.close()
    assert [True, False] == told


@pytest.mark.parametrize(
    ("program", "notice"),
    [
        ("#!/bin/sh\necho 'no such voice' >&2\nexit 3\n", "voice fails (exit 3): no such voice"),
        ("#!/bin/sh\nkill -SEGV $$\n", "voice fails (ended by signal 11)"),
        ("not a program", "voice does not start: Exec format error"),
    ],
)
def test_a_failing_program_is_a_notice_once(tmp_path: Path, program: str, notice: str) -> None:
    """A program that fails, crashes or cannot start never raises, and is told of a single time."""
    notices: list[str] = []
    command = executable(tmp_path / "voice", program)
    speaker = Speaker(speech_program((command,)), on_notice=notices.append)
    for _ in range(3):
        speaker.say("one")
        assert until(lambda: not speaker.speaking)
    assert until(lambda: len(notices) == 1)
    speaker.close()
    assert [notice] == notices


def test_a_program_that_hangs_is_ended(
    tmp_path: Path, recording: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program that takes far longer than any voice is ended and told of."""
    monkeypatch.setattr("tracker.handsfree.speaking._PATIENCE", 0.2)
    (tmp_path / "hold").touch()
    told = threading.Event()
    speaker = Speaker(speech_program((recording,)), on_notice=lambda _: told.set())
    speaker.say("a")
    assert told.wait(10)
    assert not speaker.speaking
    speaker.close()


def test_without_a_program_there_is_a_notice() -> None:
    """With nothing installed, speaking is a notice and nothing else."""
    notices: list[str] = []
    program = speech_program(platform="linux", which=lambda _: None)
    speaker = Speaker(program, on_notice=notices.append)
    speaker.say("one")
    speaker.say("two")
    speaker.hush()
    assert not speaker.speaking
    speaker.close()
    assert [NO_SPEECH] == notices


@pytest.mark.parametrize(
    ("platform", "there", "arguments"),
    [
        ("linux", {"espeak-ng", "spd-say"}, ("espeak-ng", "-b", "1", "--stdin")),
        ("linux", {"spd-say"}, ("spd-say", "--wait", "--")),
        ("darwin", {"say", "espeak-ng"}, ("say", "-f", "-")),
    ],
)
def test_what_is_installed_decides(
    platform: str, there: set[str], arguments: tuple[str, ...]
) -> None:
    """The voice the system has is the one that speaks."""
    program = speech_program(platform=platform, which=lambda name: name if name in there else None)
    assert program is not None
    assert arguments == program.arguments


def test_no_text_in_the_windows_script() -> None:
    """Where a script has to be given, the text goes on the input, never into the script."""
    program = speech_program(platform="win32", which=lambda name: name)
    assert program is not None
    assert program.on_input


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_the_real_voice_reads_the_text(tmp_path: Path) -> None:
    """The speech program itself, writing to a file, speaks longer for a longer text, dash or no."""
    program = speech_program()
    assert program is not None
    assert "espeak-ng" == program.name
    sizes: list[int] = []
    for text in ("-x one", "-x one seed and one tile, then go through the lone seed"):
        out = tmp_path / f"{len(sizes)}.wav"
        notices: list[str] = []
        writing = Program((*program.arguments, "-w", str(out)), on_input=True)
        speaker = Speaker(writing, on_notice=notices.append)
        speaker.say(text)
        assert until(lambda: not speaker.speaking)  # noqa: B023  (called before the next round)
        speaker.close()
        assert [] == notices
        sizes.append(out.stat().st_size)
    assert 10_000 < sizes[0]
    assert 2 * sizes[0] < sizes[1]
