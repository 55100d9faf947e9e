"""One SVG document for every picture: its elements, its palette, its words for screen readers.

Dark marks with thick strokes on white, so that a picture can be read in sunlight and printed; shape and words
carry the meaning, colour never does alone.

>>> line(0, 0, 10.04, 5, width=2)
'<line x1="0" y1="0" x2="10" y2="5" stroke="#111111" stroke-width="2"/>'
>>> words(4, 20, "56 & 60", anchor="end")
'<text x="4" y="20" text-anchor="end">56 &amp; 60</text>'
"""

from collections.abc import Iterable
from html import escape

INK = "#111111"
QUIET = "#56635b"
RULE = "#d5d3c6"
PAPER = "#ffffff"
BALL = "#b3261e"
TURF = "#2f6b4a"
TURF_PALE = "#bcd3c3"
SAND = "#b9802f"
CLAY = "#a4432f"
SLATE = "#47617a"
PLUM = "#6d4a73"

_TYPE = (
    "text{font:600 17px system-ui,'Segoe UI',Helvetica,Arial,sans-serif;fill:#111111}"
    ".head{font-size:23px}.small{font-size:14px}.number{font-size:18px}.tiny{font-size:13px}"
    ".middle{text-anchor:middle}.end{text-anchor:end}"
    ".halo{stroke:#ffffff;stroke-width:4px;paint-order:stroke}"
)

Point = tuple[float, float]


def document(title: str, description: str, width: float, height: float, parts: Iterable[str]) -> str:
    """A picture that stands alone: a whole SVG file on white, its lengths in pixels."""
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_plain(width)} {_plain(height)}" '
            f'width="{_plain(width)}" height="{_plain(height)}" role="img" '
            'aria-labelledby="title description">',
            element("title", escape(title, quote=False), id="title"),
            element("desc", escape(description, quote=False), id="description"),
            element("style", _TYPE),
            rect(0, 0, width, height, PAPER),
            *parts,
            "</svg>",
            "",
        ]
    )


def figure(title: str, description: str, width: float, height: float, parts: Iterable[str]) -> str:
    """A chart inside a page; it has no ids to point at, since many may stand on one page."""
    inside = element("title", escape(title, quote=False)) + element("desc", escape(description, quote=False))
    return element(
        "svg",
        inside + "".join(parts),
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        viewBox=f"0 0 {round(width)} {round(height)}",
        font_family="system-ui, Segoe UI, Helvetica, Arial, sans-serif",
        aria_label=title,
    )


def element(name: str, inside: str | None = None, /, **attributes: str | float | None) -> str:
    """An element; ``stroke_width`` is written stroke-width, ``css`` class, and None is left out.

    Numbers are written with up to two decimals. ``inside`` is markup already.
    """
    told = "".join(
        f' {_name(key)}="{escape(value) if isinstance(value, str) else _plain(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{told}/>" if inside is None else f"<{name}{told}>{inside}</{name}>"


def group(parts: Iterable[str], **attributes: str | float | None) -> str:
    """Parts that belong together."""
    return element("g", "".join(parts), **attributes)


def line(
    x1: float,
    y1: float,
    x2: float,
    y2: float,
    stroke: str = INK,
    width: float | None = None,
    **more: str | float | None,
) -> str:
    """A straight line."""
    return element(
        "line", x1=_1(x1), y1=_1(y1), x2=_1(x2), y2=_1(y2), stroke=stroke, stroke_width=width, **more
    )


def polyline(points: Iterable[Point], stroke: str, width: float, **more: str | float | None) -> str:
    """An open line through points, not filled."""
    return element("polyline", points=_points(points), fill="none", stroke=stroke, stroke_width=width, **more)


def polygon(points: Iterable[Point], fill: str, **more: str | float | None) -> str:
    """A filled shape."""
    return element("polygon", points=_points(points), fill=fill, **more)


def rect(x: float, y: float, width: float, height: float, fill: str, **more: str | float | None) -> str:
    """A rectangle from its upper left corner."""
    return element("rect", x=_1(x), y=_1(y), width=_1(width), height=_1(height), fill=fill, **more)


def circle(x: float, y: float, radius: float, fill: str, **more: str | float | None) -> str:
    """A disc, or a ring when ``fill`` is white and ``stroke`` is given."""
    return element("circle", cx=_1(x), cy=_1(y), r=_1(radius), fill=fill, **more)


def path(steps: str, **more: str | float | None) -> str:
    """A path in SVG's own notation; :func:`place` writes its numbers."""
    return element("path", d=steps, **more)


def words(x: float, y: float, text: str, css: str | None = None, **more: str | float | None) -> str:
    """A line of text at its baseline; ``css`` names one or more of the document's classes."""
    return element("text", escape(text, quote=False), x=_1(x), y=_1(y), css=css, **more)


def place(x: float, y: float) -> str:
    """A point in a path."""
    return f"{_plain(_1(x))} {_plain(_1(y))}"


def _name(key: str) -> str:
    named = {"css": "class", "anchor": "text-anchor", "size": "font-size", "viewBox": "viewBox"}
    return named.get(key, key.replace("_", "-"))


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{_plain(_1(x))},{_plain(_1(y))}" for x, y in points)


def _1(pixels: float) -> float:
    """A tenth of a pixel is as fine as anything is drawn."""
    return round(float(pixels), 1)


def _plain(number: float) -> str:
    return f"{round(float(number), 2):g}"
