"""A record that is corrected: its fields stand in the order of the job card, and what a person wrote stays."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigs.actions.record import correct_record
from jigs.bench.reading import read_bench
from jigs.bench.record import FIELDS
from jigs.cli import cli

BOOK = """\
# my book
["first"]  # in the red shed
spool = "blue reel"  # the good one
# bent, but it will do
mandrel = "rod 5"

# two coils of it
coil_inside = [
    "5.24 mm",  # by me
    "5.26 mm",
]
ring_inside = "5.17 mm"
good = 40

# the next is another day's
["second"]
spool = "blue reel"
mandrel = "rod 5"
confirmed = true"""


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    (tmp_path / "mandrels.toml").write_text('["rod 5"]\nmeasured = "5.02 mm"\n')
    (tmp_path / "spools.toml").write_text('["blue reel"]\nwire = "1.2 mm"\nmetal = "phosphor bronze"\nlength = "4 m"\n')
    return tmp_path


def test_what_is_corrected_stands_where_its_box_is_on_the_job_card_and_comments_stay(bench: Path) -> None:
    (bench / "records.toml").write_text(BOOK)
    correct = ["record", "correct", "first", "--bench", str(bench)]
    words = ("--remarks", "by lamp light", "--wanted", "5.1 mm", "--kerf", "0.29 mm", "--rejects", "2")
    told = CliRunner().invoke(cli, [*correct, *words], catch_exceptions=False)
    assert told.exit_code == 0, told.output
    expected = BOOK.replace('mandrel = "rod 5"\n\n', 'mandrel = "rod 5"\nwanted = "5.1 mm"\n\n', 1)
    expected = expected.replace("]\nring_inside", ']\nkerf = "0.29 mm"\nring_inside')
    expected = expected.replace("good = 40\n", 'good = 40\nrejects = 2\nremarks = "by lamp light"\n')
    assert (bench / "records.toml").read_text() == expected
    keys = [field.key for field in FIELDS]
    written = list(tomllib.loads(expected)["first"])
    assert written == sorted(written, key=keys.index)


def test_a_new_first_field_goes_to_the_top_and_one_at_the_end_of_a_file_begins_a_line_of_its_own(bench: Path) -> None:
    (bench / "records.toml").write_text('["1"]\nmandrel = "5 mm"  # thin\nwire = "1.2 mm"')
    correct_record(bench, "1", {"spool": "blue reel", "remarks": "late"})
    assert (bench / "records.toml").read_text() == (
        '["1"]\nspool = "blue reel"\nmandrel = "5 mm"  # thin\nwire = "1.2 mm"\nremarks = "late"\n'
    )


def test_a_record_in_one_line_is_corrected_too(bench: Path) -> None:
    (bench / "records.toml").write_text('1 = { spool = "blue reel", mandrel = "rod 5" }\n')
    correct_record(bench, "1", {"kerf": ("0.29 mm",)})
    [record] = read_bench(bench).records
    assert record.kerf == (0.29,)
