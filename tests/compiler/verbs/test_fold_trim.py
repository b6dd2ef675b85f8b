"""`fold-trim`: folded as it will be sewn, every layer of a fold ends on the finished seam line.

The paper is folded again here, with plain arithmetic on complex numbers: each part of a fold is
reflected in its crease, or carried along with the side it hangs on, and must come to lie on the
line along which the piece is sewn. Of the compiler only points of lines and distances to them are
used.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

EXACT = 1e-6  # mm


# ---------------------------------------------------------------- folding with plain arithmetic


def same(place):
    return place


def after(*moves):
    """The moves one after the other."""

    def move(place):
        for one in moves:
            place = one(place)
        return place

    return move


def carry(a, b, c, d):
    """The turn and shift that lays a on c and b on d."""
    turn = (d - c) / (b - a)
    turn /= abs(turn)
    return lambda place: c + turn * (place - a)


def mirror(a, b):
    along = (b - a) / abs(b - a)
    return lambda place: a + along**2 * (place - a).conjugate()


def halfway(first, second):
    """The first side turned or shifted half the way to the second."""
    turn = (second[1] - second[0]) / (first[1] - first[0])
    turn /= abs(turn)
    if abs(turn - 1) < 1e-12:
        return tuple((a + b) / 2 for a, b in zip(first, second, strict=True))
    centre = (second[0] - turn * first[0]) / (1 - turn)
    return tuple(centre + turn**0.5 * (place - centre) for place in first)


def side_of(place, a, b):
    return ((place - a) / (b - a)).imag


class Fold:
    """A mouth met on the way round: the ends of its two sides, near and far."""

    def __init__(self, opening, run):
        near = abs(run.path.start - opening.first.end) < 1e-6
        first = (opening.first.start, opening.first.end)
        second = (opening.second.start, opening.second.end)
        self.first, self.second = (first, second) if near else (second[::-1], first[::-1])
        self.path = run.path
        # The creases run straight from the inner end of a slash to the mouth.
        self.shut = carry(*self.second, *self.first)
        self.reopen = carry(*self.first, *self.second)
        self.middle = halfway(self.first, self.second)

    def onto_first(self, place):
        """Where a place of the underlay lies when it is pressed under the first side."""
        if side_of(place, *self.middle) * side_of(self.first[1], *self.middle) >= 0:
            return mirror(*self.first)(place)
        return self.shut(place)

    def onto_second(self, place):
        """The same under the second side, which is where it is."""
        if side_of(place, *self.middle) * side_of(self.second[1], *self.middle) >= 0:
            return mirror(*self.second)(place)
        return self.reopen(place)

    def half(self, first):
        """The half of a box or inverted pleat beside one side, as a fold of its own."""
        half = Fold.__new__(Fold)
        half.first, half.second = (self.first, self.middle) if first else (self.middle, self.second)
        half.path = self.path
        half.shut = carry(*half.second, *half.first)
        half.reopen = carry(*half.first, *half.second)
        half.middle = halfway(half.first, half.second)
        return half


def ways(piece, toward):
    """The outline as sewn, and every fold's layers, all brought to where the sewn piece lies.

    toward: `first`, `second` or `both`, by the opening's name, as the outline is walked.
    """
    lie = same
    seam, layers = [], []
    for edge in piece.edges:
        for run in edge.runs:
            if run.role == "seam":
                seam.append((run.path, lie))
                continue
            opening = next(item for item in piece.openings if item.label == run.opening)
            fold = Fold(opening, run)
            beyond = after(fold.shut, lie)
            way = toward[str(run.opening)]
            count = 60
            places = [
                *(run.path.point_at(run.length * k / count) for k in range(count + 1)),
                *(run.path.point_at(at) for at in run.path.corners()),
            ]
            for place in places:
                if way == "first":
                    layers.append((str(run.opening), lie(fold.onto_first(place))))
                elif way == "second":
                    layers.append((str(run.opening), beyond(fold.onto_second(place))))
                elif side_of(place, *fold.middle) * side_of(fold.first[1], *fold.middle) >= 0:
                    layers.append((str(run.opening), lie(fold.half(True).onto_first(place))))
                else:
                    layers.append((str(run.opening), beyond(fold.half(False).onto_second(place))))
            lie = beyond
    return seam, layers


def off_seam(piece, toward):
    """How far any layer of a fold lies from the finished seam line, in mm."""
    seam, layers = ways(piece, toward)
    assert layers
    lines = [_moved(path, lie) for path, lie in seam]
    return max(min(line.nearest(place)[1] for line in lines) for _, place in layers)


def _moved(path, lie):
    """A path where the sewn piece lies: the same line, carried by its two ends."""
    from oaktag.compiler.geometry import carrying

    return path.moved(carrying(path.start, path.end, lie(path.start), lie(path.end)))


# ---------------------------------------------------------------- darts


@pytest.mark.parametrize("way", ["centre", "side", "left", "right"])
def test_a_dart_pressed_to_either_side(board, look, way):
    panel = board.piece(
        f"""
        dart tuck on waist at 15 cm from centre intake 3 cm length 12 cm
        fold-trim tuck toward {way}
        """
    )
    toward = "first" if way in ("centre", "left") else "second"
    assert off_seam(panel, {"tuck": toward}) < EXACT
    look.conserved(panel)
    waist = look.edge(panel, "waist")
    assert waist.sewn == pytest.approx(370, abs=1e-6)
    assert panel.openings[0].trimmed


def test_the_trimmed_mouth_is_pointed_where_the_paper_is_doubled(board, look):
    """On a straight edge, with a dart square to it, both layers run at twice the dart's slant."""
    panel = board.piece(
        """
        dart tuck on waist at 1/2 intake 3 cm length 12 cm
        fold-trim tuck toward centre
        """
    )
    (mouth,) = [run for run in look.edge(panel, "waist").runs if run.role == "intake"]
    (corner,) = mouth.path.corners()
    tip = mouth.path.point_at(corner)
    assert tip.real == pytest.approx(200, abs=1e-9)
    # Half of the dart, 7.125 degrees at its point: a leg of 120.93 mm reflected in the middle.
    leg = abs(15 + 120j)
    assert abs(tip - (200 - 120j)) > leg
    look.conserved(panel)


