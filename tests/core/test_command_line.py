"""The core's commands: exit status, what goes to which stream, and the same bytes every time."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.core.random_boards import random_document
from tests.determinism import depends_on_seed

ROOT = Path(__file__).parents[2]
FULL = ROOT / "tests" / "core" / "boards" / "full.json"


def run(*arguments, text=None, **environment):
    return subprocess.run(
        [sys.executable, "-m", "boardshop.core", *map(str, arguments)],
        input=text,
        capture_output=True,
        cwd=ROOT,
        env=os.environ | environment,
        check=False,
        timeout=60,
    )


def test_the_report_is_printed_as_json():
    done = run("report", FULL)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.endswith(b"}\n")
    assert json.loads(done.stdout)["version"] == 1


def test_the_order_is_that_section():
    assert json.loads(run("order", FULL).stdout) == json.loads(run("report", FULL).stdout)["order"]


def test_the_same_file_gives_the_same_bytes_whatever_the_hash_seed_and_locale():
    outputs = {
        run("report", FULL, PYTHONHASHSEED=seed, LC_ALL=locale, PYTHONUTF8=utf8).stdout
        for seed, locale, utf8 in (("0", "C", "0"), ("1", "C.UTF-8", "1"), ("4711", "POSIX", "0"))
    }
    assert len(outputs) == 1


def test_feeds_are_proposed_as_in_a_board_file():
    printed = json.loads(run("feeds", FULL).stdout)
    assert list(printed) == ["feeds", "unfed", "score", "optimal", "bound"]
    assert {feed["from"] for feed in printed["feeds"]} == {"S1.1", "S1.3"}
    assert len(printed["score"]) == len(printed["bound"]) == 8


def test_the_same_feeds_are_proposed_whatever_the_hash_seed():
    assert len({run("feeds", FULL, PYTHONHASHSEED=seed).stdout for seed in ("0", "1", "4711")}) == 1


def test_text_is_printed_as_it_is():
    document = json.loads(FULL.read_text("utf-8"))
    document["pedals"][0]["name"] = "Glühwürmchen 蛍"
    document["pedals"][0]["place"]["x"] = -1
    done = run("report", "-", text=json.dumps(document).encode(), LC_ALL="C", PYTHONUTF8="0")
    assert "Glühwürmchen 蛍 (P1)".encode() in done.stdout


def test_standard_input_is_read_for_a_dash():
    assert run("report", "-", text=FULL.read_bytes()).stdout == run("report", FULL).stdout


def test_a_refused_file_lists_every_fault_and_prints_nothing(tmp_path):
    document = json.loads(FULL.read_text("utf-8"))
    document["frame"]["width"] = 0
    document["pedals"][0]["colour"] = "red"
    document["links"][0]["to"] = "P9.IN"
    board = tmp_path / "a board.json"
    board.write_text(json.dumps(document), "utf-8")
    done = run("report", board)
    assert (done.returncode, done.stdout) == (2, b"")
    assert [line.split(": ")[0] for line in done.stderr.decode().splitlines()] == [
        "/frame/width",
        "/pedals/0/colour",
        "/links/0/to",
    ]


@pytest.mark.parametrize("text", [b"", b"[]", b"\xff", b"{}", b'{"a": NaN}', b"[" * 100_000])
def test_what_is_no_board_file_is_refused(text):
    done = run("report", "-", text=text)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"/")
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize(
    "arguments", [(), ("report",), ("paint", FULL), ("report", FULL, FULL), ("report", "--fast", FULL)]
)
def test_wrong_usage_is_answered_with_the_commands(arguments):
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (64, b"")
    assert b"usage: python -m boardshop.core COMMAND FILE" in done.stderr
    assert b"report" in done.stderr


@pytest.mark.parametrize("name", ["nowhere.json", "."])
def test_a_file_that_cannot_be_read_is_wrong_usage(name, tmp_path):
    done = run("report", tmp_path / name)
    assert (done.returncode, done.stdout) == (64, b"")
    assert b"cannot be read" in done.stderr


def test_a_reader_that_has_seen_enough_is_no_error():
    quoted = f'"{sys.executable}" -m boardshop.core report "{FULL}" | head -c 10'
    done = subprocess.run(quoted, shell=True, cwd=ROOT, capture_output=True, check=False, timeout=60)
    assert (done.stdout, done.stderr) == (b'{\n  "forma', b"")


def test_two_files_are_compared(tmp_path):
    other = tmp_path / "other.json"
    document = json.loads(FULL.read_bytes())
    other.write_text(json.dumps(document | {"name": "Nightjar fly"}))
    done = run("diff", FULL, other)
    assert (done.returncode, done.stderr) == (0, b"")
    (change,) = json.loads(done.stdout)["changes"]
    assert (change["kind"], change["subjects"]) == ("board", [])
    assert change["sentence"].startswith("The board: name Nightjar fly instead of ")


def test_a_file_does_not_differ_from_itself():
    assert json.loads(run("diff", FULL, FULL).stdout) == {"changes": []}


def test_a_refused_comparison_says_which_file(tmp_path):
    refused = tmp_path / "refused.json"
    refused.write_text("{}")
    done = run("diff", FULL, refused)
    assert (done.returncode, done.stdout) == (2, b"")
    assert all(line.startswith(f"{refused}: /".encode()) for line in done.stderr.splitlines())


@pytest.mark.parametrize(
    "arguments", [("diff",), ("diff", FULL), ("diff", "-", "-"), ("diff", FULL, FULL, FULL)]
)
def test_a_comparison_takes_two_files(arguments):
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (64, b"")
    assert b"diff FILE OTHER" in done.stderr


def test_a_comparison_is_the_same_whatever_the_hash_seed(tmp_path):
    number = 7
    for name in ("one.json", "other.json"):
        (tmp_path / name).write_text(json.dumps(random_document(number, 0.9)))
        number += 1
    arguments = ["-m", "boardshop.core", "diff", str(tmp_path / "one.json"), str(tmp_path / "other.json")]
    assert not depends_on_seed(arguments)
    assert json.loads(run(*arguments[2:]).stdout)["changes"]


def test_the_layout_is_printed_the_same_each_time():
    first, again = (run("layout", FULL, "--seconds", 1, "--seed", 3, PYTHONHASHSEED=seed) for seed in "12")
    assert (first.returncode, first.stderr) == (0, b"")
    assert list(json.loads(first.stdout)) == [
        "places", "left_out", "score", "total_mm", "optimal", "bound", "why",
    ]  # fmt: skip
    assert first.stdout == again.stdout


@pytest.mark.parametrize(
    "wrong",
    [("--seconds",), ("--seconds", "0"), ("--seconds", "1.5"), ("--seed", "-1"), ("--speed", "2"),
     ("--seed", "1", "--seed", "2")],
)  # fmt: skip
def test_numbers_that_the_layout_does_not_take(wrong):
    done = run("layout", FULL, *wrong)
    assert (done.returncode, done.stdout) == (64, b"")
    assert b"--seconds N" in done.stderr


def test_other_commands_take_no_numbers():
    assert run("report", FULL, "--seconds", 1).returncode == 64


def test_the_cut_plan_is_that_of_the_report():
    """The report's own is that of two seconds' work, which the command does unless told otherwise."""
    report = json.loads(run("report", FULL).stdout)["cables"]["cut_plan"]
    assert json.loads(run("cuts", FULL).stdout) == report
    assert json.loads(run("cuts", FULL, "--seconds", 2).stdout) == report
    assert list(report) == ["used", "short", "drawn_mm", "waste_mm", "optimal", "bound"]


def test_the_cut_plan_is_the_same_whatever_the_hash_seed(tmp_path):
    """The worked example of twelve pieces, three off-cuts and a reel: 770 mm of the reel (calculation)."""
    document = json.loads(FULL.read_text("utf-8"))
    cuts = [130] * 4 + [180] * 3 + [255] * 2 + [385] * 2 + [645]
    pieces = [{"ref": f"X{n}", "cable": "C9", "cut_mm": mm} for n, mm in enumerate(cuts, start=1)]
    stock = [{"cable": "C9", "length": mm, "kind": "offcut"} for mm in (480, 730, 1150)]
    stock += [{"cable": "C9", "length": 20_000, "kind": "reel"}]
    document |= {"cables": [{"ref": "C9"}], "links": [], "pieces": pieces, "stock": stock}
    document["rules"] = {"kerf_mm": 0, "slack_min_mm": 0}
    board = tmp_path / "twelve.json"
    board.write_text(json.dumps(document), "utf-8")
    outputs = {run("cuts", board, PYTHONHASHSEED=seed).stdout for seed in ("0", "1", "4711")}
    (printed,) = outputs
    found = json.loads(printed)
    assert (found["drawn_mm"], found["optimal"], found["bound"], found["short"]) == (770, True, 1, [])
    assert max(one["left_mm"] for one in found["used"] if one["kind"] == "offcut") == 85


@pytest.mark.parametrize(
    "wrong", [("--seconds",), ("--seconds", "0"), ("--seconds", "x"), ("--seed", "1"), (FULL,)]
)
def test_what_the_cut_plan_does_not_take(wrong):
    done = run("cuts", FULL, *wrong)
    assert (done.returncode, done.stdout) == (64, b"")
    assert b"cuts FILE [--seconds N]" in done.stderr


def test_a_refused_file_has_no_cut_plan():
    assert run("cuts", "-", text=b"{}").returncode == 2
