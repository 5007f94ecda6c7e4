"""Shapes for the tests of stitches that can be shaped, drawn as a design draws them."""

import hypothesis.strategies as st


def drawn(outline: list[tuple[int, int]]) -> tuple[str, ...]:
    """Rows by their first half bead and number of beads, in A and B by turns."""
    margin = min(first for first, _ in outline)
    return tuple(
        " " * (first - margin) + " ".join("AB"[i % 2] for i in range(beads))
        for first, beads in outline
    )


@st.composite
def shapes(draw: st.DrawFn, most_rows: int = 9, most_beads: int = 8) -> tuple[str, ...]:
    """Any shape within the rules: edges half a bead out or in, one bead in the last row only."""
    beads = draw(st.integers(2, most_beads))
    outline = [(0, beads)]
    for _ in range(draw(st.integers(1, most_rows - 1))):
        first, beads = outline[-1]
        if beads == 1:
            break
        left, right = draw(st.sampled_from((-1, 1))), draw(st.sampled_from((-1, 1)))
        now = min(max(beads + (right - left) // 2, 1), most_beads)
        if (right - left) // 2 != now - beads:
            left = right  # too wide or too narrow: it stays as wide
        outline.append((first + left, now if left != right else beads))
    return drawn(outline)
