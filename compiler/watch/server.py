"""HTTP for the page: on the loopback only, for requests that come from the page itself.

GET  page.html page.css page.js   the page
GET  pattern?…                    the pattern, worked out now
GET  steps?piece=NAME&…           the steps of a piece
GET  events                       a word at every change of a file
POST choose                       a choice written into the file
"""

from __future__ import annotations

import hmac
import http.server
import json
import sys
import threading
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs, urlsplit

from oaktag.compiler.page.contents import as_text
from oaktag.compiler.page.html import part, served
from oaktag.compiler.watch.answers import Wish, nothing, wish_of
from oaktag.compiler.watch.choosing import write_choice
from oaktag.compiler.watch.worker import Overtaken, Worker

if TYPE_CHECKING:
    from oaktag.compiler.watch.answers import Answers

HERE = "127.0.0.1"
HEARTBEAT = 5.0  # seconds between signs of life
MOST_BODY = 10_000  # bytes of a request
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": POLICY,
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
HTML, JSON = "text/html; charset=utf-8", "application/json"
PARTS = {"page.css": "text/css; charset=utf-8", "page.js": "text/javascript; charset=utf-8"}


class Server(http.server.ThreadingHTTPServer):
    """Answers the pages of one file. Raises OSError if the port is taken."""

    daemon_threads = True
    allow_reuse_address = sys.platform != "win32"  # there it would share a port that is in use

    def __init__(self, port: int, token: str, answers: Answers) -> None:
        self.token = token
        self.answers = answers
        self.worker = Worker()
        super().__init__((HERE, port), Handler)
        self.hosts = {f"{name}:{self.port}" for name in (HERE, "localhost")}

    @property
    def port(self) -> int:
        port: int = self.server_address[1]
        return port

    @property
    def address(self) -> str:
        return f"http://{HERE}:{self.port}/{self.token}/"

    def handle_error(self, request: object, client_address: object) -> None:
        """A page that was closed while it was answered is no fault."""


class Handler(http.server.BaseHTTPRequestHandler):
    server: Server
    protocol_version = "HTTP/1.1"
    timeout = 60
    disable_nagle_algorithm = True

    def do_GET(self) -> None:
        asked = self._asked()
        if asked is None:
            return
        name, query = asked
        if name in PARTS:
            self._send(200, PARTS[name], part(name).encode())
        elif name == "":
            self._send(200, HTML, served("oaktag"))
        elif name == "events":
            self._events()
        elif name == "pattern":
            last = "last" in query
            wish, page = wish_of(query), query.get("page", [""])[0]
            self._answer(page, lambda: self.server.answers.pattern(wish, last))
        elif name == "steps":
            wish, piece = wish_of(query), query.get("piece", [""])[0]
            page = f"{query.get('page', [''])[0]} steps"
            self._answer(page, lambda: self.server.answers.steps(wish, piece))
        else:
            self._refuse(404, "there is nothing here")

    def do_POST(self) -> None:
        asked = self._asked()
        if asked is None:
            return
        size = self.headers.get("Content-Length", "")
        if self.headers.get("Origin") is None:
            self._refuse(403, "this request does not come from the page")
        elif asked[0] != "choose":
            self._refuse(404, "there is nothing here")
        elif self.headers.get("Content-Type") != JSON or not size.isdigit():
            self._refuse(400, "this is no choice")
        elif int(size) > MOST_BODY:
            self._refuse(413, "this is too long for a choice")
        else:
            self._choose(self.rfile.read(int(size)))

    def _asked(self) -> tuple[str, dict[str, list[str]]] | None:
        """What is asked for, below the path of the page; refuses what is none of its business."""
        host, origin = self.headers.get("Host", ""), self.headers.get("Origin")
        hosts = self.server.hosts
        if host not in hosts or (
            origin is not None and origin.removeprefix("http://") not in hosts
        ):
            self._refuse(403, "only the page itself is answered")
            return None
        if (
            self.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin")
            and self.headers.get("Sec-Fetch-Mode") != "navigate"
        ):
            self._refuse(403, "only the page itself is answered")
            return None
        parts = urlsplit(self.path)
        token, slash, name = parts.path.removeprefix("/").partition("/")
        if not slash or not hmac.compare_digest(token.encode(), self.server.token.encode()):
            self._refuse(404, "there is nothing here")
            return None
        return name, parse_qs(parts.query, keep_blank_values=True)

    def _answer(self, page: str, job: Any) -> None:
        try:
            answer = self.server.worker.do(page, job)
        except Overtaken:
            self._refuse(409, "a newer question has taken its place")
            return
        except Exception as problem:
            answer = _fault(problem, self.server.answers.path)
        if answer is None:
            self._refuse(404, "there is no such piece")
        else:
            self._send(200, JSON, as_text(answer).encode())

    def _choose(self, data: bytes) -> None:
        try:
            wanted = json.loads(data)
            name, value, stamp = (str(wanted[key]) for key in ("name", "value", "stamp"))
            person = wanted.get("for")
        except (ValueError, KeyError, TypeError, AttributeError):
            self._refuse(400, "this is no choice")
            return
        wish = Wish(person if isinstance(person, str) else None, ((name, value),))
        try:
            well, said = self.server.worker.do(
                f"choose {threading.get_ident()}",
                lambda: write_choice(self.server.answers, wish, stamp),
            )
        except Exception as problem:
            well, said = False, _fault(problem, self.server.answers.path)["problems"][0]["message"]
        self._send(200 if well else 409, JSON, as_text({"said": said}).encode())

    def _events(self) -> None:
        """One line at once, and one at every change, as long as the page listens."""
        follower = self.server.answers.follower
        self.close_connection = True
        self.send_response(200)
        self._headers("text/event-stream")
        self.end_headers()
        known = follower.changes
        follower.seeing(1)
        try:
            self._say(f"retry: 400\ndata: {known}\n\n")
            while not follower.ended:
                now = follower.wait(known, HEARTBEAT)
                self._say(f"data: {now}\n\n" if now != known else ": here\n\n")
                known = now
        except OSError:
            pass  # the page was closed
        finally:
            follower.seeing(-1)

    def _say(self, words: str) -> None:
        self.wfile.write(words.encode())
        self.wfile.flush()

    def _send(self, status: int, kind: str, data: bytes) -> None:
        self.send_response(status)
        self._headers(kind)
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def _refuse(self, status: int, words: str) -> None:
        self.close_connection = True  # what else was sent is not read
        self._send(status, "text/plain; charset=utf-8", f"{words}\n".encode())

    def _headers(self, kind: str) -> None:
        self.send_header("Content-Type", kind)
        if self.close_connection:
            self.send_header("Connection", "close")
        for name, value in HEADERS.items():
            self.send_header(name, value)

    def version_string(self) -> str:
        return "oaktag"

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is written about requests."""


def _fault(problem: Exception, path: str) -> dict[str, Any]:
    """A fault of ours, in plain words, where a pattern was asked for."""
    from oaktag import __version__

    message = (
        f"this is a fault in Oaktag {__version__}, not in your pattern "
        f"({type(problem).__name__}: {problem}); please report it, with your file"
    )
    said = {"severity": "error", "message": message, "file": path, "line": 0, "lines": []}
    answer = nothing(path)
    answer["problems"] = [{**said, "help": ""}]
    return answer
