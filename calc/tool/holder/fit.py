"""Whether an insert belongs in a holder: shape, clearance and size."""

from __future__ import annotations

from collections.abc import Iterator

from calc.language.messages import Message
from calc.tool.holder.model import Holder
from calc.tool.insert.model import Insert

SAME = 1e-6


def misfits(insert: Insert, holder: Holder) -> Iterator[Message]:
    """What speaks against the insert in the holder, nothing when they fit as far as both say.

    >>> from calc.tool.holder.reading import read_holder
    >>> from calc.tool.insert.reading import read_insert
    >>> [message.say() for message in misfits(read_insert("DCMT 070204"), read_holder("SDJCR 2020K11"))]
    ['The holder takes inserts of size 11, this one is 07.']
    >>> list(misfits(read_insert("DCMT 11T304"), read_holder("S16R-SDUCR11")))
    []
    """
    if insert.shape.letter != holder.shape.letter:
        values = {"wanted": holder.shape.words, "letter": holder.shape.letter,
                  "shape": insert.shape.words, "own": insert.shape.letter}  # fmt: skip
        yield Message("The holder takes shape {letter} ({wanted}), the insert is {own} ({shape}).", values)
    if insert.clearance is not None and insert.clearance.letter != holder.clearance.letter:
        values = {"wanted": holder.clearance.letter, "words": holder.clearance.words,
                  "letter": insert.clearance.letter, "own": insert.clearance.words}  # fmt: skip
        yield Message("The holder's seat is for clearance {wanted} ({words}), the insert has {letter} ({own}).", values)
    if holder.insert_code and insert.edge_code and not _same_size(insert, holder):
        values = {"wanted": holder.insert_code, "code": insert.edge_code}
        yield Message("The holder takes inserts of size {wanted}, this one is {code}.", values)


def _same_size(insert: Insert, holder: Holder) -> bool:
    """By the code where both are of one form, else by the inscribed circle."""
    if insert.form == holder.form:
        return insert.edge_code == holder.insert_code
    if insert.size is None or holder.insert_size is None:
        return True
    return abs(insert.size - holder.insert_size) < SAME
