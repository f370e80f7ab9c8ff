"""A real client of the Language Server Protocol that talks to `specreg editor` over pipes."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from lsprotocol import types as lsp
from pygls.lsp.client import LanguageClient


class Editor(LanguageClient):
    """An editor with the diagnostics that it was told last, by file."""

    def __init__(self) -> None:
        super().__init__("editor-of-the-tests", "1")
        self.told: dict[str, list[lsp.Diagnostic]] = {}
        self.news = asyncio.Event()
        self.versions: dict[str, int] = {}
        self.watching: set[str] = set()

        @self.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)  # type: ignore[untyped-decorator]
        def told(params: lsp.PublishDiagnosticsParams) -> None:
            self.told[params.uri] = list(params.diagnostics)
            self.news.set()

        @self.feature(lsp.CLIENT_REGISTER_CAPABILITY)  # type: ignore[untyped-decorator]
        def register(params: lsp.RegistrationParams) -> None:
            self.watching |= {one.method for one in params.registrations}
            self.news.set()

    def open(self, path: Path, text: str | None = None) -> str:
        """Open a file, with its saved text or another."""
        uri = path.as_uri()
        source = path.read_text(encoding="utf-8") if text is None else text
        self.versions[uri] = 1
        self.text_document_did_open(
            lsp.DidOpenTextDocumentParams(lsp.TextDocumentItem(uri, "yaml", 1, source))
        )
        return uri

    def write(self, uri: str, text: str) -> None:
        """Put another text in the place of an open one, without saving it."""
        self.versions[uri] += 1
        self.text_document_did_change(
            lsp.DidChangeTextDocumentParams(
                lsp.VersionedTextDocumentIdentifier(self.versions[uri], uri),
                [lsp.TextDocumentContentChangeWholeDocument(text)],
            )
        )

    async def until(self, uri: str, wanted: object, seconds: float = 60) -> list[lsp.Diagnostic]:
        """Wait until what was told of a file satisfies a condition, and return it."""
        assert callable(wanted)
        async with asyncio.timeout(seconds):
            while uri not in self.told or not wanted(self.told[uri]):
                self.news.clear()
                await self.news.wait()
        return self.told[uri]


@asynccontextmanager
async def editing(
    root: Path, encodings: list[lsp.PositionEncodingKind | str] | None = None
) -> AsyncIterator[Editor]:
    """An editor that has started the server and greeted it."""
    editor = Editor()
    await editor.start_io(sys.executable, "-m", "specreg", "editor")
    await editor.initialize_async(
        lsp.InitializeParams(
            capabilities=lsp.ClientCapabilities(
                general=lsp.GeneralClientCapabilities(position_encodings=encodings),
                workspace=lsp.WorkspaceClientCapabilities(
                    did_change_watched_files=lsp.DidChangeWatchedFilesClientCapabilities(
                        dynamic_registration=True
                    )
                ),
            ),
            root_uri=root.as_uri(),
        )
    )
    editor.initialized(lsp.InitializedParams())
    try:
        yield editor
    finally:
        await editor.shutdown_async(None)
        editor.exit(None)
        await editor.stop()  # type: ignore[no-untyped-call]
