"""House rules a program can check: where imports point, what is installed, what is tracked."""

from __future__ import annotations

import ast
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = {"lang": "oaktag.lang", "compiler": "oaktag.compiler", "stdlib": "oaktag.stdlib"}

# Top to bottom: a module may import from its own row and from rows above it.
ROWS = (
    ("oaktag", "oaktag.record", "oaktag.stdlib"),
    ("oaktag.lang",),
    ("oaktag.compiler",),
    ("oaktag.compiler.geometry",),
    ("oaktag.compiler.paper",),
    ("oaktag.compiler.tracing",),
    ("oaktag.compiler.verbs",),
    ("oaktag.compiler.evaluate",),
    ("oaktag.compiler.inspect",),
    ("oaktag.compiler.finish",),
    ("oaktag.compiler.making",),
    ("oaktag.compiler.sheet",),
    ("oaktag.compiler.paging",),
    ("oaktag.compiler.emit",),
    ("oaktag.compiler.revise",),
    ("oaktag.compiler.report",),
    ("oaktag.compiler.page",),
    ("oaktag.compiler.cli", "oaktag.compiler.watch", "oaktag.compiler.__main__"),
)


def module_name(path: Path) -> str:
    """The name under which a file of the project is imported."""
    parts = list(path.relative_to(ROOT).with_suffix("").parts)
    if parts[:2] == ["compiler", "_root"]:
        parts = ["oaktag", *parts[2:]]
    else:
        parts = [*PACKAGES[parts[0]].split("."), *parts[1:]]
    if parts[-1] == "__init__":
        parts.pop()
    return ".".join(parts)


SOURCES = {
    module_name(path): path
    for folder in PACKAGES
    for path in sorted((ROOT / folder).rglob("*.py"))
    if "__pycache__" not in path.parts
}


def row(module: str) -> int | None:
    """The row that names the module or a package it lies in; `oaktag` names only itself."""
    for number, names in enumerate(ROWS):
        for name in names:
            inside = name not in ("oaktag", "oaktag.compiler") and module.startswith(f"{name}.")
            if module == name or inside:
                return number
    return None


def imported(path: Path, module: str) -> list[tuple[int, str]]:
    """Every module a file imports, wherever in the file it does so, with the line."""
    found = []
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                above = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*above, base]).rstrip(".")
            for alias in node.names:
                whole = f"{base}.{alias.name}"
                found.append((node.lineno, whole if whole in SOURCES else base))
    return found


def breaches(module: str, path: Path) -> list[str]:
    """What is wrong with a module's imports, one sentence each."""
    wrong = []
    own = row(module)
    assert own is not None, f"{module} stands in no row: add it to ROWS here and to DEVELOPERS.md"
    for line, other in imported(path, module):
        top = other.partition(".")[0]
        if top in PACKAGES:
            wrong.append(f"{path.name}:{line} imports {other}, a second copy of oaktag.{other}")
        if top != "oaktag":
            continue
        theirs = row(other)
        if theirs is None or theirs > own:
            wrong.append(f"{path.name}:{line} {module} imports {other}, from a row below it")
        if module.startswith("oaktag.compiler.geometry") and not (
            other == "oaktag.record" or other.startswith("oaktag.compiler.geometry")
        ):
            wrong.append(f"{path.name}:{line} geometry imports {other}")
    return wrong


@pytest.mark.parametrize("module", SOURCES)
def test_imports_point_one_way(module: str) -> None:
    assert breaches(module, SOURCES[module]) == []


@pytest.mark.parametrize(
    ("module", "text", "count"),
    [
        ("oaktag.lang.syntax.parse", "from oaktag.compiler.geometry import path", 1),
        ("oaktag.lang.syntax.parse", "from oaktag.lang import ast", 0),
        ("oaktag.lang.syntax.parse", "def f():\n    import oaktag.compiler.cli", 1),
        ("oaktag.lang.syntax.parse", "import lang.ast", 1),
        ("oaktag.compiler.geometry.path", "from oaktag.lang.ast import Node", 1),
        ("oaktag.compiler.geometry.path", "from oaktag.record import Record", 0),
        ("oaktag.compiler.emit.svg", "from ..cli import main", 1),
        ("oaktag.compiler.emit.svg", "from . import dxf", 0),
        ("oaktag.compiler.verbs.close", "from oaktag.compiler.evaluate import evaluate", 1),
    ],
)
def test_the_rule_can_fail(module: str, text: str, count: int, tmp_path: Path) -> None:
    path = tmp_path / "module.py"
    path.write_text(text)
    assert len(breaches(module, path)) == count


def public_functions(path: Path) -> list[str]:
    return [
        node.name
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    ]


def test_a_verb_is_a_module_with_one_public_function() -> None:
    """It bears the module's name. What verbs share is a module of classes only, or lies above."""
    found = {
        path.stem: public_functions(path)
        for path in sorted((ROOT / "compiler" / "verbs").glob("[!_]*.py"))
    }
    assert {name: names for name, names in found.items() if names not in ([], [name])} == {}


def test_no_file_is_longer_than_400_lines() -> None:
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines())
        for path in SOURCES.values()
    }
    assert {name: length for name, length in lengths.items() if length > 400} == {}


def test_every_package_on_disk_is_installed() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    listed = set(project["tool"]["setuptools"]["packages"])
    on_disk = {name for name, path in SOURCES.items() if path.name == "__init__.py"}
    assert listed == on_disk


def tracked() -> list[Path]:
    """The files git knows or would take; all files where there is no git."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        listing = subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout
        paths = [ROOT / name for name in listing.decode().split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        hidden = {".git", ".venv", "__pycache__", "out", "build"}
        paths = [path for path in ROOT.rglob("*") if not hidden & set(path.parts)]
    return [path for path in paths if path.is_file()]


# Written in two halves so that this file does not find itself.
FORBIDDEN = {
    "a path of one machine": r"(^|[^\w.~/-])/(?:ho" r"me|ro" r"ot|Us" r"ers|wo" r"rk)/\w",
    "a package registry": r"https?://[^\s)\"]*(?:py" r"pi|pythonhos" r"ted|np" r"mjs|regis" r"try)",
}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_tracked_files_name_no(what: str) -> None:
    found = []
    for path in tracked():
        try:
            lines = path.read_text(encoding="utf-8").splitlines()
        except UnicodeDecodeError:
            continue
        found += [
            f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}"
            for number, line in enumerate(lines, 1)
            if re.search(FORBIDDEN[what], line)
        ]
    assert found == []


def test_the_root_is_no_package() -> None:
    """`import lang` from the root would be a second copy of every class."""
    for folder in ("tests", "examples"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            tops = {name.partition(".")[0] for _, name in imported(path, path.stem)}
            assert not tops & set(PACKAGES), path
    assert not (ROOT / "__init__.py").exists()


def test_the_readme_shows_the_example_as_it_is() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    snippet = re.search(r"ferry\.oak\):\n\n```\n(.*?)```", readme, re.DOTALL)
    assert snippet, "the README shows a part of the example"
    assert snippet.group(1) in (ROOT / "examples/ferry/ferry.oak").read_text(encoding="utf-8")


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_links_lead_somewhere(page: str) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", (ROOT / page).read_text(encoding="utf-8"))
    assert [link for link in links if not (ROOT / link).exists()] == []
