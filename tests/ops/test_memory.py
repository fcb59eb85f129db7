import subprocess
import sys


def test_a_server_leaves_what_it_has_loaded_to_the_end() -> None:
    """In a process of its own, as gunicorn loads it: nearly all of what is there is out of the collector."""
    said = subprocess.run(
        [
            sys.executable,
            "-c",
            "import boardshop.wsgi, gc, sys;"
            "print(gc.get_freeze_count(), len(gc.get_objects()), 'boardshop.core.report' in sys.modules)",
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    kept, left, knows_core = said.stdout.split()[-3:]
    assert int(kept) > 20 * int(left)
    assert knows_core == "True"
