"""Files that are followed, and work that is done one thing at a time."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from oaktag.compiler.watch.follow import Follower, NotedFiles, mark
from oaktag.compiler.watch.worker import Overtaken, Worker
from oaktag.lang.project.program import load


@pytest.fixture
def follower() -> Iterator[Follower]:
    made = Follower()
    made.seeing(1)
    made.start()
    yield made
    made.end()


def replaced(path: Path) -> None:
    path.with_suffix(".new").write_text("pattern")
    path.with_suffix(".new").replace(path)


def moved_away(path: Path) -> None:
    path.rename(path.with_suffix(".bak"))
    time.sleep(0.02)
    path.write_text("pattern")


def same_size_and_time(path: Path) -> None:
    was = path.stat()
    path.write_text("PATTERN")
    os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))


@pytest.mark.parametrize(
    "change",
    [
        lambda path: path.write_text("longer pattern"),
        replaced,
        moved_away,
        same_size_and_time,
        Path.unlink,
    ],
)
def test_a_change_is_one_change(
    change: Callable[[Path], object], follower: Follower, tmp_path: Path
) -> None:
    path = tmp_path / "file.oak"
    path.write_text("pattern")
    follower.follow({str(path): mark(str(path))})
    time.sleep(0.05)
    change(path)
    assert follower.wait(0, 5) == 1
    assert follower.wait(1, 0.2) == 1


def test_what_changed_since_it_was_read_is_a_change(follower: Follower, tmp_path: Path) -> None:
    path = tmp_path / "file.oak"
    path.write_text("pattern")
    was = mark(str(path))
    path.write_text("another pattern")
    follower.follow({str(path): was})
    assert follower.wait(0, 5) == 1


def test_a_file_that_is_not_there_yet_is_followed(follower: Follower, tmp_path: Path) -> None:
    path = tmp_path / "file.oak"
    follower.follow({str(path): mark(str(path))})
    path.write_text("pattern")
    assert follower.wait(0, 5) == 1


def test_all_that_a_pattern_is_drawn_from_is_noted(tmp_path: Path) -> None:
    for name, text in {
        "oaktag.toml": "",
        "a.oak": 'pattern "A"\nuse "b.oak" as b\nuse skirts.straight as s\nuse "gone.oak" as g\n',
        "b.oak": 'pattern "B"\npiece front\n  trace "b.svg" edges a, b, c, d with a = 4 cm\n',
        "b.svg": "<svg/>",
    }.items():
        (tmp_path / name).write_text(text)
    files = NotedFiles(str(tmp_path / "a.oak"))
    load(str(tmp_path / "a.oak"), files)
    names = {os.path.basename(path) for path in files.noted}
    assert names == {"a.oak", "b.oak", "b.svg", "gone.oak", "straight.oak"}
    assert [path for path, was in files.noted.items() if was is None] == [
        str(tmp_path / "gone.oak")
    ]


def test_no_two_things_are_done_at_once() -> None:
    worker, busy, most = Worker(), [], []

    def job() -> None:
        busy.append(1)
        most.append(len(busy))
        time.sleep(0.01)
        busy.pop()

    threads = [threading.Thread(target=worker.do, args=(str(i), job)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1] * 8


def test_the_newest_question_of_a_page_wins() -> None:
    worker, going, end = Worker(), threading.Event(), threading.Event()
    said: list[str] = []

    def asked(page: str, name: str, job: Callable[[], object]) -> threading.Thread:
        def run() -> None:
            try:
                worker.do(page, job)
                said.append(f"{name} done")
            except Overtaken:
                said.append(f"{name} overtaken")

        thread = threading.Thread(target=run)
        thread.start()
        time.sleep(0.05)
        return thread

    threads = [asked("one", "first", lambda: (going.set(), end.wait(10)))]
    going.wait(5)
    threads += [asked("one", name, lambda: None) for name in ("second", "third")]
    threads.append(asked("two", "other", lambda: None))
    assert said == ["second overtaken"]
    end.set()
    for thread in threads:
        thread.join()
    assert sorted(said[1:]) == ["first done", "other done", "third done"]


def test_what_goes_wrong_is_handed_back() -> None:
    def broken() -> None:
        raise KeyError("no such piece")

    worker = Worker()
    with pytest.raises(KeyError, match="no such piece"):
        worker.do("one", broken)
    assert worker.do("one", lambda: 3) == 3
