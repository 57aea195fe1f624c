"""Tables of heads, shafts and stock weights, read by their headings into what a plan is made of."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from evenheft.formulas.headed.columns import column_under, plan_for
from evenheft.formulas.headed.headings import LONGEST_HEADING, read_heading
from evenheft.formulas.headed.rows import read_row
from evenheft.formulas.kinds import Kind, Level, Number, Quantity
from evenheft.formulas.wording import DEFAULT_SCALE, PASSED_ON, is_blank, scale_named, show, what_is_wrong
from evenheft.mechanics.pairing.problem import (
    Batch,
    ClubToBuild,
    Decided,
    Leading,
    PairingError,
    Piece,
    PlaceName,
    Shaft,
    StockWeight,
    Target,
    need_sound,
)
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellRow, CellRows

_LEADING: dict[str, Leading] = {
    "swingweight": "points",
    "inertia": "inertia",
    "total mass": "mass",
    "frequency": "frequency",
}
"""What may lead, as headings call it: "Inertia target (kg cm2)", "Inertia tolerance (kg cm2)"."""
_TARGETS: dict[Leading, Kind] = {
    "points": Level(Number(-100, 200)),
    "inertia": Number(0, 2e4, "kg cm2"),
    "mass": Quantity("mass", 50, 2000),
    "frequency": Number(50, 600, "cpm"),
}
_TOLERANCE = Number(0, 1e4, above_low=True)
WEIGHT = Quantity("mass", 0.01, 500)
COUNT = Number(0, 100_000, whole=True)
_STAND_IN: tuple[tuple[str, object], ...] = (("Shaft mass (g)", 100.0), ("Shaft length (cm)", 160.0))
"""A shaft that fits every club: the club's other parts are read with it, and it is not used."""
_NAMES = {
    "club": r"club|club name|name",
    "shaft": r"shaft|shaft no|shaft number|shaft label",
    "decided": r"decided|glued",
    "number": r"no|number|label|shaft|shaft no|shaft number",
    "aside": r"set aside( for)?|used in",
    "size": r"size|weight|mass|weight mass",
    "where": r"where|place",
    "count": r"count|counted|on hand|in stock|pieces|quantity",
}


def clubs_of(rows: CellRows, defaults: CellRows | None = None) -> tuple[ClubToBuild, ...]:
    """Read the heads, with all else of their clubs but the shaft, and what each club must read.

    Args:
        rows: the table with its headings first [-].
        defaults: rows of a heading and its value, as `HEFT_CLUB` takes them, or None [-].

    Raises:
        Refused: what cannot be read, all of it at once.
    """
    read = club_rows(rows, None, defaults)
    at_club = club_column(rows)
    wrong = [f"{show(row[at_club])}: {outcome}" for row, outcome in zip(rows[1:], read, strict=True)
             if isinstance(outcome, Refused)]  # fmt: skip
    if wrong:
        raise Refused("; ".join(wrong))
    return tuple(row for row in read if isinstance(row, ClubToBuild))


