"""A report as HTML: every word escaped, tables with heads, figures with their units, the same as in a terminal."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser

import pytest

from jigs.reports.as_html import as_html
from jigs.reports.as_text import as_text
from jigs.reports.report import FRACTION, LENGTH, Band, Column, Report, record
from jigs.reports.tables import TABLES


class Balanced(HTMLParser):
    """Fails where elements are not closed in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs):
        if tag != "br":
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def words(html: str) -> list[str]:
    return re.sub(r"[−-]", "-", unescape(re.sub(r"<[^>]+>", " ", html))).split()


@pytest.mark.parametrize("name", TABLES)
def test_every_table_says_what_it_says_in_a_terminal(name: str):
    html = as_html(TABLES[name]())
    parser = Balanced()
    parser.feed(html)
    assert parser.open == []
    plain = re.sub(r"[-]+\n|and \d+ more, which are not shown here", "", as_text(TABLES[name](), 10_000))
    missing = set(re.sub("-", "-", plain).split()) - set(words(html))
    assert {word for word in missing if word.strip("-x/×")} == set()


def test_every_word_is_escaped():
    report = Report(
        key='"><b>', heading="<b>", columns=(Column("a", "<i>"),), rows=(("<script>",),), notes=("<u>&",), parts=()
    )
    html = as_html(report)
    for raw in ("<b>", "<i>", "<script>", "<u>"):
        assert raw not in html
    assert "&lt;script&gt;" in html


def test_a_fraction_of_an_inch_and_what_is_left_belong_in_one_line():
    columns = Column("a", "size", LENGTH), Column("b", "nearest 1/64", FRACTION)
    html = as_html(Report(key="k", columns=columns, rows=((5.0, "13/64 in - 0.159 mm"),)))
    assert '<th scope="col" class="unbroken">nearest 1/64</th>' in html
    assert '<td class="unbroken">13/64 in − 0.159 mm</td>' in html


def test_heads_say_what_they_are_of():
    html = as_html(Report(key="k", columns=(Column("a", "rod"), Column("b", "size", LENGTH)), rows=(("x", 5.0),)))
    assert '<th scope="col">rod</th>' in html
    assert '<th scope="col" class="number">size, mm</th>' in html
    assert '<th scope="row">x</th>' in html
    assert '<td class="number">5.000</td>' in html


def test_a_record_is_a_line_for_each_figure_and_parts_have_lower_headings():
    part = record("p", (Column("a", "wire", LENGTH),), (1.2,), heading="Inner")
    html = as_html(record("k", (Column("b", "band", LENGTH),), (Band(1, 2, LENGTH),), heading="Outer", parts=(part,)))
    assert "<h2>Outer</h2>" in html
    assert "<h3>Inner</h3>" in html
    assert '<th scope="row">band</th><td>1.000 to 2.000 mm</td>' in html


def test_what_is_for_scripts_alone_is_not_shown():
    assert as_html(Report(key="k", heading="H", people=False)) == ""
    assert as_html(Report(key="k")) == ""
