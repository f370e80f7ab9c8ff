"""Templates that are kept compiled say the same, and are taken only where they can be trusted."""

import marshal
from hashlib import sha256
from pathlib import Path

import pytest
from jinja2.compiler import CodeGenerator

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


def spoil(path: Path, how: str) -> None:
    data = path.read_bytes()
    forged = marshal.dumps(compile("raise SystemExit('foreign code ran')", "forged", "exec"))
    texts = {
        "cut short": data[: len(data) // 2],
        "empty": b"",
        "one byte changed": data[:-1] + bytes([data[-1] ^ 1]),
        "forged with a plain digest": sha256(forged).digest() + forged,
        "forged with the digest of before": data[:32] + forged,
    }
    if how in texts:
        path.write_bytes(texts[how])
    elif how == "others may write it":
        path.chmod(0o666)
    elif how == "others may write its folder":
        path.parent.chmod(0o777)
    elif how == "a link":
        path.symlink_to(path.rename(path.with_suffix(".moved")))


@pytest.mark.parametrize(
    "how",
    [
        "cut short",
        "empty",
        "one byte changed",
        "forged with a plain digest",
        "forged with the digest of before",
        "others may write it",
        "others may write its folder",
        "a link",
    ],
)
def test_what_cannot_be_trusted_is_compiled_anew(
    home: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """No code is taken from a file that another could have written, or that is not whole."""
    say(home)
    (path,) = home.iterdir()
    spoil(path, how)
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
