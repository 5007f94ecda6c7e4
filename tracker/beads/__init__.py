"""What beads and thread are: shapes, sizes, mass, holes."""
