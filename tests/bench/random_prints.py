"""Random prints as people type them, and what a proposal makes of each: run as it stands, grave words collected."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

from calc.language.problems import Problem
from calc.questions.part.feature import FEATURE
from server.query import read_query

MATERIALS = ("C45", "42CrMo4", "1.4305", "11SMn30", "6061-T6", "CuZn39Pb3")
LATHE = {"max_rpm": "2500", "chuck_limit": "3200", "motor_power": "11"}
THREADS = {"M6-6g": 6.0, "M8-6g": 8.0, "M10-6g": 10.0, "M12x1.5-6g": 12.0, "M16-6g": 16.0, "M20x1.5-6g": 20.0,
           "M24x2-6g": 24.0, "M30x1.5-6g": 30.0, "M36x2-6g": 36.0}  # fmt: skip
LEFT = 0.5
"""mm: more than that left, and nothing said of it, is a fault."""


@dataclass
class Proposal:
    """What is wrong with the operations that are proposed for a print, what is said of them, how many there are."""

    texts: dict[str, str]
    faults: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    operations: int = 0
    left: float = 0.0


def random_print(seed: int) -> dict[str, str]:
    """The typed texts of a part: steps up and down with tapers, fillets, undercuts, threads, grooves, balls, bores."""
    rng = random.Random(seed)
    rows, widest, length, least = _outside(rng)
    texts = {"outside": "*".join(rows), "material": rng.choice(MATERIALS), **LATHE}
    texts["bar_diameter"] = f"{math.ceil(widest + rng.uniform(0.5, 3.0)):g}"
    texts["face_stock"] = rng.choice(["0.5", "1", "2"])
    if rng.random() < 0.4 and least > 9.0:
        texts["inside"] = "*".join(_inside(rng, least - rng.uniform(4.0, 6.0), length))
    return texts


def _outside(rng: random.Random) -> tuple[list[str], float, float, float]:
    x, z, least = round(rng.choice([rng.uniform(3.0, 8.0), rng.uniform(10.0, 40.0)]), 1), 0.0, math.inf
    rows, front = ["s_x0_z0"], rng.random()
    if front < 0.12:
        rows.append(f"a_r{x / 2:g}_cx0_cz{-x / 2:g}_x{x:g}_z{-x / 2:g}_ccw")
        z, least = -x / 2, 0.0
    else:
        rows += (
            [f"f_x{x:g}"] if rng.random() < 0.5 else ["f", *([f"c{rng.choice([0.3, 0.5, 1])}"] * (rng.random() < 0.7))]
        )
    steps = rng.randint(1, 4)
    for step in range(steps):
        x, z = _stretch(rng, rows, x, z)
        least = min(least, x)
        if step < steps - 1:
            x = round(x + rng.uniform(1.0, 10.0), 1)
            z = _up(rng, rows, x, z)
    widest = x
    for _ in range(rng.randint(0, 2)):
        down = round(x - rng.uniform(1.0, 6.0), 1)
        if down < 3.0:
            break
        x = down
        rows.append(f"f_x{x:g}")
        z = round(z - rng.uniform(4.0, 12.0), 1)
        rows.append(f"t_z{z:g}")
        least = min(least, x)
    z, ball = _end(rng, rows, x, z)
    return rows, max(widest, ball), -z, least if not ball else 0.0


def _stretch(rng: random.Random, rows: list[str], x: float, z: float) -> tuple[float, float]:
    """A cylinder, with limits, a groove or a thread at times, or a taper."""
    long, kind = round(rng.uniform(6.0, 30.0), 1), rng.random()
    end = round(z - long, 1)
    named = [name for name, size in THREADS.items() if abs(size - x) < 0.06]
    if kind < 0.15 and long > 12.0:
        wide, deep = rng.choice([2.0, 3.0, 4.5]), rng.choice([0.5, 1.0, 1.5])
        rows += [f"t_z{z - 4.0:g}" if rows[-1].startswith(("f_", "a", "l")) else f"t_x{x:g}_z{z - 4.0:g}",
                 f"g_w{wide:g}_dep{deep:g}", f"t_z{end:g}"]  # fmt: skip
    elif kind < 0.25:
        x = round(x + 2.0 * long * math.tan(math.radians(rng.choice([2.0, 5.0, 15.0]))), 3)
        if rows[-1] == "f" or rows[-1].startswith("c"):
            rows.append(f"t_x{round(x - 1.0, 3):g}_z{z - 1.0:g}")
        rows.append(f"l_x{x:g}_z{end:g}")
    elif named and long > 10.0:
        rows.append(f"h_named{named[0]}_z{end:g}")
    else:
        limit = rng.choice(["", "", " h6", " k6", " h9"]) if rng.random() < 0.5 else ""
        rows.append(f"t_x{x:g}{limit}_z{end:g}")
    return x, end


def _up(rng: random.Random, rows: list[str], x: float, z: float) -> float:
    """A shoulder up to a diameter: sharp, with a fillet, an undercut, or a cone."""
    kind = rng.random()
    if kind < 0.2:
        rows.append(f"e{rng.choice([0.4, 0.8, 1.2]):g}")
    elif kind < 0.35 and rows[-1].startswith("t_x") and x > 14.0:
        rows.append(rng.choice(["uE 0.6x0.3", "uF 0.6x0.3", "uE 0.4x0.2", "uF 0.4x0.2"]))
    elif kind < 0.45:
        down = round(z - 2.0, 1)
        rows.append(f"l_x{x:g}_z{down:g}")
        return down
    rows.append(f"f_x{x:g}")
    if rng.random() < 0.2:
        rows.append("c0.5")
    return z


def _end(rng: random.Random, rows: list[str], x: float, z: float) -> tuple[float, float]:
    """How it ends: open, faced, with a chamfer, a cone or a ball; the last z, and the ball's diameter."""
    kind = rng.random()
    if kind < 0.4:
        return z, 0.0
    if kind < 0.6:
        rows.append("f_x0")
    elif kind < 0.8:
        rows += [f"c{rng.choice([0.3, 0.5, 1]):g}", "f_x0"]
    elif kind < 0.9:
        z = round(z - x / 2.0 - 1.0, 2)
        rows.append(f"l_x0_z{z:g}")
    else:
        ball = x / 2.0 + rng.choice([0.0, 2.0])
        middle = z - math.sqrt(ball**2 - (x / 2.0) ** 2)
        rows.append(f"a_r{ball:g}_cx0_cz{middle:.4f}_x0_z{middle - ball:.4f}_ccw")
        return middle - ball, 2.0 * ball
    return z, 0.0


