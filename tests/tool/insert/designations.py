"""Designations and what the standards' tables say of them.

Metric form: ISO 1832:2017, tables of shapes, clearances, sizes, thicknesses and radii as printed in catalogues; inch
form: ANSI B212.4-1986. Lengths are the tables' rounded millimetres. Size codes partly from memory.
"""

from typing import NamedTuple


class Row(NamedTuple):
    """Text, shape, included angle (0: round), clearance, inscribed circle, thickness, corner radius, edge code."""

    text: str
    shape: str
    angle: float
    clearance: float
    size: float
    thickness: float
    nose: float
    edge: float | None = None


METRIC = (
    Row("CNMG 120408", "C", 80, 0, 12.70, 4.76, 0.8, 12),
    Row("CNMG 160612", "C", 80, 0, 15.875, 6.35, 1.2, 16),
    Row("CNMM 190624", "C", 80, 0, 19.05, 6.35, 2.4, 19),
    Row("CNMA 250924", "C", 80, 0, 25.40, 9.52, 2.4, 25),
    Row("CCMT 060204", "C", 80, 7, 6.35, 2.38, 0.4, 6),
    Row("CCMT 09T308", "C", 80, 7, 9.525, 3.97, 0.8, 9),
    Row("CCGT 120404", "C", 80, 7, 12.70, 4.76, 0.4, 12),
    Row("CPMT 080204", "C", 80, 11, 7.94, 2.38, 0.4, 8),
    Row("DNMG 150608", "D", 55, 0, 12.70, 6.35, 0.8, 15),
    Row("DNMG 110404", "D", 55, 0, 9.525, 4.76, 0.4, 11),
    Row("DCMT 11T304", "D", 55, 7, 9.525, 3.97, 0.4, 11),
    Row("DCMT 070202", "D", 55, 7, 6.35, 2.38, 0.2, 7),
    Row("SNMG 120412", "S", 90, 0, 12.70, 4.76, 1.2, 12),
    Row("SCMT 09T308", "S", 90, 7, 9.525, 3.97, 0.8, 9),
    Row("SNMM 250924", "S", 90, 0, 25.40, 9.52, 2.4, 25),
    Row("SPUN 190416", "S", 90, 11, 19.05, 4.76, 1.6, 19),
    Row("TNMG 160404", "T", 60, 0, 9.525, 4.76, 0.4, 16),
    Row("TNMG 220412", "T", 60, 0, 12.70, 4.76, 1.2, 22),
    Row("TCMT 110204", "T", 60, 7, 6.35, 2.38, 0.4, 11),
    Row("TPGN 160308", "T", 60, 11, 9.525, 3.18, 0.8, 16),
    Row("VNMG 160408", "V", 35, 0, 9.525, 4.76, 0.8, 16),
    Row("VBMT 160404", "V", 35, 5, 9.525, 4.76, 0.4, 16),
    Row("VCGT 220530", "V", 35, 7, 12.70, 5.56, 3.0, 22),
    Row("WNMG 080408", "W", 80, 0, 12.70, 4.76, 0.8, 8),
    Row("WNMG 060404", "W", 80, 0, 9.525, 4.76, 0.4, 6),
    Row("WCMT 040208", "W", 80, 7, 6.35, 2.38, 0.8, 4),
    Row("RCMT 1204M0", "R", 0, 7, 12.00, 4.76, 6.0),
    Row("RCMT 10T3M0", "R", 0, 7, 10.00, 3.97, 5.0),
    Row("RCMX 2006M0", "R", 0, 7, 20.00, 6.35, 10.0),
    Row("RNMG 120400", "R", 0, 0, 12.70, 4.76, 6.35),
    Row("RNMG 090300", "R", 0, 0, 9.525, 3.18, 4.7625),
    Row("RPGN 0602M0", "R", 0, 11, 6.00, 2.38, 3.0),
)
INCH = (
    Row("CNMG 432", "C", 80, 0, 12.70, 4.76, 0.79375),
    Row("CNMG 543", "C", 80, 0, 15.875, 6.35, 1.190625),
    Row("CCMT 3(2.5)2", "C", 80, 7, 9.525, 3.97, 0.79375),
    Row("CCMT 32.51", "C", 80, 7, 9.525, 3.97, 0.396875),
    Row("CCMT 21.51", "C", 80, 7, 6.35, 2.38, 0.396875),
    Row("DNMG 442", "D", 55, 0, 12.70, 6.35, 0.79375),
    Row("DNMG 331", "D", 55, 0, 9.525, 4.76, 0.396875),
    Row("SNMG 643", "S", 90, 0, 19.05, 6.35, 1.190625),
    Row("SNG 432", "S", 90, 0, 12.70, 4.76, 0.79375),
    Row("TNMG 331", "T", 60, 0, 9.525, 4.76, 0.396875),
    Row("TNMG 543", "T", 60, 0, 15.875, 6.35, 1.190625),
    Row("TPG 322", "T", 60, 11, 9.525, 3.18, 0.79375),
    Row("VNMG 332", "V", 35, 0, 9.525, 4.76, 0.79375),
    Row("WNMG 432", "W", 80, 0, 12.70, 4.76, 0.79375),
    Row("WNMG 331", "W", 80, 0, 9.525, 4.76, 0.396875),
    Row("RNMG 43", "R", 0, 0, 12.70, 4.76, 6.35),
    Row("RCGT 32.5", "R", 0, 7, 9.525, 3.97, 4.7625),
    Row("SNMG 866", "S", 90, 0, 25.40, 9.52, 2.38125),
)
PAIRS = (
    ("CNMG 120408", "CNMG 432"),
    ("DNMG 150608", "DNMG 442"),
    ("TNMG 160404", "TNMG 331"),
    ("WNMG 080408", "WNMG 432"),
    ("CCMT 09T308", "CCMT 3(2.5)2"),
    ("VNMG 160408", "VNMG 332"),
    ("SNMG 120408", "SNMG 432"),
    ("CNMG 190612", "CNMG 643"),
)
"""One insert in both forms: from memory, and in keeping with the tables."""
