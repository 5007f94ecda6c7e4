"""What a piece takes, what is on hand of it, and what could be done where that is too little."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tracker.app.lines import on_any_ground
from tracker.app.look import Dress
from tracker.app.screens.asking import Ask
from tracker.app.widgets.notice import Notice
from tracker.loading import Loaded
from tracker.pattern.model import Pattern
from tracker.pattern.supplies import BeadSupply, Supplies, supplies_of, thread_lines
from tracker.problems import ProblemsError, shown
from tracker.progress.durable import SaveError
from tracker.progress.stock import Watched, stock_words, watched
from tracker.records import record
from tracker.settings.model import Buying
from tracker.settings.reader import spare_of
from tracker.settings.writer import keep_buying
from tracker.stocked import NotStarted, Stocked, counted_beads, package_sizes, remedy_words

KEYS = " Enter  on hand    s  spare    p  packages    Tab  scroll    "


class SuppliesScreen(Screen[bool]):
    """Beads, thread, needle and findings; beads on hand can be taken down."""

    CSS_PATH = "../forms.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("h,space,right", "count", "on hand", id="count_beads"),
        Binding("s", "spare", "spare", id="spare_share"),
        Binding("p", "packages", "packages", id="package_sizes"),
        Binding("f5", "start", "stitch it", id="start_stocked"),
        Binding("escape,q,i", "back", "back", id="supplies_back"),
    ]

    @record(frozen=False, slots=False)
    class Started(Message):
        """The beader wants to stitch it, with these beads on hand."""

        loaded: Loaded
        counts: Mapping[str, int]

    def __init__(
        self,
        piece: Stocked,
        dress: Dress,
        buying: Buying,
        settings_path: Path,
        *,
        name: str,
        source: Path,
        close: Callable[[], object] | None = None,
    ) -> None:
        """`source` is the design or pattern behind the piece; `close` lets go of it in the end."""
        super().__init__()
        self._piece = piece
        self._dress = dress
        self._buying = buying
        self._settings_path = settings_path
        self._called = name
        self._source = source
        self._close = close
        self._warned = False
        self._remedies: tuple[str, ...] = ()

    def compose(self) -> ComposeResult:
        """The title, what has to be said, the beads, the rest, the keys."""
        yield Static(
            Text(f" Supplies of {shown(self._called)}", self._dress.bar, no_wrap=True), id="where"
        )
        yield Notice(id="notice")
        yield OptionList(id="choices")
        with VerticalScroll(id="rest"):
            yield Static(id="told")
        start = "F5  stitch it    " if isinstance(self._piece, NotStarted) else ""
        foot = f"{KEYS}{start}q  back"
        yield Static(Text(foot, self._dress.foot, no_wrap=True), id="foot")

    def on_mount(self) -> None:
        """Show it all."""
        self._fill()
        self.query_one(OptionList).focus()
        self._seek()

    def on_unmount(self) -> None:
        """Let go of the piece, if it was taken up for this."""
        if self._close is not None:
            self._close()

    def say(self, texts: Iterable[str]) -> None:
        """Show notices, or take the last ones away if there are none."""
        self.query_one(Notice).say_all(map(shown, texts), self._dress, 4)

    # --- keys --------------------------------------------------------------------------------

    def action_back(self) -> None:
        """Back to where this was opened."""
        alarms = self._piece.alarms()
        if alarms and self._close is not None and not self._warned:
            self._warned = True
            self.say([*alarms, "q once more leaves without it."])
            return
        self.dismiss(True)

    def action_count(self) -> None:
        """Take down what is on hand of the kind that is chosen."""
        self.query_one(OptionList).action_select()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Ask how many there are of the kind that was chosen."""
        event.stop()
        if self._piece.read_only:
            self.say(["Reading only: this piece is open in another window."])
            return
        pattern = self._piece.pattern
        chosen = str(event.option_id)
        kinds = dict(pattern.kinds())
        kind = kinds[chosen]
        question = (
            f"How many {pattern.colour(kind.colour).name} {kind.shape.name} are there, beside "
            "those in the work? A number or grams: 61, 12.5 g; another colour by its letter: B 61."
        )

        def parse(text: str) -> tuple[str, int]:
            return counted_beads(text, chosen, kinds)

        self._ask(Ask(question, parse), self._count)

    def action_spare(self) -> None:
        """Ask for the spare share."""
        question = "Which share of beads to have beyond the count? Such as 10 % or 0.1."
        self._ask(
            Ask(question, spare_of, f"{self._buying.spare:.0%}"),
            lambda share: self._keep(replace(self._buying, spare=float(share))),
        )

    def action_packages(self) -> None:
        """Ask for the sizes of the packages."""
        question = "In which packages are beads sold? Such as: 10 g, 5 g, 250 beads. None: -"
        usual = ", ".join(self._buying.packages)
        self._ask(
            Ask(question, package_sizes, usual),
            lambda sizes: self._keep(replace(self._buying, packages=sizes)),
        )

    def action_start(self) -> None:
        """Stitch it, with what is on hand."""
        if isinstance(self._piece, NotStarted):
            counts = {counted.key: counted.beads for counted in self._piece.progress.on_hand}
            self.post_message(self.Started(self._piece.loaded, counts))

    def _count(self, counted: tuple[str, int]) -> None:
        try:
            self._piece.count(*counted)
        except SaveError as error:
            self.say([f"NOT SAVED: {error}."])
            return
        self._warned = False
        self.say(self._piece.alarms())
        self._fill()
        self._seek()

    def _keep(self, buying: Buying) -> None:
        self._buying = buying
        try:
            keep_buying(self._settings_path, buying)
            self.say([])
        except ProblemsError as error:
            self.say([*error.lines(), "It holds until you leave this screen."])
        self._fill()

    def _ask(self, screen: Ask[Any], then: Callable[[Any], None]) -> None:
        self.app.push_screen(screen, lambda answer: None if answer is None else then(answer))

    # --- showing -----------------------------------------------------------------------------

    def _fill(self) -> None:
        choices = self.query_one(OptionList)
        at = choices.highlighted
        choices.clear_options()
        supplies = supplies_of(self._piece.pattern, self._buying.spare)
        counted = {kind.key: kind for kind in watched(self._piece.pattern, self._piece.progress)}
        for (key, _), bead in zip(self._piece.pattern.kinds(), supplies.beads, strict=True):
            choices.add_option(Option(self._bead(bead, counted.get(key)), id=key))
        choices.highlighted = at or 0
        self.query_one("#told", Static).update(self._rest(supplies, list(counted.values())))

    def _bead(self, bead: BeadSupply, counted: Watched | None) -> Text:
        look = self._dress
        strong, quiet = on_any_ground(look.text(bold=True)), on_any_ground(look.quiet)
        colour = self._piece.pattern.colour(bead.colour)
        chip = look.chip(colour, bead.shape.kind)
        said = Text(" ", no_wrap=True, overflow="ellipsis")
        said.append(*chip)
        said.append(" " * (6 - len(chip[0])))
        said.append(f"{bead.count:>5} ", strong)
        said.append(f"{colour.name} {bead.shape.name}", on_any_ground(look.text()))
        said.append(f", {bead.with_spare} with {self._buying.spare:.0%} spare", quiet)
        said.append(f" ({bead.grams:.1f} g)", quiet)
        if counted is not None:
            said.append(f"  {counted.on_hand} on hand", strong)
            if counted.short:
                said.append("  ")
                said.append(f" {counted.short} short ", look.wrong)
        return said

    def _rest(self, supplies: Supplies, counted: list[Watched]) -> Text:
        look = self._dress
        label, plain = on_any_ground(look.label), on_any_ground(look.text())
        said = Text()
        pattern = self._piece.pattern
        for heading, lines in (
            ("On hand", [stock_words(pattern, kind) for kind in counted]),
            ("With that would go", list(self._remedies)),
            ("To buy", list(self._to_buy(supplies))),
            ("Thread", list(_thread(pattern, supplies))),
            ("Needle", [_needle(supplies)]),
            ("Findings", [f"{name}: {count}" for name, count in supplies.findings]),
        ):
            if lines:
                said.append(f"\n {heading}\n", label)
                for text in lines:
                    said.append(f"   {shown(text)}\n", plain)
        return said

    def _to_buy(self, supplies: Supplies) -> Iterator[str]:
        for bead in supplies.beads if self._buying.packages else ():
            bought = bead.purchase(self._buying.packages)
            name = self._piece.pattern.colour(bead.colour).name
            yield f"{name} {bead.shape.name}: {bought.words()}, {bought.over} over"

    # --- what would go -------------------------------------------------------------------------

    def _seek(self) -> None:
        """Look for changes that fit the stock, in a thread of their own."""
        self.run_worker(self._found(), group="remedies", exclusive=True)

    async def _found(self) -> None:
        pattern, progress = self._piece.pattern, self._piece.progress
        self._remedies = await asyncio.to_thread(remedy_words, pattern, progress, self._source)
        self._fill()


def _thread(pattern: Pattern, supplies: Supplies) -> Iterator[str]:
    cut = pattern.thread
    yield (
        f"{supplies.thread / 1000:.1f} m of {cut.diameter:.2f} mm, "
        f"{supplies.lengths} of {cut.length / 1000:g} m"
    )
    yield from thread_lines(supplies)


def _needle(supplies: Supplies) -> str:
    if supplies.needle is None:
        return "none known passes: take a finer thread or beads with larger holes"
    return f"size {supplies.needle.size} or finer"
