"""Refusals as the command line words them: each remedy by its option or command."""

from __future__ import annotations

import re

import click

from layouts.errors import LeaveOut, PrintUnscaled, Refusal, Remedy, listed

WORDS = {
    Remedy.LARGER_PAPER: "take a larger --paper",
    Remedy.LARGER_BOARD: "give a larger --sheet",
    Remedy.TURN_PAPER: "turn it (with or without --landscape)",
    Remedy.SPLIT_OVER_PAGES: "split it over several pages with --tile",
    Remedy.ONE_SET_FOR_ALL: "make one set for all seats with the same work (--sets once) and print it again and again",
    Remedy.WRITE_ELSEWHERE: "give another --out",
    Remedy.MOVE_FILE: "move the file",
    Remedy.OVERWRITE: "give --overwrite",
    Remedy.MEASURE_PRINTER: "measure one with `coilwright printer measure`",
    Remedy.CHOOSE_PRINTER: "choose a usual one with `coilwright printer default`",
    Remedy.MEASURE_MACHINE: "cut or print a coupon and record it with `coilwright machine measure`",
    Remedy.REPLACE: "give --replace to write over it",
    Remedy.SAVE_ANYWAY: "save it anyway with --save-anyway",
    Remedy.NOTHING_ON_SHEET: "lay nothing there, and say --with none",
    Remedy.CHECK_SHEET_SCANNED: "check --paper, --landscape and --dpi",
    Remedy.INSTALL_SOLIDS: "pip install manifold3d",
    Remedy.INSTALL_SCANNING: "pip install numpy pillow",
}

_OTHERWISE = {"resolution": "--dpi"}  # fields whose option is not their name


def said(refusal: Refusal) -> str:
    """The refusal in one line: what is wrong, what would be right, and the options that would help."""
    problem = f"{option(refusal.field)}: {refusal.problem}" if refusal.field else refusal.problem
    helping = []
    for remedy in refusal.remedies:
        if isinstance(remedy, Remedy):
            helping.append(WORDS[remedy])
        elif isinstance(remedy, LeaveOut):
            helping.append(f"leave out {', '.join(map(option, remedy.fields))}")
        elif isinstance(remedy, PrintUnscaled):
            helping.append(f"print with CUPS: lp -o media={remedy.paper} -o print-scaling=none FILE")
        elif remedy.values:
            name = option(remedy.field)
            helping.append(f"choose {listed(f'{name} {typed(value)}' for value in remedy.values)}")
        else:
            name = option(remedy.field)
            helping.append(f"give {name}" + (f", such as {name} {typed(remedy.example)}" if remedy.example else ""))
    parts = problem, refusal.remedy, listed(helping)
    return " ".join("; ".join(part for part in parts if part).split())


def say_faults(refusal: Refusal) -> Refusal:
    """Says each fault of a file that has several, a line each; what is then left to refuse is their number."""
    from layouts.files.faults import MOST_FAULTS_SHOWN, FileFaulty

    if not isinstance(refusal, FileFaulty) or len(refusal.faults) == 1:
        return refusal
    for fault in refusal.faults[:MOST_FAULTS_SHOWN]:
        click.echo(str(fault), err=True)
    if len(refusal.faults) > MOST_FAULTS_SHOWN:
        click.echo(f"and {len(refusal.faults) - MOST_FAULTS_SHOWN} more faults", err=True)
    return Refusal(f"{len(refusal.faults)} faults in {refusal.faults[0].file}", "nothing was made")


def option(field: str) -> str:
    """The option that gives a field."""
    return _OTHERWISE.get(field, f"--{field.replace('_', '-')}")


def typed(value: str) -> str:
    """A value as it is typed after an option: in quotes where a shell would cut or change it."""
    return value if re.fullmatch(r"[\w./,%+-]+", value) else '"' + re.sub(r'(["\\$`])', r"\\\1", value) + '"'
