"""What a sheet says of a club in words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenheft.formulas import REGISTRY, call
from evenheft.formulas.telling import MOST_LETTERS, Judged, leave_out_repeats
from evenheft.mechanics import swingweight

NAMES = (("Swingweight", "Inertia", "Lie"),)


def flags(
    targets: tuple[object, ...], verdicts: tuple[object, ...], what: str = "line", others: object = None
) -> object:
    return call(REGISTRY["HEFT_FLAGS"], [NAMES, (targets,), (verdicts,), what, others])


@pytest.mark.parametrize(
    ("verdicts", "line", "out", "waiting"),
    [
        (("in", "in", "in"), "all in", "", ""),
        (("low", "in", "re-measure"), "swingweight low; lie re-measure", "swingweight low; lie re-measure", ""),
        (("in", "", "in"), "all in; not measured yet: inertia", "", "not measured yet: inertia"),
        (("high", "", ""), "swingweight high; not measured yet: inertia, lie", "swingweight high",
         "not measured yet: inertia, lie"),
        (("", "", ""), "", "", "not measured yet: swingweight, inertia, lie"),
        (("! mass is odd", "! mass is odd", "in"), "swingweight: mass is odd", "swingweight: mass is odd", ""),
        (("! mass is odd", "! no swing", "in"), "swingweight: mass is odd; inertia: no swing",
         "swingweight: mass is odd; inertia: no swing", ""),
    ],
)  # fmt: skip
def test_line_out_and_open(verdicts: tuple[str, ...], line: str, out: str, waiting: str) -> None:
    targets = ("D2", 2680, 62)
    assert [flags(targets, verdicts, what) for what in ("line", "out", "open")] == [line, out, waiting]


def test_what_has_no_target_does_not_repeat_another_message() -> None:
    assert flags(("D2", "", ""), ("! balance is odd", "! no such swing", "")) == "swingweight: balance is odd"
    kept = leave_out_repeats([Judged("a", False, "! x"), Judged("b", True, "! x"), Judged("c", False, "low")])
    assert [one.name for one in kept] == ["a", "c"]


def test_other_lines_come_first_and_lose_their_mark() -> None:
    assert flags(("D2", "", ""), ("in", "", ""), others=(("! club 3 has lost its row", ""),)) == (
        "club 3 has lost its row"
    )


def test_a_long_line_is_cut_where_excel_would_refuse_it() -> None:
    line = flags(("D2", 1, 2), ("! " + "a" * 200, "! " + "b" * 200, ""))
    assert isinstance(line, str)
    assert len(line) <= MOST_LETTERS < 255
    assert line.endswith(" ...")


@given(st.floats(0.5, 69), st.floats(0, 0.4))
def test_a_window_of_labels_reads_as_the_labels_do(target: float, tolerance: float) -> None:
    low, high = (swingweight.label(target + sign * tolerance) for sign in (-1, 1))
    assert call(REGISTRY["HEFT_WINDOW"], [target, tolerance, -1]) == f"{low} to {high}"


def test_shown_values() -> None:
    shown = REGISTRY["HEFT_SHOWN"]
    assert call(shown, [2684.21, 12.34, 0]) == "2684 ± 12"
    assert call(shown, ["D2.14", 0.4, -1]) == "D2.1 ± 0.4"
    assert call(shown, [96.516, None, 2]) == "96.52"
    assert call(shown, [-0.004, None, 2]) == "0.00"
