"""How long the worst files take until they are refused: seconds of computing, start included."""

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from figures import Figure, figure

GOAL = 2.0
SLOWEST = 6
"""Files that are told of, and measured again."""
ROOT = Path(__file__).parents[2]
QUICK = ("parcel: a snapshot", "design: nested", "pattern: the last row broken")


def measure(*, quick: bool) -> Iterator[Figure]:
    """All figures of refusing, the slowest first."""
    part = "to refuse a hostile file, computing"
    with tempfile.TemporaryDirectory() as folder:
        files = {n: f for n, f in _files(Path(folder)).items() if not quick or n in QUICK}
        taken = {name: [_refused(*file, Path(folder))] for name, file in files.items()}
        slowest = sorted(taken, key=lambda name: -taken[name][0])[:SLOWEST]
        for name in () if quick else slowest * 2:
            taken[name].append(_refused(*files[name], Path(folder)))
    for name in slowest:
        yield figure(part, name, "s", taken[name], goal=GOAL)


def _refused(command: str, ending: str, text: str, folder: Path) -> float:
    file = folder / f"hostile{ending}"
    file.write_text(text, "utf-8")
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, "-m", "tracker", command, str(file)],
        capture_output=True,
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT), "TRACKER_HOME": str(folder / "there")},
        check=False,
        timeout=300,
    )
    if done.returncode != 1 or b"Traceback" in done.stderr:
        raise AssertionError(f"{file.name} is not refused in words: {done.stderr[-500:]!r}")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _files(folder: Path) -> dict[str, tuple[str, str, str]]:
    """The command that each is given to, the ending of its name and its text, by what it is."""
    from hands import design_text  # noqa: PLC0415  the rest of the bench needs no test of faults
    from sealing import resealed  # noqa: PLC0415
    from test_exchanged import a_piece, bombs, keys  # noqa: PLC0415

    from tracker.exchange import export_piece  # noqa: PLC0415
    from tracker.loading import compile_text  # noqa: PLC0415
    from tracker.progress import exported  # noqa: PLC0415

    parcel = folder / "good.piece.toml"
    export_piece(a_piece(folder / "home"), str(parcel))
    made = bombs(exported.read(parcel.read_text("utf-8")))
    design = design_text(2, 5000)
    large = compile_text(design).text
    last = large.rindex("turn")
    return {
        **{f"parcel: {name}": ("import", ".piece.toml", text) for name, text in made.items()},
        "design: unknown keys": ("check", ".design.toml", design + "\n" + keys(230_000)),
        "design: nested": ("check", ".design.toml", "a = " + "[" * 100_000),
        "design: a long number": ("check", ".design.toml", f"a = {'9' * 200_000}"),
        "pattern: the last row broken": (
            "check",
            ".pattern.toml",
            resealed(f"{large[:last]}trun{large[last + 4 :]}"),
        ),
        "pattern: unknown keys": ("check", ".pattern.toml", resealed(large + keys(4_000_000))),
        "pattern: one long row": (
            "check",
            ".pattern.toml",
            resealed(large.replace(": ", ": " + "sS | " * 800_000, 1)),
        ),
    }
