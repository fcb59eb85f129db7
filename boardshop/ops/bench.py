"""How fast the core and the pages are, measured in one run on this machine.

    python -m boardshop.ops.bench

Page times stand as ratios to a trivial signed-in page that makes one query, served by the same process in
the same run, since a plain second says more of the machine than of the program.
"""

import os
import statistics
import sys
import time
from collections.abc import Callable

ROUNDS = 30


def main() -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "boardshop.settings")
    import django

    django.setup()
    from boardshop.ops.bench_core import bench_core
    from boardshop.ops.bench_cuts import bench_cuts
    from boardshop.ops.bench_feeds import bench_feeds
    from boardshop.ops.bench_pages import bench_pages
    from boardshop.ops.bench_placing import bench_placing
    from boardshop.ops.bench_runs import bench_runs
    from boardshop.ops.bench_worst import bench_worst

    bench_core(measure)
    bench_runs(measure)
    bench_cuts()
    bench_worst(measure)
    bench_feeds()
    bench_pages(measure)
    bench_placing()
    return 0


def measure(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The median time of one call in ms, after one call that is not counted."""
    work()
    times = []
    for _ in range(rounds):
        started = time.perf_counter()
        work()
        times.append((time.perf_counter() - started) * 1000)
    return statistics.median(times)


if __name__ == "__main__":
    sys.exit(main())
