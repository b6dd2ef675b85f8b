"""Who is answered, and what: without a browser."""

from __future__ import annotations

import http.client
import json
import os
import signal
import socket
import stat
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main
from oaktag.compiler.watch import address
from oaktag.compiler.watch.server import HERE, Server

Watched = Callable[..., Server]
PANELS = Path("panels.oak")


def ask(
    server: Server,
    name: str,
    headers: dict[str, str] | None = None,
    body: object = None,
    token: str | None = None,
) -> tuple[int, dict[str, str], str]:
    """Status, headers and text of an answer."""
    connection = http.client.HTTPConnection(HERE, server.port, timeout=10)
    path = f"/{server.token if token is None else token}/{name}"
    data = None if body is None else json.dumps(body)
    connection.request("GET" if body is None else "POST", path, data, headers or {})
    reply = connection.getresponse()
    text = reply.read().decode()
    connection.close()
    return reply.status, dict(reply.getheaders()), text


def pattern(server: Server, **asked: str) -> dict[str, Any]:
    status, _, text = ask(server, f"pattern?{urlencode(asked)}")
    assert status == 200
    answer: dict[str, Any] = json.loads(text)
    return answer


def choose(server: Server, name: str, value: str, **other: Any) -> tuple[int, str]:
    """Asks for a choice to be written, as the page does."""
    stamp = pattern(server)["stamp"]
    wanted = {"name": name, "value": value, "stamp": stamp, "for": None, **other}
    headers = {"Origin": f"http://{HERE}:{server.port}", "Content-Type": "application/json"}
    status, _, text = ask(server, "choose", headers, wanted)
    return status, json.loads(text)["said"]


@pytest.mark.parametrize("name", ["", "page.js", "page.css", "pattern", "steps?piece=panel"])
@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "example.org"},
        {"Host": "127.0.0.1.example.org"},
        {"Host": "127.0.0.1:1"},
        {"Host": ""},
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": "https://{host}"},
        {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"},
    ],
    ids=str,
)
def test_foreign_requests_are_refused(name: str, headers: dict[str, str], watched: Watched) -> None:
    server = watched()
    filled = {k: v.format(host=f"{HERE}:{server.port}") for k, v in headers.items()}
    assert ask(server, name)[0] == 200
    status, _, text = ask(server, name, filled)
    assert status == 403
    assert "panel" not in text


def test_only_the_whole_address_is_answered(watched: Watched) -> None:
    server = watched()
    for token in ("", "x", server.token[:-1], server.token + "x", server.token.upper()):
        assert ask(server, "", token=token)[0] == 404
    assert ask(server, "../../etc/passwd")[0] == 404
    assert ask(server, "nothing")[0] == 404


def test_nothing_is_kept_or_shared(watched: Watched) -> None:
    for name in ("", "page.js", "pattern", "nothing"):
        _, headers, _ = ask(watched(), name)
        assert headers["Cache-Control"] == "no-store"
        assert "unsafe" not in headers["Content-Security-Policy"]
        assert headers["Content-Security-Policy"].startswith("default-src 'none'")
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert not [name for name in headers if name.lower().startswith("access-control")]


def test_it_listens_on_the_loopback_only(watched: Watched) -> None:
    assert watched().server_address[0] == "127.0.0.1"


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Content-Type": "application/json"}, 403),
        ({"Origin": "http://example.org", "Content-Type": "application/json"}, 403),
        ({"Origin": "http://{host}", "Content-Type": "text/plain"}, 400),
    ],
)
def test_only_the_page_itself_can_write(
    headers: dict[str, str], status: int, watched: Watched
) -> None:
    server = watched()
    before = PANELS.read_bytes()
    filled = {k: v.format(host=f"{HERE}:{server.port}") for k, v in headers.items()}
    wanted = {"name": "depth", "value": "30 cm", "stamp": pattern(server)["stamp"], "for": None}
    assert ask(server, "choose", filled, wanted)[0] == status
    assert PANELS.read_bytes() == before


