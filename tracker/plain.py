"""The tracker as plain lines: for screen readers, braille lines, bare terminals and pipes.

A line is read, something is done, the place is told: every word of it is text, and nothing is
painted over. Enter goes on; a letter, with a value behind it where one is needed, does the rest.
"""

from __future__ import annotations

from collections.abc import Callable

from tracker.design.lengths import parse_length, written
from tracker.pictures.told import caps, told
from tracker.place import Place
from tracker.plain_saving import PlainSaving
from tracker.problems import ProblemsError, nearest, shown
from tracker.progress.durable import SaveError
from tracker.progress.finding import Search
from tracker.progress.position import Position, start_of_row
from tracker.records import record
from tracker.session import Session

Say = Callable[[str], None]
Ask = Callable[[str], str | None]
"""Shows a prompt and returns the line typed, None at the end of the input."""


def run_plain(session: Session, ask: Ask, say: Say) -> None:
    """Lead through the piece until `q` or the end of the input."""
    Plain(session, ask, lambda text: say(shown(text))).run()


@record
class Command:
    """A letter and what it does."""

    letter: str
    value: str
    help: str
    do: str
    """The name of the method."""


COMMANDS = (
    Command("", "", "go on", "forward"),
    Command("b", "", "go back", "back"),
    Command("c", "", "count what is left", "count"),
    Command("p", "", "tell the picture: thread, holes and new beads by row and lane", "tell"),
    Command("k", "", "check: what the work should look like now", "check"),
    Command("f", "", "find my place by a few questions", "find"),
    Command("u", "ROW", "unpick: take work out, back to the start of a row", "unpick"),
    Command("g", "ROW", "go to the start of a row", "go_to"),
    Command("m", "LENGTH", 'the piece measures, such as "m 62 mm"', "measure"),
    Command("j", "LENGTH", 'a new length of thread is joined, such as "j 1.8 m"', "join"),
    Command("x", "LETTER [COUNT]", "beads of a colour dropped or broken", "lose"),
    Command("r", "", "go on by whole rows, or by steps again", "by"),
    Command("w", "", "full words, short words, or as the row asks for", "word"),
    Command("o", "[NUMBER]", "other journals of this piece: list them, or take one", "other"),
    Command("h", "", "this help", "help"),
    Command("q", "", "stop here; the place is kept", "quit"),
)


