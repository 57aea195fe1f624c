"""Texts on which a pattern would try one way after the other: each is read in time that grows with its length alone.

No time is measured: read as they once were, these took hours or for ever. The alarm only spares whoever breaks them the
wait.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from types import FrameType

import pytest

from evenheft.formulas.headed import pairing
from evenheft.hosts.embedded import LONGEST_FORMULA
from evenheft.hosts.excel.building.described import with_described_arguments
from evenheft.ooxml.cells import SheetText
from evenheft.ooxml.edits import Cached
from evenheft.ooxml.markup import elements, with_children
from evenheft.ooxml.reading import SheetContent
from evenheft.order.supplier import out
from evenheft.shop import clubs, reach
from evenheft.shop.view import view_of

LONG = 1_000_000
LONGEST_WAIT = 300
"""Seconds, some hundred times what they need on a slow machine."""


@pytest.fixture(autouse=True)
def alarm() -> Iterator[None]:
    def ring(_: int, __: FrameType | None) -> None:
        pytest.fail("a text is read again and again")

    before = signal.signal(signal.SIGALRM, ring)
    signal.alarm(LONGEST_WAIT)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def totals(text: str) -> object:
    content = SheetContent()
    content.values[1, 1] = text
    return clubs._totals(view_of(content), 1, [text], [])


def ranges(text: str) -> object:
    return list(reach.ranges_in(text))


def reaches(text: str) -> object:
    content = SheetContent()
    content.formulas[1, 1] = text
    return reach.reaches_others(view_of(content), (1, 1))


def in_comment(text: str) -> str:
    return f'<workbook><!-- {text} --><sheets><sheet name="a"/></sheets></workbook>'


def edited(attributes: str) -> bytes:
    sheet = f'<worksheet><sheetData><row r="1"><c r="A1"{attributes}><f>1</f><v>1</v></c></row></sheetData></worksheet>'

    pieces, _ = SheetText(sheet.encode(), label="it").edited({(1, 1): Cached(2.0)})
    return b"".join(map(bytes, pieces))


TEXTS: dict[str, tuple[Callable[[str], object], str]] = {
    "a line of totals": (totals, "of the " * 10_000 + "x"),
    "a short line of totals": (totals, ("of the " * 20)[:90] + "x"),
    "a heading of a plan": (pairing._plain, "(" * LONG),
    "quotes in a formula": (ranges, "'" * LONG + "x"),
    "one long word": (ranges, "a" * LONG),
    "one long number": (ranges, "1" * LONG + ":1"),
    "brackets without an end": (ranges, "a[" * LONG),
    "a total over brackets": (reaches, "SUM(" + "a[" * (LONGEST_FORMULA // 2 - 4)),
    "a formula that is too long": (reaches, "SUM(" + "a[" * LONG),
    "many functions": (reaches, "SUM" * (LONGEST_FORMULA // 3)),
    "half a tag in a comment": (lambda text: elements(in_comment(text), "sheet"), '<sheet "' * (LONG // 8 + 1)),
    "half an end in a comment": (lambda text: with_children(in_comment(text), "sheets", ""), "</sheets" + " " * LONG),
    "half an extension": (lambda text: with_described_arguments(in_comment(text)), "<ext " * LONG),
    "blanks in a cell's tag": (edited, " " * LONG),
    "folders without an end": (out._PATH.search, " /a" * LONG + "*"),
}  # fmt: skip


@pytest.mark.parametrize("name", TEXTS)
def test_a_dear_text_is_read_in_one_go(name: str) -> None:
    read, text = TEXTS[name]
    read(text)
