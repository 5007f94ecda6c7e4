"""The stitches, one a module: from a design to a thread path."""
