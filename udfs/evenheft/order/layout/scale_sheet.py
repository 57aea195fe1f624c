"""The Scale sheet: the swingweight scale's reading against the calculation, club by club and over the set."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity

SCALE = Table(
    "Scale",
    "Scale",
    "Your own scale has the last word: what it read on Bench, against what mass and balance of the same club say.",
    (
        *identity(),
        Column("stage", "Measured on", 11, "label",
               '=IF({bench.reading}="","",IF(OR({bench.done_mass}<>"",{bench.done_balance}<>""),"finished","dry fit"))',
               band="Swingweight"),
        Column("calculated_label", "Calculated", 11, "computed",
               '=IF(ISNUMBER({scale.calculated}),HEFT_LABEL({scale.calculated}),{scale.calculated})',
               band="Swingweight"),
        Column("scale_label", "Scale", 11, "computed",
               '=IF(ISNUMBER({scale.scale}),HEFT_LABEL({scale.scale}),{scale.scale})', band="Swingweight"),
        Column("difference", "Scale less calculated", 11, "computed",
               '=IF(AND(ISNUMBER({scale.calculated}),ISNUMBER({scale.scale})),{scale.scale}-{scale.calculated},"")',
               "+0.0;-0.0;0.0", band="Swingweight"),
        Column("doubt", "Doubt of both", 10, "computed",
               '=IF(ISNUMBER({scale.difference}),SQRT(HEFT_DOUBT({scale.mass},{scale.balance},doubt_mass,doubt_balance,'
               'shop_units)^2+(doubt_scale*2/SQRT(3))^2),"")', "0.0", band="Swingweight"),
        Column("verdict", "Verdict", 12, "computed",
               '=IF(ISNUMBER({scale.difference}),IF(ABS({scale.difference})<={scale.doubt},"agrees","differs"),"")',
               band="Swingweight"),
        Column("calculated", "Calculated (points)", 10, "work",
               '=IF({bench.reading}="","",HEFT_POINTS({scale.mass},{scale.balance},shop_units))', "0.00",
               band="Working"),
        Column("scale", "Scale (points)", 10, "work",
               '=IF({bench.reading}="","",IF(ISNUMBER({bench.reading}),{bench.reading},'
               "HEFT_FROM_LABEL({bench.reading})))",
               "0.00", band="Working"),
        Column("mass", "Mass measured", 10, "work", "={bench.mass_swung}", "0.0", band="Working"),
        Column("balance", "Balance measured", 10, "work", "={bench.balance_swung}", "0.00", band="Working"),
    ),
)  # fmt: skip

SUMMARY = tuple(
    (label, f'HEFT_AGREEMENT({{calculated}},{{scale}},"{what}")')
    for label, what in (
        ("Bias: the scale reads more by", "bias"),
        ("Standard deviation", "sd"),
        ("95 % of differences lie above", "lower"),
        ("and below", "upper"),
    )
)
"""Lines under the table: what is told, and the formula over the whole columns in braces."""
