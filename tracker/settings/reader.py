"""The settings file: read strictly, every problem at once; and what holds, with where from."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

import platformdirs

from tracker.design.fields import Fields, named
from tracker.files import parse_toml, read_text
from tracker.problems import Problem, ProblemsError, shown
from tracker.settings.model import (
    PICTURES,
    THEMES,
    WORDS,
    Buying,
    Listen,
    Settings,
    Speak,
    Tempo,
)

T = TypeVar("T", bound=str)

FORMAT = 1
LARGEST = 100_000
LONGEST_BOUNCE = 100
FILE = "settings.toml"
HOME = "TRACKER_HOME"
BOUNCE = "TRACKER_BOUNCE_MS"

_TOP = (
    *("format", "bounce", "words", "theme", "picture", "large", "rest", "rule"),
    *("keys", "speak", "listen", "tempo", "supplies"),
)
MOST_SPARE = 5.0
"""Nobody buys more than six times what is needed."""


def settings_path() -> Path:
    """Where the settings are: in `$TRACKER_HOME` when set, else the platform's config folder."""
    home = os.environ.get(HOME)
    folder = Path(home) if home else Path(platformdirs.user_config_dir("bead-row-tracker", False))
    return folder / FILE


def read_settings(
    path: Path, *, actions: Mapping[str, tuple[str, ...]], commands: Collection[str]
) -> Settings:
    """The settings in the file `path`, or the defaults if there is none.

    `actions` are the ids that keys may be given to, with their usual keys; `commands` those that
    phrases may be given to. Raises ProblemsError, which names the file, with every problem.
    """
    if not path.exists():
        return with_environment(Settings())
    try:
        text = read_text(path, LARGEST)
        return with_environment(parse_settings(text, actions=actions, commands=commands))
    except ProblemsError as error:
        raise error.in_file(os.fspath(path)) from None


def with_environment(settings: Settings) -> Settings:
    """The settings as the environment overrides them."""
    bounce = os.environ.get(BOUNCE, "")
    if not bounce.isdecimal():
        return settings
    import dataclasses  # noqa: PLC0415  only where somebody sets the variable

    return dataclasses.replace(settings, bounce=min(LONGEST_BOUNCE, int(bounce)))


def parse_settings(
    text: str, *, actions: Mapping[str, tuple[str, ...]], commands: Collection[str]
) -> Settings:
    """The settings that `text` says; raises ProblemsError with every problem."""
    problems: list[Problem] = []
    top = Fields(parse_toml(text), problems, "")
    number = top.values.get("format")
    if isinstance(number, int) and number > FORMAT:
        what = f"format {number} needs a newer tracker; this one reads format {FORMAT}"
        raise ProblemsError([Problem("format", what, "update the tracker")])
    top.whole("format", FORMAT, FORMAT)
    top.refuse_unknown(_TOP)
    usual = Settings()
    settings = Settings(
        keys=_keys(top, actions),
        bounce=_or(top.whole("bounce", 0, LONGEST_BOUNCE, usual.bounce), usual.bounce),
        words=_one_of(top, "words", WORDS),
        theme=_one_of(top, "theme", THEMES),
        picture=_one_of(top, "picture", PICTURES),
        large=top.flag("large"),
        rest=_or(top.whole("rest", 0, 600, usual.rest), usual.rest),
        rule=top.length("rule", 0.1, 10, usual.rule, usual.rule) or usual.rule,
        speak=_speak(top),
        listen=_listen(top, commands),
        tempo=_tempo(top),
        supplies=_supplies(top),
    )
    if problems:
        raise ProblemsError(problems)
    return settings


def effective(settings: Settings, path: Path) -> Iterator[tuple[str, str, str]]:
    """Each setting's name, what holds, and where that comes from."""
    usual = Settings()
    file = os.fspath(path)
    for name, value, default in _pairs(settings, usual, ""):
        source = file if value != default else "default"
        if name == "bounce" and os.environ.get(BOUNCE, "").isdecimal():
            source = f"${BOUNCE}"
        yield name, _written(value), source


def _pairs(settings: object, usual: object, prefix: str) -> Iterator[tuple[str, object, object]]:
    for name in settings.__dataclass_fields__:  # type: ignore[attr-defined]
        value, default = getattr(settings, name), getattr(usual, name)
        if hasattr(value, "__dataclass_fields__"):
            yield from _pairs(value, default, f"{name}.")
        else:
            yield prefix + name, value, default


