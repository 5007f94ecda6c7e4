import importlib.util
import os
import sys
import threading
import time
import wave
from pathlib import Path

import pytest
from spoken import MISSING, RATE, Voice, in_noise, silence

from tracker.handsfree.listening.capture import NO_CAPTURE, capture_program
from tracker.handsfree.listening.listener import Heard, Listener, attend, chosen_phrases
from tracker.handsfree.listening.phrases import USUAL
from tracker.handsfree.listening.recogniser import NO_RECOGNISER
from tracker.handsfree.programs import Program
from tracker.problems import ProblemsError

if importlib.util.find_spec("pocketsphinx") is None:
    pytest.skip("pocketsphinx is not installed (extra: voice)", allow_module_level=True)
needs_speech = pytest.mark.skipif(
    bool(MISSING), reason=f"{' and '.join(MISSING)} not installed (packages of the system)"
)

VOICES = (Voice("en-us+f2", 170, 55), Voice("en-us+m3", 170, 55))
GAP = silence(0.9)
PHRASES = chosen_phrases({})

# A recording program of the beader's own. It writes its file whole, and then, for each further
# file named, waits until that file is there before it writes it; it says what it has played.
PLAYING = """\
import os, sys, time
for path in sys.argv[1:]:
    while not os.path.exists(path):
        time.sleep(0.01)
    sys.stdout.buffer.write(open(path, "rb").read())
    sys.stdout.buffer.flush()
    open(path + ".played", "w").close()
while True:
    time.sleep(60)
"""


class Ears:
    """What a listener has told."""

    def __init__(self) -> None:
        self.heard: list[Heard] = []
        self.notices: list[str] = []
        self._more = threading.Condition()

    def on_heard(self, heard: Heard) -> None:
        """Keep what was heard."""
        with self._more:
            self.heard.append(heard)
            self._more.notify_all()

    def on_notice(self, notice: str) -> None:
        """Keep a notice."""
        with self._more:
            self.notices.append(notice)
            self._more.notify_all()

    def listen(self, source: Program | Path | None) -> Listener:
        """A listener that tells these ears."""
        return Listener(source, PHRASES, on_heard=self.on_heard, on_notice=self.on_notice)

    def commands(self) -> list[str]:
        """The commands heard."""
        return [heard.command for heard in self.heard]

    def until(self, commands: int = 0, notices: int = 0, seconds: float = 30) -> bool:
        """Whether so much has been told in time."""
        with self._more:
            return self._more.wait_for(
                lambda: commands <= len(self.heard) and notices <= len(self.notices), seconds
            )


def heard_in(sound: bytes, folder: Path) -> list[Heard]:
    """What is heard in a recording."""
    path = folder / "sound.raw"
    path.write_bytes(sound)
    ears = Ears()
    listener = ears.listen(path)
    assert listener.start()
    assert listener.wait(60)
    listener.close()
    assert [] == ears.notices
    return ears.heard


def saved(sound: bytes, path: Path) -> Path:
    """The sound in a file that comes into being whole."""
    made = path.with_suffix(".part")
    made.write_bytes(sound)
    return made.rename(path)


@needs_speech
@pytest.mark.parametrize("voice", VOICES, ids=lambda voice: voice.name)
def test_every_command_is_heard_in_noise(voice: Voice, tmp_path: Path) -> None:
    """Each usual phrase, 20 dB above pink noise, gives its command once, at its last word's end."""
    sound = GAP
    ends = []
    for phrase in USUAL.values():
        said = voice.say(phrase).rstrip(b"\0")
        sound += said + bytes(len(said) % 2)
        ends.append(len(sound) / 2 / RATE)
        sound += GAP
    heard = heard_in(in_noise(sound, 20), tmp_path)
    assert list(USUAL) == [found.command for found in heard]
    assert list(USUAL.values()) == [found.phrase for found in heard]
    assert ends == pytest.approx([found.at for found in heard], abs=0.5)


@needs_speech
def test_asleep_it_hears_nothing_but_the_call_to_wake(tmp_path: Path) -> None:
    """Between "stop listening" and "listen again" no command counts; afterwards they do."""
    voice = VOICES[0]
    order = ["forward", "sleep", "forward", "undo_row", "wake", "back"]
    sound = GAP + b"".join(voice.say(USUAL[command]) + GAP for command in order)
    heard = heard_in(in_noise(sound, 25), tmp_path)
    assert ["forward", "sleep", "wake", "back"] == [found.command for found in heard]


def test_attention() -> None:
    """Every state and command: asleep only "wake" counts, and only "sleep" puts to sleep."""
    for awake in (True, False):
        for command in USUAL:
            after, counts = attend(awake, command)
            assert (awake or command == "wake") == counts
            assert (command != "sleep" and (awake or command == "wake")) == after


