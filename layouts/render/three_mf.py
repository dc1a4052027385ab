"""A 3MF file of a solid: a zip of XML, with its unit and its title. The standard library, and dates that stand still.

Source: 3MF Core Specification 1.3 (ISO/IEC 25422).
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from html import escape
from itertools import chain

from layouts.files.seal import PLACE
from layouts.solids.body import Body, Solid

_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip can hold
_TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"""
_RELATIONS = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="rel0" \
Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"""
_HEAD = """<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
"""


def write_three_mf(solid: Solid) -> bytes:
    """The file's bytes: an object for each body, where it lies on the bed. Coordinates to a nanometre."""
    parts = {
        "[Content_Types].xml": _TYPES,
        "_rels/.rels": _RELATIONS,
        "3D/3dmodel.model": "".join(_model(solid)),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        for name, text in parts.items():
            entry = zipfile.ZipInfo(name, _FIRST_DAY)
            entry.create_system = 3  # else it is that of the machine that writes
            package.writestr(entry, text.encode(), zipfile.ZIP_DEFLATED, compresslevel=1)
        package.comment = PLACE
    return out.getvalue()


def _model(solid: Solid) -> Iterator[str]:
    yield _HEAD
    yield f'<metadata name="Title">{escape(solid.title)}</metadata>\n'
    yield '<metadata name="Application">Coilwright</metadata>\n<resources>\n'
    for number, body in enumerate(solid.bodies, 1):
        yield f'<object id="{number}" type="model" name="{escape(body.name)}">\n<mesh>\n'
        yield from _mesh(body)
        yield "</mesh>\n</object>\n"
    yield "</resources>\n<build>\n"
    yield from (f'<item objectid="{number}"/>\n' for number in range(1, len(solid.bodies) + 1))
    yield "</build>\n</model>\n"


def _mesh(body: Body) -> Iterator[str]:
    # One format for all of them, which is twice as fast as one for each.
    yield "<vertices>\n"
    yield '<vertex x="%.6f" y="%.6f" z="%.6f"/>\n' * len(body.points) % tuple(chain.from_iterable(body.points))
    yield "</vertices>\n<triangles>\n"
    yield '<triangle v1="%d" v2="%d" v3="%d"/>\n' * len(body.triangles) % tuple(chain.from_iterable(body.triangles))
    yield "</triangles>\n"
