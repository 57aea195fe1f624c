"""Make the pictures in docs/pictures/ anew: the demo order, each sheet as LibreOffice prints it.

Run by hand after the sheets have changed: python tests/pictures.py
Needs LibreOffice 25.2 and poppler's pdftoppm. Then look at them: what a stranger cannot find in a picture, no builder
finds in the sheet.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from calc_office import running
from evenheft.hosts.calc import extension as package
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes

PICTURES = Path(__file__).parents[1] / "docs/pictures"
DOTS_PER_INCH = 110


def main() -> None:
    """Compute the demo order in LibreOffice and print its sheets."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    for old in (
        picture for picture in PICTURES.glob("*.png") if picture.stem != "window"
    ):  # readme_picture.py draws it
        old.unlink()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        extension, demo = folder / "evenheft.oxt", folder / "demo-order.xlsx"
        package.write(extension)
        demo.write_bytes(save_bytes(build_demo()))
        with running(extension) as calc, calc.open(demo) as book:
            book.calculate(everything=True)
            for sheet in book.sheets():
                page = f"{sheet.lower()}_page"
                for picture in drawn(book.print_sheet(sheet, page if page in book.names() else ""), sheet.lower()):
                    print(f"drew {picture.relative_to(PICTURES.parents[1])}")


def drawn(printed: Path, name: str) -> list[Path]:
    """One picture for each printed page: name.png, or name-1.png, name-2.png ... where there are several."""
    line = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-png", str(printed), str(PICTURES / name)]
    subprocess.run(line, check=True)
    pages = sorted(PICTURES.glob(f"{name}-*.png"))
    if len(pages) == 1:
        pages = [pages[0].rename(PICTURES / f"{name}.png")]
    return pages


if __name__ == "__main__":
    main()
