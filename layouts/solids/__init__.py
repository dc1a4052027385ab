"""Solids to print: closed bodies made of outlines with a thickness, in millimetres, z up from the bed.

`need_mesh_library` says whether they can be made here: the extra `solid` brings what makes them. It is loaded when a
solid is made, and never for a sheet of paper.
"""

from __future__ import annotations

from layouts.errors import MissingLibrary, Remedy


def need_mesh_library() -> None:
    """Refuses (`MissingLibrary`) where no solid can be made on this machine."""
    from importlib.util import find_spec

    missing = [name for name in ("manifold3d", "numpy") if find_spec(name) is None]
    if missing:
        raise MissingLibrary(
            f"making a solid needs {' and '.join(missing)}, which this machine lacks",
            remedies=(Remedy.INSTALL_SOLIDS,),
        )
