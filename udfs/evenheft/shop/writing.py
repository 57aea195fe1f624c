"""The copy of a shop's workbook in which results stand beside their tables, and nothing else is touched."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from evenheft.ooxml.additions import Additions, WordRule
from evenheft.ooxml.edit import CellAt, More, edit_cells
from evenheft.ooxml.edits import Edit, NewFormula, Put
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import Package, open_package
from evenheft.ooxml.places import Area, Place, reference
from evenheft.ooxml.replace import state_of
from evenheft.ooxml.styles import StylesText
from evenheft.order.colours import VERDICT_FILLS
from evenheft.shop.adopt import Adoption, Survey, chosen_offers
from evenheft.shop.calls import Call, CellsOfCalls, Node, SettingCell, Shown
from evenheft.shop.earlier import CLUB_HEADING, GROUP_HEADING, SETTING_HEADINGS
from evenheft.shop.looks import Looks, width_for
from evenheft.shop.offers import Offer, resolved
from evenheft.shop.placing import CLUB_NAMES, Placement, Placing
from evenheft.shop.table import called
from evenheft.shop.wishes import OPTIONS, Wishes


@dataclass(frozen=True, slots=True)
class Added:
    """What was added for one table."""

    table: str
    """Its range."""
    columns: Mapping[str, str]
    """What each new column is called by, by its offer's key."""
    filled: int
    """How many clubs gained what others of their table had before."""
    settings: str
    """The range of the cells that the builder can change, or ""."""
    notes: tuple[str, ...]


def write_copy(
    found: Survey, keys: Sequence[str], wishes: Wishes, to: Path, at: Place | None = None
) -> tuple[Added, ...]:
    """Write a copy of the workbook with columns added, and nothing else touched.

    Args:
        found: what `survey` found [-].
        keys: the columns to add to each of its tables; none for the usual ones that are possible [-].
        wishes: what the builder tells beside the sheets [-].
        to: the copy, which must not exist yet [-].
        at: where the first heading is wanted [-].

    Raises:
        Refused: nothing is to be added, or it cannot be added without breaking something.
    """
    if at is not None and len(found.chosen) > 1:
        raise Refused("--at places the results of one table: choose it with --table")
    before = state_of(found.path)
    with open_package(found.path) as package:
        part, styles = _styles(package)
        placings: dict[str, Placing] = {}
        edits: dict[CellAt, Edit] = {}
        additions: dict[str, list[Additions]] = {}
        added = []
        for adoption in found.chosen:
            sheet = adoption.sheet
            placing = placings.setdefault(sheet.name, Placing(sheet.around, sheet.tables))
            writing = _Writing(adoption, chosen_offers(adoption, keys), wishes, placing, styles, at)
            edits |= writing.edits()
            additions.setdefault(sheet.name, []).append(writing.additions())
            added.append(writing.added())
        if not edits:
            raise Refused(f"{found.path.name}: there is nothing to add")
        more = More(
            {name: _joined(each) for name, each in additions.items()},
            {part: changes} if styles is not None and (changes := styles.changes()) else {},
            undoable=True,
        )
        edit_cells(found.path, edits, package=package, to=to, expected=before, more=more)
    return tuple(added)


def _styles(package: Package) -> tuple[str, StylesText | None]:
    """Return the part that holds the workbook's looks, ready to take more."""
    links = package.relationships(package.workbook_part).values()
    part = next((link.target for link in links if link.kind == "styles" and link.target in package.entries), "")
    return part, StylesText(package.read(part), package.refuse) if part else None


def _joined(additions: Sequence[Additions]) -> Additions:
    widths = {column: width for one in additions for column, width in one.widths.items()}
    words: dict[tuple[str, int], tuple[Area, ...]] = {}
    for rule in (rule for one in additions for rule in one.rules):
        words[rule.word, rule.look] = (*words.get((rule.word, rule.look), ()), *rule.areas)
    return Additions(widths, [WordRule(areas, word, look) for (word, look), areas in words.items()])


