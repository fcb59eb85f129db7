"""The project's files, as the house rules see them: what git would track, without migrations' innards."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CODE = ROOT / "boardshop"
TEMPLATES = ROOT / "templates"


def modules(folder: Path = CODE) -> list[Path]:
    return sorted(path for path in folder.rglob("*.py") if "migrations" not in path.parts)


def templates() -> list[Path]:
    folders = [TEMPLATES, *CODE.glob("*/templates")]
    return sorted(path for folder in folders for path in folder.rglob("*") if path.is_file())


def files_of_tests() -> list[Path]:
    return sorted((ROOT / "tests").rglob("*.py"))


def shown(path: Path) -> str:
    return path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else path.name


def dotted(path: Path) -> str:
    """`boardshop/gear/views/pedals.py` as `boardshop.gear.views.pedals`."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def imports(source: str, module: str, is_package: bool = False) -> Iterator[str]:
    """Every module named by an import, wherever it stands in the file; relative ones made absolute."""
    package = module if is_package else module.rpartition(".")[0]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parents = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*parents, *filter(None, [node.module])])
            yield base
            yield from (f"{base}.{alias.name}" for alias in node.names)


def imports_of(path: Path) -> set[str]:
    is_package = path.name == "__init__.py"
    return set(imports(path.read_text(encoding="utf-8"), dotted(path), is_package))
