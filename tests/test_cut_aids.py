"""Every aid for a laser or a knife: both files say the same, to the micrometre; and the geometry of each by hand."""

from __future__ import annotations

import html
import json
import math
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from cut_files import Read, read_dxf, read_svg, without_words
from numpy.typing import NDArray

from jigs.actions.cut import CutOutput, cut_aid
from jigs.guides.catalogue import Sheet, cut_aids, find_cut_aid
from jigs.guides.jobs import CutFrom
from jigs.guides.step_strip import step_width_mm
from layouts.cutting.board import Board, Layer
from layouts.cutting.gains import Gains
from layouts.cutting.laying import laid_out
from layouts.drawing.marks import Drawing
from layouts.drawing.outline import Closed
from layouts.drawing.part import parts
from layouts.errors import OutOfRange, QuantityRefused
from layouts.machines.machine import KNIFE
from layouts.render.dxf import write_dxf
from layouts.units import parse_length

Points = NDArray[np.float64]
Found = tuple[list[Read], list[Read], tuple[Path, ...]]  # of DXF, of SVG; the files
Files = Callable[[str, int], Found]

DAY = date(2026, 11, 25)
KERF_MM = 0.2
EXAMPLES = [(aid, number) for aid in cut_aids() for number in range(len(aid.cut_examples))]
SETUP = {"material", "material_thickness", "tool", "sheet", "kerf", "machine", "format", "margin", "gap"}


def written(
    tmp_path: Path, aid: Sheet, example: dict[str, object], kerf: str = f"{KERF_MM} mm", units: str = ""
) -> tuple[Path, ...]:
    """An example in both formats, and its notes."""
    fields = {key: value for key, value in example.items() if key not in SETUP}
    given = {key: str(example[key]) for key in ("material", "material_thickness", "tool", "sheet") if key in example}
    if given.get("tool") == KNIFE:
        kerf = ""
    output = CutOutput(out=f"{tmp_path}/", formats="dxf,svg", kerf=kerf, units=units, bench=tmp_path / "bench", **given)
    cut = cut_aid(aid.name, fields, output, DAY)  # type: ignore[arg-type]
    assert len(cut.sheets) == 1
    return cut.paths


def made(tmp_path: Path, aid: Sheet, example: dict[str, object], kerf: str = f"{KERF_MM} mm") -> Found:
    """An example written in both formats and read back; and its files."""
    paths = written(tmp_path, aid, example, kerf)
    dxf, svg, _ = paths
    return list(read_dxf(dxf.read_bytes())), list(read_svg(svg.read_bytes())), paths


def of(tmp_path: Path, name: str, kerf: str = "", **fields: object) -> list[Read]:
    dxf, _, _ = written(tmp_path, find_cut_aid(name), fields, kerf)
    return list(read_dxf(without_words(dxf.read_bytes())))


each_example = pytest.mark.parametrize(
    ("aid", "number"), EXAMPLES, ids=[f"{aid.name}-{number}" for aid, number in EXAMPLES]
)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Files:
    """Every example in both formats, written and read when it is first asked for."""
    folder = tmp_path_factory.mktemp("aids")

    @cache
    def example(name: str, number: int) -> Found:
        aid = find_cut_aid(name)
        return made(folder / f"{name}-{number}", aid, dict(aid.cut_examples[number]))

    return example


@each_example
def test_both_formats_say_the_same_to_a_micrometre(files: Files, aid: Sheet, number: int) -> None:
    dxf, svg, _ = files(aid.name, number)
    for kind in ("circle", "line"):
        one, other = ([read for read in found if read.kind == kind] for found in (dxf, svg))
        assert len(one) == len(other)
        assert [read.layer for read in one] == [read.layer for read in other]
        near = [0.002 if read.layer == "MARK" else 0.00001 for read in one]  # of letters each to a micrometre
        assert (abs(_figures(one) - _figures(other)).max(axis=1, initial=0) < near).all()
    radii = [{round(read.figures[2], 3) for read in found if read.kind == "arc"} for found in (dxf, svg)]
    assert radii[0] == radii[1]


@each_example
def test_nothing_is_cut_twice_or_out_of_the_sheet(files: Files, aid: Sheet, number: int) -> None:
    found, _, _ = files(aid.name, number)
    lines = Counter(
        frozenset(((round(x0, 3), round(y0, 3)), (round(x1, 3), round(y1, 3))))
        for read in found
        if read.kind == "line" and read.layer != "MARK"
        for x0, y0, x1, y1 in [read.figures]
    )
    assert not [line for line, count in lines.items() if count > 1]
    assert all(figure >= 4.8 for read in found if read.kind == "line" for figure in read.figures)


