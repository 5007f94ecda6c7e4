"""The work drawn: what lies where, and which cells or shapes show it."""
