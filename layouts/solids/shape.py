"""Shapes that are joined and cut: the one file that knows the mesh library."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy
from manifold3d import CrossSection, FillRule, Manifold, OpType, triangulate

from layouts.errors import OutOfRange
from layouts.solids.body import Body, Triangle
from layouts.solids.outlines import Polygon
from layouts.units import positive

PAST_MM = 1.0  # what is cut away reaches out of what it is cut from by so much: no skin is left


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A shape in space, mm, z up. `a + b` joins two, `a - b` cuts the second out of the first."""

    solid: Any

    def __add__(self, other: Shape) -> Shape:
        return Shape(solid=self.solid + other.solid)

    def __sub__(self, other: Shape) -> Shape:
        return Shape(solid=self.solid - other.solid)

    def moved(self, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Shape:
        """The shape somewhere else."""
        return Shape(solid=self.solid.translate((x, y, z)))

    def turned(self, about_x_deg: float = 0.0, about_y_deg: float = 0.0, about_z_deg: float = 0.0) -> Shape:
        """The shape turned about the axes, in this order, counter-clockwise as seen from their ends."""
        return Shape(solid=self.solid.rotate((about_x_deg, about_y_deg, about_z_deg)))

    def body(self, name: str) -> Body:
        """The shape as a body. Refuses (`OutOfRange`) one that is empty."""
        if self.solid.is_empty():
            raise OutOfRange(f"nothing is left of {name}", "give it other sizes")
        mesh = self.solid.to_mesh64()
        points = numpy.asarray(mesh.vert_properties, dtype=float)[:, :3] + 0.0  # no zero below zero
        return Body(
            name=name,
            points=tuple(map(tuple, points.tolist())),
            triangles=tuple(map(tuple, numpy.asarray(mesh.tri_verts).tolist())),
        )


def prism(outlines: Polygon | Sequence[Polygon], low_mm: float, high_mm: float, *, grows: float = 1.0) -> Shape:
    """An outline with a thickness, from one height to another; of several, those that run clockwise are holes.

    grows: the size of its upper end as a share of the lower, from the origin: for cones.
    """
    positive(high_mm - low_mm, "a thickness")
    several: Any = [outlines] if isinstance(outlines[0][0], float | int) else outlines
    section = CrossSection([numpy.asarray(polygon, dtype=float) for polygon in several], FillRule.Positive)
    solid = Manifold.extrude(section, high_mm - low_mm, scale_top=(grows, grows))
    return Shape(solid=solid.translate((0.0, 0.0, low_mm)))


def cone(polygon: Polygon, low_mm: float, high_mm: float, growth_mm: float) -> Shape:
    """A round polygon about the origin that grows by `growth_mm` of radius from one height to another."""
    x, y = polygon[0]
    return prism(polygon, low_mm, high_mm, grows=1.0 + growth_mm / math.hypot(x, y))


def along_y(section: Polygon, front_mm: float, back_mm: float) -> Shape:
    """A section across and up, (x, z), that runs from front to back."""
    return prism(section, -back_mm, -front_mm).turned(about_x_deg=90)


def engraved(polygons: Sequence[Polygon], face_mm: float, deep_mm: float) -> Shape:
    """What is cut out of a face that looks up, for words in it."""
    return prism(polygons, face_mm - deep_mm, face_mm + PAST_MM)


def joined(shapes: Iterable[Shape]) -> Shape:
    """All of them as one."""
    return Shape(solid=Manifold.batch_boolean([shape.solid for shape in shapes], OpType.Add))


def united(polygons: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Outlines that run into one another as outlines that do not; those that run clockwise are holes."""
    section = CrossSection([numpy.asarray(polygon, dtype=float) for polygon in polygons], FillRule.Positive)
    return tuple(tuple(map(tuple, polygon.tolist())) for polygon in section.to_polygons())


def triangulated(polygons: Sequence[Polygon]) -> list[Triangle]:
    """Triangles that fill polygons, by the place of each corner in all of them; those that run clockwise are holes."""
    found = triangulate([numpy.asarray(polygon, dtype=float) for polygon in polygons])
    return [tuple(corners) for corners in numpy.asarray(found).tolist()]
