"""The colours of the two themes, and which of them is worn.

Contrast by WCAG 2.2 is held by the tests: text 4.5 : 1 and more on whatever lies below it, marks
3 : 1 on the ground.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from functools import cache

from textual.app import App
from textual.driver import Driver
from textual.theme import Theme

from tracker.colours.marks import ON_DARK, ON_LIGHT, Marks
from tracker.records import record
from tracker.settings.model import Themes


@record(kw_only=True)
class Tones:
    """The colours of one theme, `#rrggbb`."""

    name: str
    dark: bool
    ground: str
    """What everything lies on."""
    raised: str
    """What lies above it: the keys at the bottom, questions, the help."""
    text: str
    quiet: str
    """What is not looked at first."""
    label: str
    """Names of things."""
    bar: str
    bar_text: str
    """The line at the top."""
    chosen: str
    """Behind what is chosen, or typed in."""
    foot: str
    key: str
    """A key at the bottom, and the name of the field that the cursor is in."""
    warning: str
    """What is wrong with a field."""
    notice: str
    notice_text: str
    """Something to read once."""
    task: str
    task_text: str
    task_label: str
    task_sign: str
    """What the lesson tells, and the name of a task."""
    alarm: str
    alarm_text: str
    """What has to be seen for as long as it holds."""
    hole: str
    """Inside the ring round a hole to go through, and an open hole."""
    rim: str
    """Round beads that are picked up now."""
    rim_called: str
    """What the help calls that rim."""
    metal: str
    """Of findings."""
    marks: Marks
    sign: str
    """A number or a cross upon a mark."""


DARK = Tones(
    name="dark",
    dark=True,
    ground="#10141a",
    raised="#1b222c",
    text="#e6edf3",
    quiet="#a3b1c2",
    label="#8fc7ff",
    bar="#24405c",
    bar_text="#ffffff",
    chosen="#24405c",
    foot="#c9d4e0",
    key="#ffe14d",
    warning="#ffd479",
    notice="#ffd479",
    notice_text="#101010",
    task="#1d3a2a",
    task_text="#e6edf3",
    task_label="#9ee6b4",
    task_sign="#101010",
    alarm="#9c1c1c",
    alarm_text="#ffffff",
    hole="#05070a",
    rim="#ffffff",
    rim_called="bright",
    metal="#aeb6c2",
    marks=ON_DARK,
    sign="#101010",
)
LIGHT = Tones(
    name="light",
    dark=False,
    ground="#f7f5f0",
    raised="#e9e5db",
    text="#15191e",
    quiet="#414a55",
    label="#0b2fa3",
    bar="#1238a0",
    bar_text="#ffffff",
    chosen="#cfe1f3",
    foot="#2b323a",
    key="#8a0060",
    warning="#9c0000",
    notice="#ffd479",
    notice_text="#101010",
    task="#d6ecdc",
    task_text="#15191e",
    task_label="#0b5a2a",
    task_sign="#ffffff",
    alarm="#9c1c1c",
    alarm_text="#ffffff",
    hole="#ffffff",
    rim="#000000",
    rim_called="black",
    metal="#5d6570",
    marks=ON_LIGHT,
    sign="#ffffff",
)


def worn(wanted: Themes, environment: Mapping[str, str]) -> Tones:
    """The theme that is wanted; "auto" looks at what the terminal says of its own colours.

    COLORFGBG ("15;0": text; ground, as numbers of the 16 colours) is set by some terminals. The
    terminal itself is asked nothing: an answer may be slow, and keys may lie before it.
    """
    if wanted == "auto":
        ground = environment.get("COLORFGBG", "").rpartition(";")[2]
        return LIGHT if ground in _LIGHT_GROUNDS else DARK
    return LIGHT if wanted == "light" else DARK


_LIGHT_GROUNDS = ("7", "9", "10", "11", "12", "13", "14", "15")
"""Of the 16 colours those that dark text is read on."""


def other(tones: Tones) -> Tones:
    """The theme that is not worn."""
    return LIGHT if tones.dark else DARK


class Toned(App[None]):
    """An app that wears tones of ours, from its first frame on.

    A theme that is set once the app is made has all of its styles read twice.
    """

    def __init__(
        self,
        tones: Tones,
        *,
        driver_class: type[Driver] | None = None,
        ansi_color: bool | None = None,
    ) -> None:
        self._tones = tones
        super().__init__(driver_class=driver_class, ansi_color=ansi_color)

    @property
    def current_theme(self) -> Theme:
        """The tones, as styles know them."""
        return theme_of(self._tones)

    def put_on(self, tones: Tones) -> None:
        """Give the styles other tones."""
        self._tones = tones
        self.register_theme(self.current_theme)
        self.theme = self.current_theme.name


@cache
def theme_of(tones: Tones) -> Theme:
    """The tones as styles.tcss (`$tone-ground` ...) and Textual's own widgets know them."""
    variables = {
        f"tone-{field.name}": value
        for field in fields(tones)
        if isinstance(value := getattr(tones, field.name), str) and value.startswith("#")
    }
    chosen = {
        f"block-cursor-{part}": value
        for part, value in (
            ("background", tones.chosen),
            ("foreground", tones.text),
            ("blurred-background", tones.chosen),
            ("blurred-foreground", tones.text),
        )
    }
    return Theme(
        name=f"tracker-{tones.name}",
        dark=tones.dark,
        primary=tones.label,
        foreground=tones.text,
        background=tones.ground,
        surface=tones.raised,
        panel=tones.raised,
        variables={
            **variables,
            **chosen,
            "text-disabled": tones.quiet,
            "border": tones.label,
            "border-blurred": tones.quiet,
            "input-cursor-background": tones.text,
            "input-cursor-foreground": tones.ground,
            "input-selection-background": tones.chosen,
        },
    )
