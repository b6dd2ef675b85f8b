"""`oaktag watch`: a page in the browser that follows the file as it is edited."""

from __future__ import annotations

import signal
import threading
from typing import TYPE_CHECKING, NoReturn

import click

from oaktag.compiler.cli.options import FILE_NAME, Given, with_given

if TYPE_CHECKING:
    from oaktag.compiler.watch.answers import Answers
    from oaktag.compiler.watch.server import Server


@click.command()
@click.argument("file", metavar="FILE", type=FILE_NAME)
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    metavar="N",
    help="The port of this machine; if none is named, one that is free.",
)
@click.option("--no-open", is_flag=True, help="Only tell the address; open no browser.")
@with_given
def watch(file: str, port: int | None, no_open: bool, given: Given) -> None:
    """Show the pieces in the browser, as the file is now, at every save.

    The page shows the pieces, measures between points, walks through the steps of each piece and
    tries choices, bodies and sizes. Only this machine can reach it, and only by the whole address.
    Ctrl-C ends it.

    \b
    Example:
      oaktag watch ferry.oak --body bodies/marthe.oak
    """
    from oaktag.compiler.watch.address import port_of, token_of
    from oaktag.compiler.watch.answers import Answers, Wish
    from oaktag.compiler.watch.follow import Follower

    _refused(file, given)
    follower = Follower()
    answers = Answers(file, given, follower)
    token = token_of(file)
    server = _server(port, port_of(token), token, answers)
    follower.start()
    # The first answer is ready when the browser asks for it.
    warm = threading.Thread(
        target=lambda: server.worker.do("", lambda: answers.pattern(Wish(None, ()), False)),
        daemon=True,
    )
    warm.start()
    click.echo(f"{file} is shown at\n  {server.address}\nand followed; Ctrl-C ends it")
    if not no_open:
        import webbrowser

        threading.Thread(target=webbrowser.open, args=(server.address,), daemon=True).start()
    before = signal.signal(signal.SIGTERM, _stop)
    try:
        server.serve_forever(poll_interval=0.2)
    except KeyboardInterrupt:
        click.echo("\nended")
    finally:
        signal.signal(signal.SIGTERM, before)
        follower.end()
        server.server_close()


def _refused(file: str, given: Given) -> None:
    """Refuses a call that no change of the file's paper could put right."""
    from oaktag.compiler.cli.project import settled
    from oaktag.lang.project.body import is_body
    from oaktag.lang.project.files import DiskFiles
    from oaktag.lang.project.program import load

    program = load(file, DiskFiles(file))
    if is_body(program.file):
        raise click.UsageError(f"{file} is a body; watch a pattern, with --body {file}")
    if program.sound:
        settled(given.settings, program)


def _server(port: int | None, preferred: int, token: str, answers: Answers) -> Server:
    """On the port that is named; else on the file's own, or any that is free."""
    from oaktag.compiler.watch.server import Server

    if port is not None:
        try:
            return Server(port, token, answers)
        except OSError as problem:
            _taken(port, problem)
    try:
        return Server(preferred, token, answers)
    except OSError:
        return Server(0, token, answers)


def _taken(port: int, problem: OSError) -> NoReturn:
    import errno

    if problem.errno == errno.EADDRINUSE:
        words = f"port {port} is in use by another program"
    elif problem.errno in (errno.EACCES, errno.EPERM):
        words = f"port {port} may not be used by you"
    else:
        words = f"port {port} cannot be used: {(problem.strerror or str(problem)).lower()}"
    raise click.UsageError(f"{words}; name another, or leave --port out and a free one is taken")


def _stop(*_: object) -> NoReturn:
    raise KeyboardInterrupt
