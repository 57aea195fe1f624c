"""The VBA that stands between a cell and the served module, generated from the registry.

Beside the wrappers stand two modules of ours, in python.bas and opening.bas: one starts Python and calls it, and
says in one line what keeps it from answering; the other gives the function wizard its texts when the file opens.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from importlib.resources import files

from evenheft.formulas import REGISTRY
from evenheft.formulas.registry import Formula
from evenheft.hosts.excel import SERVED_MODULE

WRAPPER_MODULE = "evenheft_udfs"
PYTHON_MODULE = "evenheft_python"
OPENING_MODULE = "evenheft_open"

RESERVED = frozenset(
    """
    abs addressof and any array as attribute boolean byref byte byval call case cbool cbyte ccur cdate cdbl cdec cdecl
    cint circle clng clnglng clngptr close const csng cstr currency cvar cverr date debug decimal declare defbool
    defbyte defcur defdate defdbl defdec defint deflng deflnglng deflngptr defobj defsng defstr defvar dim do doevents
    double each else elseif empty end endif enum eqv erase event exit false fix for friend function get global gosub
    goto if imp implements in input inputb int integer is lbound len lenb let like line linput local lock long longlong
    longptr loop lset me mod name new next not nothing null on open option optional or paramarray preserve print
    private property pset public put raiseevent redim rem resume return rset scale seek select set sgn shared single
    spc static step stop string sub tab then to true type typeof ubound unlock until variant vb_base vb_control
    vb_creatable vb_customizable vb_description vb_exposed vb_ext_key vb_globalnamespace vb_helpid vb_invoke_func
    vb_invoke_property vb_invoke_propertyput vb_invoke_propertyputref vb_memberflags vb_name vb_predeclaredid
    vb_procdata vb_templatederived vb_usermemid vb_vardescription vb_varhelpid vb_varmemberflags vb_varprocdata
    vb_varusermemid wend while with withevents write xor
    """.split()  # noqa: SIM905  a list of quoted words would be ten times as long
)
"""Words that no VBA argument may be named by ([MS-VBAL] 3.3.5.2), in lower case."""

USED_BY_WRAPPERS = frozenset(("array", "caller", "heftanswer"))
"""Words that the wrappers themselves use, or that xlwings keeps for itself: an argument would hide them."""

_CELL_ADDRESS = re.compile(r"[A-Z]{1,3}\d+|R\d*(C\d*)?|C\d*", re.IGNORECASE)
_VBA_NAME = re.compile(r"[A-Z][A-Z0-9_]{0,254}", re.IGNORECASE)
_IN_ASCII = str.maketrans(
    {
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⁄": "/", "±": "+/-", "×": "x", "·": "*", "−": "-", "–": "-", "—": "-",
        "’": "'", "‘": "'", "“": '"', "”": '"', "′": "'", "″": '"', "≤": "<=", "≥": ">=",
    }
)  # fmt: skip
_LINE = "\r\n"
_WIDTH = 115


def need_usable_names(formulas: Iterable[Formula]) -> None:
    """Refuse names that Excel or VBA would take for something else.

    Raises:
        ValueError: a formula is named like a cell, or an argument by a word that VBA keeps.
    """
    for formula in formulas:
        if _CELL_ADDRESS.fullmatch(formula.name) or not _VBA_NAME.fullmatch(formula.name):
            raise ValueError(f"{formula.name} cannot name a function in Excel")
        for argument in formula.arguments:
            word = argument.name.lower()
            if word in RESERVED or word in USED_BY_WRAPPERS or not _VBA_NAME.fullmatch(word):
                raise ValueError(f"{formula.name}: {argument.name} cannot name an argument in VBA")


def wrapper_module() -> str:
    """Write the VBA module whose functions Excel calls: each hands its arguments to `HeftAnswer`.

    A function's description stands in it as an attribute too, where the wizard finds it before any macro has run.
    """
    need_usable_names(REGISTRY.values())
    lines = ["'Written by Evenheft: what is changed here is lost with the next build.", "Option Explicit", ""]
    for formula in REGISTRY.values():
        names = [argument.name for argument in formula.arguments]
        lines += [
            _wrapped(f"Public Function {formula.name}(", [f"Optional {name}" for name in names], ")"),
            f'Attribute {formula.name}.VB_Description = "{_quoted(formula.help)}"',
            f'    {formula.name} = HeftAnswer("{formula.name}", _',
            _wrapped('        "', names, '", _', between=",", broken='," & _', opened='"'),
            _wrapped("        Array(", names, "))"),
            "End Function",
            "",
        ]
    return _LINE.join(lines)


def python_module(xlwings_version: str) -> str:
    """Write the VBA module that starts Python and calls it.

    Args:
        xlwings_version: the version of xlwings whose library Excel loads, e.g. "0.37.8" [-].
    """
    return _source("python.bas").replace("@VERSION@", xlwings_version).replace("@SERVED@", SERVED_MODULE)


def opening_module() -> str:
    """Write the VBA module that runs when the file opens."""
    from evenheft.hosts.excel.functions.served import category

    described = [_description(formula, category(formula)) for formula in REGISTRY.values()]
    calls = _LINE.join(f"    If HeftDescribed Then HeftDescribed = {_describer(f)}()" for f in REGISTRY.values())
    return _LINE.join([_source("opening.bas").replace("@CALLS@", calls), *described])


def _source(name: str) -> str:
    text = files("evenheft.hosts.excel.functions").joinpath(name).read_text(encoding="ascii")
    return _LINE.join(text.splitlines()) + _LINE


def _wrapped(
    opening: str, parts: Sequence[str], closing: str, *, between: str = ", ", broken: str = ", _", opened: str = ""
) -> str:
    """Lay out a list over as many lines as it takes: VBA's lines have at most 1,023 characters, 24 continuations."""
    lines = [opening]
    for number, part in enumerate(parts):
        if len(lines[-1]) + len(part) > _WIDTH:
            lines[-1] = lines[-1].removesuffix(between) + broken
            lines.append(f"            {opened}")
        lines[-1] += part + (between if number < len(parts) - 1 else "")
    return _LINE.join(lines) + closing


