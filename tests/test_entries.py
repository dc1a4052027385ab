"""Reading TOML that people write: every fault at once, each with its line; clear limits."""

from __future__ import annotations

import os
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from orders import refusal_of

from layouts.errors import FileRefused, Refusal
from layouts.files.entries import Entries, entries_of, open_entries
from layouts.files.faults import FileFaulty
from layouts.files.source import MOST_BYTES
from layouts.files.values import in_text, list_of, number, one_of, percent, whole, words, yes_or_no
from layouts.units import parse_length

TEXT = '''# a comment = 1
title = "a # no comment"
long = """
fake = 1
[fake]
"""
"odd key" = [
  1, # [
  2,
]
[one]
a = 1
b.c = 2

[[many]]
x = { y = "]", z = 3 }
[[many]]
x = 'it\\'
[many.inner]
deep = true
'''


def test_every_key_has_the_line_it_stands_on() -> None:
    lines = entries_of(TEXT, "f.toml").book.lines
    assert {path: line for path, line in lines.items() if path} == {
        ("title",): 2,
        ("long",): 3,
        ("odd key",): 7,
        ("one",): 11,
        ("one", "a"): 12,
        ("one", "b"): 13,
        ("one", "b", "c"): 13,
        ("many",): 15,
        ("many", 0): 15,
        ("many", 0, "x"): 16,
        ("many", 1): 17,
        ("many", 1, "x"): 18,
        ("many", 1, "inner"): 19,
        ("many", "inner"): 19,
        ("many", 1, "inner", "deep"): 20,
    }


def faults(top: Entries) -> list[str]:
    with pytest.raises(FileFaulty) as refusal:
        top.book.finish()
    return [str(fault) for fault in refusal.value.faults]


def test_all_faults_are_kept_and_sorted_by_line() -> None:
    top = entries_of('size = "5"\ncount = 0\n[extra]\n', "f.toml")
    top.take("count", whole(1, 9), None)
    top.take("size", in_text(parse_length), None)
    top.need("name", words(), '"x"')
    top.close()
    assert faults(top) == [
        'f.toml:1: size: a length needs a unit; write "5 mm" or "5 in"',
        'f.toml:1: the file has no name; add a line such as name = "x"',
        "f.toml:2: count: 0 is out of range; write a whole number from 1 to 9",
        "f.toml:3: no key is called 'extra' in the file; known: name, count, size",
    ]


def test_several_faults_are_counted_in_the_one_line() -> None:
    top = entries_of("a = 1\nb = 2\n", "f.toml")
    top.close()
    with pytest.raises(FileFaulty, match=r"^f.toml:1: no key is called 'a' in the file; known:  \(and 1 more\)$"):
        top.book.finish()


def test_a_table_where_a_list_should_be_is_a_fault_and_the_other_way_round() -> None:
    top = entries_of("[ring]\n[[making]]\n", "f.toml")
    assert top.tables("ring", 3) == []
    assert top.table("making").data == {}
    assert faults(top) == [
        "f.toml:1: ring is not a list of tables; begin each with a line [[ring]]",
        "f.toml:2: making is not a table; begin it with a line [making]",
    ]


def test_too_many_tables_are_a_fault() -> None:
    top = entries_of("[[ring]]\n" * 4, "f.toml")
    assert top.tables("ring", 3) == []
    assert faults(top) == ["f.toml:1: 4 tables [[ring]] are too many; give at most 3"]


@pytest.mark.parametrize(
    ("read", "value", "message"),
    [
        (words(), 5, "5 is not in quotes"),
        (words(), "a\nb", "cannot stand on a sheet; write 1 to 60 printable"),
        (words(3), "abcd", "cannot stand on a sheet; write 1 to 3"),
        (whole(1, 9), 2.0, "2.0 is not a whole number"),
        (whole(1, 9), True, "true is not a whole number"),
        (whole(1, 9), 10**30, "a number of many digits is out of range"),
        (number(1, 9), "3", "'3' is not a number"),
        (number(1, 9), float("nan"), "nan is out of range"),
        (number(1, 9), float("inf"), "inf is out of range"),
        (one_of("a", "b"), "c", "no choice is called 'c'; known: a, b"),
        (yes_or_no, 1, "1 is neither yes nor no; write true or false"),
        (percent(100), 15, "15 is not a percentage"),
        (percent(100), "15", "'15' is not a percentage"),
        (percent(100), "101 %", '\'101 %\' is not a percentage; write one from "0 %" to "100 %"'),
        (list_of(whole(1, 9), 2), 5, "5 is not a list"),
        (list_of(whole(1, 9), 2), [1, 2, 3], "a list of 3 is not a list; write 1 to 2"),
    ],
)
def test_a_value_of_the_wrong_kind_is_refused(read: Any, value: Any, message: str) -> None:
    with pytest.raises(Refusal) as refusal:
        read(value)
    assert message in str(refusal.value)


