"""One sheet's XML, read and changed cell by cell without a byte of the rest being rewritten.

The text is scanned for tags, not parsed into a tree: whatever the scanner does not look for stays as it is.
It trusts that the XML is well formed (`Package` has seen to that) and refuses what it does not understand.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterator, Mapping
from html import unescape
from typing import NoReturn, TypeAlias
from xml.parsers import expat

from evenheft.ooxml.additions import Additions, Change, pieces_of
from evenheft.ooxml.edits import Cached, Edit, Emptied, InPlaceOfFormula, NewFormula, Put, Relooked
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.guards import need_free_places
from evenheft.ooxml.places import SHEET_COLUMNS, SHEET_ROWS, Area, Place, area_of, column_number, reference
from evenheft.ooxml.scanning import (
    Element,
    attribute,
    attribute_span,
    ends_before,
    masked,
    prefix_of,
    tag_pattern,
    whole,
    widened_spans,
    with_style,
)
from evenheft.ooxml.values import CellError, Written
from evenheft.ooxml.written import ValueWriter, encoded

Bytes: TypeAlias = bytes | bytearray | memoryview
_CELL_REFERENCE = re.compile(rb"([A-Z]{1,3})([1-9][0-9]{0,6})")


class SheetText:
    """A worksheet's XML."""

    def __init__(self, text: bytes | bytearray, *, label: str, epoch_1904: bool = False) -> None:
        """Find the cells' place in the text.

        Args:
            text: the part's bytes, well-formed XML [-].
            label: how messages call the sheet, e.g. 'shop.xlsx, sheet "Irons",' [-].
            epoch_1904: whether the workbook counts its days from 1904 [-].

        Raises:
            Refused: the sheet is written in a way that is not understood.
        """
        self._label = label
        self._text = text
        self._seen = masked(text)
        prefix = prefix_of(self._seen, b"worksheet")
        if prefix is None:
            self._refuse("is not a sheet of cells")
        self._prefix: bytes = prefix
        self._writer = ValueWriter(prefix, epoch_1904=epoch_1904, refuse=self._refuse)
        self._row_tag = self._tag(b"row")
        self._cell_tag = self._tag(b"c")
        self._data = self._element(b"sheetData", 0, len(text))
        if self._data is None:
            self._refuse("has no place for cells")

    @property
    def text(self) -> bytes | bytearray:
        """The part's bytes as they are."""
        return self._text

    # ------------------------------------------------------------------ reading

    def formula_cells(self) -> Iterator[Place]:
        """Each cell that holds a formula."""
        opening = b"<" + self._prefix + b"f"
        for number, row in self._rows():
            if self._seen.find(opening, row.inner, row.close) >= 0:
                for column, cell in self._cells(number, row):
                    if self._element(b"f", cell.inner, cell.close) is not None:
                        yield number, column

    def merged(self) -> list[Area]:
        """Find the merged areas."""
        assert self._data is not None
        found = self._tag(b"mergeCell").finditer(self._seen, self._data.end)
        return [self._area(attribute(match[1], b"ref")) for match in found]

    def keep_table_frame(self, tag: str, attributes: Mapping[str, str], places: Mapping[Place, object]) -> None:
        """Refuse places in a table's heading or totals row, as its part's root element tells them."""
        if tag.rpartition(":")[2] != "table" or "ref" not in attributes:
            return
        area = self._area(attributes["ref"].encode())
        headings = range(area.top, area.top + whole(attributes.get("headerRowCount", "1").encode()))
        totals = range(area.bottom + 1 - whole(attributes.get("totalsRowCount", "0").encode()), area.bottom + 1)
        for place, edit in places.items():
            if place in area and place[0] in (*headings, *totals) and isinstance(edit, Put | NewFormula):
                self._refuse(f"has {reference(*place)} in a table's headings or totals, which are not changed")

    # ------------------------------------------------------------------ changing

    def edited(self, edits: Mapping[Place, Edit], additions: Additions | None = None) -> tuple[list[Bytes], int]:
        """Change some cells of the text.

        Args:
            edits: what to do to each cell, by row and column [-].
            additions: widths and rules that come with the cells; none when left out [-].

        Returns:
            The text in pieces, of which those that did not change are views of the old text, and
            the number of cells that changed [-].

        Raises:
            Refused: an edit cannot be made without breaking something.
        """
        changes, changed = self.changes(edits, additions)
        return pieces_of(self._text, changes), changed

    def changes(self, edits: Mapping[Place, Edit], additions: Additions | None = None) -> tuple[list[Change], int]:
        """List what `edited` changes, in the order of the text, and the number of cells changed."""
        placed = [place for place, edit in edits.items() if isinstance(edit, Put | NewFormula)]
        need_free_places(self._seen, self._prefix, self.merged() if placed else [], placed, self._refuse)
        by_row: dict[int, dict[int, Edit]] = {}
        for (row, column), edit in edits.items():
            if not (1 <= row <= SHEET_ROWS and 1 <= column <= SHEET_COLUMNS):
                self._refuse(f"has no cell in row {row}, column {column}")
            by_row.setdefault(row, {})[column] = edit
        changes, changed = self._changes(by_row)
        if changed:
            changes = self._widened_dimension(by_row) + changes
        if additions is not None and self._data is not None:
            changes = sorted([*changes, *additions.changes(self._seen, self._prefix, self._data, self._refuse)],
                             key=lambda change: change[:2])  # fmt: skip
        return changes, changed

    def _changes(self, by_row: dict[int, dict[int, Edit]]) -> tuple[list[Change], int]:
        """List replacements (from, to, new bytes) in the order of the text, and the number of cells changed."""
        assert self._data is not None
        changes: list[Change] = []
        self._new: list[bytes] = []
        changed = 0
        waiting = deque(sorted(by_row))
        for number, row in self._rows():
            while waiting and waiting[0] < number:
                before = waiting.popleft()
                changed += self._add_row(changes, row.start, before, by_row[before])
            if not waiting:
                break
            if waiting[0] == number:
                waiting.popleft()
                new, count = self._row_changes(number, row, by_row[number])
                changes += new if count else []
                changed += count
        at = self._data.close
        if waiting and self._data.inner == self._data.end:  # <sheetData/> must be opened to take rows
            rows: list[Change] = []
            changed += sum(self._add_row(rows, at, number, by_row[number]) for number in waiting)
            tag = b"<" + self._prefix + b"sheetData" + self._data.attributes.rstrip(b"/ ") + b">"
            closing = b"</" + self._prefix + b"sheetData>"
            if rows:
                changes.append((self._data.start, self._data.end, tag + b"".join(r[2] for r in rows) + closing))
        else:
            for number in waiting:
                changed += self._add_row(changes, at, number, by_row[number])
        self._need_well_formed(b"".join(self._new))
        return changes, changed

    def _add_row(self, changes: list[Change], at: int, number: int, edits: dict[int, Edit]) -> int:
        cells = [self._new_cell(number, column, edit, b"") for column, edit in sorted(edits.items())]
        if written := [cell for cell in cells if cell]:
            self._new += written
            row = b'<%brow r="%d">%b</%brow>' % (self._prefix, number, b"".join(written), self._prefix)
            changes.append((at, at, row))
        return len(written)

    def _row_changes(self, number: int, row: Element, edits: dict[int, Edit]) -> tuple[list[Change], int]:
        """List what changes in a row, in the order of the text, and the number of cells changed."""
        waiting = deque(sorted(edits))
        changes: list[Change] = []
        changed = 0
        for column, cell in (
            () if ends_before(self._seen, self._prefix, number, row, waiting[0]) else self._cells(number, row)
        ):
            if not waiting:
                break
            added: list[bytes] = []
            while waiting and waiting[0] < column:
                before = waiting.popleft()
                added.append(self._new_cell(number, before, edits[before], row.attributes))
            changed += self._note(changes, cell.start, cell.start, added)
            if waiting and waiting[0] == column:
                waiting.popleft()
                old = bytes(self._text[cell.start : cell.end])
                new = self._edited_cell(number, column, cell, edits[column])
                if new != old:
                    changed += 1
                    self._new.append(new)
                    changes.append((cell.start, cell.end, new))
        rest = [self._new_cell(number, column, edits[column], row.attributes) for column in waiting]
        attributes = widened_spans(row.attributes.rstrip(b"/ "), min(edits), max(edits))
        if row.inner == row.end:  # <row/> must be opened to take cells
            changed += sum(map(bool, rest))
            self._new += rest
            opened = b"<" + self._prefix + b"row" + attributes + b">"
            return [(row.start, row.end, opened + b"".join(rest) + b"</" + self._prefix + b"row>")], changed
        changed += self._note(changes, row.close, row.close, rest)
        if attributes != row.attributes.rstrip(b"/ "):
            at = row.inner - 1 - len(row.attributes)
            start, end = attribute_span(row.attributes, b"spans")
            changes.insert(0, (at + start, at + end, attribute(attributes, b"spans")))
        return changes, changed

    def _note(self, changes: list[Change], start: int, end: int, cells: list[bytes]) -> int:
        """Note new cells in the place of some text; return how many there are."""
        if written := [cell for cell in cells if cell]:
            self._new += written
            changes.append((start, end, b"".join(written)))
        return len(written)

    def _edited_cell(self, row: int, column: int, cell: Element, edit: Edit) -> bytes:
        """Return a cell's new bytes; the old ones where it holds the value already."""
        if isinstance(edit, Emptied):
            return b""
        old = bytes(self._text[cell.start : cell.end])
        if isinstance(edit, Relooked):
            return old.replace(cell.attributes, with_style(cell.attributes, edit.style), 1)
        where = reference(row, column)
        formula = self._element(b"f", cell.inner, cell.close)
        self._need_known_content(cell, where)
        if attribute(cell.attributes, b"vm"):
            self._refuse(f"holds a value in {where} of a kind that is not understood")
        if isinstance(edit, Cached | InPlaceOfFormula):
            if formula is None:
                self._refuse(f"holds no formula in {where}")
        elif formula is not None:
            kept = unescape(bytes(self._text[formula.inner : formula.close]).decode())
            if not isinstance(edit, NewFormula) or kept != edit.text:
                self._refuse(f"holds a formula in {where}, which is not overwritten")
        elif isinstance(edit, NewFormula) and cell.inner != cell.end and self._text[cell.inner : cell.close].strip():
            self._refuse(f"holds something in {where} already, which is not overwritten")
        if not isinstance(edit, InPlaceOfFormula) and self._holds_already(cell, edit.value):
            return old
        attributes = re.sub(rb"\st\s*=\s*(?:\"[^\"]*\"|'[^']*')", b"", cell.attributes.rstrip(b"/")).rstrip()
        if isinstance(edit, InPlaceOfFormula):  # the mark of a formula that fills a range goes with that formula
            attributes = re.sub(rb"\scm\s*=\s*(?:\"[^\"]*\"|'[^']*')", b"", attributes)
        style = edit.style if isinstance(edit, Put | NewFormula) else None
        if style is not None:
            attributes = re.sub(rb"\ss\s*=\s*(?:\"[^\"]*\"|'[^']*')", b"", attributes) + b' s="%d"' % style
        if formula is not None and not isinstance(edit, InPlaceOfFormula):
            kept_bytes = bytes(self._text[formula.start : formula.end])
            return self._cell(attributes, kept_bytes, edit.value, where)
        return self._cell(attributes, self._formula(edit), edit.value, where)

    def _new_cell(self, row: int, column: int, edit: Edit, row_attributes: bytes) -> bytes:
        """Write the bytes of a cell that was not there; none where it is to be empty."""
        where = reference(row, column)
        if isinstance(edit, Cached | InPlaceOfFormula):
            self._refuse(f"holds no formula in {where}")
        if isinstance(edit, Emptied | Relooked) or (isinstance(edit, Put) and edit.value is None):
            return b""
        style = edit.style if edit.style is not None else self._style_of_empty(column, row_attributes)
        attributes = b' r="%b"' % where.encode() + (b' s="%d"' % style if style else b"")
        return self._cell(attributes, self._formula(edit), edit.value, where)

    def _cell(self, attributes: bytes, formula: bytes, value: Written, where: str) -> bytes:
        kind, content = self._writer.content(value, where, computed=bool(formula))
        start = b"<" + self._prefix + b"c" + attributes + (b' t="%b"' % kind if kind else b"")
        if not formula and not content:
            return start + b"/>"
        return start + b">" + formula + content + b"</" + self._prefix + b"c>"

    def _formula(self, edit: Edit) -> bytes:
        if not isinstance(edit, NewFormula | InPlaceOfFormula) or not edit.text:
            return b""
        return b"<%bf>%b</%bf>" % (self._prefix, self._writer.escaped(edit.text), self._prefix)

    def _holds_already(self, cell: Element, value: Written) -> bool:
        """Tell whether the cell's value is this one, however it is written."""
        kind = attribute(cell.attributes, b"t") or b"n"
        held = self._element(b"v", cell.inner, cell.close)
        if kind == b"inlineStr" and isinstance(value, str):
            _, content = self._writer.content(value, "", computed=False)
            return bytes(self._text[cell.inner : cell.close]) == content
        if held is None:
            return value is None and kind != b"inlineStr" and cell.inner == cell.end
        text = unescape(bytes(self._text[held.inner : held.close]).decode()) if held.inner != held.end else ""
        if isinstance(value, str):
            return kind == b"str" and text == encoded(value)
        if value is None or kind == b"s":
            return False
        if isinstance(value, CellError | bool):
            new_kind, content = self._writer.content(value, "", computed=True)
            return kind == new_kind and content == self._writer.value(text.encode())
        try:
            return kind == b"n" and float(text) == self._writer.number(value)
        except ValueError:
            return False

    def _need_known_content(self, cell: Element, where: str) -> None:
        for match in re.finditer(rb"<([\w:.-]+)", self._seen[cell.inner : cell.close]):
            if match[1] == self._prefix + b"is":
                return  # a rich text's own elements follow
            if match[1] not in (self._prefix + b"f", self._prefix + b"v"):
                self._refuse(f"holds something in {where} that is not understood")

    def _style_of_empty(self, column: int, row_attributes: bytes) -> int:
        """Find the format that a cell has before it is there: its row's, else its column's."""
        assert self._data is not None
        if attribute(row_attributes, b"customFormat") in (b"1", b"true"):
            return whole(attribute(row_attributes, b"s"))
        for match in self._tag(b"col").finditer(self._seen, 0, self._data.start):
            if whole(attribute(match[1], b"min")) <= column <= whole(attribute(match[1], b"max")):
                return whole(attribute(match[1], b"style"))
        return 0

    def _widened_dimension(self, by_row: dict[int, dict[int, Edit]]) -> list[tuple[int, int, bytes]]:
        """Widen the sheet's stated extent, where cells now lie beyond it: some readers stop there."""
        assert self._data is not None
        match = self._tag(b"dimension").search(self._seen, 0, self._data.start)
        if match is None or not attribute(match[1], b"ref"):
            return []
        old = self._area(attribute(match[1], b"ref"))
        columns = [column for edits in by_row.values() for column in edits]
        new = Area(min(old.top, *by_row), min(old.left, *columns), max(old.bottom, *by_row), max(old.right, *columns))
        if new == old:
            return []
        text = f"{reference(new.top, new.left)}:{reference(new.bottom, new.right)}".encode()
        start, end = attribute_span(match[1], b"ref")
        return [(match.start(1) + start, match.start(1) + end, text)]

    def _need_well_formed(self, cells: bytes) -> None:
        """Refuse cells that a parser cannot read: a slip here must not reach the file."""
        try:
            expat.ParserCreate("utf-8").Parse(b"<a>" + cells + b"</a>", True)
        except expat.ExpatError:
            self._refuse("would not be readable afterwards, so it is left as it is")

    # ------------------------------------------------------------------ scanning

    def _rows(self) -> Iterator[tuple[int, Element]]:
        assert self._data is not None
        at, last = self._data.inner, 0
        while (row := self._next(self._row_tag, b"row", at, self._data.close)) is not None:
            stated = attribute(row.attributes, b"r")
            number = last + 1 if not stated else whole(stated)
            if not last < number <= SHEET_ROWS:
                self._refuse("does not hold its rows in order")
            yield number, row
            at, last = row.end, number

    def _cells(self, number: int, row: Element) -> Iterator[tuple[int, Element]]:
        at, last = row.inner, 0
        while (cell := self._next(self._cell_tag, b"c", at, row.close)) is not None:
            stated = attribute(cell.attributes, b"r")
            column = last + 1
            if stated:
                match = _CELL_REFERENCE.fullmatch(stated)
                if match is None or int(match[2]) != number:
                    self._refuse(f"holds a cell in row {number} that says it is elsewhere")
                column = column_number(match[1].decode())
            if not last < column <= SHEET_COLUMNS:
                self._refuse(f"does not hold the cells of row {number} in order")
            yield column, cell
            at, last = cell.end, column

    def _next(self, tag: re.Pattern[bytes], name: bytes, at: int, end: int) -> Element | None:
        match = tag.search(self._seen, at, end)
        if match is None:
            return None
        if match[1].endswith(b"/"):
            return Element(match.start(), match.end(), match.end(), match.end(), bytes(match[1]))
        closing = b"</" + self._prefix + name
        close = self._seen.find(closing, match.end(), end)
        while close >= 0 and self._seen[close + len(closing) : close + len(closing) + 1] not in (
            b">",
            b" ",
            b"\t",
            b"\r",
            b"\n",
        ):
            close = self._seen.find(closing, close + 1, end)
        if close < 0:
            self._refuse("is written in a way that is not understood")
        return Element(match.start(), match.end(), close, self._seen.index(b">", close) + 1, bytes(match[1]))

    def _element(self, name: bytes, at: int, end: int) -> Element | None:
        return self._next(self._tag(name), name, at, end)

    def _tag(self, name: bytes) -> re.Pattern[bytes]:
        return tag_pattern(self._prefix + name)

    def _area(self, text: bytes) -> Area:
        if (area := area_of(text.decode(errors="replace"))) is None:
            self._refuse(f"has a range that is not understood: {text.decode(errors='replace')[:40]}")
        return area

    def _refuse(self, reason: str) -> NoReturn:
        raise Refused(f"{self._label} {reason}")
