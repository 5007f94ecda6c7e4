"""The handout in a real browser: nothing is fetched, nothing fails, everything can be read.

In continuous integration install Debian's package chromium.
"""

import json
import re
import shutil
import subprocess
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from sealing import closed

from tracker.colours.srgb import contrast
from tracker.pattern.model import Pattern
from tracker.pictures.page import html_page

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no Chromium (Debian: chromium)")

QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-logging=stderr",
)

# What the page asked for, and each text with its ink and what it stands on. Letters of beads
# stand in the shapes' own definitions, on the face of their bead; numbers stand in rings.
LOOK = """<script>addEventListener("load", () => {
  const rgb = c => { const n = c.match(/[\\d.]+/g).map(Number);
    return n.length > 3 && n[3] === 0 ? "" :
      "#" + n.slice(0, 3).map(v => v.toString(16).padStart(2, "0")).join(""); };
  const ground = e => { for (; e; e = e.parentElement) {
      const c = rgb(getComputedStyle(e).backgroundColor); if (c) return c; } return "#ffffff"; };
  const texts = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement, text = walk.currentNode.data.trim();
    if (!text || ["SCRIPT", "STYLE", "title", "desc"].includes(e.tagName)) continue;
    const s = getComputedStyle(e);
    if (!(e instanceof SVGElement)) {
      texts.push([text, rgb(s.color), ground(e), parseFloat(s.fontSize)]); continue; }
    const ring = e.previousElementSibling;
    const face = e.closest("defs") ? e.parentElement.querySelector("rect")
      : ring && ring.tagName === "circle" ? ring : null;
    const on = face ? rgb(getComputedStyle(face).fill) : ground(e.closest("svg"));
    texts.push([text, rgb(s.fill), on, 0]);
  }
  const asked = performance.getEntriesByType("resource").map(r => r.name);
  const wide = document.documentElement.scrollWidth;
  const missing = [...document.querySelectorAll("use")]
    .filter(u => !document.getElementById(u.getAttribute("href").slice(1))).length;
  document.body.textContent = JSON.stringify({texts, asked, wide, missing});
});</script>"""


@pytest.fixture(scope="module")
def band() -> Pattern:
    """A closed band whose colours' names are markup, one colour very dark, one very light."""
    pattern = closed("wire guards", 3, 9).pattern
    hexes = ("#14213d", "#f8f4e3", "#6b6f76")
    colours = (
        replace(c, name='<b>&"', hex=hex_) for c, hex_ in zip(pattern.colours, hexes, strict=True)
    )
    return replace(pattern, name="<img src=x onerror=alert(1)>", colours=tuple(colours))


def opened(folder: Path, page: str) -> tuple[str, list[str]]:
    """The page as the browser has it after loading, and what it wrote to its console."""
    path = folder / "page.html"
    path.write_text(page, "utf-8")
    command = [BROWSER or "", *QUIET, f"--user-data-dir={folder / 'profile'}", "--dump-dom"]
    done = subprocess.run(
        [*command, path.as_uri()], capture_output=True, text=True, check=True, timeout=120
    )
    return done.stdout, [line for line in done.stderr.splitlines() if "CONSOLE" in line]


def unguarded(page: str) -> str:
    """The page without its policy and with a script that looks at it."""
    page, found = re.subn(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page)
    assert 1 == found
    return page.replace("</body>", LOOK + "</body>")


@pytest.mark.parametrize("large", [False, True])
def test_the_page_as_it_is(band: Pattern, tmp_path: Path, large: bool) -> None:
    """The browser's console stays empty, and the page stands as it was written."""
    page = html_page(band, large=large)
    dom, console = opened(tmp_path, page)
    assert [] == console
    assert "&lt;img src=x onerror=alert(1)&gt;" in dom
    assert "<img" not in dom
    assert page.count("<use") == dom.count("<use")


def test_the_policy_holds(band: Pattern, tmp_path: Path) -> None:
    """A picture and a script smuggled in are refused by the page's own policy."""
    smuggled = '<img src="https://example.org/a.png"><script>document.title = 1</script></body>'
    dom, console = opened(tmp_path, html_page(band).replace("</body>", smuggled))
    assert 2 == len([line for line in console if "Content Security Policy" in line])
    assert "<title>1</title>" not in dom


@pytest.mark.parametrize("large", [False, True])
def test_everything_can_be_read_and_nothing_is_asked_for(
    band: Pattern, tmp_path: Path, large: bool
) -> None:
    """All texts have 4.5 to 1 (WCAG 2.2 AA) on what they stand on; nothing was requested."""
    dom, console = opened(tmp_path, unguarded(html_page(band, large=large)))
    assert [] == console
    found = json.loads(unescape(dom[dom.index("<body>") + 6 : dom.index("</body>")]))
    assert [] == found["asked"]
    assert 0 == found["missing"]
    assert len(found["texts"]) > 100
    inks = {(ink, ground) for _, ink, ground, _ in found["texts"]}
    assert {("#ffffff", "#14213d"), ("#000000", "#f8f4e3")} <= inks
    assert [] == [pair for pair in inks if contrast(*pair) < 4.5]
    # In pixels, of which 96 make an inch: nothing is printed smaller than 8 points, and in
    # large print nothing smaller than 14.
    sizes = [size for *_, size in found["texts"] if size]
    assert min(sizes) >= (14 if large else 8) * 96 / 72
