import re
import tomllib
import zlib
from pathlib import Path

import pytest
from outlines import BAND, DIGEST, NOON, Band, after, started

from tracker.problems import ProblemsError
from tracker.progress import chain, journal
from tracker.progress.opened import open_piece
from tracker.progress.piece import PieceFolder
from tracker.progress.position import START, forward
from tracker.progress.state import ByChanged, Closed, Event, Moved, Opened, Progress, apply
from tracker.progress.store import Store


def a_day() -> list[Event]:
    """What happens in a short sitting: every kind of event, the band woven to its end."""
    events: list[Event] = [Opened(NOON), ByChanged(after(1), "step")]
    place, seconds = START, 1.0
    for _ in range(sum(BAND.steps)):
        place, seconds = forward(BAND, place, "step"), seconds + 31.25
        events.append(Moved(after(seconds), place))
    return [*events, Closed(after(seconds + 1))]


def states(events: list[Event], first: Progress) -> list[Progress]:
    """The progress before all events and after each."""
    found = [first]
    for event in events:
        found.append(apply(BAND, found[-1], event))
    return found


def recorded(home: Path, events: list[Event]) -> PieceFolder:
    """A piece to which all this happened."""
    folder = started(home)
    with open_piece(folder, BAND) as piece:
        for event in events:
            piece.record(event)
    return folder


def test_reopening_gives_what_was_there(tmp_path: Path) -> None:
    """The progress read back is the one that was closed, pace and all."""
    events = a_day()
    folder = started(tmp_path)
    with open_piece(folder, BAND) as piece:
        expected = states(events, piece.progress)[-1]
        for event in events:
            piece.record(event)
        assert expected == piece.progress
    with open_piece(folder, BAND) as again:
        assert expected == again.progress
        assert () == again.notices
    assert expected.row_seconds == (93.75, 62.5, 62.5, 62.5, 62.5)


def test_the_journal_is_toml_after_every_event(tmp_path: Path) -> None:
    """The standard library reads it at any time; the lines are numbered without a gap."""
    folder = started(tmp_path)
    with open_piece(folder, BAND) as piece:
        for count, event in enumerate(a_day(), start=2):
            piece.record(event)
            table = tomllib.loads(folder.journal_path.read_text("ascii"))
            assert (1, DIGEST) == (table["format"], table["pattern"])
            assert [str(n) for n in range(len(table["journal"]))] == list(table["journal"])
            assert count == len(table["journal"])
    assert table["journal"]["3"].startswith("2026-11-25T12:00:32.250Z at row 2 step 1 ~")


def test_looking_writes_nothing(tmp_path: Path) -> None:
    """Opening a piece and closing it leaves the journal as it was; the first event does not."""
    folder = recorded(tmp_path, a_day())
    before = folder.journal_path.read_bytes()
    with open_piece(folder, BAND, clock=lambda: after(9000)) as piece:
        assert before == folder.journal_path.read_bytes()
        piece.record(ByChanged(after(9001), "row"))
    added = folder.journal_path.read_bytes()[len(before) :].decode().splitlines()

    assert ["2026-11-25T14:30:00.000Z opened", "2026-11-25T14:30:01.000Z by row"] == [
        line.split('"')[1].rpartition(" ~")[0] for line in added
    ]


def test_a_journal_cut_at_any_byte_is_a_beginning_of_it_or_refused(tmp_path: Path) -> None:
    """Whatever a crash leaves of the last line is taken off and kept; the rest is all there."""
    events = a_day()[:4]
    folder = recorded(tmp_path, events)
    whole = folder.journal_path.read_bytes()
    with open_piece(folder, BAND, read_only=True) as piece:
        all_states = states(events, Progress(started=piece.progress.started))
    opening = len(b"".join(whole.splitlines(keepends=True)[:5]))
    for length in range(len(whole)):
        folder.journal_path.write_bytes(whole[:length])
        if length < opening:
            with pytest.raises(ProblemsError):
                open_piece(folder, BAND)
            assert whole[:length] == folder.journal_path.read_bytes()
            continue
        good = whole[: whole.rindex(b"\n", 0, length) + 1]
        with open_piece(folder, BAND) as piece:
            assert all_states[good.count(b"\n") - 5] == piece.progress
            assert good == folder.journal_path.read_bytes()
            assert (length > len(good)) == bool(piece.notices)
        kept = folder.path / "journal.torn-1"
        if length > len(good):
            assert whole[len(good) : length] == kept.read_bytes()
            kept.unlink()
        assert not kept.exists()


