"""The family of refusals: each says in one line what is wrong and what would be right."""

from __future__ import annotations

from collections.abc import Iterable


class Refusal(ValueError):
    """An input that cannot be used as given. The text is one line: the problem, then the remedy."""

    def __init__(self, problem: str, remedy: str) -> None:
        self.problem = problem
        self.remedy = remedy
        super().__init__(f"{problem}; {remedy}" if remedy else problem)


class QuantityRefused(Refusal):
    """Text that is not a length, a wire or another quantity."""


class TwoReadings(QuantityRefused):
    """Text that could be read as two quantities. Says both, and what to write for each."""


class OutOfRange(Refusal):
    """A number that is a quantity but not one that this place can use."""


class UnknownName(Refusal):
    """A name that is not in a list. Lists the known names, the nearest first."""

    def __init__(self, kind: str, name: str, known: Iterable[str]) -> None:
        self.kind = kind
        self.name = name
        self.known = _nearest_first(name, known)
        super().__init__(f"no {kind} is called {shown(name)}", f"known: {', '.join(self.known)}")


class DoesNotFit(Refusal):
    """A drawing larger than the space for it. Carries both sizes in millimetres (width, height)."""

    def __init__(self, what: str, needs_mm: tuple[float, float], has_mm: tuple[float, float], remedy: str) -> None:
        self.what = what
        self.needs_mm = needs_mm
        self.has_mm = has_mm
        needs, has = (f"{width:.1f} x {height:.1f} mm" for width, height in (needs_mm, has_mm))
        super().__init__(f"{what} needs {needs} and the space is {has}", remedy)


class Unprintable(Refusal):
    """A number that is not finite, or a character that the lettering does not have."""


class MissingLibrary(Refusal):
    """A library of the system that a format needs and this machine lacks."""


class ScanRefused(Refusal):
    """A picture from which a printer cannot be measured."""


class FileRefused(Refusal):
    """A file that cannot be read, or must not be written."""


def shown(text: str) -> str:
    """The user's text in quotes, safe for one line of a terminal: escaped, and cut at 64 characters."""
    return repr(text if len(text) <= 64 else text[:61] + "...")


def _nearest_first(name: str, known: Iterable[str]) -> tuple[str, ...]:
    from difflib import SequenceMatcher  # only a refusal needs it

    wanted = name[:64].casefold()
    return tuple(sorted(known, key=lambda k: -SequenceMatcher(None, wanted, k.casefold()).ratio()))
