"""A job as one self-contained HTML file: operate the switches, see what is live, touch a conductor to ask about it.

Every setting is worked out here and put into a table; the page looks up, it never reckons.
"""

from __future__ import annotations

from sheetgen.print.screen.page import screen_to_html

__all__ = ["screen_to_html"]
