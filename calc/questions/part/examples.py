"""The demonstration parts as whole parts: typed texts, as a page takes them."""

from __future__ import annotations

from collections.abc import Mapping

DCMT = "insert:DCMT 11T304~holder:SDJCR 2020K11"
BORING = "insert:DCMT 11T304~holder:S16R-SDUCR11"
CNMG = "insert:CNMG 120408~holder:PCLNR 2525M12"
ROUND = "insert:RCMT 1204M0~holder:SRDCN 2525M12"

SLEEVE = {
    "part_name": "Sleeve, plain",
    "outside": "s_x0_z0*f*c1*t_x42_z-28*f_x36*t_z-40",
    "inside": "s_x28.4_z0*t_z-19*f_x25 H7*t_z-40",
    "material": "C45",
    "bar_diameter": "45",
    "face_stock": "1",
    "stock_bore": "24",
    "stock_length": "42",
    "max_rpm": "2500",
    "chuck_limit": "3200",
    "motor_power": "11",
    "operations": "*".join(
        [
            f"kind:face~{CNMG}~surface_speed:180~feed:0.2~depth:1",
            f"kind:rough~{CNMG}~surface_speed:180~feed:0.25~depth:1.5~allowance_z:0.1~allowance_x:0.3~to_row:2",
            f"kind:finish~{DCMT}~surface_speed:220~feed:0.12~to_row:2",
            f"kind:bore~{BORING}~surface_speed:150~feed:0.15~depth:1~allowance_x:0.2",
            f"kind:bore~{BORING}~surface_speed:180~feed:0.1",
        ]
    ),
}
SEAT = {
    "part_name": "Seat",
    "outside": "s_x0_z-4.5*a_r75_z0_cx0*e0.8*f_x60*t_dz-20",
    "material": "C45",
    "bar_diameter": "60",
    "face_stock": "1",
    "max_rpm": "2000",
    "chuck_limit": "3200",
    "motor_power": "11",
    "operations": "*".join(
        [
            f"kind:face~{CNMG}~surface_speed:180~feed:0.25~depth:1",
            f"kind:rough~{ROUND}~surface_speed:180~feed:0.25~depth:1~allowance_z:0.3~to_row:1",
            f"kind:finish~{ROUND}~surface_speed:220~feed:0.2~to_row:1",
        ]
    ),
}
PAD = {
    "part_name": "Pad",
    "outside": "s_x0_z0*a_r2.9375_x2_cx0*e1/32*t_dz-0.75",
    "material": "6061-T6",
    "bar_diameter": "2.25",
    "face_stock": "0.04",
    "max_rpm": "1800",
    "motor_power": "15",
    "units": "inch",
    "operations": "*".join(
        [
            f"kind:face~{CNMG}~surface_speed:800~feed:0.01~depth:0.04~allowance_z:0.004",
            f"kind:rough~{CNMG}~surface_speed:800~feed:0.012~depth:0.08~allowance_z:0.004~allowance_x:0.012",
            f"kind:finish~{DCMT}~surface_speed:1000~feed:0.005",
        ]
    ),
}
STEM = {
    "part_name": "Stem",
    "outside": "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24 g6*t_dz-38*f_x31*t*a_r8_smooth*l_x41_z-90_ha30_smooth",
    "material": "42CrMo4",
    "bar_diameter": "42",
    "face_stock": "1",
    "max_rpm": "2500",
    "chuck_limit": "3200",
    "motor_power": "11",
    "operations": "*".join(
        [
            f"kind:face~{CNMG}~surface_speed:150~feed:0.2~depth:1~allowance_z:0.1",
            f"kind:rough~{CNMG}~surface_speed:150~feed:0.25~depth:2~allowance_z:0.1~allowance_x:0.3",
            f"kind:finish~{DCMT}~surface_speed:180~feed:0.12",
        ]
    ),
}
EXAMPLES: Mapping[str, Mapping[str, str]] = {"Sleeve": SLEEVE, "Seat": SEAT, "Pad": PAD, "Stem": STEM}
