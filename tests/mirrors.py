"""Where each module is tested: by a test of its name, or where a line here says.

`udfs/evenheft/shop/lock.py` is tested by `tests/shop/test_lock.py` where there is one. Of a module without, LINES
says it; a line with a star is for what has no line of its own. tests/test_mirrors.py holds both to what there is, and
tests/mutation.py asks here what to run.
"""

from __future__ import annotations

from fnmatch import fnmatch
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[1]
SOURCE, TESTS = HOUSE / "udfs" / "evenheft", HOUSE / "tests"

LINES: dict[str, tuple[str, ...]] = {
    "__init__.py": ("python/test_offer.py",),
    "__main__.py": ("cli/test_evaluate.py",),
    "cli/__init__.py": ("cli/test_evaluate.py", "cli/test_talk.py"),
    "cli/adopt.py": ("shop/test_adopt.py",),
    "cli/sharing.py": ("order/supplier/test_supplier.py",),
    "cli/plan_tables.py": ("cli/test_plan.py",),
    "cli/shop_tables.py": ("cli/test_shop.py",),
    "cli/tables.py": ("cli/test_order.py",),
    "cli/templates.py": ("cli/test_order.py",),
    "cli/*": ("cli/test_order.py",),
    "formulas/answers.py": ("formulas/test_correction.py", "formulas/test_registry.py"),
    "formulas/headed/foreign.py": ("formulas/headed/test_headings.py", "test_docs_parts.py"),
    "formulas/headed/vocabulary.py": ("formulas/headed/test_headings.py", "test_docs_parts.py"),
    "formulas/headed/pairing.py": ("formulas/headed/test_plan.py", "cli/test_plan.py"),
    "formulas/headed/*": ("formulas/headed/test_rows.py", "formulas/headed/test_parts.py"),
    "formulas/*": ("formulas/test_registry.py", "formulas/test_judging.py", "python/test_numbers_or_arrays.py"),
    "mechanics/pairing/keeping.py": ("mechanics/pairing/test_reasons.py",),
    "mechanics/pairing/*": ("mechanics/pairing/test_plan.py",),
    "hosts/findings.py": ("cli/test_doctor.py",),
    "hosts/calc/printing.py": ("cli/test_card.py",),
    "hosts/calc/*": ("hosts/calc/test_in_calc.py", "hosts/calc/test_contents.py", "cli/test_calc.py"),
    "hosts/excel/building/*": ("hosts/excel/building/test_project.py", "hosts/excel/building/test_book.py"),
    "hosts/excel/functions/*": ("hosts/excel/functions/test_served.py", "hosts/excel/functions/test_vba.py"),
    "hosts/excel/windows/*": ("hosts/excel/windows/test_install.py", "hosts/excel/windows/test_doctor.py"),
    "hosts/excel/*": ("hosts/excel/windows/test_doctor.py", "cli/test_excel.py"),
    "hosts/*": ("hosts/test_embedded.py",),
    "ooxml/additions.py": ("shop/test_adopt.py", "ooxml/test_edit.py"),
    "ooxml/undo.py": ("shop/test_adopt.py",),
    "ooxml/*": ("ooxml/test_package.py", "ooxml/test_edit.py", "ooxml/test_hostile.py", "ooxml/test_odd_but_valid.py"),
    "order/card.py": ("cli/test_card.py",),
    "order/drawing/card_blocks.py": ("order/test_printed.py",),
    "order/demo.py": ("cli/test_order.py",),
    "order/files.py": ("cli/test_save.py",),
    "order/supplier/*": ("order/supplier/test_supplier.py",),
    "order/plain/*": ("order/plain/test_copy.py",),
    "order/drawing/*": ("order/drawing/test_template.py",),
    "order/layout/*": ("order/drawing/test_template.py", "order/test_report.py"),
    "order/*": ("order/test_report.py", "cli/test_order.py"),
    "python/*": ("python/test_numbers_or_arrays.py", "python/test_offer.py"),
    "shop/book/*": ("shop/book/test_keeping.py", "shop/book/test_drawing.py", "cli/test_shop.py"),
    "shop/*": ("shop/test_adopt.py", "shop/test_finding.py", "shop/test_clubs.py", "cli/test_shop.py"),
}
"""Tests, by the module or the folder that they test."""

EXAMPLES = "formulas/test_registry.py::test_examples_answer_to_their_printed_digits"
WIDER = {"formulas/": (EXAMPLES, "formulas/test_reference.py")}
"""What else tests a floor quickly: every formula's examples, and its bounds as the reference prints them."""


def modules() -> list[str]:
    """Every module that defines something, by its path in the package."""
    return sorted(
        path.relative_to(SOURCE).as_posix()
        for path in SOURCE.rglob("*.py")
        if path.name != "__init__.py"
        or any(word in path.read_text(encoding="utf-8") for word in ("\ndef ", "\nclass "))
    )


def own_test(module: str) -> str | None:
    """The test of a module's name, by its path in tests/, where there is one."""
    folder, _, name = module.rpartition("/")
    test = f"{folder}/test_{name}".lstrip("/")
    return test if (TESTS / test).exists() else None


def line_of(module: str) -> tuple[str, ...]:
    """What the first line says that fits a module, nothing where none does."""
    return next((tests for named, tests in LINES.items() if fnmatch(module, named)), ())


def quick_tests_of(module: str) -> list[str]:
    """The tests to run for a module, its own first."""
    own = own_test(module)
    named = [own] if own else [test for test in line_of(module) if test != "formulas/test_registry.py"]
    wider = [test for floor, tests in WIDER.items() if module.startswith(floor) for test in tests]
    return [f"tests/{test}" for test in dict.fromkeys([*named, *wider])]
