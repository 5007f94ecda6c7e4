"""The licence of every dependency, from what is installed, into docs/supply-chain.md.

`python tests/licences.py` writes the table anew, `--check` only says whether it is as it should be.
Versions are left out: they stand in requirements.lock.
"""

import re
import sys
import tomllib
from collections.abc import Iterable
from importlib import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "supply-chain.md"
TABLE = re.compile(r"(?<=<!-- licences -->\n).*?(?=<!-- end -->)", re.DOTALL)
BUILD = ("hatchling", "editables")
"""What builds the package; an editable install needs the second one too."""
ELSEWHERE = {"colorama": "BSD-3-Clause"}
"""Needed on other platforms only, and so not installed here to be asked."""
# Where metadata give no SPDX expression: by their classifier.
BY_CLASSIFIER = {
    "MIT License": "MIT",
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
    "GNU Lesser General Public License v3 (LGPLv3)": "LGPL-3.0",
    "GNU Lesser General Public License v3 or later (LGPLv3+)": "LGPL-3.0-or-later",
}


def asked_for() -> dict[str, list[str]]:
    """What pyproject.toml asks for, by what it is for."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = project["optional-dependencies"]
    return {
        "running it": project["dependencies"],
        **{f"extra `{name}`": wanted for name, wanted in extras.items() if name != "test"},
        "tests": extras["test"],
        "building it": list(BUILD),
    }


def closure(wanted: Iterable[str]) -> set[str]:
    """The names of these requirements, and of all that they need on any platform."""
    found: set[str] = set()
    seen: set[tuple[str, frozenset[str]]] = set()
    to_do = [Requirement(line) for line in wanted]
    while to_do:
        requirement = to_do.pop()
        name = canonicalize_name(requirement.name)
        if (name, frozenset(requirement.extras)) in seen:
            continue
        seen.add((name, frozenset(requirement.extras)))
        found.add(name)
        if name in ELSEWHERE:
            continue
        for line in metadata.requires(name) or []:
            needed = Requirement(line)
            windows = {"sys_platform": "win32", "platform_system": "Windows", "os_name": "nt"}
            extras = [{"extra": extra, **there} for extra in (*requirement.extras, "")
                      for there in ({}, windows)]  # fmt: skip
            if needed.marker is None or any(map(needed.marker.evaluate, extras)):
                to_do.append(needed)
    return found


def licence(name: str) -> str:
    """The licence of an installed package as its metadata tell it."""
    if name in ELSEWHERE:
        return ELSEWHERE[name]
    about = metadata.metadata(name)
    if expression := about.get("License-Expression"):
        return str(expression)
    kinds = [line.rpartition(" :: ")[2] for line in about.get_all("Classifier") or []
             if line.startswith("License :: ") and not line.endswith("OSI Approved")]  # fmt: skip
    told = str(about.get("License") or "").strip().partition("\n")[0]
    if kinds:
        return " and ".join(BY_CLASSIFIER.get(kind, kind) for kind in kinds)
    return told or by_text(name)


def by_text(name: str) -> str:
    """The licence by the words of its text, where the metadata say nothing."""
    for file in metadata.files(name) or []:
        if "licen" in file.name.lower():
            words = " ".join(file.read_text("utf-8").split())
            if "Permission is hereby granted, free of charge, to any person" in words:
                return "MIT (by its text)"
    return "not told"


def table() -> str:
    """The lines of the page's table: each package where it is needed first."""
    lines = ["| package | licence | for |", "| --- | --- | --- |"]
    named: set[str] = set()
    for what, wanted in asked_for().items():
        new = closure(wanted) - named
        named |= new
        lines += [f"| {name} | {licence(name)} | {what} |" for name in sorted(new)]
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the table, or compare it; the exit status."""
    text = PAGE.read_text("utf-8")
    new = TABLE.sub(lambda _: table(), text)
    if "--check" not in sys.argv[1:]:
        PAGE.write_text(new, "utf-8")
    elif new != text:
        print(f"{PAGE.name} is not as it should be: run python tests/licences.py", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
