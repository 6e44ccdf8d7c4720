"""The demo's parts, each as its body is posted, from the bar to the finished piece."""

from __future__ import annotations

import math
from typing import Any

from calc.language.quantities import View
from calc.questions.operations.knurl import KnurlInputs
from calc.questions.operations.knurl import solve as knurl


def line(x: float, z: float, corner: float | None = None, kind: str = "chamfer") -> dict[str, Any]:
    return {"kind": "line", "x": x, "z": z, "corner": {"kind": kind, "size": corner} if corner else None}


def cut(speed: float, feed: float, depth: float | None = None, z: float = 0.0, x: float = 0.0) -> dict[str, Any]:
    return {"surface_speed": speed, "feed": feed, "depth": depth, "allowance_z": z, "allowance_x": x}


ROUND = {"insert": "RCMT 1204M0", "holder": "SRDCN 2525M12"}
FINE = {"insert": "DCMT 11T304", "holder": "SDJCR 2020K11"}
STRONG = {"insert": "CNMG 120408", "holder": "PCLNR 2525M12"}
BAR = {"insert": "DCMT 11T304", "holder": "S16R-SDUCR11"}
LATHE_2 = {"max_rpm": 2500, "motor_power": 11, "chuck_limit": 3200}

DISH = {
    "kind": "arc",
    "x": 2 * math.sqrt(75**2 - 70.5**2),
    "z": 0,
    "radius": 75,
    "turn": "cw",
    "corner": {"kind": "radius", "size": 0.8},
}
SEAT: dict[str, Any] = {
    "part": {
        "material": "C45",
        "outside": {"start": {"x": 0, "z": -4.5}, "elements": [DISH, line(60, 0), line(60, -20)]},
    },
    "stock": {"bar_diameter": 60, "face_stock": 1},
    "machine": {**LATHE_2, "max_rpm": 2000},
    "setups": [
        {
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(200, 0.2, 1.0)},
                {"kind": "rough", "tool": ROUND, "cut": cut(180, 0.25, 1.0, 0.3), "to": 1},
                {"kind": "finish", "tool": ROUND, "cut": cut(220, 0.2), "to": 1},
                {"kind": "part-off", "tool": {"width": 4}},
            ]
        }
    ],
}
CROWN = {
    "kind": "arc",
    "x": 2.0,
    "z": math.sqrt(2.9375**2 - 1) - 2.9375,
    "radius": 2.9375,
    "turn": "cw",
    "corner": {"kind": "radius", "size": 1 / 32},
}
PAD: dict[str, Any] = {
    "part": {
        "material": "6061-T6",
        "outside": {"start": {"x": 0, "z": 0}, "elements": [CROWN, line(2.0, -0.75)]},
    },
    "stock": {"bar_diameter": 2.25, "face_stock": 0.04},
    "machine": {"max_rpm": 1800, "motor_power": 15},
    "setups": [
        {
            "operations": [
                {"kind": "face", "tool": FINE, "cut": cut(900, 0.006, 0.04)},
                {"kind": "rough", "tool": FINE, "cut": cut(900, 0.008, 0.06, 0.004, 0.012)},
                {"kind": "finish", "tool": FINE, "cut": cut(1000, 0.006)},
                {"kind": "part-off", "tool": {"width": 0.16}},
            ]
        }
    ],
}
STEM: dict[str, Any] = {
    "part": {
        "material": "42CrMo4",
        "outside": {
            "start": {"x": 0, "z": 0},
            "elements": [
                line(19.8, 0, 1.0),
                line(22, -22),
                line(24, -22),
                line(24, -60),
                line(31, -60),
                {"kind": "line", "x": 31},
                {"kind": "arc", "radius": 8, "tangent": True},
                {"kind": "line", "angle": 150, "x": 41, "z": -90, "tangent": True},
            ],
        },
    },
    "stock": {"bar_diameter": 42, "face_stock": 1},
    "machine": LATHE_2,
    "setups": [
        {
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(180, 0.2, 1.0)},
                {"kind": "rough", "tool": STRONG, "cut": cut(180, 0.25, 2.0, 0.1, 0.3)},
                {"kind": "finish", "tool": FINE, "cut": cut(220, 0.12)},
                {"kind": "part-off", "tool": {"width": 4}},
            ]
        }
    ],
}
SLEEVE: dict[str, Any] = {
    "part": {
        "material": "C45",
        "outside": {
            "start": {"x": 28.4, "z": 0},
            "elements": [
                line(42, 0, 1.0),
                line(42, -19.2),
                line(38, -19.2),
                line(38, -22.8),
                line(42, -22.8),
                line(42, -28),
                line(36, -28),
                line(36, -40, 1.0),
                line(25, -40),
            ],
        },
        "inside": {
            "start": {"x": 30.4, "z": 0},
            "elements": [
                line(28.376, -1.012),
                line(28.376, -14),
                line(30.5, -15.8),
                line(30.5, -19),
                line(25, -19),
                line(25, -40),
            ],
        },
    },
    "stock": {"bar_diameter": 45, "face_stock": 1},
    "machine": LATHE_2,
    "setups": [
        {
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(200, 0.2, 1.5)},
                {"kind": "drill", "tool": {"diameter": 24}},
                {"kind": "rough", "tool": STRONG, "cut": cut(200, 0.25, 1.5, 0.1, 0.2), "to": 6},
                {"kind": "finish", "tool": FINE, "cut": cut(220, 0.12), "to": 2},
                {"kind": "bore", "tool": BAR, "cut": cut(160, 0.15, 1.0, 0.1, 0.2)},
                {"kind": "bore", "tool": BAR, "cut": cut(160, 0.1)},
                {"kind": "measure"},
                {"kind": "groove", "tool": {"width": 2}, "from": 3, "to": 5},
                {"kind": "groove", "where": "inside", "tool": {"width": 2}, "from": 3, "to": 5},
                {"kind": "thread", "tool": {"thread": "M30x1.5-6H"}, "from": 2, "to": 2},
                {"kind": "part-off", "tool": {"width": 3}, "cut": {"allowance_z": 0.5}},
            ]
        },
        {
            "end": "second",
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(200, 0.2, 1.0), "from": 9, "to": 9},
                {"kind": "rough", "tool": STRONG, "cut": cut(200, 0.2, 1.5, 0.1, 0.2), "from": 7, "to": 9},
                {"kind": "finish", "tool": FINE, "cut": cut(220, 0.12), "from": 7, "to": 9},
            ],
        },
    ],
}
BLANK = knurl(KnurlInputs(diameter=42.0, pitch=1.0, form="crossed")).results.diameter_before
LEANS = (42.0 - BLANK) / 2 / math.tan(math.radians(30.0))
WHOLE: dict[str, Any] = {
    "part": {
        "material": "C45",
        "outside": {
            "start": {"x": 28.4, "z": 0},
            "elements": [
                line(42, 0, 1.0),
                line(42, -3),
                line(BLANK, -3 - LEANS),  # turned to the blank of the knurl, leaning 30 degrees at both ends
                line(BLANK, -13 + LEANS),
                line(42, -13),
                line(42, -19.2),
                line(38, -19.2),  # O-ring of 2.65: 3.6 wide about Z-21
                line(38, -22.8),
                line(42, -22.8),
                line(42, -28),
                line(35.4, -28, 0.6, "radius"),  # DIN 509 - E 0.6 x 0.3: 2.5 long, runs out under 15 degrees
                line(35.4, -30.5 + 0.3 / math.tan(math.radians(15.0))),
                line(36, -30.5),
                line(36, -40, 1.0),
                line(25, -40),
            ],
        },
        "inside": SLEEVE["part"]["inside"],
    },
    "stock": {"bar_diameter": 45, "face_stock": 1},
    "machine": LATHE_2,
    "setups": [
        {
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(200, 0.2, 1.5)},
                {"kind": "drill", "tool": {"diameter": 24}},
                {"kind": "rough", "tool": STRONG, "cut": cut(200, 0.25, 1.5, 0.1, 0.2), "to": 10},
                {"kind": "finish", "tool": FINE, "cut": cut(220, 0.12), "to": 6},
                {"kind": "bore", "tool": BAR, "cut": cut(160, 0.15, 1.0, 0.1, 0.2)},
                {"kind": "bore", "tool": BAR, "cut": cut(160, 0.1)},
                {"kind": "measure"},
                {"kind": "groove", "tool": {"width": 2}, "from": 7, "to": 9},
                {"kind": "groove", "where": "inside", "tool": {"width": 2}, "from": 3, "to": 5},
                {"kind": "thread", "tool": {"thread": "M30x1.5-6H"}, "from": 2, "to": 2},
                {
                    "kind": "knurl",
                    "tool": {"pitch": 1.0, "form": "crossed", "over_diameter": 42},
                    "cut": {"surface_speed": 25, "feed": 0.2},
                    "from": 4,
                    "to": 4,
                },
                {"kind": "part-off", "tool": {"width": 3}, "cut": {"allowance_z": 0.5}},
            ]
        },
        {
            "end": "second",
            "operations": [
                {"kind": "face", "tool": STRONG, "cut": cut(200, 0.2, 1.0), "from": 15, "to": 15},
                {"kind": "rough", "tool": STRONG, "cut": cut(200, 0.2, 1.5, 0.1, 0.2), "from": 11, "to": 15},
                {"kind": "finish", "tool": FINE, "cut": cut(220, 0.12), "from": 11, "to": 15},
            ],
        },
    ],
}
PARTS = {
    "seat": (SEAT, View()),
    "pad": (PAD, View("inch")),
    "stem": (STEM, View()),
    "sleeve": (SLEEVE, View()),
    "whole": (WHOLE, View()),
}
