"""A drawing read from a file: its lines in mm, and whether the file says how large it is."""

from __future__ import annotations

from oaktag.compiler.geometry import Arc, Cubic, Line, Path, Segment
from oaktag.record import Record

MOST_BYTES = 10_000_000
MOST_PARTS = 20_000  # shapes and groups of a drawing, each as often as it is repeated
MOST_SEGMENTS = 5_000  # lines and curves that are traced


class TracingError(Exception):
    """Why a drawing cannot be traced, and the way out.

    lengths are figures in mm that stand as {0}, {1}, … in the message. of_piece: it concerns the
    piece that was asked for, not the file as a whole.
    """

    def __init__(self, message: str, *lengths: float, help: str, of_piece: bool = False) -> None:
        super().__init__(message)
        self.of_piece = of_piece
        self.message = message
        self.lengths = lengths
        self.help = help


class Digitised(Record):
    """What a file of the interchange form says of a piece besides its outline, in mm.

    grain: its ends. notches: on the edge of the cloth, each with its shape and its depth, 0 if that
    is not said. drills: the places of drill holes.
    """

    grain: tuple[complex, complex] | None = None
    notches: tuple[tuple[complex, str, float], ...] = ()
    drills: tuple[complex, ...] = ()


class Drawing(Record):
    """Lines with y upward. scaled: whether the file states its size; if not, a unit is 1 mm."""

    lines: tuple[Path, ...]
    scaled: bool
    marks: Digitised = Digitised()


def read_drawing(name: str, data: bytes, piece: str = "") -> Drawing:
    """Reads an SVG or DXF drawing, told apart by the ending of its name. Raises TracingError.

    piece: which one, of a file that holds several under names.
    """
    if len(data) > MOST_BYTES:
        raise TracingError(
            f"{name} holds {len(data) / 1e6:.0f} MB: at most {MOST_BYTES / 1e6:.0f} MB are traced",
            help="leave out pictures and everything but the piece",
        )
    ending = name.rpartition(".")[2].lower()
    if piece and ending == "svg":
        raise no_names(name)
    if ending == "svg":
        from oaktag.compiler.tracing.svg import read_svg

        drawing = read_svg(name, data)
    elif ending == "dxf":
        from oaktag.compiler.tracing.dxf import read_dxf

        drawing = read_dxf(name, data, piece)
    else:
        raise TracingError(
            f"{name} is neither an SVG nor a DXF file", help="save the drawing as .svg or .dxf"
        )
    count = sum(len(line.segments) for line in drawing.lines)
    check_count(name, count)
    return drawing


def check_count(name: str, count: int) -> None:
    """Raises TracingError for more lines and curves than are traced."""
    if count > MOST_SEGMENTS:
        raise TracingError(
            f"{name} is drawn in {count:,} lines and curves: at most {MOST_SEGMENTS:,} are traced",
            help="leave out everything but the piece, or have the drawing program simplify it",
        )


def no_names(name: str) -> TracingError:
    return TracingError(
        f"the pieces in {name} have no names",
        help="leave out `piece` and its name; only DXF files of the ASTM form name their pieces",
        of_piece=True,
    )


def too_many_parts(name: str) -> TracingError:
    return TracingError(
        f"{name} draws more than {MOST_PARTS:,} things",
        help="leave out everything but the piece",
    )


def enlarged(path: Path, factor: float) -> Path:
    """The path with every length multiplied: a drawing brought to its stated size."""
    segments: list[Segment] = []
    for segment in path.segments:
        if isinstance(segment, Cubic):
            handles = (segment.start, segment.first, segment.second, segment.end)
            segments.append(Cubic(*(handle * factor for handle in handles)))
        elif isinstance(segment, Arc):
            segments.append(Arc(segment.centre * factor, segment.start * factor, segment.sweep))
        else:
            segments.append(Line(segment.start * factor, segment.end * factor))
    return Path(segments)
