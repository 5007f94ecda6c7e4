"""How long a band must be for a wrist, and what a whole number of rows gives on it."""
