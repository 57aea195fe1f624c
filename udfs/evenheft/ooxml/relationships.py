"""How the parts of a package name each other."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Relationship:
    """A link from one part to another, or to something outside of the workbook."""

    identifier: str
    kind: str
    """The last word of its type, e.g. "worksheet" or "hyperlink"."""
    target: str
    """The part it leads to, or the outside address as it is written."""
    outside: bool
    spelled: str = ""
    """The part's name as the link spells it, which may differ in capitals."""


def relationships_part(part: str) -> str:
    """Return the name of the part that holds another part's relationships; "" stands for the package itself."""
    folder, _, file = part.rpartition("/")
    return f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"


def inside(folder: str, target: str) -> str:
    """Resolve a relationship's target, seen from its folder, to the part that it means."""
    pieces: list[str] = [] if target.startswith("/") else [piece for piece in folder.split("/") if piece]
    for piece in target.split("/"):
        if piece == "..":
            pieces = pieces[:-1]
        elif piece not in ("", "."):
            pieces.append(piece)
    return "/".join(pieces)
