"""What a command did, and a design to run it on."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

DESIGN = """\
format = 1
name = "Harbour lights"
stitch = "two-hole herringbone"
columns = 2

[size]
length = "60 mm"

[beads]
tile = "half tile"
seed = "15/0"

[colours]
A = { name = "lagoon", hex = "#2a7f8e" }
B = { name = "sand", hex = "#e8dcc0" }
S = { name = "smoke", hex = "#6b6f76" }

[layout]
seeds = "S"
lanes = "BAAB"
"""


@dataclass(frozen=True)
class Done:
    """What a command did."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one document on standard output."""
        return json.loads(self.out)


Run = Callable[..., Done]