@pytest.mark.parametrize("length", range(0, 60, 7))
def test_zeros_that_a_power_cut_left_are_taken_off(tmp_path: Path, length: int) -> None:
    """A last line whose end never reached the disk, down to the byte that ends it: no damage."""
    whole = recorded(tmp_path, a_day()[:4]).journal_path.read_bytes()
    good = whole[: whole.rindex(b"\n", 0, -1) + 1]
    for zeros in (length + 1, len(whole) - len(good)):
        found = chain.scan(whole[:-zeros] + bytes(zeros), "")

        assert good[: found.mark.length] == good
        assert whole[len(good) : -zeros] + bytes(zeros) == found.torn


def test_no_changed_byte_goes_unnoticed(tmp_path: Path) -> None:
    """Any one byte changed to anything else: refused, or in the last line taken off."""
    whole = recorded(tmp_path, a_day()[:4]).journal_path.read_bytes()
    good = chain.scan(whole, "")
    last = whole.rindex(b"\n", 0, -1) + 1
    outcomes = {"refused": 0, "taken off": 0}
    for place in range(len(whole)):
        for flip in (1, 2, 4, 8, 16, 32, 64, 128, 255, whole[place] ^ 10, whole[place] ^ 34):
            if flip == 0:
                continue
            damaged = bytearray(whole)
            damaged[place] ^= flip
            try:
                found = chain.scan(bytes(damaged), "")
            except ProblemsError:
                outcomes["refused"] += 1
            else:
                outcomes["taken off"] += 1
                assert place >= last
                assert good.texts[:-1] == found.texts
                assert bytes(damaged[last:]) == found.torn
    assert min(outcomes.values()) > 100


@pytest.mark.parametrize("line", [4, 5, 6, 7])
def test_lines_cannot_be_dropped_or_swapped(tmp_path: Path, line: int) -> None:
    """Every line is checked with all before it, so order and number count."""
    lines = recorded(tmp_path, a_day()).journal_path.read_bytes().splitlines(keepends=True)
    dropped = [*lines[:line], *lines[line + 1 :]]
    swapped = [*lines[:line], lines[line + 1], lines[line], *lines[line + 2 :]]

    for damaged in (dropped, swapped):
        with pytest.raises(ProblemsError, match="is damaged"):
            chain.scan(b"".join(damaged), "")


def test_a_damaged_journal_is_refused_with_a_way_back_and_left_alone(tmp_path: Path) -> None:
    """File, line and what to do are said, and the way back works."""
    folder = recorded(tmp_path, a_day())
    damaged = folder.journal_path.read_bytes().replace(b"row 2 step 2", b"row 2 step 3", 1)
    folder.journal_path.write_bytes(damaged)
    with pytest.raises(ProblemsError) as caught:
        open_piece(folder, BAND)

    (line,) = caught.value.lines()
    assert line.startswith(f"{folder.journal_path}: line 9: is damaged")
    assert "move journal.toml away to start again" in line
    assert damaged == folder.journal_path.read_bytes()

    folder.journal_path.rename(tmp_path / "damaged.toml")
    with open_piece(folder, BAND) as piece:
        assert START == piece.progress.position
        assert ("the journal was not there: the piece begins at its first step",) == piece.notices
        piece.record(Moved(after(1), forward(BAND, START, "step")))


def test_the_crc_is_that_of_the_standard_library(tmp_path: Path) -> None:
    """The last word of each line is zlib's CRC-32 of the file up to it without the checks."""
    whole = recorded(tmp_path, a_day()).journal_path.read_bytes()
    for found in re.finditer(rb' ~([0-9a-f]{8})"\n', whole):
        plain = re.sub(rb' ~[0-9a-f]{8}"\n', b"", whole[: found.start()])
        assert found[1] == b"%08x" % zlib.crc32(plain)


def appended(folder: PieceFolder, text: str) -> None:
    """Write a line with a good check behind the journal."""
    data = folder.journal_path.read_bytes()
    folder.journal_path.write_bytes(data + chain.line(chain.scan(data, "").mark, text)[0])


def test_a_newer_versions_words_are_refused_not_skipped(tmp_path: Path) -> None:
    """An unknown event is named with its line, and the file is left alone."""
    folder = recorded(tmp_path, a_day())
    appended(folder, "2026-11-25T13:00:00.000Z painted 52 mm")
    before = folder.journal_path.read_bytes()
    for read_only in (True, False):
        with pytest.raises(ProblemsError, match=r"no word 'painted'; update the tracker"):
            open_piece(folder, BAND, read_only=read_only)
    assert before == folder.journal_path.read_bytes()


