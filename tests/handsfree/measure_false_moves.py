"""How often speech beside the work is taken for a spoken command.

    python tests/handsfree/measure_false_moves.py --hours 2 --jobs 2

Makes hours of speech by machine, in several voices and at several speeds, from words near to the
phrases, from the phrases' own words in the wrong company, and from sentences as they fall over
this work; it never says a phrase itself. With `--ordinary`, it talks of the work and the world
without those words. All of it goes through the real gate and recogniser, and every false command
is printed with the speech it was found in, then the rates.
"""

import argparse
import io
import random
import re
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from itertools import repeat

from spoken import RATE, Voice, in_noise, silence

from tracker.handsfree.listening.phrases import USUAL
from tracker.handsfree.listening.recogniser import Recogniser, model_folder
from tracker.handsfree.listening.voice_gate import VoiceGate
from tracker.handsfree.listening.worker import SOUND, block, stretches

MOVING = ("forward", "back", "undo_row")
NEAR = re.findall(
    r"\w+",
    """
next one please go back more listen again undo row last stop many how time once text won ones peas
press plays black pack bag goat going gone lesson listed listens against gain begin undone and do
until under roll rose low lost least past stopped stopping top shop money any may mine mere moor
most tie times tame type listener glisten window doing rows home now her hour
""",
)
CRAFT = re.findall(
    r"\w+",
    """
bead beads seed seeds tile tiles thread needle colour column lane hole open lone pick up through
turn edge tail join pass by the a it this that with two three four left right tight loose pull
slowly count them six seven light dark blue ivory teal
""",
)
SENTENCES = """
go through the next one
please go back to the last row
one more row and then a turn
the next one is blue
how many are there
how many rows are left
listen to this again
stop it
stop listening to the radio
undo that knot
undo the last three rows
the last row was wrong
one more
one more please
next please
next one
go back
back one row
once more
many more to come
time for tea
once again
the next time please
listen
again
please
next row please
i lost one more tile
go on
go back home
one at a time
how much more is there
no one listens
pick up one seed and one tile
go through the lone seed
pass by the full tile
it is the last one please
undo it again
""".strip().splitlines()
ORDINARY = """
did you see where I put the scissors
there is a knot in it somewhere
come and look at this
what time do we eat
I can hardly see the hole in this light
hold it by the tail and pull
the blue ones look better beside the ivory
I think it will be long enough for my wrist
she wants one in the same colours as yours
put the kettle on when you get up
it was raining all morning so I stayed in
pick up one seed and one tile
go through the lone seed and pass by the full tile
my eyes are tired and my back hurts
what did they say on the radio about the weather
""".strip().splitlines()
ACCENTS = ("en-us", "en-gb", "en-gb-scotland", "en-gb-x-rp", "en-029", "en-us-nyc")
TIMBRES = ("", "+f2", "+f4", "+m3", "+m5", "+linda")
RECORDED = ("kal16", "rms", "slt", "awb")


def voice(chance: random.Random, recorded: bool) -> Voice:
    """Somebody who talks."""
    if recorded and chance.random() < 0.4:
        return Voice(chance.choice(RECORDED), round(chance.uniform(0.85, 1.2), 2), recorded=True)
    name = chance.choice(ACCENTS) + chance.choice(TIMBRES)
    return Voice(name, chance.randint(125, 200), chance.randint(30, 70))


def speech(chance: random.Random, near: bool) -> list[str]:
    """A few things said one after the other, none of which is a phrase; many `near` to one."""
    sentences = SENTENCES + ORDINARY if near else ORDINARY
    said: list[str] = []
    wanted = chance.randint(4, 8)
    while len(said) < wanted:
        kind = chance.random()
        if kind < 0.35:
            words = chance.choices(NEAR if near else CRAFT, k=chance.randint(1, 6))
        elif kind < 0.6:
            words = [
                chance.choice(NEAR if near and chance.random() < 0.5 else CRAFT)
                for _ in range(chance.randint(2, 12))
            ]
        else:
            words = [chance.choice(sentences)]
        text = " ".join(words)
        together = " ".join([*said[-1:], text])
        if not any(phrase in together for phrase in USUAL.values()):
            said.append(text)
    return said


def measure(
    seed: int, seconds: float, recorded: bool, near: bool
) -> tuple[float, int, Counter[str]]:
    """The seconds of speech made, the stretches that might have been commands, the false ones."""
    chance = random.Random(seed)  # noqa: S311  (to choose words)
    model = model_folder()
    assert model is not None, "pocketsphinx is not installed"
    recogniser = Recogniser(USUAL, model)
    made = 0.0
    short = 0
    false: Counter[str] = Counter()
    while made < seconds:
        said, speaker = speech(chance, near), voice(chance, recorded)
        sound = silence(0.5)
        for text in said:
            sound += speaker.say(text) + silence(chance.choice((0.05, 0.15, 0.3, 0.5, 0.8, 1.2)))
        sound = in_noise(sound + silence(0.5), chance.choice((20, 30, 40, 50)))
        made += len(sound) / 2 / RATE
        blocks = io.BytesIO(block(SOUND, sound))
        for stretch in stretches(blocks, VoiceGate(recogniser.is_speech)):
            short += 1
            command = recogniser.command(stretch)
            if command is not None:
                false[command] += 1
                print(f"{command} at {stretch.at:.1f} s: {speaker.name}: {said}", flush=True)
    return made, short, false


def main() -> None:
    """Measure, and print the rates."""
    options = argparse.ArgumentParser(description="How often speech is taken for a command.")
    options.add_argument("--hours", type=float, default=2.0, help="of speech, by all jobs together")
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--no-recorded", action="store_true", help="do without flite's voices")
    options.add_argument("--ordinary", action="store_true", help="without words near to a phrase")
    given = options.parse_args()
    seconds = given.hours * 3600 / given.jobs
    seeds = [given.seed * 1000 + number for number in range(given.jobs)]
    with ProcessPoolExecutor(given.jobs) as jobs:
        parts = list(
            jobs.map(
                measure,
                seeds,
                repeat(seconds),
                repeat(not given.no_recorded),
                repeat(not given.ordinary),
            )
        )
    hours = sum(made for made, _, _ in parts) / 3600
    false = sum((found for _, _, found in parts), Counter[str]())
    moving = sum(false[command] for command in MOVING)
    print(f"{hours:.2f} hours of speech, {sum(n for _, n, _ in parts)} stretches judged")
    others = false.total() - moving
    print(f"moving the work: {moving}, {moving / hours:.2f} an hour")
    print(f"other commands: {others}, {others / hours:.2f} an hour; in all {dict(false)}")


if __name__ == "__main__":
    main()
