"""A body built up from the bed in layers: outlines with a thickness each, upright or slanting.

What is made so needs no cutting of one shape out of another, which takes ten times as long.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from layouts.errors import OutOfRange
from layouts.solids.body import Body, Point3, Triangle
from layouts.solids.outlines import Polygon, area_mm2
from layouts.solids.shape import triangulated

_HAIR_MM2 = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """From one height to another: its outlines, counter-clockwise around plastic and clockwise around holes.

    top: the outlines at its upper end where it slants, each with as many corners as that below it.
    """

    low_mm: float
    high_mm: float
    outlines: tuple[Polygon, ...]
    top: tuple[Polygon, ...] = ()

    def __post_init__(self) -> None:
        if not self.low_mm < self.high_mm:
            raise OutOfRange(f"a layer from {self.low_mm:g} to {self.high_mm:g} mm", "give it a thickness")
        if self.top and list(map(len, self.top)) != list(map(len, self.outlines)):
            raise OutOfRange("a layer whose ends have other corners", "give both as many")

    @property
    def upper(self) -> tuple[Polygon, ...]:
        """The outlines at its upper end."""
        return self.top or self.outlines


def stacked(name: str, layers: Sequence[Layer]) -> Body:
    """One layer on another as a body. Outlines that two layers share where they meet must be the same, and no other
    may touch them. Refuses (`OutOfRange`) a layer that does not rest on the one below it all over.
    """
    skin = _Skin()
    below: tuple[Polygon, ...] = ()
    height = layers[0].low_mm
    for layer in layers:
        if layer.low_mm != height:
            raise OutOfRange(f"{name} has a layer with nothing under it", "let each begin where the one below it ends")
        skin.cover(name, height, below, layer.outlines)
        skin.rise(layer)
        below, height = layer.upper, layer.high_mm
    skin.cover(name, height, below, ())
    skin.end_walls(height)
    return Body(name=name, points=tuple(skin.places), triangles=tuple(skin.triangles))


@dataclass(slots=True)
class _Skin:
    """The triangles of a body in the making, and the number of each corner."""

    places: dict[Point3, int] = field(default_factory=dict)
    triangles: list[Triangle] = field(default_factory=list)
    upright: dict[Polygon, float] = field(default_factory=dict)  # walls that still rise, and from which height

    def rise(self, layer: Layer) -> None:
        """The walls of a layer. An upright one that goes on from the layer below is one wall with it."""
        kept = {} if layer.top else {polygon: self.upright.pop(polygon, layer.low_mm) for polygon in layer.outlines}
        self.end_walls(layer.low_mm)
        self.upright = kept
        if layer.top:
            for low, high in zip(layer.outlines, layer.top, strict=True):
                self.wall(low, layer.low_mm, high, layer.high_mm)

    def end_walls(self, height: float) -> None:
        """Draws the walls that rose to a height."""
        for polygon, low_mm in self.upright.items():
            self.wall(polygon, low_mm, polygon, height)

    def _numbers(self, polygon: Polygon, height: float) -> list[int]:
        places = self.places
        return [places.setdefault((x, y, height), len(places)) for x, y in polygon]

    def wall(self, low: Polygon, low_mm: float, high: Polygon, high_mm: float) -> None:
        """The wall between an outline and the one above it."""
        feet, heads = self._numbers(low, low_mm), self._numbers(high, high_mm)
        foot_before, head_before = feet[-1], heads[-1]
        for foot, head in zip(feet, heads, strict=True):
            self.triangles += (foot_before, foot, head), (foot_before, head, head_before)
            foot_before, head_before = foot, head

    def cover(self, name: str, height: float, below: Sequence[Polygon], above: Sequence[Polygon]) -> None:
        """What shows where one layer ends and the next begins: the upper side of the one below, or of the bed."""
        shared = set(below) & set(above)
        faces = [polygon for polygon in below if polygon not in shared]
        turned = [polygon for polygon in above if polygon not in shared]
        # Where nothing is below, the first layer shows its own lower side.
        loops = [*faces, *(polygon[::-1] for polygon in turned)] if below else turned
        if not loops:
            return
        if sum(map(area_mm2, loops)) < _HAIR_MM2:
            raise OutOfRange(f"{name} has a layer that reaches out over the one below", "let it slant out")
        numbers = [number for polygon in loops for number in self._numbers(polygon, height)]
        for a, b, c in triangulated(loops):
            corners = numbers[a], numbers[b], numbers[c]
            self.triangles.append(corners if below else corners[::-1])


def chamfered(
    outer: Polygon, inner: Polygon, holes: Sequence[tuple[Polygon, Polygon]], low_mm: float, high_mm: float
) -> Layer:
    """A layer whose outline and holes slant: each from the first of its pair to the second; holes as outlines run."""
    return Layer(
        low_mm=low_mm,
        high_mm=high_mm,
        outlines=(outer, *(wide[::-1] for wide, _ in holes)),
        top=(inner, *(narrow[::-1] for _, narrow in holes)),
    )


def upright(
    low_mm: float, high_mm: float, outline: Polygon, holes: Iterator[Polygon] | Sequence[Polygon] = ()
) -> Layer:
    """A layer of one outline and the holes in it, each counter-clockwise."""
    return Layer(low_mm=low_mm, high_mm=high_mm, outlines=(outline, *(hole[::-1] for hole in holes)))
