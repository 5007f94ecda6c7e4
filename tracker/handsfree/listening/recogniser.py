"""Finds a phrase in a stretch of speech, in two passes, with an offline recogniser.

The first pass spots phrases, leniently, and wants one to fill the stretch. The second holds the
phrase found against itself with any one of its words replaced by whatever sounds fit best, and
against such sounds alone: it has to fit better than all of them. Running speech often contains
two words of a phrase; this is what tells it from the phrase.
"""

from __future__ import annotations

import importlib
import importlib.util
import math
import random
import tempfile
from array import array
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from tracker.handsfree.listening.capture import RATE
from tracker.handsfree.listening.phrases import PHONEMES, Dictionary, look_up, words_of
from tracker.handsfree.listening.voice_gate import LONGEST, PAUSE, PRE_ROLL, Stretch

NO_RECOGNISER = (
    "spoken commands need the recogniser; install it with: pip install 'bead-row-tracker[voice]'"
)

# Chosen on synthetic speech of two kinds (formant, and built from recordings), clean and in
# noise, against hours of synthetic speech: tests/handsfree/measure_false_moves.py.
SPOT = 1e-60
"""The likelihood, against other sounds, from which the first pass takes notice of a phrase."""
SWITCH = 1e-8
"""What each further word or sound costs in the second pass: it favours the phrase's few words."""
REPLACED = 1e-14
"""What it costs there to be something else than the phrase."""
LATE = 0.6
"""Seconds of a stretch that may go by before the phrase begins."""
EARLY = 0.5
"""Seconds that may follow when it has ended."""
FLOOR = 10 ** (-25 / 20)
"""Loudness of the noise put under a stretch, as a share of its own: perfect silence between the
sounds, which noise-cancelling microphones make, is nothing that the recogniser was taught."""

_FRAMES = 100
"""The recogniser's frames in a second."""


def model_folder() -> Path | None:
    """Where the recogniser keeps its English model; None if it is not installed."""
    spec = importlib.util.find_spec("pocketsphinx")
    if spec is None or not spec.submodule_search_locations:
        return None
    return Path(spec.submodule_search_locations[0]) / "model" / "en-us"


def dictionary_of(phrases: Mapping[str, str], model: Path) -> Dictionary:
    """The words of `phrases` that the recogniser knows."""
    return look_up(words_of(phrases.values()), model / "cmudict-en-us.dict")


class Recogniser:
    """Knows the phrases of the commands, all of which its dictionary must have."""

    def __init__(self, phrases: Mapping[str, str], model: Path) -> None:
        self._commands = {phrase: command for command, phrase in phrases.items()}
        self._noise = _noise(PRE_ROLL + LONGEST + PAUSE + 0.5)
        sphinx: Any = importlib.import_module("pocketsphinx")
        with tempfile.TemporaryDirectory() as name:
            words = Path(name, "words")
            spotted = Path(name, "spotted")
            words.write_text("".join(_entries(dictionary_of(phrases, model))), "utf-8")
            spotted.write_text("".join(f"{phrase} /{SPOT}/\n" for phrase in self._commands))
            self._decoder = sphinx.Decoder(
                hmm=str(model / "en-us"),
                dict=str(words),
                lm=None,
                lw=1.0,
                pip=1.0,
                wip=SWITCH,
                maxhmmpf=300,  # a sixth less time, and nothing lost
                bestpath=False,
                loglevel="FATAL",
            )
            self._decoder.add_kws("spot", str(spotted))
        for phrase, command in self._commands.items():
            self._decoder.add_jsgf_string(command, grammar(phrase))
        is_speech = sphinx.Vad(mode=2).is_speech
        self.is_speech = is_speech
        """Judges a frame of sound, for the voice gate."""

    def command(self, stretch: Stretch) -> str | None:
        """The command that a stretch of speech is, or None."""
        sound = self._on_noise(stretch.sound)
        for phrase in self._spotted(sound, stretch):
            command = self._commands[phrase]
            self._decoder.activate_search(command)
            self._decode(sound)
            best = self._decoder.hyp()
            if best is not None and best.hypstr == phrase:
                return command
        return None

    def _spotted(self, sound: bytes, stretch: Stretch) -> list[str]:
        """The phrases that may fill the stretch, the likeliest first."""
        self._decoder.activate_search("spot")
        self._decode(sound)
        if self._decoder.hyp() is None:
            return []
        filling = {
            segment.word.strip(): segment.prob
            for segment in self._decoder.seg()
            if segment.start_frame / _FRAMES <= stretch.first + LATE
            and segment.end_frame / _FRAMES >= stretch.last - EARLY
        }
        return sorted(filling, key=filling.__getitem__, reverse=True)

    def _decode(self, sound: bytes) -> None:
        self._decoder.start_utt()
        self._decoder.process_raw(sound, full_utt=True)
        self._decoder.end_utt()

    def _on_noise(self, sound: bytes) -> bytes:
        """The sound with a soft even noise under it."""
        samples = _samples(sound)
        loudness = math.sqrt(sum(sample * sample for sample in samples) / max(1, len(samples)))
        share = loudness * FLOOR
        mixed = (
            max(-32768, min(32767, round(sample + share * noise)))
            for sample, noise in zip(samples, self._noise, strict=False)
        )
        return _sound(array("h", mixed))


def grammar(phrase: str) -> str:
    """The phrase, and what it has to be better than, as a speech grammar (JSGF 1.0)."""
    words = phrase.split()
    others = [
        " ".join(["<any>" if place == replaced else word for place, word in enumerate(words)])
        for replaced in range(len(words))
    ]
    alternatives = "".join(f" | /{REPLACED}/ ({other})" for other in [*others, "<any>"])
    sounds = " | ".join(_alone(sound) for sound in PHONEMES)
    return (
        "#JSGF V1.0;\ngrammar phrase;\n"
        f"public <heard> = /1/ ({phrase}){alternatives};\n"
        f"<any> = ({sounds})+;\n"
    )


def _entries(dictionary: Dictionary) -> Iterator[str]:
    """The recogniser's own dictionary: the phrases' words, and each sound as a word."""
    for word, ways in dictionary.items():
        for number, sounds in enumerate(ways, 1):
            variant = f"({number})" if number > 1 else ""
            yield f"{word}{variant} {' '.join(sounds)}\n"
    for sound in PHONEMES:
        yield f"{_alone(sound)} {sound}\n"


def _alone(sound: str) -> str:
    """A sound as a word: no word of the dictionary is written so."""
    return f"ph_{sound.lower()}"


def _noise(seconds: float) -> list[float]:
    """Even noise, softer towards the high sounds; loudness 1."""
    chance = random.Random(0)  # noqa: S311  (any noise will do, as long as it is always the same)
    noise = []
    level = 0.0
    for _ in range(round(seconds * RATE)):
        level = 0.7 * level + chance.gauss(0, 1)
        noise.append(level)
    loudness = math.sqrt(sum(level * level for level in noise) / len(noise))
    return [level / loudness for level in noise]


def _samples(sound: bytes) -> array[int]:
    samples = array("h", sound)
    if memoryview(b"\1\0").cast("h")[0] != 1:
        samples.byteswap()
    return samples


def _sound(samples: array[int]) -> bytes:
    if memoryview(b"\1\0").cast("h")[0] != 1:
        samples.byteswap()
    return samples.tobytes()
