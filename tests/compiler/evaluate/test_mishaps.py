"""Whatever is written: a pattern, or mistakes in plain words. Never anything else.

Programs of the language page with figures changed, lines dropped, doubled and exchanged; and rows
of instructions put together at random, whose every step must also account for its paper.
"""

from __future__ import annotations

import re
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

FOLDER = Path(__file__).parents[2] / "programs"
PROGRAMS = {path.name: path.read_text(encoding="utf-8") for path in sorted(FOLDER.glob("*.oak"))}
BODY = {
    "waist_girth": 720.0,
    "hip_girth": 960.0,
    "waist_to_hip": 205.0,
    "bust_girth": 880.0,
    "neck_girth": 360.0,
    "shoulder_length": 125.0,
    "upper_arm_girth": 300.0,
    "arm_length": 580.0,
}
FIGURES = ("0", "1", "2", "0.5", "0.001", "12", "40", "99", "-3", "1/3", "1000000")
# Words of other trades than the cutter's.
FOREIGN = re.compile(
    r"traceback|exception|token|parser|\btype\b|"
    r"(?-i:\bNone\b)|\bnan\b|\binf\b|index out|float|object|assert",
    re.IGNORECASE,
)


def spoken_plainly(said):
    for one in said:
        for text in (one.message, one.label, one.help, *(label.text for label in one.labels)):
            assert not FOREIGN.search(text), text
            assert "{" not in text, text
        assert one.span is not None or one.file
        # What nobody saw coming is said too, but it should not happen.
        assert one.code != "cannot-be-drawn", one


def spoilt(draw, text):
    """A text with one to three mishaps."""
    for kind in draw(
        st.lists(st.sampled_from(["figure", "drop", "double", "swap"]), min_size=1, max_size=3)
    ):
        lines = text.split("\n")
        at = draw(st.integers(0, len(lines) - 1))
        if kind == "figure":
            found = list(re.finditer(r"\d+(?:\.\d+)?", text))
            if found:
                one = found[draw(st.integers(0, len(found) - 1))]
                text = text[: one.start()] + draw(st.sampled_from(FIGURES)) + text[one.end() :]
            continue
        if kind == "drop":
            del lines[at]
        elif kind == "double":
            lines.insert(at, lines[at])
        else:
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        text = "\n".join(lines)
    return text


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_spoilt_program_is_answered_in_plain_words(board, data):
    text = spoilt(data.draw, PROGRAMS[data.draw(st.sampled_from(sorted(PROGRAMS)))])
    drawn, said = board.result(text, PROGRAMS, **BODY)
    assert drawn is not None or any(one.severity == "error" for one in said)
    spoken_plainly(said)


EDGES = ("waist", "side", "hem", "centre")
TREATMENTS = ("", "as flare", "as pleat", "as box pleat", "as dart", "as gather")


@st.composite
def instructions(draw):
    """Instructions on the panel or the quarter, most of which make sense."""
    lines, cuts, darts = [], [], []
    share = st.floats(0.1, 0.9).map(lambda amount: f"{amount:.2f}")
    amount = st.sampled_from(["0", "0.3", "1", "3", "6", "12", "30"]).map("{} cm".format)
    for number in range(draw(st.integers(2, 8))):
        kind = draw(
            st.sampled_from(["cut", "cut", "dart", "open", "open", "close", "trim", "other"])
        )
        edge, other = draw(st.permutations(EDGES))[:2]
        name = f"n{number}"
        treatment = draw(st.sampled_from(TREATMENTS))
        if kind == "cut":
            shape = draw(st.sampled_from(["to", "curve to"]))
            lines.append(f"curve {name} = on {edge} {draw(share)} {shape} on {other} {draw(share)}")
            cuts.append((name, edge, other))
        elif kind == "dart":
            lines.append(
                f"dart {name} on {edge} at {draw(share)} intake {draw(amount)} "
                f"length {draw(st.sampled_from(['5', '12', '70']))} cm"
            )
            darts.append(name)
        elif kind == "open" and cuts:
            cut, start, end = draw(st.sampled_from(cuts))
            how = draw(
                st.sampled_from(
                    [
                        f"by {draw(amount)} at {end} hinged on {start}",
                        f"by {draw(amount)} at {start} and 1 cm at {end}",
                        f"by {draw(amount)}",
                    ]
                )
            )
            verb = draw(st.sampled_from(["spread", "spread", "overlap"]))
            lines.append(f"{verb} {cut} {how} {treatment if verb == 'spread' else ''}")
        elif kind == "close" and darts:
            dart = draw(st.sampled_from(darts))
            lines.append(f"line {name} = {dart}.point to on {edge} {draw(share)}")
            part = draw(st.sampled_from(["", "by 1/2"]))
            lines.append(f"close {dart} {part} into {name} {treatment}")
            darts.append(name)
        elif kind == "trim" and (cuts or darts):
            fold = draw(st.sampled_from([*darts, *(cut for cut, _, _ in cuts)]))
            lines.append(f"fold-trim {fold} toward {edge}")
        elif kind == "other":
            lines.append(
                draw(
                    st.sampled_from(
                        [
                            "mirror",
                            f"true {edge}",
                            f"true {edge} within 2 cm",
                            f"unfold along {edge} into a{number} and b{number}",
                            f"redraw {edge} = on {edge} 1/4 curve to on {edge} 3/4 bowed up 2 cm",
                            f"notch on {edge} at {draw(share)}",
                            f"lengthen at {cuts[-1][0]} by 2 cm" if cuts else "mirror",
                        ]
                    )
                )
            )
    return lines


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(["panel", "quarter"]), instructions())
def test_random_instructions_account_for_their_paper(board, look, on, lines):
    """Each instruction that can be done is kept, the others are left out."""
    done = []
    for line in lines:
        body = "".join(f"  {one}\n" for one in [*done, line])
        drawn, said = board.result(getattr(board, on) + body)
        spoken_plainly(said)
        if drawn is not None:
            done.append(line)
            piece = next(iter(drawn.pieces.values()))
            look.conserved(piece, since=len(piece.steps) - 1)
            assert {"waist", "side", "hem", "centre"} <= {
                thing.label.name for thing in (*piece.edges, *piece.lines, *piece.openings)
            }
