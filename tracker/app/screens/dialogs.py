"""What the keys of the stitching screen ask for beside going on and back: one function a key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Protocol

from textual.screen import Screen

from tracker.app.look import Dress
from tracker.app.place import short_words
from tracker.app.screens.asking import Ask, Choose, a_row
from tracker.app.screens.openings import supplies_in_hand
from tracker.design.lengths import parse_length, written
from tracker.problems import ProblemsError
from tracker.progress.finding import Search
from tracker.progress.position import Position, start_of_row
from tracker.session import Session

GIVE_UP, UNKNOWN = "give up", "?"
FEW = 6
"""Answers that are chosen from a list; a longer row of numbers is typed."""


class Host(Protocol):
    """The screen that a question is asked on."""

    session: Session
    dress: Dress

    def ask(self, screen: Screen[Any], then: Callable[[object], None]) -> None:
        """Put a question; `then` gets the answer, and is not called without one."""
        ...

    def change(self, what: Callable[[], object], said: Callable[[], str] = str) -> None:
        """Change the piece, and say so once that is on the disk."""
        ...

    def say(self, text: str) -> None:
        """Show a notice."""
        ...


def go_to(host: Host) -> None:
    """Ask for a row and go there."""
    session = host.session
    rows = session.pattern.row_count
    row = min(session.progress.position.row + 1, rows)
    question = f"Go to the start of which row? (1 to {rows}, now {row})"
    host.ask(
        Ask(question, a_row(rows), str(row)),
        lambda answer: host.change(lambda: session.go_to_row(int(str(answer)))),
    )


def unpick(host: Host) -> None:
    """Ask for the row to take work out to; or give up taking it out."""
    session = host.session
    if session.progress.unpicking is not None:
        host.change(lambda: session.unpick_to(None), lambda: "Taking out is given up here.")
        return
    row = session.progress.position.row + 1

    def parse(text: str) -> Position:
        goal = start_of_row(session.pattern, a_row(session.pattern.row_count)(text) - 1)
        if goal >= session.progress.position:
            raise ValueError(f"Row {text} is not stitched yet")
        return goal

    question = f"Where did it go wrong? Take work out, back to the start of row (now row {row}):"
    host.ask(
        Ask(question, parse),
        lambda goal: host.change(
            lambda: session.unpick_to(goal if isinstance(goal, Position) else None),
            lambda: "Take out step by step, one press each.",
        ),
    )


def measure(host: Host) -> None:
    """Ask what the piece measures."""
    session = host.session
    rows = session.progress.position.row
    if rows == 0:
        host.say("There is no whole row to measure yet.")
        return
    before = session.place.left
    question = (
        f"Lay the work flat, without pulling, and measure its {rows} whole rows along the band."
    )
    host.ask(
        Ask(question, parse_length, written(before.length, places=0)),
        lambda mm: host.change(
            lambda: session.measure(float(str(mm))),
            lambda: session.place.measured_words(before),
        ),
    )


def join(host: Host) -> None:
    """Ask how long the new thread is."""
    session = host.session
    usual = session.pattern.thread.length
    question = (
        f"A new thread goes on from row {session.progress.position.row + 1}. How long was it cut? "
        f"({written(usual, 'm')} was planned)"
    )
    host.ask(
        Ask(question, parse_length, written(usual, "m")),
        lambda mm: host.change(
            lambda: session.join_thread(float(str(mm))),
            lambda: f"{session.place.left.thread / 1000:.2f} m on the needle.",
        ),
    )


def lose(host: Host) -> None:
    """Ask which beads were dropped or broken."""
    session = host.session
    pattern = session.pattern
    letters = {kind.colour: key for key, kind in reversed(list(pattern.kinds()))}

    def parse(text: str) -> tuple[str, int]:
        letter, _, number = text.upper().partition(" ")
        count = number.strip() or "1"
        if letter not in letters:
            raise ValueError(f"There is no colour {letter}: {', '.join(sorted(letters))}")
        if not count.lstrip("-").isdecimal() or not -999 <= int(count) <= 999:
            raise ValueError(f"{count} is no number of beads")
        return letters[letter], int(count)

    def said() -> str:
        lost = dict(session.progress.lost)
        parts = [f"{n} {pattern.colour(key[1]).name}" for key, n in lost.items()]
        words = short_words(session.place)
        return " ".join([f"Lost so far: {', '.join(parts) or 'none'}.", *words])

    def take(answer: object) -> None:
        key, count = answer if isinstance(answer, tuple) else ("", 0)
        host.change(lambda: session.lose(str(key), int(count)), said)

    names = ", ".join(f"{letter} {pattern.colour(letter).name}" for letter in sorted(letters))
    host.ask(Ask(f"Which beads were dropped or broken? Letter and number ({names})", parse), take)


def find(host: Host) -> None:
    """Find the place by questions, and go there once that is confirmed."""
    _ask_on(host, host.session.search())


def _ask_on(host: Host, search: Search) -> None:
    question = search.question()
    if question is None or len(search.candidates) == 1:
        _settle(host, search.places())
        return
    known = search.answers(question)
    text = f"{len(search.candidates)} places fit.\n{search.words(question)}"

    def answered(answer: object) -> None:
        if answer != GIVE_UP:
            _ask_on(host, search.answered(question, None if answer == UNKNOWN else str(answer)))

    def parse(typed: str) -> str:
        if typed.lower() == UNKNOWN:
            return UNKNOWN
        if typed not in known:
            raise ValueError(f"No place fits {typed}: look again, or type ? if you do not know")
        return typed

    if len(known) > FEW and all(answer.isdecimal() for answer in known):
        host.ask(Ask(f"{text}\nType the number, or ? if you do not know.", parse), answered)
        return
    answers = {answer: answer for answer in known}
    answers |= {UNKNOWN: "I don't know", GIVE_UP: "Give up: the place stays as it was"}
    host.ask(Choose(text, answers), answered)


def _settle(host: Host, places: tuple[Position, ...]) -> None:
    session = host.session
    rows = session.pattern.row_count

    def named(place: Position) -> str:
        if place.row == rows:
            return "after the last row"
        return f"row {place.row + 1}, step {place.step + 1}"

    alike = "These places look alike. Which is yours?" if len(places) > 1 else "Your work stands at"
    answers = {str(i): named(place) for i, place in enumerate(places[:20])}
    answers[GIVE_UP] = "None of it: the place stays as it was"

    def chosen(answer: object) -> None:
        if answer != GIVE_UP:
            host.change(
                lambda: session.move_to(places[int(str(answer))]),
                lambda: " ".join(session.place.standing()),
            )

    host.ask(Choose(f"{alike}", answers), chosen)


def supplies(host: Host) -> None:
    """Show what the piece takes, and take down what is on hand."""
    try:
        screen = supplies_in_hand(host.session, host.dress)
    except ProblemsError as error:  # the settings, where the packages stand
        host.say(" ".join(error.lines()))
        return
    host.ask(screen, lambda _: host.say(" ".join(short_words(host.session.place))))


DIALOGS: Mapping[str, Callable[[Host], None]] = {
    "go_to": go_to,
    "unpick": unpick,
    "measure": measure,
    "join": join,
    "lose": lose,
    "find": find,
    "supplies": supplies,
}
