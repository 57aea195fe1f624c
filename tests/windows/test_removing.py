"""Bringing up to date, and taking away again."""

from __future__ import annotations

from pathlib import Path

import xlwings

from windows_user import SOURCE, User

SHIPPED = Path("evenheft") / "hosts" / "excel" / "__init__.py"


def test_a_double_click_brings_up_to_date(installed: tuple[User, str]) -> None:
    user, _ = installed
    newer = SOURCE / "udfs" / SHIPPED
    newer.write_text(newer.read_text(encoding="utf-8") + "\n# of the newer folder\n", encoding="utf-8")
    done = user.double_click("update.cmd")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "replaced the add-in in" in done.stdout
    assert "Making an environment" not in done.stdout
    assert (user.place / "Lib" / "site-packages" / SHIPPED).read_text("utf-8").endswith("# of the newer folder\n")


def test_an_add_in_that_is_in_use_is_not_half_removed(installed: tuple[User, str]) -> None:
    user, _ = installed
    with user.add_in.open("rb"):
        done = user.double_click("remove.cmd")
    assert done.returncode == 1
    assert "close every Excel window" in done.stdout
    assert user.add_in.is_file()
    assert user.python.is_file()


def test_what_is_in_use_goes_the_next_time_and_what_is_the_users_stays(installed: tuple[User, str]) -> None:
    user, _ = installed
    order = user.place / "Bestellung Müller.xlsx"
    order.write_bytes(b"an order")
    with (user.place / f"xlwings64-{xlwings.__version__}.dll").open("rb"):
        done = user.double_click("remove.cmd")
    assert done.returncode == 1
    assert "close every Excel window" in done.stdout
    done = user.double_click("remove.cmd")
    assert done.returncode == 0, done.stdout + done.stderr
    assert f'What else lies in "{user.place}" is not Evenheft\'s and stays there.' in done.stdout
    assert [path.name for path in user.place.iterdir()] == [order.name]
    assert not user.add_in.exists()
    assert not (user.profile / ".evenheft").exists()
    again = user.double_click("remove.cmd")
    assert (again.returncode, again.stdout) == (0, f'There is no Evenheft in "{user.place}": nothing to take away.\n')
    assert order.read_bytes() == b"an order"


def test_an_environment_alone_leaves_no_folder_behind(user: User, tmp_path: Path) -> None:
    """One that was made but never filled, as when the packages could not be fetched."""
    place = tmp_path / "evenheft"
    for folder in ("Scripts", "Lib", "Include"):
        (place / folder).mkdir(parents=True)
    (place / "pyvenv.cfg").write_text("home = C:\\Python311\n")
    done = user.double_click("remove.cmd", USERPROFILE=str(tmp_path))
    assert (done.returncode, done.stdout) == (0, "Evenheft is gone; your workbooks stay as they are.\n")
    assert not place.exists()
