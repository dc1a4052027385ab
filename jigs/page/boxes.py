"""The boxes of a form: what each is called, what was typed in it, and what is wrong with that."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any
from urllib.parse import urlencode

from jigs.page.asked import Asked
from jigs.page.refusals import said
from layouts.errors import Give, QuantityRefused, Refusal

_ROOM = 17  # characters that a box shows beside another one in a narrow window


@dataclass(slots=True, kw_only=True)
class Box:
    """A box to fill in. choices: (value, words) of a list to choose from; suggestions: values offered as one types.

    kind: "text", "choice", "tick", "lines" (several, one a line) or "ticks" (several of the choices). value: what was
    typed, as it was typed; values: all of them, where there are several; fault: what is wrong with it. usual: what is
    in it before anything is asked; sound: words that are right in it, where these are not.
    """

    key: str
    label: str
    kind: str = "text"
    hint: str = ""
    example: str = ""
    choices: Sequence[tuple[str, str]] = ()
    suggestions: Sequence[str] = ()
    usual: str = ""
    sound: str = ""
    value: str = ""
    fault: str = ""
    values: tuple[str, ...] = ()

    @property
    def is_long(self) -> bool:
        """Whether what stands in it, or may be chosen, wants more than the room of a size."""
        longest = max((len(words) for _, words in self.choices), default=0)
        return max(longest, len(self.value) if self.kind == "text" else 0) > _ROOM

    @property
    def lines(self) -> tuple[str, ...]:
        """What was typed in several lines, each without spaces around it; empty ones between others count."""
        return tuple(line.strip() for line in self.value.rstrip().splitlines())


@dataclass(slots=True)
class Form:
    """Boxes with what was filled in. What is refused is kept beside its box; nothing that was typed is changed.

    faults: what is wrong with no box in particular.
    """

    boxes: dict[str, Box]
    faults: list[str] = field(default_factory=list)

    @classmethod
    def filled(cls, boxes: Iterable[Box], asked: Asked) -> Form:
        """The boxes, each with what was asked; with its usual value where it was not asked about at all."""
        form = cls({box.key: box for box in boxes})
        for box in form.boxes.values():
            box.values = asked.given.get(box.key, (box.usual,) if box.usual else ())
            box.value = box.values[-1] if box.values else ""
        return form

    def __getitem__(self, key: str) -> Box:
        return self.boxes[key]

    def words(self, key: str) -> str:
        """What was typed, without spaces around it."""
        return self.boxes[key].value.strip()

    @property
    def query(self) -> str:
        """What was filled in, for an address: its form is filled in with it again."""
        return urlencode({key: box.value for key, box in self.boxes.items() if box.value})

    def read(self, key: str, reader: Callable[[str], Any], *, needed: str = "") -> Any:
        """The value of what was typed; None where the box is empty or refused. `needed` is said of an empty one."""
        words = self.words(key)
        if not words:
            if needed:
                self.boxes[key].fault = needed
            return None
        try:
            return reader(words)
        except Refusal as refusal:
            self.boxes[key].fault = said(refusal)
            return None

    def refuse(self, refusal: Refusal, otherwise: str = "") -> None:
        """Puts a refusal beside its box, or beside that which would help; else beside `otherwise`, or over all."""
        named = (refusal.field, *(remedy.field for remedy in refusal.remedies if isinstance(remedy, Give)))
        key = next((name for name in named if name in self.boxes), otherwise)
        if key:
            self.boxes[key].fault = self._said(refusal)
        else:
            self.faults.append(self._said(refusal))

    def blame(self, refusal: Refusal, again: Callable[[Form], bool]) -> None:
        """Puts a refusal that names no box beside the one to blame: with sound words in it, nothing would be refused.

        Over all boxes where no one of them is to blame. again: whether a form like this is right.
        """
        self.refuse(refusal)
        if not self.faults:
            return
        for key, box in sorted(self.boxes.items(), key=lambda item: item[1].kind not in ("text", "lines")):
            sound = box.sound or box.usual
            if box.value.strip() != sound and self._is_right_with(key, sound, again):
                self.faults.clear()
                box.fault = self._said(refusal)
                return

    def _said(self, refusal: Refusal) -> str:
        return said(refusal, {key: box.label for key, box in self.boxes.items()})

    def _is_right_with(self, key: str, value: str, again: Callable[[Form], bool]) -> bool:
        """Whether nothing would be refused with that value in a box."""
        boxes = {box.key: replace(box, fault="") for box in self.boxes.values()}
        boxes[key].value, boxes[key].values = value, (value,) if value else ()
        try:
            return again(Form(boxes))
        except Refusal:
            return False

    @property
    def is_right(self) -> bool:
        """Whether nothing was refused."""
        return not self.faults and not any(box.fault for box in self.boxes.values())


def number(words: str) -> float:
    """A plain number that was typed, such as an AR; a comma may stand for the point."""
    try:
        return float(words.replace(",", "."))
    except ValueError:
        raise QuantityRefused(f"“{words[:40]}” is not a number", "write one such as 4.2") from None