@settings(max_examples=30, deadline=None)
@given(
    at=st.floats(0.3, 0.7),
    intake=st.floats(0.5, 4),
    length=st.floats(7, 16),
    slant=st.floats(-3, 3),
    way=st.sampled_from(["centre", "side"]),
)
def test_any_dart_on_a_curved_waist(board, look, at, intake, length, slant, way):
    quarter = board.piece(
        f"""
        dart tuck on waist at {at:.4f} from centre intake {intake:.4f} cm
          to on waist {at:.4f} from centre down {length:.4f} cm right {slant:.4f} cm
        fold-trim tuck toward {way}
        """,
        board.quarter,
    )
    toward = "first" if way == "centre" else "second"
    assert off_seam(quarter, {"tuck": toward}) < EXACT
    look.conserved(quarter)


def test_two_darts_side_by_side_each_lie_under_the_sewn_waist(board, look):
    quarter = board.piece(
        """
        repeat i from 1 to 2
          dart tuck[i] on waist at i/3 from centre intake 4 cm length 12 cm
        fold-trim tuck[1..2] toward centre
        """,
        board.quarter.replace("right 21 cm", "right 23 cm"),
    )
    assert off_seam(quarter, {"tuck[1]": "first", "tuck[2]": "first"}) < EXACT
    look.conserved(quarter)


def test_darts_pressed_to_different_sides(board, look):
    quarter = board.piece(
        """
        repeat i from 1 to 2
          dart tuck[i] on waist at i/3 from centre intake 2 cm length 12 cm
        fold-trim tuck[1] toward side
        fold-trim tuck[2] toward centre
        """,
        board.quarter,
    )
    assert off_seam(quarter, {"tuck[1]": "second", "tuck[2]": "first"}) < EXACT
    look.conserved(quarter)


def test_a_dart_whose_folded_paper_reaches_round_the_corner(board):
    """Beside the side seam the folded paper ends on the side, not only on the waist."""
    panel = board.piece(
        """
        dart tuck on waist at 37 cm from centre intake 5 cm length 12 cm
        fold-trim tuck toward side
        """
    )
    assert off_seam(panel, {"tuck": "second"}) < EXACT


def test_darts_of_both_halves_of_an_unfolded_piece(board, look):
    skirt = board.piece("fold-trim right.waist_dart, left.waist_dart toward centre", board.skirt)
    # The outline is walked from the centre: the right dart's first side is nearer to it.
    toward = {"right.waist_dart": "first", "left.waist_dart": "second"}
    assert off_seam(skirt, toward) < EXACT
    look.conserved(skirt)


def test_a_dart_trimmed_before_unfolding_is_trimmed_on_both_halves(board):
    skirt = board.piece(
        """
        dart waist_dart on waist at 1/2 from centre intake 3 cm length 12 cm
        fold-trim waist_dart toward centre
        unfold along centre into right and left
        """,
        board.quarter,
    )
    toward = {"right.waist_dart": "first", "left.waist_dart": "second"}
    assert off_seam(skirt, toward) < EXACT
    assert all(item.trimmed for item in skirt.openings)


