"""What was measured, kept in the bench folder by its name, with the instrument that it was read by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigs.actions.measure import Found
from jigs.bench import writing
from jigs.bench.bench import ALL_ROUND
from jigs.bench.reading import read_bench
from layouts.errors import Give, QuantityRefused, UnknownName, shown
from layouts.files.folder import Folder
from layouts.showing import show_mm, show_percent

_PLACES = 3  # a micrometre: finer than anything here reads


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Where a measured size is kept: the kind of thing, its name, the file."""

    kind: str
    name: str
    file: Path


def keep_mandrel(bench: Path, name: str, found: Found, *, kind: str = "", replace: bool = False) -> Kept:
    """Writes a measured rod as a mandrel; kind is steel, wood, plastic or household, steel for a new one.

    With `replace` the size of one that is there is written over, the rest of it stays. Refuses readings that
    contradict one another.
    """
    _refuse_contradictions(found)
    before = _before(bench, "mandrel", name.strip())
    before.pop("read", None)  # how another reading was made
    if found.shape and found.shape.oval:
        before["read"] = ALL_ROUND
    values = before | {"measured": show_mm(found.measured.mm, _PLACES)} | ({"kind": kind} if kind else {})
    return _keep(bench, "mandrel", name, values, found, replace=replace)


def keep_wire(
    bench: Path, name: str, found: Found, *, new: Mapping[str, str] | None = None, replace: bool = False
) -> Kept:
    """Writes a measured wire to a spool that is on the bench, whose rest stays; or a new spool.

    `new` says what is on a new one, by the keys of its file: metal, temper, length. Refuses a spool that is not there
    and of which that is not said, to write over a spool's wire without `replace`, and readings that contradict.
    """
    _refuse_contradictions(found)
    new = {key: words for key, words in (new or {}).items() if words}
    known = [spool.name for spool in read_bench(bench).spools]
    if name.strip() not in known and not ("metal" in new and "length" in new):
        if known and not new:
            raise UnknownName("spool", name, known)
        lacking = next(key for key in ("metal", "length") if key not in new)
        problem = f"no spool is called {shown(name)} yet"
        raise QuantityRefused(problem, "a new one needs its metal and its length", (Give(field=lacking),))
    values = new | _before(bench, "spool", name.strip()) | {"wire": show_mm(found.measured.mm, _PLACES)}
    return _keep(bench, "spool", name, values, found, replace=replace)


def _keep(bench: Path, kind: str, name: str, values: dict[str, Any], found: Found, *, replace: bool) -> Kept:
    measured = found.measured
    read: dict[str, Any] = {"with": measured.instrument, "readings": measured.readings}
    values.pop("scale", None)  # another reading's
    if measured.scale or read_bench(bench).instrument(measured.instrument).scale:
        read["scale"] = show_percent(measured.scale)  # its printer's, as it was then
    writing.add(Folder(path=bench), kind, name.strip(), {**values, **read}, replace=replace)
    return Kept(kind=kind, name=name.strip(), file=bench / writing.file_of(kind))


def _before(bench: Path, kind: str, name: str) -> dict[str, Any]:
    """What the file says of it now; nothing where it is not there."""
    read_bench(bench)  # a damaged file is refused by its line
    return dict(Folder(path=bench).read(writing.file_of(kind)).data.get(name, {}))


def _refuse_contradictions(found: Found) -> None:
    if pairs := found.measured.contradictions:
        names = f"{pairs[0].one} and {pairs[0].other}"
        raise QuantityRefused(f"{names} contradict one another", "measure again, and leave out the one that is wrong")
