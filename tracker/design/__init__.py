"""What the beader wrote, read and checked."""
