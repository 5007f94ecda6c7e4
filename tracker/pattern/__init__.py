"""The compiled file: written, read, sealed."""
