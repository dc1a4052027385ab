"""How long the work takes, as ratios against a plain script that does the same.

    python tests/benchmark.py

Both sides of every ratio run in turn, on the same machine, and the median of the pairs counts. This is no test:
it prints figures beside the figures to reach.
"""

from __future__ import annotations

import gc
import io
import math
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

PAIRS = 11
BARE_CLICK = """
import click
@click.group(help='A group of commands.')
def cli(): pass
@cli.command(help='One command.')
def one(): pass
@cli.command(help='Another command.')
def two(): pass
cli()
"""
BARE_IMPORTS = "import click, reportlab.pdfgen.canvas"
COMMAND = [sys.executable, "-c", "from jigs.__main__ import main; main()"]  # as the installed script does


def seconds(run: Callable[[], object]) -> float:
    """Wall time of one call, with the garbage collected before it."""
    gc.collect()
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def ratio(ours: Callable[[], object], theirs: Callable[[], object], pairs: int = PAIRS) -> float:
    """Median of ours / theirs over pairs run in turn, after one run of each that does not count."""
    ours(), theirs()
    return statistics.median(seconds(ours) / seconds(theirs) for _ in range(pairs))


def whole(command: list[str]) -> Callable[[], object]:
    """A command as a whole process, its output thrown away."""
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return lambda: subprocess.run(command, check=True, capture_output=True, env=surroundings)


def report(what: str, figure: float, bound: float) -> None:
    """One line: the figure, the bound, and whether it is within it."""
    print(f"{what:<66} {figure:8.3f}   at most {bound:<6g} {'yes' if figure <= bound else 'NO'}")


# -- the card of 60 rings


def card(step: int = 0):  # type: ignore[no-untyped-def]
    """A ring card of 60 rings on A4: six wires by ten insides, composed. `step` makes each one different."""
    from jigs.guides.ring_card import ring_card
    from jigs.stock.wire import Wire
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper
    from layouts.pages.sheet import compose

    wires = [Wire(diameter_mm=d, given=f"{d:g} mm") for d in (0.8, 0.9, 1.0, 1.2, 1.4, 1.6)]
    insides = [3 + 0.5 * i + 0.001 * step for i in range(10)]
    return compose(ring_card(wires, insides), Setup(paper=find_paper("a4")))


def our_card(step: int = 0) -> bytes:
    """The card's PDF, from values to bytes."""
    from layouts.render.pdf import write_pdf

    return write_pdf(card(step))


def marks_by_kind():  # type: ignore[no-untyped-def]
    """The card's marks as plain tuples, so that the plain scripts have nothing to work out."""
    from layouts.drawing.marks import Annulus, Circle, Line, Polyline, Text
    from layouts.drawing.pens import PENS

    plain = []
    for mark in (mark for page in card() for mark in page.marks()):
        pen = PENS[mark.role]
        if isinstance(mark, Line):
            plain.append(("line", pen, (mark.x1, mark.y1, mark.x2, mark.y2)))
        elif isinstance(mark, Circle):
            plain.append(("disc" if mark.filled else "circle", pen, (mark.x, mark.y, mark.r)))
        elif isinstance(mark, Annulus):
            plain.append(("ring", pen, (mark.x, mark.y, mark.r_outer, mark.r_inner)))
        elif isinstance(mark, Polyline):
            plain.append(("patch" if mark.filled else "poly", pen, (mark.points, mark.closed)))
        elif isinstance(mark, Text):
            plain.append(("text", pen, (*mark.start, mark.angle_deg, mark.string, mark.size_mm, mark.bold)))
        else:
            raise TypeError(f"the plain scripts do not draw {mark}")
    return plain


