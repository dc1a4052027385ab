"""The drawing vocabulary: marks in millimetres, x to the right and y up, each with a role. A mark is one file here."""

from layouts.drawing.marks.annulus import Annulus
from layouts.drawing.marks.arc import Arc
from layouts.drawing.marks.circle import Circle
from layouts.drawing.marks.draft import Draft, Drawing
from layouts.drawing.marks.line import Line
from layouts.drawing.marks.mark import Box, Mark, Path, Point, union
from layouts.drawing.marks.polyline import Polyline
from layouts.drawing.marks.text import Anchor, Text

__all__ = [
    "Anchor",
    "Annulus",
    "Arc",
    "Box",
    "Circle",
    "Draft",
    "Drawing",
    "Line",
    "Mark",
    "Path",
    "Point",
    "Polyline",
    "Text",
    "union",
]
