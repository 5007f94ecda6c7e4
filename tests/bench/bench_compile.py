"""How weaving, proving, writing and loading grow: `python tests/bench/bench_compile.py`.

Each size runs in a process of its own, so that peak memory is that of the size. Times are the
best of a few runs, given in microseconds a pass, and as a ratio to the smallest size: growth in
step with the band is a ratio of about 1. So that machines can be compared, each is also given
against a baseline of the same process: building a list of as many tuples of four, and summing it.
"""

import argparse
import gc
import json
import resource
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from weaving import STITCH, a_design, passes_of, proof_of  # noqa: E402  the path comes first

from tracker.pattern.compiler import compile_design  # noqa: E402  as above
from tracker.pattern.reader import parse_pattern  # noqa: E402  as above
from tracker.pattern.writer import write  # noqa: E402  as above

SIZES = [(2, 62), (2, 500), (5, 1000), (10, 2000), (20, 2000), (40, 2000)]
"""Columns and rows."""
PHASES = ("weave", "prove", "write", "load", "compile")
Measured = dict[str, float]


def best(work: Callable[[], object], runs: int) -> float:
    """The shortest of a few runs, s."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return min(times)


def baseline(passes: int) -> int:
    """Build as many tuples as there are passes, and add them up."""
    return sum(entry[0] for entry in [(i, "a", True, False) for i in range(passes)])


def measure(columns: int, rows: int) -> Measured:
    """Seconds a phase, megabytes at the peak."""
    # As the compiler does: the collector would search the same million tuples again and again.
    gc.disable()
    design = a_design(columns, rows)
    path = STITCH.weave(design, rows)
    passes = len(passes_of(path))
    compiled = compile_design(design)
    runs = 5 if passes < 20_000 else 2
    measured: Measured = {
        "passes": passes,
        "bytes": len(compiled.text),
        "baseline": best(lambda: baseline(passes), 5),
        "weave": best(lambda: STITCH.weave(design, rows), runs),
        "prove": best(lambda: proof_of(path, columns), runs),
        "write": best(lambda: write(compiled.pattern), runs),
        "load": best(lambda: parse_pattern(compiled.text), runs),
        "compile": best(lambda: compile_design(design), runs),
        # Before tracing, which takes memory of its own; kilobytes on Linux, bytes on macOS.
        "peak": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        / (1e6 if sys.platform == "darwin" else 1e3),
    }
    tracemalloc.start()
    parse_pattern(compiled.text)
    measured["load peak"] = tracemalloc.get_traced_memory()[1] / 1e6
    return measured


def in_a_process(columns: int, rows: int) -> Measured:
    """Measure a size in a process of its own."""
    command = [sys.executable, __file__, "--one", str(columns), str(rows)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    found: Measured = json.loads(done.stdout)
    return found


def table(sizes: list[tuple[int, int]]) -> None:
    """Print a line a size."""
    names = "".join(f"{name:>18}" for name in PHASES)
    print(f"{'band':>10} {'passes':>8}{names}   peak MB  load MB  file kB")
    print(" " * 19 + "  us/pass grow base" * len(PHASES))
    first: Measured | None = None
    for columns, rows in sizes:
        found = in_a_process(columns, rows)
        first = first or found
        passes = found["passes"]
        line = f"{f'{columns} x {rows}':>10} {passes:>8.0f}"
        for name in PHASES:
            each = found[name] / passes
            grown = each / (first[name] / first["passes"])
            line += f"{each * 1e6:>9.2f}{grown:>5.2f}{found[name] / found['baseline']:>4.0f}"
        line += f"{found['peak']:>10.0f}{found['load peak']:>9.1f}{found['bytes'] / 1000:>9.0f}"
        print(line, flush=True)
    print("grow: time a pass against the smallest size; base: times the baseline's time.")


def main() -> None:
    """Measure one size, or print the table of all."""
    arguments = argparse.ArgumentParser(description="Time the compiler on growing bands.")
    arguments.add_argument("--one", nargs=2, type=int, metavar=("COLUMNS", "ROWS"))
    arguments.add_argument("--quick", action="store_true", help="leave out the two largest")
    given = arguments.parse_args()
    if given.one:
        print(json.dumps(measure(*given.one)))
        return
    table(SIZES[:-2] if given.quick else SIZES)


if __name__ == "__main__":
    main()
