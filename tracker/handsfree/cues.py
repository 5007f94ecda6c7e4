"""Which sounds go with a place: so that the ear knows before the eye looks up. Pure."""

from __future__ import annotations

from tracker.handsfree.sounds import Cue
from tracker.place import Place
from tracker.progress.position import Position


def cue_for(before: Position, place: Place) -> Cue | None:
    """The sound for having come from `before` to `place`; the most urgent one, if any."""
    if place.finished or place.unpicking is not None:
        return None
    if place.join_words():
        return Cue.JOIN
    if place.position.row != before.row:
        return Cue.ROW_END
    steps = place.pattern.row(place.position.row).steps
    if steps[place.position.step].turn:
        return Cue.TURN
    if _colours(place, before) != _colours(place, place.position):
        return Cue.COLOUR_CHANGE
    return None


def _colours(place: Place, position: Position) -> set[str]:
    """The colours of the tiles, or else the seeds, that a step picks up."""
    if position.row >= place.pattern.row_count:
        return set()
    step = place.pattern.row(position.row).steps[position.step]
    beads = (place.pattern.bead(bead) for bead in step.picked_up())
    return {bead.colour for bead in beads if bead.kind == place.pattern.body}
