"""Make docs/pictures/window.png anew: the demo order's Set sheet in a real LibreOffice window, a flagged club chosen.

Run by hand after that sheet has changed: python tests/readme_picture.py
Needs LibreOffice 25.2, Xvfb, xdotool and ImageMagick's import. Then look at it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from calc_office import UserOffice, needed_office, ordinary_user
from evenheft.hosts.calc import extension as package
from evenheft.ooxml.places import column_letter
from evenheft.order.demo import DEMO_CLUBS, PLANTED, build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import FIRST_ROW, SET

PICTURE = Path(__file__).parents[1] / "docs" / "pictures" / "window.png"
WINDOW = "1500x900"
CHOSEN = (next(iter(PLANTED)), "flags")
"""The club and the column whose cell is chosen."""
PATIENCE = 240
"""For LibreOffice to show the workbook [s]."""
AN_EMPTY_WINDOW = 60_000
"""No picture of a window without its sheet is as large [bytes]."""
QUIET = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"
 xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Common/Misc">
<prop oor:name="FirstRun"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc">
<prop oor:name="ShowTipOfTheDay"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product">
<prop oor:name="ooSetupLastVersion"><value>{version}</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product">
<prop oor:name="LastTimeGetInvolvedShown"><value>4000000000</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product">
<prop oor:name="LastTimeDonateShown"><value>4000000000</value></prop></item>
</oor:items>
"""
"""Settings without which the first start shows tips and questions in front of the sheet."""


def chosen_demo(path: Path) -> None:
    """Write the demo order as it opens on the Set sheet with a flagged club's cell chosen."""
    club, column = CHOSEN
    row = FIRST_ROW + [each.name for each in DEMO_CLUBS].index(club)
    book = build_demo()
    book.active = book.sheetnames.index(SET.sheet)
    for sheet in book:
        sheet.sheet_view.tabSelected = sheet.title == SET.sheet
    for selection in book[SET.sheet].sheet_view.selection:
        selection.activeCell = selection.sqref = f"{column_letter(SET.at[column])}{row}"
    path.write_bytes(save_bytes(book))
    path.chmod(0o666)


def main() -> None:
    """Open it on a screen of its own, and draw the screen once the workbook stands there."""
    with tempfile.TemporaryDirectory(prefix="evenheft-window-", ignore_cleanup_errors=True) as name:
        folder = Path(name)
        folder.chmod(0o755)
        home = folder / "home"
        home.mkdir()
        user = ordinary_user(home)
        found = needed_office()
        office = UserOffice(found.program, found.version, home / "profile", user)
        extension = folder / "evenheft.oxt"
        package.write(extension)
        extension.chmod(0o644)
        office.install(extension)
        registry = home / "profile" / "user" / "registrymodifications.xcu"
        settled = registry.read_text(encoding="utf-8") if registry.exists() else None
        quiet = QUIET.format(version=".".join(found.version.split(".")[:2]))
        if settled:
            items = quiet.partition("<item")[2].rpartition("</oor:items>")[0]
            quiet = settled.replace("</oor:items>", f"<item{items}</oor:items>")
        registry.write_text(quiet, encoding="utf-8")
        demo = home / "demo-order.xlsx"
        chosen_demo(demo)
        screen = ["Xvfb", "-displayfd", "1", "-screen", "0", f"{WINDOW}x24", "-nolisten", "tcp"]
        with subprocess.Popen(screen, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as server:
            assert server.stdout is not None
            display = f":{server.stdout.readline().strip()}"
            line = [*user, f"DISPLAY={display}", *office.command("soffice", "--norestore", "--nologo", str(demo))]
            with subprocess.Popen(line, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as shown:
                try:
                    draw(display)
                finally:
                    shown.terminate()
                    server.terminate()


def draw(display: str) -> None:
    """Wait until the workbook's window is there and has come to rest, then draw the screen."""
    screen = os.environ | {"DISPLAY": display}
    width, height = WINDOW.split("x")
    search = ["xdotool", "search", "--sync", "--onlyvisible", "--name", "demo-order"]
    window = subprocess.run(search, env=screen, capture_output=True, text=True, timeout=PATIENCE, check=True).stdout
    last = window.split()[-1]
    subprocess.run(["xdotool", "windowmove", last, "0", "0", "windowsize", last, width, height], env=screen, check=True)
    before = b""
    for _ in range(PATIENCE // 10):
        time.sleep(10)
        drawn = subprocess.run(["import", "-window", "root", "png:-"], env=screen, capture_output=True, check=True)
        if drawn.stdout == before and len(before) > AN_EMPTY_WINDOW:
            break
        before = drawn.stdout
    PICTURE.write_bytes(before)


if __name__ == "__main__":
    if missing := [program for program in ("Xvfb", "xdotool", "import") if shutil.which(program) is None]:
        raise SystemExit(f"not on this machine: {', '.join(missing)}")
    main()
