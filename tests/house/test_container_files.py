"""The image and the compose file, as far as they can be checked without a container engine."""

import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import ruamel.yaml

from boardshop import environment
from tests.house.tree import ROOT

TOOLS = Path(sys.executable).parent
DOCKERFILE = ROOT / "Dockerfile"
COMPOSE = ROOT / "docker-compose.yml"


def run(*command: str | Path) -> "subprocess.CompletedProcess[str]":
    return subprocess.run([str(part) for part in command], capture_output=True, text=True, check=False)


@pytest.fixture
def services() -> dict[str, Any]:
    return ruamel.yaml.YAML(typ="safe").load(COMPOSE.read_text(encoding="utf-8"))["services"]


def test_the_linter_finds_nothing_in_the_dockerfile() -> None:
    answer = run(TOOLS / "hadolint", "--no-color", DOCKERFILE)
    assert (answer.returncode, answer.stdout) == (0, "")


def test_the_linter_would_find_something(tmp_path: Path) -> None:
    (tmp_path / "Dockerfile").write_text("FROM debian\nRUN cd /tmp\n")
    assert "DL3003" in run(TOOLS / "hadolint", tmp_path / "Dockerfile").stdout


def test_the_compose_file_follows_its_schema(tmp_path: Path) -> None:
    check = [TOOLS / "check-jsonschema", "--builtin-schema", "vendor.compose-spec"]
    assert run(*check, COMPOSE).returncode == 0
    (tmp_path / "bad.yml").write_text(COMPOSE.read_text().replace("healthcheck:", "health:"))
    assert run(*check, tmp_path / "bad.yml").returncode == 1


def test_the_image_runs_as_nobody_special_and_is_asked_for_its_health() -> None:
    lines = DOCKERFILE.read_text(encoding="utf-8").splitlines()
    last = max(index for index, line in enumerate(lines) if line.startswith("FROM"))
    users = [line.split()[1] for line in lines[last:] if line.startswith("USER")]
    assert users == ["10001"]
    assert any(line.startswith("HEALTHCHECK") for line in lines[last:])


def test_the_image_holds_what_it_copies() -> None:
    text = DOCKERFILE.read_text(encoding="utf-8")
    copied = re.findall(r"^COPY (?!--from)(.+) \S+$", text, re.MULTILINE)
    names = {name for line in copied for name in line.split()}
    assert names == {"requirements.txt", "manage.py", "LICENSE", "locale", "static", "templates", "boardshop"}
    kept = {line[1:] for line in (ROOT / ".dockerignore").read_text().splitlines() if line.startswith("!")}
    assert kept == names
    assert all((ROOT / name).exists() for name in names)


def test_the_public_url_is_the_one_required_setting() -> None:
    assert set(re.findall(r"\$\{(\w+):\?", COMPOSE.read_text(encoding="utf-8"))) == {"BOARDSHOP_PUBLIC_URL"}


def test_every_setting_in_the_container_files_is_known() -> None:
    text = COMPOSE.read_text(encoding="utf-8") + DOCKERFILE.read_text(encoding="utf-8")
    assert set(re.findall(r"BOARDSHOP_[A-Z_]+", text)) - set(environment.KNOWN) == set()


def test_the_app_waits_for_a_database_that_is_well(services: dict[str, Any]) -> None:
    assert services["app"]["depends_on"] == {"database": {"condition": "service_healthy"}}
    assert services["database"]["image"] == "postgres:18"
    assert "healthcheck" in services["database"]


def test_only_the_app_is_reached_from_outside(services: dict[str, Any]) -> None:
    assert [name for name, service in services.items() if "ports" in service] == ["app"]


def test_no_secret_stands_in_the_compose_file(services: dict[str, Any]) -> None:
    given = {
        name: value for service in services.values() for name, value in service.get("environment", {}).items()
    }
    secret = {name for name in given if re.search("PASSWORD|SECRET|DATABASE_URL", name)}
    assert secret
    # A path: of a file that the secrets volume holds, or that whoever starts it names.
    paths = ("/secrets/", "${BOARDSHOP_MAIL_PASSWORD_FILE:-}")
    assert all(name.endswith("_FILE") and given[name].startswith(paths) for name in secret)
