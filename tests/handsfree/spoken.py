"""Speech made by machine, for the tests of listening: raw sound, 16 kHz, mono, 16 bit."""

import math
import shutil
import subprocess
from array import array
from dataclasses import dataclass

RATE = 16_000
RAW = ("-t", "raw", "-r", str(RATE), "-c", "1", "-b", "16", "-e", "signed-integer")
PEAK = 8_000
MISSING = [name for name in ("espeak-ng", "sox") if shutil.which(name) is None]


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice: of espeak-ng (formants) or, `recorded`, of flite (made from a person's speech)."""

    name: str
    speed: float
    """Words a minute; for a recorded voice, the share of its usual time that it takes."""
    pitch: int = 50
    recorded: bool = False

    def say(self, text: str) -> bytes:
        """The text, spoken, as loud as any other."""
        if self.recorded:
            pace = ("--setf", f"duration_stretch={self.speed}")
            spoken: tuple[str, ...] = (
                "flite",
                "-voice",
                self.name,
                *pace,
                "-o",
                "/dev/stdout",
                "-t",
                text,
            )
        else:
            how = ("-v", self.name, "-s", str(self.speed), "-p", str(self.pitch), "--stdout")
            spoken = ("espeak-ng", *how, "--", text)
        wav = subprocess.run(spoken, capture_output=True, check=True).stdout
        # The length in the header is not known to who writes to a pipe.
        heard = sox("--ignore-length", "-t", "wav", "-", *RAW, "-", given=wav)
        samples = array("h", heard)
        loudest = max(1, *map(abs, samples))
        return array("h", [sample * PEAK // loudest for sample in samples]).tobytes()


def sox(*arguments: str, given: bytes = b"") -> bytes:
    """What sox makes of the sound given; the same every time."""
    made = subprocess.run(
        ("sox", "-R", "-q", "-V1", *arguments), input=given, capture_output=True, check=True
    )
    return made.stdout


def silence(seconds: float) -> bytes:
    """Perfect silence."""
    return bytes(2 * round(seconds * RATE))


def loudness(sound: bytes) -> float:
    """The root mean square of the samples that are not silent."""
    samples = [sample for sample in array("h", sound) if abs(sample) > 100]
    return math.sqrt(sum(sample * sample for sample in samples) / max(1, len(samples)))


def in_noise(sound: bytes, decibels: float, colour: str = "pinknoise") -> bytes:
    """The sound with noise so many decibels below its speech."""
    seconds = len(sound) / 2 / RATE
    noise = array("h", sox("-n", *RAW, "-", "synth", str(seconds), colour, "vol", "0.2"))
    power = math.sqrt(sum(sample * sample for sample in noise) / len(noise))
    share = loudness(sound) / 10 ** (decibels / 20) / power
    mixed = (
        max(-32768, min(32767, round(sample + share * other)))
        for sample, other in zip(array("h", sound), noise, strict=False)
    )
    return array("h", mixed).tobytes()
