"""The phrases that move the work: the usual ones, the beader's own, and which can be told apart.

A short word is too easily found in running speech, and two phrases that sound alike are taken for
one another; both are refused before they can do harm.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, product
from pathlib import Path
from types import MappingProxyType

from tracker.problems import Problem, ProblemsError, nearest

USUAL: Mapping[str, str] = MappingProxyType(
    {
        "forward": "next one please",
        "back": "go back one",
        "repeat": "one more time",
        "count": "how many more",
        "sleep": "stop listening",
        "wake": "listen again",
        "undo_row": "undo last row",
    }
)
"""What is said for each command."""

FEWEST_WORDS, FEWEST_SYLLABLES = 3, 4
"""A phrase needs so many words, or so many syllables."""
MOST_SYLLABLES = 8
"""More do not fit into the longest stretch of speech that is listened to."""
LEAST_APART = 0.5
"""The share of sounds in which two phrases must differ."""

PHONEMES = (
    *("AA", "AE", "AH", "AO", "AW", "AY", "B", "CH", "D", "DH", "EH", "ER", "EY", "F", "G", "HH"),
    *("IH", "IY", "JH", "K", "L", "M", "N", "NG", "OW", "OY", "P", "R", "S", "SH", "T", "TH"),
    *("UH", "UW", "V", "W", "Y", "Z", "ZH"),
)
"""The sounds of English as the dictionary writes them."""

Sounds = tuple[str, ...]
"""The phonemes of a word or a phrase."""
Dictionary = Mapping[str, tuple[Sounds, ...]]
"""For each word, the ways in which it is said."""

_VOWELS = frozenset(sound for sound in PHONEMES if sound[0] in "AEIOU")
_VARIANT = re.compile(r"\(\d+\)$")


def words_of(phrases: Iterable[str]) -> frozenset[str]:
    """The words of the phrases."""
    return frozenset(word for phrase in phrases for word in phrase.split())


def look_up(words: Iterable[str], dictionary: Path) -> dict[str, tuple[Sounds, ...]]:
    """The words that the recogniser's dictionary has, with the ways in which each is said.

    Each line of the file is a word and its phonemes; a further way is marked "word(2)". OSError if
    it cannot be read.
    """
    wanted = frozenset(words)
    found: dict[str, list[Sounds]] = {}
    with dictionary.open(encoding="utf-8", errors="replace") as lines:
        for line in lines:
            head, _, sounds = line.partition(" ")
            word = _VARIANT.sub("", head)
            if word in wanted:
                found.setdefault(word, []).append(tuple(sounds.split()))
    return {word: tuple(ways) for word, ways in found.items()}


def normal(phrase: str) -> str:
    """A phrase as it is looked up: small letters, single spaces, no stops."""
    return " ".join(re.sub(r"[.,;:!?]", " ", phrase.casefold().replace("\u2019", "'")).split())


def with_own(own: Mapping[str, str]) -> dict[str, str]:
    """The usual phrases with the beader's `own` (by command) in their places, as looked up."""
    return {**USUAL, **{command: normal(phrase) for command, phrase in own.items()}}


def check(phrases: Mapping[str, str], dictionary: Dictionary) -> None:
    """Raise ProblemsError naming every phrase (by command) that cannot be listened for."""
    problems = [
        problem
        for command, phrase in phrases.items()
        for problem in _alone(command, phrase, dictionary)
    ]
    sayable = {
        command: phrase
        for command, phrase in phrases.items()
        if phrase and all(word in dictionary for word in phrase.split())
    }
    problems += _alike(sayable, dictionary)
    if problems:
        raise ProblemsError(problems)


def distance(one: Sounds, other: Sounds) -> int:
    """How many phonemes must be changed, put in or left out to make `one` of the `other`."""
    costs = list(range(len(other) + 1))
    for done, sound in enumerate(one, 1):
        diagonal, costs[0] = costs[0], done
        for place, against in enumerate(other, 1):
            changed = diagonal + (sound != against)
            diagonal = costs[place]
            costs[place] = min(changed, diagonal + 1, costs[place - 1] + 1)
    return costs[-1]


def apart(one: str, other: str, dictionary: Dictionary) -> float:
    """The share of sounds in which two phrases differ where they are said most alike, 0 to 1."""
    return min(
        distance(a, b) / max(len(a), len(b))
        for a, b in product(_ways(one, dictionary), _ways(other, dictionary))
    )


def syllables(phrase: str, dictionary: Dictionary) -> int:
    """The vowels of a phrase, said with care."""
    return max(sum(sound in _VOWELS for sound in sounds) for sounds in _ways(phrase, dictionary))


def _alone(command: str, phrase: str, dictionary: Dictionary) -> Iterator[Problem]:
    """What is wrong with a phrase by itself."""
    where = f"listen.phrases.{command}"
    if command not in USUAL:
        close = nearest(command, USUAL)
        mend = f'did you mean "{close}"?' if close else f"the commands are {', '.join(USUAL)}"
        yield Problem(where, "is no spoken command", mend)
        return
    usual = f'such as "{USUAL[command]}"'
    if not phrase:
        yield Problem(where, "the phrase is empty", f"write what you will say, {usual}")
        return
    unknown = [word for word in phrase.split() if word not in dictionary]
    if unknown:
        named = ", ".join(f'"{word}"' for word in dict.fromkeys(unknown))
        yield Problem(
            where,
            f"the recogniser's dictionary does not have {named}",
            "use common English words, numbers spelt out",
        )
        return
    length = syllables(phrase, dictionary)
    if len(phrase.split()) < FEWEST_WORDS and length < FEWEST_SYLLABLES:
        yield Problem(
            where,
            f'"{phrase}" is too short to be told from running speech',
            f"use {FEWEST_WORDS} words, or {FEWEST_SYLLABLES} syllables, {usual}",
        )
    if length > MOST_SYLLABLES:
        yield Problem(
            where,
            f'"{phrase}" is too long to be said in one breath ({length} syllables)',
            f"use at most {MOST_SYLLABLES} syllables, {usual}",
        )


def _alike(phrases: Mapping[str, str], dictionary: Dictionary) -> Iterator[Problem]:
    """The pairs that are, or sound, the same. The place is that of the beader's own phrase."""
    for (one, said), (other, also) in combinations(phrases.items(), 2):
        mine, theirs = (one, other) if said != USUAL.get(one) else (other, one)
        if said == also:
            what = f'"{said}" is also the phrase for {theirs}'
        elif apart(said, also, dictionary) < LEAST_APART:
            what = f'"{phrases[mine]}" sounds too like "{phrases[theirs]}", the phrase for {theirs}'
        else:
            continue
        yield Problem(f"listen.phrases.{mine}", what, "choose words that sound quite different")


def _ways(phrase: str, dictionary: Dictionary) -> Iterator[Sounds]:
    """The phonemes of a phrase, in every way its words are said."""
    for ways in product(*(dictionary[word] for word in phrase.split())):
        yield tuple(sound for way in ways for sound in way)
