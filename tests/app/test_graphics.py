"""What a terminal answers about graphics: taken out of what is typed, wherever it comes."""

from itertools import pairwise

from hypothesis import example, given
from hypothesis import strategies as st

from tracker.app.graphics import ASK_ID, Answers

KITTY = f"\x1b_Gi={ASK_ID};OK\x1b\\"
REFUSED = f"\x1b_Gi={ASK_ID};ENOTSUPPORTED:no\x1b\\"
PLAIN, SIXEL = "\x1b[?62;22;52c", "\x1b[?62;4;22c"
KEYS = ("", " ", "q", "\x1b", "\x1b[A", "\x1b[57441u", "\x1b[?2026;2$y", "\x1b_", "4c", "Gi=1;OK")
"""Typed, and told by the terminal of its own accord; Alt+_ among them."""


def read(pieces: list[str]) -> tuple[str, Answers]:
    """What is left of pieces that come one after the other, and the answers."""
    answers = Answers()
    left = "".join(answers.keys_in(piece) for piece in pieces)
    return left + answers.keys_after_a_pause(), answers


@given(
    keys=st.tuples(*[st.sampled_from(KEYS)] * 3),
    kitty=st.sampled_from(("", KITTY, REFUSED)),
    attributes=st.sampled_from((PLAIN, SIXEL)),
    cuts=st.lists(st.integers(0, 60), max_size=4),
)
@example(keys=("\x1b", "", " "), kitty=KITTY, attributes=PLAIN, cuts=[1, 2, 3])
def test_keys_come_through_and_answers_do_not(
    keys: tuple[str, str, str], kitty: str, attributes: str, cuts: list[int]
) -> None:
    """However what comes is cut into pieces: every key is left, in order, and no answer is one."""
    text = keys[0] + kitty + keys[1] + attributes + keys[2]
    at = [0, *sorted(min(cut, len(text)) for cut in cuts), len(text)]
    left, answers = read([text[i:j] for i, j in pairwise(at)])

    assert "".join(keys) == left
    assert answers.complete
    way = "sixel" if attributes == SIXEL else "kitty" if kitty == KITTY else None
    assert way == answers.way


def test_a_key_that_could_begin_an_answer_is_not_lost() -> None:
    """Escape, Alt+_ and Alt+[ come after a moment, with no answer in sight."""
    for key in ("\x1b", "\x1b_", "\x1b["):
        answers = Answers()
        assert "" == answers.keys_in(key)
        assert key == answers.keys_after_a_pause()
        assert "" == answers.keys_after_a_pause()


def test_half_an_answer_waits_for_its_end() -> None:
    """A slow line may pause within it."""
    answers = Answers()
    assert "" == answers.keys_in(KITTY[:9])
    assert "" == answers.keys_after_a_pause()
    assert "x" == answers.keys_in(KITTY[9:] + PLAIN + "x")
    assert "kitty" == answers.way


def test_once_all_is_known_nothing_is_kept_back() -> None:
    """After the last answer a key passes at once, whatever it begins with."""
    answers = Answers()
    answers.keys_in(PLAIN)
    assert "\x1b[?1" == answers.keys_in("\x1b[?1")


def test_another_program_s_answer_is_no_support() -> None:
    """Only the answer to our own question counts."""
    _, answers = read(["\x1b_Gi=1;OK\x1b\\", PLAIN])
    assert answers.way is None
