"""Colours as eyes see them: how far apart two shades are, and who can tell them apart."""
