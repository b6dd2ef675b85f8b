"""Patterns folded, sewn and measured from what was written of them, without the compiler.

The files are made by the command a cutter uses; everything after that is arithmetic of these tests.
"""

from __future__ import annotations

import itertools
import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from oaktag.compiler.cli import main
from tests.sewing.cloth import (
    Object,
    SewnEdge,
    angle_between,
    edge_of,
    points,
    width_at,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]
STDLIB = ROOT / "stdlib"
WARDROBE = ("ferry/ferry", "harbour/coat", "lamplighter/jacket", "lantern/skirt")
GARMENTS = ("skirts/straight", "skirts/gored", "trousers/basic", "bodices/basic", "sleeves/set_in")
SIZES = ("1", "3", "5", "7", "9", "12")
TOLERANCE = 1.0  # mm: the language page's, for seams that are not eased
FLAT = 0.05  # mm: the drawing is flattened to 0.01 mm


def built(tmp_path: Path, file: Path, *more: str) -> Object:
    done = CliRunner().invoke(
        main, ["build", str(file), "-o", str(tmp_path), "--to", "json", *more]
    )
    assert done.exit_code == 0, done.output
    (written,) = tmp_path.glob("*.json")
    data: Object = json.loads(written.read_text(encoding="utf-8"))
    written.unlink()
    return data


def wardrobe(tmp_path: Path) -> Iterator[tuple[str, Object]]:
    for name in WARDROBE:
        yield name, built(tmp_path, ROOT / "examples" / f"{name}.oak")
    for name, size in itertools.product(GARMENTS, SIZES):
        chart = ("--chart", "en13402_women", "--size", size)
        yield f"{name} {size}", built(tmp_path, STDLIB / f"{name}.oak", *chart)


def pieces(data: Object) -> dict[str, Object]:
    return {piece["name"]: piece for piece in data["pieces"]}


def sewn(piece: Object, name: str) -> SewnEdge:
    edge = edge_of(piece, name)
    assert edge is not None, name
    return SewnEdge(piece, edge)


@pytest.fixture(scope="module")
def all_made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Object]:
    return dict(wardrobe(tmp_path_factory.mktemp("made")))


def test_darts_and_pleats_close_and_their_paper_lies_in_the_seam(
    all_made: dict[str, Object], record_property: pytest.RecordProperty
) -> None:
    folded = 0
    for name, data in all_made.items():
        for piece in data["pieces"]:
            for edge in piece["edges"]:
                line = SewnEdge(piece, edge)
                assert line.length == pytest.approx(edge["sewn"], abs=FLAT), (name, edge["name"])
                for fold in line.folds:
                    where = (name, piece["name"], fold.name)
                    assert fold.gap < FLAT, where
                    if fold.trimmed and line.line:  # an inverted pleat may be an edge by itself
                        assert line.off_the_seam(fold) < FLAT, where
                    folded += 1
    assert folded > 80
    record_property("counted: darts and pleats folded again without the compiler", folded)


def test_a_dart_that_is_not_trimmed_falls_short_of_its_seam(tmp_path: Path) -> None:
    """What these tests measure is there to be seen: without trimming they fail."""
    text = (STDLIB / "skirts" / "straight.oak").read_text(encoding="utf-8")
    plain = tmp_path / "plain.oak"
    plain.write_text(text.replace("fold-trim waist_dart ", "# ").replace("fold-trim", "#"))
    data = built(tmp_path, plain, "--chart", "en13402_women", "--size", "5")
    line = sewn(pieces(data)["front"], "waist")
    (fold,) = line.folds
    assert not fold.trimmed
    assert line.off_the_seam(fold) > 10 * FLAT


def test_an_edge_whose_folds_are_closed_is_one_line_without_gaps(
    all_made: dict[str, Object],
) -> None:
    for name, data in all_made.items():
        for piece in data["pieces"]:
            for edge in piece["edges"]:
                line = SewnEdge(piece, edge)
                if line.folds and len(line.folds) == sum(
                    run["role"] == "intake" for run in edge["runs"]
                ):
                    assert abs(line.jump) < FLAT * len(line.folds), (name, edge["name"])


def test_the_two_sides_of_every_seam_are_as_long_as_they_must_be(
    all_made: dict[str, Object], record_property: pytest.RecordProperty
) -> None:
    walked = 0
    for name, data in all_made.items():
        made = pieces(data)
        for seam in data["seams"]:
            sides = [
                [edge_of(made[link["piece"]], link["edge"]) for link in seam[end]]
                if all(link["piece"] in made for link in seam[end])
                else [None]
                for end in ("first", "second")
            ]
            if any(edge is None for side in sides for edge in side) or seam["gathering"]:
                continue  # a section, or a piece that another file draws
            first, second = (
                sum(sewn(made[link["piece"]], link["edge"]).length for link in seam[end])
                for end in ("first", "second")
            )
            where = (name, seam["line"], first, second)
            assert abs(second - first) == pytest.approx(seam["easing"], abs=TOLERANCE), where
            walked += 1
    assert walked > 50
    record_property("counted: seams walked again without the compiler", walked)


