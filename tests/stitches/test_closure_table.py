"""The two ends, pass by pass, against a table written by hand.

`+x` picks up x, `x` goes through it, `<x` does so against the heading of the row, `=x` is done
without a bead. T(3,2)a is hole a of row 3's tile in column 2, s(3,2) the lone seed beside it,
S2.1 the first seed of the strung row's second group, turn(3).1 the first seed that row 3 turns
with, g1.2 the second levelling seed of the first gap, w and v the loops of the two guards.
Round a loop the needle goes neither up nor down, so nothing is said of that.
"""

from weaving import STITCH, a_design, closed_with

from tracker.path.model import Row, Step

TWO_COLUMNS_FOUR_ROWS = """
5 levelling up
    +g1.1 +g1.2 s(4,1) T(4,2)b
    +g2.1 +g2.2 s(4,2)
6 first end down
    <T(3,2)b turn(3).2 turn(3).1 s(2,2) T(3,2)a
    <T(4,2)a g2.2 g2.1
    +w1 +w2 +w3 +Wa Wb +w4 +w5 +w6 T(4,2)b
7 first end down
    <T(3,1)b <s(3,2) <T(4,2)a g2.2 g2.1
    w1 w2 w3 Wa Wb w4 w5 w6 T(4,2)b
8 first end up
    =knot
    T(3,1)b s(3,2)
    =knot
    T(3,2)a s(2,2)
    =knot
    turn(3).1 turn(3).2 <T(3,2)b
    =trim
    =jump-ring
9 second end up
    =stop-bead-off
    =tail
    T(2,1)b s(3,1) T(3,1)a <T(2,1)a T(1,1)a
    +v1 +v2 +v3 +Va Vb +v4 +v5 +v6 S2.1 S2.2 S2.3
10 second end up
    <T(1,1)b <s(2,1) <T(2,1)a T(1,1)a
    v1 v2 v3 Va Vb v4 v5 v6 S2.1 S2.2 S2.3
11 second end down
    =knot
    T(1,1)b s(2,1)
    =knot
    T(3,1)a s(3,1)
    =knot
    T(2,1)b
    =trim
    =jump-ring
    =check
"""

BAND = """
S1.1 S1.2 S1.3 T(1,1) S2.1 S2.2 S2.3 T(1,2) S3.1 S3.2 S3.3
s(2,2) T(2,2) s(2,1) T(2,1)
s(3,1) T(3,1) s(3,2) T(3,2) turn(3).1 turn(3).2
s(4,2) T(4,2) s(4,1) T(4,1) turn(4).1 turn(4).2
"""
"""The beads of the band in the order of picking up, as its own table has them."""


def role_of(word: str) -> tuple[str, str]:
    """Role and hole of a bead as the table writes it."""
    role = word.lstrip("+<")
    if role[0] in "TWV":
        return role[:-1], role[-1]
    return role, ""


def as_written(row: Row, roles: list[str]) -> tuple[str, list[str]]:
    """A woven row in the form of the table's."""
    up = row.heading == "up"

    def told(step: Step) -> str:
        if step.note:
            return f"={step.note}"
        words = []
        for p in step.passes:
            role = roles[p.bead]
            mark = "+" if p.picked_up else "<" if p.up != up and role[0] not in "wWvV" else ""
            words.append(f"{mark}{role}{p.hole}")
        return " ".join(words)

    return f"{row.number} {row.section} {row.heading}", [told(step) for step in row.steps]


def test_wire_guards_on_two_columns_and_four_rows() -> None:
    """Levelling, both guards, their second round, the weaving in: every pass as by hand."""
    roles = BAND.split()
    written: list[tuple[str, list[str]]] = []
    for line in TWO_COLUMNS_FOUR_ROWS.strip().splitlines():
        if line[0].isdigit():
            written.append((line, []))
            continue
        written[-1][1].append(line.strip())
        roles += [role_of(word)[0] for word in line.split() if word[0] == "+"]
    path = STITCH.weave(a_design(2, 4, closure=closed_with("wire guards")), 4)
    assert written == [as_written(row, roles) for row in path.rows[4:]]
    kinds = {"T": "tile", "W": "finding", "V": "finding"}
    assert [kinds.get(role[0], "seed") for role in roles] == [
        bead.kind for row in path.rows for bead in row.beads
    ]
