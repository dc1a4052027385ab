"""The printers of a bench folder: kept, found, forgotten; the user's words survive, and what is wrong is named."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from printing import Press, measured

from layouts.errors import FileRefused, OutOfRange, UnknownName
from layouts.files.folder import Folder
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading
from layouts.printing.printers import FILE, HEAD, Printers

OFFICE = measured(Press(across=0.985, skew_deg=0.2, spread_mm=0.05))
CARD = replace(OFFICE, tray="card 160 g", ink=(), diagonals=None, date="", paper="")
WRITTEN = """# mine

# the big one
[[printer]]
name = "office"   # on the landing
tray = "plain"
date = 2026-11-20
with = "rule"
across = { length = "150 mm", read = "149.6 mm" }
along = { length = "200 mm", read = "200.3 mm" }
note = "squeaks"

# the small one
[[printer]]
name = "kitchen"
tray = "plain"
with = "loupe"   # borrowed
across = { length = "6 in", read = "5.99 in" }
along = { length = "200 mm", read = "200.3 mm" }
# the end
"""
COMMENTS = ["# mine", "# the big one", "# on the landing", "# the small one", "# borrowed", "# the end"]


@pytest.fixture
def printers(tmp_path: Path) -> Printers:
    return Printers(folder=Folder(path=tmp_path))


def write(printers: Printers, words: str = WRITTEN) -> Path:
    path = printers.folder.path / FILE
    path.write_text(words, encoding="utf-8")
    return path


def kept_comments(printers: Printers) -> list[str]:
    text = (printers.folder.path / FILE).read_text(encoding="utf-8")
    return [comment for comment in COMMENTS if comment in text]


def test_a_folder_without_a_file_knows_no_printer(printers: Printers) -> None:
    assert printers.all() == ()
    assert printers.default() is None
    with pytest.raises(OutOfRange, match="none has been measured yet; measure a printer first"):
        printers.find("office")


def test_a_record_comes_back_as_it_was_put(printers: Printers) -> None:
    assert not printers.put(OFFICE)
    assert not printers.put(CARD)
    assert printers.all() == (OFFICE, CARD)


lengths = st.floats(0.01, 400).map(lambda length: round(length, 6))
names = st.text(st.characters(codec="latin-1", categories=("L", "N", "P", "S")), min_size=1, max_size=32)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(names, st.floats(0.951, 1.049), st.lists(lengths, max_size=3), st.booleans())
def test_any_record_comes_back_as_it_was_put(
    tmp_path: Path, name: str, factor: float, bars: list[float], landscape: bool
) -> None:
    try:
        record = Printer(
            name=name,
            tray=name[::-1],
            instrument="caliper",
            across=Reading(length_mm=150.0, read_mm=150.0 * factor),
            along=Reading(length_mm=200.0, read_mm=200.0 / factor),
            ink=tuple(InkPair(black_mm=bar, white_mm=bar, edge_mm=bar / 100 if bar > 1 else None) for bar in bars),
            landscape=landscape,
        )
    except ValueError:  # letters that the sheets cannot print
        return
    printers = Printers(folder=Folder(path=tmp_path))
    printers.put(record)
    assert printers.find(name, name[::-1]) == record
    printers.forget(name, name[::-1])
    assert printers.all() == ()


def test_a_second_record_of_a_name_and_stock_replaces_the_first(printers: Printers) -> None:
    printers.put(OFFICE)
    again = replace(OFFICE, name="Office", ink=(), date="2026-12-01")
    assert printers.put(again)
    assert printers.all() == (again,)


def test_the_default_printer_stays_so_when_it_is_measured_again(printers: Printers) -> None:
    printers.put(OFFICE)
    printers.put(CARD)
    assert printers.make_default("office", "card 160 g") == CARD
    again = replace(CARD, date="2026-12-01")
    printers.put(again)
    assert printers.default() == again
    printers.make_default("office", "plain 80 g")
    assert printers.default() == OFFICE
    printers.no_default()
    assert printers.default() is None


# --- the user's own words


def test_comments_notes_and_order_survive_every_change(printers: Printers) -> None:
    path = write(printers)
    printers.put(replace(OFFICE, tray="plain"))
    printers.put(CARD)
    printers.make_default("kitchen")
    assert kept_comments(printers) == COMMENTS
    assert 'note = "squeaks"' in path.read_text(encoding="utf-8")
    assert [printer.name for printer in printers.all()] == ["office", "kitchen", "office"]


@pytest.mark.parametrize(("name", "own"), [("office", "# on the landing"), ("kitchen", "# borrowed")])
def test_forgetting_takes_a_records_lines_and_no_other_comment(printers: Printers, name: str, own: str) -> None:
    write(printers)
    printers.forget(name)
    assert kept_comments(printers) == [comment for comment in COMMENTS if comment != own]
    assert len(printers.all()) == 1


def test_forgetting_the_last_one_leaves_a_file_to_begin_again_with(printers: Printers) -> None:
    write(printers)
    printers.forget("office")
    printers.forget("kitchen")
    assert printers.all() == ()
    printers.put(OFFICE)
    assert printers.all() == (OFFICE,)


def test_a_new_file_says_what_it_is(printers: Printers) -> None:
    printers.put(OFFICE)
    assert (printers.folder.path / FILE).read_text(encoding="utf-8").startswith(HEAD)


def test_lengths_by_hand_may_be_in_inches(printers: Printers) -> None:
    write(printers)
    assert printers.find("kitchen").across == Reading(length_mm=152.4, read_mm=152.146)


# --- finding


def test_a_name_finds_its_only_record_whatever_the_stock(printers: Printers) -> None:
    printers.put(OFFICE)
    assert printers.find("OFFICE") == printers.find("office", "card") == OFFICE


def test_several_stocks_are_told_apart_by_name(printers: Printers) -> None:
    printers.put(OFFICE)
    printers.put(CARD)
    assert printers.find("office", "Card  160 G") == CARD
    with pytest.raises(OutOfRange, match="none was named; choose the tray: plain 80 g or card 160 g"):
        printers.find("office")
    with pytest.raises(OutOfRange, match="measured on 2 papers, and not on 'film'"):
        printers.find("office", "film")


def test_an_unknown_name_is_refused_with_the_known_ones(printers: Printers) -> None:
    printers.put(OFFICE)
    with pytest.raises(UnknownName, match="no printer is called 'ofice'; known: office"):
        printers.find("ofice")


def test_only_the_stock_that_is_named_is_forgotten(printers: Printers) -> None:
    printers.put(OFFICE)
    with pytest.raises(UnknownName, match="no paper of office is called 'card'; known: plain 80 g"):
        printers.forget("office", "card")
    assert printers.all() == (OFFICE,)


# --- damaged files


@pytest.mark.parametrize(
    ("old", "new", "refusal"),
    [
        ('tray = "plain"\ndate', "date", "toml:4: this .*printer.* has no tray; add a line such as tray ="),
        ('name = "office"', "name = 7", "toml:5: name: 7 is not in quotes"),
        ('"149.6 mm"', '"149.6"', "toml:9: across: read: a length needs a unit"),
        (
            'read = "149.6 mm"',
            'raed = "149.6 mm"',
            "toml:9: across: a part is missing, or one is not known; write { length",
        ),
        ('"149.6 mm"', '"129.6 mm"', "toml:4: the two ways disagree: across 0.864"),
        ('"149.6 mm"', "149.6", 'toml:9: across: read: a length needs a unit; write "149.6 mm"'),
        ("2026-11-20", '"last week"', "toml:7: date: 'last week' is not a date"),
        ('with = "rule"', 'with = "ruler"', "toml:8: with: no instrument is called 'ruler'"),
        ("note =", "nota =", "toml:11: no key is called 'nota'"),
        ('note = "squeaks"', 'default = "yes"', "toml:11: default: 'yes' is neither yes nor no; write true or false"),
        ('note = "squeaks"', "ink = 3", "toml:11: ink: not a list of at most 20 pairs"),
        ('"kitchen"', '"Office"', "toml:14: a second record of Office on plain"),
        ("# mine", "x = 1", "toml:1: no key is called 'x' in the file; known: printer"),
        ("# mine", "[printer]", "toml:4: this key or table is here for a second time"),
    ],
)
def test_a_wrong_file_is_refused_with_its_line_and_left_alone(
    printers: Printers, old: str, new: str, refusal: str
) -> None:
    assert WRITTEN.count(old) >= 1
    words = WRITTEN.replace(old, new, 1)
    path = write(printers, words)
    with pytest.raises(FileRefused, match=refusal):
        printers.all()
    with pytest.raises(FileRefused, match=refusal):
        printers.put(OFFICE)
    assert path.read_text(encoding="utf-8") == words


def test_what_is_wrong_with_another_record_does_not_matter(printers: Printers) -> None:
    write(printers, WRITTEN.replace('"5.99 in"', '"5.99"'))
    assert printers.find("office").tray == "plain"
    assert printers.default() is None
    with pytest.raises(FileRefused, match="toml:18: across: read: a length needs a unit"):
        printers.find("kitchen")
    with pytest.raises(FileRefused, match="toml:18"):
        printers.find("another")


def test_a_damaged_default_is_never_passed_over(printers: Printers) -> None:
    write(printers, WRITTEN.replace('note = "squeaks"', "default = 1"))
    with pytest.raises(FileRefused, match="toml:11: default: 1 is neither yes nor no"):
        printers.default()


@pytest.mark.parametrize(("words", "is_refused"), [(b"= =", False), (b"\xff", False), (b"default = true\n= =", True)])
def test_a_file_that_cannot_be_read_matters_where_it_may_hold_a_default(
    printers: Printers, words: bytes, is_refused: bool
) -> None:
    (printers.folder.path / FILE).write_bytes(words)
    if is_refused:
        with pytest.raises(FileRefused):
            printers.default()
    else:
        assert printers.default() is None


def test_two_default_printers_are_refused(printers: Printers) -> None:
    words = WRITTEN.replace("# the small", "default = true\n\n# the small") + "default = true\n"
    write(printers, words)
    with pytest.raises(FileRefused, match="toml:23: a second default printer"):
        printers.default()


def test_printers_in_one_line_are_read_and_not_written(printers: Printers) -> None:
    row = '{ length = "150 mm", read = "150 mm" }'
    write(printers, f'printer = [{{ name = "a", tray = "b", with = "rule", across = {row}, along = {row} }}]\n')
    assert printers.find("a").across_factor == 1.0
    with pytest.raises(OutOfRange, match=r"write each as a table, \[\[printer\]\]"):
        printers.put(OFFICE)


def test_programs_that_measure_at_once_lose_no_record(printers: Printers) -> None:
    code = f"""
