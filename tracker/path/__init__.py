"""The thread path, its proof, its words and its place in the plane."""
