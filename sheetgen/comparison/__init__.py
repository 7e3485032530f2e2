"""Two wirings compared: their facts side by side, and the fewest steps from one to the other, proven by solving."""

from __future__ import annotations

from sheetgen.comparison.asked import asked_for
from sheetgen.comparison.facts import facts_of
from sheetgen.comparison.matching import NoMatch, in_the_words_of
from sheetgen.comparison.proof import proof_of
from sheetgen.comparison.steps import apply, sleeve_steps, steps_between

__all__ = ["NoMatch", "apply", "asked_for", "facts_of", "in_the_words_of", "proof_of", "sleeve_steps", "steps_between"]
