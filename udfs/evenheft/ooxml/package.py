"""Opening a workbook that somebody else may have made: what the file claims is checked before it is believed.

A workbook is a zip of XML parts. Nothing in it is ever run, followed or refreshed; what could be
(macros, links to other files, DDE, connections) is told as a list of warnings.
"""

from __future__ import annotations

import io
import re
import stat
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, NoReturn
from xml.parsers import expat

_CHUNK = 1 << 18
_MB = 1 << 20


class Refused(ValueError):  # noqa: N818  it is an answer, not a failure
    """Why a file is not touched, in one line for a builder that names the file."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What a workbook may be at most; each is far above what a shop's workbook needs."""

    file_bytes: int = 256 * _MB
    entries: int = 5_000
    expanded_bytes: int = 1024 * _MB
    """Of all parts together."""
    part_bytes: int = 512 * _MB
    ratio: int = 250
    """Expanded to packed size, of a part that expands to more than `ratio_from`."""
    ratio_from: int = 4 * _MB
    depth: int = 64
    """Elements inside elements."""


LIMITS = Limits()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worksheet, as the workbook lists it."""

    name: str
    part: str
    """The part that holds its cells, e.g. "xl/worksheets/sheet1.xml"."""
    hidden: bool


@dataclass(frozen=True, slots=True)
class Relationship:
    """A link from one part to another, or to something outside of the workbook."""

    identifier: str
    kind: str
    """The last word of its type, e.g. "worksheet" or "hyperlink"."""
    target: str
    """The part it leads to, or the outside address as it is written."""
    outside: bool


class Package:
    """An opened workbook. Its parts are read, and checked, one by one."""

    def __init__(self, source: BinaryIO, *, name: str, limits: Limits = LIMITS) -> None:
        """Check a package's directory and that it is a workbook.

        Args:
            source: the file, open for reading and seeking; the package closes it [-].
            name: how messages call the file [-].
            limits: what is accepted [-].

        Raises:
            Refused: it is no workbook, is damaged, or asks for more than the limits allow.
        """
        self.name = name
        self.source = source
        self.limits = limits
        self._need_zip()
        try:
            self._zip = zipfile.ZipFile(source)
            self.entries: dict[str, zipfile.ZipInfo] = self._checked_entries()
        except (zipfile.BadZipFile, NotImplementedError, UnicodeDecodeError, struct.error, EOFError, OSError):
            self.refuse("is damaged or cut off: copy or download it again")
        self._types = self._content_types()
        self.workbook_part = self._find_workbook_part()
        self.epoch_1904 = False
        self.sheets: tuple[Sheet, ...] = self._find_sheets()
        self.warnings: tuple[str, ...] = tuple(self._find_warnings())

    def __enter__(self) -> Package:
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

    @property
    def content(self) -> bytes:
        """The whole file's bytes."""
        self.source.seek(0)
        return self.source.read()

    def content_type(self, part: str) -> str:
        """Tell what the package says a part is, "" where it says nothing."""
        overrides, defaults = self._types
        return overrides.get(part.lower()) or defaults.get(part.rpartition(".")[2].lower(), "")

    def read(self, part: str, *, to_scan: bool = False) -> bytearray:
        """Read a part's bytes, checked: an XML part is well formed, has no DOCTYPE and is not too deep.

        Args:
            part: its name [-].
            to_scan: whether the reader follows no nesting, so that any depth will do: far faster [-].

        Raises:
            Refused: the part is missing, damaged, or one of the above.
        """
        if part not in self.entries:
            self.refuse(f"lacks its part {part}")
        whole = bytearray(self.entries[part].file_size)  # filled in place: a large sheet is held once, not twice
        at = 0
        for chunk in self._checked_chunks(part, _Callbacks(any_depth=to_scan)):
            whole[at : at + len(chunk)] = chunk
            at += len(chunk)
        return whole

    def check_parts(self) -> None:
        """Check every part as `read` does, keeping none, and look for formulas that reach out of the workbook."""
        sheets = {sheet.part for sheet in self.sheets}
        reaching = False
        for part in self.entries:
            tail = b""
            for chunk in self._checked_chunks(part):
                if part in sheets and not reaching:
                    reaching = _REACHING_FORMULA.search(tail + chunk) is not None
                    tail = chunk[-_LONGEST_SHOWN:]
        if reaching:
            self.warnings += ("it has formulas that call other programs or the network, which are not run",)

    def sheet(self, name: str) -> Sheet:
        """Find the worksheet of a name, in any case as spreadsheets have it; refused with the names there are."""
        found = next((sheet for sheet in self.sheets if sheet.name.lower() == name.lower()), None)
        if found is None:
            self.refuse(f'has no sheet "{name}": it has {", ".join(sheet.name for sheet in self.sheets)}')
        return found

    def relationships(self, part: str) -> dict[str, Relationship]:
        """Read a part's relationships by identifier; none where it has no such list."""
        folder, _, file = part.rpartition("/")
        listed = f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"
        if listed not in self.entries:
            return {}
        found: dict[str, Relationship] = {}

        def note(tag: str, attributes: dict[str, str]) -> None:
            if local_name(tag) == "Relationship":
                outside = attributes.get("TargetMode", "") == "External"
                target = attributes.get("Target", "")
                identifier = attributes.get("Id", "")
                kind = attributes.get("Type", "").rpartition("/")[2]
                target = target if outside else _inside(folder, target)
                found[identifier] = Relationship(identifier, kind, target, outside)

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
        for _ in self._checked_chunks(part, _Callbacks(start, end, text)):
            pass

    # ------------------------------------------------------------------ the zip's directory

    def _need_zip(self) -> None:
        size = self.source.seek(0, io.SEEK_END)
        if size > self.limits.file_bytes:
            self.refuse(f"is too large: {size // _MB} MB, at most {self.limits.file_bytes // _MB} MB are opened")
        self.source.seek(0)
        head = self.source.read(8)
        if not head:
            self.refuse("is empty: it holds no bytes at all")
        if head == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
            self.source.seek(0)
            if "EncryptedPackage".encode("utf-16-le") in self.source.read(8 * _MB):
                self.refuse("is protected by a password to open: take it off in your spreadsheet program first")
            self.refuse("is in the old .xls format: save it as .xlsx in your spreadsheet program first")
        if not head.startswith(b"PK\x03\x04"):
            self.refuse("is not a workbook (.xlsx, .xlsm, .xltx)")

    def _checked_entries(self) -> dict[str, zipfile.ZipInfo]:
        listed = self._zip.infolist()
        if len(listed) > self.limits.entries:
            self.refuse(f"holds {len(listed)} parts, at most {self.limits.entries} are accepted")
        seen: set[str] = set()
        for entry in listed:
            self._check_entry(entry)
            if entry.filename.lower() in seen:
                self.refuse(f"holds the part {_shown(entry.filename)} twice")
            seen.add(entry.filename.lower())
        expanded = sum(entry.file_size for entry in listed)
        if expanded > self.limits.expanded_bytes:
            most = self.limits.expanded_bytes // _MB
            self.refuse(f"would expand to {expanded // _MB} MB, at most {most} MB are accepted")
        self._check_places(listed)
        return {entry.filename: entry for entry in listed if not entry.is_dir()}

    def _check_entry(self, entry: zipfile.ZipInfo) -> None:
        name = entry.orig_filename
        told = _shown(name)
        pieces = name.split("/")
        if name.startswith("/") or ".." in pieces or "." in pieces or any(c in name for c in "\\:\0"):
            self.refuse(f"holds a part whose name leaves the workbook: {told}")
        if entry.flag_bits & 0x1:
            self.refuse("is encrypted: take its password off in your spreadsheet program first")
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            self.refuse(f"packs its part {told} in a way that workbooks do not use")
        if entry.compress_type == zipfile.ZIP_STORED and entry.compress_size != entry.file_size:
            self.refuse(f"is damaged: its part {told} has two sizes")
        if entry.file_size > self.limits.part_bytes:
            self.refuse(f"would expand its part {told} to {entry.file_size // _MB} MB")
        if entry.file_size > self.limits.ratio_from and entry.file_size > self.limits.ratio * entry.compress_size:
            self.refuse(f"would expand its part {told} more than {self.limits.ratio} times")

    def _check_places(self, listed: list[zipfile.ZipInfo]) -> None:
        """Parts that share bytes are how a small file expands to a large one unseen."""
        end = 0
        for entry in sorted(listed, key=lambda entry: entry.header_offset):
            if entry.header_offset < end:
                self.refuse("is damaged: its parts overlap")
            end = entry.header_offset + 30 + len(entry.orig_filename) + entry.compress_size
        if listed and min(entry.header_offset for entry in listed) != 0:
            self.refuse("has something in front of its first part, which no workbook has")
        if end > self._zip.start_dir:
            self.refuse("is damaged: its last part is cut off")

    # ------------------------------------------------------------------ the parts

    def _checked_chunks(self, part: str, callbacks: _Callbacks | None = None) -> Iterator[bytes]:
        """Yield the chunks of a part, each already seen by the check."""
        check = _Check(self, part, callbacks)
        try:
            with self._zip.open(self.entries[part]) as stream:
                while chunk := stream.read(_CHUNK):
                    check.feed(chunk)
                    yield chunk
        except (zipfile.BadZipFile, zlib.error, NotImplementedError, struct.error, EOFError, OSError):
            self.refuse(f"is damaged: its part {_shown(part)} cannot be read")
        check.finish()

    # ------------------------------------------------------------------ what is in it

    def _content_types(self) -> tuple[dict[str, str], dict[str, str]]:
        if "[Content_Types].xml" not in self.entries:
            if "mimetype" in self.entries and "content.xml" in self.entries:
                self.refuse("is an OpenDocument file: save it as .xlsx in your spreadsheet program first")
            self.refuse("is a zip file, but not a workbook (.xlsx, .xlsm, .xltx)")
        overrides: dict[str, str] = {}
        defaults: dict[str, str] = {}

        def note(tag: str, attributes: dict[str, str]) -> None:
            if local_name(tag) == "Override":
                overrides[attributes.get("PartName", "").lstrip("/").lower()] = attributes.get("ContentType", "")
            elif local_name(tag) == "Default":
                defaults[attributes.get("Extension", "").lower()] = attributes.get("ContentType", "")

        self.walk("[Content_Types].xml", note)
        return overrides, defaults

    def _find_workbook_part(self) -> str:
        links = self.relationships("").values()
        part = next((link.target for link in links if link.kind == "officeDocument" and not link.outside), "")
        kind = self.content_type(part)
        if "sheet.binary" in kind:
            self.refuse("is a binary workbook (.xlsb): save it as .xlsx in your spreadsheet program first")
        if "addin" in kind:
            self.refuse("is an add-in, not a workbook")
        if "spreadsheetml" not in kind and "ms-excel" not in kind:
            self.refuse(
                f"is {'an office document' if kind else 'a zip file'}, but not a workbook (.xlsx, .xlsm, .xltx)"
            )
        if part not in self.entries:
            self.refuse(f"lacks its part {_shown(part)}")
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
        return tuple(found)

    def _find_warnings(self) -> Iterator[str]:
        names = [name.lower() for name in self.entries]
        for pattern, warning in _ACTIVE_PARTS:
            if any(re.search(pattern, name) for name in names):
                yield warning
        outside = [name for name in self.entries if re.search(r"externallinks/[^/]*\.xml$", name.lower())]
        if outside:
            yield "it has links to other workbooks, which are not followed"
        if any(self._has_dde(name) for name in outside):
            yield "it has DDE links to other programs, which are not run"
        if any(self._has_outside_content(name) for name in self.entries if name.lower().endswith(".rels")):
            yield "it has pictures or objects that are kept elsewhere, which are not fetched"

    def _has_dde(self, part: str) -> bool:
        found: list[str] = []
        self.walk(part, lambda tag, _: found.append(tag) if local_name(tag) == "ddeLink" else None)
        return bool(found)

    def _has_outside_content(self, part: str) -> bool:
        found: list[str] = []

        def note(tag: str, attributes: dict[str, str]) -> None:
            kind = attributes.get("Type", "").rpartition("/")[2]
            if attributes.get("TargetMode") == "External" and kind not in ("hyperlink", "externalLinkPath"):
                found.append(tag)

        self.walk(part, note)
        return bool(found)