@needs_speech
def test_deaf_it_hears_nothing(tmp_path: Path) -> None:
    """What sounds while it is deaf, or at once afterwards, is dropped; then it hears again."""
    phrase = in_noise(GAP + VOICES[0].say(USUAL["forward"]) + GAP, 25)
    after = in_noise(GAP + VOICES[0].say(USUAL["count"]) + GAP, 25)
    late = saved(in_noise(VOICES[0].say(USUAL["back"]) + GAP, 25), tmp_path / "late.raw")
    first, second, third = (tmp_path / f"{number}.raw" for number in (1, 2, 3))
    saved(phrase, first)
    program = Program((sys.executable, "-c", PLAYING, *map(str, (first, second, third))))
    ears = Ears()
    listener = ears.listen(program)
    assert listener.start()
    assert ears.until(commands=1)
    listener.deaf(True)
    saved(phrase, second)
    while not Path(f"{second}.played").exists():
        time.sleep(0.01)
    time.sleep(0.3)  # what is still under way goes by
    listener.deaf(False)
    # The first 0.3 s are still not heard, so that this "go back one" has lost its "go".
    saved(late.read_bytes() + after, third)
    assert ears.until(commands=2)
    listener.close()
    assert ["forward", "count"] == ears.commands()
    assert [] == ears.notices


@needs_speech
def test_running_speech_moves_nothing(tmp_path: Path) -> None:
    """About a minute of speech that is full of the phrases' words gives no command at all."""
    speech = (
        "now the next one goes through the lone seed, please look at it again. ",
        "go back to the last row, and count how many seeds there are. ",
        "one more bead, and one more turn. the next time you listen, stop. ",
        "undo it, and then go on. how many rows are left? many more, I think. ",
        "please go on. next, one more. the one in the last row. listen, and stop again. ",
        "next one. one please. go back. back one row. more time. many more. undo last. last row. ",
    )
    sound = silence(0.5) + b"".join(
        voice.say(sentences) + silence(pause)
        for voice, pause in zip(VOICES, (0.4, 0.8), strict=True)
        for sentences in speech
    )
    assert 55 * RATE * 2 < len(sound)
    assert [] == heard_in(in_noise(sound, 30), tmp_path)


@needs_speech
def test_nearly_a_phrase_is_no_command(tmp_path: Path) -> None:
    """With one word changed, said by itself and clearly, a phrase is no longer heard."""
    nearly = ("next one again", "go back home", "one more tile", "one more try", "undo last week")
    sound = GAP + b"".join(voice.say(words) + GAP for words in nearly for voice in VOICES)
    assert [] == heard_in(in_noise(sound, 25), tmp_path)


