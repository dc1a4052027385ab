"""Refusals as the page words them: each remedy by the box or the button that helps."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath

from layouts.errors import Give, LeaveOut, PrintUnscaled, Refusal, Remedy, listed
from layouts.files.faults import Fault, FileFaulty

WORDS = {
    Remedy.LARGER_PAPER: "choose a larger paper",
    Remedy.LARGER_BOARD: "give a larger sheet",
    Remedy.TURN_PAPER: "turn the paper (the box Landscape)",
    Remedy.SPLIT_OVER_PAGES: "tick Split over several pages",
    Remedy.ONE_SET_FOR_ALL: "choose One set for all seats with the same work, and print it as often as needed",
    Remedy.WRITE_ELSEWHERE: "give another name",
    Remedy.MOVE_FILE: "move that file",
    Remedy.OVERWRITE: "give another name",
    Remedy.MEASURE_PRINTER: "measure a printer first",
    Remedy.MEASURE_MACHINE: "measure a machine first",
    Remedy.CHOOSE_PRINTER: "choose a usual printer",
    Remedy.REPLACE: "open it from the list, and change it there",
    Remedy.SAVE_ANYWAY: "if you are sure of it, tick Save it anyway",
    Remedy.NOTHING_ON_SHEET: "lay nothing on the sheet, and choose Nothing",
    Remedy.CHECK_SHEET_SCANNED: "check the paper, which way round it was, and the resolution",
    Remedy.INSTALL_SOLIDS: "install the missing library",
    Remedy.INSTALL_SCANNING: "install the missing library",
}


def said(refusal: Refusal, labels: Mapping[str, str] | None = None) -> str:
    """The refusal as a sentence: what is wrong, and what would be right.

    labels: what the boxes are called, by the names of the fields that they fill.
    """
    if isinstance(refusal, FileFaulty):
        more = len(refusal.faults) - 1
        return fault_said(refusal.faults[0]) + (f" {more} more {'fault' if more == 1 else 'faults'}." if more else "")
    return sentence("; ".join(in_parts(refusal, labels)))


def in_parts(refusal: Refusal, labels: Mapping[str, str] | None = None) -> tuple[str, ...]:
    """The same in its parts: what is wrong, what would be right in words of its own, and what helps here."""
    called = {key: f"“{label}”" for key, label in (labels or {}).items()}
    helping = []
    for remedy in refusal.remedies:
        if isinstance(remedy, Remedy):
            helping.append(WORDS[remedy])
        elif isinstance(remedy, LeaveOut):
            helping.append(f"empty {listed(called.get(field, field.replace('_', ' ')) for field in remedy.fields)}")
        elif isinstance(remedy, Give) and remedy.field in called and not remedy.values:
            like = f", such as {remedy.example}" if remedy.example else ""
            helping.append(f"fill in {called[remedy.field]}{like}")
        elif not isinstance(remedy, PrintUnscaled):  # what a browser's dialog can do is said already
            helping.append(str(remedy))
    either = ", or ".join(helping) if any("," in words for words in helping) else listed(helping)
    return tuple(filter(None, (refusal.problem, refusal.remedy, either)))


def faults_said(refusal: Refusal, name: str) -> tuple[str, ...]:
    """Every fault of a file with its line, the file too where it is not the one of that name; any other as it is."""
    if isinstance(refusal, FileFaulty):
        return tuple(fault_said(fault, name) for fault in refusal.faults)
    return (said(refusal),)


def fault_said(fault: Fault, name: str = "") -> str:
    """A fault of a file that is edited as text, as a sentence with its line; of the file `name` that is in view."""
    where = "" if PurePath(fault.file).name == name else f" of {fault.file}"
    return sentence(f"Line {fault.line}{where}: {fault.said}; {fault.right}")


def sentence(words: str) -> str:
    """Words as a sentence, with a capital and a full stop; the name of a file at their head stays as it is."""
    first, _, _ = words.partition(" ")
    head = words[:1].upper() if first.rstrip(":,;").isalpha() else words[:1]
    return f"{head}{words[1:]}" + ("" if words.endswith((".", "!", "?")) else ".")
