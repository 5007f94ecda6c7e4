"""The piece in hand: its place, its journal, its counters."""
