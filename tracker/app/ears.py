"""The tracker's ears, as the screen uses them: spoken commands become what keys would do."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tracker.problems import ProblemsError
from tracker.settings.model import Listen

if TYPE_CHECKING:
    from tracker.handsfree.listening.listener import Heard, Listener


class Ears:
    """Listens when asked to. Both callbacks may come from another thread and must not wait."""

    def __init__(
        self,
        settings: Listen,
        on_heard: Callable[[Heard], None],
        on_notice: Callable[[str], None],
    ) -> None:
        self._settings = settings
        self._on_heard = on_heard
        self._on_notice = on_notice
        self._refusals: list[str] | None = None
        """What is said while listening begins; that is answered at once."""
        self._listener: Listener | None = None

    def toggle(self) -> str:
        """Begin to listen, or stop. What there is to say about it."""
        if self._listener is not None:
            self.close()
            return "No longer listening."
        # Most never listen: what it takes is imported by those who do.
        from tracker.handsfree.listening.capture import capture_program  # noqa: PLC0415
        from tracker.handsfree.listening.listener import Listener, chosen_phrases  # noqa: PLC0415

        try:
            phrases = chosen_phrases(self._settings.phrases)
        except ProblemsError as error:
            return "   ".join(error.lines())
        listener = Listener(
            capture_program(self._settings.program),
            phrases,
            on_heard=self._on_heard,
            on_notice=self._notice,
        )
        refusals: list[str] = []
        self._refusals = refusals
        started = listener.start()
        self._refusals = None
        if not started:
            listener.close()
            return f"Not listening: {' '.join(refusals)}."
        self._listener = listener
        said = "; ".join(f'"{phrase}"' for phrase in phrases.values())
        return f"Listening for {said}."

    def deaf(self, deaf: bool) -> None:
        """While the tracker speaks it does not listen to itself."""
        if self._listener is not None:
            self._listener.deaf(deaf)

    def close(self) -> None:
        """Stop listening, and leave no program behind."""
        if self._listener is not None:
            self._listener.close()
            self._listener = None

    def _notice(self, text: str) -> None:
        if self._refusals is not None:
            self._refusals.append(text)
        else:
            self._on_notice(text)
