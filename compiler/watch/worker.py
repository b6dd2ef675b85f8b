"""One thing at a time: of what a page asks for, the newest is done, and the older left."""

from __future__ import annotations

import contextlib
import threading
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

T = TypeVar("T")

STACK = 64 * 2**20  # bytes: what is nested deep is worked out deep


class Overtaken(Exception):  # noqa: N818  (nothing failed)
    """A newer question of the same page has taken the place of this one."""


class _Job:
    def __init__(self, do: Callable[[], Any]) -> None:
        self.do = do
        self.done = threading.Event()
        self.result: Any = None
        self.problem: BaseException | None = None


class Worker:
    """A thread of its own, so that whoever asks can wait while others are answered."""

    def __init__(self) -> None:
        self._jobs: dict[str, _Job] = {}
        self._news = threading.Condition()
        before = 0
        with contextlib.suppress(ValueError, RuntimeError):
            before = threading.stack_size(STACK)
        self._thread = threading.Thread(target=self._work, name="worker", daemon=True)
        self._thread.start()
        threading.stack_size(before)

    def do(self, asked_by: str, job: Callable[[], T]) -> T:
        """Does a job when its turn comes, and gives back its result or raises what it raised.

        Raises Overtaken if the same asks again before it was begun.
        """
        mine = _Job(job)
        with self._news:
            old = self._jobs.pop(asked_by, None)
            self._jobs[asked_by] = mine
            self._news.notify()
        if old is not None:
            old.problem = Overtaken()
            old.done.set()
        mine.done.wait()
        if mine.problem is not None:
            raise mine.problem
        result: T = mine.result
        return result

    def _work(self) -> None:
        while True:
            with self._news:
                self._news.wait_for(lambda: self._jobs)
                first = next(iter(self._jobs))
                job = self._jobs.pop(first)
            try:
                job.result = job.do()
            except BaseException as problem:
                job.problem = problem
            job.done.set()
