"""The ends in words: whole sentences, full and short, and the cautions where they matter."""

import pytest
from sealing import CLOSURES, closed

from tracker.design.model import ClosureKind
from tracker.documents import path_document
from tracker.path.notes import NOTES
from tracker.path.words import caution, phrases, step_sentence
from tracker.reports import row_lines

every_closure = pytest.mark.parametrize("kind", CLOSURES)


def said(kind: ClosureKind, row: int, step: int, *, full: bool) -> str:
    """A step of a closed band of 2 columns and 4 rows in words; both count from 1."""
    pattern = closed(kind, 2, 4).pattern
    found = pattern.row(row - 1)
    return step_sentence(pattern, found, found.steps[step - 1], full=full)


SENTENCES = [
    (
        ("wire guards", 5, 1),
        (
            "pick up 2 smoke seeds; go through the lone seed; go through the open hole of the "
            "sand tile standing out"
        ),
        "2 smoke seeds; lone seed; open hole of sand",
    ),
    (
        ("wire guards", 6, 1),
        (
            "go through hole b of the lagoon tile upwards; go through 3 smoke seeds downwards; go "
            "through hole a of the lagoon tile downwards"
        ),
        "hole b of lagoon upwards; 3 smoke seeds downwards; hole a of lagoon downwards",
    ),
    (
        ("wire guards", 6, 3),
        (
            "pick up 3 sand seeds and 1 wire guard by one leg; go through the other leg of the "
            "wire guard; pick up 3 sand seeds; go through hole b of the sand tile downwards"
        ),
        "3 sand seeds, 1 wire guard; the other leg; 3 sand seeds; hole b of sand downwards",
    ),
    (
        ("wire guards", 7, 2),
        (
            "go through 3 sand seeds of the loop; go through one leg of the wire guard; go "
            "through the other leg of the wire guard; go through 3 sand seeds of the loop; go "
            "through hole b of the sand tile downwards"
        ),
        (
            "3 sand seeds of the loop; one leg; the other leg; 3 sand seeds of the loop; hole b "
            "of sand downwards"
        ),
    ),
    (
        ("bead loops", 6, 3),
        (
            "pick up 4 sand seeds, 1 clasp ring and 4 sand seeds; go through hole b of the sand "
            "tile downwards"
        ),
        "4 sand seeds, 1 clasp ring, 4 sand seeds; hole b of sand downwards",
    ),
    (
        ("button loop", 7, 2),
        (
            "go through 3 sand seeds of the loop; go through one hole of the button; go through "
            "the other hole of the button; go through 3 sand seeds of the loop; go through hole b "
            "of the sand tile downwards"
        ),
        (
            "3 sand seeds of the loop; one hole; the other hole; 3 sand seeds of the loop; hole b "
            "of sand downwards"
        ),
    ),
    (
        ("ribbon ends", 7, 2),
        "thread the needle on the tail, where it comes out of the first seed",
        "needle on the tail",
    ),
]


@pytest.mark.parametrize(("place", "full", "short"), SENTENCES)
def test_sentences(place: tuple[ClosureKind, int, int], full: str, short: str) -> None:
    """Each kind of step at the ends is told in full and in short."""
    assert full == said(*place, full=True)
    assert short == said(*place, full=False)


@every_closure
@pytest.mark.parametrize("full", [True, False])
def test_every_pass_is_spoken_of(kind: ClosureKind, full: bool) -> None:
    """No pass of a closed band is left unsaid, and every note has its words."""
    pattern = closed(kind, 5, 7).pattern
    for number in range(pattern.row_count):
        row = pattern.row(number)
        for step in row.steps:
            parts = phrases(pattern, row, step, full=full)
            meant = sorted([*(p.bead for p in step.passes), *step.pass_by])
            assert meant == sorted(bead for part in parts for bead in part.beads)
            if step.note:
                words = NOTES[step.note]
                assert [words.full if full else words.short] == [part.text for part in parts]
    lines = list(row_lines(pattern, full=full))
    cautions = sum(line.startswith("     Caution: ") for line in lines)
    assert cautions >= 4
    steps = sum(map(pattern.steps_in, range(pattern.row_count)))
    assert pattern.row_count + steps + cautions == len(lines)


@every_closure
def test_cautions_stand_where_they_matter(kind: ClosureKind) -> None:
    """Needle, blade, metal and adhesive each bring their caution; woven rows bring none."""
    pattern = closed(kind).pattern
    found: dict[str, str] = {}
    for number in range(pattern.row_count):
        for step in pattern.row(number).steps:
            text = caution(pattern, step)
            if number < pattern.woven_rows:
                assert not text
            hung = any(pattern.bead(bead).kind == "finding" for bead in step.picked_up())
            found[step.note or ("finding" if hung else "")] = text
    assert "away from children" in found["tail"]
    assert "sharp" in found["trim"]
    assert not found[""]
    assert not found["knot"]
    if kind == "ribbon ends":
        assert "ventilated" in found["glue"]
        assert "maker" in found["glue"]
    else:
        assert "REACH Annex XVII entry 27" in found["finding"]
        assert "local rules" in found["finding"]


def test_json_of_the_path_has_the_notes() -> None:
    """The path as JSON tells what is done without a bead; steps with beads are as before."""
    document = path_document(closed("wire guards").pattern)
    sections = document["sections"]
    assert isinstance(sections, list)
    steps = [step for section in sections for row in section["rows"] for step in row["steps"]]
    notes = [step["note"] for step in steps if "note" in step]
    assert 13 == len(notes)
    assert all(not step["passes"] for step in steps if "note" in step)
    assert ["start", "rows", "levelling", "first end", "second end"] == [
        section["name"] for section in sections
    ]