def test_beside_the_fold_the_folded_paper_reaches_over_to_the_other_half(board, look):
    skirt = board.piece(
        """
        dart tuck on waist at 25 mm from centre intake 4 cm length 12 cm
        fold-trim tuck toward centre
        unfold along centre into right and left
        """,
        board.quarter,
    )
    # Walked from the hem, so that the centre of the waist lies within the walk.
    at = next(i for i, edge in enumerate(skirt.edges) if str(edge.label) == "left.hem")
    walked = skirt.changed(edges=skirt.edges[at:] + skirt.edges[:at])
    assert off_seam(walked, {"right.tuck": "first", "left.tuck": "second"}) < EXACT
    look.conserved(skirt)


@pytest.mark.parametrize("slant", [-12, -6, 6, 12])
@pytest.mark.parametrize("way", ["up", "down"])
def test_a_slanting_dart_at_the_side(board, look, slant, way):
    panel = board.piece(
        f"""
        dart bust on side at 25 cm from waist intake 4 cm
          to on side 25 cm from waist left 15 cm up {slant} cm
        fold-trim bust toward {way}
        """
    )
    assert off_seam(panel, {"bust": "first" if way == "up" else "second"}) < EXACT
    look.conserved(panel)


# ---------------------------------------------------------------- pleats


@pytest.mark.parametrize(
    ("style", "clause", "toward"),
    [
        ("", "toward centre", "first"),
        ("", "toward side", "second"),
        ("knife", "toward centre", "first"),
        ("knife", "toward right", "second"),
        ("box", "", "both"),
        ("inverted", "", "both"),
    ],
)
@pytest.mark.parametrize(
    "spread", ["by 6 cm at waist hinged on hem", "by 6 cm at waist and 2 cm at hem"]
)
def test_a_pleat_of_any_style(board, look, style, clause, toward, spread):
    """Cut slantwise, so that its underlay is pointed at both ends."""
    panel = board.piece(
        f"""
        line fold_line = on waist 1/2 from centre to on hem 2/5 from centre
        spread fold_line {spread} as {style} pleat
        fold-trim fold_line {clause}
        """
    )
    assert off_seam_at(panel, "waist", toward) < EXACT
    if "and" in spread:
        # Walked from the centre along the waist, and along the hem back to it.
        assert off_seam_at(panel, "hem", OPPOSITE[toward]) < EXACT
    look.conserved(panel)


def off_seam_at(piece, name, way):
    """The same for the only fold on one edge, whose neighbours the folded paper may reach."""
    edge = next(item for item in piece.edges if str(item.label) == name)
    (fold,) = {str(run.opening) for run in edge.runs if run.role == "intake"}
    return off_seam(piece.changed(edges=_rotated(piece, edge)), {fold: way})


OPPOSITE = {"first": "second", "second": "first", "both": "both"}


def _rotated(piece, edge):
    """The edge with its neighbours, which the folded paper may reach."""
    at = next(i for i, item in enumerate(piece.edges) if item is edge)
    before, behind = piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)]
    return (_unfolded(before), edge, _unfolded(behind))


def _unfolded(edge):
    return edge.changed(runs=tuple(run for run in edge.runs if run.role == "seam"))


@pytest.mark.parametrize("style", ["knife", "box"])
def test_a_pleat_open_at_both_ends_is_trimmed_at_both(board, look, style):
    clause = "toward side" if style == "knife" else ""
    quarter = board.piece(
        f"""
        line fold_line = on waist 1/2 from centre to on hem 1/2 from centre
        spread fold_line by 6 cm as {style} pleat
        fold-trim fold_line {clause}
        """,
        board.quarter,
    )
    way = "second" if style == "knife" else "both"
    assert off_seam_at(quarter, "waist", way) < EXACT
    assert off_seam_at(quarter, "hem", OPPOSITE[way]) < EXACT
    for name in ("waist", "hem"):
        (mouth,) = [run for run in look.edge(quarter, name).runs if run.role == "intake"]
        assert mouth.as_drawn == pytest.approx(60, abs=1e-6)
    look.conserved(quarter)


@pytest.mark.parametrize("way", ["down", "up"])
def test_neighbouring_pleats_deeper_than_the_way_between_them(board, look, way):
    """Drapes at a side seam: 11 cm let in, 5 cm apart; each lies under several others."""
    panel = board.piece(
        f"""
        repeat i from 1 to 3
          line drape[i] = on side 15 cm + (i - 1) * 5 cm from waist
            to on centre 20 cm + (i - 1) * 8 cm from waist
        spread drape[1..3] by 11 cm at side hinged on centre as pleat
        fold-trim drape[1..3] toward {way}
        """
    )
    side = "second" if way == "down" else "first"
    assert off_seam(panel, {f"drape[{i}]": side for i in (1, 2, 3)}) < EXACT
    assert look.edge(panel, "side").sewn == pytest.approx(600, abs=1e-6)
    look.conserved(panel)