@needs_speech
def test_a_wav_file_is_sound_too(tmp_path: Path) -> None:
    """A WAV file of 16 kHz is listened to like a raw one; another rate is refused."""
    sound = in_noise(GAP + VOICES[1].say(USUAL["count"]) + GAP, 25)
    for rate, heard, notices in (
        (RATE, ["count"], []),
        (44_100, [], ["there is no sound from s.wav: s.wav is not 16 kHz, mono, 16 bit"]),
    ):
        with wave.open(str(tmp_path / "s.wav"), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(rate)
            file.writeframes(sound)
        ears = Ears()
        listener = ears.listen(tmp_path / "s.wav")
        assert (not notices) == listener.start()
        assert listener.wait(30)
        listener.close()
        assert heard == ears.commands()
        assert notices == ears.notices


@pytest.mark.parametrize(
    ("script", "notice"),
    [
        ("import sys; sys.exit('no microphone')", "(exit 1): no microphone"),
        ("import os; os.kill(os.getpid(), 9)", "(signal 9)"),
        ("pass", "(exit 0)"),
    ],
)
def test_a_recording_program_that_ends_is_a_notice(script: str, notice: str) -> None:
    """When the microphone goes, the beader is told so once, and nothing else happens."""
    ears = Ears()
    listener = ears.listen(Program((sys.executable, "-c", script)))
    assert listener.start()
    assert ears.until(notices=1)
    assert listener.wait(30)
    listener.close()
    name = Path(sys.executable).name
    assert [f"{name} has stopped recording {notice}"] == ears.notices


def test_a_recording_program_that_is_not_there_is_a_notice(tmp_path: Path) -> None:
    """A command that cannot be started, and none at all, are told of when listening begins."""
    for source, notice in (
        (
            Program((str(tmp_path / "none"),)),
            "there is no sound from none: No such file or directory",
        ),
        (None, NO_CAPTURE),
    ):
        ears = Ears()
        listener = ears.listen(source)
        assert not listener.start()
        listener.close()
        assert [notice] == ears.notices


def test_without_the_recogniser_there_is_a_notice(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the optional package is not installed, listening says which one it needs."""
    monkeypatch.setitem(sys.modules, "pocketsphinx", None)
    ears = Ears()
    listener = ears.listen(Program((sys.executable, "-c", "pass")))
    assert not listener.start()
    listener.close()
    assert [NO_RECOGNISER] == ears.notices


def test_a_recogniser_that_dies_is_a_notice(tmp_path: Path) -> None:
    """When the recogniser's process is killed, listening ends with a notice."""
    ears = Ears()
    listener = ears.listen(Program((sys.executable, "-c", PLAYING, str(tmp_path / "never"))))
    assert listener.start()
    assert listener._worker is not None
    listener._worker.kill()
    assert ears.until(notices=1)
    assert listener.wait(10)
    listener.close()
    assert ["the recogniser has ended (status -9); listening has stopped"] == ears.notices


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks at processes in /proc")
def test_closing_leaves_no_process(tmp_path: Path) -> None:
    """Closed while it listens, neither the recording program nor the recogniser lives on."""
    ears = Ears()
    listener = ears.listen(Program((sys.executable, "-c", PLAYING, str(tmp_path / "never"))))
    assert listener.start()
    assert not listener.wait(0.1)
    children = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children")
    assert 2 <= len(children.read_text().split())
    listener.close()
    assert not listener.listening
    assert [] == children.read_text().split()
    assert [] == ears.notices


def test_phrases_of_ones_own() -> None:
    """Stops, capitals and spaces do not matter, and the other commands keep their phrases."""
    chosen = chosen_phrases({"forward": "  Carry on,  weaving! ", "count": "what remains to do"})
    assert {
        **USUAL,
        "forward": "carry on weaving",
        "count": "what remains to do",
    } == chosen


def test_phrases_that_cannot_be_told_apart_or_said_are_refused_together() -> None:
    """Every bad phrase is named with its place and its mend, all in one go."""
    with pytest.raises(ProblemsError) as refused:
        chosen_phrases(
            {
                "forwards": "carry on weaving",
                "forward": "next",
                "back": "zzyzx one \x1b[2J",
                "repeat": "",
                "count": "listen again",
                "undo_row": "undo past row",
                "sleep": "be quiet now and never listen to anything any more",
                "wake": "undo last row",
            }
        )
    lines = refused.value.in_file("settings.toml").lines()
    places = [problem.where.removeprefix("listen.phrases.") for problem in refused.value.problems]
    assert ["forward", "back", "repeat", "sleep", "forwards", "wake"] == places
    assert (
        'settings.toml: listen.phrases.forward: "next" is too short to be told from running '
        'speech; use 3 words, or 4 syllables, such as "next one please"'
    ) == lines[0]
    assert '"zzyzx", "\\x1b[2j"' in lines[1]
    assert "empty" in lines[2]
    assert "too long" in lines[3]
    assert 'did you mean "forward"?' in lines[4]
    assert 'sounds too like "undo past row", the phrase for undo_row' in lines[5]


def test_phrases_that_are_the_same_are_refused() -> None:
    """One phrase for two commands names the beader's own, not the usual one."""
    with pytest.raises(ProblemsError) as refused:
        chosen_phrases({"count": "Next one, please"})
    (problem,) = refused.value.problems
    assert "listen.phrases.count" == problem.where
    assert '"next one please" is also the phrase for forward' == problem.what


@pytest.mark.parametrize(
    ("platform", "there", "name"),
    [
        ("linux", {"arecord", "rec", "sox", "ffmpeg"}, "arecord"),
        ("linux", {"sox", "rec"}, "rec"),
        ("darwin", {"arecord", "sox"}, "sox"),
        ("linux", {"ffmpeg"}, "ffmpeg"),
        ("darwin", {"ffmpeg"}, "ffmpeg"),
    ],
)
def test_what_is_installed_records(platform: str, there: set[str], name: str) -> None:
    """The recording program is one that is there, asked for 16,000 samples a second."""
    program = capture_program(platform=platform, which=lambda tool: tool if tool in there else None)
    assert program is not None
    assert name == program.name
    assert "16000" in program.arguments


def test_nothing_installed_records_nothing() -> None:
    """Without a recording program there is none to start."""
    assert capture_program(platform="linux", which=lambda _: None) is None


def test_the_beaders_own_recording_command_comes_first() -> None:
    """A command from the settings is taken as it stands."""
    program = capture_program(("my-mic", "-x"), platform="linux", which=lambda tool: tool)
    assert Program(("my-mic", "-x")) == program
