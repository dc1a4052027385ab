"""What the user owns: read from the bench folder, and added to it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jigs.bench.bench import Bench, Mandrel, Spool
from jigs.bench.reading import read_bench
from jigs.cli.bench import command
from jigs.cli.refusals import said
from jigs.stock.figure import Basis
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.files.faults import FileFaulty


def add(folder: Path, *words: str) -> Result:
    return CliRunner().invoke(command, ["add", *words, "--bench", str(folder)], catch_exceptions=False)


def refused(folder: Path, *words: str) -> str:
    result = CliRunner().invoke(command, ["add", *words, "--bench", str(folder)])
    assert result.exit_code != 0
    assert isinstance(result.exception, Refusal)
    return said(result.exception)


def test_an_empty_folder_is_an_empty_bench(tmp_path: Path) -> None:
    assert read_bench(tmp_path / "none") == Bench()


def test_what_is_added_is_read_back(tmp_path: Path) -> None:
    add(tmp_path, "mandrel", "rod 7", "--measured", "6.02 mm", "--kind", "steel")
    add(tmp_path, "mandrel", "oak", "--measured", "5/16 in", "--kind", "wood", "--length", "250 mm")
    add(tmp_path, "drill", "#54", "--diameter", "1.397 mm")
    add(tmp_path, "blade", "2/0", "--kerf", "0.29 mm")
    add(tmp_path, "blade", "old", "--kerf", "0.9 mm", "--thickness", "0.8 mm", "--teeth-per-inch", "40")
    add(tmp_path, "spool", "reel", "--wire", "1.2 mm", "--metal", "bronze", "--length", "4.3 m")
    bench = read_bench(tmp_path)
    assert [(m.name, m.measured_mm, m.kind) for m in bench.mandrels] == [
        ("rod 7", 6.02, "steel"),
        ("oak", 7.9375, "wood"),
    ]
    assert [(drill.name, drill.diameter_mm) for drill in bench.drills] == [("#54", 1.397)]
    assert [(b.name, b.kerf_mm, b.thickness_mm, b.teeth_per_inch) for b in bench.blades] == [
        ("2/0", 0.29, 0.26, 56.0),
        ("old", 0.9, 0.8, 40.0),
    ]
    assert [(s.name, s.metal.name, s.temper, s.length_mm) for s in bench.spools] == [
        ("reel", "phosphor bronze", "soft", 4300)
    ]


def test_comments_and_order_survive_an_addition(tmp_path: Path) -> None:
    mine = '# my rods\n\n["rod 7"] # the bent one\nmeasured = "6.02 mm" # on a cold day\nkind = "steel"\n'
    (tmp_path / "mandrels.toml").write_text(mine)
    add(tmp_path, "mandrel", "peg", "--measured", "4 mm")
    assert (tmp_path / "mandrels.toml").read_text().startswith(mine)


def test_a_name_that_is_there_is_only_written_over_when_told(tmp_path: Path) -> None:
    add(tmp_path, "mandrel", "peg", "--measured", "4 mm")
    said = refused(tmp_path, "mandrel", "peg", "--measured", "5 mm")
    assert said == "mandrel 'peg' is there already; give --replace to write over it"
    assert read_bench(tmp_path).mandrels[0].measured_mm == 4.0
    add(tmp_path, "mandrel", "peg", "--measured", "5 mm", "--replace")
    assert read_bench(tmp_path).mandrels[0].measured_mm == 5.0


def test_a_spool_written_over_by_weight_loses_its_length(tmp_path: Path) -> None:
    add(tmp_path, "spool", "reel", "--wire", "1 mm", "--metal", "copper", "--length", "2 m")
    add(tmp_path, "spool", "reel", "--wire", "1 mm", "--metal", "copper", "--mass", "20 g", "--replace")
    # 20 g / (pi/4 x 1 mm2 x 8.94 g/cm3) = 2848.4 mm
    assert read_bench(tmp_path).spools[0].length_mm == 2848


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("mandrel", "x", "--measured", "5"), '--measured: a length needs a unit; write "5 mm"'),
        (("mandrel", "x", "--measured", "5 mm", "--kind", "glass"), "--kind: no choice is called 'glass'; known: "),
        (("mandrel", "x", "--measured", "600 mm"), "a mandrel of 600 mm cannot be wound on; give 0.2 mm to 500 mm"),
        (("mandrel", " ", "--measured", "6 mm"), "'' cannot stand on a sheet; write 1 to 60 printable characters"),
        (("blade", "odd", "--kerf", "0.3 mm"), "blade 'odd' is not in the table; give its thickness and"),
        (("blade", "2/0", "--kerf", "0.2 mm"), "a kerf of 0.2 mm is under the 0.26 mm of blade 2/0; measure the cut"),
        (("spool", "s", "--wire", "18", "--metal", "copper", "--length", "1 m"), "--wire: '18' could be 18 AWG"),
        (("spool", "s", "--wire", "1 mm", "--metal", "copper"), "spool 's' has neither length nor mass; give"),
        (("spool", "s", "--wire", "1 mm", "--metal", "copper", "--length", "1 m", "--mass", "2 g"), "has both"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_refused_and_nothing_is_written(words: tuple[str, ...], message: str, tmp_path: Path) -> None:
    assert message in refused(tmp_path, *words)
    assert not list(tmp_path.glob("*.toml"))


def forget(folder: Path, *words: str) -> Result:
    return CliRunner().invoke(command, ["forget", *words, "--bench", str(folder)])


def test_what_was_added_is_taken_back_and_the_rest_stays(tmp_path: Path) -> None:
    mine = '# my rods\n\n["rod 7"] # the bent one\nmeasured = "6.02 mm" # on a cold day\n'
    (tmp_path / "mandrels.toml").write_text(mine)
    add(tmp_path, "mandrel", "peg", "--measured", "4 mm")
    assert forget(tmp_path, "mandrel", "peg").output == "forgot mandrel peg\n"
    assert (tmp_path / "mandrels.toml").read_text().strip() == mine.strip()


def test_what_is_not_there_cannot_be_forgotten(tmp_path: Path) -> None:
    assert (
        str(forget(tmp_path, "drill", "a").exception)
        == "no drill is called 'a'; nothing of that kind is on this bench yet"
    )
    add(tmp_path, "drill", "b", "--diameter", "1 mm")
    assert str(forget(tmp_path, "drill", "a").exception) == "no drill is called 'a'; known: b"
    assert [drill.name for drill in read_bench(tmp_path).drills] == ["b"]


def test_the_folder_named_before_add_is_the_one_written_to(tmp_path: Path) -> None:
    words = ["--bench", str(tmp_path), "add", "drill", "a", "--diameter", "1 mm"]
    assert CliRunner().invoke(command, words).exit_code == 0
    assert read_bench(tmp_path).drills[0].name == "a"


def test_every_fault_of_a_file_written_by_hand_is_refused_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "mandrels.toml").write_text(
        'loose = 1\n["a"]\nmeasured = 5\n["b"]\nmeasured = "5 mm"\nkind = "tin"\nsize = 3\n["c"]\nkind = "wood"\n'
    )
    with pytest.raises(FileFaulty) as refusal:
        read_bench(tmp_path)
    assert [str(fault).replace(f"{tmp_path}/", "") for fault in refusal.value.faults] == [
        "mandrels.toml:1: 'loose' is outside any table; begin a table with a line such as [\"rod 7\"]",
        'mandrels.toml:3: measured: a length needs a unit; write "5 mm" or "5 in"',
        "mandrels.toml:6: kind: no choice is called 'tin'; known: plastic, steel, wood, household",
        "mandrels.toml:7: no key is called 'size' in [b]; known: scale, measured, readings, kind, with, read, length",
        'mandrels.toml:8: [c] has no measured; add a line such as measured = "6.02 mm"',
    ]


def test_a_thousand_mandrels_are_the_most(tmp_path: Path) -> None:
    (tmp_path / "mandrels.toml").write_text("".join(f'["{i}"]\nmeasured = "{i + 1} um"\n' for i in range(1001)))
    with pytest.raises(FileFaulty, match="1001 entries are too many; give at most 1000"):
        read_bench(tmp_path)


def test_a_mandrel_and_a_blade_are_found_by_name() -> None:
    bench = Bench(mandrels=(Mandrel(name="rod 7", measured_mm=6.02),))
    assert bench.mandrel("rod 7").measured_mm == 6.02
    assert bench.blade("2/0").kerf.basis is not Basis.MEASURED
    with pytest.raises(UnknownName, match="no mandrel is called 'rod 8'; known: rod 7"):
        bench.mandrel("rod 8")


def test_a_mandrel_knows_what_it_is_good_for() -> None:
    wood, steel = (Mandrel(name="m", measured_mm=5, kind=kind) for kind in ("wood", "steel"))
    assert (wood.is_wood, wood.is_hard, steel.is_wood, steel.is_hard) == (True, False, False, True)


def test_what_cannot_be_owned_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"a mandrel of 0.1 mm cannot be wound on"):
        Mandrel(name="m", measured_mm=0.1)
    with pytest.raises(UnknownName, match="no kind of mandrel is called 'tin'"):
        Mandrel(name="m", measured_mm=5, kind="tin")
    with pytest.raises(OutOfRange, match="length on a spool is 0"):
        Spool(name="s", wire=parse_wire("1 mm"), metal=find_metal("copper"), temper="soft", length_mm=0)
    assert issubclass(QuantityRefused, ValueError)