@each_example
def test_marks_come_first_and_cuts_last(files: Files, aid: Sheet, number: int) -> None:
    found, _, _ = files(aid.name, number)
    layers = [read.layer for read in found]
    assert layers == sorted(layers, key=["MARK", "ENGRAVE", "CUT"].index)


@each_example
def test_what_lies_in_an_outline_is_cut_before_it(files: Files, aid: Sheet, number: int) -> None:
    found, _, _ = files(aid.name, number)
    boxes = [_box(loop) for loop in _loops([read for read in found if read.layer == "CUT"])]
    assert len(boxes) >= 2 or aid.name == "step-strip"
    for place, (left, foot, right, top) in enumerate(boxes):
        for x0, y0, x1, y1 in boxes[:place]:
            assert not (x0 < left and y0 < foot and x1 > right and y1 > top)  # nothing in a part that was cut out


def _loops(cuts: list[Read]) -> Iterator[list[Read]]:
    """The cuts as closed outlines, in the order in which they are cut."""
    loop = list[Read]()
    for read in cuts:
        loop.append(read)
        ends = Counter((round(x, 3), round(y, 3)) for each in loop for x, y in _ends(each))
        if all(count == 2 for count in ends.values()):
            yield loop
            loop = []
    assert not loop


def _ends(read: Read) -> tuple[tuple[float, float], ...]:
    at = {"circle": (), "line": (0, 2), "arc": (3, 5)}[read.kind]
    return tuple((read.figures[place], read.figures[place + 1]) for place in at)


def _box(loop: list[Read]) -> tuple[float, float, float, float]:
    points = [point for read in loop for point in (*_ends(read), *(_on(read) if read.kind != "line" else ()))]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@each_example
def test_each_file_is_the_same_twice(tmp_path: Path, files: Files, aid: Sheet, number: int) -> None:
    again = written(tmp_path, aid, dict(aid.cut_examples[number]))
    assert [path.read_bytes() for path in again] == [path.read_bytes() for path in files(aid.name, number)[2]]


@each_example
def test_the_beam_runs_half_a_kerf_off_the_material_everywhere(aid: Sheet, number: int) -> None:
    """The middle of every straight cut and points on every arc, as read back, against chords of what is wanted (C)."""
    example = dict(aid.cut_examples[number])
    fields = {key: value for key, value in example.items() if key not in SETUP}
    material = CutFrom(thickness_mm=parse_length(str(example.get("material_thickness", "3 mm"))))
    job = aid.make_cut(fields, material)  # type: ignore[arg-type]
    for blank in {blank.drawing.name: blank for blank in job.blanks}.values():
        one = replace(blank, count=1, may_turn=False)
        (sheet,) = laid_out([one], Board(width_mm=400, height_mm=400), Gains.of_kerf(KERF_MM))
        wanted = [np.array(outline.points(0.0002)) for outline in _outlines(blank.drawing)]
        moved = 5 + KERF_MM / 2
        bare = replace(sheet, strokes=tuple(sheet.on(Layer.CUT)))  # of letters a reader has much to read
        found = list(read_dxf(write_dxf(bare)))
        for at in (np.array(point) - moved for read in found for point in _on(read)):
            assert abs(min(_away(at, polygon) for polygon in wanted) - KERF_MM / 2) <= 0.002
            assert sum(_holds(polygon, at) for polygon in wanted) % 2 == 0  # never in the material itself


def _figures(found: list[Read]) -> Points:
    return np.array([read.figures for read in found]).reshape(len(found), -1 if found else 0)


def _outlines(drawing: Drawing) -> list[Closed]:
    return [outline for part in parts(drawing) for outline in (part.outline, *part.holes)]


def _on(read: Read) -> list[tuple[float, float]]:
    """Points on what was read that lie clear of corners."""
    if read.kind == "line":
        x0, y0, x1, y1 = read.figures
        return [((x0 + x1) / 2, (y0 + y1) / 2)] if math.hypot(x1 - x0, y1 - y0) > 1 else []
    x, y, r, *ends = read.figures
    if read.kind == "circle":
        return [(x + r * math.cos(angle), y + r * math.sin(angle)) for angle in np.arange(0.1, math.tau, 0.7)]
    start, end = (math.atan2(ends[place + 1] - y, ends[place] - x) for place in (0, 2))
    sweep = (end - start) % math.tau  # as an arc of the format runs
    angles = (start + sweep * share for share in (0.2, 0.5, 0.8))
    return [(x + r * math.cos(angle), y + r * math.sin(angle)) for angle in angles]


