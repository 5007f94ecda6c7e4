"""README and docs as the tests read them."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = {
    path.relative_to(ROOT).as_posix(): path.read_text("utf-8")
    for path in (*ROOT.glob("*.md"), *DOCS.glob("*.md"))
}
"""Every page by its place in the project."""
README = PAGES["README.md"]
DEVELOPERS = PAGES["DEVELOPERS.md"]
DESIGNS = PAGES["docs/designs.md"]
COMMANDS = PAGES["docs/commands.md"]
SCREEN = PAGES["docs/reading-the-screen.md"]
HANDS = PAGES["docs/hands-free.md"]
FORMATS = PAGES["docs/formats.md"]
CRAFT = PAGES["docs/craft.md"]


def blocks(text: str, language: str) -> list[str]:
    """The fenced blocks of one language."""
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.DOTALL | re.MULTILINE)


def anchors(text: str) -> set[str]:
    """The places that a link into a page may name, as the usual renderers make them."""
    plain = re.sub(r"^```.*?^```", "", text, flags=re.DOTALL | re.MULTILINE)
    headings = re.findall(r"^#+ (.+)$", plain, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in headings}


def first_cells(text: str, head: str) -> list[str]:
    """The words of the first column of the table whose head matches."""
    (rows,) = re.findall(rf"^\| {head} \|(?:.*\|)?\n((?:\|.*\n)+)", text, re.MULTILINE)
    return re.split(r"[|,`\s]+", " ".join(row.split(" | ")[0] for row in rows.splitlines()))
