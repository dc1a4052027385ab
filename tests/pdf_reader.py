"""PDF files read as what is painted, by a small interpreter of the tests' own, and by pdfium."""

from __future__ import annotations

import cmath
import io
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import pypdf
from readers import MM_PER_POINT, Matrix, Outline, Path, Sheet, Words, cubic, growth, times

_TOKEN = re.compile(rb"\((?:\\.|[^\\()])*\)|<<|>>|<[0-9A-Fa-f\s]*>|/[^\s/\[\]()<>]*|\[|\]|[^\s/\[\]()<>]+", re.DOTALL)
_NUMBER = re.compile(rb"[-+]?(\d+\.?\d*|\.\d+)")


@dataclass(slots=True)
class _State:
    matrix: Matrix
    stroke: float = 0.0
    fill: float = 0.0
    width: float = 1.0
    dash: tuple[float, ...] = ()
    font: str = ""
    size: float = 0.0


def read_pdf(data: bytes, pages: slice = slice(None)) -> list[Sheet]:
    """Every page of a PDF, or some: its paths and words in paint order, forms included."""
    return [_PdfPage(page).read() for page in pypdf.PdfReader(io.BytesIO(data)).pages[pages]]


@dataclass
class _PdfPage:
    page: pypdf.PageObject
    paths: list[Path] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    decoded: dict[int, tuple[str, dict[int, str]]] = field(default_factory=dict)

    def read(self) -> Sheet:
        left, bottom, right, top = (float(side) for side in self.page.mediabox)
        unit = MM_PER_POINT * float(self.page.get("/UserUnit", 1))
        to_mm = (unit, 0.0, 0.0, unit, -left * unit, -bottom * unit)
        contents = self.page.get_contents()
        if contents is not None:
            self._run(contents.get_data(), self.page["/Resources"], _State(matrix=to_mm))
        return Sheet(
            width=(right - left) * unit, height=(top - bottom) * unit, paths=tuple(self.paths), words=tuple(self.words)
        )

    def _run(self, code: bytes, resources: pypdf.generic.DictionaryObject, state: _State) -> None:
        _Interpreter(self, resources, state).run(code)

    def font(self, resources: pypdf.generic.DictionaryObject, name: str) -> tuple[str, dict[int, str]]:
        font = resources["/Font"][name]
        if id(font) not in self.decoded:
            table = _to_unicode(font["/ToUnicode"].get_data()) if "/ToUnicode" in font else {}
            self.decoded[id(font)] = str(font["/BaseFont"]), table
        return self.decoded[id(font)]