def _written(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        said = ", ".join(f"{key} = {_written(part)}" for key, part in value.items())
        return said or "the usual ones"
    if isinstance(value, tuple):
        return " ".join(map(str, value)) or "what is there"
    return str(value)


def _or(value: int | None, usual: int) -> int:
    return usual if value is None else value


def _one_of(top: Fields, key: str, choices: tuple[T, ...]) -> T:
    """One of a few words, the first where it is left out or wrong."""
    said = choices[0]
    if key in top.values:
        text = top.choice(key, choices, f"choose one of: {named(choices)}")
        said = next((word for word in choices if word == text), said)
    return said


def _keys(top: Fields, actions: Mapping[str, tuple[str, ...]]) -> Mapping[str, tuple[str, ...]]:
    table = top.table("keys")
    if table is None:
        return MappingProxyType({})
    table.refuse_unknown(list(actions))
    keys = {
        action: found
        for action in table.values
        if action in actions and (found := _strings(table, action, 'such as ["space", "f5"]'))
    }
    owners: dict[str, str] = {}
    for action, usual in actions.items():
        for key in keys.get(action, usual):
            if key in owners:
                blamed = action if action in keys else owners[key]
                other = owners[key] if blamed == action else action
                what = f'"{key}" is a key of {other} already'
                table.problem(blamed, what, "give each key to one action")
            owners[key] = action
    return MappingProxyType(keys)


def _strings(table: Fields, key: str, example: str) -> tuple[str, ...]:
    """A list of texts; () where it is left out or wrong."""
    value = table.values.get(key, [])
    good = isinstance(value, list) and all(
        isinstance(part, str) and part and part.isprintable() for part in value
    )
    if not good or (key in table.values and not value):
        table.problem(key, "should be a list of texts", f"write it {example}")
        return ()
    assert isinstance(value, list), "was looked at above"
    return tuple(map(str, value))


def _speak(top: Fields) -> Speak:
    table = top.table("speak")
    if table is None:
        return Speak()
    table.refuse_unknown(("on", "program", "sounds"))
    sounds = table.flag("sounds") if "sounds" in table.values else True
    program = _strings(table, "program", 'such as ["espeak-ng", "-s", "150"]')
    return Speak(on=table.flag("on"), program=program, sounds=sounds)


def _listen(top: Fields, commands: Collection[str]) -> Listen:
    table = top.table("listen")
    if table is None:
        return Listen()
    table.refuse_unknown(("on", "program", "phrases"))
    program = _strings(table, "program", 'such as ["arecord", "-q", "-t", "raw"]')
    phrases: dict[str, str] = {}
    said = table.table("phrases")
    if said is not None:
        said.refuse_unknown(list(commands))
        for command in said.values:
            phrase = said.name(command, 'write a phrase, such as "next one please"')
            if command in commands and phrase:
                phrases[command] = phrase.lower()
    return Listen(on=table.flag("on"), program=program, phrases=MappingProxyType(phrases))


def _tempo(top: Fields) -> Tempo:
    table = top.table("tempo")
    if table is None:
        return Tempo()
    table.refuse_unknown(("seconds", "count_in"))
    seconds = table.values.get("seconds", 0)
    if isinstance(seconds, bool) or not isinstance(seconds, int | float) or not _is_tempo(seconds):
        table.problem("seconds", "should be seconds a step", "write 1 to 600, or 0 to learn them")
        seconds = 0
    return Tempo(seconds=float(seconds), count_in=_or(table.whole("count_in", 0, 10, 3), 3))


def _supplies(top: Fields) -> Buying:
    table = top.table("supplies")
    if table is None:
        return Buying()
    table.refuse_unknown(("spare", "packages"))
    spare = table.values.get("spare", Buying().spare)
    if isinstance(spare, bool) or not isinstance(spare, int | float) or not is_spare(spare):
        mend = "write 0.1 for 10 %, 0 for none, up to 5"
        table.problem("spare", "should be a share of the count", mend)
        spare = Buying().spare
    packages = _strings(table, "packages", 'such as ["10 g", "250 beads"]')
    from tracker.pattern.packages import beads_in  # noqa: PLC0415  only where some are named

    for size in packages:
        try:
            beads_in(size, 1.0)
        except ValueError as error:
            what, _, mend = str(error).partition(": ")
            table.problem("packages", what, mend)
    return Buying(spare=float(spare), packages=packages)


def spare_of(text: str) -> float:
    """The share that `text` says, "0.2" or "20 %"; raises ValueError, in words, if it is none."""
    said = text.strip()
    number, percent = said.removesuffix("%").strip(), said.endswith("%")
    good = number.isascii() and len(number) < 20 and number.replace(".", "", 1).isdecimal()
    share = float(number) / (100 if percent else 1) if good else -1.0
    if not is_spare(share):
        raise ValueError(f'"{shown(said[:40])}" is no spare share: write 0.2 or "20 %", up to 5')
    return share


def is_spare(share: float) -> bool:
    """Whether that is a share of beads to have beyond the count."""
    return 0 <= share <= MOST_SPARE


def _is_tempo(seconds: float) -> bool:
    return seconds == 0 or 1 <= seconds <= 600
