"""A program that mutates good files and runs the commands on them, within little memory.

`python hostile.py KIND SEED COUNT FOLDER`: prints what went wrong, a line each, and ends with the
number of files that were let in. Mutations are those of whoever means harm: what a parser, a
terminal or a file system might obey, and the seals set right again half of the time.
"""

import contextlib
import io
import os
import random
import sys
import traceback
from pathlib import Path

from sealing import resealed

from tracker import cli

ROOT = Path(__file__).parents[2]
ODD = (
    "", "'''", '"""', "\n", "\x00", "\x1b[31m", "\x1b]0;owned\x07", "\\u001b[2J", "\\u202e",
    "\u202e", "\u200b", "\u2066", "\ufeff", "e" + "\u0301" * 60, "\ufdfd", "\U0001f9f5", "[red]",
    "[/]", "[link=file:///etc/passwd]", "../../../etc/passwd", "/etc/passwd", "%s%n{0}", "$(id)",
    "9" * 30, "9" * 5000, "-1", "1e999", "nan", "inf", "true", "[[", "]]", "{", "}", "=", "#", "\r",
    "1979-05-27T07:32:00Z", "'", '"', "0x7fffffffffffffff", ".a" * 8, " mm", "\\", "\ud800",
)  # fmt: skip


def mutated(chance: random.Random, text: str) -> bytes:
    """A good file with something done to it."""
    for _ in range(chance.randint(1, 4)):
        at, length = chance.randrange(len(text)), chance.choice([0, 0, 1, 3, 40, 400])
        new = chance.choice([chance.choice(ODD), text[at : at + length] * 3])
        text = text[:at] + new + text[at + length :]
    if "seal = " in text and "\ud800" not in text and chance.random() < 0.5:
        text = resealed(text)
    data = text.encode("utf-8", "surrogatepass")
    return data if chance.random() < 0.95 else b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n")


def faults(argv: list[str]) -> tuple[int, str]:
    """The status of a command, and what is wrong with how it went, "" for nothing."""
    out, err = io.StringIO(), io.StringIO()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = cli.main(argv)
    except BaseException:  # noqa: BLE001  whatever it is, it is to be told
        return 1, traceback.format_exc()
    said = out.getvalue() + err.getvalue()
    if status not in (0, 1):
        return status, f"status {status}"
    odd = [line for line in said.splitlines() if not line.isprintable()]
    return status, f"it said {odd[0]!r}" if odd else ""


def main(kind: str, seed: int, count: int, folder: Path) -> None:
    """Try so many files of a kind."""
    chance = random.Random(seed)  # noqa: S311  no secret
    home = Path(os.environ["TRACKER_HOME"])
    demos = sorted((ROOT / "patterns").glob(f"*.{kind}.toml"))
    file = folder / f"odd.{kind}.toml"
    commands = [["check", str(file)], ["supplies", str(file)], ["path", "--short", str(file)]]
    if kind in ("design", "pattern"):
        goods = [path.read_text("utf-8") for path in demos]
    elif kind == "settings":
        home.mkdir()
        file, commands = home / "settings.toml", [["settings"]]
        goods = [(folder / "good.toml").read_text("utf-8")]
    else:  # a file of a piece
        (piece,) = (home / "pieces").iterdir()
        file, commands = (
            piece / f"{kind}.toml",
            [["left", "Night watch"], ["export", "Night watch"]],
        )
        goods = [file.read_text("utf-8")]
    let_in = 0
    for number in range(count):
        file.write_bytes(mutated(chance, chance.choice(goods)))
        for argv in commands:
            status, fault = faults(argv)
            let_in += status == 0
            if fault:
                print(f"{kind} {seed} {number} {argv[0]}: {fault}")
    print(let_in)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))
