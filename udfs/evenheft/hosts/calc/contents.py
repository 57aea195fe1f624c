"""What the extension holds, generated from the registry: interface, function texts, component, package."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import evenheft
from evenheft.formulas import REGISTRY, Formula
from evenheft.hosts.calc import EXTENSION, INTERFACE, OLDEST_OFFICE, SERVICE
from evenheft.hosts.calc.typelib import parameter_name, type_library

CARRIED_PACKAGES = ("mechanics", "formulas", "python")
CARRIED_FILES = (
    *("__init__.py", "ooxml/__init__.py", "ooxml/errors.py", "ooxml/values.py", "ooxml/text.py"),
    *("hosts/__init__.py", "hosts/calc/__init__.py", "hosts/calc/serving.py"),
)
"""The part of the package that runs inside LibreOffice; it needs nothing but the standard library."""

TYPES, TEXTS, COMPONENT = "evenheft.rdb", "CalcAddIns.xcu", "component.py"
"""Where things lie in the extension."""

_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_MANIFEST = "http://openoffice.org/2001/manifest"


def contents(formulas: Iterable[Formula] | None = None, *, oldest: str = OLDEST_OFFICE) -> dict[str, bytes]:
    """Every file of the extension by its path in it, without the bulk that `--vendor` adds."""
    served = list(REGISTRY.values() if formulas is None else formulas)
    home = Path(evenheft.__file__).parent
    return {
        "META-INF/manifest.xml": manifest().encode(),
        "description.xml": description(oldest).encode(),
        "description-en.txt": DESCRIPTION.encode(),
        TYPES: type_library(served),
        TEXTS: function_texts(served).encode(),
        COMPONENT: (home / "hosts/calc/component.py").read_bytes(),
        "carried.json": carried(served).encode(),
        **{f"pythonpath/evenheft/{path.relative_to(home).as_posix()}": path.read_bytes() for path in _package(home)},
    }


DESCRIPTION = "Formulas for a golf club builder's spreadsheet: swingweight, moment of inertia, set matching."


def _package(home: Path) -> list[Path]:
    folders = [home / name for name in CARRIED_PACKAGES]
    return [*(home / name for name in CARRIED_FILES), *(path for f in folders for path in sorted(f.rglob("*.py")))]


def manifest() -> str:
    """META-INF/manifest.xml: the type library comes first, since the component needs its interface."""
    kinds = (
        (TYPES, "application/vnd.sun.star.uno-typelibrary;type=RDB"),
        (COMPONENT, "application/vnd.sun.star.uno-component;type=Python"),
        (TEXTS, "application/vnd.sun.star.configuration-data"),
    )
    entries = "".join(
        f'  <manifest:file-entry manifest:full-path="{path}" manifest:media-type="{kind}"/>\n' for path, kind in kinds
    )
    return f'{_HEAD}<manifest:manifest xmlns:manifest="{_MANIFEST}">\n{entries}</manifest:manifest>\n'


def description(oldest: str = OLDEST_OFFICE) -> str:
    """description.xml: identity, version and the oldest LibreOffice in which workbooks keep the formulas."""
    return (
        f"{_HEAD}"
        '<description xmlns="http://openoffice.org/extensions/description/2006"\n'
        '    xmlns:d="http://openoffice.org/extensions/description/2006"\n'
        '    xmlns:l="http://libreoffice.org/extensions/description/2011"\n'
        '    xmlns:xlink="http://www.w3.org/1999/xlink">\n'
        f'  <identifier value="{EXTENSION}"/>\n'
        f'  <version value="{evenheft.__version__}"/>\n'
        '  <display-name><name lang="en">Evenheft</name></display-name>\n'
        '  <extension-description><src lang="en" xlink:href="description-en.txt"/></extension-description>\n'
        "  <dependencies>\n"
        f'    <l:LibreOffice-minimal-version value="{oldest}" d:name="LibreOffice {oldest}"/>\n'
        "  </dependencies>\n"
        "</description>\n"
    )


def carried(formulas: Iterable[Formula]) -> str:
    """Write down what the component must know before it can import anything, and what selftest compares."""
    facts = {
        "version": evenheft.__version__,
        "service": SERVICE,
        "interface": INTERFACE,
        "formulas": [formula.name for formula in formulas],
    }
    return json.dumps(facts, indent=1)


def function_texts(formulas: Iterable[Formula], service: str = SERVICE) -> str:
    """CalcAddIns.xcu: what the function wizard shows, and the names under which .xlsx files keep the formulas."""
    functions = "".join(map(_function, formulas))
    return (
        f"{_HEAD}"
        '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"\n'
        '    xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="CalcAddIns" oor:package="org.openoffice.Office">\n'
        f' <node oor:name="AddInInfo">\n  <node oor:name="{service}" oor:op="replace">\n'
        f'   <node oor:name="AddInFunctions">\n{functions}   </node>\n  </node>\n </node>\n</oor:component-data>\n'
    )


def _function(formula: Formula) -> str:
    parameters = "".join(
        _node(
            parameter_name(argument.name),
            _text("DisplayName", argument.name),
            # The wizard itself calls every argument optional: Calc has no required one that may hold any value.
            _text("Description", f"Required: {argument.help}" if argument.required else argument.help),
        )
        for argument in formula.arguments
    )
    return _node(
        formula.name,
        _text("DisplayName", formula.name),
        _text("Description", formula.help),
        '<prop oor:name="Category"><value>Add-In</value></prop>\n',
        _text("CategoryDisplayName", f"Evenheft: {formula.category}"),
        _text("CompatibilityName", formula.name),
        f'<node oor:name="Parameters">\n{parameters}</node>\n',
    )


def _node(name: str, *inside: str) -> str:
    return f'<node oor:name={quoteattr(name)} oor:op="replace">\n{"".join(inside)}</node>\n'


def _text(name: str, value: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en">{escape(value)}</value></prop>\n'
