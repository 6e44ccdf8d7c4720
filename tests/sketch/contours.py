"""Contours drawn by chance, as prints give them: steps, cones, arcs, broken corners, some dimensions left out."""

from __future__ import annotations

import random


def contour(seed: int) -> tuple[str, str]:
    """The contour's text and where its tool stands: outside or in a bore; the same for the same seed.

    >>> contour(1) == contour(1)
    True
    """
    chance = random.Random(seed)
    inside = chance.random() < 0.25
    size = 10.0 ** chance.uniform(0.3, 2.5)
    z, x = 0.0, round(size * chance.uniform(0.3, 1.0) * (4.0 if inside else 1.0), 2)
    rows = [f"s_x{0 if not inside else x:g}_z0"] + ([] if inside else [f"f_x{x:g}", _corner(chance, size)])
    for _ in range(chance.randint(1, 7)):
        long, step = round(size * chance.uniform(0.1, 1.5), 2), round(size * chance.uniform(0.1, 0.6), 2)
        z, before = round(z - long, 2), x
        x = round(max(x - step, 0.1) if inside else x + step, 2)
        rows += _stretch(chance, z, x, before)
        rows.append(_corner(chance, min(long, step)))
    rows.append(f"t_dz-{size:.2f}")
    return "*".join(row for row in rows if row), "left" if inside else "right"


def _stretch(chance: random.Random, z: float, x: float, before: float) -> list[str]:
    """A cylinder and a face, a cone given in one of the usual ways, or an arc; each to the same end."""
    half = abs(x - before) / 2.0
    kind = chance.randrange(6)
    if kind < 3:
        return [*_grooved(chance, z, half), f"t_z{z:g}", f"f_x{x:g}"]
    if kind == 3:
        return [f"t_z{z + half:g}", f"l_x{x:g}_ha45" if x > before else f"l_x{x:g}_z{z:g}"]
    if kind == 4:
        return [f"l_z{z:g}_tp1:{chance.choice((4, 10, 20))}" if x > before else f"l_x{x:g}_z{z:g}", f"f_x{x:g}"]
    return [
        f"t_z{z + half:g}",
        f"a_x{x:g}_z{z:g}_r{half * chance.choice((1.5, 3.0)):.3f}_{chance.choice(('cw', 'ccw'))}",
    ]


def _grooved(chance: random.Random, z: float, room: float) -> list[str]:
    """Now and then a groove in the cylinder that ends at `z`, by its width and depth."""
    width, deep = round(0.4 * room, 2), round(0.15 * room, 2)
    if chance.random() < 0.5 or min(width, deep) <= 0.0:
        return []
    return [f"t_z{z + 1.5 * width:g}", f"g_w{width:g}_dep{deep:g}"]


def _corner(chance: random.Random, room: float) -> str:
    size = round(0.12 * room, 2)
    return chance.choice(("", "", f"c{size:g}", f"e{size:g}")) if size > 0.0 else ""
