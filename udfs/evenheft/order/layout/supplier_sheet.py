"""The Supplier sheet: heads to order by mass, and what came back."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity, number_check, unit_heading

SUPPLIER = Table(
    "Supplier",
    "Supplier",
    "Heads to order by mass. What is sent out is made from this sheet; what comes back is entered on the right.",
    (
        *identity(),
        Column("model", "Head model", 16, "label", "={parts.model}", wrap=True),
        Column("forecast", unit_heading("Head mass by forecast", "unit_mass"), 11, "computed", "={parts.head_wanted}",
               "0.0", band="Wanted"),
        Column("wanted", unit_heading("Head mass wanted", "unit_mass"), 11, "input", number="0.0", band="Wanted",
               prompt="Target mass of the head you order."),
        Column("tolerance", unit_heading("Plus or minus", "unit_mass"), 9, "input", number="0.0", band="Wanted",
               prompt="By how much the head's mass may differ."),
        Column("loft", "Loft (deg)", 8, "input", number="0.0", band="Wanted",
               prompt="Loft wanted, in degrees. Blank: what Order wants of the club."),
        Column("lie", "Lie (deg)", 8, "input", number="0.0", band="Wanted",
               prompt="Lie wanted, in degrees. Blank: what Order wants of the club."),
        Column("quantity", "Quantity", 8, "input", number="0", band="Wanted", prompt="How many of this head.",
               check=number_check(0, 999)),
        Column("note", "Note to supplier", 26, "input", wrap=True, band="Wanted",
               prompt="Leaves the shop: write nothing about the customer here."),
        Column("received", unit_heading("Mass received", "unit_mass"), 10, "input", number="0.0", band="Came back",
               prompt="What the supplier's or your own scale says of the head. evenheft receive fills it in."),
        Column("remark", "Supplier's note", 22, "input", wrap=True, band="Came back"),
        Column("deviation", unit_heading("Deviation", "unit_mass"), 9, "computed",
               '=IF(AND(ISNUMBER({supplier.u_received}),ISNUMBER({supplier.u_wanted})),'
               'ROUND({supplier.u_received}-{supplier.u_wanted},shop_mass_digits),"")', "+0.0#;-0.0#;0.0",
               band="Came back"),
        Column("verdict", "Verdict", 11, "computed",
               "=HEFT_VERDICT({supplier.u_received},{supplier.u_wanted},{supplier.u_tolerance})", band="Came back"),
        *(Column(f"u_{key}", heading, 9, "work", f"=HEFT_CONVERT({{supplier.{key}}},unit_mass,unit_mass)", "0.0")
          for key, heading in (("received", "Received"), ("wanted", "Wanted"), ("tolerance", "Tolerance"))),
        Column("loft_wanted", "Loft wanted", 8, "work", '=IF({supplier.loft}="",{set.loft_goal},{supplier.loft})',
               "0.0"),
        Column("lie_wanted", "Lie wanted", 8, "work", '=IF({supplier.lie}="",{set.lie_goal},{supplier.lie})', "0.0"),
    ),
)  # fmt: skip