def _away(at: Points, polygon: Points) -> float:
    """From a point to the nearest place of a polygon."""
    ahead = np.roll(polygon, -1, axis=0) - polygon
    share = np.clip(((at - polygon) * ahead).sum(1) / np.maximum((ahead**2).sum(1), 1e-18), 0, 1)
    return float(np.hypot(*(polygon + share[:, None] * ahead - at).T).min())


def _holds(polygon: Points, at: Points) -> bool:
    """By the even-odd rule."""
    (x, y), (x0, y0), (x1, y1) = at, polygon.T, np.roll(polygon, -1, axis=0).T
    crosses = (y0 > y) != (y1 > y)
    with np.errstate(divide="ignore", invalid="ignore"):
        return bool((crosses & (x < x0 + (y - y0) / (y1 - y0) * (x1 - x0))).sum() % 2)


def _cuts(found: list[Read], kind: str) -> list[Read]:
    return [read for read in found if read.layer == "CUT" and read.kind == kind]


# --- each by hand


def test_the_bench_pin_has_its_vee_and_its_hole_in_one_opening(tmp_path: Path) -> None:
    """Mouth 22, apex 50 deep, hole of 6 at the apex: the arc is all of it but what lies between the vee's sides."""
    found = of(tmp_path, "bench-pin", layout=("vee-hole",), width="75 mm", length="120 mm")
    (arc,) = {tuple(round(figure, 4) for figure in read.figures[:3]) for read in _cuts(found, "arc")}
    assert arc[2] == 3.0
    slope = math.hypot(11, 50)
    runs = [_run(read) for read in _cuts(found, "line")]
    sides = [run for run in runs if math.hypot(*run) == pytest.approx(slope - 3, abs=1e-4)]
    assert [max(map(abs, side)) / min(map(abs, side)) for side in sides] == pytest.approx([50 / 11] * 2)


def _run(read: Read) -> tuple[float, float]:
    x0, y0, x1, y1 = read.figures
    return x1 - x0, y1 - y0


def test_the_drill_of_the_bench_pin_is_led_by_more_than_three_quarters_of_a_circle(tmp_path: Path) -> None:
    found = of(tmp_path, "bench-pin", layout=("vee-hole",), width="75 mm", length="120 mm")
    arcs = [read.figures for read in _cuts(found, "arc")]
    ends = Counter((round(x, 4), round(y, 4)) for figures in arcs for x, y in (figures[3:5], figures[5:7]))
    one, other = (point for point, count in ends.items() if count == 1)
    assert math.dist(one, other) == pytest.approx(2 * 3 * 11 / math.hypot(11, 50), abs=1e-3)
    sweeps = [_sweep(figures) for figures in arcs]
    assert sum(sweeps) == pytest.approx(360 - 2 * math.degrees(math.atan2(11, 50)), abs=1e-3)
    assert sum(sweeps) > 270


def _sweep(figures: tuple[float, ...]) -> float:
    x, y, _, x0, y0, x1, y1 = figures
    return math.degrees(math.atan2(y1 - y, x1 - x) - math.atan2(y0 - y, x0 - x)) % 360


def test_a_bench_pin_in_layers_is_at_least_as_thick_as_wanted(tmp_path: Path) -> None:
    fields = {"make": "layers", "thickness": "19 mm", "sheet": "600 mm x 300 mm"}
    found = of(tmp_path, "bench-pin", material_thickness="4 mm", **fields)
    assert len(_cuts(found, "circle")) == 2 * 5  # 19 / 4 is 4.75: five layers, two holes to bring them together
    assert {round(read.figures[2], 6) for read in _cuts(found, "circle")} == {1.5}


def test_the_front_piece_has_the_groove_as_a_notch_of_a_right_angle(tmp_path: Path) -> None:
    found = of(tmp_path, "bench-pin", coil_outside="8 mm", layout=("groove",), width="75 mm", length="120 mm")
    steep = [run for read in _cuts(found, "line") if abs(abs((run := _run(read))[0]) - abs(run[1])) < 1e-6]
    assert [math.hypot(*run) for run in steep] == pytest.approx([5.2 * math.sqrt(2)] * 2)


def test_a_collar_is_as_deep_as_its_rings_and_slides_on_the_thickest_place(tmp_path: Path) -> None:
    fields = {"diameter": "7.9 mm", "second_diameter": "8.0 mm", "wire": "1.2 mm", "material_thickness": "2.5 mm"}
    found = of(tmp_path, "dowel", **fields)
    sizes = Counter(round(2 * read.figures[2], 4) for read in _cuts(found, "circle"))
    assert sizes == {8.15: 4, 7.95: 1, 1.0: 1}  # four rings of 2.5 are the 10 mm asked for; the end disc of the mean


