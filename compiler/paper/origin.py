"""What `from` means: the end at which measuring along an edge or line begins."""

from __future__ import annotations

from oaktag.compiler.paper.chain import Chain
from oaktag.compiler.paper.errors import PaperError
from oaktag.compiler.paper.opening import Opening

ON = 0.05  # mm: an end this near to an edge lies on it


def walked_backwards(chain: Chain, origin: object) -> bool:
    """Whether `from` names the end of the chain rather than its start.

    origin: the edge on which it begins or ends, an end point of it, or none for its start.
    """
    if origin is None:
        return False
    name = chain.label
    ends = (chain.start, chain.end)
    if isinstance(origin, complex):
        near = [abs(end - origin) <= ON for end in ends]
        there = "at that point"
    elif isinstance(origin, Chain):
        near = [origin.path.distance(end) <= ON for end in ends]
        there = f"on `{origin.label}`"
    elif isinstance(origin, Opening):
        near = [origin.first.distance(end) <= ON for end in ends]
        there = f"on `{origin.label}`"
    else:
        raise PaperError(
            "`from` names an edge, a line or a point",
            help=f"`from` names the edge on which `{name}` begins or ends, or an end point of it",
            about="origin",
            code="neither-end",
        )
    if all(near):
        raise PaperError(
            f"both ends of `{name}` lie {there}, so the start is not clear",
            help="measure from a point: `from` and the name of an end point",
            about="origin",
            code="both-ends",
        )
    if not any(near):
        raise PaperError(
            f"neither end of `{name}` lies {there}",
            help=f"`from` names the edge on which `{name}` begins or ends, or an end point of it",
            about="origin",
            code="neither-end",
        )
    return near[1]
