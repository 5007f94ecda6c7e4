import pytest

from tracker.handsfree.listening.voice_gate import (
    FRAME,
    FRAME_BYTES,
    LONGEST,
    PAUSE,
    PRE_ROLL,
    QUIET_BEFORE,
    SHORTEST,
    Stretch,
    VoiceGate,
)

LOUD = b"\1" * FRAME_BYTES
QUIET = bytes(FRAME_BYTES)


def gated(*parts: tuple[bytes, float], gate: VoiceGate | None = None) -> list[Stretch]:
    """The stretches in sound given as frames and seconds; loud frames are speech."""
    gate = gate or VoiceGate(lambda frame: frame == LOUD)
    fed = [gate.feed(frame) for frame, seconds in parts for _ in range(round(seconds / FRAME))]
    return [stretch for stretch in fed if stretch is not None]


def test_speech_between_silences_is_a_stretch() -> None:
    """It comes with its pre-roll, says where in it speech is, and when that ended."""
    (stretch,) = gated((QUIET, 1.2), (LOUD, 0.9), (QUIET, 0.6))
    assert 0.9 == pytest.approx(stretch.last - stretch.first, abs=2 * FRAME)
    assert 2.1 == pytest.approx(stretch.at, abs=FRAME)
    assert PRE_ROLL - 0.2 < stretch.first <= PRE_ROLL
    before = round(stretch.first / FRAME) * FRAME_BYTES
    assert bytes(before - FRAME_BYTES) == stretch.sound[: before - FRAME_BYTES]
    assert 30 * LOUD == stretch.sound.strip(b"\0")


def test_it_is_given_as_soon_as_the_pause_is_over() -> None:
    """No later than a frame after the pause that ends it: the beader is waiting."""
    short_of = round(PAUSE / FRAME) * FRAME - FRAME
    assert [] == gated((QUIET, 1), (LOUD, 0.9), (QUIET, short_of))
    assert 1 == len(gated((QUIET, 1), (LOUD, 0.9), (QUIET, short_of + 2 * FRAME)))


@pytest.mark.parametrize("seconds", [SHORTEST - 2 * FRAME, LONGEST + 3 * FRAME, 60])
def test_too_short_or_too_long_is_no_command(seconds: float) -> None:
    """A click, a cough, and speech that runs on are let past, and the next command is heard."""
    command = ((QUIET, 1.0), (LOUD, 1.0), (QUIET, 1.0))
    assert 1 == len(gated((QUIET, 1), (LOUD, seconds), *command))


def test_talk_that_runs_on_is_not_kept() -> None:
    """An hour of speech takes no more memory than a few seconds of it."""
    gate = VoiceGate(lambda frame: frame == LOUD)
    gated((LOUD, 3600), gate=gate)
    assert len(gate._kept) < (LONGEST + PRE_ROLL) / FRAME


def test_a_short_remark_amid_talk_is_no_command() -> None:
    """What follows other speech closely belongs to it; after a rest it is heard."""
    speech = (LOUD, 5.0)
    remark = (LOUD, 1.0)
    between = PAUSE + 2 * FRAME
    assert between < QUIET_BEFORE
    assert [] == gated((QUIET, 1), speech, (QUIET, between), remark, (QUIET, 1))
    assert 1 == len(gated((QUIET, 1), speech, (QUIET, QUIET_BEFORE + 0.1), remark, (QUIET, 1)))


def test_clicks_neither_open_nor_hold_the_gate() -> None:
    """Single frames that seem to be speech, as of beads falling, do not count."""
    clicks = ((LOUD, FRAME), (QUIET, 6 * FRAME)) * 20
    assert [] == gated((QUIET, 1), *clicks)
    (stretch,) = gated((QUIET, 1), (LOUD, 0.9), (QUIET, 6 * FRAME), *clicks)
    assert 1.9 == pytest.approx(stretch.at, abs=FRAME)


def test_time_goes_on_while_nothing_is_heard() -> None:
    """Sound that was missed counts for the time, and cuts off a stretch that had begun."""
    gate = VoiceGate(lambda frame: frame == LOUD)
    assert [] == gated((QUIET, 1.2), (LOUD, 0.6), gate=gate)
    gate.reset(missed=100)
    (stretch,) = gated((QUIET, 0.9), (LOUD, 0.9), (QUIET, 0.6), gate=gate)
    assert 1.8 + 3.0 + 1.8 == pytest.approx(stretch.at, abs=FRAME)