def test_a_collar_that_is_not_as_deep_as_asked_says_so(tmp_path: Path) -> None:
    output = CutOutput(out=f"{tmp_path}/", material_thickness="3 mm")
    cut = cut_aid("dowel", {"diameter": "8 mm", "wire": "1.2 mm", "from_end": "10 mm"}, output, DAY)
    assert cut.warnings[0] == "dowel 1: 3 rings of 3 mm set the hole 9 mm from the end, not 10 mm"


def test_a_step_is_a_rectangle_in_a_circle(tmp_path: Path) -> None:
    """3-4-5 and 5-12-13 (C): of a sheet of 3 mm a step for 5 is 4 wide; of 5 mm one for 13 is 12."""
    assert step_width_mm(5.0, 3.0) == pytest.approx(4.0)
    assert step_width_mm(13.0, 5.0) == pytest.approx(12.0)
    found = of(tmp_path, "step-strip", inside=("5 mm", "13 mm"), material_thickness="3 mm")
    upright = sorted(abs(_run(read)[1]) for read in _cuts(found, "line") if abs(_run(read)[0]) < 1e-9)
    flat = sorted(abs(_run(read)[0]) for read in _cuts(found, "line") if abs(_run(read)[1]) < 1e-9)
    widths = {4.0, math.sqrt(160)}
    narrow = [size for size in (*upright, *flat) if any(abs(size - width) < 1e-5 for width in widths)]
    assert narrow == pytest.approx([4.0])  # the end of the strip is the narrow step itself


@pytest.mark.parametrize(
    ("fields", "good_mm", "words"),
    [
        ({"outside": "5 mm..6 mm by 0.2 mm"}, None, ()),
        ({"outside": "5 mm..6 mm by 0.2 mm", "tolerance": "0.1 mm"}, None, ()),
        ({"outside": "5 mm..6 mm by 0.2 mm", "tolerance": "0.15 mm"}, None, ("makes their windows overlap",)),
        ({"outside": "5 mm..6 mm by 0.2 mm"}, 0.15, ()),
        ({"outside": "5 mm..6 mm by 0.1 mm"}, 0.15, ("steps of 0.10 mm, finer than the 0.15 mm",)),
        ({"outside": "5 mm", "tolerance": "0.1 mm"}, 0.15, ("a tolerance of 0.10 mm, finer than the 0.15 mm",)),
    ],
)
def test_a_plate_says_what_its_holes_cannot_tell_apart(
    fields: dict[str, str], good_mm: float | None, words: tuple[str, ...]
) -> None:
    """C: windows of 0.3 mm at sizes 0.2 mm apart share 0.1 mm; and what is finer than the machine is good for."""
    job = find_cut_aid("hole-plate").make_cut(fields, CutFrom(good_for_mm=lambda kind, size: good_mm))
    assert len(job.warnings) == len(words)
    assert all(said in warning for said, warning in zip(words, job.warnings, strict=True))


def test_the_strip_is_good_to_what_the_machine_and_the_thickness_leave() -> None:
    """w dw and t dt over D: 4 x 0.05 and 3 x 0.05 over 5 are 0.05 (C)."""
    material = CutFrom(material="acrylic", thickness_mm=3.0, good_for_mm=lambda kind, size: 0.05)
    job = find_cut_aid("step-strip").make_cut({"inside": "5 mm"}, material)
    assert any("±0.05 mm (k = 2)" in note for note in job.notes)
    job = find_cut_aid("step-strip").make_cut({"inside": "5 mm"}, CutFrom(thickness_mm=3.0))
    assert any("is not known" in note for note in job.notes)