def bare_reportlab(plain) -> bytes:  # type: ignore[no-untyped-def]  # noqa: C901 - a plain script, in one piece
    """What a person would write with reportlab alone."""
    from reportlab.lib.units import mm
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    from layouts.drawing.lettering import font_path

    names = {False: "Plain", True: "PlainBold"}
    if "Plain" not in pdfmetrics.getRegisteredFontNames():
        for bold, name in names.items():
            pdfmetrics.registerFont(TTFont(name, str(font_path(bold=bold))))
    out = io.BytesIO()
    c = Canvas(out, pagesize=(210 * mm, 297 * mm), invariant=1, initialFontName="Plain")
    for kind, pen, v in plain:
        if kind == "text":
            x, y, angle, string, size, bold = v
            c.setFillGray(pen.shade)
            c.setFont(names[bold], size * mm)
            if angle:
                c.saveState()
                c.translate(x * mm, y * mm)
                c.rotate(angle)
                c.drawString(0, 0, string)
                c.restoreState()
            else:
                c.drawString(x * mm, y * mm, string)
            continue
        filled = kind in ("disc", "ring", "patch")
        if filled:
            c.setFillGray(pen.shade)
        else:
            c.setLineWidth(pen.width_mm * mm)
            c.setStrokeGray(pen.shade)
        if kind == "line":
            c.line(*(n * mm for n in v))
        elif kind in ("disc", "circle"):
            c.circle(*(n * mm for n in v), stroke=not filled, fill=filled)
        else:
            path = c.beginPath()
            if kind == "ring":
                path.circle(v[0] * mm, v[1] * mm, v[2] * mm)
                path.circle(v[0] * mm, v[1] * mm, v[3] * mm)
            else:
                points, closed = v
                path.moveTo(points[0][0] * mm, points[0][1] * mm)
                for x, y in points[1:]:
                    path.lineTo(x * mm, y * mm)
                if closed:
                    path.close()
            c.drawPath(path, stroke=not filled, fill=filled, fillMode=0)
    c.save()
    return out.getvalue()


def bare_fpdf2(plain) -> bytes:  # type: ignore[no-untyped-def]
    """The same by fpdf2."""
    from fpdf import FPDF

    from layouts.drawing.lettering import font_path

    pdf = FPDF(unit="mm", format="a4")
    pdf.set_auto_page_break(False)
    for bold, style in ((False, ""), (True, "B")):
        pdf.add_font("Plain", style, str(font_path(bold=bold)))
    pdf.add_page()
    for kind, pen, v in plain:
        grey = round(255 * pen.shade)
        if kind == "text":
            x, y, angle, string, size, bold = v
            pdf.set_font("Plain", "B" if bold else "", size / 25.4 * 72)
            with pdf.rotation(angle, x, 297 - y):
                pdf.text(x, 297 - y, string)
            continue
        filled = kind in ("disc", "ring", "patch")
        pdf.set_fill_color(grey)
        pdf.set_draw_color(grey)
        pdf.set_line_width(pen.width_mm)
        style = "F" if filled else "D"
        if kind == "line":
            pdf.line(v[0], 297 - v[1], v[2], 297 - v[3])
        elif kind in ("disc", "circle"):
            pdf.circle(v[0], 297 - v[1], v[2], style=style)
        elif kind == "ring":
            pdf.circle(v[0], 297 - v[1], v[2], style="F")
            pdf.set_fill_color(255)
            pdf.circle(v[0], 297 - v[1], v[3], style="F")
        else:
            pdf.polyline([(x, 297 - y) for x, y in v[0]], polygon=v[1], style=style)
    return bytes(pdf.output())


def bare_matplotlib(plain) -> bytes:  # type: ignore[no-untyped-def]
    """The same by matplotlib."""
    import matplotlib as mpl

    mpl.use("pdf")
    from matplotlib import font_manager
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D
    from matplotlib.patches import Annulus, Circle, Polygon

    from layouts.drawing.lettering import font_path

    fonts = {bold: font_manager.FontProperties(fname=str(font_path(bold=bold))) for bold in (False, True)}
    figure = Figure(figsize=(210 / 25.4, 297 / 25.4))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 210), ylim=(0, 297))
    axes.set_axis_off()
    for kind, pen, v in plain:
        look = {"fill": kind in ("disc", "ring", "patch"), "lw": pen.width_mm / 25.4 * 72, "color": str(pen.shade)}
        if kind == "text":
            x, y, angle, string, size, bold = v
            axes.text(x, y, string, fontproperties=fonts[bold], size=size / 25.4 * 72, rotation=angle)
        elif kind == "line":
            axes.add_line(Line2D((v[0], v[2]), (v[1], v[3]), lw=look["lw"], color=look["color"]))
        elif kind in ("disc", "circle"):
            axes.add_patch(Circle(v[:2], v[2], **look))
        elif kind == "ring":
            axes.add_patch(Annulus(v[:2], v[2], v[2] - v[3], **look))
        else:
            axes.add_patch(Polygon(v[0], closed=v[1], **look))
    out = io.BytesIO()
    figure.savefig(out, format="pdf")
    return out.getvalue()


