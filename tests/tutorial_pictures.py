"""Make docs/pictures/tutorial/ anew: each sheet at the step at which a tutorial shows it, as LibreOffice prints it.

Run by hand after the sheets or the pages have changed: python tests/tutorial_pictures.py
Needs LibreOffice 25.2, poppler's pdftoppm and ImageMagick. Then look at them.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from contextlib import chdir
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from calc_office import Calc, running
from evenheft.hosts.calc import extension as package
from tutorial import DOCS, PAGES, do, steps_of

PICTURES = DOCS / "pictures" / "tutorial"
DOTS_PER_INCH = 100


def main() -> None:
    """Replay the tutorials, and print a sheet wherever one is shown."""
    os.environ.pop("EVENHEFT_SHOP", None)
    PICTURES.mkdir(parents=True, exist_ok=True)
    for old in PICTURES.glob("*.png"):
        old.unlink()
    with tempfile.TemporaryDirectory() as name:
        extension = Path(name) / "evenheft.oxt"
        package.write(extension)
        with running(extension) as calc:
            for page in PAGES:
                with tempfile.TemporaryDirectory() as folder, chdir(folder):
                    replay(calc, DOCS / page)


def replay(calc: Calc, page: Path) -> None:
    """Do a page's steps in this folder; a picture shows the sheet of its name of the workbook last spoken of."""
    book = ""
    for step in steps_of(page.read_text(encoding="utf-8")):
        do(step)
        book = step.file or book
        if step.do == "picture":
            with calc.open(Path(book)) as opened:
                opened.calculate(everything=True)
                draw(opened.print_sheet(step.what.capitalize()), step.what)
            print(f"drew {step.what} of {book}")


def draw(printed: Path, name: str) -> None:
    """Draw the first page that was printed, without the white around it."""
    line = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-png", "-singlefile", str(printed), str(PICTURES / name)]
    subprocess.run(line, check=True)
    picture = str(PICTURES / f"{name}.png")
    subprocess.run(
        ["convert", picture, "-trim", "-bordercolor", "white", "-border", "12", "+repage", picture], check=True
    )


if __name__ == "__main__":
    main()
