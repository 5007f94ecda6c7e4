"""How many spoken commands are found, by kind of voice and noise, and how long it takes.

python tests/handsfree/measure_found.py
"""

import time
from collections import Counter

from spoken import Voice, in_noise, silence

from tracker.handsfree.listening.phrases import USUAL
from tracker.handsfree.listening.recogniser import Recogniser, model_folder
from tracker.handsfree.listening.voice_gate import FRAME_BYTES, PAUSE, VoiceGate

FORMANT = (
    *(Voice("en-us", 150), Voice("en-gb", 160), Voice("en-gb-scotland", 140, 40)),
    *(Voice("en-gb-x-rp", 175, 60), Voice("en-us+f2", 150, 60), Voice("en-us+m3", 165, 40)),
    *(Voice("en-gb+f4", 150), Voice("en-029", 150)),
)
RECORDED = tuple(
    Voice(name, stretch, recorded=True)
    for name in ("kal16", "rms", "slt", "awb")
    for stretch in (0.9, 1.0, 1.1)
)
NOISES = (
    ("quiet", "pinknoise", 50),
    ("20 dB pink", "pinknoise", 20),
    ("20 dB brown", "brownnoise", 20),
    ("10 dB pink", "pinknoise", 10),
)


def main() -> None:
    """Measure, and print a line for each kind of voice and noise."""
    model = model_folder()
    assert model is not None, "pocketsphinx is not installed"
    recogniser = Recogniser(USUAL, model)
    taken = []
    for name, colour, decibels in NOISES:
        for kind, voices in (("formant", FORMANT), ("recorded", RECORDED)):
            results: Counter[str] = Counter()
            for voice in voices:
                for command, phrase in USUAL.items():
                    sound = in_noise(
                        silence(0.8) + voice.say(phrase) + silence(0.8), decibels, colour
                    )
                    gate = VoiceGate(recogniser.is_speech)
                    heard = []
                    for begin in range(0, len(sound) - FRAME_BYTES + 1, FRAME_BYTES):
                        stretch = gate.feed(sound[begin : begin + FRAME_BYTES])
                        if stretch is None:
                            continue
                        before = time.process_time()
                        found = recogniser.command(stretch)
                        taken.append(time.process_time() - before)
                        heard += [found] if found else []
                    results["right" if heard == [command] else "wrong" if heard else "missed"] += 1
            print(
                f"{name}, {kind}: {100 * results['right'] / results.total():.0f} % right, "
                f"{results['wrong']} wrong, of {results.total()}"
            )
    taken.sort()
    half, most = taken[len(taken) // 2], taken[len(taken) * 95 // 100]
    print(f"after the last word: {PAUSE} s + {half:.2f} s of computing (95 %: {most:.2f} s)")


if __name__ == "__main__":
    main()
