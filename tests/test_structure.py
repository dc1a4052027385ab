"""The map of the project holds: who may import whom, one home for each library and fact, docstrings, short files."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("jigs", "layouts")
HOMES = {  # one library, one file; pictures are written in one place and read in another
    "reportlab": {"layouts/render/pdf.py"},
    "svgwrite": {"layouts/render/svg.py"},
    "cairocffi": {"layouts/render/png.py"},
    "PIL": {"layouts/render/png.py", "layouts/scanning/picture.py", "layouts/scanning/annotating.py"},
    "pint": {"layouts/units.py"},
    "fontTools": {"layouts/drawing/lettering.py"},
    "starlette": {"jigs/page/app.py"},
    "uvicorn": {"jigs/page/patience.py", "jigs/page/serving.py"},
    "h11": {"jigs/page/patience.py"},
    "jinja2": {"jigs/page/templating.py"},
    "markupsafe": {"jigs/page/templating.py"},
    "manifold3d": {"layouts/solids/shape.py"},
}
NUMPY_ROOMS = ("layouts/scanning/", "layouts/solids/")  # arrays of pixels and of corners, and nothing else
DISTRIBUTIONS = {"PIL": "pillow", "fontTools": "fonttools"}  # where the name on the index is another
ROOMS = (
    "tables",
    "stock",
    "making",
    "bench",
    "orders",
    "cutting_stock",
    "planning",
    "reports",
    "guides",
    "packing",
    "actions",
    "page",
    "cli",
)  # each imports only those before it, and layouts
LAYOUT_ROOMS = (
    "files",
    "drawing",
    "solids",
    "pages",
    "cutting",
    "render",
    "scanning",
    "printing",
    "machines",
)  # each only those before it; all, the ground
MAKING_MAY_IMPORT = {"jigs.making", "jigs.stock"} | {
    f"layouts.{name}" for name in ("errors", "lengths", "showing", "units")
}
SLOW = (
    *("pint", "reportlab", "svgwrite", "cairocffi", "numpy", "PIL", "fontTools", "tomlkit"),
    *("starlette", "uvicorn", "h11", "jinja2", "asyncio", "manifold3d"),
)
MOST_LINES = 450
MOST_OF_A_FUNCTION = 40  # lines of its body


@cache
def files() -> dict[str, ast.Module]:
    """Every Python file of both packages by its path from the top."""
    paths = (path for package in PACKAGES for path in sorted((ROOT / package).rglob("*.py")))
    return {path.relative_to(ROOT).as_posix(): ast.parse(path.read_text(encoding="utf-8")) for path in paths}


def module_of(path: str) -> str:
    """layouts/render/__init__.py is layouts.render."""
    return path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


@cache
def nodes(tree: ast.Module) -> tuple[ast.AST, ...]:
    """Every node of a file, found once for all that look through them."""
    return tuple(ast.walk(tree))


@cache
def imports(tree: ast.Module) -> frozenset[str]:
    """Every module that a file imports, at its top or in a function; `from a import b` gives a and a.b."""
    found: set[str] = set()
    for node in nodes(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            found.add(node.module or "")
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return frozenset(found)


@cache
def known() -> frozenset[str]:
    """Every module of ours."""
    return frozenset(module_of(path) for path in files())


@cache
def reached(path: str) -> frozenset[str]:
    """The modules of ours that a file imports."""
    return (imports(files()[path]) & known()) - {module_of(path)}


def within(name: str, rooms: set[str]) -> bool:
    """Whether a module is one of these or in one of them."""
    return any(name == room or name.startswith(f"{room}.") for room in rooms)


def room_of(module: str) -> str:
    """jigs.stock.wire is of the room jigs.stock."""
    return ".".join(module.split(".")[:2])


every_file = pytest.mark.parametrize("path", sorted(files()))


def test_layouts_never_imports_jigs() -> None:
    assert [path for path in files() if path.startswith("layouts/") and _of_jigs(path)] == []


def _of_jigs(path: str) -> set[str]:
    return {name for name in imports(files()[path]) if within(name, {"jigs"})}


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_only_rooms_before_it(room: str) -> None:
    assert _imports_of(f"jigs.{room}", {f"jigs.{name}" for name in ROOMS[ROOMS.index(room) + 1 :]}) == []


@pytest.mark.parametrize("room", LAYOUT_ROOMS)
def test_a_room_of_layouts_imports_only_rooms_before_it(room: str) -> None:
    later = LAYOUT_ROOMS[LAYOUT_ROOMS.index(room) + 1 :]
    assert _imports_of(f"layouts.{room}", {f"layouts.{name}" for name in later}) == []


def test_every_room_of_jigs_has_its_place() -> None:
    assert {path.split("/")[1] for path in files() if path.startswith("jigs/") and path.count("/") > 1} == set(ROOMS)


def test_every_room_of_layouts_has_its_place_and_the_ground_imports_none_of_them() -> None:
    folders = {path.split("/")[1] for path in files() if path.startswith("layouts/") and path.count("/") > 1}
    assert folders == set(LAYOUT_ROOMS)
    ground = {module_of(path) for path in files() if path.startswith("layouts/") and path.count("/") == 1}
    rooms = {f"layouts.{name}" for name in LAYOUT_ROOMS}
    assert [found for module in ground - {"layouts"} for found in _imports_of(module, rooms)] == []


def _imports_of(room: str, others: set[str]) -> list[tuple[str, str]]:
    """What the files of a room import of others, for type checkers and in functions too."""
    return [
        (path, name)
        for path in files()
        if within(module_of(path), {room})
        for name in reached(path)
        if within(name, others)
    ]


def test_the_rooms_of_jigs_import_one_another_one_way_only() -> None:
    between = {
        (room_of(module_of(path)), room_of(name))
        for path in files()
        for name in reached(path)
        if within(name, {"jigs"}) and path.count("/") > 1 and room_of(module_of(path)) != room_of(name)
    }
    assert {(one, other) for one, other in between if (other, one) in between} == set()


def test_the_solver_stands_by_itself() -> None:
    others = {name for name in known() if within(name, {"jigs"}) and not within(name, {"jigs.cutting_stock"})}
    assert _imports_of("jigs.cutting_stock", others - {"jigs"}) == []
    spoken = [word for path in files() if path.startswith("jigs/cutting_stock/") for word in _spoken(files()[path])]
    assert len(spoken) > 20
    assert [words for words in spoken if re.search(r"\b(ring|mandrel|coil|winding)s?\b", words)] == []


def test_making_imports_nothing_that_draws() -> None:
    for path in files():
        if path.startswith("jigs/making/"):
            assert [name for name in reached(path) if not within(name, MAKING_MAY_IMPORT)] == []
            outside = {name.split(".")[0] for name in imports(files()[path])} - set(PACKAGES)
            assert outside <= set(sys.stdlib_module_names)


def test_guides_import_pieces_and_not_each_other() -> None:
    shared = {"jigs.guides", "jigs.guides.pieces", "jigs.guides.catalogue", "jigs.guides.jobs"}
    for path in files():
        if path.startswith("jigs/guides/"):
            others = [name for name in imports(files()[path]) if within(name, {"jigs.guides"}) and name not in shared]
            assert [
                name
                for name in others
                if not name.startswith(("jigs.guides.pieces.", "jigs.guides.catalogue.", "jigs.guides.jobs."))
            ] == []


def test_nothing_imports_the_command_line_but_itself() -> None:
    others = [path for path in files() if not path.startswith(("jigs/cli/", "jigs/__main__.py"))]
    assert [path for path in others if any(within(name, {"jigs.cli"}) for name in imports(files()[path]))] == []


def test_only_the_command_that_starts_the_page_imports_it_and_only_when_it_is_run() -> None:
    found = [path for path in files() if not path.startswith("jigs/page/") and within_page(imports(files()[path]))]
    assert found == ["jigs/cli/page.py"]
    at_its_top = [
        node
        for node in files()["jigs/cli/page.py"].body
        if isinstance(node, ast.Import | ast.ImportFrom) and within_page(imports(ast.Module([node], [])))
    ]
    assert at_its_top == []


def within_page(names: frozenset[str]) -> bool:
    """Whether any of these is of the page."""
    return any(within(name, {"jigs.page"}) for name in names)


OF_THE_COMMAND_LINE = re.compile(r"--[a-z][a-z-]+|coilwright [a-z]+ |coilwright [a-z]+`|pip install")


def _spoken(tree: ast.Module) -> Iterator[str]:
    """Every text of a file that may reach a reader: all but docstrings."""
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    docstrings = {
        id(node.body[0].value)
        for node in nodes(tree)
        if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)
    }
    for node in nodes(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings:
            yield node.value


def test_only_the_command_line_names_commands_and_options() -> None:
    elsewhere = {path: tree for path, tree in files().items() if not path.startswith(("jigs/cli/", "jigs/__main__.py"))}
    said = [(path, text) for path, tree in elsewhere.items() for text in _spoken(tree)]
    texts = [path for package in PACKAGES for path in (ROOT / package).rglob("*.*")]
    written = [path for path in texts if path.suffix in (".toml", ".html", ".js")]
    assert {path.suffix for path in written} == {".toml", ".html", ".js"}
    said += [(path.name, path.read_text(encoding="utf-8")) for path in written]
    assert [(path, found[0]) for path, text in said if (found := OF_THE_COMMAND_LINE.search(text))] == []


def test_the_search_for_words_of_the_command_line_can_fail() -> None:
    (text,) = _spoken(ast.parse('"""Prints --help."""\nremedy = "give another --out"'))
    assert OF_THE_COMMAND_LINE.search(text)
    assert OF_THE_COMMAND_LINE.search("measure one with `coilwright printer measure`")
    assert not OF_THE_COMMAND_LINE.search("a well-made ring -- and no more")


@pytest.mark.parametrize("path", sorted(path for path in files() if not path.startswith("jigs/cli/")))
def test_only_the_command_line_knows_click(path: str) -> None:
    assert not within_any(path, "click") or path == "jigs/__main__.py"


@pytest.mark.parametrize("library", HOMES)
def test_one_library_has_one_home(library: str) -> None:
    found = {path for path in files() if within_any(path, library)}
    assert found
    assert found <= HOMES[library]


def test_arrays_stay_with_the_pictures_and_the_solids() -> None:
    assert [path for path in files() if within_any(path, "numpy") and not path.startswith(NUMPY_ROOMS)] == []


def within_any(path: str, library: str) -> bool:
    """Whether a file imports anything of a library."""
    return any(within(name, {library}) for name in imports(files()[path]))


def test_every_library_is_declared_and_every_declared_one_is_used() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    always = {words.split(">")[0] for words in project["dependencies"]}
    extras = {name: needs for name, needs in project["optional-dependencies"].items() if name != "test"}
    asked_for = {words.split(">")[0] for needs in extras.values() for words in needs}
    tops = {name.split(".")[0] for tree in files().values() for name in imports(tree)}
    used = {DISTRIBUTIONS.get(name, name) for name in tops - set(sys.stdlib_module_names) - set(PACKAGES)}
    assert used == always | asked_for


def test_no_module_imports_itself_by_a_roundabout_way() -> None:
    graph = {module_of(path): _top_imports(path) for path in files()}
    assert list(_cycles(graph)) == []


def _top_imports(path: str) -> set[str]:
    """What is imported when the module is: not in functions, and not for type checkers alone."""
    body = [node for node in files()[path].body if isinstance(node, ast.Import | ast.ImportFrom)]
    return set(imports(ast.Module(body=list(body), type_ignores=[])) & known()) - {module_of(path)}


def _cycles(graph: dict[str, set[str]]) -> Iterator[str]:
    """Modules from which a walk along imports leads back."""
    for start in graph:
        seen: set[str] = set()
        ahead = set(graph[start])
        while ahead:
            name = ahead.pop()
            seen.add(name)
            ahead |= graph.get(name, set()) - seen
        if start in seen:
            yield start


def test_the_search_for_cycles_can_fail() -> None:
    assert list(_cycles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}})) == ["a", "b", "c"]
    assert list(_cycles({"a": {"b"}, "b": {"c"}, "c": set()})) == []


def test_there_is_one_inch() -> None:
    """The number stands in the code once; words may name it."""
    found = [
        (path, node.lineno)
        for path, tree in files().items()
        for node in nodes(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float) and node.value in (25.4, 0.0254)
    ]
    assert [path for path, _ in found] == ["layouts/unit_tables.py"]


def test_tables_have_no_inch_of_their_own() -> None:
    tables = [path for package in PACKAGES for path in (ROOT / package).rglob("*.toml")]
    assert [path.name for path in tables if "25.4" in path.read_text(encoding="utf-8")] == []


@every_file
def test_every_public_thing_has_a_docstring(path: str) -> None:
    assert [name for name, node in _public(files()[path], "") if ast.get_docstring(node) is None] == []


def _public(tree: ast.Module | ast.ClassDef, inside: str) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(tree, ast.Module):
        yield "the module", tree
    for node in tree.body:
        named = isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
        if named and not any("overload" in ast.dump(part) for part in node.decorator_list):
            yield f"{inside}{node.name}", node
            if isinstance(node, ast.ClassDef):
                yield from _public(node, f"{node.name}.")


@pytest.mark.parametrize("path", sorted(path for path in (ROOT / "tests").rglob("*.py")), ids=lambda path: path.name)
def test_no_file_of_the_tests_is_too_long_to_read(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@every_file
def test_no_file_is_too_long_to_read(path: str) -> None:
    assert len((ROOT / path).read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@every_file
def test_no_function_is_too_long_to_read(path: str) -> None:
    found = (node for node in nodes(files()[path]) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))
    lengths = {node.name: (node.end_lineno or 0) - node.body[0].lineno + 1 for node in found}
    assert {name: length for name, length in lengths.items() if length > MOST_OF_A_FUNCTION} == {}


@every_file
def test_no_bare_except_no_star_import_and_no_assert(path: str) -> None:
    for node in nodes(files()[path]):
        assert not (isinstance(node, ast.ExceptHandler) and node.type is None)
        assert not (isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names))
        assert not isinstance(node, ast.Assert)


def _after(code: str) -> set[str]:
    words = f"import sys\n{code}\nprint('LOADED', *sys.modules)"
    done = subprocess.run([sys.executable, "-c", words], cwd=ROOT, capture_output=True, text=True, check=True)
    return {name.split(".")[0] for name in done.stdout.rpartition("LOADED")[2].split()}


def test_help_loads_nothing_slow() -> None:
    loaded = _after("from jigs.cli import cli\ncli.main(['--help'], standalone_mode=False)")
    assert loaded & set(SLOW) == set()
    assert "click" in loaded


def test_the_check_for_slow_libraries_can_fail() -> None:
    assert "svgwrite" in _after("import layouts.render.svg")


def test_a_plain_length_loads_no_pint() -> None:
    assert "pint" not in _after("from layouts.units import parse_length\nparse_length('5/16 in')")


def test_composing_a_sheet_opens_no_font() -> None:
    code = "from layouts.pages.sheet import compose, Content, Setup\nfrom layouts.pages.paper import find_paper\n"
    code += "compose(Content(title='T', facts=(), draw=lambda field: []), Setup(paper=find_paper('a4')))"
    assert _after(code) & {"fontTools", "reportlab", "svgwrite", "cairocffi", "PIL"} == set()
