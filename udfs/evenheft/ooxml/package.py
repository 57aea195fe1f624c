"""Opening a workbook that somebody else may have made: what the file claims is checked before it is believed.

A workbook is a zip of XML parts. Nothing in it is ever run, followed or refreshed; what could be
(macros, links to other files, DDE, connections) is told as a list of warnings.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, NoReturn, Self, TypeAlias
from urllib.parse import unquote

from evenheft.ooxml.checking import Callbacks, PartCheck, is_xml_by_name, local_name
from evenheft.ooxml.dangers import REACHING, dangers, has_reaching_formula
from evenheft.ooxml.directory import DAMAGED, DirectoryCheck
from evenheft.ooxml.encodings import Wide, as_utf8, wide_of
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.limits import LIMITS, Limits
from evenheft.ooxml.opening import content_of, opened
from evenheft.ooxml.relationships import Relationship, inside, relationships_part
from evenheft.ooxml.text import shown_name

_CHUNK = 1 << 18
_SMALL = 1 << 16
"""Up to which size an XML part of a package that is read part by part is kept [bytes]."""

_Bytes: TypeAlias = bytes | bytearray


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worksheet, as the workbook lists it."""

    name: str
    part: str
    """The part that holds its cells, e.g. "xl/worksheets/sheet1.xml"."""
    hidden: bool


