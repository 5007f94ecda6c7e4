"""The guard that makes one press one move, driven with rhythms of presses."""

from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.app.keyguard import Guard

DELAYS = (0.25, 0.5, 0.66)
"""Before a held key repeats, seconds: usual settings of desktops and consoles."""
RATES = (0.033, 0.09)
"""Between two repeats: 30 and 11 a second, common defaults."""


def moves_at(presses: list[float], guard: Guard | None = None) -> list[float]:
    """When moves are made of presses, as a screen with a timer makes them."""
    watch = Guard() if guard is None else guard
    made: list[float] = []
    due = None
    for at in presses:
        if due is not None and due <= at and watch.settle():
            made.append(due)
        made += [at] * watch.press(at)
        due = at + watch.quiet if watch.waiting else due
    if due is not None and watch.settle():
        made.append(due)
    return made


def held(start: float, delay: float, rate: float, seconds: float = 3.0) -> list[float]:
    """The presses that a key held for so long sends."""
    return [start, *(start + delay + rate * i for i in range(int((seconds - delay) / rate)))]


def shaken(times: list[float], jitter: list[float]) -> list[float]:
    """The times, each late by its own few milliseconds."""
    return [at + jitter[i % len(jitter)] for i, at in enumerate(times)]


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("delay", DELAYS)
def test_a_held_key_is_one_press(delay: float, rate: float) -> None:
    """It moves on once, at once, and not again however long it is held."""
    assert [10.0] == moves_at(held(10.0, delay, rate))


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("delay", DELAYS)
def test_a_key_held_after_other_presses_is_one_press(delay: float, rate: float) -> None:
    """The press before, a moment or a minute ago, makes no difference."""
    for pause in (0.2, 0.8, 60.0):
        assert 2 == len(moves_at([10.0 - pause, *held(10.0, delay, rate)]))


@pytest.mark.parametrize("delay", [0.1, 2.0])
def test_a_repeat_with_an_unusual_delay_does_not_run_away(delay: float) -> None:
    """Its first repeat may be taken for a press, the rest never is."""
    for rate in RATES:
        assert len(moves_at(held(10.0, delay, rate, seconds=10.0))) <= 2


@given(
    st.lists(st.floats(0, 0.02), min_size=5, max_size=20),
    st.sampled_from(DELAYS),
    st.sampled_from((0.025, 0.033, 0.05, 0.09)),
)
def test_a_held_key_on_a_shaky_line_is_one_press(
    jitter: list[float], delay: float, rate: float
) -> None:
    """Repeats that come up to 20 ms late are still repeats."""
    presses = sorted(shaken(held(10.0, delay, rate), jitter))

    assert 1 == len(moves_at(presses))


@pytest.mark.parametrize(
    "bounces", [[0.005], [0.02], [0.035], [0.008, 0.03], [0.005, 0.01, 0.035], [0.01, 0.02, 0.03]]
)
@pytest.mark.parametrize("apart", [0.15, 0.25, 0.4, 1.0, 10.0])
def test_a_bouncing_pedal_is_one_press(bounces: list[float], apart: float) -> None:
    """Every press of a pedal that bounces counts once, in whatever rhythm it is trodden."""
    presses = [10.0 + apart * i + late for i in range(6) for late in (0.0, *bounces)]

    assert 6 == len(moves_at(presses))


@pytest.mark.parametrize("apart", [0.15, 0.25, 0.4, 1.0, 10.0])
def test_deliberate_presses_count_after_their_wait(apart: float) -> None:
    """Each makes one move, no later than the quiet time after it and before the next press."""
    presses = [10.0 + apart * i for i in range(8)]
    moves = moves_at(presses)

    assert len(presses) == len(moves)
    assert all(
        press <= move <= press + min(apart, Guard().quiet)
        for press, move in zip(presses, moves, strict=True)
    )


@given(st.lists(st.floats(0.13, 3.0), max_size=40))
def test_as_many_moves_as_deliberate_presses(gaps: list[float]) -> None:
    """Presses at least 130 ms apart, in any rhythm, lose and gain none."""
    presses = list(accumulate(gaps, initial=10.0))

    assert len(presses) == len(moves_at(presses))


def test_presses_that_a_stall_kept_from_the_timer_count() -> None:
    """Where no timer ran in between, a later press shows that the one before was deliberate."""
    guard = Guard()
    made = [guard.press(at) for at in (10.0, 10.2, 10.4, 10.6)]

    assert [1, 0, 1, 1] == made
    assert guard.settle()


def test_another_key_settles_a_press_that_waits() -> None:
    """Forward then back at once is a move each, in that order, whatever waits."""
    forward, back = Guard(), Guard()
    forward.press(10.0)

    assert (0, True) == (forward.press(10.3), forward.waiting)
    assert forward.settle()
    assert 1 == back.press(10.35)
    assert not forward.settle()


def test_without_a_bounce_every_press_counts() -> None:
    """A guard that is turned off lets a held key run, and makes nothing wait."""
    presses = held(10.0, 0.25, 0.033)

    assert presses == moves_at(presses, Guard(bounce=0.0))


def test_a_longer_bounce_can_be_set() -> None:
    """A pedal that rings for 90 ms is one press where it is set so, and holding is one still."""
    ringing = [10.0 + late for late in (0.0, 0.05, 0.09)]

    assert 1 == len(moves_at(ringing, Guard(bounce=0.1)))
    for delay in DELAYS:
        for rate in RATES:
            assert 1 == len(moves_at(held(10.0, delay, rate), Guard(bounce=0.1)))


def test_a_key_meant_for_another_screen_is_overlooked() -> None:
    """What bounces or repeats after the key that opened the piece makes no move in it."""
    guard = Guard()
    guard.overlook(10.0)
    bounced = [guard.press(at) for at in (10.01, 10.03)]

    assert [0, 0] == bounced
    guard.overlook(20.0)
    assert [] == moves_at([20.5 + 0.033 * i for i in range(40)], guard)