_LONGEST_SHOWN = 1024
# DDE as it is typed into a cell, program|'topic'!item, and the functions that fetch.
_REACHING_FORMULA = re.compile(
    rb"<f\b[^>]*>[^<]*(?:\w\|[^<|]*!|\b(?:WEBSERVICE|FILTERXML|IMAGE|RTD|DDE|CALL|REGISTER\.ID)\()", re.IGNORECASE
)
_ACTIVE_PARTS = (
    (r"vbaproject.*\.bin$", "it has macros, which are not run"),
    (r"(macrosheets|dialogsheets)/", "it has macro sheets of an old kind, which are not run"),
    (r"activex/|ctrlprops/", "it has form controls, which are not run"),
    (r"embeddings/", "it has embedded objects, which are not opened"),
    (r"connections\.xml$|querytables/", "it has data connections, which are not refreshed"),
    (r"customui", "it has buttons of its own in the ribbon, which are not run"),
    (r"webextensions/|taskpanes", "it has web add-ins, which are not run"),
)


@dataclass(frozen=True, slots=True)
class _Callbacks:
    """Who wants to know what a parser sees."""

    start: Callable[[str, dict[str, str]], None] | None = None
    end: Callable[[str], None] | None = None
    text: Callable[[str], None] | None = None
    any_depth: bool = False