class Package:
    """An opened workbook. Its parts are read, and checked, one by one."""

    def __init__(self, source: BinaryIO, *, name: str, limits: Limits = LIMITS, add_in: bool = False) -> None:
        """Check a package's directory and that it is a workbook.

        Args:
            source: the file, open for reading and seeking; the package closes it [-].
            name: how messages call the file [-].
            limits: what is accepted [-].
            add_in: whether it may be an add-in (.xlam) instead of a workbook [-].

        Raises:
            Refused: it is no workbook, is damaged, or asks for more than the limits allow.
        """
        self.name = name
        self.source = source
        self.limits = limits
        self._kept: dict[str, bytes] = {}
        directory = DirectoryCheck(source, limits, self.refuse)
        directory.need_zip()
        try:
            self._zip = zipfile.ZipFile(source)
            self.entries: dict[str, zipfile.ZipInfo] = directory.checked_entries(
                self._zip.infolist(), self._zip.start_dir
            )
        except (zipfile.BadZipFile, NotImplementedError, UnicodeDecodeError, struct.error, EOFError, OSError):
            self.refuse(DAMAGED)
        self._by_lower = {entry.lower(): entry for entry in self.entries}
        self._types = self._content_types()
        self.workbook_part = self._find_workbook_part(add_in=add_in)
        self.epoch_1904 = False
        self.sheets: tuple[Sheet, ...] = self._find_sheets()
        self.warnings: tuple[str, ...] = tuple(dangers(self))

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file."""
        self._zip.close()
        self.source.close()

    def refuse(self, reason: str) -> NoReturn:
        """Raise Refused for this file."""
        raise Refused(f"{self.name} {reason}")

    @property
    def directory(self) -> list[zipfile.ZipInfo]:
        """Every record of the zip, in the order of its directory."""
        return self._zip.infolist()

    @property
    def start_of_directory(self) -> int:
        """Where the zip's directory begins, behind the last part [bytes]."""
        return self._zip.start_dir

    @property
    def comment(self) -> bytes:
        """The zip's own comment, mostly empty."""
        return self._zip.comment

    def content_type(self, part: str) -> str:
        """Tell what the package says a part is, "" where it says nothing."""
        overrides, defaults = self._types
        return overrides.get(part.lower()) or defaults.get(part.rpartition(".")[2].lower(), "")

    def part_named(self, name: str) -> str:
        """Return the part that a name means in any capitals; the name itself where there is none."""
        if name in self.entries:
            return name
        return self._by_lower.get(name.lower()) or self._by_lower.get(unquote(name).lower(), name)

    def wide(self, part: str) -> Wide | None:
        """Tell whether a part is written in UTF-16, and how; None where it is not."""
        if part in self._kept:
            return wide_of(self._kept[part])
        with self._zip.open(self.entries[part]) as stream:
            return wide_of(stream.read(4))

    def read(self, part: str, *, to_scan: bool = False) -> _Bytes:
        """Return a part's bytes, checked: an XML part is well formed, has no DOCTYPE and is not too deep.

        An XML part in UTF-16 is returned in UTF-8; written by `Rewriting`, it is again as it was.

        Args:
            part: its name [-].
            to_scan: whether the reader follows no nesting, so that any depth will do: far faster [-].

        Raises:
            Refused: the part is missing, damaged, or one of the above.
        """
        if part not in self.entries:
            self.refuse(f"lacks its part {shown_name(part)}")
        if part in self._kept:
            return self._in_utf8(part, self._kept[part])
        whole = bytearray(self.entries[part].file_size)  # filled in place: a large sheet is held once, not twice
        at = 0
        for chunk in self._checked_chunks(part, Callbacks(any_depth=to_scan)):
            whole[at : at + len(chunk)] = chunk
            at += len(chunk)
        return self._in_utf8(part, whole)

    def text(self, part: str) -> str:
        """Return an XML part as text.

        Raises:
            Refused: as `read`, or it is no text.
        """
        try:
            return bytes(self.read(part)).decode("utf-8-sig")
        except UnicodeDecodeError:
            self._refuse_as_no_text(part)

    def _in_utf8(self, part: str, content: _Bytes) -> _Bytes:
        try:
            return as_utf8(content) if is_xml_by_name(part) else content
        except UnicodeDecodeError:
            self._refuse_as_no_text(part)

    def _refuse_as_no_text(self, part: str) -> NoReturn:
        self.refuse(f"is damaged: its part {shown_name(part)} is no text")

    def find_sheet(self, name: str) -> Sheet | None:
        """Return the worksheet of a name, in any case as spreadsheets have it, or None."""
        return next((sheet for sheet in self.sheets if sheet.name.lower() == name.lower()), None)

    def sheet(self, name: str) -> Sheet:
        """Return the worksheet of a name, in any case as spreadsheets have it; refused with the names there are."""
        found = self.find_sheet(name)
        if found is None:
            self.refuse(f'has no sheet "{name}": it has {", ".join(sheet.name for sheet in self.sheets)}')
        return found

    def relationships(self, part: str) -> dict[str, Relationship]:
        """Return a part's relationships by identifier; none where it has no such list."""
        folder = part.rpartition("/")[0]
        listed = self.part_named(relationships_part(part))
        if listed not in self.entries:
            return {}
        found: dict[str, Relationship] = {}

        def note(tag: str, attributes: dict[str, str]) -> None:
            if local_name(tag) == "Relationship":
                outside = attributes.get("TargetMode", "") == "External"
                target = attributes.get("Target", "")
                identifier = attributes.get("Id", "")
                kind = attributes.get("Type", "").rpartition("/")[2]
                spelled = target if outside else inside(folder, target)
                target = spelled if outside else self.part_named(spelled)
                found[identifier] = Relationship(identifier, kind, target, outside, spelled)

        self.walk(listed, note)
        return found

    def walk(
        self,
        part: str,
        start: Callable[[str, dict[str, str]], None],
        end: Callable[[str], None] | None = None,
        text: Callable[[str], None] | None = None,
    ) -> None:
        """Call `start` with each element's tag and attributes of an XML part, `end` with its tag, `text` with texts.

        Raises:
            Refused: as `read`.
        """
        for _ in self._checked_chunks(part, Callbacks(start, end, text)):
            pass

    # ------------------------------------------------------------------ the parts

    def _keeps(self, part: str) -> bool:
        """Tell whether an XML part is kept once it was read: the small ones that are asked for again."""
        return self.entries[part].file_size <= _SMALL

    def _checked_chunks(self, part: str, callbacks: Callbacks | None = None) -> Iterator[bytes]:
        """Yield the chunks of a part, each already seen by the check; a part that is kept is not unpacked again."""
        check = PartCheck(part, callbacks, deepest=self.limits.depth, refuse=self.refuse)
        pieces: list[bytes] = []
        try:
            for chunk in self._chunks(part):
                check.feed(chunk)
                pieces.append(chunk)
                if not (check.is_xml and self._keeps(part)):
                    pieces.clear()
                yield chunk
        except (zipfile.BadZipFile, zlib.error, NotImplementedError, struct.error, EOFError, OSError):
            self.refuse(f"is damaged: its part {shown_name(part)} cannot be read")
        check.finish()
        if pieces and check.is_deep_checked:
            self._kept[part] = b"".join(pieces)

    def _chunks(self, part: str) -> Iterator[bytes]:
        if part in self._kept:
            yield self._kept[part]
            return
        with self._zip.open(self.entries[part]) as stream:
            while chunk := stream.read(_CHUNK):
                yield chunk

    # ------------------------------------------------------------------ what is in it

    def _content_types(self) -> tuple[dict[str, str], dict[str, str]]:
        listed = self.part_named("[Content_Types].xml")
        if listed not in self.entries:
            if "mimetype" in self.entries and "content.xml" in self.entries:
                self.refuse("is an OpenDocument file: call it .ods if it is a sheet, or save it as .xlsx first")
            self.refuse("is a zip file, but not a workbook (.xlsx, .xlsm, .xltx)")
        overrides: dict[str, str] = {}
        defaults: dict[str, str] = {}

        def note(tag: str, attributes: dict[str, str]) -> None:
            if local_name(tag) == "Override":
                overrides[attributes.get("PartName", "").lstrip("/").lower()] = attributes.get("ContentType", "")
            elif local_name(tag) == "Default":
                defaults[attributes.get("Extension", "").lower()] = attributes.get("ContentType", "")

        self.walk(listed, note)
        return overrides, defaults

    def _find_workbook_part(self, *, add_in: bool) -> str:
        links = self.relationships("").values()
        part = next((link.target for link in links if link.kind == "officeDocument" and not link.outside), "")
        kind = self.content_type(part)
        if "sheet.binary" in kind:
            self.refuse("is a binary workbook (.xlsb): save it as .xlsx in your spreadsheet program first")
        if "addin" in kind and not add_in:
            self.refuse("is an add-in, not a workbook")
        if "spreadsheetml" not in kind and "ms-excel" not in kind:
            self.refuse(
                f"is {'an office document' if kind else 'a zip file'}, but not a workbook (.xlsx, .xlsm, .xltx)"
            )
        if part not in self.entries:
            self.refuse(f"lacks its part {shown_name(part)}")
        return part

    def _find_sheets(self) -> tuple[Sheet, ...]:
        links = self.relationships(self.workbook_part)
        found: list[Sheet] = []

        def note(tag: str, attributes: dict[str, str]) -> None:
            if local_name(tag) == "workbookPr":
                self.epoch_1904 = attributes.get("date1904", "0") in ("1", "true")
            if local_name(tag) != "sheet" or "name" not in attributes:
                return
            identifier = next((v for k, v in attributes.items() if local_name(k) == "id" and ":" in k), "")
            link = links.get(identifier)
            if link is not None and link.kind == "worksheet" and link.target in self.entries:
                found.append(Sheet(attributes["name"], link.target, attributes.get("state", "visible") != "visible"))

        self.walk(self.workbook_part, note)
        if not found:
            self.refuse("is a workbook without a sheet of cells")
        if len({sheet.name.lower() for sheet in found}) < len(found):
            self.refuse("has two sheets of one name")
        if len({sheet.part for sheet in found}) < len(found):  # thousands of names cost nothing, each read costs time
            self.refuse("has two sheets that are the same cells")
        return tuple(found)