def test_a_newer_format_is_refused(tmp_path: Path) -> None:
    """The message says which format this version reads."""
    folder = started(tmp_path)
    newer = folder.journal_path.read_bytes().replace(b"format = 1", b"format = 2")
    folder.journal_path.write_bytes(newer)
    with pytest.raises(ProblemsError, match="reads format 1, the file has format 2; update"):
        open_piece(folder, BAND)


def test_a_place_that_the_pattern_has_not_is_refused(tmp_path: Path) -> None:
    """An undamaged line may still make no sense; its words are shown."""
    folder = recorded(tmp_path, a_day())
    appended(folder, "2026-11-25T13:00:00.000Z at row 7 step 1")
    with pytest.raises(ProblemsError, match=r"line \d+: makes no sense in this pattern"):
        open_piece(folder, BAND)


def test_a_journal_of_another_pattern_is_refused(tmp_path: Path) -> None:
    """A journal is bound to its pattern's digest, whatever the folder says."""
    folder = started(tmp_path)
    other = started(tmp_path, Band(BAND.steps, digest="sha256:" + "cd" * 32))
    folder.journal_path.write_bytes(other.journal_path.read_bytes())
    with pytest.raises(ProblemsError, match="belongs to another pattern"):
        open_piece(folder, BAND)
    with pytest.raises(ProblemsError, match="belongs to another pattern"):
        open_piece(other, BAND)
    problems = {listed.path: listed.problem for listed in Store(tmp_path).pieces()}
    assert problems[folder.path] is not None
    assert problems[other.path] is None


def long_journal(folder: PieceFolder, lines: int) -> None:
    """Make the journal so long: the mode changed to and fro, then two rows and a half."""
    data, mark = journal.begun(DIGEST, NOON)
    parts = [data]
    texts = [f"2026-11-25T12:00:01.000Z by {('row', 'step')[n % 2]}" for n in range(lines - 6)]
    texts += ["2026-11-25T12:00:01.500Z opened"]
    texts += [f"2026-11-25T12:0{n}:00.000Z at row 2 step {n}" for n in (1, 2, 3)]
    texts += ["2026-11-25T12:04:00.000Z at row 3 step 1"]
    for text in texts:
        data, mark = chain.line(mark, text)
        parts.append(data)
    folder.journal_path.write_bytes(b"".join(parts))
    assert lines == 1 + len(texts)


def test_a_long_journal_is_shortened_and_says_the_same(tmp_path: Path) -> None:
    """A snapshot replaces more than 2,000 lines; the old file is kept; going on works as before."""
    folder = started(tmp_path)
    long_journal(folder, journal.LINES_KEPT + 1)
    long = folder.journal_path.read_bytes()
    with open_piece(folder, BAND, read_only=True) as piece:
        expected = piece.progress
    assert long == folder.journal_path.read_bytes()

    with open_piece(folder, BAND) as piece:
        assert expected == piece.progress
        assert 7 == folder.journal_path.read_bytes().count(b"\n") + 1
        piece.record(Moved(after(300), forward(BAND, expected.position, "step")))
        further = piece.progress
    assert long == (folder.path / "journal.before.toml").read_bytes()
    tomllib.loads(folder.journal_path.read_text("ascii"))
    with open_piece(folder, BAND) as piece:
        assert further == piece.progress
        assert forward(BAND, expected.position, "step") == further.position


def test_a_journal_of_2000_lines_is_left_as_it_is(tmp_path: Path) -> None:
    """Only a longer one is shortened."""
    folder = started(tmp_path)
    long_journal(folder, journal.LINES_KEPT)
    long = folder.journal_path.read_bytes()
    open_piece(folder, BAND).close()

    assert long == folder.journal_path.read_bytes()
    assert not (folder.path / "journal.before.toml").exists()


def test_the_older_journal_is_a_way_back(tmp_path: Path) -> None:
    """When a shortened journal is damaged, the message names the older one, and that works."""
    folder = started(tmp_path)
    long_journal(folder, journal.LINES_KEPT + 1)
    with open_piece(folder, BAND) as piece:
        expected = piece.progress
    damaged = folder.journal_path.read_bytes().replace(b"started:", b"begun:::", 1)
    folder.journal_path.write_bytes(damaged + b"9\n9\n")
    with pytest.raises(ProblemsError, match=r"put the older journal\.before\.toml in its place"):
        open_piece(folder, BAND)
    (folder.path / "journal.before.toml").replace(folder.journal_path)
    with open_piece(folder, BAND) as piece:
        assert expected == piece.progress