class _Check:
    """Sees a part go by, and refuses what no workbook needs and an attacker does."""

    def __init__(self, package: Package, part: str, callbacks: _Callbacks | None) -> None:
        self._package = package
        self._part = part
        self._callbacks = callbacks or _Callbacks()
        self._parser: expat.XMLParserType | None = None
        self._loose = False
        self._tail = b""
        self._depth = 0
        self._begun = False

    def feed(self, chunk: bytes) -> None:
        """Check the next bytes."""
        if not self._begun:
            self._begun = True
            self._begin(chunk)
        if self._parser is not None:
            try:
                self._parser.Parse(chunk, False)
            except (expat.ExpatError, ValueError, LookupError) as error:
                self._refuse_malformed(error)
        elif self._loose:
            seen = self._tail + chunk.replace(b"\0", b"").upper()  # UTF-16 becomes what it says
            if b"<!DOCTYPE" in seen or b"<!ENTITY" in seen:
                self._refuse_doctype()
            self._tail = seen[-9:]

    def finish(self) -> None:
        """Check that the part is complete."""
        if self._parser is None:
            if not self._begun and self._is_xml_by_name():
                self._package.refuse(f"is damaged: its part {_shown(self._part)} is empty")
            return
        try:
            self._parser.Parse(b"", True)
        except (expat.ExpatError, ValueError, LookupError) as error:
            self._refuse_malformed(error)

    def _is_xml_by_name(self) -> bool:
        return self._part.lower().endswith((".xml", ".rels"))

    def _begin(self, chunk: bytes) -> None:
        # A part is XML by its name or by how it begins: relationships may lead to a part of any name.
        looks = re.match(rb"(?:\xef\xbb\xbf)?\s*<|\xff\xfe|\xfe\xff|<\0|\0<", chunk) is not None
        if self._part.lower().endswith((".vml", ".htm", ".html")):
            self._loose = True  # their writers do not close every element
        elif self._is_xml_by_name() or looks:
            parser = expat.ParserCreate()
            if not self._callbacks.any_depth:
                parser.StartElementHandler = self._open
                parser.EndElementHandler = self._close
            parser.StartDoctypeDeclHandler = lambda *_: self._refuse_doctype()
            parser.XmlDeclHandler = self._declared
            if self._callbacks.text is not None:
                parser.buffer_text = True
                parser.CharacterDataHandler = self._callbacks.text
            self._parser = parser

    def _declared(self, version: str, encoding: str | None, standalone: int) -> None:  # noqa: ARG002
        if encoding is not None and encoding.lower() not in ("utf-8", "utf-16", "us-ascii", "ascii"):
            self._package.refuse(f"writes its part {_shown(self._part)} in {_shown(encoding)}, which no workbook does")

    def _open(self, tag: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > self._package.limits.depth:
            self._package.refuse(f"nests its part {_shown(self._part)} deeper than any workbook needs")
        if self._callbacks.start is not None:
            self._callbacks.start(tag, attributes)

    def _close(self, tag: str) -> None:
        self._depth -= 1
        if self._callbacks.end is not None:
            self._callbacks.end(tag)

    def _refuse_doctype(self) -> NoReturn:
        self._package.refuse(f"declares a DOCTYPE in its part {_shown(self._part)}, which no workbook needs")

    def _refuse_malformed(self, error: Exception) -> NoReturn:
        if isinstance(error, Refused):
            raise error
        self._package.refuse(f"is damaged: its part {_shown(self._part)} is not well-formed XML")


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
    source = _opened(path)
    try:
        return Package(source, name=path.name, limits=limits)
    except BaseException:
        source.close()
        raise


def read_package(path: Path, *, limits: Limits = LIMITS) -> Package:
    """Read a workbook once, wholly, and check every part, so that its bytes can be given to the engine.

    Args:
        path: the .xlsx, .xlsm or .xltx file [-].
        limits: what is accepted [-].

    Returns:
        The package, in memory: `content` gives the bytes that were checked [-].

    Raises:
        Refused: there is no such file, or it is no workbook to be read.
    """
    with _opened(path) as source:
        try:
            content = source.read(limits.file_bytes + 1)
        except OSError as error:
            raise Refused(f"{path.name} cannot be read: {_reason(error)}") from None
    package = Package(io.BytesIO(content), name=path.name, limits=limits)
    package.check_parts()
    return package


def local_name(tag: str) -> str:
    """Take the namespace's prefix off the name of a tag or an attribute."""
    return tag.rpartition(":")[2]


def _opened(path: Path) -> BinaryIO:
    try:
        if not stat.S_ISREG(path.stat().st_mode):  # a pipe would wait for ever
            raise Refused(f"{path.name or path} is a folder or a device, not a workbook")
        return path.open("rb")
    except OSError as error:
        raise Refused(f"{path.name or path} cannot be read: {_reason(error)}") from None


def _reason(error: OSError) -> str:
    return "there is no such file" if isinstance(error, FileNotFoundError) else (error.strerror or "").lower()


def _inside(folder: str, target: str) -> str:
    """Resolve a relationship's target, seen from its folder, to the part that it means."""
    pieces: list[str] = [] if target.startswith("/") else [piece for piece in folder.split("/") if piece]
    for piece in target.split("/"):
        if piece == "..":
            pieces = pieces[:-1]
        elif piece not in ("", "."):
            pieces.append(piece)
    return "/".join(pieces)


def _shown(name: str) -> str:
    """Show a name from the file as a message may print it: one short line without control characters."""
    plain = "".join(c if c.isprintable() else "?" for c in name)
    return plain if len(plain) <= 60 else f"{plain[:57]}..."