def test_values_of_the_right_kind_are_read() -> None:
    assert percent(100)("12.5 %") == 0.125
    assert list_of(whole(1, 9), 2)([1, 2]) == (1, 2)
    assert number(0, 1)(1) == 1.0


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a = ", "f.toml:1: there is nothing after the equals sign"),
        ('a = 1\nb = "x', "f.toml:2: a quote is missing at the end; write b = "),
        ("a = 1\na = 2\n", "f.toml:2: this key or table is here for a second time"),
        ("a = " + "9" * 390, "is out of range"),
        ("[" * 399, "f.toml:1: "),
        ("\n" + "a" * 401, "f.toml:2: a line of 401 characters is too long; break it: at most 400 to a line"),
        ("a = [\n" + "[\n" * 5000, "f.toml:"),
    ],
)
def test_what_is_no_toml_is_refused_with_its_line(text: str, message: str) -> None:
    def read() -> None:
        top = entries_of(text, "f.toml")
        top.take("a", whole(1, 9), None)
        top.book.finish()

    assert message in refusal_of(read)


def test_a_byte_order_mark_and_windows_lines_are_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "f.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1\r\nb = 2\r\n")
    assert open_entries(path).data == {"a": 1, "b": 2}


def test_what_is_no_file_or_no_text_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="cannot be read: No such file"):
        open_entries(tmp_path / "none.toml")
    with pytest.raises(FileRefused, match="is not an ordinary file; name a TOML file"):
        open_entries(tmp_path)
    with pytest.raises(FileRefused, match="cannot be read"):
        open_entries(Path("nul\0byte"))
    path = tmp_path / "f.toml"
    path.write_bytes("a = 1\nb = 'ü'\n".encode("latin-1"))
    with pytest.raises(FileFaulty, match=r"f.toml:2: there is a byte here that is not UTF-8 text; save the file"):
        open_entries(path)


def test_a_file_of_ten_megabytes_meets_a_clear_limit_at_once(tmp_path: Path) -> None:
    path = tmp_path / "f.toml"
    path.write_text("[[ring]]\n" * 1_200_000)
    begun = time.process_time()
    with pytest.raises(FileRefused, match="is longer than 256 KiB; split it into several files"):
        open_entries(path)
    assert time.process_time() - begun < 2


