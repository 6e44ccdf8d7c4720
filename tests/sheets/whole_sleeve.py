"""The whole sleeve as a lead has it on the page of a part: both ends, knurl, grooves, undercut, thread."""

from __future__ import annotations

from collections.abc import Iterator

from tests.server.whole_parts import BLANK, LEANS

ROUGHING = "insert:CNMG 120408~holder:PCLNR 2525M12~surface_speed:200"
FINISHING = "insert:DCMT 11T304~holder:SDJCR 2020K11~surface_speed:220~feed:0.12"
BORING = "insert:DCMT 11T304~holder:S16R-SDUCR11~surface_speed:160"
LEAVING = "depth:1.5~allowance_z:0.1~allowance_x:0.2"


def _operations() -> Iterator[str]:
    yield f"kind:face~{ROUGHING}~feed:0.2~depth:1.5"
    yield "kind:drill~size:24~hole_depth:45"
    yield f"kind:rough~{ROUGHING}~feed:0.25~{LEAVING}~to_row:10"
    yield f"kind:finish~{FINISHING}~to_row:6"
    yield f"kind:bore~{BORING}~feed:0.15~depth:1~allowance_z:0.1~allowance_x:0.2"
    yield f"kind:bore~{BORING}~feed:0.1"
    yield "kind:measure"
    yield "kind:groove~size:2~from_row:7~to_row:9"
    yield "kind:groove~where:inside~size:2"
    yield "kind:thread~thread:M30x1.5-6H~where:inside~from_row:1~to_row:1"
    yield "kind:knurl~size:1~knurl_form:crossed~over_knurl:42~surface_speed:25~feed:0.2~from_row:4~to_row:4"
    yield "kind:part-off~size:3~allowance_z:0.5~edge_lead:6"
    yield f"kind:face~end:second~{ROUGHING}~feed:0.2~depth:1~from_row:13~to_row:13"
    yield f"kind:rough~end:second~{ROUGHING}~feed:0.2~{LEAVING}~from_row:11~to_row:13"
    yield f"kind:finish~end:second~{FINISHING}~from_row:11~to_row:13"


WHOLE_SLEEVE = {
    "part_name": "Sleeve",
    "outside": f"s_x28.4_z0*f_x42*c1*t_z-3*l_x{BLANK:.4f}_z{-3 - LEANS:.4f}*t_z{-13 + LEANS:.4f}*l_x42_z-13*t_z-19.2"
    "*f_x38*t_z-22.8*f_x42*t_z-28*f_x36 h9*uE 0.6x0.3*t_z-40*c1*f_x25",
    "inside": "s_z0*h_namedM30x1.5-6H_z-19_reliefD*f_x25 H7*t_z-40",
    "material": "C45",
    "bar_diameter": "45",
    "face_stock": "1",
    "max_rpm": "2500",
    "chuck_limit": "3200",
    "motor_power": "11",
    "operations": "*".join(_operations()),
}
