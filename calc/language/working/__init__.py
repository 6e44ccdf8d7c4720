"""The working is recorded, not written: what a trainee reads is the code that ran.

A formula is a short function marked `@formula`. While a calculation runs inside `recording()`, each formula called is
noted; each `Step` then shows itself as the formula, the same with numbers in, and the value.
"""

from __future__ import annotations

from calc.language.working.reading import NotAFormula
from calc.language.working.recorder import Formula, Placed, Step, all_formulas, formula, recording

__all__ = ["Formula", "NotAFormula", "Placed", "Step", "all_formulas", "formula", "recording"]