# -- the SVG of a card of 7 rings


def card_of_seven():  # type: ignore[no-untyped-def]
    """A ring card of one wire and 7 insides, composed."""
    from jigs.guides.ring_card import ring_card
    from jigs.stock.wire import Wire
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper
    from layouts.pages.sheet import compose

    wire = Wire(diameter_mm=1.0, given="1 mm")
    return compose(ring_card([wire], [3 + 0.5 * i for i in range(7)]), Setup(paper=find_paper("a4")))


def our_svg() -> bytes:
    """Its SVG, from values to bytes."""
    from layouts.render.svg import write_svg

    return write_svg(card_of_seven()[0])


def bare_svgwrite() -> bytes:
    """The same page with an element of svgwrite for each mark, and for each letter."""
    import svgwrite

    from layouts.drawing import lettering
    from layouts.drawing.marks import Annulus, Circle, Line, Text

    (page,) = card_of_seven()
    draw = svgwrite.Drawing(size=("210mm", "297mm"), viewBox="0 0 210 297", debug=False)
    known: set[str] = set()
    for mark in page.marks():
        if isinstance(mark, Line):
            draw.add(draw.line((mark.x1, 297 - mark.y1), (mark.x2, 297 - mark.y2), class_=str(mark.role)))
        elif isinstance(mark, Circle | Annulus):
            draw.add(draw.circle((mark.x, 297 - mark.y), mark.box[2] - mark.x, class_=str(mark.role)))
        elif isinstance(mark, Text):
            (x, y), scale = mark.start, mark.size_mm / lettering.UNITS_PER_EM
            group = draw.add(draw.g(transform=f"translate({x} {297 - y}) scale({scale})"))
            for letter, at in lettering.advances(mark.string, bold=mark.bold):
                name = f"{mark.bold:d}{ord(letter):x}"
                if name not in known:
                    known.add(name)
                    draw.defs.add(draw.path(lettering.outline(letter, bold=mark.bold), id=name))
                group.add(draw.use(f"#{name}", insert=(at, 0)))
        else:
            draw.add(draw.polygon([(x, 297 - y) for x, y in mark.points], class_=str(mark.role)))
    out = io.StringIO()
    draw.write(out)
    return out.getvalue().encode()


# -- many cards


def cards(count: int) -> float:
    """Seconds for so many different cards in one file."""
    from layouts.render.pdf import write_pdf

    return seconds(lambda: write_pdf([page for step in range(count) for page in card(step)]))


def copies(count: int) -> float:
    """Seconds for so many copies of one card in one file."""
    from layouts.pages.sheet import repeated
    from layouts.render.pdf import write_pdf

    return seconds(lambda: write_pdf(repeated(card(), count)))


def growth(counts: tuple[int, ...] = (12, 25, 50, 100)) -> float:
    """The exponent of time against the number of cards: the slope of the logarithms, least squares."""
    times = [statistics.median(cards(count) for _ in range(3)) for count in counts]
    return statistics.linear_regression([math.log(n) for n in counts], [math.log(t) for t in times]).slope


def peak_mib(count: int) -> float:
    """Peak memory in MiB of a process that writes so many different cards."""
    code = f"import sys; sys.path.insert(0, 'tests'); import benchmark as b; b.cards({count}); print(b.peak())"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    return float(done.stdout)


