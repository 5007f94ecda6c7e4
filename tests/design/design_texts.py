"""A design to spoil, for the tests of this folder."""

from tracker.design.demands import Demands

STITCHES = {
    "two-hole herringbone": Demands(hinges=True, closures=True),
    "two-hole brick": Demands(hinges=True, closures=True),
}

GOOD = """\
format = 1
name = "Harbour lights"
stitch = "two-hole herringbone"
columns = 2

[size]
length = "150 mm"

[beads]
tile = "half tile"
seed = "15/0"

[colours]
A = { name = "lagoon", hex = "#2a7f8e" }
B = { name = "sand", hex = "#E8DCC0" }
S = { name = "smoke", hex = "#6b6f76" }

[layout]
seeds = "S"
lanes = "BAAB"

[thread]
diameter = "0.15 mm"
length = "1.8 m"
tail = "250 mm"
"""
