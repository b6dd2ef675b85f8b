"""How long `watch` takes from a save to its answer, and what that costs the server."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from statistics import median
from urllib.parse import urlsplit

from processes import EXAMPLES, FERRY

BODY = EXAMPLES / "bodies" / "ines.oak"


def table(folder: Path, rounds: int) -> str:
    """Milliseconds from save to word of it, and to the whole answer."""
    word, answer = measure(folder, rounds)
    lines = [f"{f'watch, a save of {FERRY.name}':<26}{'median ms':>11}{'best ms':>10}"]
    for name, taken in (("until the page is told", word), ("until it has the answer", answer)):
        lines.append(f"{name:<26}{1000 * median(taken):>11.1f}{1000 * min(taken):>10.1f}")
    return "\n".join(lines)


def measure(folder: Path, rounds: int) -> tuple[list[float], list[float]]:
    """Seconds from a save until a page is told of it, and until it has the new pattern."""
    file = folder / FERRY.name
    text = FERRY.read_text(encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "oaktag.compiler", "watch", str(file), "--no-open"]
    server = subprocess.Popen(
        [*command, "--body", str(BODY)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    try:
        assert server.stdout is not None
        address = next(line.strip() for line in server.stdout if "http://" in line)
        place = urlsplit(address)
        events = HTTPConnection(place.netloc, timeout=60)
        events.request("GET", f"{place.path}events")
        told = events.getresponse()
        _ask(place.netloc, place.path)
        _next_word(told)
        words, answers = [], []
        for number in range(rounds + 1):
            changed = re.sub(r"length = \d+ cm from", f"length = {60 + number} cm from", text)
            started = time.perf_counter()
            file.write_text(changed, encoding="utf-8")
            _next_word(told)
            word = time.perf_counter()
            _ask(place.netloc, place.path)
            if number:  # the first round imports what is imported late
                words.append(word - started)
                answers.append(time.perf_counter() - started)
            time.sleep(0.1)  # nobody saves faster
        return words, answers
    finally:
        server.terminate()
        server.wait()


def _next_word(events: HTTPResponse) -> None:
    """Reads on until the next `data:`, which every change is told by."""
    while not events.readline().startswith(b"data:"):
        pass


def _ask(host: str, path: str) -> None:
    connection = HTTPConnection(host, timeout=60)
    connection.request("GET", f"{path}pattern?page=bench")
    response = connection.getresponse()
    told = response.read()
    if response.status != 200 or b'"current":true' not in told:
        sys.exit(f"watch answered {response.status}: {told[:300]!r}")
    connection.close()