@dataclass
class _Writing:
    adoption: Adoption
    offers: tuple[Offer, ...]
    wishes: Wishes
    placing: Placing
    styles: StylesText | None
    at: Place | None
    _edits: dict[CellAt, Edit] = field(default_factory=dict)
    _placement: Placement | None = None
    _settings: dict[tuple[str, str], Place] = field(default_factory=dict)
    _block: str = ""
    _filled: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.table = self.adoption.table
        self.earlier = self.adoption.earlier
        self.looks = Looks(self.adoption.sheet.content, self.table, self.styles)
        self.all_offers = {offer.key: offer for offer in self.adoption.offers}

    def edits(self) -> dict[CellAt, Edit]:
        """Return the edits of the sheet's cells."""
        if self.offers:
            self._placement = self.placing.place(self.table, [offer.key for offer in self.offers], self.at)
        self._place_settings()
        there = [o for o in self.adoption.offers if o.there and not o.lacking]
        kept = [offer.key for offer in (*self.offers, *there)]
        written = CellsOfCalls(self.table, self._place_of, self._settings, self._is_aligned())
        for offer in (*self.offers, *there):
            self._write(offer, written, kept)
        if self._placement is not None:
            self._head(self._placement)
        return self._edits

    def additions(self) -> Additions:
        """Widths of new columns, and colours for the words of new verdicts."""
        if self._placement is None:
            return Additions()
        widths: dict[int, float] = {}
        used = {column for _, column in self.adoption.sheet.content.values}
        for (_, _, column), edit in self._edits.items():
            if isinstance(edit, Put) and isinstance(edit.value, str) and column not in used:
                widths[column] = max(widths.get(column, 0.0), width_for(edit.value))
        cells = self._placement.cells.get("verdict")
        if cells is None or self.styles is None:
            return Additions(widths)
        areas = tuple(_runs(sorted(cells.values())))
        rules = [
            WordRule(areas, word, self.styles.differential(fill, bold=word != "in"))
            for word, fill in VERDICT_FILLS.items()
        ]
        return Additions(widths, rules)

    def added(self) -> Added:
        """Tell what has been added, for the builder to hear."""
        columns = {} if self._placement is None else {o.key: self._placement.called(o.key) for o in self.offers}
        notes = () if self._placement is None else tuple(self.placing.notes(self._placement))
        return Added(self.table.called, columns, len(self._filled), self._block, notes)

    # ------------------------------------------------------------------ results

    def _write(self, offer: Offer, written: CellsOfCalls, kept: Sequence[str]) -> None:
        answers = dict(zip(self.table.rows, offer.answers, strict=True))
        texts = {} if offer.node is None else written.texts(resolved(offer.node, self.all_offers, kept))
        before = self.earlier.columns.get(offer.heading, {}) if offer.there else {}
        for club in self.table.rows:
            place = self._place_of(offer.key, club)
            if club in before or (offer.there and self._holds_something(place)):
                continue
            if offer.node is not None and club not in texts:
                continue
            if offer.there:
                self._filled.add(club)
            style = self.looks.cell(club, offer.decimals)
            self._put(place, texts.get(club), answers[club], style)

    def _head(self, placement: Placement) -> None:
        for offer in self.offers:
            for place in placement.headings[offer.key]:
                self._put(place, None, offer.heading, self.looks.heading())
        if placement.apart:
            self._put(placement.headings[CLUB_NAMES][0], None, CLUB_HEADING, self.looks.heading())
            for club, place in placement.cells[CLUB_NAMES].items():
                self._put(place, *self._name(club), self.looks.cell(club, None))

    def _name(self, club: int) -> tuple[str | None, Shown]:
        """Return a club's name in a list apart from its table: a reference to it, or its row where it has none."""
        at = None if self.table.named_at is None else self.table.place(club, self.table.named_at)
        held = None if at is None else self.adoption.sheet.content.values.get(at)
        if at is None or held is None:
            return None, self.table.names.get(club, f"{self.table.one} {self.table.club_at(club)}")
        return reference(*at), held

    def _place_of(self, key: str, club: int) -> Place:
        """Where a club's cell of a column stands that is added, or was added before."""
        if self._placement is not None and key in self._placement.cells:
            return self._placement.cells[key][club]
        heading = self.all_offers[key].heading
        places = self.earlier.columns[heading]
        if club in places:
            return places[club]
        # A club that has come since: its cell is in line with those of the others.
        top, left = self.earlier.headings[heading]
        if any(place[0] == top for place in places.values()):
            return (top, club) if self.table.layout == "columns" else (top, max(c for _, c in places.values()) + 1)
        aligned = all(place[0] == other for other, place in places.items())
        return (club, left) if aligned else (max(row for row, _ in places.values()) + 1, left)

    def _is_aligned(self) -> bool:
        apart = self._placement is not None and self._placement.apart
        before = all(place[0] == club for places in self.earlier.columns.values() for club, place in places.items())
        return self.table.layout == "rows" and not apart and before

    def _holds_something(self, place: Place) -> bool:
        content = self.adoption.sheet.content
        return place in content.values or place in content.formulas

    # ------------------------------------------------------------------ cells for the builder to change

    def _place_settings(self) -> None:
        groups = tuple(dict.fromkeys(self.table.groups.values())) or ("",)
        there = self.earlier.settings
        self._settings = dict(there)
        for key in OPTIONS:  # a group that has come since shares the cell of another one
            for known in [place for (other, _), place in there.items() if other == key][:1]:
                self._settings |= {(key, group): known for group in groups if (key, group) not in there}
        wanted = {key for offer in self.offers if offer.node is not None for key in _settings_in(self._whole(offer))}
        new = [key for key in OPTIONS if key in wanted and (key, groups[0]) not in self._settings]
        if not new or self._placement is None:
            return
        named = groups != ("",)
        top, left = self.placing.settings(self.table, self._placement, len(new) + named, len(groups) + 1)
        self._block = called(_area(top, left, len(groups) + 1, len(new) + named))
        if named:
            self._put((top, left), None, GROUP_HEADING, self.looks.heading())
            for n, group in enumerate(groups, start=1):
                self._put((top + n, left), None, group, self.looks.cell(self.table.rows[0], None))
        for n, key in enumerate(new, start=left + named):
            self._put((top, n), None, SETTING_HEADINGS[key], self.looks.heading())
            for at, group in enumerate(groups, start=1):
                self._settings[key, group] = (top + at, n)
                self._put((top + at, n), None, self.wishes.setting(key), self.looks.setting(self.table.rows[0], None))

    def _whole(self, offer: Offer) -> Node:
        kept = [o.key for o in (*self.offers, *self.adoption.offers) if o in self.offers or (o.there and not o.lacking)]
        assert offer.node is not None
        return resolved(offer.node, self.all_offers, kept)

    def _put(self, place: Place, formula: str | None, value: Shown, style: int | None) -> None:
        edit: Edit = Put(value, style) if formula is None else NewFormula(formula, value, style)
        self._edits[self.adoption.sheet.name, *place] = edit


def _settings_in(node: Node) -> set[str]:
    if isinstance(node, SettingCell):
        return {node.key}
    if isinstance(node, Call):
        return {key for argument in node.arguments for key in _settings_in(argument)}
    return set()


def _area(top: int, left: int, height: int, width: int) -> Area:
    return Area(top, left, top + height - 1, left + width - 1)


def _runs(places: Sequence[Place]) -> Iterator[Area]:
    """Cells as the fewest runs down a column, or along a row."""
    run: Area | None = None
    for row, column in places:
        if run is not None and run.left == run.right == column and row == run.bottom + 1:
            run = Area(run.top, column, row, column)
        elif run is not None and run.top == run.bottom == row and column == run.right + 1:
            run = Area(row, run.left, row, column)
        else:
            if run is not None:
                yield run
            run = Area(row, column, row, column)
    if run is not None:
        yield run