class _Interpreter:
    """Runs one content stream. An operator that it does not know is an error: nothing drawn is passed over."""

    def __init__(self, page: _PdfPage, resources: pypdf.generic.DictionaryObject, state: _State) -> None:
        self.page, self.resources, self.state = page, resources, state
        self.saved: list[_State] = []
        self.outline = Outline()
        self.text: Matrix = (1, 0, 0, 1, 0, 0)
        self.text_line: Matrix = self.text
        self.fresh = True  # the next words start at a place of their own
        self.leading = 0.0

    def run(self, code: bytes) -> None:
        operands: list[bytes] = []
        for token in _TOKEN.findall(code):
            if token not in _KNOWN and (token[:1] in b"(</[]" or token == b">>" or _NUMBER.fullmatch(token)):
                operands.append(token)
            else:
                self._do(token.decode("ascii"), operands)
                operands = []
        if self.saved:
            raise ValueError("q without Q")

    def _do(self, name: str, operands: list[bytes]) -> None:
        if name in _PAINTS:
            self._paint(*_PAINTS[name])
            return
        _OPERATORS[name](self, operands)

    def _paint(self, stroked: bool, filled: bool, even_odd: bool, close: bool) -> None:
        if close:
            self.outline.end(closed=True)
        state = self.state
        grown = growth(state.matrix)
        subpaths = self.outline.taken(state.matrix)
        if filled:
            self.page.paths.append(Path(subpaths=subpaths, filled=True, even_odd=even_odd, shade=state.fill))
        if stroked:
            dash = tuple(length * grown for length in state.dash)
            width = state.width * grown
            self.page.paths.append(
                Path(subpaths=subpaths, filled=False, even_odd=False, shade=state.stroke, width=width, dash=dash)
            )

    def save(self, _: list[bytes]) -> None:
        self.saved.append(replace(self.state))

    def restore(self, _: list[bytes]) -> None:
        self.state = self.saved.pop()

    def concat(self, ops: list[bytes]) -> None:
        self.state.matrix = times(self.state.matrix, _six(ops))

    def move(self, ops: list[bytes]) -> None:
        self.outline.move(_point(ops))

    def line(self, ops: list[bytes]) -> None:
        self.outline.line(_point(ops))

    def curve(self, ops: list[bytes]) -> None:
        self.outline.curve(cubic(self.outline.at, _point(ops[:2]), _point(ops[2:4]), _point(ops[4:])))

    def close(self, _: list[bytes]) -> None:
        self.outline.end(closed=True)

    def rectangle(self, ops: list[bytes]) -> None:
        x, y, width, height = map(float, ops)
        self.outline.move(complex(x, y))
        for u, v in ((x + width, y), (x + width, y + height), (x, y + height)):
            self.outline.line(complex(u, v))
        self.outline.end(closed=True)

    def line_width(self, ops: list[bytes]) -> None:
        self.state.width = float(ops[0])

    def dash(self, ops: list[bytes]) -> None:
        self.state.dash = tuple(float(op) for op in ops[1:-2])

    def stroke_shade(self, ops: list[bytes]) -> None:
        self.state.stroke = _grey(ops)

    def fill_shade(self, ops: list[bytes]) -> None:
        self.state.fill = _grey(ops)

    def form(self, ops: list[bytes]) -> None:
        form = self.resources["/XObject"][ops[0].decode("ascii")]
        if form["/Subtype"] != "/Form":
            raise ValueError("a picture in a sheet")
        given = [float(number) for number in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]
        matrix = times(self.state.matrix, (given[0], given[1], given[2], given[3], given[4], given[5]))
        self.page._run(form.get_data(), form.get("/Resources", self.resources), replace(self.state, matrix=matrix))

    def begin_text(self, _: list[bytes]) -> None:
        self.text = self.text_line = (1, 0, 0, 1, 0, 0)
        self.fresh = True

    def set_font(self, ops: list[bytes]) -> None:
        self.state.font, self.state.size = ops[0].decode("ascii"), float(ops[1])

    def set_leading(self, ops: list[bytes]) -> None:
        self.leading = float(ops[0])

    def text_matrix(self, ops: list[bytes]) -> None:
        self.text = self.text_line = _six(ops)
        self.fresh = True

    def text_move(self, ops: list[bytes]) -> None:
        self.text = self.text_line = times(self.text_line, (1, 0, 0, 1, float(ops[0]), float(ops[1])))
        self.fresh = True

    def next_line(self, _: list[bytes]) -> None:
        self.text_move([b"0", str(-self.leading).encode()])

    def show(self, ops: list[bytes]) -> None:
        font, table = self.page.font(self.resources, self.state.font)
        string = "".join(table[code] for op in ops if op[:1] in b"(<" for code in _codes(op))
        words = self.page.words
        if not self.fresh:  # the same line goes on, in another part of the font
            words[-1] = replace(words[-1], string=words[-1].string + string)
            return
        self.fresh = False
        matrix = times(self.state.matrix, self.text)
        along = complex(matrix[0], matrix[1])
        words.append(
            Words(
                string=string,
                start=complex(matrix[4], matrix[5]),
                size=self.state.size * abs(along),
                angle_deg=math.degrees(cmath.phase(along)),
                shade=self.state.fill,
                font=font,
            )
        )

    def nothing(self, _: list[bytes]) -> None:
        """Caps, joins and the like, which move no edge that counts."""

    def drop(self, _: list[bytes]) -> None:
        self.outline.taken(self.state.matrix)


_PAINTS = {  # stroked, filled, even-odd, closed first
    "S": (True, False, False, False),
    "s": (True, False, False, True),
    "f": (False, True, False, False),
    "f*": (False, True, True, False),
    "B": (True, True, False, False),
    "B*": (True, True, True, False),
}
_OPERATORS = {
    "q": _Interpreter.save,
    "Q": _Interpreter.restore,
    "cm": _Interpreter.concat,
    "m": _Interpreter.move,
    "l": _Interpreter.line,
    "c": _Interpreter.curve,
    "h": _Interpreter.close,
    "re": _Interpreter.rectangle,
    "w": _Interpreter.line_width,
    "d": _Interpreter.dash,
    "G": _Interpreter.stroke_shade,
    "RG": _Interpreter.stroke_shade,
    "g": _Interpreter.fill_shade,
    "rg": _Interpreter.fill_shade,
    "Do": _Interpreter.form,
    "BT": _Interpreter.begin_text,
    "Tf": _Interpreter.set_font,
    "TL": _Interpreter.set_leading,
    "Tm": _Interpreter.text_matrix,
    "Td": _Interpreter.text_move,
    "T*": _Interpreter.next_line,
    "Tj": _Interpreter.show,
    "TJ": _Interpreter.show,
    "ET": _Interpreter.nothing,
    "J": _Interpreter.nothing,
    "j": _Interpreter.nothing,
    "n": _Interpreter.drop,
    "BDC": _Interpreter.nothing,
    "BMC": _Interpreter.nothing,
    "EMC": _Interpreter.nothing,
}