@pytest.mark.parametrize(
    ("name", "fields", "words"),
    [
        ("step-strip", {}, "no inside is given"),
        ("step-strip", {"inside": "5 mm"}, "no thickness of the material"),
        (
            "step-strip",
            {"inside": "3.2 mm", "material_thickness": "3 mm"},
            r"too thick for rings of 3.2 mm inside; take one of 2.8",
        ),
        ("step-strip", {"inside": ("5 mm", "5 mm"), "material_thickness": "3 mm"}, "comes twice"),
        ("step-strip", {"inside": "1 mm..9 mm by 0.1 mm", "material_thickness": "0.3 mm"}, "81 steps on one strip"),
        ("bench-pin", {"make": "layers"}, "no thickness of the material"),
        ("bench-pin", {"make": "layers", "material_thickness": "0.2 mm"}, "95 layers of 0.2 mm"),
        ("bench-pin", {"width": "20 mm"}, "fingers narrower"),
        ("dowel", {"diameter": "8 mm", "wire": "1.2 mm"}, "no thickness of the material"),
        ("dowel", {"diameter": "8 mm", "wire": "1.2 mm", "material_thickness": "0.5 mm"}, "a collar of 20 rings"),
    ],
)
def test_what_an_aid_cannot_be_made_of_is_refused(
    tmp_path: Path, name: str, fields: dict[str, object], words: str
) -> None:
    with pytest.raises((QuantityRefused, OutOfRange), match=words):
        of(tmp_path / "out", name, **fields)
    assert not (tmp_path / "out").exists()


def test_a_mandrel_of_the_bench_is_found_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "bench").mkdir()
    (tmp_path / "bench" / "mandrels.toml").write_text(
        '["rod 7"]\nmeasured = "7.02 mm"\nkind = "wood"\n', encoding="utf-8"
    )
    found = of(tmp_path, "dowel", diameter="rod 7", wire="1 mm", material_thickness="2.5 mm")
    assert 7.17 in {round(2 * read.figures[2], 4) for read in _cuts(found, "circle")}


@each_example
def test_in_inches_the_sizes_are_the_same_and_the_words_have_both(
    tmp_path: Path, files: Files, aid: Sheet, number: int
) -> None:
    dxf, svg, _ = files(aid.name, number)
    other = written(tmp_path, aid, dict(aid.cut_examples[number]), units="inch")
    read = list(read_dxf(without_words(other[0].read_bytes()))), list(read_svg(other[1].read_bytes()))
    for one, same in zip((dxf, svg), read, strict=True):
        sizes = [sorted(round(found.figures[2], 5) for found in each if found.kind == "circle") for each in (one, same)]
        assert sizes[0] == sizes[1]
    assert " in [" in other[2].read_text(encoding="utf-8")


def test_chromium_measures_every_aid_as_the_dxf_has_it(tmp_path: Path, files: Files) -> None:
    """Chromium's own geometry, of one page with all of them: radii, lengths of paths and boxes of what is cut, mm."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        pytest.skip("no chromium here")
    names = [(aid.name, number) for aid, number in EXAMPLES]
    drawn = (files(*name)[2][1].read_text(encoding="utf-8") for name in names)
    body = "".join(svg.partition("?>")[2] for svg in drawn)
    script = """const out = [...document.querySelectorAll('svg')].map(svg => {
      const cut = svg.querySelector('#CUT'), unit = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
      const box = cut.getBBox();
      return {unit, box: [box.x, box.y, box.width, box.height],
        radii: [...cut.querySelectorAll('circle')].map(c => c.r.baseVal.value),
        lengths: [...cut.querySelectorAll('path')].map(p => p.getTotalLength())};
    }); document.body.innerHTML = ''; document.body.dataset.found = JSON.stringify(out);"""
    page = tmp_path / "page.html"
    page.write_text(f"<!doctype html><body>{body}<script>{script}</script></body>", encoding="utf-8")
    call = [chromium, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}"]
    call += ["--disable-extensions", "--disable-background-networking", "--no-first-run", "--disable-component-update"]
    done = subprocess.run([*call, "--dump-dom", page.as_uri()], capture_output=True, timeout=120, check=True)
    words = re.search(r'data-found="([^"]*)"', done.stdout.decode())
    assert words
    measured = json.loads(html.unescape(words[1]))
    for name, found in zip(names, measured, strict=True):
        dxf = [read for read in files(*name)[0] if read.layer == "CUT"]
        assert found["unit"] == pytest.approx(96 / 25.4, abs=1e-4)  # of CSS: a pixel is 1/96 in
        radii = [read.figures[2] for read in dxf if read.kind == "circle"]
        assert found["radii"] == pytest.approx(radii, abs=0.002)
        lengths = [math.hypot(*_run(read)) for read in dxf if read.kind == "line"]
        lengths += [read.figures[2] * math.radians(_sweep(read.figures)) for read in dxf if read.kind == "arc"]
        assert sum(found["lengths"]) == pytest.approx(sum(lengths), abs=0.002 * len(lengths))


def test_every_aid_says_what_it_is_for_and_how_it_is_typed() -> None:
    for aid in cut_aids():
        assert aid.summary
        assert aid.use
        assert aid.cut_examples