def _inside(rng: random.Random, x: float, length: float) -> list[str]:
    x, kind = round(x, 1), rng.random()
    if kind < 0.3:
        return [f"s_x{x:g}{rng.choice(['', ' H7', ' H9'])}_z0", f"t_z{-length:g}"]
    if kind < 0.5:
        return [f"s_x{x + 1:g}_z0", f"l_x{x:g}_z-0.5", f"t_z{-round(length * 0.6, 1):g}", "f_x0"]
    if kind < 0.8:
        step = round(max(x - rng.uniform(1.0, 5.0), 2.0), 1)
        return [f"s_x{x:g}_z0", f"t_z{-round(length * rng.uniform(0.3, 0.6), 1):g}", f"f_x{step:g}", f"t_z{-length:g}"]
    thread = rng.choice(["M6-6H", "M8-6H", "M10-6H"])
    return ["s_z0", f"h_named{thread}_z{-round(length * 0.7, 1):g}"]


def proposed_for(seed: int) -> Proposal | None:
    """The proposal for a random print, run as it stands; None where the print itself is refused."""
    texts = random_print(seed)
    found = Proposal(texts)
    try:
        FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))
    except Problem as problem:
        fault = problem.faults[0]
        if fault.field != "operations" or not fault.offers:
            return None
        found.said.append(fault.message.say())
        _run(found, {**texts, "operations": str(fault.offers[0])})
    return found


def _run(found: Proposal, texts: dict[str, str]) -> None:
    found.operations = texts["operations"].count("*") + 1
    try:
        answer = FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))[0]
    except Problem as problem:
        found.faults += [f"refused: {each.message.say()}" for each in problem.faults]
        return
    found.left = answer.results.material_left
    found.said += [each.message.say() for each in answer.cautions]
    named = len(found.said[0]) > len(ASKED)
    found.faults += (each for each in found.said if any(word in each for word in GRAVE))
    if not named:
        found.faults += (each for each in found.said if UNWORKED in each)
        if found.left > LEFT:
            found.faults.append(f"{found.left:.2f} left and nothing said of it")


ASKED = "Add the first operation: what it does, with which tool."
GRAVE = ("Do not run it", "into the part", "passes left out", "comes free, and nothing", "stalls")
UNWORKED = "No operation cuts"