def club_rows(
    rows: CellRows, targets: CellRows | None = None, defaults: CellRows | None = None
) -> list[ClubToBuild | Refused | None]:
    """Read the heads row by row, so that one that cannot be read does not spoil the others.

    Args:
        rows: the table with its headings first [-].
        targets: the clubs' targets and tolerances with their headings first, where another table holds them [-].
        defaults: rows of a heading and its value, as `HEFT_CLUB` takes them, or None [-].

    Returns:
        For each row below the headings its club, what is wrong with it, or None where no club is named.

    Raises:
        Refused: the headings cannot be read.
    """
    headings, at_club = _headings(rows, "Heads"), club_column(rows)
    at_shaft, at_decided = (_at(headings, name) for name in ("shaft", "decided"))
    own = _aims(headings, "Heads") if targets is None else {}
    aimed = partial(_targets, aims=own, headings=headings) if targets is None else _targets_of(targets, at_club)
    if targets is None and not own:
        raise Refused('Heads: a target and its tolerance are wanted, e.g. "Swingweight target" and '
                      '"Swingweight tolerance"')  # fmt: skip
    used = {at_club, at_shaft, at_decided, *(at for pair in own.values() for at in pair)}
    parts_at = [
        at
        for at, text in enumerate(headings)
        if at not in used and not str(read_heading(text).quantity).startswith("shaft_")
    ]
    plan = plan_for([[*(headings[at] for at in parts_at), *(name for name, _ in _STAND_IN)]], defaults)

    def club(row: CellRow) -> ClubToBuild:
        read = read_row(plan, [*(row[at] for at in parts_at), *(value for _, value in _STAND_IN)])
        assert read is not None  # the shaft that stands in is there
        shaft = None if at_shaft is None or is_blank(row[at_shaft]) else show(row[at_shaft])
        decided = _decided(row[at_decided]) if at_decided is not None else "nothing"
        aims = aimed(row)
        if not aims:
            raise Refused("it has no target: say what it must read")
        return ClubToBuild(
            show(row[at_club]), read.parts, aims, shaft, (), decided,
            known=read.known, doubts=read.doubts, taught=read.taught,
        )  # fmt: skip

    found: list[ClubToBuild | Refused | None] = []
    for row in rows[1:]:
        try:
            found.append(None if is_blank(row[at_club]) else club(row))
        except Refused as refused:
            found.append(refused)
    return found


def club_column(rows: CellRows) -> int:
    """Find the column that names the clubs of a table of heads, from 0 [-].

    Args:
        rows: the table with its headings first [-].

    Raises:
        Refused: there is none, or it is no table.
    """
    found = _at(_headings(rows, "Heads"), "club")
    if found is None:
        raise Refused('Heads: a column "Club" must name the clubs')
    return found


def _targets_of(rows: CellRows, at_club: int) -> Callable[[CellRow], tuple[Target, ...]]:
    """Read a table of targets, and answer with a head's own by the club's name."""
    headings = _headings(rows, "Targets")
    at_name, aims = _at(headings, "club"), _aims(headings, "Targets")
    if at_name is None or not aims:
        raise Refused('Targets: columns "Club", "Swingweight target" and "Swingweight tolerance" are wanted, or those '
                      "of another quantity")  # fmt: skip
    by_club: dict[str, CellRow] = {}
    for row in _filled(rows, at_name):
        if show(row[at_name]) in by_club:
            raise Refused(f"Targets: {show(row[at_name])} is listed twice")
        by_club[show(row[at_name])] = row

    def aimed(head: CellRow) -> tuple[Target, ...]:
        row = by_club.get(show(head[at_club]))
        return () if row is None else _targets(row, aims, headings)

    return aimed


def shafts_of(rows: CellRows, order: str = "") -> tuple[tuple[Shaft, ...], frozenset[str]]:
    """Read the shafts of a batch, and which of them are set aside or used already.

    Args:
        rows: the table with its headings first [-].
        order: the number of the order that is planned: what is set aside for it may be taken [-].

    Raises:
        Refused: what cannot be read, all of it at once.
    """
    headings = _headings(rows, "Shafts")
    at_number = _at(headings, "number")
    if at_number is None:
        raise Refused('Shafts: a column "Number" must name the shafts')
    columns = {}
    for at, text in enumerate(headings):
        reading = read_heading(text)
        quantity = {"mass": "shaft_mass", "club_length": "shaft_length", "balance": "shaft_balance"}.get(
            reading.quantity or "", reading.quantity
        )
        if at != at_number and reading.problem is None and quantity in _MEASURES and quantity not in columns:
            columns[quantity] = column_under(at, text, reading._replace(quantity=quantity))
    lacking = [name for name in ("mass", "length") if f"shaft_{name}" not in columns]
    if lacking:
        raise Refused(f"Shafts: a column must tell their {' and '.join(lacking)}, e.g. Mass (g), Length (cm)")
    shafts: list[Shaft] = []
    taken: set[str] = set()
    wrong: list[str] = []
    for row in _filled(rows, at_number):
        label = show(row[at_number])
        try:
            given = {name: c.read(row[c.at]) for name, c in columns.items() if not is_blank(row[c.at])}
            without = [name for name in ("mass", "length") if f"shaft_{name}" not in given]
            if without:
                raise Refused(f"its {' and '.join(without)} must be given")
            length = given["shaft_length"]
            balance = given.get("shaft_balance")
            if "shaft_balance_from_tip" in given:
                balance = length - given["shaft_balance_from_tip"]
            shafts.append(Shaft(label, given["shaft_mass"], length, balance, given.get("frequency")))
        except Refused as refused:
            wrong.append(f"shaft {label}: {refused}")
        if any(not is_blank(row[at]) and show(row[at]) != order for at in _every(headings, "aside")):
            taken.add(label)
    if wrong:
        raise Refused("; ".join(wrong))
    return tuple(shafts), frozenset(taken)


