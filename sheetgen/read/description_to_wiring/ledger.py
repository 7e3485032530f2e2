"""Where the steps of this stage note the problems they find, with the place of each in the text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from sheetgen.model.description import Description
from sheetgen.model.problems import Mark, Problem, nearest
from sheetgen.model.quantities import BadQuantity, read_quantity
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable

DEFAULT_COLOURS = "current"


@dataclass
class Ledger:
    """The description in hand, the colour sets known, and the problems so far."""

    description: Description
    sets: Mapping[str, ColourSet]
    to_teach: bool = False  # bad practice is laid, with its warning
    warnings: list[str] = field(default_factory=list)  # why what was laid is bad practice
    problems: list[Problem] = field(default_factory=list)
    no_colour_sets: set[str] = field(default_factory=set)  # written where a colour set is meant, and none
    _uncoloured: dict[str, list[str]] = field(default_factory=dict)  # colour set -> cables whose cores are of it

    def __post_init__(self) -> None:
        self.problems.extend(self.description.problems)

    def note(self, path: Iterable[str | int], code: str, message: str, hint: str = "") -> None:
        """Note a problem with the value at a path."""
        self.problems.append(Problem(self.mark(path), code, message, hint))

    def mark(self, path: Iterable[str | int]) -> Mark:
        """The place of the value at a path."""
        return self.description.mark(*path)

    def quantity(self, value: object, unit: str, example: str, path: tuple[str | int, ...]) -> Fraction | None:
        """The value in `unit`, or None with the problem noted."""
        try:
            return read_quantity(value, unit, example)
        except BadQuantity as bad:
            self.note(path, "E203", f"'{path[-1]}': {bad}")
            return None

    def colour_set(self, word: str, *path: str) -> str:
        """The name of a colour set, '' where none is written; a problem where it is unknown."""
        folded = {"old": "legacy", "new": "current", "as found": ""}.get(word.casefold(), word.casefold())
        if folded and folded not in self.sets:
            self.note(path, "E301", f"There is no colour set '{word}'.", nearest(word, self.sets))
            self.no_colour_sets.add(word)
            return ""
        return folded

    def without_colours(self, cable: str, colour: str, right: str) -> None:
        """A core is of another colour set than the usual one, and the description names none: said once for all."""
        cables = self._uncoloured.setdefault(right, [])
        if cable not in cables:
            cables.append(cable)
        others = f" of {len(cables)} cables" if len(cables) > 1 else f" of {cable}"
        first = cables[0]
        write = f"Write 'colours: {right}'"
        self.problems = [p for p in self.problems if not (p.code == "E324" and p.hint.startswith(write))]
        self.note(("cables", first, "cores"), "E324",
                  f"The description names no colour set, and the cores{others} are not of the {DEFAULT_COLOURS} one.",
                  f"{write} at the head of the file, or on each such cable.")

    def nothing_to_draw(self, cables: tuple[Cable, ...]) -> None:
        """A description without a single cable has nothing to solve or draw."""
        content = self.description.content
        if not cables and not self.problems and not content.cables:
            self.note((), "E302", "There are no cables, so there is nothing to draw.", "Add them under 'cables:'.")


def folded(name: str) -> str:
    """A name without the differences that people do not mean: case, spaces, hyphens."""
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").split())