import sys
from dataclasses import replace
from pathlib import Path
from layouts.files.folder import Folder
from layouts.printing.printer import Printer, Reading
from layouts.printing.printers import Printers
line = Reading(length_mm=100.0, read_mm=100.0)
for number in range(8):
    name = f"p{{sys.argv[1]}}-{{number}}"
    record = Printer(name=name, tray="plain", instrument="rule", across=line, along=line)
    Printers(folder=Folder(path=Path({str(printers.folder.path)!r}))).put(record)
"""
    programs = [subprocess.Popen([sys.executable, "-c", code, str(number)]) for number in range(3)]
    assert [program.wait() for program in programs] == [0, 0, 0]
    assert sorted(p.name for p in printers.all()) == sorted(f"p{a}-{b}" for a in range(3) for b in range(8))


def test_the_diagonals_come_back_with_their_sides(printers: Printers) -> None:
    printers.put(OFFICE)
    diagonals = printers.find("office").diagonals
    assert isinstance(diagonals, Diagonals)
    assert (diagonals.across_mm, diagonals.along_mm) == (150.0, 200.0)


def test_a_record_that_calls_what_lies_in_the_tray_stock_is_still_read(printers: Printers) -> None:
    path = write(printers, WRITTEN.replace("tray =", "stock ="))
    old = printers.find("office")
    assert old.tray == "plain"
    assert printers.put(old)
    assert len(printers.all()) == 2
    assert 'stock = "plain"\ndate' not in path.read_text(encoding="utf-8")
