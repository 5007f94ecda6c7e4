"""The figures of a run: how they are compared, kept and told."""

import json
import os
import platform
import statistics
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from importlib.metadata import version
from pathlib import Path

FILE = Path(__file__).with_name("figures.json")
DOCS = Path(__file__).parents[2] / "docs" / "speed.md"
FORMAT = 1
WORSE = 1.15
"""A figure is marked when it is so many times what it was last time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One thing that was measured, and what it is held against. Less is better."""

    part: str
    what: str
    unit: str
    value: float
    """The median of the repeats."""
    spread: float = 0.0
    """Half the distance between the quartiles, in the same unit."""
    ratio: float | None = None
    """How many times the baseline, which was measured in turn with it; None for a baseline."""
    goal: float | None = None
    """What the ratio, or the value where there is no ratio, should not exceed."""

    @property
    def key(self) -> str:
        """What it is known by from run to run."""
        return f"{self.part}: {self.what}"

    @property
    def judged(self) -> float:
        """The number that is held against the goal and against last time's."""
        return self.value if self.ratio is None else self.ratio

    def worse_than(self, before: "Figure | None") -> bool:
        """Whether it has got worse; a bare baseline only tells of the machine, and never has."""
        if before is None or (self.ratio is None and self.goal is None):
            return False
        return self.judged > WORSE * before.judged


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """All figures of a run, and the machine that they are of."""

    machine: dict[str, str]
    figures: tuple[Figure, ...]


def figure(
    part: str,
    what: str,
    unit: str,
    values: Sequence[float],
    base: Sequence[float] | None = None,
    *,
    goal: float | None = None,
) -> Figure:
    """A figure of repeated measurements, and of those of its baseline."""
    middle = statistics.median(values)
    low, _, high = statistics.quantiles(values, n=4) if len(values) > 1 else (middle,) * 3
    return Figure(
        part=part,
        what=what,
        unit=unit,
        value=round(middle, 4),
        spread=round((high - low) / 2, 4),
        ratio=None if base is None else round(middle / max(1e-9, statistics.median(base)), 3),
        goal=goal,
    )


def this_machine() -> dict[str, str]:
    """What a figure depends on beside the program."""
    return {
        "date": datetime.now(UTC).date().isoformat(),
        "system": f"{platform.system()} {platform.machine()}",
        "processor": _processor(),
        "cores": str(os.cpu_count()),
        "load before it began": f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "?",
        "Python": platform.python_version(),
        "Textual": version("textual"),
    }


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text("utf-8").splitlines()
    except OSError:
        return platform.processor() or "unknown"
    names = [line.partition(": ")[2] for line in lines if line.startswith("model name")]
    return names[0] if names else "unknown"


def read(path: Path = FILE) -> Run | None:
    """The figures that were kept last time, None if there are none."""
    try:
        kept = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return None
    figures = tuple(Figure(**values) for values in kept["figures"])
    return Run(machine=kept["machine"], figures=figures)


def write(run: Run, path: Path = FILE) -> None:
    """Keep the figures, one a line."""
    lines = ",\n    ".join(json.dumps(asdict(kept)) for kept in run.figures)
    head = f'  "format": {FORMAT},\n  "machine": {json.dumps(run.machine)},\n'
    text = f'{{\n{head}  "figures": [\n    {lines}\n  ]\n}}\n'
    path.write_text(text, "utf-8")


def number(value: float) -> str:
    """A number with three figures, or all before the point."""
    if value == 0:
        return "0"
    digits = max(0, 2 - len(str(int(abs(value)))) + 1) if abs(value) >= 1 else 3
    return f"{value:,.{digits}f}"


def told(figure: Figure, before: Figure | None) -> str:
    """A line of the table as it is printed."""
    spread = f"± {number(figure.spread)}" if figure.spread else ""
    ratio = f"{figure.ratio:.2f}x" if figure.ratio is not None else ""
    goal = f"{figure.goal:g}" if figure.goal is not None else ""
    missed = "" if figure.goal is None or figure.judged <= figure.goal else "misses its goal"
    last = ""
    if before is not None:
        last = f"{before.ratio:.2f}x" if before.ratio is not None else number(before.value)
    marks = ", ".join(
        mark for mark in (missed, "WORSE" if figure.worse_than(before) else "") if mark
    )
    value = f"{number(figure.value)} {figure.unit}"
    return f"  {figure.what:<46}{value:>18} {spread:<10}{ratio:>8}{goal:>7}{last:>10}  {marks}"


HEAD = f"  {'':<46}{'median':>18} {'spread':<10}{'ratio':>8}{'goal':>7}{'last time':>10}"


def markdown(run: Run) -> Iterator[str]:
    """The lines of `docs/speed.md`."""
    yield "# How fast it is"
    yield ""
    yield (
        "Made by `tests/bench/bench.py --docs` from the figures that were kept last "
        "(`tests/bench/figures.json`); do not edit it by hand."
    )
    yield ""
    yield (
        "A ratio holds on any machine: what it is held against was measured in the same run, in "
        "turn with it, each program in a process of its own on a pseudo-terminal. Milliseconds, "
        "seconds and megabytes are of this one machine:"
    )
    yield ""
    yield "| machine | |"
    yield "| --- | --- |"
    for name, value in run.machine.items():
        yield f"| {name} | {value} |"
    part = ""
    for kept in run.figures:
        if kept.part != part:
            part = kept.part
            yield ""
            yield f"## {part[0].upper()}{part[1:]}"
            yield ""
            yield "| measured | median | spread | ratio | goal |"
            yield "| --- | --- | --- | --- | --- |"
        ratio = "" if kept.ratio is None else f"{kept.ratio:.2f}"
        goal = "" if kept.goal is None else f"{kept.goal:g}"
        spread = number(kept.spread) if kept.spread else ""
        value = f"{number(kept.value)} {kept.unit}"
        yield f"| {kept.what} | {value} | {spread} | {ratio} | {goal} |"