def test_the_drapes_of_the_ferrywomans_skirt(board, look):
    """Curved slashes: the creases run straight from hinge to mouth, and on them it is exact."""
    skirt = board.piece(
        """
        repeat i from 1 to 3
          curve drape[i] = on right.side 9 cm + (i - 1) * 5 cm from waist
            curve to on left.side 26 cm + (i - 1) * 6 cm from waist
            bowed down 4 cm
        spread drape[1..3] by 4 1/2 in at right.side hinged on left.side as pleat
        fold-trim drape[1..3] toward down
        fold-trim right.waist_dart, left.waist_dart toward centre
        """,
        board.skirt,
    )
    toward = {f"drape[{i}]": "second" for i in (1, 2, 3)}
    toward |= {"right.waist_dart": "first", "left.waist_dart": "second"}
    assert off_seam(skirt, toward) < EXACT
    assert look.edge(skirt, "right.side").sewn == pytest.approx(
        look.edge(skirt, "left.side").sewn, abs=1e-6
    )
    look.conserved(skirt)


@settings(max_examples=25, deadline=None)
@given(
    places=st.lists(st.floats(0.05, 0.95), min_size=1, max_size=4, unique=True),
    depth=st.floats(0.5, 9),
    bow=st.floats(-3, 3),
    way=st.sampled_from(["first", "second"]),
)
def test_any_row_of_drapes(board, look, places, depth, bow, way):
    places = sorted(round(place, 3) for place in places)
    if any(b - a < 0.02 for a, b in pairwise(places)):
        return
    lines = "\n".join(
        f"  curve drape[{i}] = on side {12 + 36 * place:.3f} cm from waist curve to on centre "
        f"{16 + 30 * place:.3f} cm from waist bowed {'up' if bow > 0 else 'down'} {abs(bow):.3f} cm"
        for i, place in enumerate(places, 1)
    )
    panel = board.piece(
        f"spread drape[1..{len(places)}] by {depth:.3f} cm at side hinged on centre as pleat\n"
        f"fold-trim drape[1..{len(places)}] toward {'down' if way == 'second' else 'up'}",
        f"{board.panel}{lines}\n",
    )
    assert off_seam(panel, {f"drape[{i}]": way for i in range(1, len(places) + 1)}) < EXACT
    look.conserved(panel)


def test_a_distance_along_a_trimmed_edge_is_as_sewn(board):
    panel = board.piece(
        """
        dart tuck on waist at 1/2 intake 3 cm length 12 cm
        fold-trim tuck toward centre
        before = on waist 18 cm from centre
        beyond = on waist 20 cm from centre
        """
    )
    at = {point.label.name: point.at for point in panel.points}
    assert at["before"] == pytest.approx(180 + 0j, abs=1e-9)
    assert at["beyond"] == pytest.approx(230 + 0j, abs=1e-9)


def test_a_second_dart_is_measured_on_the_edge_as_drawn(board):
    """A dart drawn beside a trimmed one lies where it would lie beside an untrimmed one."""
    plain = """
        dart one on waist at 1/3 from centre intake 3 cm length 12 cm
        dart two on waist at 2/3 from centre intake 3 cm length 12 cm
        """
    trimmed = plain.replace("dart two", "fold-trim one toward centre\n        dart two")
    first, second = board.piece(plain), board.piece(trimmed)
    assert first.openings[1].point == pytest.approx(second.openings[1].point, abs=1e-9)


# ---------------------------------------------------------------- what cannot be folded


@pytest.mark.parametrize(
    ("lines", "message", "place"),
    [
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\nfold-trim tuck",
            "say to which side `tuck` is pressed",
            "fold-trim tuck",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\nfold-trim tuck toward down",
            "the sides of `tuck` lie neither the one nor the other way from each other",
            "down",
        ),
        (
            "dart tuck on waist at 1/2 intake 3 cm length 12 cm\nfold-trim tuck toward waist",
            "both sides of `tuck` are as far from `waist`",
            "waist",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\n"
            "spread cut by 2 cm at hem hinged on waist\nfold-trim cut toward side",
            "`cut` is neither a dart nor a pleat, so there is nothing to fold",
            "cut",
        ),
        (
            "line cut = on waist 1/2 to on hem 1/2\n"
            "spread cut by 2 cm at hem hinged on waist as gather\nfold-trim cut toward side",
            "`cut` is neither a dart nor a pleat, so there is nothing to fold",
            "cut",
        ),
        (
            "line cut = on waist 15 cm from side to on hem 15 cm from side\n"
            "spread cut by 60 cm as pleat\nfold-trim cut toward side",
            "`cut` folds 30 cm deep, more than there is paper beside it on that side",
            "cut",
        ),
    ],
)
def test_what_cannot_be_folded_is_said_where_it_stands(board, lines, message, place):
    wrong = board.mistake(lines)
    assert wrong.message.startswith(message)
    assert wrong.span.text == place
    assert wrong.help
