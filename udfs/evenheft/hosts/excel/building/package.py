"""A workbook's parts, read and changed as text: what is not meant stays as it was."""

from __future__ import annotations

import io
import posixpath
import re
import zipfile
from html import unescape

TYPES_PART = "[Content_Types].xml"
OFFICE_RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


class BookError(Exception):
    """Why a workbook cannot be served; one line that goes on from its name."""


class Parts:
    """A package's parts, and where its workbook is."""

    def __init__(self, content: bytes) -> None:
        """Read a package.

        Args:
            content: the file's bytes; a stranger's file is checked before (workbooks.package) [-].

        Raises:
            BookError: it is no workbook, or damaged.
        """
        try:
            with zipfile.ZipFile(io.BytesIO(content)) as package:
                self._bytes = {name: package.read(name) for name in package.namelist()}
        except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, EOFError):
            raise BookError("is damaged or is no workbook") from None
        self.names = self._bytes.keys()
        found = relationship(self.text("_rels/.rels"), kind=f"{OFFICE_RELATIONSHIPS}/officeDocument")
        self.workbook = found["Target"].lstrip("/") if found else ""
        self.workbook_type = next(
            (
                told.get("ContentType", "")
                for told in map(attributes, elements(self.text(TYPES_PART), "Override"))
                if told.get("PartName") == f"/{self.workbook}"
            ),
            "",
        )

    def text(self, part: str) -> str:
        """Read a part's XML.

        Raises:
            BookError: there is no such part, or it is no text.
        """
        try:
            return self._bytes[part].decode("utf-8-sig")
        except (KeyError, UnicodeDecodeError):
            raise BookError(f"is damaged or is no workbook: {part} cannot be read") from None

    @property
    def workbook_relationships(self) -> str:
        """The part that holds the workbook's relationships."""
        folder, name = posixpath.split(self.workbook)
        return posixpath.join(folder, "_rels", f"{name}.rels")

    def sheet_part(self, name: str) -> str | None:
        """Find the part of a sheet, by the sheet's name, or None."""
        for sheet in map(attributes, elements(self.text(self.workbook), "sheet")):
            if sheet.get("name", "").lower() == name.lower():
                identifier = next((value for key, value in sheet.items() if key.endswith(":id")), "")
                found = relationship(self.text(self.workbook_relationships), identifier=identifier)
                if found is not None:
                    folder = posixpath.dirname(self.workbook)
                    return posixpath.normpath(posixpath.join("/", folder, found["Target"]))[1:]
        return None

    def shared_strings(self) -> list[str]:
        """Read the workbook's table of texts, in which Excel keeps what the cells hold."""
        part = posixpath.join(posixpath.dirname(self.workbook), "sharedStrings.xml")
        if part not in self.names:
            return []
        items = re.findall(r"<(?:\w+:)?si\b[^>]*>(.*?)</(?:\w+:)?si>", self.text(part), re.DOTALL)
        return [unescape("".join(re.findall(r"<(?:\w+:)?t\b[^>]*>([^<]*)<", item))) for item in items]


def elements(text: str, name: str) -> list[str]:
    """Find the start tags of all elements of a name, whatever their prefix."""
    return re.findall(rf"<(?:\w+:)?{name}\b(?:[^>\"']|\"[^\"]*\"|'[^']*')*>", text)


def attributes(tag: str) -> dict[str, str]:
    """Read a start tag's attributes by their names."""
    return {name: unescape(value[1:-1]) for name, value in re.findall(r"([\w:]+)\s*=\s*(\"[^\"]*\"|'[^']*')", tag)}


def relationship(text: str, *, kind: str = "", identifier: str = "") -> dict[str, str] | None:
    """Find the first relationship of a kind, or with an identifier, or None.

    Args:
        text: a part of relationships [-].
        kind: its whole type, or "" for any [-].
        identifier: its Id, or "" for any [-].
    """
    for told in map(attributes, elements(text, "Relationship")):
        if (not kind or told.get("Type") == kind) and (not identifier or told.get("Id") == identifier):
            return told
    return None


def free_identifiers(relationships: str, count: int) -> list[str]:
    """Make identifiers that no relationship of a part has yet."""
    taken = {attributes(tag).get("Id") for tag in elements(relationships, "Relationship")}
    free = (f"rIdHeft{n}" for n in range(1, len(taken) + count + 1))
    return [identifier for identifier in free if identifier not in taken][:count]


def with_children(text: str, parent: str, added: str) -> str:
    """Add elements as the last children of another; they take their parent's namespace prefix.

    Raises:
        BookError: there is no such parent.
    """
    end = re.search(rf"</((?:\w+:)?){parent}\s*>", text)
    if end is None:
        raise BookError(f"is damaged: its {parent} have no end")
    prefixed = re.sub(r"<(?=\w)", f"<{end[1]}", added)
    return text[: end.start()] + prefixed + text[end.start() :]