_MEASURES = ("shaft_mass", "shaft_length", "shaft_balance", "shaft_balance_from_tip", "frequency")


def weights_of(rows: CellRows) -> tuple[StockWeight, ...]:
    """Read the stock weights: sizes, where they go ("head" where nothing says), how many there are.

    Args:
        rows: the table with its headings first [-].

    Raises:
        Refused: what cannot be read, all of it at once.
    """
    headings = _headings(rows, "Weights")
    at_size, at_where, at_count = (_at(headings, name) for name in ("size", "where", "count"))
    # A shop's own book counts, and takes off what was used since.
    at_count = next((at for at, text in enumerate(headings) if _plain(text) == "on hand"), at_count)
    if at_size is None or at_count is None:
        raise Refused('Weights: columns "Size (g)" and "Count" are wanted')
    unit = read_heading(f"Mass {headings[at_size][headings[at_size].find('(') :]}").unit or "g"
    scale = scale_named(f"{unit} cm") if unit in ("g", "oz") else DEFAULT_SCALE
    weights: list[StockWeight] = []
    wrong: list[str] = []
    for row in _filled(rows, at_size):
        try:
            mass = _value(WEIGHT, row[at_size], headings[at_size], scale)
            count = 0.0 if is_blank(row[at_count]) else _value(COUNT, row[at_count], headings[at_count])
            weights.append(StockWeight(mass, int(count), _place(None if at_where is None else row[at_where])))
        except Refused as refused:
            wrong.append(f"weight {show(row[at_size])}: {refused}")
    if wrong:
        raise Refused("; ".join(wrong))
    return tuple(weights)


def batch_of(heads: CellRows, shafts: CellRows, weights: CellRows | None, defaults: CellRows | None = None) -> Batch:
    """Read all that is to be paired.

    Args:
        heads: the table of heads with its headings first [-].
        shafts: the table of shafts with its headings first [-].
        weights: the table of stock weights with its headings first, or None where there are none [-].
        defaults: rows of a heading and its value, as `HEFT_CLUB` takes them, or None [-].

    Raises:
        Refused: what cannot be read or cannot be planned, all that is wrong at once.
    """
    return batch_with(clubs_of(heads, defaults), shafts, weights)


def batch_with(clubs: Sequence[ClubToBuild], shafts: CellRows, weights: CellRows | None) -> Batch:
    """Read what is to be paired with clubs that were read already.

    Args:
        clubs: the clubs [g, cm].
        shafts: the table of shafts with its headings first [-].
        weights: the table of stock weights with its headings first, or None where there are none [-].

    Raises:
        Refused: what cannot be read or cannot be planned, all that is wrong at once.
    """
    candidates, taken = shafts_of(shafts)
    decided = {club.laid_shaft for club in clubs if club.decided != "nothing"}
    stock = weights_of(weights) if weights else ()
    batch = Batch(tuple(clubs), candidates, stock, reserved=frozenset(taken - decided))
    try:
        need_sound(batch)
    except PairingError as error:
        raise Refused(str(error)) from None
    return batch


