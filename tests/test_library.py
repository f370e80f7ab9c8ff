"""What a program may call: documented, typed, cheap until it is used."""

import doctest
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import specreg
from specreg import library

ROOT = Path(__file__).parents[1]
BLOCKS = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)


def test_the_examples_of_its_documentation_are_true(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each line with its result."""
    monkeypatch.chdir(ROOT)
    found = doctest.testmod(library, optionflags=doctest.NORMALIZE_WHITESPACE)
    assert (found.failed, found.attempted > 5) == (0, True)


@pytest.mark.parametrize("block", BLOCKS, ids=[f"block {number}" for number, _ in enumerate(BLOCKS, 1)])
def test_the_examples_of_the_readme_run(block: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """As they stand, in a clone."""
    monkeypatch.chdir(ROOT)
    exec(compile(block, "README.md", "exec"), {})


@pytest.mark.parametrize(
    ("code", "loaded"),
    [
        ("import specreg", False),
        ("import specreg; dir(specreg)", False),
        ("from specreg import load", True),
        ("import specreg; specreg.inspect", True),
    ],
)
def test_importing_costs_nothing_until_something_is_used(code: str, loaded: bool) -> None:
    """No model, parser or graph library is read in by the import alone."""
    heavy = "[n for n in ('pydantic', 'yaml', 'networkx', 'jinja2', 'specreg.workshop') if n in sys.modules]"
    told = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print({heavy})"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    assert (told.strip() != "[]") is loaded


def test_what_is_promised_is_there() -> None:
    """Names, and no others."""
    assert dir(specreg) == ["__version__", "figures", "inspect", "load", "publish"]
    assert all(getattr(specreg, name).__doc__ for name in ("figures", "inspect", "load", "publish"))
    with pytest.raises(AttributeError, match="specreg"):
        specreg.nothing  # noqa: B018 - the asking is what is tested


def test_a_site_is_published(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As by the command."""
    monkeypatch.chdir(ROOT)
    published = specreg.publish("builds/pocket", reader="public", into=tmp_path / "site")
    assert not published.problems
    assert (tmp_path / "site" / "index.html").is_file()


@pytest.mark.parametrize(
    ("ask", "word"),
    [
        (lambda: specreg.inspect("builds/pocket", stage="handover"), "handover"),
        (lambda: specreg.inspect("builds/pocket", stop_at="never"), "never"),  # type: ignore[arg-type]
        (lambda: specreg.publish("builds/pocket", reader="all", into="site"), "all"),  # type: ignore[arg-type]
    ],
    ids=["a stage", "a level", "a reader"],
)
def test_a_wrong_word_is_refused(
    ask: Callable[[], object], word: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program is told at once."""
    monkeypatch.chdir(ROOT)
    with pytest.raises(ValueError, match=word):
        ask()
