"""Whole commands as processes, for tests of what they say: forked from one that has loaded the program already.

A start of Python takes longer than most commands do. Each command still has a process, streams, folder and environment
of its own, and ends by its own exit; only what is loaded is there before. Tests of the start itself, of encodings and
of what a command loads start Python as a person does.
"""

from __future__ import annotations

import atexit
import json
import os
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path

from page_server import PACKAGES

# Reads a command a line: its words, folder, environment, and the files for what it says. Answers with its exit code.
_PARENT = """
import difflib, json, locale, os, sys
from jigs.__main__ import main
import jigs.actions.order, jigs.actions.ring, jigs.actions.sheet, jigs.cli.output, jigs.cli.plan, jigs.cli.ring
import jigs.cli.sheet, jigs.cli.wire, jigs.guides.bench_pin, jigs.guides.dowel, jigs.guides.ring_card, jigs.terminal

def run(words, folder, environment, out, error):
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(folder)
    for number, name, flags in ((0, os.devnull, os.O_RDONLY), (1, out, os.O_WRONLY), (2, error, os.O_WRONLY)):
        os.dup2(os.open(name, flags), number)
    sys.argv = ["coilwright", *words]
    main()

for line in sys.stdin.buffer:
    asked = json.loads(line)
    child = os.fork()
    if not child:
        run(**asked)  # the end of main is that of the process, as anywhere
        sys.exit(0)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""


@cache
def _parent() -> subprocess.Popen[str]:
    command = [sys.executable, "-c", _PARENT]
    env = {**os.environ, "PYTHONPATH": str(PACKAGES), "PYTHONIOENCODING": "utf-8"}
    parent = subprocess.Popen(command, env=env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    atexit.register(parent.communicate)  # it ends with its input
    return parent


def run(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The whole command in a process of its own: its exit code, and what it said on both streams."""
    if not hasattr(os, "fork"):
        command = [sys.executable, "-m", "jigs", *words]
        env = {**os.environ, "PYTHONPATH": str(PACKAGES), "PYTHONIOENCODING": "utf-8"}
        return subprocess.run(command, env=env, capture_output=True, encoding="utf-8", cwd=cwd, check=False)
    with tempfile.TemporaryDirectory() as folder:
        out, error = Path(folder, "out"), Path(folder, "error")
        out.touch(), error.touch()
        asked = {"words": words, "folder": str(cwd or Path.cwd()), "environment": dict(os.environ)}
        parent = _parent()
        assert parent.stdin
        assert parent.stdout
        print(json.dumps({**asked, "out": str(out), "error": str(error)}), file=parent.stdin, flush=True)
        code = int(parent.stdout.readline())
        said = (path.read_text(encoding="utf-8") for path in (out, error))
        return subprocess.CompletedProcess(words, code, *said)
