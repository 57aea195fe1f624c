"""Small parts (lists of parts, relationships ...) read and changed as text: the rest stays as it was."""

from __future__ import annotations

import re
from html import unescape

from evenheft.ooxml.errors import Refused

TYPES_PART = "[Content_Types].xml"
OFFICE_RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


_UNREAD = re.compile(r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>", re.DOTALL)


def seen(text: str) -> str:
    """Blank out what a parser passes over: half a tag in a comment would be sought to its end again and again."""
    return _UNREAD.sub(lambda match: " " * len(match[0]), text)


def elements(text: str, name: str) -> list[str]:
    """Return the start tags of all elements of a name, whatever their prefix."""
    return re.findall(rf"<(?:\w+:)?{name}\b(?:[^>\"']|\"[^\"]*\"|'[^']*')*>", seen(text))


def attributes(tag: str) -> dict[str, str]:
    """Return a start tag's attributes by their names."""
    return {name: unescape(value[1:-1]) for name, value in re.findall(r"([\w:]+)\s*=\s*(\"[^\"]*\"|'[^']*')", tag)}


def relationship(text: str, *, kind: str = "", identifier: str = "") -> dict[str, str] | None:
    """Return the first relationship of a kind, or with an identifier, or None.

    Args:
        text: a part of relationships [-].
        kind: its whole type, or "" for any [-].
        identifier: its Id, or "" for any [-].
    """
    for link in map(attributes, elements(text, "Relationship")):
        if (not kind or link.get("Type") == kind) and (not identifier or link.get("Id") == identifier):
            return link
    return None


def free_identifiers(relationships: str, count: int) -> list[str]:
    """Return identifiers that no relationship of a part has yet."""
    taken = {attributes(tag).get("Id") for tag in elements(relationships, "Relationship")}
    free = (f"rIdHeft{n}" for n in range(1, len(taken) + count + 1))
    return [identifier for identifier in free if identifier not in taken][:count]


def with_children(text: str, parent: str, added: str) -> str:
    """Return a text with elements added as the last children of another; they take their parent's namespace prefix.

    Raises:
        Refused: there is no such parent.
    """
    end = re.search(rf"</((?:\w+:)?){parent}\s*>", seen(text))
    if end is None:
        raise Refused(f"a workbook is damaged: its {parent} have no end")
    prefixed = re.sub(r"<(?=\w)", f"<{end[1]}", added)
    return text[: end.start()] + prefixed + text[end.start() :]
