"""The place in a piece: the step to do next. All functions are pure."""

from __future__ import annotations

from typing import Literal, NamedTuple

from tracker.progress.outline import Outline

By = Literal["step", "row"]


class Position(NamedTuple):
    """The step to do next, row and step counted from 0. The end is `(row_count, 0)`."""

    row: int
    step: int


START = Position(0, 0)


def end(outline: Outline) -> Position:
    """The place of a finished piece."""
    return Position(outline.row_count, 0)


def exists(outline: Outline, position: Position) -> bool:
    """Whether the pattern has this place; the end is one."""
    row, step = position
    if row == outline.row_count:
        return step == 0
    return 0 <= row < outline.row_count and 0 <= step < outline.steps_in(row)


def clamped(outline: Outline, position: Position) -> Position:
    """The place itself, or the nearest one that the pattern has."""
    if position.row < 0:
        return START
    if position.row >= outline.row_count:
        return end(outline)
    last = outline.steps_in(position.row) - 1
    return Position(position.row, min(max(position.step, 0), last))


def start_of_row(outline: Outline, row: int) -> Position:
    """The first step of `row` (from 0); the start or the end when there is no such row."""
    return clamped(outline, Position(row, 0))


def forward(outline: Outline, position: Position, by: By) -> Position:
    """The place after one more step, or at the start of the next row; at the end it stays."""
    row, step = clamped(outline, position)
    if by == "step" and row < outline.row_count and step + 1 < outline.steps_in(row):
        return Position(row, step + 1)
    return start_of_row(outline, row + 1)


def back(outline: Outline, position: Position, by: By) -> Position:
    """The place one step earlier; by row, this row's start or else the row before's."""
    row, step = clamped(outline, position)
    if step > 0:
        return Position(row, step - 1 if by == "step" else 0)
    if row == 0:
        return START
    return Position(row - 1, outline.steps_in(row - 1) - 1 if by == "step" else 0)
