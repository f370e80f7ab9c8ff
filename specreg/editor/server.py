"""What is open in an editor, read and told again as it is written (LSP 3.17)."""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from lsprotocol import types as lsp
from pygls import uris
from pygls.lsp.server import LanguageServer

from specreg import __version__
from specreg.editor import navigation, positions
from specreg.editor.notices import Notice, notices
from specreg.editor.outline import Span
from specreg.editor.reading import Reading, Van, home_of, judged, read
from specreg.rules.pack import Pack

PAUSE = 0.15
"""Seconds without a keystroke after which a text is read again."""


class SpecServer(LanguageServer):
    """What is open in the editor, and how the registers that it belongs to read just now."""

    def __init__(self) -> None:
        super().__init__("specreg", __version__)
        self.readings: dict[Path, Reading] = {}
        self.found: dict[Path, tuple[Notice, ...]] = {}
        self.sound: dict[tuple[Path, str], Van] = {}
        self.shown: dict[Path, set[Path]] = {}
        self.waiting: dict[Path, asyncio.Task[None]] = {}
        self.packs: dict[Path, Pack] = {}
        self.one_at_a_time = asyncio.Lock()

    # what is open

    def texts(self, home: Path) -> dict[Path, str]:
        """Return the open texts of a register."""
        opened = {path_of(uri): one.source for uri, one in self.workspace.text_documents.items()}
        return {path: text for path, text in opened.items() if path and home_of(path) == home}

    def current(self, path: Path) -> Reading | None:
        """Return the reading that a file belongs to, with the texts as they are this moment."""
        home = home_of(path)
        reading = self.readings.get(home) if home else None
        if home is None:
            return None
        if reading is None:
            reading = self.readings[home] = read(home, self.texts(home))
        texts = self.texts(home)
        return reading if texts == reading.texts else replace(reading, texts=texts)

    def last_sound(self, reading: Reading) -> Reading:
        """Return the reading with the last sound state of a build in place of one that is broken now."""
        vans = {
            name: self.sound.get((reading.home, name), van) if van.problems else van
            for name, van in reading.vans.items()
        }
        return replace(reading, vans=vans)

    # reading and telling

    def read_soon(self, uri: str) -> None:
        """Read again once nobody has typed for a moment."""
        path = path_of(uri)
        home = home_of(path) if path else None
        if home is None:
            return
        before = self.waiting.get(home)
        if before is not None:
            before.cancel()
        self.waiting[home] = asyncio.ensure_future(self._after_a_pause(home))

    async def _after_a_pause(self, home: Path) -> None:
        await asyncio.sleep(PAUSE)
        try:
            async with self.one_at_a_time:
                await self._read(home)
        except Exception as fault:
            print(f"specreg: fault of its own: {type(fault).__name__}: {fault}", file=sys.stderr)

    async def _read(self, home: Path) -> None:
        """Read, tell what cannot be read at once, then judge and tell what was found."""
        texts = self.texts(home)
        reading = await asyncio.to_thread(read, home, texts)
        self._keep(reading)
        if any(van.problems for van in reading.vans.values()):
            self._tell(reading, (*notices(reading), *self._still_true(reading)))
        reading = await asyncio.to_thread(self._judge, reading)
        self._keep(reading)
        found = await asyncio.to_thread(notices, reading)
        self.found[home] = (*found, *self._still_true(reading))
        self._tell(reading, self.found[home])

    def _judge(self, reading: Reading) -> Reading:
        from specreg.workshop import Opened, rules_for  # noqa: PLC0415 - every fact is registered there

        pack = self.packs.get(reading.home)
        if pack is None:
            pack, _ = rules_for(Opened(reading.home, reading.register.shown))
            self.packs[reading.home] = pack
        return judged(reading, pack)

    def _keep(self, reading: Reading) -> None:
        before = self.readings.get(reading.home)
        if reading.pack is None and before is not None:
            reading = replace(reading, pack=before.pack)
        self.readings[reading.home] = reading
        for name, van in reading.vans.items():
            if van.build is not None and not van.problems:
                self.sound[reading.home, name] = van

    def _still_true(self, reading: Reading) -> Iterator[Notice]:
        """Yield the findings told last about builds that are broken now, in files that are as they were."""
        broken = {van.folder for van in reading.vans.values() if van.problems}
        for notice in self.found.get(reading.home, ()):
            old = notice.text
            if notice.result and notice.file.parent in broken and reading.outline(notice.file).lines == old:
                yield notice

    def _tell(self, reading: Reading, found: Iterable[Notice]) -> None:
        by_file: dict[Path, list[lsp.Diagnostic]] = {path: [] for path in self.shown.get(reading.home, set())}
        for notice in found:
            by_file.setdefault(notice.file, []).append(self.diagnostic(reading, notice))
        self.shown[reading.home] = {path for path, listed in by_file.items() if listed}
        for path, listed in sorted(by_file.items()):
            self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri_of(path), listed))

    async def ask_for_news(self) -> None:
        """Ask the editor to tell of files that change beside it, if it can be asked."""
        workspace = self.client_capabilities.workspace
        watching = workspace.did_change_watched_files if workspace else None
        if watching is None or not watching.dynamic_registration:
            return
        watchers = [
            lsp.FileSystemWatcher(glob_pattern=pattern) for pattern in ("**/*.yaml", "**/rules/**/*.md")
        ]
        await self.client_register_capability_async(
            lsp.RegistrationParams(
                [
                    lsp.Registration(
                        id="files-beside",
                        method=lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES,
                        register_options=lsp.DidChangeWatchedFilesRegistrationOptions(watchers=watchers),
                    )
                ]
            )
        )

    # values to the wire

    @property
    def encoding(self) -> positions.Encoding:
        """Return the units that the editor counts columns in."""
        agreed = str(getattr(self.workspace.position_encoding, "value", self.workspace.position_encoding))
        return "utf-8" if agreed == "utf-8" else "utf-32" if agreed == "utf-32" else "utf-16"

    def range(self, reading: Reading, file: Path, span: Span) -> lsp.Range:
        """Return a piece of a line as the editor counts it."""
        lines = reading.outline(file).lines
        line = lines[span.line] if span.line < len(lines) else ""
        start, end = (positions.units(line, column, self.encoding) for column in (span.start, span.end))
        return lsp.Range(lsp.Position(span.line, start), lsp.Position(span.line, end))

    def place(self, reading: Reading, file: Path, position: lsp.Position) -> tuple[int, int]:
        """Return the line and the column in code points, counted from 0."""
        lines = reading.outline(file).lines
        line = lines[position.line] if position.line < len(lines) else ""
        return position.line, positions.column(line, position.character, self.encoding)

    def location(self, reading: Reading, file: Path, span: Span) -> lsp.Location:
        """Return a place in a file."""
        return lsp.Location(uri_of(file), self.range(reading, file, span))

    def diagnostic(self, reading: Reading, notice: Notice) -> lsp.Diagnostic:
        """Return a notice as the protocol has it; its rule links to the rule's document."""
        document = navigation.rule_file(reading, notice.rule) if notice.rule else None
        return lsp.Diagnostic(
            range=self.range(reading, notice.file, notice.span),
            message=notice.message,
            severity=lsp.DiagnosticSeverity(int(notice.severity)),
            code=notice.rule or None,
            code_description=lsp.CodeDescription(uri_of(document)) if document else None,
            source="specreg",
            related_information=[
                lsp.DiagnosticRelatedInformation(self.location(reading, file, span), word)
                for file, span, word in notice.related
            ],
        )


def path_of(uri: str) -> Path | None:
    """Return the file that a URI names; None where it names none."""
    found = uris.to_fs_path(uri) if uri.startswith("file:") else None
    return Path(os.path.abspath(found)) if found else None  # noqa: PTH100 - links stay as they are


def uri_of(path: Path) -> str:
    """Return the URI of a file."""
    return uris.from_fs_path(str(path)) or path.as_uri()
