"""Spoken commands, heard offline on this machine."""
