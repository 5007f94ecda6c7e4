"""Files that are changed with an eye on which lines of the readers they reach, for contributors.

    python tests/faults/fuzz.py design FOLDER [-max_total_time=300]

KIND is design, pattern or settings. Good files are put in FOLDER to begin with, and what reaches
something new is kept there. A pattern is sealed again, so that it is read on, and then told move
by move. Only ProblemsError may be raised; anything else ends it and leaves the file. It needs
atheris (`pip install atheris`), which is no dependency: it has no wheel for every machine.
"""

import sys
from itertools import islice
from pathlib import Path

import atheris

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "faults")]

with atheris.instrument_imports(include=["tracker"]):
    from sealing import resealed
    from test_hostile_files import SETTINGS

    from tracker.loading import compile_text
    from tracker.path.words import step_sentence
    from tracker.pattern.reader import parse_pattern
    from tracker.pictures.told import told
    from tracker.problems import ProblemsError
    from tracker.settings.actions import COMMANDS, USUAL_KEYS
    from tracker.settings.reader import parse_settings

MOVES = 60
"""Of a pattern so many are told, first ones: all of a demo's would make each try slow."""


def read_pattern(text: str) -> None:
    """Read a pattern and tell its first moves."""
    pattern = parse_pattern(resealed(text))
    moves = (
        (row, step) for row in range(pattern.row_count) for step in range(pattern.steps_in(row))
    )
    for row, step in islice(moves, MOVES):
        there = pattern.row(row)
        for full in (True, False):
            step_sentence(pattern, there, there.steps[step], full=full)
        list(told(pattern, row, step))


def read_settings(text: str) -> None:
    """Read settings."""
    parse_settings(text, actions=USUAL_KEYS, commands=COMMANDS)


READERS = {"design": compile_text, "pattern": read_pattern, "settings": read_settings}


def main(kind: str, folder: Path, options: list[str]) -> None:
    """Change files until time is up or something goes wrong."""
    folder.mkdir(parents=True, exist_ok=True)
    goods = sorted((ROOT / "patterns").glob(f"*.{kind}.toml"))
    texts = [path.read_text("utf-8") for path in goods] or [SETTINGS]
    for number, text in enumerate(texts):
        (folder / f"good-{number}").write_text(text, "utf-8")
    read = READERS[kind]

    def one(data: bytes) -> None:
        try:
            read(data.decode("utf-8", "replace"))
        except ProblemsError as error:
            odd = [line for line in error.lines() if not line.isprintable()]
            assert not odd, odd

    limits = ["-max_len=16000", "-timeout=15", f"-artifact_prefix={folder.parent}/{kind}-"]
    atheris.Setup([sys.argv[0], str(folder), *limits, *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), sys.argv[3:])
