"""Times as people read them: in the zone that the system is set to, whatever a clock once said."""

from __future__ import annotations

from datetime import UTC, datetime


def here(at: datetime) -> datetime:
    """The time in this place's zone; in UTC where no calendar of this place goes so far."""
    try:
        return at.astimezone()
    except (OverflowError, OSError, ValueError):
        return at.astimezone(UTC)
