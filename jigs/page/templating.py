"""Templates to HTML: the one file that knows jinja2. What stands in a value is always escaped."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from jigs.page.refusals import sentence
from jigs.reports.as_html import as_html
from jigs.reports.report import Report


def render(template: str, values: Mapping[str, Any]) -> str:
    """The text of a template of templates/ with these values. A value that is missing is a fault of ours."""
    return _environment().get_template(template).render(values)


class _Compiled(FileSystemBytecodeCache):
    """Templates as they were compiled last, beside where Python keeps its own: it takes longer than all else of a page.

    A template that was changed is compiled anew. Where the folder cannot be written, nothing is kept.
    """

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keeps a template that was compiled."""
        if not sys.dont_write_bytecode:
            with suppress(OSError):
                Path(self.directory).mkdir(exist_ok=True)
                super().dump_bytecode(bucket)


@cache
def _environment() -> Environment:
    folder = Path(__file__).with_name("templates")
    made = Environment(
        loader=FileSystemLoader(folder),
        bytecode_cache=_Compiled(str(folder / "__pycache__"), "%s.compiled"),
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
