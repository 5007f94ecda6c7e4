"""How weaving, proving, writing and loading grow with the band, in seconds of computing.

Each size runs in a process of its own, so that peak memory is that of the size. The baseline is
plain Python work of the same process: a list of as many tuples of four as there are passes, built
and summed.
"""

import gc
import json
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from figures import Figure, figure

SIZES = ((2, 100), (2, 5000), (10, 2000), (40, 2500))
"""Columns and rows; the last takes some 400,000 passes."""
QUICK = ((2, 100), (5, 400))
GOAL = 3.0
"""Seconds in which the largest should compile."""
PHASES = ("weave", "prove", "write", "load", "compile")


def measure(*, quick: bool) -> Iterator[Figure]:
    """All figures of the compiler."""
    found = [_in_a_process(columns, rows) for columns, rows in (QUICK if quick else SIZES)]
    smallest = found[0]
    for phase in PHASES:
        part = f"to {phase}, a pass"
        for band in found:
            name = f"{band['band']}, {band['passes']:,} passes"
            each = [1e6 * seconds / band["passes"] for seconds in band[phase]]
            plain = [1e6 * seconds / band["passes"] for seconds in band["plain"]]
            yield figure(part, f"{name}, against plain Python", "µs", each, plain)
        last = found[-1]
        grown = [1e6 * seconds / last["passes"] for seconds in last[phase]]
        first = [1e6 * seconds / smallest["passes"] for seconds in smallest[phase]]
        what = f"{last['band']} against {smallest['band']}"
        yield figure(part, what, "µs", grown, first, goal=1.2)
    last = found[-1]
    part = "the largest compiled whole"
    what = f"{last['passes']:,} passes"
    yield figure(part, what, "s", last["compile"], goal=None if quick else GOAL)
    rate = [last["passes"] / seconds for seconds in last["compile"]]
    yield Figure(part=part, what="passes a second", unit="", value=round(max(rate)))
    part = "memory at its peak while compiling"
    for band in found:
        yield Figure(part=part, what=band["band"], unit="MB", value=round(band["peak"], 1))


def _in_a_process(columns: int, rows: int) -> dict:
    command = [sys.executable, str(Path(__file__).with_name("bench.py")), "--one"]
    done = subprocess.run(
        [*command, str(columns), str(rows)], capture_output=True, text=True, check=True
    )
    found: dict = json.loads(done.stdout)
    return found


def one(columns: int, rows: int) -> dict:
    """Seconds of each phase, several times, and megabytes at the peak."""
    # After the arguments: what only hands the work to processes imports none of it.
    from weaving import STITCH, a_design, passes_of  # noqa: PLC0415

    from tracker.pattern.compiler import compile_design, prove_pattern  # noqa: PLC0415
    from tracker.pattern.reader import parse_pattern  # noqa: PLC0415
    from tracker.pattern.writer import write  # noqa: PLC0415

    # As the compiler does: the collector would search the same million tuples again and again.
    gc.disable()
    design = a_design(columns, rows)
    passes = len(passes_of(STITCH.weave(design, rows)))
    compiled = compile_design(design)
    # Before the other phases, which compiling does not take together.
    peak = _peak()
    work: dict[str, Callable[[], object]] = {
        "plain": lambda: sum(entry[0] for entry in [(i, "a", True, False) for i in range(passes)]),
        "weave": lambda: STITCH.weave(design, rows),
        "prove": lambda: prove_pattern(compiled.pattern),
        "write": lambda: write(compiled.pattern),
        "load": lambda: parse_pattern(compiled.text),
        "compile": lambda: compile_design(design),
    }
    runs = 7 if passes < 20_000 else 3
    taken: dict[str, list[float]] = {name: [] for name in work}
    for _ in range(runs):
        for name, phase in work.items():
            start = time.process_time()
            phase()
            taken[name].append(time.process_time() - start)
            gc.collect()
    return {"band": f"{columns} x {rows:,}", "passes": passes, "peak": peak, **taken}


def _peak() -> float:
    """The most memory that this process has held, MB."""
    if sys.platform == "linux":  # where the other way tells what the parent held, if that is more
        status = Path("/proc/self/status").read_text("utf-8")
        return int(status.partition("VmHWM:")[2].split()[0]) / 1e3
    # Kilobytes, and bytes on macOS.
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1e6 if sys.platform == "darwin" else 1e3)
