"""The widgets, one a module."""
