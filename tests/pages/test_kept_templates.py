"""Templates that are kept compiled say the same, and are taken only where they can be trusted."""

import marshal
from pathlib import Path

import pytest
from jinja2.compiler import CodeGenerator
from spoiling import WAYS, spoil

from specreg import shipped
from specreg.keeping import OFF
from specreg.pages.render import Renderer
from specreg.pages.texts import read_texts

TEMPLATES = {"page.html": "", "sheet.html": "{% for one in page %}\n{{ one }}\n{% endfor %}\n"}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own, and templates of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv(OFF, raising=False)
    write(tmp_path, TEMPLATES["sheet.html"])
    return tmp_path / "cache" / "specreg"


def write(folder: Path, sheet: str) -> None:
    for name, text in (TEMPLATES | {"sheet.html": sheet}).items():
        (folder / name).write_text(text)


def say(home: Path) -> str:
    """What a template makes of two texts, one to be escaped, with a renderer that has compiled nothing yet."""
    texts = read_texts(shipped.site_folder() / "texts")
    return Renderer(home.parents[1], texts).sheet(("a", "<b>"), None)  # type: ignore[arg-type]


SAID = "a\n&lt;b&gt;\n"


def count_compiled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    compiled: list[str] = []
    before = CodeGenerator.__init__

    def counted(self: CodeGenerator, environment: object, name: str, *rest: object, **more: object) -> None:
        compiled.append(name)
        before(self, environment, name, *rest, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(CodeGenerator, "__init__", counted)
    return compiled


def test_a_template_is_compiled_once(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second run takes what the first one kept, and says the same."""
    compiled = count_compiled(monkeypatch)
    assert say(home) == say(home) == SAID
    assert compiled == ["sheet.html"]
    assert [path.name.split("-")[0] for path in home.iterdir()] == ["page"]


FORGED = marshal.dumps(compile("raise SystemExit('foreign code ran')", "forged", "exec"))


@pytest.mark.parametrize("how", WAYS)
def test_what_cannot_be_trusted_is_compiled_anew(
    home: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """No code is taken from a file that another could have written, or that is not whole."""
    say(home)
    (path,) = home.iterdir()
    spoil(path, how, FORGED)
    compiled = count_compiled(monkeypatch)
    assert say(home) == SAID
    assert compiled == ["sheet.html"]


def test_a_changed_template_is_compiled_anew(home: Path) -> None:
    """What was kept of another text of the template is not taken."""
    say(home)
    write(home.parents[1], "{{ page[1] }}!\n")
    assert say(home) == "&lt;b&gt;!\n"


def test_nothing_is_kept_where_that_is_switched_off(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor is anything taken."""
    monkeypatch.setenv(OFF, "1")
    assert say(home) == SAID
    assert not home.exists()