def _describer(formula: Formula) -> str:
    return f"Describe_{formula.name}"


def _description(formula: Formula, category: str) -> str:
    """Write a function of its own for each formula, a line for each text: VBA limits procedures and continued lines."""
    given = f"HeftGiven({vba_text(formula.name)}, {vba_text(category)}, {vba_text(formula.help)}, texts)"
    lines = [f"Private Function {_describer(formula)}() As Boolean", "    Dim texts As Variant"]
    if formula.arguments:
        lines.append(f"    ReDim texts(0 To {len(formula.arguments) - 1})")
        lines += [f"    texts({i}) = {vba_text(argument.help)}" for i, argument in enumerate(formula.arguments)]
    lines += [f"    {_describer(formula)} = {given}", "End Function", ""]
    return _LINE.join(lines)


def _quoted(text: str) -> str:
    """Write a text as an attribute holds it: it knows no ChrW, so what is not ASCII becomes its nearest characters."""
    known = unicodedata.normalize("NFKD", text.translate(_IN_ASCII)).translate(_IN_ASCII)
    plain = "".join(character for character in known if not unicodedata.combining(character))
    return plain.encode("ascii", "replace").decode("ascii").replace('"', '""')


def vba_text(text: str) -> str:
    """Write a text as VBA source of plain ASCII, whatever code page the reader's machine has.

    >>> print(vba_text("½ of “29”"))
    "" & ChrW(189) & " of " & ChrW(8220) & "29" & ChrW(8221) & ""
    """
    return '"' + "".join(_vba_characters(text)) + '"'


def _vba_characters(text: str) -> Iterator[str]:
    for character in text:
        if character == '"':
            yield '""'
        elif " " <= character <= "~":
            yield character
        else:
            units = character.encode("utf-16-le")
            codes = [int.from_bytes(units[i : i + 2], "little") for i in range(0, len(units), 2)]
            yield '" & ' + " & ".join(f"ChrW({code})" for code in codes) + ' & "'
