"""The settings file: defaults, every problem at once, and where each value comes from."""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.problems import ProblemsError
from tracker.settings.model import Buying, Settings
from tracker.settings.reader import BOUNCE, effective, parse_settings, read_settings
from tracker.settings.writer import keep_buying

ACTIONS = {"forward": ("space", "enter"), "back": ("left", "backspace"), "help": ("f1",)}
COMMANDS = ("forward", "back")

GOOD = """
format = 1
bounce = 60
words = "short"
large = true
rest = 0
rule = "0.5 mm"

[keys]
forward = ["space", "f5"]

[speak]
on = true
program = ["espeak-ng", "-s", "150"]
sounds = false

[listen]
on = true
program = ["arecord", "-q"]
phrases = { forward = "Next Bead Please" }

[tempo]
seconds = 12.5
count_in = 4
"""


def parsed(text: str) -> Settings:
    """Settings from a text."""
    return parse_settings(text, actions=ACTIONS, commands=COMMANDS)


def problems(text: str) -> list[str]:
    """The problems of a text, a line each."""
    with pytest.raises(ProblemsError) as caught:
        parsed(text)
    return caught.value.lines()


def test_without_a_file_the_defaults_hold(tmp_path: Path) -> None:
    """No file is no problem."""
    path = tmp_path / "settings.toml"
    assert Settings() == read_settings(path, actions=ACTIONS, commands=COMMANDS)


def test_everything_can_be_set() -> None:
    """Each key of the file reaches its setting."""
    settings = parsed(GOOD)
    assert (60, "short", True, 0, 0.5) == (
        settings.bounce,
        settings.words,
        settings.large,
        settings.rest,
        settings.rule,
    )
    assert {"forward": ("space", "f5")} == dict(settings.keys)
    assert ("espeak-ng", "-s", "150") == settings.speak.program
    assert (True, False) == (settings.speak.on, settings.speak.sounds)
    assert {"forward": "next bead please"} == dict(settings.listen.phrases)
    assert (12.5, 4) == (settings.tempo.seconds, settings.tempo.count_in)


def test_every_problem_is_told_at_once() -> None:
    """Five slips, five lines, each with its place."""
    lines = problems(
        'format = 1\nbounce = -1\nword = "auto"\nrule = 1\n[speak]\nprogram = "say"\n'
        "[tempo]\nseconds = 0.1\n"
    )
    places = [line.split(": ")[1] for line in lines]
    assert {"bounce", "word", "rule", "speak.program", "tempo.seconds"} == set(places)
    assert any("words" in line for line in lines if ": word:" in line)


def test_two_actions_on_one_key_are_a_problem() -> None:
    """A key given to one action while it is the usual one of another is refused by name."""
    (line,) = problems('format = 1\n[keys]\nforward = ["left"]\n')
    assert "keys.forward" in line
    assert '"left" is a key of back already' in line or '"left" is a key of forward' in line


def test_a_key_may_be_moved_from_one_action_to_another() -> None:
    """Swapping is no conflict when both sides are written down."""
    settings = parsed('format = 1\n[keys]\nforward = ["left"]\nback = ["space"]\n')
    assert {"forward": ("left",), "back": ("space",)} == dict(settings.keys)


def test_an_unknown_action_is_told_with_the_nearest_one() -> None:
    """`foward` is a slip of `forward`."""
    (line,) = problems('format = 1\n[keys]\nfoward = ["f5"]\n')
    assert "did you mean forward?" in line


def test_a_newer_format_is_told_apart() -> None:
    """A file of a later tracker says which format this one reads."""
    (line,) = problems("format = 9\nsomething = 1\n")
    assert "format 9 needs a newer tracker; this one reads format 1" in line


def test_where_each_value_comes_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """File, environment and default are told apart."""
    path = tmp_path / "settings.toml"
    path.write_text('format = 1\nwords = "full"\nbounce = 60\n')
    monkeypatch.setenv(BOUNCE, "0")
    settings = read_settings(path, actions=ACTIONS, commands=COMMANDS)
    told = {name: (value, source) for name, value, source in effective(settings, path)}
    assert ("0", f"${BOUNCE}") == told["bounce"]
    assert ("full", str(path)) == told["words"]
    assert ("30", "default") == told["rest"]
    assert "speak.on" in told


def test_how_beads_are_bought() -> None:
    """The spare share and the packages are read; what is none is a problem at its key."""
    good = parse_settings(
        'format = 1\n[supplies]\nspare = 0\npackages = ["10 g"]', actions={}, commands=()
    )
    assert (0.0, ("10 g",)) == (good.supplies.spare, good.supplies.packages)
    with pytest.raises(ProblemsError) as error:
        parse_settings(
            'format = 1\n[supplies]\nspare = 7\npackages = ["a bag"]', actions={}, commands=()
        )
    assert ["supplies.spare", "supplies.packages"] == [p.where for p in error.value.problems]


def test_buying_is_kept_beside_what_stands_there(tmp_path: Path) -> None:
    """Written and read again it is the same; comments and other settings stay."""
    path = tmp_path / "settings.toml"
    path.write_text("format = 1  # mine\nbounce = 60\n")
    for buying in (Buying(spare=0.25, packages=("10 g", "5 g")), Buying(spare=0.0)):
        keep_buying(path, buying)
        kept = read_settings(path, actions={}, commands=())
        assert (buying, 60) == (kept.supplies, kept.bounce)
    assert path.read_text().startswith("format = 1  # mine\n")
