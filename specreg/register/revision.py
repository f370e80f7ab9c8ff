"""Files of a register as they stood at a revision, taken out of git without running what a repository says.

Only names of objects are resolved and contents of objects read. No work tree is checked out, so no filter or
hook runs; settings of git in the environment do not count, nothing is fetched, and names that lead elsewhere
are passed over.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from os.path import lexists
from pathlib import Path

from specreg.source import Limits, Problem
from specreg.source.inside import contents, linked_out
from specreg.source.listing import PRIVATE_FILE, REGISTER_FILE, is_read, rule_documents, yaml_files

SHARED = ("parts", "assemblies")
RULES = "rules"
LONGEST = 60
"""Seconds that git may take."""

MOST_FILES = 20_000
MOST_BYTES = 200_000_000
"""Bytes that all of them may have together."""
HEAD = "HEAD"

Files = Mapping[str, bytes]
"""Contents by path below the register."""


class NotInGit(Exception):  # noqa: N818 - it is what somebody reads
    """What was asked for cannot be had from git; `problem` says why."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.text())


def files_on_disk(folder: Path, builds: Iterable[str]) -> Files:
    """Return the files that builds are read from, without the private ones: a revision has none either.

    Raises NotInGit where one is a link out of the register, too large or cannot be read.
    """
    names = [REGISTER_FILE] if lexists(folder / REGISTER_FILE) else []
    for below in (*SHARED, *builds):
        if wrong := linked_out(folder / below, below, folder):
            raise NotInGit(wrong)
        names += [f"{below}/{path.name}" for path in yaml_files(folder / below)]
    return {name: _on_disk(folder, name) for name in names if not name.endswith(f"/{PRIVATE_FILE}")}


def rules_on_disk(folder: Path) -> Files:
    """Return the documents of a register's own rules. Raises NotInGit where one is not read."""
    if wrong := linked_out(folder / RULES, RULES, folder):
        raise NotInGit(wrong)
    paths = rule_documents(folder / RULES)
    linked = [wrong for path in paths if (wrong := linked_out(path.parent, RULES, folder))]
    if linked:
        raise NotInGit(linked[0])
    found = (path.relative_to(folder).as_posix() for path in paths)
    return {name: _on_disk(folder, name) for name in found}


def _on_disk(folder: Path, name: str) -> bytes:
    data = contents(folder / name, name, folder)
    if isinstance(data, Problem):
        raise NotInGit(data)
    return data


def rules_at(folder: Path, revision: str) -> Files:
    """Return the documents of a register's own rules at a revision. Raises NotInGit."""
    wanted = dict(_wanted(*_listed(folder, revision), revision, _is_rule))
    contents = _contents(folder, wanted.values())
    return {name: contents[number] for name, number in wanted.items()}


def _is_rule(name: str) -> bool:
    steps = name.split("/")
    return len(steps) == 3 and steps[0] == RULES and name.endswith(".md") and not steps[-1].startswith(".")


def _listed(folder: Path, revision: str) -> tuple[bytes, str]:
    """Return what a revision holds at and below a folder, and the folder's path in the repository."""
    commit = _commit(folder, revision)
    prefix = _git(folder, "rev-parse", "--show-prefix").decode().rstrip("\n")
    below = ("--", *([prefix] if prefix else []))
    return _git(folder, "ls-tree", "-r", "-z", "-l", "--full-tree", commit, *below), prefix


def files_at(folder: Path, revision: str, builds: Collection[str] | None = None) -> Files:
    """Return the files of a register at a revision, of all its builds or of some. Raises NotInGit."""
    listed, prefix = _listed(folder, revision)
    below = None if builds is None else {REGISTER_FILE, *SHARED, *builds}
    found = dict(_wanted(listed, prefix, revision))
    wanted = {name: one for name, one in found.items() if below is None or name.partition("/")[0] in below}
    contents = _contents(folder, wanted.values())
    return {name: contents[number] for name, number in wanted.items()}


