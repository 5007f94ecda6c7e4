"""A field of a form: its name, what is typed or chosen, and below it what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rich.text import Text
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from tracker.app.widgets.choice import Choice

LONGEST = 5000
"""Letters that a field takes."""


class Field(Vertical):
    """A field; its parts bear its id with an ending."""

    DEFAULT_CSS = """
    Field { height: auto; }
    Field > Horizontal { height: 1; }
    Field .label { width: 11; }
    Field .problem { height: auto; padding: 0 0 0 2; display: none; }
    """

    def __init__(self, label: str, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(id=id)
        # Made at once: a field may be spoken to before it has been put on the screen.
        self._label = Static(_named(label), classes="label")
        self._problem = Static(classes="problem")

    def compose(self) -> ComposeResult:
        """The name and the value in a line, the problem below."""
        with Horizontal():
            yield self._label
            yield from self.parts()
        yield self._problem

    def on_descendant_focus(self) -> None:
        """Let the name stand out while its value has the focus."""
        # By a class: what lies in a field is not styled anew when the focus comes and goes.
        self._label.add_class("here")

    def on_descendant_blur(self) -> None:
        """The focus goes elsewhere."""
        self._label.remove_class("here")

    def parts(self) -> Iterable[Input | Choice | Static]:
        """What the value is typed in."""
        raise NotImplementedError

    @property
    def value(self) -> str:
        """What was typed or chosen."""
        raise NotImplementedError

    def rename(self, label: str) -> None:
        """Name the field otherwise."""
        self._label.update(_named(label))

    def complain(self, said: str) -> None:
        """Say what is wrong, or nothing."""
        self._problem.update(Text(said))
        self._problem.display = bool(said)


class TextField(Field):
    """A text is typed."""

    def __init__(self, label: str, value: str, *, id: str, hint: str = "") -> None:  # noqa: A002  Textual's own word
        super().__init__(label, id=id)
        self._line = line_of(value, f"{id}-text", hint=hint)

    def parts(self) -> Iterable[Input]:
        """One line to type in."""
        yield self._line

    @property
    def value(self) -> str:
        """What is typed."""
        return self._line.value

    def type(self, text: str) -> None:
        """Put a text there."""
        self._line.value = text


class ChoiceField(Field):
    """One of a few values is chosen."""

    def __init__(self, label: str, options: Mapping[str, str], value: str, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(label, id=id)
        self._choice = Choice(options, value, id=f"{id}-choice")

    def parts(self) -> Iterable[Choice]:
        """The choice."""
        yield self._choice

    @property
    def value(self) -> str:
        """What is chosen."""
        return self._choice.value

    def offer(self, options: Mapping[str, str]) -> None:
        """Offer other values."""
        self._choice.offer(options)


class ToldField(Field):
    """Something to know, and nothing to type."""

    def __init__(self, label: str, *, id: str) -> None:  # noqa: A002  Textual's own word
        super().__init__(label, id=id)
        self._told = Static(classes="told")

    def parts(self) -> Iterable[Static]:
        """What is told."""
        yield self._told

    @property
    def value(self) -> str:
        """Nothing."""
        return ""

    def tell(self, text: str) -> None:
        """Tell something."""
        self._told.update(Text(text, no_wrap=True))


def _named(label: str) -> Text:
    return Text(f" {label}", no_wrap=True)


def line_of(value: str, id: str, *, hint: str = "", longest: int = LONGEST) -> Input:  # noqa: A002  Textual's own word
    """A line to type in."""
    return Input(value, placeholder=hint, max_length=longest, compact=True, id=id)
