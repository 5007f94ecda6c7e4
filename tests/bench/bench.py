"""How fast it all is, against baselines measured in the same run, in turn.

    python tests/bench/bench.py                  all of it, some minutes
    python tests/bench/bench.py --quick          that it runs, some 20 s; the figures mean little
    python tests/bench/bench.py --part compile   one part: screen, compile, refuse
    python tests/bench/bench.py --save           keep the figures in figures.json
    python tests/bench/bench.py --docs           write docs/speed.md from those that are kept

It is no test: it prints today's figures beside last time's, and people judge. A ratio is to the
part's first line, and holds on any machine.
"""

import argparse
import json
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# The project first, then the hands that its tests have.
sys.path[:0] = [str(ROOT), *(str(ROOT / "tests" / name) for name in ("", "app", "faults"))]

import compiling  # noqa: E402  the path comes first
import figures  # noqa: E402
import on_screen  # noqa: E402
import refusing  # noqa: E402

PARTS = {
    "screen": on_screen.measure,
    "compile": compiling.measure,
    "refuse": refusing.measure,
}


def main() -> None:
    """Measure, print, and keep what is to be kept."""
    arguments = argparse.ArgumentParser(description="How fast the tracker is.")
    arguments.add_argument("--quick", action="store_true", help="only see that it runs")
    arguments.add_argument("--part", choices=PARTS, action="append", help="only this part")
    arguments.add_argument("--save", action="store_true", help="keep the figures")
    arguments.add_argument("--docs", action="store_true", help="write docs/speed.md, then end")
    arguments.add_argument("--one", nargs=2, type=int, help=argparse.SUPPRESS)
    given = arguments.parse_args()
    if given.one:
        print(json.dumps(compiling.one(*given.one)))
    elif given.docs:
        write_docs()
    else:
        if given.quick and given.save:
            arguments.error("figures in a hurry are not kept")
        run(given.part or list(PARTS), quick=given.quick, save=given.save)


def run(parts: list[str], *, quick: bool, save: bool) -> None:
    """Measure these parts and print a table."""
    last = figures.read()
    known = {} if last is None else {kept.key: kept for kept in last.figures}
    machine = figures.this_machine()
    for told in (("today", machine), ("last time", {} if last is None else last.machine)):
        print(f"{told[0]:<10}", ", ".join(f"{key} {value}" for key, value in told[1].items()))
    print(figures.HEAD)
    kept = {name: [f for f in known.values() if _part_of(f, name)] for name in PARTS}
    for name in parts:
        measured: list[figures.Figure] = []
        for figure in PARTS[name](quick=quick):
            if not measured or figure.part != measured[-1].part:
                print(figure.part)
            print(figures.told(figure, known.get(figure.key)), flush=True)
            measured.append(figure)
        kept[name] = measured
        if save:  # each part as it is done: all of them take minutes
            everything = tuple(f for name in PARTS for f in kept[name])
            figures.write(figures.Run(machine=machine, figures=everything))
    if save:
        print(f"kept in {figures.FILE.relative_to(ROOT)}; --docs writes the table from it")


def _part_of(figure: figures.Figure, name: str) -> bool:
    """Whether a figure kept last time is of that part of the bench."""
    if figure.part.startswith("to refuse"):
        return name == "refuse"
    compiled = ("to weave", "to prove", "to write", "to load", "to compile", "the largest")
    return name == (
        "compile" if figure.part.startswith((*compiled, "memory at its peak while")) else "screen"
    )


def write_docs() -> None:
    """Write the table for readers from the figures that are kept."""
    kept = figures.read()
    if kept is None:
        raise SystemExit("there are no figures yet: keep some with --save")
    figures.DOCS.parent.mkdir(exist_ok=True)
    figures.DOCS.write_text("\n".join(figures.markdown(kept)) + "\n", "utf-8")
    print(f"written to {figures.DOCS.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
