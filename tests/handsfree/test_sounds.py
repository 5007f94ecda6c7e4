import io
import itertools
import sys
import time
import wave
from pathlib import Path

import numpy as np
import pytest

from tracker.handsfree.sounds import Cue, Sounds, player_program, wav

# A player that keeps a copy of what it was given.
KEEPING = """\
#!{python}
import shutil, sys
shutil.copy(sys.argv[-1], {folder!r})
"""


def samples(sound: bytes) -> tuple[int, np.ndarray]:
    """The rate and the samples, -1 to 1, of a WAV file."""
    with wave.open(io.BytesIO(sound)) as file:
        assert (1, 2) == (file.getnchannels(), file.getsampwidth())
        data = np.frombuffer(file.readframes(file.getnframes()), dtype="<i2")
        return file.getframerate(), data / 32768


@pytest.mark.parametrize("cue", Cue)
def test_each_tone_has_its_pitch(cue: Cue) -> None:
    """A Fourier transform (numpy) finds every tone within 3 % of the pitch it should have."""
    rate, data = samples(wav(cue))
    begin = 0
    for pitch, seconds in cue.value:
        tone = data[begin : begin + round(seconds * rate)]
        begin += len(tone)
        spectrum = np.abs(np.fft.rfft(tone, 1 << 16))
        assert pitch == pytest.approx(np.argmax(spectrum) * rate / (1 << 16), rel=0.03)
    assert len(data) == begin


@pytest.mark.parametrize("cue", Cue)
def test_sounds_are_soft_and_do_not_click(cue: Cue) -> None:
    """No cue is loud or longer than half a second, and each begins and ends in silence."""
    rate, data = samples(wav(cue))
    assert 0.05 < np.abs(data).max() < 0.3
    assert len(data) / rate <= 0.5
    assert np.abs(data[[0, 1, -2, -1]]).max() < 0.005


def test_no_two_sounds_are_alike() -> None:
    """Every cue differs from every other in its first tone's pitch, by a whole tone at least."""
    pitches = sorted(cue.value[0][0] for cue in Cue)
    assert len(Cue) == len(pitches)
    assert all(low * 2 ** (2 / 12) < high for low, high in itertools.pairwise(pitches))


def test_the_player_gets_the_sound(tmp_path: Path) -> None:
    """The player is given a WAV file of the cue; afterwards neither it nor a folder is left."""
    player = tmp_path / "player"
    player.write_text(KEEPING.format(python=sys.executable, folder=str(tmp_path)))
    player.chmod(0o755)
    notices: list[str] = []
    sounds = Sounds(player_program((str(player),)), on_notice=notices.append)
    sounds.play(Cue.JOIN)
    kept = tmp_path / "join.wav"
    end = time.monotonic() + 50
    while not (kept.exists() and kept.stat().st_size == len(wav(Cue.JOIN))):
        assert time.monotonic() < end
        time.sleep(0.01)
    assert wav(Cue.JOIN) == kept.read_bytes()
    folder = Path(sounds._folder.name if sounds._folder else "")
    assert (folder / "join.wav").exists()
    sounds.close()
    assert not folder.exists()
    assert [] == notices


def test_a_failing_player_is_a_notice_once() -> None:
    """A player without a sound card fails a single time in the beader's sight."""
    notices: list[str] = []
    sounds = Sounds(
        player_program((sys.executable, "-c", "raise SystemExit('no sound card')")),
        on_notice=notices.append,
    )
    for cue in (Cue.TURN, Cue.ROW_END):
        sounds.play(cue)
        end = time.monotonic() + 50
        while sounds._running is not None and sounds._running.busy and time.monotonic() < end:
            time.sleep(0.01)
    sounds.close()
    (notice,) = notices
    assert notice.endswith("fails (exit 1): no sound card")


def test_without_a_player_there_is_silence() -> None:
    """Nothing installed: playing does nothing, the speech alone has to do."""
    sounds = Sounds(player_program(platform="linux", which=lambda _: None))
    sounds.play(Cue.TURN)
    assert sounds._folder is None
    sounds.close()
