"""What is wrong in a file that people write: each fault with its file and line, all of them in one refusal."""

from __future__ import annotations

from dataclasses import dataclass, field

from layouts.errors import FileRefused
from layouts.files.lines import Place

MOST_FAULTS_SHOWN = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong: where, what, and what would be right.

    boxed: the same to somebody who fills in boxes, and sees neither keys nor quotes, where that is said otherwise.
    """

    file: str
    line: int
    wrong: str
    right: str
    key: str = ""  # the key it is about, where it is about one
    of_value: bool = False  # it is about the value of that key, which has to be named then
    place: Place = field(default=(), compare=False)  # of that key, or of the table it is about
    boxed: str = field(default="", compare=False)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.said}; {self.right}"

    @property
    def said(self) -> str:
        """What is wrong, in words that stand by themselves."""
        return f"{self.key}: {self.wrong}" if self.of_value else self.wrong

    @property
    def in_boxes(self) -> str:
        """What is wrong and what would be right, beside the box of its key."""
        return self.boxed or f"{self.wrong}; {self.right}"


class FileFaulty(FileRefused):
    """A file with one or more faults; `faults` has them all, in the order of their lines."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        first = faults[0]
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        super().__init__(f"{first.file}:{first.line}: {first.said}", f"{first.right}{more}")
