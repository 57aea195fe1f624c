"""A hand at LibreOffice, without our add-in: opens a workbook, types into cells, tells what they show, and saves.

Run with the Python that has `uno` (the system's); `typed_in_calc` does so from a test.
"""

import contextlib
import json
import subprocess
import sys
import time
import uuid
from pathlib import Path


def typed_in_calc(path: Path, typed: dict[str, str], folder: Path, *, sheet: str, shown: list[str]) -> dict[str, str]:
    """Type texts into cells of a workbook as a person does, save it where it is, and tell what other cells show."""
    name = f"evenheft-{uuid.uuid4().hex}"
    profile = f"-env:UserInstallation={(folder / 'hand-profile').as_uri()}"
    office = subprocess.Popen(
        ["soffice", profile, "--headless", "--norestore", "--nologo", f"--accept=pipe,name={name};urp;"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        order = json.dumps({"path": str(path), "typed": typed, "sheet": sheet, "shown": shown, "pipe": name})
        done = subprocess.run(
            ["/usr/bin/python3", __file__], input=order, capture_output=True, text=True, timeout=150, check=False
        )
        assert done.returncode == 0, done.stderr
        found: dict[str, str] = json.loads(done.stdout)
        return found
    finally:
        try:
            office.wait(timeout=20)
        except subprocess.TimeoutExpired:
            office.kill()
            office.wait()


def have_calc_hand() -> bool:
    """Whether LibreOffice and the system's Python with `uno` are there."""
    try:
        command = ["/usr/bin/python3", "-c", "import uno"]
        return subprocess.run(command, capture_output=True, check=False, timeout=30).returncode == 0
    except OSError:
        return False


def main() -> None:
    import uno
    from com.sun.star.beans import PropertyValue
    from com.sun.star.connection import NoConnectException

    job = json.load(sys.stdin)
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(300):
        try:
            context = resolver.resolve(f"uno:pipe,name={job['pipe']};urp;StarOffice.ComponentContext")
            break
        except NoConnectException:
            time.sleep(0.2)
    else:
        raise SystemExit("LibreOffice did not start")
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)

    def option(name: str, value: object) -> object:
        made = PropertyValue()
        made.Name, made.Value = name, value
        return made

    url = Path(job["path"]).as_uri()
    document = desktop.loadComponentFromURL(url, "_blank", 0, (option("Hidden", True),))
    sheet = document.Sheets.getByName(job["sheet"])
    for place, text in job["typed"].items():
        sheet.getCellRangeByName(place).setFormula(text)
    document.calculateAll()
    told = {place: sheet.getCellRangeByName(place).String for place in job["shown"]}
    document.storeAsURL(url, (option("FilterName", "Calc MS Excel 2007 XML"),))
    document.close(True)
    json.dump(told, sys.stdout)
    with contextlib.suppress(Exception):  # the bridge goes down with the program
        desktop.terminate()


if __name__ == "__main__":
    main()
