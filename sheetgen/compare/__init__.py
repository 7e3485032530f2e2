"""Two wirings compared: their facts side by side, and the fewest steps from one to the other, proven by solving."""

from __future__ import annotations

from sheetgen.compare.asked import asked_for
from sheetgen.compare.colours import asked_set, in_wanted_colour, kept_colours
from sheetgen.compare.facts import facts_of
from sheetgen.compare.matching import NoMatch, in_the_words_of
from sheetgen.compare.own import with_its_own
from sheetgen.compare.proof import proof_of
from sheetgen.compare.steps import apply, sleeve_steps, steps_between

__all__ = [
    "NoMatch", "apply", "asked_for", "asked_set", "facts_of", "in_the_words_of", "in_wanted_colour", "kept_colours",
    "proof_of", "sleeve_steps", "steps_between", "with_its_own",
]