@pytest.mark.parametrize(
    ("name", "value", "line"),
    [
        ("depth", "23.25 cm", 'choose depth = 23.25 cm from 10 cm to 40 cm "from waist to hem"'),
        ("depth", " 9  in ", 'choose depth = 9 in from 10 cm to 40 cm "from waist to hem"'),
        ("depth", "1.5 * 9 in", 'choose depth = 34.29 cm from 10 cm to 40 cm "from waist to hem"'),
        ("tucks", "0", "choose tucks = 0 from 0 to 4"),
        ("slit", "3 1/16 in", "choose slit = 3 1/16 in"),
        ("slit", "8 cm", "choose slit = 8 cm"),
        ("lined", "yes", "choose lined = yes"),
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_only_the_figure_is_written(
    name: str, value: str, line: str, end: str, mark: str, watched: Watched
) -> None:
    text = PANELS.read_text(encoding="utf-8")
    PANELS.write_text(mark + text, encoding="utf-8", newline=end)
    assert choose(watched(), name, value) == (200, f"`{name}` is written into the file")
    old = next(one for one in text.splitlines() if one.startswith(f"choose {name} "))
    expected = (mark + text.replace(old, line)).replace("\n", end)
    assert PANELS.read_bytes().decode() == expected


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("depth", "41 cm", "`depth` is 41 cm, but it goes from 10 cm to 40 cm"),
        ("depth", "4", "`depth` is a length, and 4 has no unit; write 4cm"),
        ("tucks", "1.5", "`tucks` is a whole number"),
        ("depth", "20 cm\nimport", ""),
        ("depth", "20 cm # x", "`#`"),
        ("half", "12 cm", "the default of `half` is worked out, `depth / 2`"),
        ("nothing", "1 cm", "no longer has a choice `nothing`"),
        ("waist_girth", "70 cm", "no longer has a choice `waist_girth`"),
    ],
)
def test_what_the_file_cannot_take_is_not_written(
    name: str, value: str, words: str, watched: Watched
) -> None:
    before = PANELS.read_bytes()
    status, said = choose(watched(), name, value)
    assert status == 409
    assert words in said
    assert PANELS.read_bytes() == before


def test_a_file_that_has_changed_meanwhile_is_left(watched: Watched) -> None:
    server = watched()
    stamp = pattern(server)["stamp"]
    PANELS.write_text(PANELS.read_text(encoding="utf-8") + "\n# more\n", encoding="utf-8")
    before = PANELS.read_bytes()
    status, said = choose(server, "depth", "30 cm", stamp=stamp)
    assert (status, "changed meanwhile" in said) == (409, True)
    assert PANELS.read_bytes() == before
    PANELS.unlink()
    assert choose(server, "depth", "30 cm", stamp=stamp)[0] == 409
    assert not PANELS.exists()


def test_what_was_set_in_the_call_holds_until_it_is_tried(watched: Watched) -> None:
    server = watched(settings={"depth": "30 cm"}, body="bodies/ines.oak")
    told = pattern(server)["pattern"]
    assert told["choices"][0]["text"] == "30 cm"
    assert told["choices"][0]["default"] == "20 cm"
    assert told["for"] == "Ines Fell"
    assert pattern(server, **{"set depth": "12 cm"})["pattern"]["choices"][0]["text"] == "12 cm"


def test_bodies_and_sizes_of_the_project_are_found(watched: Watched) -> None:
    server = watched()
    made = pattern(server)["made"]
    labels = [one["label"] for one in made]
    assert labels[:2] == ["the measures in the file", "Ines Fell"]
    assert {"size small", "size large"} < set(labels)
    large = next(one["id"] for one in made if one["label"] == "size large")
    answer = pattern(server, **{"for": large})
    assert answer["pattern"]["measures"] == [["waist_girth", "88 cm"]]
    assert pattern(server, **{"for": "body /etc/passwd"})["for"] == ""


def test_a_body_that_is_wrong_is_told_with_its_place(watched: Watched) -> None:
    server = watched(body="bodies/ines.oak")
    Path("bodies/ines.oak").write_text('body "Ines Fell"\n  waist_girth = 96\n', encoding="utf-8")
    answer = pattern(server)
    assert answer["pattern"] is None
    assert (answer["problems"][0]["file"], answer["problems"][0]["line"]) == ("bodies/ines.oak", 2)
    Path("bodies/ines.oak").unlink()
    assert "there is no file" in pattern(server)["problems"][0]["message"]


# A sheet with a slot of 2 cm, too narrow for two allowances of 3 cm.
SLOT = """\
pattern "Slot"
piece sheet
  a = origin
  b = a right 9 cm
  c = b down 8 cm
  d = c right 2 cm
  e = d up 8 cm
  outline
    first = a to b
    down_slot = b to c
    foot = c to d
    up_slot = d to e
    second = e to a right 20 cm
    side = a right 20 cm to a right 20 cm down 20 cm
    hem = a right 20 cm down 20 cm to a down 20 cm
    centre = a down 20 cm to a
piece other
  strip 10 cm by 4 cm
allow 3 cm on sheet.down_slot, sheet.up_slot, other
"""


