"""What is done at the ends of a piece without going through a bead, and the cautions that apply.

The cautions are the usual ones of the trade; makers' instructions and local rules come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from tracker.records import record

Note = Literal["", "stop-bead-off", "tail", "knot", "trim", "jump-ring", "glue", "press", "check"]


@record
class Wording:
    """A note in words, full and short, and the caution to show with it, "" if there is none."""

    full: str
    short: str
    caution: str = ""


FINDING_CAUTION = (
    "Metal parts can hold nickel, which some skins do not bear (in the EU its release is limited, "
    "REACH Annex XVII entry 27), and small parts can choke small children: go by what the maker "
    "of the part says and by your local rules."
)
"""Shown where a finding is picked up or hung in."""

NOTES: Mapping[Note, Wording] = MappingProxyType(
    {
        "stop-bead-off": Wording(
            "take the stop bead off, or let go of whatever held the tail", "stop bead off"
        ),
        "tail": Wording(
            "thread the needle on the tail, where it comes out of the first seed",
            "needle on the tail",
            "Needles are sharp: keep count of them, and keep them away from children.",
        ),
        "knot": Wording(
            "make a half-hitch knot: under the thread between two beads, through the loop that is "
            "left, and pull it tight",
            "half hitch",
        ),
        "trim": Wording(
            "pull gently and trim the thread close to the beads",
            "trim",
            "Blades are sharp, and ends of thread do not belong where children or animals play.",
        ),
        "jump-ring": Wording(
            "open a jump ring sideways, hang the finding and its half of the clasp in it, close it",
            "jump ring and clasp",
            FINDING_CAUTION,
        ),
        "glue": Wording(
            "put a thin line of adhesive into the ribbon end and slide the edge of the band in",
            "adhesive, ribbon end on",
            "Adhesive: work in a ventilated place, keep it off skin and eyes and away from "
            "children, and follow its maker's instructions and your local rules.",
        ),
        "press": Wording(
            "press the ribbon end shut, a little at a time from one side to the other, and let the "
            "adhesive cure for as long as its maker says",
            "press shut, let it cure",
        ),
        "check": Wording(
            "pull at both ends: nothing gives, and no thread end or sharp edge stands out",
            "check both ends",
            "Rest your eyes and hands. A piece with small parts is nothing for small children.",
        ),
    }
)
"""Every note but the empty one."""
