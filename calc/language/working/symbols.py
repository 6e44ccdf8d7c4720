"""Symbols of quantities from the names in the code: `alpha` is α, `D_m` and `x1` have subscripts."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

_LETTERS = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eps": "ε", "zeta": "ζ", "eta": "η",
    "theta": "θ", "iota": "ι", "kappa": "κ", "lambda": "λ", "lam": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ",
    "Omega": "Ω",
}  # fmt: skip


class Symbol(NamedTuple):
    """A letter with perhaps a subscript, and both as one word of plain text."""

    base: str
    sub: str
    plain: str


@cache
def symbol(name: str) -> Symbol:
    """The symbol that a name in the code stands for.

    >>> symbol("r_eps"), symbol("x1")
    (Symbol(base='r', sub='ε', plain='r_ε'), Symbol(base='x', sub='1', plain='x1'))
    """
    base, _, sub = name.partition("_")
    digits = re.search(r"\d*$", base)
    number = digits.group() if digits and digits.start() else ""
    letters = _greek(base.removesuffix(number))
    below = [*([number] if number else []), *(_greek(part) for part in sub.split("_") if part)]
    plain = "_".join([letters + number, *(below[1:] if number else below)])
    return Symbol(letters, ",".join(below), plain)


def _greek(word: str) -> str:
    return _LETTERS.get(word, word)
