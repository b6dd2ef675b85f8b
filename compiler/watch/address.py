"""Where the page is found: a port of this machine, and a path that nobody can guess.

The path follows from the file and from a key that only this user can read; so a page finds its
server again when that is started anew. Without a place for the key, the path is new each time.
"""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import os
import secrets

import click

KEY_BYTES = 32
FIRST_PORT, PORTS = 49152, 16000  # the range that is free for anybody


def token_of(path: str) -> str:
    """The path of a file's page."""
    key = _key() or secrets.token_bytes(KEY_BYTES)
    named = os.path.realpath(path).encode(errors="surrogateescape")
    return hmac.new(key, named, hashlib.sha256).hexdigest()[:40]


def port_of(token: str) -> int:
    """The port that is tried first when none is named: each file has its own."""
    return FIRST_PORT + int(hashlib.sha256(token.encode()).hexdigest(), 16) % PORTS


def _key() -> bytes | None:
    """The key of this user, made when it is first wanted; none if it cannot be kept."""
    folder = click.get_app_dir("oaktag")
    path = os.path.join(folder, "watch.key")
    with contextlib.suppress(OSError):
        os.makedirs(folder, mode=0o700, exist_ok=True)
        with contextlib.suppress(FileExistsError):
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with open(handle, "wb") as file:
                file.write(secrets.token_bytes(KEY_BYTES))
        with open(path, "rb") as file:
            key = file.read()
        own = not hasattr(os, "getuid") or os.stat(path).st_uid == os.getuid()
        if len(key) == KEY_BYTES and own and not os.stat(path).st_mode & 0o077:
            return key
    return None
