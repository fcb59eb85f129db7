import stat
from pathlib import Path

from boardshop import environment
from boardshop.ops import make_secrets


def test_secrets_are_made_once(tmp_path: Path) -> None:
    names = ["database-password", "database-url", "secret-key"]
    assert make_secrets.make_secrets(tmp_path) == names
    first = {name: (tmp_path / name).read_text() for name in names}
    assert make_secrets.make_secrets(tmp_path) == []
    assert {name: (tmp_path / name).read_text() for name in names} == first


def test_a_lost_url_is_made_again_for_the_same_password(tmp_path: Path) -> None:
    make_secrets.make_secrets(tmp_path)
    password = (tmp_path / "database-password").read_text()
    (tmp_path / "database-url").unlink()
    assert make_secrets.make_secrets(tmp_path) == ["database-url"]
    assert environment.database((tmp_path / "database-url").read_text())["PASSWORD"] == password


def test_secrets_differ_and_can_only_be_read(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        make_secrets.make_secrets(tmp_path / name)
    keys = {(tmp_path / name / "secret-key").read_text() for name in ("one", "two")}
    assert len(keys) == 2
    assert {stat.S_IMODE(path.stat().st_mode) for path in (tmp_path / "one").iterdir()} == {0o444}


def test_the_folder_must_be_named() -> None:
    assert make_secrets.main([]) == 2