class CheckedPackage(Package):
    """A workbook in memory whose every part has been unpacked once, and checked: what hosts take, and only this."""

    def __init__(self, content: bytes, *, name: str, limits: Limits = LIMITS, add_in: bool = False) -> None:
        """Read and check a package wholly.

        Args:
            content: the file's bytes [-].
            name: how messages call the file [-].
            limits: what is accepted [-].
            add_in: whether it may be an add-in (.xlam) instead of a workbook [-].

        Raises:
            Refused: as `Package`, or one of its parts is damaged or refused.
        """
        super().__init__(io.BytesIO(content), name=name, limits=limits, add_in=add_in)
        for part in self.entries:
            if part not in self._kept:
                for _ in self._checked_chunks(part):
                    pass
        if any(has_reaching_formula(bytes(self.read(sheet.part))) for sheet in self.sheets):
            self.warnings += (REACHING,)

    @property
    def content(self) -> bytes:
        """The whole file's bytes."""
        self.source.seek(0)
        return self.source.read()

    def kept(self, part: str) -> bytes:
        """Return an XML part's bytes as they are, nothing of a part of another kind."""
        return self._kept.get(part, b"")

    def _keeps(self, part: str) -> bool:  # noqa: ARG002  whatever its size
        return True


def open_package(path: Path, *, limits: Limits = LIMITS) -> Package:
    """Open a workbook to read it part by part; each part is checked when it is read.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        limits: what is accepted [-].

    Returns:
        The package, which the caller closes [-].

    Raises:
        Refused: there is no such file, or it is no workbook to be opened.
    """
    source = opened(path)
    try:
        return Package(source, name=path.name, limits=limits)
    except BaseException:
        source.close()
        raise


def read_package(path: Path, *, limits: Limits = LIMITS) -> CheckedPackage:
    """Read a workbook once, wholly, and check every part, so that its bytes can be given to the engine.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        limits: what is accepted [-].

    Returns:
        The package, in memory [-].

    Raises:
        Refused: there is no such file, or it is no workbook to be read.
    """
    return CheckedPackage(content_of(path, limits), name=path.name, limits=limits)
