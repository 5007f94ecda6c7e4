"""The settings, each with its default and a sentence on what it does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Literal

from tracker.records import record

Words = Literal["auto", "full", "short"]
"""How much is said: full words in the first rows only, always, or never."""
WORDS: tuple[Words, ...] = ("auto", "full", "short")

Themes = Literal["auto", "dark", "light"]
"""Light on dark, dark on light, or what the terminal says of its ground."""
THEMES: tuple[Themes, ...] = ("auto", "dark", "light")
Pictures = Literal["auto", "cells", "pixels"]
"""The work drawn in pixels where that can be, in characters, or in pixels with a word if not."""
PICTURES: tuple[Pictures, ...] = ("auto", "cells", "pixels")


@record(kw_only=True)
class Speak:
    """Speaking."""

    on: bool = False
    """Whether steps are read aloud when a piece is opened."""
    program: tuple[str, ...] = ()
    """The speech program and its arguments; the text follows as the last. Empty: what is there."""
    sounds: bool = True
    """Whether a soft sound marks turns, row ends, colour changes and joins while speaking."""


@record(kw_only=True)
class Listen:
    """Listening."""

    on: bool = False
    """Whether spoken commands are listened for when a piece is opened."""
    program: tuple[str, ...] = ()
    """The program that writes raw 16 kHz mono 16-bit sound to its output. Empty: what is there."""
    phrases: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """What is said for each command, where it is not the usual phrase."""


@record(kw_only=True)
class Tempo:
    """Going on by itself."""

    seconds: float = 0.0
    """Seconds a step; 0 learns them from your own pace."""
    count_in: int = 3
    """Beats counted in before it starts."""


@record(kw_only=True)
class Buying:
    """What is bought."""

    spare: float = 0.1
    """Beads beyond the count, as a share of it."""
    packages: tuple[str, ...] = ()
    """Sizes of the packages that there are, such as "10 g" or "250 beads"."""


@record(kw_only=True)
class Settings:
    """All settings."""

    keys: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    """Keys of each action that is not on its usual ones, by the action's id."""
    bounce: int = 40
    """Presses closer than this many milliseconds are one; 0 turns the guard off."""
    words: Words = "auto"
    """Full words in the first rows only, always, or short ones throughout."""
    theme: Themes = "auto"
    """Light on dark, dark on light, or what the terminal says of its ground."""
    picture: Pictures = "auto"
    """The work in pixels where the terminal shows them, in characters, or in pixels with a word
    said where they cannot be shown."""
    large: bool = False
    """Whether pieces open in large print."""
    rest: int = 30
    """Minutes after which a rest for eyes and hands is suggested; 0 never."""
    rule: float = 1.0
    """How well your ruler measures the work, mm: about 1 for a tape, 0.5 for a steel rule."""
    speak: Speak = field(default_factory=Speak)
    listen: Listen = field(default_factory=Listen)
    tempo: Tempo = field(default_factory=Tempo)
    supplies: Buying = field(default_factory=Buying)
