"""The pages of a preview over HTTP, on this computer only."""

from __future__ import annotations

import gc
import json
import mimetypes
import signal
from collections.abc import Callable
from html import escape
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Event, Thread
from urllib.parse import parse_qs, unquote, urlsplit

from specreg.pages import offline
from specreg.preview.state import Preview, Shown, said
from specreg.preview.strip import SCRIPT
from specreg.preview.watching import follow

HOST = "127.0.0.1"
STATE, STRIP = "/preview/state", "/preview/strip.js"
LONGEST_WAIT = 20.0
"""Seconds that a page waits for news before it asks again."""

Say = Callable[[str], None]


class Pages(ThreadingHTTPServer):
    """A server of the pages that a preview shows."""

    daemon_threads = True

    def __init__(self, preview: Preview, port: int) -> None:
        super().__init__((HOST, port), _Answer)
        self.preview = preview

    @property
    def address(self) -> str:
        """Return where the pages are."""
        return f"http://{HOST}:{self.server_port}/"

    def is_own_name(self, host: str) -> bool:
        """Tell whether a request names this computer: another name may be a trick of a page elsewhere."""
        return host in (f"{HOST}:{self.server_port}", f"localhost:{self.server_port}")


class _Answer(BaseHTTPRequestHandler):
    server: Pages
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Answer with a page, a file of one, or the news."""
        asked = urlsplit(self.path)
        if not self.server.is_own_name(self.headers.get("Host", "")):
            self._send(HTTPStatus.FORBIDDEN, b"", "text/plain")
        elif asked.path == STATE:
            self._state(parse_qs(asked.query))
        elif asked.path == STRIP:
            self._send(HTTPStatus.OK, SCRIPT.encode(), "text/javascript; charset=utf-8")
        else:
            self._file(unquote(asked.path))

    def _state(self, query: dict[str, list[str]]) -> None:
        seen = query.get("news", ["-1"])[0]
        shown = self.server.preview.after(int(seen) if seen.isdecimal() else -1, LONGEST_WAIT)
        self._send(HTTPStatus.OK, as_json(shown).encode(), "application/json")

    def _file(self, path: str) -> None:
        shown = self.server.preview.shown
        name = path.lstrip("/") or "index.html"
        name = f"{name}index.html" if name.endswith("/") else name
        if shown.site is None:
            self._send(HTTPStatus.OK, with_strip(NOTHING_YET, shown), "text/html; charset=utf-8")
            return
        found = (shown.site / name).resolve()
        if found.name == offline.FILE:
            self._send(HTTPStatus.OK, KEEPS_NOTHING, "text/javascript; charset=utf-8")
            return
        if not found.is_relative_to(shown.site.resolve()) or not found.is_file():
            self._send(HTTPStatus.NOT_FOUND, with_strip(NOT_THERE, shown), "text/html; charset=utf-8")
            return
        kind = mimetypes.guess_type(found.name)[0] or "application/octet-stream"
        data = found.read_bytes()
        is_page = kind == "text/html"
        text = kind.startswith("text/")
        self._send(
            HTTPStatus.OK,
            with_strip(data, shown) if is_page else data,
            f"{kind}; charset=utf-8" if text else kind,
        )

    def _send(self, status: HTTPStatus, body: bytes, kind: str) -> None:
        try:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            self.send_header("Cache-Control", "no-store")
            self.end_headers()
            self.wfile.write(body)
        except (BrokenPipeError, ConnectionResetError):  # the reader has gone on to another page
            self.close_connection = True

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing of single requests."""


def _bare(title: str, text: str) -> bytes:
    head = f'<meta charset="utf-8"><title>{escape(title)}</title>'
    return f'<!doctype html><html lang="en"><head>{head}</head><body><p>{text}</p></body></html>'.encode()


NOTHING_YET = _bare("No pages yet", "There are no pages yet: the spec cannot be read as it stands.")
NOT_THERE = _bare("No such page", 'There is no such page. <a href="/">To the first page</a>')


KEEPS_NOTHING = b'self.addEventListener("activate", () => self.registration.unregister());'
"""In place of the script by which a browser keeps published pages: a preview must never show yesterday's."""


def with_strip(page: bytes, shown: Shown) -> bytes:
    """Return a page with the strip of a preview; the page's own file stays as it would be published."""
    script = f'<script src="{STRIP}" data-pages="{shown.pages}"></script>'.encode()
    head, end, tail = page.rpartition(b"</body>")
    return head + script + end + tail if end else page + script


def as_json(shown: Shown) -> str:
    """Return what is shown, for the strip."""
    told = {
        "news": shown.news,
        "pages": shown.pages,
        "problems": shown.problems,
        "findings": shown.findings,
        "summary": shown.summary,
    }
    return json.dumps(told, ensure_ascii=False)


def serve(preview: Preview, port: int, say: Say) -> None:
    """Show the pages until Ctrl+C, made anew after every change. Raises OSError where the port is taken."""
    gc.enable()  # this process stays
    for number in (signal.SIGINT, signal.SIGTERM):  # the temporary pages go then, too
        signal.signal(number, signal.default_int_handler)
    ended = Event()
    try:
        with Pages(preview, port) as pages:
            Thread(target=pages.serve_forever, daemon=True).start()
            said(preview.make(), say)
            say(f"Preview for the {preview.reader.value} reader: {pages.address} (Ctrl+C ends it)")
            try:
                follow(preview.watched, lambda: said(preview.make(), say), ended)
            finally:
                pages.shutdown()
    except KeyboardInterrupt:
        say("Preview ended.")
    finally:
        ended.set()
        preview.close()
