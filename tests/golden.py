"""Golden files: readable text of what was made, to see at once what a change changed.

`GOLDENS=write pytest` writes them anew; read the difference before you commit it.
"""

from __future__ import annotations

import os
from difflib import unified_diff
from pathlib import Path

_FOLDER = Path(__file__).parent / "goldens"


def assert_same_as_golden(name: str, text: str) -> None:
    """Holds `text` against tests/goldens/`name`, or writes it there when GOLDENS=write is set."""
    path = _FOLDER / name
    if os.environ.get("GOLDENS") == "write":
        path.write_text(text, encoding="utf-8", newline="\n")
    golden = path.read_text(encoding="utf-8")
    if text != golden:
        changes = unified_diff(golden.splitlines(), text.splitlines(), f"tests/goldens/{name}", "now", lineterm="", n=1)
        raise AssertionError("\n".join(changes))
