"""The words that options and results may be, as the compiled part has them: one table for both."""

from __future__ import annotations

from collections.abc import Mapping

from planform import _planform

WORDS: Mapping[str, tuple[str, ...]] = _planform._words()
"""By what they tell: ``WORDS["at"]`` is ``("shadow", "top", "bottom", "through")``."""
