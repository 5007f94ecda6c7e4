"""The screens, one a module."""
