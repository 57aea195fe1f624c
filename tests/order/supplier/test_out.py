"""What leaves the shop is looked through for the customer's name, however short, and for places on a computer."""

from __future__ import annotations

import pytest

from evenheft.ooxml.errors import Refused
from evenheft.order.supplier.out import HeadsOrder, Wanted, likely_private, need_nothing_private


def heads(note: str = "", *, club: str = "7-iron", model: str = "Forged", number: str = "1001") -> HeadsOrder:
    return HeadsOrder(number, (Wanted(3, club, model, 1, 34, 62, 281.0, 1.0, note),))


@pytest.mark.parametrize("customer", ["Kim", "Anna", "Bruno", "Sofia", "Ada  Li", "Quillfeather"])
def test_a_name_of_three_letters_or_more_does_not_leave(customer: str) -> None:
    name = " ".join(customer.split())
    for sheet in (heads(f"for {name} please"), heads(f"for {name.upper()}"), heads(number=f"1001 {name}"),
                 heads(club=name), heads(model=f"{name}'s")):  # fmt: skip
        with pytest.raises(Refused, match="names the customer, who does not leave the shop"):
            need_nothing_private(sheet, customer, "order.xlsx")
    need_nothing_private(heads("raw, 1/2 deg upright"), customer, "order.xlsx")


@pytest.mark.parametrize("customer", ["", "  ", "Li", "X"])
def test_two_letters_are_in_every_note_and_no_name_is_looked_for(customer: str) -> None:
    need_nothing_private(heads(f"a linear fit, {customer} X"), customer, "order.xlsx")


def heads_of(note: str) -> HeadsOrder:
    return heads(note, club="no. 7")


@pytest.mark.parametrize("word", ["Ann", "Iron", "Raven", "Forger"])
def test_a_word_of_a_longer_name_is_to_be_looked_at(word: str) -> None:
    (line,) = likely_private(heads_of(f"the {word.lower()}, as before"), f"{word} Quillfeather")
    assert line == f"the note for club 3 holds a word of the customer's name, look at it: the {word.lower()}, as before"
    assert likely_private(heads_of(f"the {word.lower()}s, as before"), f"{word} Quillfeather") == []
    assert likely_private(heads_of("it is as before"), "It Is Quillfeather") == []


@pytest.mark.parametrize(
    "text",
    [
        "C:\\Clients\\x.xlsx",
        "see d:\\x",
        "\\\\server\\x",
        "file:order.xlsx",
        "/home/shop/x.xlsx",
        "in ~/orders/x",
        '"/srv/x"',
    ],
)
def test_a_place_on_a_computer_does_not_leave(text: str) -> None:
    with pytest.raises(Refused, match="a place on a computer"):
        need_nothing_private(heads(text), "", "order.xlsx")


@pytest.mark.parametrize("text", ["34/62 deg", "1/2 deg", "raw / unfinished", "either/or"])
def test_a_slash_is_no_place(text: str) -> None:
    need_nothing_private(heads(text), "", "order.xlsx")