def _commit(folder: Path, revision: str) -> str:
    try:
        asked = ("rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
        return _git(folder, *asked).decode().strip()
    except NotInGit as error:
        _git(folder, "rev-parse", "--git-dir")  # says so where there is no repository at all
        message = "git knows no such revision" if revision != HEAD else "nothing is committed here yet"
        remedy = "name a commit, a branch or a tag" if revision != HEAD else "commit once, then compare"
        raise NotInGit(Problem(None, message, revision, remedy=remedy)) from error


def _wanted(
    listed: bytes, prefix: str, revision: str, ours: Callable[[str], bool] | None = None
) -> Iterator[tuple[str, str]]:
    """Yield the register's own YAML files with the names of their contents; links and submodules are none.

    `ours` tells by the name which files are wanted instead.
    """
    chosen = ours or _is_ours
    entries = [entry for entry in listed.split(b"\0") if entry]
    if len(entries) > MOST_FILES:
        raise NotInGit(Problem(None, f"more than {MOST_FILES} files at a revision", revision))
    left = MOST_BYTES
    for entry in entries:
        about, _, path = entry.partition(b"\t")
        mode, _, number, size = about.decode().split()
        name = path.decode(errors="replace").removeprefix(prefix)
        if mode in ("100644", "100755") and chosen(name):
            if int(size) > Limits().bytes:
                raise NotInGit(Problem(None, f"{name} is too large to read", revision))
            left -= int(size)
            if left < 0:
                raise NotInGit(Problem(None, f"more than {MOST_BYTES} bytes at a revision", revision))
            yield name, number


def _is_ours(name: str) -> bool:
    steps = name.split("/")
    own = name == REGISTER_FILE or len(steps) == len(("build", "file.yaml"))
    harmless = all(step not in ("", ".", "..") and not set(step) & set("\\:\0") for step in steps)
    return own and harmless and is_read(steps[-1]) and steps[-1] != PRIVATE_FILE


def _contents(folder: Path, numbers: Iterable[str]) -> dict[str, bytes]:
    asked = list(dict.fromkeys(numbers))
    told = _git(folder, "cat-file", "--batch", given="".join(f"{one}\n" for one in asked).encode())
    found, start = {}, 0
    for number in asked:
        end = told.index(b"\n", start)
        head = told[start:end].split()
        if len(head) != len(("number", "type", "size")):
            raise NotInGit(Problem(None, "git lacks the content of a file", number))
        start = end + 1 + int(head[2]) + 1
        found[number] = told[end + 1 : start - 1]
    return found


SAFE = ("--no-pager", "--no-replace-objects", "-c", "core.hooksPath=", "-c", "core.fsmonitor=false")


def _git(folder: Path, *words: str, given: bytes = b"") -> bytes:
    """Run one of git's plumbing commands in a folder and return what it prints. Raises NotInGit."""
    settings = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    settings |= {"GIT_ALLOW_PROTOCOL": "none", "GIT_NO_LAZY_FETCH": "1", "GIT_TERMINAL_PROMPT": "0",
                 "GIT_OPTIONAL_LOCKS": "0", "LC_ALL": "C"}  # fmt: skip
    try:
        done = subprocess.run(
            ("git", *SAFE, *words), cwd=folder, input=given, capture_output=True, env=settings,
            timeout=LONGEST, check=False,
        )  # fmt: skip
    except FileNotFoundError:
        raise NotInGit(
            Problem(None, "git is not installed", remedy="install it, or compare two folders")
        ) from None
    except (OSError, ValueError) as error:
        raise NotInGit(Problem(None, f"git cannot be run: {error}")) from None
    except subprocess.TimeoutExpired:
        raise NotInGit(Problem(None, f"git took longer than {LONGEST} s")) from None
    if done.returncode:
        raise NotInGit(_refusal(done.stderr.decode(errors="replace")))
    return done.stdout


def _refusal(said: str) -> Problem:
    first = said.strip().splitlines()[0] if said.strip() else "it gave no reason"
    if "not a git repository" in said:
        remedy = "compare two folders, or a change with --with"
        return Problem(None, "the folder is in no git repository", remedy=remedy)
    return Problem(None, f"git refuses: {first.removeprefix('fatal: ')}")
