"""What a page is answered: the pattern as the files are now, for one body, with choices tried."""

from __future__ import annotations

import hashlib
import os
from typing import TYPE_CHECKING, Any

import click

from oaktag.compiler.cli.guard import plain
from oaktag.compiler.cli.project import (
    Work,
    body_of,
    chart_path,
    settled,
    unfinished,
    worked,
)
from oaktag.compiler.page.contents import contents, steps_of
from oaktag.compiler.page.problems import problems
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.watch.follow import NotedFiles, mark
from oaktag.compiler.watch.people import People, person_given
from oaktag.lang.diagnostics import Diagnostic, Mistake
from oaktag.lang.project.body import is_body
from oaktag.lang.project.program import load
from oaktag.record import Record

if TYPE_CHECKING:
    from collections.abc import Mapping

    from oaktag.compiler.cli.options import Given
    from oaktag.compiler.evaluate.pattern import Value
    from oaktag.compiler.paper.quantity import Quantity
    from oaktag.compiler.watch.follow import Follower, Mark
    from oaktag.compiler.watch.people import Person
    from oaktag.lang.project.body import Body
    from oaktag.lang.project.program import Known, Program

    Object = dict[str, Any]
    Drawn = tuple[Object | None, tuple[Diagnostic, ...]]

KEPT = 8  # answers that are kept while the files stay as they are


class Wish(Record):
    """What a page wants to see. person: the key of a body or size; none: that of the call.

    tried: choices with what was written for them.
    """

    person: str | None
    tried: tuple[tuple[str, str], ...]


class Seen(Record):
    """A wish worked out. refused: for a choice tried, why it cannot be. unknown: choices that the
    file does not have. stamp: of the file's text. gone: the file is not there.
    """

    work: Work
    made_for: str
    person: str
    refused: Mapping[str, str]
    unknown: tuple[str, ...]
    stamp: str
    gone: bool


