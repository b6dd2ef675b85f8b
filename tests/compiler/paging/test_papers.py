"""Papers by name: sizes of ISO 216 and of ANSI Y14.1, and what nobody knows."""

from __future__ import annotations

import pytest

from oaktag.compiler.paging import Paging, PagingError, for_projector, on_paper, on_roll, paper_size
from oaktag.compiler.paging.paging import printable

# ISO 216: A0 is one square metre in the ratio of 1 to the root of 2, each next one its half,
# rounded down to whole mm. US sizes in inches.
KNOWN = {
    "A0": (841, 1189),
    "a1": (594, 841),
    "a2": (420, 594),
    "a3": (297, 420),
    "a4": (210, 297),
    "a5": (148, 210),
    "Letter": (8.5 * 25.4, 11 * 25.4),
    "legal": (8.5 * 25.4, 14 * 25.4),
    "tabloid": (11 * 25.4, 17 * 25.4),
    "ANSI C": (17 * 25.4, 22 * 25.4),
    "ansi-e": (34 * 25.4, 44 * 25.4),
    "arch d": (24 * 25.4, 36 * 25.4),
    "Arch_E": (36 * 25.4, 48 * 25.4),
    "420x594mm": (420, 594),
    "420 mm x 594 mm": (420, 594),
    "42 × 59.4 cm": (420, 594),
    "11x17in": (279.4, 431.8),
    "1m x 50cm": (1000, 500),
}


@pytest.mark.parametrize("words", KNOWN)
def test_the_size_of(words: str) -> None:
    assert paper_size(words) == pytest.approx(KNOWN[words])


def test_each_a_size_is_half_of_the_one_before() -> None:
    for number in range(5):
        wide, high = paper_size(f"a{number}")
        assert paper_size(f"a{number + 1}") == (high // 2, wide)


def test_one_page_fits_both_a4_and_letter() -> None:
    wide, high = paper_size("a4-or-letter")
    for paper in ("a4", "letter"):
        across, up = paper_size(paper)
        assert wide <= across
        assert high <= up
    assert printable(on_paper("a4-or-letter")) == (190.0, 254.0)


@pytest.mark.parametrize(
    ("words", "message", "way_out"),
    [
        ("a44", "there is no paper `a44`", "did you mean `a4`?"),
        ("foolscap", "there is no paper `foolscap`", "there are a0, a1"),
        ("420x594", "the paper `420x594` has no unit", "write `420x594mm`"),
        ("0x10mm", "there is no paper of 0x10mm", "up to 5080 mm"),
        ("6m x 1m", "there is no paper of 6m x 1m", "up to 5080 mm"),
        ("", "there is no paper ``", "there are a0, a1"),
        ("-1x2mm", "there is no paper `-1x2mm`", "there are a0, a1"),
    ],
)
def test_a_paper_nobody_knows(words: str, message: str, way_out: str) -> None:
    with pytest.raises(PagingError) as why:
        paper_size(words)
    assert why.value.message == message
    assert way_out in why.value.help


def test_a0_is_a_roll() -> None:
    assert on_paper("a0") == on_roll(841.0).changed(name="A0")
    assert on_paper("841x1189mm").kind == "tiles"


@pytest.mark.parametrize(
    ("paging", "message"),
    [
        (on_paper("a4").changed(margin=105.0), "margins of 105 mm leave nothing of the A4 paper"),
        (on_paper("a4").changed(margin=60.0), "leave 90 mm of the A4 paper, 210 mm wide: the test"),
        (on_paper("a5").changed(overlap=65.0), "an overlap of 65 mm is more than half"),
        (on_paper("a4").changed(margin=-1.0), "cannot be less than nothing"),
        (on_paper("a4").changed(overlap=-1.0), "cannot be less than nothing"),
        (on_roll(15.0), "margins of 10 mm leave nothing of the roll, 15 mm wide"),
        (on_roll(0.0), "leave nothing of the roll"),
        (on_roll(110.0), "the test squares do not fit"),
        (on_paper("letter").changed(margin=110.0, unit="in"), "letter paper, 8 1/2 in wide"),
    ],
)  # fmt: skip
def test_what_leaves_no_page(paging: Paging, message: str) -> None:
    with pytest.raises(PagingError, match=message.replace("(", r"\(")):
        printable(paging)


def test_a_projector_needs_no_paper() -> None:
    assert for_projector().margin == 0