class Plain:
    """One sitting."""

    def __init__(self, session: Session, ask: Ask, say: Say) -> None:
        self._session = session
        self._ask = ask
        self._say = say
        self._going = True
        self._saving = PlainSaving(session.keeping, ask, say)

    def run(self) -> None:
        """Tell the place, read a line, do it, until the beader stops."""
        self._say(f"{self._session.name}. Enter goes on, h helps, q stops.")
        for notice in self._session.notices:
            self._say(notice)
        self._saving.begin()
        if self._session.progress.last_stitched is not None:
            self.check("")
        self._tell_step()
        while self._going:
            line = self._ask("> ")
            if line is None:
                return
            self._do(line.strip())

    def _do(self, line: str) -> None:
        letter, _, value = line.partition(" ")
        command = next((c for c in COMMANDS if c.letter == letter.lower()), None)
        if command is None:
            meant = nearest(letter, [c.letter for c in COMMANDS if c.letter])
            hint = f"did you mean {meant}? " if meant else ""
            self._say(f'"{letter}" is no command; {hint}h shows them all.')
            return
        try:
            getattr(self, command.do)(value.strip())
        except SaveError as error:
            self._say(f"NOT SAVED: {error}.")
        except ProblemsError as error:
            for problem in error.lines():
                self._say(problem)
        except ValueError as error:
            self._say(f"{error}.")
        self._saving.tell()

    # --- commands ----------------------------------------------------------------------------

    def forward(self, _: str) -> None:
        """Go on."""
        if self._session.forward():
            self._tell_step()
        else:
            self._tell_end()

    def back(self, _: str) -> None:
        """Go back."""
        self._session.back()
        self._tell_step()

    def count(self, _: str) -> None:
        """Count what is left."""
        place = self._session.place
        self._say(place.counts())

    def tell(self, _: str) -> None:
        """Tell the picture."""
        place = self._session.place
        for line in told(place.pattern, *place.position):
            self._say(line)

    def check(self, _: str) -> None:
        """Say what the work should look like."""
        place = self._session.place
        self._say(" ".join(place.standing()))
        capped = caps(place.pattern, min(place.position.row, place.left.rows))
        if capped:
            self._say(capped)
        self._say("If it does not look like that: f finds your place, u takes work out.")

    def find(self, _: str) -> None:
        """Find the place by questions."""
        search = self._session.search()
        while (question := search.question()) is not None and len(search.candidates) > 1:
            self._say(f"{len(search.candidates)} places fit. {search.words(question)}")
            answers = search.answers(question)
            if not answers[0].isdecimal():
                self._say(f"Answers: {', '.join(answers)}.")
            answer = self._ask('(Enter for "don\'t know", q to give up) > ')
            if answer is None or answer.strip().lower() == "q":
                self._say("The place stays as it was.")
                return
            search = self._answered(search, answer.strip())
        self._settle(search.places())

    def unpick(self, value: str) -> None:
        """Take work out, back to a row."""
        session = self._session
        if session.progress.unpicking is not None and not value:
            session.unpick_to(None)
            self._say("Unpicking is given up here.")
            self._tell_step()
            return
        goal = start_of_row(session.pattern, self._row(value) - 1)
        if goal >= session.progress.position:
            raise ValueError(f"row {value} is not stitched yet")
        session.unpick_to(goal)
        self._say(f"Back to row {value}: Enter after each step taken out; u alone gives it up.")
        self._tell_step()

    def go_to(self, value: str) -> None:
        """Go to a row."""
        self._session.go_to_row(self._row(value))
        self._tell_step()

    def measure(self, value: str) -> None:
        """Take down a measurement."""
        before = self._session.place.left
        if self._session.progress.position.row == 0:
            raise ValueError("there is no whole row to measure yet")
        self._session.measure(parse_length(value))
        self._say(self._session.place.measured_words(before))

    def join(self, value: str) -> None:
        """Take down a new length of thread."""
        self._session.join_thread(parse_length(value))
        self.count("")

    def lose(self, value: str) -> None:
        """Take beads off the stock."""
        letter, _, number = value.partition(" ")
        pattern = self._session.pattern
        keys = [key for key, kind in pattern.kinds() if kind.colour == letter.upper()]
        count = int(number) if number.strip().isdecimal() else 1
        if not keys:
            known = ", ".join(colour.letter for colour in pattern.colours)
            raise ValueError(f'"{letter}" is no colour of this piece: {known}')
        self._session.lose(keys[0], count)
        lost = dict(self._session.progress.lost)[keys[0]]
        self._say(f"{lost} {pattern.colour(letter.upper()).name} lost so far.")

    def by(self, _: str) -> None:
        """Rows or steps."""
        self._session.toggle_by()
        self._say(f"Enter is now one {self._session.progress.by}.")

    def word(self, _: str) -> None:
        """Full or short words."""
        self._session.toggle_words()
        self._say(f"Words: {self._session.words}.")
        self._tell_step()

    def help(self, _: str) -> None:
        """Show the commands."""
        for command in COMMANDS:
            keys = f"{command.letter or 'Enter'} {command.value}".strip()
            self._say(f"{keys}: {command.help}")

    def other(self, value: str) -> None:
        """List the other journals of the piece, or take one."""
        if self._saving.other(value):
            self._tell_step()

    def quit(self, _: str) -> None:
        """Stop; what is not saved is asked about first."""
        self._going = not self._saving.may_leave()

    # --- telling -----------------------------------------------------------------------------

    def _tell_step(self) -> None:
        place = self._session.place
        if place.unpicking is not None:
            goal = place.unpicking.row + 1
            self._say(f"Take out, back to row {goal}: {place.undoing()}.")
        elif place.finished:
            self._tell_end()
        else:
            self._say(_heading(place))
            steps = place.pattern.row(place.position.row).steps
            shown_steps = steps if place.by == "row" else (steps[place.position.step],)
            for step in shown_steps:
                self._say(f"{place.sentence(step)}.")
                if place.caution(step):
                    self._say(f"Caution: {place.caution(step)}")
            if place.by == "step" and place.hint():
                self._say(f"({place.hint()})")
            if place.left.join_in_rows == 1:
                self._say("At the end of this row join a new length of thread, then j LENGTH.")

    def _tell_end(self) -> None:
        place = self._session.place
        length = written(place.left.length, places=0)
        self._say(f"All {place.left.rows} rows are done, about {length}.")

    def _answered(self, search: Search, answer: str) -> Search:
        question = search.question()
        assert question is not None, "it was just asked"
        if not answer:
            return search.answered(question, None)
        answers = search.answers(question)
        if answer.lower() not in answers:
            self._say(f'No place fits "{answer}"; look again, or press Enter.')
            return search
        return search.answered(question, answer.lower())

    def _settle(self, places: tuple[Position, ...]) -> None:
        rows = self._session.pattern.row_count
        said = [
            "the end" if place.row == rows else f"row {place.row + 1}, step {place.step + 1}"
            for place in places
        ]
        if len(places) > 1:
            self._say(f"These places look alike: {'; '.join(said)}. g ROW goes to one.")
            return
        answer = self._ask(f"You are before {said[0]}. Go there? (y/n) > ")
        if answer is not None and answer.strip().lower() in ("y", "yes"):
            self._session.move_to(places[0])
        self._tell_step()

    def _row(self, value: str) -> int:
        rows = self._session.pattern.row_count
        if not value.isdecimal() or not 1 <= int(value) <= rows:
            raise ValueError(f'"{value}" is no row: 1 to {rows}')
        return int(value)


def _heading(place: Place) -> str:
    left = place.left
    row = place.pattern.row(place.position.row)
    return (
        f"Row {left.row} of {left.rows}, {row.heading}, step {left.step} of {left.steps} "
        f"({left.section})."
    )
