"""Templates to HTML: the one file that knows jinja2. What stands in a value is always escaped."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from jigs.page.refusals import sentence
from jigs.reports.as_html import as_html
from jigs.reports.report import Report


def render(template: str, values: Mapping[str, Any]) -> str:
    """The text of a template of templates/ with these values. A value that is missing is a fault of ours."""
    return _environment().get_template(template).render(values)


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(Path(__file__).with_name("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["report"] = _report
    made.filters["svg"] = _svg
    made.filters["sentence"] = sentence
    return made


def _report(report: Report, level: int = 2) -> Markup:
    return Markup(as_html(report, level))  # its printer escapes every word


def _svg(drawing: bytes) -> Markup:
    """A drawing of the writer of SVG, without the head of a file."""
    text = drawing.decode()
    return Markup(text[text.index("<svg") :])  # the writer escapes every word
