"""The sheet bench-pin: cuts, hole, fold and section measured from the marks by hand, the words, the refusals."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from golden import assert_drawn_as_golden
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from ink import crossed_words, overlapping_words, strokes, word_boxes

from jigs.cli.sheet import sheet_command
from jigs.guides.bench_pin import bench_pin
from jigs.guides.catalogue import find_sheet
from jigs.making.pin import LAYOUTS, Pin
from jigs.stock.blade import find_blade
from layouts.drawing.marks import Box, Circle, Drawing, Line, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.pages.page import Field, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose

command = sheet_command(find_sheet("bench-pin"))
A4 = Field(176, 205)
WOOD = {"length_mm": 120.0, "width_mm": 75.0, "thickness_mm": 19.0, "coil_outside_mm": 8.0}


def pin(**given: Any) -> Pin:
    return Pin(**{**WOOD, "blade": find_blade("2"), **given})


def drawings(made: Pin, field: Field = A4) -> list[Drawing]:
    return list(bench_pin(made).draw(field))


def cuts(drawing: Drawing) -> list[Box]:
    """The boxes of what is cut, from the left front corner of the wood."""
    boxes = [mark.box for mark in drawing.marks if getattr(mark, "role", None) is Role.CUT]
    x0, y0 = _front_left(drawing)
    return [(left - x0, low - y0, right - x0, high - y0) for left, low, right, high in boxes]


def _front_left(drawing: Drawing) -> tuple[float, float]:
    """Where the fold begins: the left end of the front edge."""
    folds = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.role is Role.FOLD and mark.y1 == mark.y2]
    edge = max(folds, key=lambda fold: abs(fold.x2 - fold.x1))
    return min(edge.x1, edge.x2), edge.y1


def has(drawing: Drawing, box: Box) -> bool:
    return any(box == pytest.approx(cut, abs=1e-9) for cut in cuts(drawing))


def words(made: Pin, field: Field = A4) -> list[str]:
    return [mark.string for drawing in drawings(made, field) for mark in drawing.marks if isinstance(mark, Text)]


# --- the template


def test_the_outline_is_the_wood() -> None:
    assert has(drawings(pin())[0], (0, 0, 75, 120))


def test_the_flap_is_as_wide_as_the_pin_and_as_tall_as_the_wood_is_thick() -> None:
    assert has(drawings(pin())[0], (0, -19, 75, 0))


def test_a_starter_kerf_is_a_line_10_mm_long_with_the_width_of_the_blade_beside_it() -> None:
    template = drawings(pin())[0]
    for x in (48.5 + 26.5 / 3, 48.5 + 53 / 3):  # thirds of the finger
        assert has(template, (x, 0, x, 10))
        assert has(template, (x, -19, x, 0))
    assert "0.36 wide" in words(pin())  # blade 2


def test_no_cut_but_the_wood_and_its_flaps_is_wider_than_its_line() -> None:
    closed = [m for m in drawings(pin())[0].marks if isinstance(m, Polyline) and m.closed and m.role is Role.CUT]
    assert closed == []


def test_the_groove_runs_front_to_back_and_its_slit_along_its_middle_line() -> None:
    """A coil of 8 mm: 10.4 mm wide about 13.25 mm, from the front to the clamp 50 mm from the back."""
    template = drawings(pin())[0]
    for lip in (13.25 - 5.2, 13.25 + 5.2):
        assert has(template, (lip, 0, lip, 70))
    assert has(template, (13.25, 0, 13.25, 12))
    assert has(template, (13.25, -19, 13.25, -5.2))  # below the groove on the front face


def test_the_vee_is_22_mm_at_the_mouth_and_its_hole_6_mm_at_50_mm_deep() -> None:
    template = drawings(pin())[0]
    x0, y0 = _front_left(template)
    (hole,) = (mark for mark in template.marks if isinstance(mark, Circle))
    assert (hole.x - x0, hole.y - y0, 2 * hole.r, hole.role) == (pytest.approx(37.5), pytest.approx(50), 6, Role.HOLE)
    lefts = sorted(box[0] for box in cuts(template) if box[1] == pytest.approx(-19) and box[3] > 40)
    rights = sorted(box[2] for box in cuts(template) if box[1] == pytest.approx(-19) and box[3] > 40)
    assert rights[1] - lefts[0] == pytest.approx(22)


def test_the_guide_lies_at_45_degrees_on_the_flap_of_the_side() -> None:
    template = drawings(pin())[0]
    x0, y0 = _front_left(template)
    leaning = [
        m for m in template.marks if isinstance(m, Line) and m.role is Role.FOLD and m.x1 != m.x2 != m.y1 != m.y2
    ]
    (guide,) = [m for m in leaning if m.y1 != m.y2]
    assert guide.box == pytest.approx((x0 - 19, y0, x0, y0 + 19))


def test_the_left_handed_template_is_the_mirror_image_of_the_right() -> None:
    right, left = (drawings(pin(hand=hand))[0] for hand in ("right", "left"))
    turned = sorted((75 - x2, y1, 75 - x1, y2) for x1, y1, x2, y2 in cuts(right))
    assert [pytest.approx(box, abs=1e-9) for box in turned] == sorted(cuts(left))


def test_words_are_not_mirrored() -> None:
    right, left = words(pin()), words(pin(hand="left"))
    assert {word.replace("left", "right") for word in left} == set(right)


def test_dimensions_stand_outside_the_cut_lines() -> None:
    template = drawings(pin())[0]
    x0, y0 = _front_left(template)
    figures = [m for m in template.marks if isinstance(m, Text) and m.string.replace(".", "").isdigit()]
    assert len(figures) > 10
    for figure in figures:
        left, low, right, high = figure.box
        assert right < x0 or left > x0 + 75 or high < y0 - 19 or low > y0 + 120


def test_the_clamp_zone_is_tinted_for_the_last_50_mm() -> None:
    template = drawings(pin())[0]
    x0, y0 = _front_left(template)
    tints = [m.box for m in template.marks if isinstance(m, Polyline) and m.filled and m.role is Role.TINT]
    assert any(box == pytest.approx((x0, y0 + 70, x0 + 75, y0 + 120)) for box in tints)


@pytest.mark.parametrize(
    ("layout", "kerfs", "holes"),
    [("vee", 0, 0), ("vee-hole", 0, 1), ("kerfs", 3, 0), ("groove", 1, 0), ("guide", 0, 0)],
)
def test_a_layout_alone_has_its_own_cuts_only(layout: str, kerfs: int, holes: int) -> None:
    template = drawings(pin(layouts=(layout,)))[0]
    assert kerfs == sum(
        0 < x < 75 and x == right and low == 0 and top < 20 for x, low, right, top in _rounded(template)
    )
    assert holes == sum(isinstance(m, Circle) for m in template.marks)


def _rounded(drawing: Drawing) -> list[Box]:
    return [tuple(round(value, 6) for value in box) for box in cuts(drawing)]  # type: ignore[misc]


# --- the section


def test_in_the_section_the_coil_is_tangent_to_a_right_angle() -> None:
    column = drawings(pin())[1]
    coil = next(mark for mark in column.marks if isinstance(mark, Circle) and mark.r == 4)
    wood = next(mark for mark in column.marks if isinstance(mark, Polyline) and mark.role is Role.CUT)
    near, bottom, far = wood.points[1:4]
    for lip in (near, far):
        assert math.degrees(math.atan2(lip[1] - bottom[1], abs(lip[0] - bottom[0]))) == pytest.approx(45)
        assert _from_line((coil.x, coil.y), bottom, lip) == pytest.approx(4)


def _from_line(point: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    area = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
    return abs(area) / math.hypot(b[0] - a[0], b[1] - a[1])


def test_the_section_says_how_far_the_coil_stands_proud() -> None:
    assert "The coil stands 4.46 mm proud, 56 % of it," in words(pin())


def test_without_a_groove_there_is_no_section() -> None:
    assert not [word for word in words(pin(layouts=("vee", "kerfs"))) if "Groove" in word or "coil Ø" in word]


def test_the_picture_of_the_saw_says_that_it_is_not_at_true_size() -> None:
    said = words(pin())
    assert "How the saw runs" in said
    assert any(word.startswith("Not at true size.") for word in said)
    assert "How the saw runs" not in words(pin(layouts=("vee",)))


# --- words and pages


def test_the_sheet_warns_of_saw_drill_dust_and_metal() -> None:
    said = " ".join((*bench_pin(pin()).cautions, *words(pin())))
    for wanted in ("EN 166", "EN 510", "dust mask", "local codes", "Wood inside the coil, never", "Clamp it"):
        assert wanted in said


def test_without_a_hole_nothing_is_said_of_drills() -> None:
    assert "drill" not in " ".join(bench_pin(pin(layouts=("vee",))).cautions)


def test_wood_thinner_than_19_mm_is_called_thin() -> None:
    assert "wood of 16 mm is thinner than the usual 19 mm and bends." in bench_pin(pin(thickness_mm=16.0)).cautions


def test_a_measured_kerf_is_called_measured() -> None:
    facts = dict(bench_pin(pin(blade=find_blade("2").with_kerf(0.38))).facts)
    assert facts["blade"] == "2, kerf 0.38 mm (measured)"


@pytest.mark.parametrize("paper", ["a4", "letter", "legal", "a3"])
@pytest.mark.parametrize("hand", ["left", "right"])
def test_the_usual_pin_takes_one_page(paper: str, hand: str) -> None:
    assert len(compose(bench_pin(pin(hand=hand)), Setup(paper=find_paper(paper)))) == 1


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("coil", [13.0, 16.0])
def test_the_pin_of_a_large_coil_takes_one_page_too(paper: str, hand: str, coil: float) -> None:
    assert len(compose(bench_pin(pin(hand=hand, coil_outside_mm=coil)), Setup(paper=find_paper(paper)))) == 1


def test_steps_too_long_for_the_column_stand_under_the_template() -> None:
    first, *_ = compose(
        bench_pin(pin(coil_outside_mm=26.0, thickness_mm=26.0, width_mm=110.0)), Setup(paper=find_paper("a4"))
    )
    assert first.placed[1].drawing.name == "the template of the bench pin"


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("landscape", [False, True])
def test_every_layout_goes_on_the_usual_papers_both_ways(layout: str, paper: str, landscape: bool) -> None:
    setup = Setup(paper=find_paper(paper, landscape=landscape))
    assert compose(bench_pin(pin(layouts=(layout,))), setup)


def test_on_a5_the_template_is_tiled_and_the_instructions_are_not() -> None:
    pages = compose(bench_pin(pin()), Setup(paper=find_paper("a5"), tile=True))
    said = [
        m.string for page in pages for placed in page.placed[1:] for m in placed.drawing.marks if isinstance(m, Text)
    ]
    for heading in ("Groove, from the front", "How the saw runs", "To make it", "To use it: how the saw runs"):
        assert said.count(heading) == 1


def test_on_a5_the_usual_pin_is_refused_with_both_sizes() -> None:
    with pytest.raises(DoesNotFit, match=r"the template of the bench pin needs 122.1 x 151.1 mm and the space is 114"):
        compose(bench_pin(pin()), Setup(paper=find_paper("a5")))


@settings(max_examples=60, deadline=None)
@given(
    length=st.floats(60, 140),
    width=st.floats(30, 130),
    thickness=st.floats(12, 30),
    coil=st.floats(2, 20),
    blade=st.sampled_from(["8/0", "2", "8"]),
    hand=st.sampled_from(["left", "right"]),
    layouts=st.sampled_from([("full",), *((name,) for name in LAYOUTS[1:]), ("kerfs", "groove", "guide")]),
)
def test_no_word_of_any_pin_touches_a_word_or_a_stroke(
    length: float, width: float, thickness: float, coil: float, blade: str, hand: str, layouts: tuple[str, ...]
) -> None:
    try:
        made = Pin(
            length_mm=round(length, 1),
            width_mm=round(width, 1),
            thickness_mm=round(thickness, 1),
            coil_outside_mm=round(coil, 1),
            blade=find_blade(blade),
            hand=hand,
            layouts=layouts,
        )
    except Refusal:
        assume(False)
        return
    for drawing in drawings(made, Field(270, 300)):
        boxes = word_boxes(drawing.marks)
        assert overlapping_words(boxes) == []
        assert crossed_words(boxes, strokes(drawing.marks)) == []


def test_the_marks_are_those_of_the_golden() -> None:
    (page,) = compose(bench_pin(pin()), Setup(paper=find_paper("a4")))
    assert_drawn_as_golden("bench_pin.txt", [placed.drawing for placed in page.placed[1:]])


# --- the command


def run(*arguments: str) -> str:
    result = CliRunner().invoke(command, arguments, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def test_the_command_writes_the_usual_pin_without_an_option(tmp_path: Path) -> None:
    assert "bench-pin.pdf" in run("--out", f"{tmp_path}/")
    assert (tmp_path / "bench-pin.pdf").read_bytes().startswith(b"%PDF-1.7")


def test_the_command_reads_inches_and_a_measured_kerf(tmp_path: Path) -> None:
    wood = ("--length", "5 in", "--width", '3"', "--thickness", "7/8 in", "--coil-outside", "3/8 in")
    run(*wood, "--blade", "2/0", "--kerf", "0.29 mm", "--hand", "left", "--format", "svg", "--out", f"{tmp_path}/")
    assert "kerf 0.29 mm (measured)" in (tmp_path / "bench-pin.svg").read_text(encoding="utf-8")


def test_the_command_gives_the_same_bytes_twice(tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        run("--out", str(tmp_path / name))
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_the_help_shows_what_you_get_three_examples_and_the_defaults() -> None:
    text = run("--help")
    assert "A template for a bench pin" in text
    assert text.count("coilwright sheet bench-pin") == 3
    assert "[default: 75 mm]" in text


@pytest.mark.parametrize(
    ("arguments", "kind", "words"),
    [
        (("--width", "75"), QuantityRefused, "needs a unit"),
        (("--blade", "12"), UnknownName, "no saw blade is called '12'"),
        (("--hand", "both"), UnknownName, "no hand is called 'both'"),
        (("--layout", "vees"), UnknownName, "no layout is called 'vees'"),
        (("--kerf", "0.1 mm"), OutOfRange, "a kerf of 0.1 mm is under the 0.34 mm of blade 2"),
        (("--width", "50 mm"), OutOfRange, "fingers narrower than 8 mm; make the pin 54.8 mm wide"),
        (("--paper", "a5"), DoesNotFit, "needs 122.1 x"),
    ],
)
def test_the_command_refuses_in_one_line(arguments: tuple[str, ...], kind: type[Refusal], words: str) -> None:
    with pytest.raises(kind, match=words):
        CliRunner().invoke(command, arguments, catch_exceptions=False)
