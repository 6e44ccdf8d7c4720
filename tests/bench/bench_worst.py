"""The worst contours that are let through, asked of every call that takes one: `python -m tests.bench.bench_worst`.

Each question is computed in a process of its own, forked from one that has loaded everything, as the server's are.
Prints the processor's time and the memory of each. Marked are those that the server would stop in a sentence: beyond
its time or its memory. Exits with 1 when a question met a fault.
"""

from __future__ import annotations

import json
import math
import os
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc.language.fields import specs
from calc.language.quantities import View
from server.answering import Answering
from server.catalogue import FEATURES, POSTS
from server.computing import workers
from server.computing.refused import USUAL
from server.computing.worker import made, warm
from server.settings import STATIC, TEMPLATES

MOST_SECONDS, MOST_MB = USUAL, 200.0
PLAN = {"face_stock": "1", "nose_radius": "0.8", "pass_depth": "1", "feed": "0.1", "rough_feed": "0.2",
        "surface_speed": "180", "max_rpm": "2500", "bar_diameter": "60"}  # fmt: skip


@dataclass(frozen=True)
class Measured:
    """What a question took: seconds of the processor, MB, and the answer's status, 0 for a fault."""

    seconds: float
    megabytes: float
    status: int

    @property
    def within(self) -> bool:
        """Whether it keeps to what the server gives it."""
        return self.seconds <= MOST_SECONDS and self.megabytes <= MOST_MB


def contours() -> Mapping[str, str]:
    """Contours at the limits of what is let through, and the heaviest ordinary ones."""
    zigzag = "".join(f"*l_x{40 + 0.5 * (row % 2)}_z{-0.5 * (row + 1)}" for row in range(998))
    comb = "".join(f"*t_z{-7 * row - 3}*f_x30*t_z{-7 * row - 7}*f_x40" for row in range(24))
    rounded = "".join(f"*t_z{-2 * step}*e0.15*f_x{20 + 0.75 * step:g}*e0.15" for step in range(1, 51))
    smooth = "*t_z-5" + "".join(f"*a_r{5 + arc % 3}_z{-9 - 4 * arc}_smooth" for arc in range(24))
    return {
        "1,000 rows": f"s_x40_z0{zigzag}",
        "24 grooves": f"s_x0_z0*f_x40{comb}*t_z-175",
        "100 rounded corners": f"s_x20_z0{rounded}*t_z-102",
        "24 tangent arcs": f"s_x40_z0{smooth}",
        "3 m": "s_x20_z0*t_z-1500*l_x30_z-1500*t_z-2900",
    }


def questions() -> Iterator[tuple[str, str, Any]]:
    """The call, the contour's name, and what is asked: texts of a GET, or the body of a POST."""
    for feature in FEATURES:
        if feature.path in ("plan/part", "measure/part"):
            yield from parts(feature.example) if feature.path == "plan/part" else ()
            continue
        declared = {spec.name: spec for spec in specs(feature.inputs)}
        for name in (spec.name for spec in declared.values() if spec.role == "contour"):
            for of, text in contours().items():
                texts = {
                    **feature.example,
                    **{known: PLAN[known] for known in PLAN.keys() & declared.keys()},
                    name: text,
                }
                if name != "contour" and "contour" in declared:
                    texts["contour"] = "s_x0_z0*f_x50*t_z-520"
                if "own" in getattr(declared.get("shape"), "choices", ()):
                    texts["shape"] = "own"
                yield feature.path, f"{name}: {of}", texts
    yield from bodies()


def parts(example: Mapping[str, str]) -> Iterator[tuple[str, str, Any]]:
    """The same contours as the outside of a whole part, and as its bore, with the operations of its example."""
    turning, of_bore, boring = example["operations"].partition("*kind:bore")
    long = {"1,000 rows": 500, "24 grooves": 176, "100 rounded corners": 103, "24 tangent arcs": 102, "3 m": 2901}
    for name, text in contours().items():
        start, *rows = text.split("*")
        faced = f"s_x0_z0*f_{start[2:].removesuffix('_z0')}*{'*'.join(rows)}" if "x0_" not in start else text
        outside = {"outside": faced, "inside": "", "stock_bore": "", "operations": turning.replace("~to_row:2", "")}
        sizes = {"bar_diameter": "125", "stock_length": str(min(long[name] + 5, 2950))}
        yield "plan/part", f"outside: {name}", {**example, **outside, **sizes}
        if "grooves" not in name and "3 m" not in name:
            bored = {"outside": f"s_x0_z0*f_x120*t_z-{long[name]}", "inside": f"{text}*t_z-{long[name]}"}
            yield "plan/part", f"inside: {name}", {**example, **bored, **sizes, "operations": (of_bore + boring)[1:]}


