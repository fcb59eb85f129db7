"""Files of others that live in the tree are the ones that were reviewed, and carry their licence."""

import hashlib
from pathlib import Path

import pytest

from tests.house.tree import ROOT, shown

MANIFESTS = sorted(ROOT.glob("static/**/SHA256SUMS")) + sorted(ROOT.glob("tests/**/SHA256SUMS"))
FOREIGN = {".woff2", ".woff", ".ttf", ".otf"}


def faults(manifest: Path) -> list[str]:
    """Files that differ from their pinned hash, are missing, or are not pinned."""
    pinned = dict(
        reversed(line.split(maxsplit=1)) for line in manifest.read_text(encoding="ascii").splitlines() if line
    )
    there = {path.name: path for path in manifest.parent.iterdir() if path != manifest}
    found = [f"{name} is not pinned" for name in sorted(there.keys() - pinned.keys())]
    found += [f"{name} is missing" for name in sorted(pinned.keys() - there.keys())]
    for name in sorted(there.keys() & pinned.keys()):
        if hashlib.sha256(there[name].read_bytes()).hexdigest() != pinned[name]:
            found.append(f"{name} is not the pinned file")
    return found


@pytest.mark.parametrize("manifest", MANIFESTS, ids=shown)
def test_files_match_their_pinned_hash(manifest: Path) -> None:
    assert faults(manifest) == []


@pytest.mark.parametrize("manifest", MANIFESTS, ids=shown)
def test_a_licence_stands_beside_them(manifest: Path) -> None:
    assert [path for path in manifest.parent.iterdir() if "LICENSE" in path.name or path.name == "OFL.txt"]


def test_every_font_and_minified_script_is_pinned() -> None:
    folders = {manifest.parent for manifest in MANIFESTS}
    files = [path for path in (ROOT / "static").rglob("*") if path.suffix in FOREIGN or ".min." in path.name]
    assert files
    assert [shown(path) for path in files if path.parent not in folders] == []


def test_a_changed_a_missing_and_a_loose_file_are_seen(tmp_path: Path) -> None:
    manifest = tmp_path / "SHA256SUMS"
    digest = hashlib.sha256(b"reviewed").hexdigest()
    manifest.write_text(f"{digest}  changed.js\n{digest}  gone.js\n")
    (tmp_path / "changed.js").write_bytes(b"reviewed, then changed")
    (tmp_path / "loose.js").write_bytes(b"")
    assert faults(manifest) == [
        "loose.js is not pinned",
        "gone.js is missing",
        "changed.js is not the pinned file",
    ]