def _headings(rows: CellRows, table: str) -> list[str]:
    if not rows:
        raise Refused(f"{table}: the table is empty")
    headings = ["" if is_blank(cell) else show(cell) for cell in rows[0]]
    if any(len(row) != len(headings) for row in rows):
        raise Refused(f"{table}: every row must be as wide as the headings")
    return headings


def _filled(rows: CellRows, at: int) -> Iterator[CellRow]:
    """Return the rows below the headings that are not blank in a column."""
    return (row for row in rows[1:] if not is_blank(row[at]))


def _plain(text: str) -> str:
    return " ".join(re.sub(r"\(.*?\)|[^a-z ]", " ", text[:LONGEST_HEADING].lower()).split())


def _every(headings: Sequence[str], name: str) -> list[int]:
    return [at for at, text in enumerate(headings) if re.fullmatch(_NAMES[name], _plain(text))]


def _at(headings: Sequence[str], name: str) -> int | None:
    return next(iter(_every(headings, name)), None)


def _aims(headings: Sequence[str], table: str) -> dict[Leading, tuple[int, int]]:
    """Of each reading that leads, the columns of its target and its tolerance."""
    found: dict[Leading, tuple[int, int]] = {}
    plain = [_plain(text) for text in headings]
    for word, leading in _LEADING.items():
        names = [word, *(["sw"] if leading == "points" else ["mass"] if leading == "mass" else [])]
        places = []
        for part in ("target", "tolerance"):
            called = {f"{name} {part}" for name in names} | {f"{part} {name}" for name in names}
            called |= {part} if leading == "points" else set()
            places.append(next((at for at, text in enumerate(plain) if text in called), None))
        target, tolerance = places
        if target is not None and tolerance is None:
            raise Refused(f"{table}: {headings[target]} wants a column with its tolerance")
        if target is not None and tolerance is not None:
            found[leading] = (target, tolerance)
    return found


def _targets(row: CellRow, aims: dict[Leading, tuple[int, int]], headings: Sequence[str]) -> tuple[Target, ...]:
    targets = []
    for leading, (target, tolerance) in aims.items():
        if is_blank(row[target]):
            continue
        if is_blank(row[tolerance]):
            raise Refused(f"{headings[tolerance]} must be given")
        wanted = _value(_TARGETS[leading], row[target], headings[target])
        targets.append(Target(leading, wanted, _value(_TOLERANCE, row[tolerance], headings[tolerance])))
    return tuple(targets)


def _value(kind: Kind, raw: object, heading: str, scale: object = DEFAULT_SCALE) -> float:
    if isinstance(raw, str) and raw.startswith(PASSED_ON):
        raise Refused(raw.removeprefix(PASSED_ON))
    try:
        value: float = kind.read(raw, scale)  # type: ignore[arg-type]
    except ValueError as error:
        raise Refused(what_is_wrong(heading, raw, error)) from None
    return value


def _decided(raw: object) -> Decided:
    word = "" if is_blank(raw) else str(raw).strip().lower()
    known: dict[str, Decided] = {"": "nothing", "no": "nothing", "shaft": "shaft", "club": "club", "glued": "club"}
    if word not in known:
        raise Refused(f'decided must be blank, "shaft" or "club", got {show(raw)}')
    return known[word]


def _place(raw: object) -> PlaceName:
    word = "head" if is_blank(raw) else str(raw).strip().lower()
    if word in ("head", "tip"):
        return "head"
    if word == "butt":
        return "butt"
    raise Refused(f"where must be head or butt, got {show(raw)}")


def pieces_text(pieces: Sequence[Piece]) -> str:
    """Tell weights in words, e.g. "6 + 3.5 g head, 10 g butt" [-].

    Args:
        pieces: the weights of one club [g].

    >>> pieces_text((Piece("head", 6.0), Piece("head", 3.5), Piece("butt", 10.0)))
    '6 + 3.5 g head, 10 g butt'
    >>> pieces_text(())
    'none'
    """
    texts = []
    for place in ("head", "butt"):
        masses = [show(piece.mass) for piece in pieces if piece.place == place]
        if masses:
            texts.append(f"{' + '.join(masses)} g {place}")
    return ", ".join(texts) or "none"
