"""The core on the command line: a board file in, JSON out.

    python -m boardshop.core report board.json
    python -m boardshop.core order -          (reads standard input)
    python -m boardshop.core diff board.json other.json
    python -m boardshop.core layout board.json --seconds 5 --seed 0
    python -m boardshop.core cuts board.json --seconds 2

Exit status: 0 whatever is found; 2 for a refused file, with every fault on standard error and no output.
It is 64 for wrong usage, a file that cannot be read included.
"""

import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from boardshop.core.boardfile import RefusedBoardFile, load_plan_text
from boardshop.core.cables import plan_cuts
from boardshop.core.cables.cut_plan import REPORT_SECONDS
from boardshop.core.diff import compare_cuts, compare_plans, in_order
from boardshop.core.feeds import print_proposal
from boardshop.core.placing.answers import MOST_SECONDS
from boardshop.core.plan import BoardPlan
from boardshop.core.printing import as_json
from boardshop.core.report import compute_kept_order, compute_report

DONE, REFUSED, WRONG_USAGE = 0, 2, 64
STANDARD_INPUT = "-"

COMMANDS: dict[str, tuple[str, Callable[[BoardPlan], object]]] = {
    "report": ("every section of the report", compute_report),
    "order": ("the report's section on the order of the pedals", compute_kept_order),
    "feeds": ("which outlet had best feed which pedal", print_proposal),
}
COMPARISON = "diff"
"""The one command that reads two files."""
SEARCH, CUTS = "layout", "cuts"
MOST_DIGITS = 10
SECONDS, SEED = ("--seconds", 1, MOST_SECONDS), ("--seed", 0, 2**31 - 1)
NUMBERS = {SEARCH: (SECONDS, SEED), CUTS: (SECONDS,)}
"""The commands that take numbers: how much work, and which of equally good ways to search."""


class UnreadableFile(Exception):
    """A file that cannot be read at all; its text says which and why."""


def main(arguments: Sequence[str]) -> int:
    """Run one command; returns the exit status."""
    command, *names = arguments or ("",)
    numbers = _take_numbers(names, NUMBERS[command]) if command in NUMBERS else {}
    wanted = 2 if command == COMPARISON else 1 if command in (*COMMANDS, *NUMBERS) else 0
    if not wanted or numbers is None or len(names) != wanted or names.count(STANDARD_INPUT) > 1:
        return _complain(_usage(arguments), WRONG_USAGE)
    try:
        texts = [_read(name) for name in names]
    except UnreadableFile as error:
        return _complain(f"{error}\n", WRONG_USAGE)
    plans, faults = [], []
    for name, text in zip(names, texts, strict=True):
        try:
            plans.append(load_plan_text(text))
        except RefusedBoardFile as refusal:
            named = f"{name}: " if wanted > 1 else ""
            faults += [f"{named}{line}\n" for line in str(refusal).split("\n")]
    if faults:
        return _complain("".join(faults), REFUSED)
    _print_json(_answer(command, plans, numbers))
    return DONE


def _answer(command: str, plans: Sequence[BoardPlan], numbers: dict[str, int]) -> object:
    if command == COMPARISON:
        return _compare(*plans)
    if command == SEARCH:
        # Loaded only here, as the compiler behind it takes longer to load than a report to compute.
        from boardshop.core.placing.printing import print_layout

        return print_layout(plans[0], **numbers)
    if command == CUTS:
        return plan_cuts(plans[0], float(numbers.get("seconds", REPORT_SECONDS)))
    return COMMANDS[command][1](plans[0])


def _take_numbers(names: list[str], known: Sequence[tuple[str, int, int]]) -> dict[str, int] | None:
    """Takes the options out of the names; None where one is unknown, twice there or no such number."""
    ranges = {option: (least, most) for option, least, most in known}
    numbers: dict[str, int] = {}
    while (option := next((name for name in names if name.startswith("--")), None)) is not None:
        at = names.index(option)
        text = names[at + 1] if at + 1 < len(names) else ""
        least, most = ranges.get(option, (1, 0))
        is_number = text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS
        if option[2:] in numbers or not is_number or not least <= int(text) <= most:
            return None
        numbers[option[2:]] = int(text)
        del names[at : at + 2]
    return numbers


def _compare(before: BoardPlan, after: BoardPlan) -> object:
    return {"changes": in_order((*compare_plans(before, after), *compare_cuts(before, after)))}


def _read(name: str) -> bytes:
    try:
        return sys.stdin.buffer.read() if name == STANDARD_INPUT else Path(name).read_bytes()
    except (OSError, ValueError) as error:
        raise UnreadableFile(f"{name}: cannot be read: {_reason(error)}") from error


def _usage(arguments: Sequence[str]) -> str:
    is_known = not arguments or arguments[0] in (*COMMANDS, COMPARISON, *NUMBERS)
    wrong = "" if is_known else f"unknown command: {arguments[0]}\n"
    rows = "".join(f"  {name:8} {about}\n" for name, (about, _) in COMMANDS.items())
    return f"{wrong}usage: python -m boardshop.core COMMAND FILE   (FILE - is standard input)\n{rows}" + (
        f"  {COMPARISON:8} what changed from FILE to a second file: {COMPARISON} FILE OTHER\n"
        f"  {SEARCH:8} where the pedals had best stand: {SEARCH} FILE [--seconds N] [--seed K]\n"
        f"  {CUTS:8} which piece to cut from which length: {CUTS} FILE [--seconds N]\n"
    )


def _reason(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _complain(text: str, status: int) -> int:
    sys.stderr.buffer.write(text.encode("utf-8", "backslashreplace"))
    sys.stderr.flush()
    return status


def _print_json(value: object) -> None:
    """UTF-8 whatever the locale, so that the same file gives the same bytes everywhere."""
    text = json.dumps(as_json(value), ensure_ascii=False, indent=2, allow_nan=False)
    try:
        sys.stdout.buffer.write(f"{text}\n".encode())
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader has seen enough; without this the interpreter complains again when it closes the stream.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
