"""In plain lines: what is not saved, how to leave all the same, other journals of the piece."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tracker.keeping import CHOOSE, KEPT, SAVED_AGAIN, Keeping
from tracker.problems import ProblemsError
from tracker.progress.durable import SaveError


class PlainSaving:
    """Tells and asks what has to be known of the files of one piece."""

    def __init__(
        self, keeping: Keeping, ask: Callable[[str], str | None], say: Callable[[str], None]
    ) -> None:
        self._keeping = keeping
        self._ask = ask
        self._say = say
        self._was_unsaved = False

    def begin(self) -> None:
        """What there is to say at the opening."""
        self.tell()
        if self._keeping.others:
            self.other("")

    def tell(self) -> None:
        """What is not saved, after every line for as long as it holds; and when it is again."""
        for alarm in self._keeping.alarms():
            self._say(f"{alarm}.")
        unsaved = self._keeping.unsaved.any
        if self._was_unsaved and not unsaved:
            self._say(SAVED_AGAIN)
        self._was_unsaved = unsaved

    def may_leave(self) -> bool:
        """Whether all is saved, or the beader leaves without it; asks in a loop."""
        keeping = self._keeping
        while not keeping.save():
            self._say(keeping.leaving_words())
            self._say(
                "Enter tries again, e FILE writes the piece to a file, s goes on stitching, "
                f"q quits without these {keeping.unsaved.count()}."
            )
            if keeping.folder_gone:
                self._say("n makes the piece's folder anew, from what is known here.")
            answer = self._ask("? ")
            letter, _, value = ("q" if answer is None else answer).strip().partition(" ")
            if letter == "q":
                return True
            if letter == "s":
                return False
            self._rescue(letter, value.strip())
        return True

    def _rescue(self, letter: str, value: str) -> None:
        try:
            if letter == "n" and self._keeping.folder_gone:
                self._keeping.make_anew()
            elif letter == "e" and value:
                self._keeping.write_elsewhere(Path(value).expanduser())
                self._say(f"Written to {value}.")
        except SaveError as error:
            self._say(f"{error}.")
        except ProblemsError as error:
            for problem in error.lines():
                self._say(problem)

    def other(self, value: str) -> bool:
        """List the other journals of the piece, or take one; whether one was taken.

        Raises ValueError for a number that none has, SaveError, ProblemsError.
        """
        others = self._keeping.others
        if not others:
            raise ValueError("there is no other journal of this piece")
        if not value:
            self._say(CHOOSE)
            for number, said in enumerate(self._keeping.choices()):
                self._say(f"o {number}: {said}.")
            return False
        if not value.isdecimal() or int(value) > len(others):
            raise ValueError(f'"{value}" is none of them: 0 to {len(others)}')
        self._keeping.choose(others[int(value) - 1] if int(value) else None)
        self._say(KEPT)
        return True