def peak() -> float:
    """This process's peak memory in MiB. Linux only: getrusage would give the parent's where that is larger."""
    status = Path("/proc/self/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith("VmHWM"))) / 1024


def longest_parse_ms() -> float:
    """The slowest of some texts of 64 characters, good and bad, through the length and wire parsers, in ms."""
    from jigs.stock.wire import parse_wire
    from layouts.errors import Refusal
    from layouts.units import parse_length

    def read(parse: Callable[[str], object], text: str) -> None:
        try:
            parse(text)
        except Refusal:
            return

    texts = ["1" * 61 + " mm", "9**" * 21 + "9", "1 " * 32, " " * 61 + "5mm", "1/" * 32, "0" * 60 + " AWG"]
    runs = [partial(read, parse, text) for parse in (parse_length, parse_wire) for text in texts]
    return 1000 * max(statistics.median(seconds(run) for _ in range(PAIRS)) for run in runs)


# -- what is cut, and solids


def asked(fields, example) -> dict[str, object]:  # type: ignore[no-untyped-def]
    """Of an example what the aid itself asks for: not the material, the format and the like."""
    return {field.key: example[field.key] for field in fields if field.key in example}


def slowest_aid_ms() -> float:
    """The slowest example of the aids to cut, laid out and written as DXF and SVG, in process: ms, the best of five."""
    from jigs.guides.catalogue import cut_aids
    from jigs.guides.jobs import CutFrom
    from layouts.cutting.board import Board
    from layouts.cutting.gains import Gains
    from layouts.cutting.laying import laid_out
    from layouts.render.cut_svg import write_cut_svg
    from layouts.render.dxf import write_dxf

    def once(aid, fields) -> None:  # type: ignore[no-untyped-def]
        blanks = aid.make_cut(fields, CutFrom(thickness_mm=3.0)).blanks
        for sheet in laid_out(blanks, Board(width_mm=600, height_mm=400), Gains.of_kerf(0.2)):
            write_dxf(sheet), write_cut_svg(sheet)

    runs = [partial(once, aid, asked(aid.fields_to_cut, one)) for aid in cut_aids() for one in aid.cut_examples]
    return 1000 * max(min(seconds(run) for _ in range(5)) for run in runs)


def slowest_solid_ms() -> float:
    """The slowest example of the aids as solids, made and written as 3MF, in process: ms, the best of five."""
    from jigs.guides.catalogue import solid_aids
    from layouts.render.three_mf import write_three_mf

    def once(aid, fields) -> None:  # type: ignore[no-untyped-def]
        write_three_mf(aid.make_solid(fields).solid())

    runs = [partial(once, aid, asked(aid.fields, one)) for aid in solid_aids() for one in aid.solid_examples]
    return 1000 * max(min(seconds(run) for _ in range(5)) for run in runs)


def main() -> None:
    """Prints every figure."""
    report(
        "help / bare click help",
        ratio(whole([*COMMAND, "--help"]), whole([sys.executable, "-c", BARE_CLICK, "--help"])),
        1.3,
    )
    with tempfile.TemporaryDirectory() as folder:
        insides = ["--inside", "3 mm..7.5 mm by 0.5 mm"]
        wires = [word for d in (0.8, 0.9, 1.0, 1.2, 1.4, 1.6) for word in ("--wire", f"{d} mm")]
        sheet = [*COMMAND, "sheet", "ring-card", *wires, *insides, "--out", str(Path(folder) / "card.pdf")]
        report(
            "ring card of 60, whole command / import click, reportlab",
            ratio(whole(sheet), whole([sys.executable, "-c", BARE_IMPORTS])),
            1.6,
        )
    plain = marks_by_kind()
    print(f"  the card has {len(plain)} marks")
    report(
        "drawing it, in process / bare reportlab, same marks", ratio(our_card, lambda: bare_reportlab(plain), 21), 1.2
    )
    report("its file / that script's file", len(our_card()) / len(bare_reportlab(plain)), 1.1)
    report("drawing it / the same by fpdf2", ratio(our_card, lambda: bare_fpdf2(plain)), 0.5)
    report("drawing it / the same by matplotlib", ratio(our_card, lambda: bare_matplotlib(plain), 7), 0.2)
    report("SVG of 7 rings, composed and written / svgwrite alone", ratio(our_svg, bare_svgwrite, 21), 0.35)
    report("that SVG, kB", len(our_svg()) / 1000, 130)
    report("100 different cards, growth exponent", growth(), 1.05)
    report("100 different cards, MiB over one card's", peak_mib(100) - peak_mib(1), 60)
    report("1,000 copies of one card / 1,000 different ones", copies(1000) / cards(1000), 0.05)
    report("a length or wire of 64 characters, ms", longest_parse_ms(), 1)
    report("the slowest aid to cut, DXF and SVG, ms", slowest_aid_ms(), 50)
    report("the slowest solid, 3MF, ms", slowest_solid_ms(), 50)


if __name__ == "__main__":
    main()