def bodies() -> Iterator[tuple[str, str, Any]]:
    """The same of the calls that take a body, and of those whose work grows with what is measured or read."""
    contours = {
        "1,000 rows": _body([{"kind": "line", "x": 40 + 0.5 * (row % 2), "z": -0.5 * row - 0.5} for row in range(998)]),
        "1,000 rows of steps": _body([_step(row) for row in range(998)]),
        "300 arcs": _body([_wave(arc) for arc in range(300)]),
        "500 arcs": _body([_wave(arc) for arc in range(500)]),
    }
    nosed = {"nose_radius": 0.8, "tool_point": "3"}
    readings = [_diameter(row) for row in range(40)]
    for name, contour in contours.items():
        yield "/api/geometry/contour", f"{name} by their ends and centres", contour
        yield "/api/nose-radius/path", name, {"contour": contour, **nosed}
        yield "/api/nose-radius/path", f"{name} with a nose of 50", {"contour": contour, "nose_radius": 50}
        yield "/api/measure/error-by-cause", name, {"shape": "own", "contour": contour, **nosed, "x_off": 0.01}
        yield "/api/nose-radius/reach-contour", name, {"shape": "own", "contour": contour, **_TOOL}
        yield "/api/plan/tools", name, {"contour": contour}
        yield "/api/measure/first-part", name, {"shape": "own", "contour": contour, **nosed, "readings": readings}
    yield from curves()
    yield from examples()


def curves() -> Iterator[tuple[str, str, Any]]:
    """10,000 points of a smooth curve, and of one that no arcs fit."""
    smooth = [{"x": 40 + 8 * math.sin(place / 400), "z": -0.02 * place} for place in range(10_000)]
    yield "/api/geometry/fit-curve", "10,000 points", {"points": smooth, "tolerance": 0.01}
    rough = [{**point, "x": 40 + 2 * (place % 7)} for place, point in enumerate(smooth)]
    yield "/api/geometry/fit-curve", "10,000 points of a saw", {"points": rough, "tolerance": 0.01}


def examples() -> Iterator[tuple[str, str, Any]]:
    """Questions that take no contour of one's own, or one with operations and readings."""
    of = {feature.path: feature.example for feature in FEATURES}
    for path in ("speed-feed/speed-along", "speed-feed/force-along", "speed-feed/compare"):
        yield path, "its example", dict(of[path])
        yield path, "3 m at a fine feed", {**of[path], "radius": "1500", "depth": "1400", "feed": "0.001"}
    measured = of["measure/part"]
    yield "measure/part", "its example", dict(measured)
    for rows in (300, 998):
        steps = "".join(f"*t_z{-0.5 * row}*f_x{40 + 0.05 * row:g}" for row in range(1, rows // 2))
        outside = {"outside": f"s_x0_z0*f_x40{steps}", "inside": "", "stock_bore": "", "readings": _READING}
        sizes = {"bar_diameter": "80", "stock_length": "260"}
        turning = measured["operations"].partition("*kind:bore")[0].removesuffix("~to_row:2")
        yield "measure/part", f"outside: {rows} rows of steps", {**measured, **outside, **sizes, "operations": turning}


_TOOL = {"insert": "DCMT 11T304", "holder": "SDJCR 2020K11"}
_READING = "what:diameter~nominal:40.5 mm~lower:40.4 mm~upper:40.6 mm~measured:40.51 mm~spread:0.004 mm"


def _body(elements: list[dict[str, Any]]) -> dict[str, Any]:
    return {"start": {"x": elements[0]["x"], "z": 0}, "elements": elements}


def _step(row: int) -> dict[str, Any]:
    """Shoulders and cylinders by turns, growing away from the face."""
    return {"kind": "line", "x": 40 + 0.1 * ((row + 1) // 2), "z": -0.5 * (row // 2 + 1)}


def _diameter(row: int) -> dict[str, Any]:
    at = -0.25 - 0.5 * row
    return {"what": "diameter", "at": at, "nominal": 40.2, "measured": 40.21 + 0.001 * row, "spread": 0.003}


def _wave(number: int) -> dict[str, Any]:
    side = 1 if number % 2 else -1
    turn, centre = "cw" if side > 0 else "ccw", {"centre_x": 60 + side * 27**0.5, "centre_z": -3.0 * number - 1.5}
    return {"kind": "arc", "x": 60, "z": -3.0 * number - 3, "radius": 3, "turn": turn, **centre}


def measured(answering: Answering, path: str, asked: Any) -> Measured:
    """Answer one question in a process of its own."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        os.write(writing, json.dumps(_answered(answering, path, asked)).encode())
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as words:
        told = words.read()
    os.waitpid(child, 0)
    return Measured(*json.loads(told)) if told else Measured(0.0, 0.0, 0)


def _answered(answering: Answering, path: str, asked: Any) -> tuple[float, float, int]:
    import resource  # noqa: PLC0415 - not on Windows

    resource.setrlimit(resource.RLIMIT_CPU, (60, 60))
    begin = time.process_time()
    if path.startswith("/api/"):
        post = next(post for post in POSTS if post.path == path)
        status = answering.post(post, json.dumps(asked).encode(), View()).status_code
    else:
        feature = next(feature for feature in FEATURES if feature.path == path)
        status = answering.api(feature, list(asked.items())).status_code
    return time.process_time() - begin, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, status


def main(arguments: list[str]) -> int:
    """Ask them all, or those whose call or contour holds one of the words; print a row for each."""
    warm()
    answering: Answering = made(workers.answering, TEMPLATES, STATIC)
    faults = 0
    for path, name, asked in questions():
        if arguments and not any(word in f"{path} {name}" for word in arguments):
            continue
        found = measured(answering, path, asked)
        faults += found.status not in (200, 422) and found.within
        mark = "  " if found.within else "! "
        print(f"{mark}{path:32} {name:36} {found.seconds:6.2f} s {found.megabytes:5.0f} MB  {found.status}", flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
