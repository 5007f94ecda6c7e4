"""What is said to whoever takes a piece up again."""

from __future__ import annotations

from datetime import datetime, timedelta

from tracker.dates import here
from tracker.session import Session

BREAK = timedelta(minutes=10)
"""After a longer one the beader is asked whether the work looks as it should."""
SLACK = timedelta(minutes=2)
"""Clocks that differ by less are as good as alike."""
QUESTION = "Does your work look like this? Space: yes. f: no, find my place."


def welcome(session: Session, now: datetime) -> tuple[list[str], bool]:
    """When the work was left and how it should look, and whether an answer is waited for."""
    progress, place = session.progress, session.place
    if progress.last_stitched is None or place.finished:
        return [], False
    stopped, since = here(progress.last_stitched), now - progress.last_stitched
    said = [f"You stopped {stopped:%A %d %B, %H:%M}."]
    if since < -SLACK:
        said = [f"{said[0][:-1]}, by a clock that was ahead of this one."]
    elif since <= BREAK:
        return [*said, *place.standing()], False
    from tracker.pictures.told import caps  # noqa: PLC0415  only after a break

    # The question first: on a small screen the end of a long notice is cut.
    standing = [*place.standing(), caps(place.pattern, place.position.row)]
    return [*said, QUESTION, *standing], True
