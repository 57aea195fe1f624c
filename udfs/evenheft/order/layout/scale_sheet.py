"""The Scale sheet: the swingweight scale's reading against the calculation, club by club and over the set."""

from __future__ import annotations

from evenheft.order.layout.grid import Column, Table, identity

_POINTS = '=IF({{bench.reading}}="","",{})'

SCALE = Table(
    "Scale",
    "Scale",
    "Your own scale has the last word: what it read on Bench, against what mass and balance of the same club say.",
    (
        *identity(18),
        Column("stage", "Measured on", 11, "label", _POINTS.format("{bench.stage}"), band="Swingweight"),
        Column("calculated_label", "Calculated", 11, "computed", "=HEFT_LABEL({scale.calculated})", band="Swingweight"),
        Column("scale_label", "Scale", 11, "computed", "=HEFT_LABEL({scale.scale})", band="Swingweight"),
        Column("difference", "Scale less calculated", 11, "computed",
               '=IF(ISNUMBER({scale.apart}),ROUND({scale.apart},1),"")', "+0.0;-0.0;0.0", band="Swingweight"),
        Column("doubt", "Doubt of both", 10, "computed",
               '=IF(ISNUMBER({scale.difference}),HEFT_COMBINED_DOUBT(doubt_scale,{scale.points_doubt}),"")', "0.0",
               band="Swingweight"),
        Column("verdict", "Verdict", 12, "computed",
               '=IF(ISNUMBER({scale.difference}),IF(ABS({scale.apart})<={scale.doubt},"agrees","differs"),"")',
               band="Swingweight"),
        Column("calculated", "Calculated (points)", 10, "work",
               _POINTS.format("HEFT_POINTS({bench.mass_weighed},{bench.balance_weighed},shop_units)"), "0.00"),
        Column("scale", "Scale (points)", 10, "work",
               _POINTS.format("IF(ISNUMBER({bench.reading}),{bench.reading},HEFT_FROM_LABEL({bench.reading}))"),
               "0.00"),
        Column("points_doubt", "Doubt of the calculation", 10, "work",
               "={bench.points_measured}", "0.00"),
        Column("apart", "Scale less calculated, unrounded", 8, "work",
               '=IF(AND(ISNUMBER({scale.calculated}),ISNUMBER({scale.scale})),{scale.scale}-{scale.calculated},"")',
               "0.00"),
    ),
)  # fmt: skip

SUMMARY = tuple(
    (label, f'=IF({{both}}<2,"",ROUND(HEFT_AGREEMENT({{calculated}},{{scale}},"{what}"),2))', number)
    for label, what, number in (
        ("Clubs with both values", "count", "0"),
        ("Bias: the scale reads more by", "bias", "+0.00;-0.00;0.00"),
        ("Standard deviation", "sd", "0.00"),
        ("95 % limits for the next club: from", "next lower", "+0.00;-0.00;0.00"),
        ("to", "next upper", "+0.00;-0.00;0.00"),
        ("Limits of agreement (bias - 1.96 sd): from", "lower", "+0.00;-0.00;0.00"),
        ("(bias + 1.96 sd): to", "upper", "+0.00;-0.00;0.00"),
    )
)
"""Lines under the table: what is told, the formula over the whole columns in braces, and its number format."""
SUMMARY_LINE = '=IF({both}<2,"",HEFT_AGREEMENT({calculated},{scale},"line"))'
"""Formula of the line that says so where the clubs are too few."""
