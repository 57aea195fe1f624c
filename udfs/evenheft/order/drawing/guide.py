"""What the Guide sheet says."""

from __future__ import annotations

SECTIONS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "The work, sheet by sheet",
        (
            ("1  Order", "Who the order is for, the clubs and their groups, and the targets: for each group the first "
             "club's value, the change from club to club, and the deviation you accept; and what leads the advice on "
             "Fix. Leave blank what is not to be judged, or name a club that a group is to be like. For heads in hand "
             "the line of least added mass is offered. The next row to type in appears once this one has a name."),
            ("2  Shop", "What does not change from order to order: units, your instruments with their plus or minus, "
             "stock weights and how many there are, and what is usual where Parts says nothing."),
            ("3  Parts", "Loose parts as weighed, before any epoxy: where to cut, the forecast of the club, and beside "
             "it what the bench says. A head's mass received on Supplier is used where none was weighed. From a dry "
             "fit the forecast learns where the head's mass sits, for all heads of that model."),
            ("4  Card", "One page for the bench, to print and write on: each club, what it must hit, blanks for what "
             "is measured. evenheft card makes a PDF of it."),
            ("5  Bench", "What you measure on each club: mass and balance point of the dry fit, and again of the "
             "finished club; what the tape was hooked on; the period of a swing, length, loft, lie and frequency. Say "
             "what a dry fit still lacks, and the sheets after this one speak of the club as it will be. Period and "
             "scale reading are of the club as it was weighed: take them anew once it is finished."),
            ("6  Set", "Nothing to type: every club against its target, with the window that it must hit, in words "
             "first and colour second, and two charts along the set. The charts are for the screen, the table is "
             "printed."),
            ("7  Fix", "What to do about each club: grams and where, or length, which stock weights come nearest. Try "
             "it in the plan beside, several changes together, and read what the club then is. Once it is done say "
             "done: Set follows, until you measure the club after Fix."),
            ("8  Supplier", "Heads to order by mass. evenheft share makes from it a file of its own that holds nothing "
             "about the customer; evenheft receive brings back what the supplier filled in."),
            ("9  Scale", "What your swingweight scale read, against the calculation for the same club, and what all "
             "clubs together say of the scale. It has the last word: find out why before you trust either."),
            ("On paper", "Each sheet is one page; Guide and Shop stay off it. To print them choose guide_page or "
             "shop_page in the Name Box, left of the formula bar, and print the selected cells."),
        ),
    ),
    (
        "What a cell's look says",
        (
            ("Framed, pale yellow", "You type here."),
            ("Plain", "Computed, and locked against slips. There is no password: unprotect the sheet to change it."),
            ("Blank row", "A row that is not filled in stays quiet."),
        ),
    ),
    (
        "What a verdict says",
        (
            ("in", "Inside the tolerance, and the doubt of the measurement cannot carry it out."),
            ("low", "Below the tolerance, and the doubt cannot carry it back in."),
            ("high", "Above the tolerance, and the doubt cannot carry it back in."),
            ("re-measure", "Too near the edge of the tolerance for your instruments to tell. Measure again, more "
             "finely, or accept a wider tolerance."),
            ("! ...", "A message from a formula: it names the cell's quantity, what is required and what was given."),
        ),
    ),
    (
        "Units",
        (
            ("Plain numbers", "In the units chosen on Shop, grams and centimetres at first. Stock weights are always "
             "in grams."),
            ("With a unit", "A cell may carry its own: 44 1/2 in, 1.13 m, 7.1 oz, 44.5\". It wins over the order's."),
            ("Butt", "The outer face of the grip cap. Every distance is measured from here towards the head."),
            ("Swingweight", "Moment about 14 in from the butt; D0 is 213.5 in oz and a point 1.75 in oz (common "
             "practice)."),
            ("Inertia", "Moment of inertia about the butt, across the shaft, in kg cm2, from the time of a small free "
             "swing."),
        ),
    ),
    (
        "Care",
        (
            ("Epoxy and solvents", "Follow the maker's sheet: gloves, eyes, air. A club is not finished before the "
             "epoxy's full cure time."),
            ("Heat, cutting, grinding", "Carbon and steel dust and hot resin harm lungs, eyes and skin: extraction, "
             "mask and glasses, and the maker's limits of temperature."),
            ("A head that comes off", "can hurt somebody badly. Check fit, depth and bond before a club is swung; a "
             "dry fit is for the scale, never for a swing. Local rules and licensed practice come first."),
        ),
    ),
)  # fmt: skip
