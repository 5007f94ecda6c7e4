"""Hands on the beads: the tracker speaks, sounds, and hears spoken commands."""