def test_notches_of_a_seam_of_two_edges_meet(
    all_made: dict[str, Object], record_property: pytest.RecordProperty
) -> None:
    met = 0
    for name, data in all_made.items():
        made = pieces(data)
        for seam in data["seams"]:
            links = [*seam["first"], *seam["second"]]
            if len(links) != 2 or seam["easing"] or seam["gathering"]:
                continue
            if links[0] == links[1] or any(
                edge_of(made[link["piece"]], link["edge"]) is None for link in links
            ):
                continue
            found = []
            for link in links:
                line = sewn(made[link["piece"]], link["edge"])
                places = [
                    line.place_of(complex(*mark["at"]))
                    for mark in made[link["piece"]]["marks"]
                    if mark["kind"] == "notch" and mark["edge"] == link["edge"]
                ]
                found.append((sorted(places), line.length))
            (one, length), (other, _) = found
            if not one or len(one) != len(other):
                continue
            turned = sorted(length - place for place in other)
            offs = [
                max(abs(a - b) for a, b in zip(one, way, strict=True)) for way in (other, turned)
            ]
            assert min(offs) < TOLERANCE, (name, seam["line"], one, other)
            met += len(one)
    assert met > 3
    record_property("counted: pairs of notches met again without the compiler", met)


# ------------------------------------------------ garments, measured on the body they are made for


@pytest.mark.parametrize("size", SIZES)
def test_a_sewn_straight_skirt_goes_round_waist_and_hips(tmp_path: Path, size: str) -> None:
    chart = ("--chart", "en13402_women", "--size", size)
    data = built(tmp_path, STDLIB / "skirts" / "straight.oak", *chart)
    body, made = data["measures"], pieces(data)
    waist = 2 * (sewn(made["front"], "waist").length + sewn(made["back"], "waist").length)
    assert waist == pytest.approx(body["waist_girth"] + data["choices"]["waist_ease"], abs=0.2)
    # A finger's breadth below the hip line the sides hang straight and all darts have ended.
    low = -body["waist_to_hip"] - 10
    hips = 2 * sum(width_at(points(made[name]["outline"]), low) for name in ("front", "back"))
    assert hips == pytest.approx(body["hip_girth"] + data["choices"]["hip_ease"], abs=0.2)


@pytest.mark.parametrize("size", SIZES)
def test_sewn_trousers_have_one_centimetre_of_ease_at_the_waist(tmp_path: Path, size: str) -> None:
    """The figure that "English for Clothing" states of its block."""
    chart = ("--chart", "en13402_women", "--size", size)
    data = built(tmp_path, STDLIB / "trousers" / "basic.oak", *chart)
    made = pieces(data)
    waist = 2 * (sewn(made["front"], "waist").length + sewn(made["back"], "waist").length)
    assert waist == pytest.approx(data["measures"]["waist_girth"] + 10, abs=0.2)


@pytest.mark.parametrize("size", SIZES)
def test_a_sewn_sleeve_goes_round_the_arm(tmp_path: Path, size: str) -> None:
    chart = ("--chart", "en13402_women", "--size", size)
    data = built(tmp_path, STDLIB / "sleeves" / "set_in.oak", *chart)
    sleeve = pieces(data)["sleeve"]
    cap = _runs(sleeve, "cap")
    arm = data["measures"]["upper_arm_girth"] + data["choices"]["arm_ease"]
    assert abs(cap[-1][-1] - cap[0][0]) == pytest.approx(arm, abs=FLAT)


JOINTS = (
    ("skirts/straight", ("front", "waist", "side"), ("back", "waist", "side")),
    ("trousers/basic", ("front", "waist", "side"), ("back", "waist", "side")),
    ("bodices/basic", ("front", "side", "waist"), ("back", "side", "waist")),
    ("bodices/basic", ("front", "shoulder", "armhole"), ("back", "shoulder", "armhole")),
)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("joint", JOINTS, ids=lambda joint: joint[0])
def test_edges_flow_over_the_seam_that_joins_them(
    tmp_path: Path, joint: tuple[str, tuple[str, ...], tuple[str, ...]], size: str
) -> None:
    """Two corners that meet at a seam add to a straight line; within 2 degrees, no source."""
    name, *corners = joint
    chart = ("--chart", "en13402_women", "--size", size)
    made = pieces(built(tmp_path, STDLIB / f"{name}.oak", *chart))
    turned = 0.0
    for piece, one, other in corners:
        first, second = (_runs(made[piece], edge) for edge in (one, other))
        turned += 180 - abs(angle_between(first[-1], second[0]))
    assert turned == pytest.approx(180, abs=2)


def _runs(piece: Object, name: str) -> list[list[complex]]:
    edge = edge_of(piece, name)
    assert edge is not None
    return [points(run["points"]) for run in edge["runs"]]