_KNOWN = frozenset(name.encode() for name in (*_PAINTS, *_OPERATORS))


def _point(ops: list[bytes]) -> complex:
    x, y = ops
    return complex(float(x), float(y))


def _six(ops: list[bytes]) -> Matrix:
    a, b, c, d, e, f = map(float, ops)
    return a, b, c, d, e, f


def _grey(ops: list[bytes]) -> float:
    shades = {float(op) for op in ops}
    if len(shades) != 1:
        raise ValueError("a colour in a sheet of greys")
    return shades.pop()


_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.DOTALL)
_LETTERS = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}


def _codes(string: bytes) -> bytes:
    if string[:1] == b"<":
        return bytes.fromhex(string[1:-1].decode("ascii"))

    def plain(match: re.Match[bytes]) -> bytes:
        part = match[1]
        return bytes([int(part, 8) & 255]) if part[:1].isdigit() else _LETTERS.get(part, part)

    return _ESCAPE.sub(plain, string[1:-1])


def _to_unicode(cmap: bytes) -> dict[int, str]:
    """Code to characters, from the bfchar and bfrange sections of a ToUnicode map (ISO 32000, 9.10.3)."""
    table: dict[int, str] = {}
    for section in re.findall(rb"beginbfchar(.*?)endbfchar", cmap, re.DOTALL):
        for code, text in re.findall(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", section):
            table[int(code, 16)] = bytes.fromhex(text.decode()).decode("utf-16-be")
    for section in re.findall(rb"beginbfrange(.*?)endbfrange", cmap, re.DOTALL):
        for low, high, rest in re.findall(
            rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*(\[[^\]]*\]|<[0-9A-Fa-f]+>)", section
        ):
            texts = re.findall(rb"<([0-9A-Fa-f]+)>", rest)
            for step in range(int(high, 16) - int(low, 16) + 1):
                text = texts[step] if rest[:1] == b"[" else b"%04x" % (int(texts[0], 16) + step)
                table[int(low, 16) + step] = bytes.fromhex(text.decode()).decode("utf-16-be")
    return table


def read_pdf_by_pdfium(data: bytes) -> list[Sheet]:
    """Every page of a PDF as another library parses it: paths only. Its numbers are of single precision."""
    import pypdfium2

    document = pypdfium2.PdfDocument(data)
    try:
        return [_pdfium_page(page) for page in document]
    finally:
        document.close()


def _pdfium_page(page: object) -> Sheet:
    import pypdfium2

    assert isinstance(page, pypdfium2.PdfPage)
    to_mm = (MM_PER_POINT, 0.0, 0.0, MM_PER_POINT, 0.0, 0.0)
    raw = pypdfium2.raw
    objects = (raw.FPDFPage_GetObject(page.raw, i) for i in range(raw.FPDFPage_CountObjects(page.raw)))
    paths = tuple(path for thing in objects for path in _pdfium_paths(thing, to_mm))
    width, height = page.get_size()
    return Sheet(width=width * MM_PER_POINT, height=height * MM_PER_POINT, paths=paths, words=())


def _pdfium_paths(thing: object, outer: Matrix) -> Iterator[Path]:
    import ctypes

    from pypdfium2 import raw

    found = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(thing, found)
    matrix = times(outer, (found.a, found.b, found.c, found.d, found.e, found.f))
    kind = raw.FPDFPageObj_GetType(thing)
    if kind == raw.FPDF_PAGEOBJ_FORM:
        for i in range(raw.FPDFFormObj_CountObjects(thing)):
            yield from _pdfium_paths(raw.FPDFFormObj_GetObject(thing, i), matrix)
    elif kind == raw.FPDF_PAGEOBJ_PATH:
        mode, stroked, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
        raw.FPDFPath_GetDrawMode(thing, mode, stroked)
        raw.FPDFPageObj_GetStrokeWidth(thing, width)
        yield Path(
            subpaths=_pdfium_outline(thing).taken(matrix),
            filled=mode.value != raw.FPDF_FILLMODE_NONE,
            even_odd=mode.value == raw.FPDF_FILLMODE_ALTERNATE,
            shade=0.0,
            width=width.value * growth(matrix) if stroked.value else 0.0,
        )


def _pdfium_outline(thing: object) -> Outline:
    import ctypes

    from pypdfium2 import raw

    outline, handles = Outline(), []
    for i in range(raw.FPDFPath_CountSegments(thing)):
        segment = raw.FPDFPath_GetPathSegment(thing, i)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = complex(x.value, y.value)
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            outline.move(at)
        elif kind == raw.FPDF_SEGMENT_LINETO:
            outline.line(at)
        else:
            handles.append(at)
            if len(handles) == 3:
                outline.curve(cubic(outline.at, *handles))
                handles = []
        if raw.FPDFPathSegment_GetClose(segment):
            outline.end(closed=True)
    return outline
