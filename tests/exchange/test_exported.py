"""The form of a piece as one file."""

import hashlib
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from parcels import sealed

from tracker.problems import ProblemsError
from tracker.progress.exported import Exported, is_exported, read, write

TEXT = st.text(
    st.sampled_from("ab'\"\\\n\t#=[]{},\N{SPOOL OF THREAD}\N{LATIN SMALL LETTER E WITH ACUTE}"),
    max_size=40,
)
NAMES = st.text(st.characters(categories=("L", "N", "P", "S")), min_size=1, max_size=80)


def problem(text: str) -> str:
    """Why the text is refused."""
    with pytest.raises(ProblemsError) as caught:
        read(text)
    (line,) = caught.value.lines()
    return line


@given(NAMES, TEXT, TEXT, TEXT)
def test_what_is_written_is_read(name: str, pattern: str, journal: str, design: str) -> None:
    """Whatever quotes and brackets are in the texts, they come back, and it is TOML as well."""
    piece = Exported(name=name, pattern=pattern, journal=journal, design=design)
    text = write(piece)

    assert is_exported(text)
    assert piece == read(text)
    assert piece == read("\ufeff" + text)
    table = tomllib.loads(text)
    assert (name, pattern) == (table["name"], "'''".join(table["pattern"]))
    assert (journal, design) == ("'''".join(table["journal"]), "'''".join(table["design"]))


def test_the_seal_is_the_digest_of_what_follows_it() -> None:
    """It can be checked by hand: SHA-256 of everything behind its line."""
    text = write(Exported(name="Harbour", pattern="p", journal="j"))
    head, _, rest = text.partition('"\nname')
    assert head.endswith(hashlib.sha256(f"name{rest}".encode()).hexdigest())


@given(st.data())
def test_any_change_breaks_the_seal(data: st.DataObject) -> None:
    """One letter changed, left out or put in behind the seal is found out."""
    text = write(Exported(name="Harbour", pattern="a = 1\n", journal="b = 2\n", design="c = 3\n"))
    at = data.draw(st.integers(text.index("name ="), len(text) - 1))
    new = data.draw(st.sampled_from(["", "x", "'", "\n"]).filter(lambda c: c != text[at]))

    assert "changed or damaged" in problem(text[:at] + new + text[at + 1 :])


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "file: is no exported piece"),
        ('format = 1\nname = "Harbour"\n', "file: is no exported piece"),
        (sealed("").replace("format = 1", "format = 7"), "the file has format 7; update"),
        (sealed(""), "name: is not in the form"),
        (sealed("name = 3\n"), "name: is not in the form"),
        (sealed('name = "\n'), "name: is not in the form"),
        (
            sealed('name = "a\\u001bb"\n' + "pattern = [\n]\njournal = [\n]\ndesign = [\n]\n"),
            "shown",
        ),
        (sealed('name = "../.."\npattern = []\n'), "pattern: is not in the form"),
        (sealed("name = \"x\"\npattern = [\n'''\nabc\n]\n"), "pattern: is not in the form"),
        (sealed("name = \"x\"\npattern = [\n'''\na''''''\n''',\n]\n"), "pattern: is not in the"),
        (sealed('name = "x"\npattern = [\n]\njournal = [\n]\n'), "design: is not in the form"),
        (
            sealed('name = "x"\npattern = [\n]\njournal = [\n]\ndesign = [\n]\nx = 1\n'),
            "the end: is",
        ),
    ],
)
def test_what_is_no_exported_piece(text: str, what: str) -> None:
    """The message says where, and nothing of the file reaches the terminal raw."""
    said = problem(text)
    assert what in said
    assert said.isprintable()
