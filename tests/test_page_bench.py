"""The drawer and the records on the page: kept in the bench folder's files as by the commands, nothing overwritten."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from urllib.parse import parse_qs, urlencode, urlparse

import pytest
from page_server import running

from jigs.actions.bench import add_to_bench, things_on_bench
from jigs.bench.fields import OWNED
from jigs.bench.reading import READERS, read_bench
from jigs.bench.record import FIELDS
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import drawer, records, ring, views
from layouts.errors import UnknownName
from layouts.files.entries import entries_of, named_entries
from layouts.files.faults import FileFaulty

THINGS = {
    "mandrel": (
        "rod 7",
        {"measured": "6.02 mm", "kind": "steel", "with": "caliper", "readings": "3"},
    ),
    "drill": ("#54", {"diameter": "1.397 mm"}),
    "blade": ("old spiral", {"kerf": "0.9 mm", "thickness": "0.8 mm", "teeth_per_inch": "40"}),
    "spool": ("red reel", {"wire": "1.2 mm", "metal": "phosphor bronze", "temper": "soft", "length": "4.3 m"}),
    "instrument": ("old caliper", {"scatter": "0.05 mm", "bias": "0.04 mm", "scale": "0.2 %"}),
}


def asked(bench: Path, path: dict[str, str] | None = None, **given: str) -> Asked:
    filled = {key: (value,) for key, value in given.items()}
    return Asked(bench=bench, path=path or {}, given=filled)


def kept(bench: Path, kind: str, **more: str) -> Answer:
    name, values = THINGS[kind]
    return drawer.save(asked(bench, {"kind": kind}, **({"name": name} | values | more)))


def test_the_page_and_another_program_at_once_lose_nothing(tmp_path: Path):
    with running(tmp_path) as page:

        def add(number: int) -> None:
            name, size = f"rod {number}", f"{number + 2} mm"
            if number % 2:
                add_to_bench(tmp_path, "mandrel", name, {"measured": size})
            else:
                sent = urlencode({"name": name, "measured": size}).encode()
                assert page.ask("/drawer/mandrel", method="POST", body=sent).status == 303

        with ThreadPoolExecutor(4) as pool:
            list(pool.map(add, range(16)))
    assert sorted(things_on_bench(tmp_path, "mandrel")) == sorted(f"rod {number}" for number in range(16))


def html_of(answer: Answer) -> str:
    return render(answer.template, {"views": views(), "is_part": False, **answer.values})


def test_every_kind_that_can_be_owned_can_be_filled_in():
    assert OWNED.keys() == READERS.keys() == THINGS.keys()


@pytest.mark.parametrize("kind", OWNED)
def test_every_field_is_one_that_the_reader_knows(kind: str):
    for field in OWNED[kind]:
        with pytest.raises(FileFaulty) as refused:
            named_entries(entries_of(f"[thing]\n{field.key} = [[]]\nno_such = 1\n", "a.toml"), READERS[kind])
        unknown = [fault.key for fault in refused.value.faults if "no key is called" in fault.wrong]
        assert unknown == ["no_such"]


@pytest.mark.parametrize("kind", OWNED)
def test_a_thing_is_kept_shown_changed_and_forgotten(bench: Path, kind: str):
    name, values = THINGS[kind]
    assert kept(bench, kind).goto.startswith("/drawer?said=")
    (owned,) = getattr(read_bench(bench), f"{kind}s")
    assert owned.name == name
    html = html_of(drawer.show(asked(bench)))
    for words in (name, *values.values()):
        assert words in html
    opened = drawer.show_one(asked(bench, {"kind": kind}, name=name))
    assert {key: opened.values["form"][key].value for key in values} == values
    key = next(iter(values))
    other = {"measured": "6.10 mm", "diameter": "1.4 mm", "kerf": "0.8 mm", "wire": "1.0 mm", "scatter": "0.06 mm"}[key]
    assert kept(bench, kind, before=opened.values["before"], **{key: other}).goto
    assert other in html_of(drawer.show(asked(bench)))
    drawer.forget(asked(bench, {"kind": kind}, name=name))
    assert getattr(read_bench(bench), f"{kind}s") == ()


def test_a_new_thing_does_not_take_the_place_of_another(bench: Path):
    kept(bench, "mandrel")
    answer = kept(bench, "mandrel", measured="9 mm")
    assert "is there already" in answer.values["form"]["name"].fault
    assert read_bench(bench).mandrels[0].measured_mm == 6.02


def test_a_thing_that_was_changed_elsewhere_is_not_overwritten(bench: Path):
    kept(bench, "mandrel")
    opened = drawer.show_one(asked(bench, {"kind": "mandrel"}, name="rod 7"))
    file = bench / "mandrels.toml"
    file.write_text(file.read_text().replace("6.02 mm", "6.05 mm"))
    answer = kept(bench, "mandrel", before=opened.values["before"], measured="6.10 mm")
    assert "has been changed since it was opened here" in answer.values["form"].faults[0]
    assert "6.05 mm" in file.read_text()


def test_comments_in_the_drawer_s_files_stay(bench: Path):
    kept(bench, "mandrel")
    file = bench / "mandrels.toml"
    file.write_text(file.read_text().replace("steel", "steel") + '# mine\n\n["other"] # and this\nmeasured = "3 mm"\n')
    opened = drawer.show_one(asked(bench, {"kind": "mandrel"}, name="rod 7"))
    kept(bench, "mandrel", before=opened.values["before"], measured="6.10 mm")
    assert "# mine" in file.read_text()
    assert "# and this" in file.read_text()


@pytest.mark.parametrize(
    ("kind", "key", "typed", "says"),
    [
        ("mandrel", "measured", "6.02", "unit"),
        ("mandrel", "measured", "", "Give the diameter"),
        ("mandrel", "name", "", "Give it a name"),
        ("mandrel", "readings", "many", "whole number"),
        ("blade", "teeth_per_inch", "many", "number"),
        ("spool", "metal", "unobtainium", "metal"),
        ("spool", "wire", "18", "18 AWG"),
    ],
)
def test_what_is_refused_is_said_at_its_box_and_nothing_is_written(
    bench: Path, kind: str, key: str, typed: str, says: str
):
    answer = kept(bench, kind, **{key: typed})
    assert says in answer.values["form"][key].fault
    assert answer.values["form"][key].value == typed
    assert not (bench / f"{kind}s.toml").exists()


def test_a_damaged_file_is_said_where_it_belongs_and_hides_nothing_else(bench: Path):
    kept(bench, "drill")
    (bench / "mandrels.toml").write_text("broken")
    html = html_of(drawer.show(asked(bench)))
    assert f"Line 1 of {bench / 'mandrels.toml'}: " in html
    assert "#54" in html


def test_the_unit_of_the_bench_is_chosen(bench: Path):
    drawer.keep_units(asked(bench, units="inch"))
    assert (bench / "settings.toml").read_text().endswith('units = "inch"\n')
    assert drawer.show(asked(bench)).values["units"].value == "inch"


BATCH = {"spool": "red reel", "mandrel": "5 mm", "blade": "2/0", "ring_inside": "5.25\r\n5.27 mm", "wanted": "5.1"}


def test_the_boxes_are_those_of_the_job_card_in_their_order(bench: Path):
    html = html_of(records.show_new(asked(bench))).partition("<main")[2]
    shown = re.findall(r'name="([a-z_]+)"', html)
    assert sorted(shown) == sorted([field.key for field in FIELDS] + ["name"])
    card = [field.key for field in FIELDS if field.box and field.key in shown]
    usual = [key for key in shown if key in card and key not in ("trim", "by")]
    assert usual == [key for key in card if key not in ("trim", "by")]


def test_a_record_changes_the_next_ring_of_that_spool(bench: Path):
    kept(bench, "spool")
    asked_for = {"way": "rod", "spool": "red reel", "mandrel": "5 mm", "cut": "saw", "blade": "2/0"}
    before = dict(ring.show(asked(bench, **asked_for)).values["found"]["line"])
    answer = records.write_down(asked(bench, **BATCH))
    assert answer.goto == "/records/1?said=kept"
    after = dict(ring.show(asked(bench, **asked_for)).values["found"]["line"])
    assert float(after["closed ID"].split()[0]) > float(before["closed ID"].split()[0]) + 0.05
    html = html_of(records.show_one(asked(bench, {"record": "1"})))
    assert "The next batch" in html
    assert "5.260 mm" in html  # the mean of the two readings
    assert "red reel" in html_of(records.show_all(asked(bench)))


def test_a_record_is_corrected_field_by_field_and_its_comments_stay(bench: Path):
    kept(bench, "spool")
    records.write_down(asked(bench, **BATCH))
    file = bench / "records.toml"
    file.write_text(file.read_text().replace('mandrel = "5 mm"', 'mandrel = "5 mm" # of the set'))
    form = records.show_to_correct(asked(bench, {"record": "1"})).values["form"]
    assert form["ring_inside"].lines == ("5.25 mm", "5.27 mm")
    sent = {key: box.value for key, box in form.boxes.items()} | {"ring_inside": "5.05"}
    assert records.correct(asked(bench, {"record": "1"}, **sent)).goto
    assert 'ring_inside = "5.05 mm"' in file.read_text()
    assert "# of the set" in file.read_text()
    assert records.forget(asked(bench, {"record": "1"})).goto == "/records?said=forgotten"
    assert read_bench(bench).records == ()


@pytest.mark.parametrize(
    ("key", "typed", "says"),
    [
        ("ring_inside", "wide", "inside"),
        ("good", "many", "good"),
        ("mandrel", "", "mandrel"),
        ("wire", "18", "wire"),
    ],
)
def test_a_record_that_is_refused_writes_nothing_and_loses_nothing(bench: Path, key: str, typed: str, says: str):
    answer = records.write_down(asked(bench, **(BATCH | {"spool": "", "wire": "1.2 mm", key: typed})))
    form = answer.values["form"]
    assert form[key].fault or form.faults, says
    assert form[key].value == typed
    assert not (bench / "records.toml").exists()


def test_a_record_that_is_not_there_is_refused(bench: Path):
    for view in (records.show_one, records.show_to_correct, records.forget):
        with pytest.raises((UnknownName, ValueError)):
            view(asked(bench, {"record": "9"}))


def test_what_is_said_after_keeping_is_in_the_address_alone(bench: Path):
    goto = kept(bench, "drill").goto
    assert parse_qs(urlparse(goto).query)["said"] == ["#54 is kept."]
