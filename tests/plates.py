"""A plate to cut, and the command that cuts it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from click.testing import CliRunner, Result
from cut_files import read_dxf, read_svg

from jigs.cli import cli
from layouts.cutting.board import Board, CutSheet
from layouts.cutting.gains import Gains
from layouts.cutting.laying import Blank, laid_out
from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role

HERE = Path(__file__).parent.parent
BOARD = Board(width_mm=200, height_mm=120)


def plate() -> Draft:
    """40 x 30 with a hole of 6, a slot of 12 x 4, a line to engrave and a word."""
    draft = Draft()
    draft.rectangle(0, 0, 40, 30, Role.CUT)
    draft.circle(10, 10, 3, Role.CUT)
    draft.line(24, 8, 32, 8, Role.CUT)
    draft.arc(32, 10, 2, -90, 180, Role.CUT)
    draft.line(32, 12, 24, 12, Role.CUT)
    draft.arc(24, 10, 2, 90, 180, Role.CUT)
    draft.line(5, 20, 35, 20, Role.TICK)
    draft.text(5, 24, "keep", 2.5)
    return draft


def cut(gains: Gains, count: int = 1) -> CutSheet:
    blank = Blank(drawing=plate().drawing(40, 30, "plate"), count=count)
    return laid_out([blank], BOARD, gains, title="Plate", said=["Caution: sharp – hot"])[0]


def run(*args: str) -> Result:
    return CliRunner().invoke(cli, args, standalone_mode=False)


def circles_in(path: Path) -> list[float]:
    """The diameter of every circle of a file, in order of size."""
    read = read_dxf if path.suffix == ".dxf" else read_svg
    return sorted(2 * one.figures[2] for one in read(path.read_bytes()) if one.kind == "circle")


def length_of(figures: tuple[float, ...]) -> float:
    x0, y0, x1, y1 = figures[:4]
    return float(np.hypot(x1 - x0, y1 - y0))
