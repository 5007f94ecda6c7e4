"""All that the widgets of the stitching screen show, in one value. Attributes down."""

from __future__ import annotations

from dataclasses import fields

import tracker.place
from tracker.app.look import Dress
from tracker.records import record
from tracker.settings.model import Words

__all__ = ["Place", "Words", "dressed", "short_words"]


@record(kw_only=True)
class Place(tracker.place.Place):
    """A place, and the styles to show it in."""

    dress: Dress


_NAMES = tuple(field.name for field in fields(tracker.place.Place))


def dressed(place: tracker.place.Place, dress: Dress) -> Place:
    """The place in its dress, with marks that stand out on its beads."""
    return Place(
        **{name: getattr(place, name) for name in _NAMES}, dress=dress.on(place.pattern.colours)
    )


def short_words(place: tracker.place.Place) -> list[str]:
    """A sentence on each kind of bead that will not last."""
    return [f"{words}." for words in place.shortages()]