def test_an_allowance_without_room_leaves_the_piece_without(watched: Watched) -> None:
    Path("slot.oak").write_text(SLOT, encoding="utf-8")
    answer = pattern(watched("slot.oak"))
    assert [piece["name"] for piece in answer["pattern"]["pieces"]] == ["sheet", "other"]
    [wrong] = [one for one in answer["problems"] if one["severity"] == "error"]
    assert "allowance of 3 cm" in wrong["message"]
    sheet, other = answer["pattern"]["pieces"]
    assert sheet["box"][2] - sheet["box"][0] == pytest.approx(200)
    assert other["box"][2] - other["box"][0] == pytest.approx(160)


def test_a_step_knows_its_edges_and_its_place(watched: Watched) -> None:
    _, _, text = ask(watched(), "steps?piece=panel")
    steps = json.loads(text)["steps"]
    assert [step["heading"] for step in steps] == [
        "outline",
        "grain",
        "the waist is shaped",
        "a little flare at the hem",
        "close",
    ]
    hem = next(edge for edge in steps[0]["edges"] if edge["name"] == "panel.hem")
    assert (hem["length"], hem["line"]) == ("10 cm", 19)
    assert ask(watched(), "steps?piece=nothing")[0] == 404


def events(server: Server) -> socket.socket:
    stream = socket.create_connection((HERE, server.port), timeout=10)
    stream.sendall(
        f"GET /{server.token}/events HTTP/1.1\r\nHost: {HERE}:{server.port}\r\n\r\n".encode()
    )
    said = b""
    while b"data: 0" not in said:
        said += stream.recv(4096)
    return stream


def test_a_long_computation_does_not_hold_up_the_events(watched: Watched) -> None:
    server = watched()
    pattern(server)
    going = threading.Event()
    end = threading.Event()
    working = threading.Thread(
        target=server.worker.do, args=("somebody", lambda: (going.set(), end.wait(10)))
    )
    working.start()
    going.wait(5)
    with events(server) as stream:
        PANELS.write_text(PANELS.read_text(encoding="utf-8") + "\n", encoding="utf-8")
        assert b"data: 1" in stream.recv(4096)
        assert working.is_alive()
    end.set()
    working.join()


def test_the_page_is_told_of_a_fault_of_ours(
    watched: Watched, monkeypatch: pytest.MonkeyPatch
) -> None:
    server = watched()

    def broken(*_: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr(server.answers, "pattern", broken)
    [said] = pattern(server)["problems"]
    assert "this is a fault in Oaktag" in said["message"]


# ---- the address and the command


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(address.click, "get_app_dir", lambda _: str(tmp_path / "settings"))
    return tmp_path / "settings"


def test_the_address_of_a_file_is_its_own_and_stays(home: Path) -> None:
    first = address.token_of("panels.oak")
    assert first == address.token_of(os.path.abspath("panels.oak"))
    assert first != address.token_of("other.oak")
    assert len(first) == 40
    key = home / "watch.key"
    assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert len(key.read_bytes()) == 32
    assert 49152 <= address.port_of(first) < 65536


def test_a_key_that_others_can_read_is_not_used(home: Path) -> None:
    first = address.token_of("panels.oak")
    (home / "watch.key").chmod(0o644)
    assert address.token_of("panels.oak") not in (first, address.token_of("panels.oak"))


def test_a_port_in_use_is_told(project: Path, home: Path) -> None:
    with socket.create_server((HERE, 0)) as taken:
        port = taken.getsockname()[1]
        done = CliRunner().invoke(main, ["watch", "panels.oak", "--port", str(port), "--no-open"])
    assert done.exit_code == 2
    assert f"port {port} is in use by another program" in done.output
    assert "leave --port out" in done.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["bodies/ines.oak"], "is a body; watch a pattern"),
        (["panels.oak", "--set", "dept = 4 cm"], "did you mean `depth`?"),
        (["nothing.oak"], "there is no file `nothing.oak`"),
        (["panels.oak", "--port", "70000"], "70000"),
    ],
)
def test_a_call_that_cannot_be_carried_out(
    arguments: list[str], words: str, project: Path, home: Path
) -> None:
    done = CliRunner().invoke(main, ["watch", *arguments, "--no-open"])
    assert done.exit_code == 2
    assert words in done.output


def test_the_command_ends_with_ctrl_c(project: Path, home: Path) -> None:
    threading.Thread(
        target=lambda: (time.sleep(1), os.kill(os.getpid(), signal.SIGINT)), daemon=True
    ).start()
    done = CliRunner().invoke(main, ["watch", "panels.oak", "--no-open"])
    assert done.exit_code == 0
    assert "http://127.0.0.1:" in done.output
    assert done.output.endswith("ended\n")
