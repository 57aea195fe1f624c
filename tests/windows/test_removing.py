"""Bringing up to date, and taking away again."""

from __future__ import annotations

from windows_user import User


def test_a_double_click_brings_up_to_date(installed: tuple[User, str]) -> None:
    user, _ = installed
    done = user.double_click("update.cmd")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "replaced the add-in in" in done.stdout
    assert "Making an environment" not in done.stdout


def test_a_python_that_is_in_use_is_not_half_removed(installed: tuple[User, str]) -> None:
    user, _ = installed
    with user.add_in.open("rb"):
        done = user.double_click("remove.cmd")
    assert done.returncode == 1
    assert "close every Excel window" in done.stdout
    assert user.add_in.is_file()
    assert user.python.is_file()


def test_a_double_click_takes_everything_away(installed: tuple[User, str]) -> None:
    user, _ = installed
    done = user.double_click("remove.cmd")
    assert done.returncode == 0, done.stdout + done.stderr
    assert not user.place.exists()
    assert not user.add_in.exists()
    assert not (user.profile / ".evenheft").exists()
    again = user.double_click("remove.cmd")
    assert (again.returncode, again.stdout) == (0, f'There is no Evenheft in "{user.place}": nothing to take away.\n')