class Answers:
    """Works out one file for pages; not for two threads at once."""

    def __init__(self, path: str, given: Given, follower: Follower) -> None:
        self.path = path
        self.given = given
        self.follower = follower
        self.last: Object | None = None
        self._kept: dict[Wish, tuple[dict[str, Mark], Seen, list[Drawn]]] = {}
        self.people = People(path, given)
        self._known_programs: Known = {}

    def pattern(self, wish: Wish, last: bool) -> Object:
        """The pattern, if it can be drawn, and what is wrong with it. last: if it cannot, the last
        that could.
        """
        seen = self.seen(wish)
        drawn, missing = self._drawn(wish, seen)
        told = (*seen.work.diagnostics, *missing)
        if drawn is not None:
            self.last = drawn
        return nothing(self.path) | {
            "pattern": drawn or (self.last if last else None),
            "current": drawn is not None,
            "problems": problems(told, self.path),
            "stamp": seen.stamp,
            "gone": seen.gone,
            "refused": dict(seen.refused),
            "unknown": list(seen.unknown),
            "made": [
                {"id": one.key, "label": one.label, "group": one.group}
                for one in self.people.found()
            ],
            "for": seen.person,
        }

    def steps(self, wish: Wish, name: str) -> Object | None:
        """The steps of a piece; none if it cannot be drawn or is not there."""
        work = self.seen(wish).work
        if work.pattern is None or name not in work.pattern.pieces:
            return None
        return steps_of(work.program, work.pattern, name)

    def seen(self, wish: Wish) -> Seen:
        """The wish worked out, anew if one of the files it was worked out from has changed."""
        kept = self._kept.pop(wish, None)
        if kept is None or any(mark(path) != was for path, was in kept[0].items()):
            files = NotedFiles(self.path)
            files.note(self.path)
            found = self._worked(wish, files)
            self.follower.follow(files.noted)
            kept = (files.noted, found, [])
        self._kept[wish] = kept
        while len(self._kept) > KEPT:
            del self._kept[next(iter(self._kept))]
        return kept[1]

    def _drawn(self, wish: Wish, seen: Seen) -> Drawn:
        """As the page is told of it, and the allowances that cannot be drawn; worked out once."""
        program, pattern = seen.work.program, seen.work.pattern
        if pattern is None:
            return None, ()
        done = self._kept[wish][2]
        if not done:
            try:
                done.append((contents(program, pattern, seen.made_for, whole=True), ()))
            except PaperError:
                shown = contents(program, pattern, seen.made_for)
                done.append((shown, unfinished(pattern)))
        return done[0]

    def _worked(self, wish: Wish, files: NotedFiles) -> Seen:
        program = load(self.path, files, self._known_programs)
        person = self._person(wish.person)
        known = self._known(program)
        unknown = tuple(name for name, _ in wish.tried if program.sound and name not in known)
        body: Body | None = None
        refused: dict[str, str] = {}
        try:
            body = self._body(person.given, files)
        except Mistake as wrong:
            work = Work(program, None, None, (*program.diagnostics, *wrong.diagnostics))
        else:
            if is_body(program.file):
                said = (_no_pattern(program),) if program.sound else ()
                work = Work(program, None, body, (*program.diagnostics, *said))
            else:
                chosen, taken = self._chosen(wish, program, refused)
                work = worked(program, body, chosen, taken)
        made_for = body.name if body else ""
        if body and person.given.size:
            made_for = f"size {made_for}"
        text = program.file.source.text
        stamp = hashlib.sha256(text.encode()).hexdigest()
        return Seen(
            work, made_for, person.key, refused, unknown, stamp, not os.path.exists(self.path)
        )

    def _person(self, key: str | None) -> Person:
        own = person_given(self.given)
        return next((one for one in self.people.found() if one.key == key), own)

    def _known(self, program: Program) -> set[str]:
        return {*program.symbols.of_role("choice"), *program.symbols.of_role("measure")}

    def _body(self, given: Given, files: NotedFiles) -> Body | None:
        """As `body_of`; a chart that cannot be read is a Mistake too."""
        own = given.body or (chart_path(given.chart) if given.chart else None)
        if own:
            files.note(own)
        try:
            return body_of(given)
        except OSError as problem:
            raise Mistake(Diagnostic("error", "no-file", plain(problem), file=own or "")) from None

    def _chosen(
        self, wish: Wish, program: Program, refused: dict[str, str]
    ) -> tuple[dict[str, Value], dict[str, Quantity]]:
        """What the call and the page set; what cannot be set is left out, and why is noted."""
        chosen: dict[str, Value] = {}
        taken: dict[str, Quantity] = {}
        known = self._known(program)
        for name, written in {**self.given.settings, **dict(wish.tried)}.items():
            if name not in known:
                continue
            try:
                value, measure = settled({name: written}, program)
            except click.UsageError as problem:
                refused[name] = in_words(problem, name, written)
                continue
            chosen.update(value)
            taken.update(measure)
        return chosen, taken


def nothing(path: str) -> Object:
    """An answer without a pattern."""
    return {
        "pattern": None,
        "current": False,
        "problems": [],
        "file": os.path.basename(path),
        "stamp": "",
        "gone": False,
        "refused": {},
        "unknown": [],
        "made": [],
        "for": "",
    }


def in_words(problem: click.UsageError, name: str, written: str) -> str:
    """What a call would be told of a setting, without the words of the call."""
    words = problem.message.removeprefix(f"--set {name}={written}: ")
    return words.replace(f"--set {name}=", "")


def _no_pattern(program: Program) -> Diagnostic:
    return Diagnostic(
        "error",
        "no-pattern",
        f"{program.name} is a body, not a pattern",
        file=program.name,
        help=f"watch a pattern, with --body {program.name}",
    )


def wish_of(asked: Mapping[str, list[str]]) -> Wish:
    """From what stands behind the address: `for=KEY`, and `set NAME=VALUE` for each choice."""
    person = asked.get("for", [None])[-1]
    tried = {
        name.removeprefix("set "): values[-1]
        for name, values in asked.items()
        if name.startswith("set ")
    }
    return Wish(person, tuple(sorted(tried.items())))