@pytest.mark.parametrize(
    "line", ["[[ring]]", "a.b.c.d = 1", ".".join("a" * 190) + " = 1", "[" + ".".join("b" * 190) + "]", '"x" = {a = 1}']
)
def test_the_longest_file_allowed_is_read_within_a_second(line: str) -> None:
    text = "".join(f"{line.replace('a', f'a{i}', 1)}\n" for i in range(MOST_BYTES // (len(line) + 7)))
    begun = time.process_time()
    said = refusal_of(lambda: entries_of(text, "f.toml"))
    assert not said or "second time" in said or "deep" in said
    assert time.process_time() - begun < 2


KEYS = st.text("ab-_ .#\"'[]=é", min_size=1, max_size=5)


def toml_key(key: str) -> str:
    return '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'


@settings(max_examples=200)
@given(st.dictionaries(KEYS, st.text("a#[]{}='\" ", max_size=6), min_size=1, max_size=5), st.integers(0, 3))
def test_lines_are_found_whatever_the_keys_and_values_hold(table: dict[str, str], blank: int) -> None:
    lines = [f'{toml_key(key)} = {toml_key(value)} # ] {{ "' for key, value in table.items()]
    text = "\n" * blank + "\n".join(lines)
    assert tomllib.loads(text) == table
    found = entries_of(text, "f").book.lines
    assert [found[(key,)] for key in table] == list(range(blank + 1, blank + 1 + len(table)))


@settings(max_examples=200)
@given(st.text("ab=[]{}\"'#\n.1 \\", max_size=60))
def test_any_text_is_a_table_or_a_refusal(text: str) -> None:
    found: list[Entries] = []
    assert "\n" not in refusal_of(lambda: found.append(entries_of(text, "f")))
    for top in found:
        assert set(top.book.lines) >= {(key,) for key in top.data}


@pytest.mark.parametrize(
    ("line", "wrong", "right"),
    [
        ("wire = 1.2 mm", "a number with a word needs quotes", 'write wire = "1.2 mm"'),
        (
            "n = 25 rings",
            "a count is the number alone",
            "write n = 25",
        ),
        ('wire = "1.2 mm', "a quote is missing at the end", 'write wire = "1.2 mm"'),
        ('wire = "1.2 mm # of bronze', "a quote is missing at the end", 'write wire = "1.2 mm"'),
        ('wire = 1.2 mm"', "a quote is missing at the beginning", 'write wire = "1.2 mm"'),
        ("wire = “1.2 mm”", "curly quotes cannot be read", 'write wire = "1.2 mm"'),
        ("wire = ‘1.2 mm’", "curly quotes cannot be read", "write wire = '1.2 mm'"),
        ("lengths = [8 m, 4 m]", "each thing in a list needs quotes", 'write lengths = ["8 m", "4 m"]'),
        ("spares = 15 %", "a number with a word needs quotes", 'write spares = "15 %"'),
        ("metal = copper", "words need quotes", 'write metal = "copper"'),
        ("landscape = True", "yes is written true, in small letters", "write landscape = true"),
        ("landscape = no", "no is written false, in small letters", "write landscape = false"),
        ("ratio = 4,2", "decimals are marked with a point", "write ratio = 4.2"),
        ('wire: "1.2 mm"', "an equals sign between them", 'write wire = "1.2 mm"'),
        ('wire "1.2 mm"', "the equals sign is missing", 'write wire = "1.2 mm"'),
        ('trial inside = "5 mm"', "a key has no spaces", 'write trial_inside = "5 mm"'),
        ("[[ring]", "the brackets of this header do not match", "write [[ring]]"),
        ("[rod 7]", "a name with spaces or signs needs quotes", 'write ["rod 7"]'),
        ('wire = "1.2 mm" soft', "there is something after the value", 'write wire = "1.2 mm"'),
        ("?", "this line cannot be read", 'write lines such as wire = "1.2 mm"'),
    ],
)
def test_a_usual_slip_gets_a_hint_that_is_right(line: str, wrong: str, right: str) -> None:
    said = refusal_of(lambda: entries_of(f"# mine\n{line}\n", "f.toml"))
    assert said.startswith("f.toml:2: ")
    assert wrong in said
    assert right in said
    if right.startswith("write ") and "such as" not in right:
        tomllib.loads(right.removeprefix("write "))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a = " + "[\n" * 90_000 + "]\n" * 90_000, "f.toml:90000: tables or lists 90000 deep"),
        ("a = " + "9" * 5_000, "f.toml:1: a line of 5004 characters is too long"),
        ("a" + ".a" * 90_000 + " = 1", "f.toml:1: a line of"),
        ("\n[a" + ".a" * 150 + "]", "f.toml:2: tables or lists 151 deep; write them at most 20 deep"),
        ("x = 1\na" + ".a" * 150 + " = 1", "f.toml:2: tables or lists 151 deep; write them at most 20 deep"),
    ],
)
def test_what_is_too_deep_or_too_long_is_refused_within_a_second(text: str, message: str) -> None:
    begun = time.process_time()
    assert message in refusal_of(lambda: entries_of(text, "f.toml"))
    assert time.process_time() - begun < 2


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_a_pipe_and_a_device_are_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "zeros.toml").symlink_to("/dev/zero")
    for name in ("pipe.toml", "zeros.toml"):
        with pytest.raises(FileRefused, match="is not an ordinary file; name a TOML file"):
            open_entries(tmp_path / name)


def test_a_name_that_would_turn_the_line_about_is_shown_harmless(tmp_path: Path) -> None:
    with pytest.raises(FileRefused) as refusal:
        open_entries(tmp_path / "a\x1b[31m\u202eb.toml")
    assert str(refusal.value).isprintable()
