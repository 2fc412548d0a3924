"""Draw the app's icons: a buff card tag with two clipped corners, a punched hole and its string.

Run it from `pwa/`: `python tooling/draw_icons.py`. The pictures are kept in `public/icons`.
"""

from __future__ import annotations

import math
from pathlib import Path

from PIL import Image, ImageDraw

OUT = Path(__file__).parents[1] / "public" / "icons"
INK, CARD, BUFF, VERDIGRIS = "#1B2730", "#FFFCF5", "#E3CC98", "#1A5045"

# On a square of 100: the tag upright, clipped corners and hole at the top.
TAG = [(30, 12), (70, 12), (82, 26), (82, 90), (18, 90), (18, 26)]
HOLE, EYELET_R, HOLE_R = (50, 28), 8.6, 4.6


def curve(*points: tuple[float, float]) -> list[tuple[float, float]]:
    """A smooth line from four control points, as 25 points."""
    steps = [step / 24 for step in range(25)]
    weights = [((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3) for t in steps]
    return [
        (
            round(sum(w * point[0] for w, point in zip(row, points, strict=True)), 2),
            round(sum(w * point[1] for w, point in zip(row, points, strict=True)), 2),
        )
        for row in weights
    ]


STRING = curve((50, 28), (52, 8), (72, 0), (92, 10))
# A hull from the side with its mast standing: sheer, transom, keel, mast, forestay.
HULL = [
    *curve((27, 64), (42, 70), (58, 70), (74, 66)),
    *curve((74, 66), (73, 72), (71, 77), (68, 80)),
    *curve((68, 80), (54, 83), (33, 80), (27, 64)),
    (48, 44),
    (48, 67.5),
]


def picture(size: int, *, inset: float, ground: str | None) -> Image.Image:
    """The icon of ``size`` pixels; ``inset`` (0 to 0.4) is the free share at each edge."""
    fine = size * 8
    image = Image.new("RGBA", (fine, fine), ground or (0, 0, 0, 0))
    draw = ImageDraw.Draw(image)
    span = fine * (1 - 2 * inset)

    def at(point: tuple[float, float]) -> tuple[float, float]:
        return (fine * inset + point[0] / 100 * span, fine * inset + point[1] / 100 * span)

    stroke = max(1, round(span * 0.04))
    line(draw, [at(point) for point in STRING], stroke * 0.8, INK)
    draw.polygon([at(point) for point in TAG], fill=BUFF)
    line(draw, [at(point) for point in [*TAG, TAG[0], TAG[1]]], stroke, INK)
    for radius, colour in ((EYELET_R, VERDIGRIS), (HOLE_R, ground or CARD)):
        x, y = at(HOLE)
        r = radius / 100 * span
        draw.ellipse((x - r, y - r, x + r, y + r), fill=colour)
    line(draw, [at(point) for point in STRING], stroke * 0.8, INK)
    line(draw, [at(point) for point in HULL], stroke, INK)
    return image.resize((size, size), Image.Resampling.LANCZOS)


def line(
    draw: ImageDraw.ImageDraw, points: list[tuple[float, float]], width: float, colour: str
) -> None:
    """A line with round joins and ends."""
    draw.line(points, fill=colour, width=round(width), joint="curve")
    r = math.floor(width / 2)
    for x, y in points:
        draw.ellipse((x - r, y - r, x + r, y + r), fill=colour)


def svg() -> str:
    """The same drawing as text, for browsers that take it."""
    path = "M" + "L".join(f"{x} {y}" for x, y in TAG) + "Z"
    string = "M" + "L".join(f"{x} {y}" for x, y in STRING)
    hull = "M" + "L".join(f"{x} {y}" for x, y in HULL)
    x, y = HOLE
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" fill="none" '
        f'stroke="{INK}" stroke-width="4" stroke-linejoin="round" stroke-linecap="round">'
        f'<path d="{path}" fill="{BUFF}"/>'
        f'<circle cx="{x}" cy="{y}" r="{EYELET_R}" fill="{VERDIGRIS}" stroke="none"/>'
        f'<circle cx="{x}" cy="{y}" r="{HOLE_R}" fill="{CARD}" stroke="none"/>'
        f'<path d="{string}" stroke-width="3"/><path d="{hull}"/></svg>\n'
    )


def main() -> None:
    """Write all icons."""
    OUT.mkdir(parents=True, exist_ok=True)
    (OUT / "tag.svg").write_text(svg(), encoding="utf-8")
    save(picture(192, inset=0.02, ground=None), "any-192.png")
    save(picture(512, inset=0.02, ground=None), "any-512.png")
    # A launcher may cut away all but the middle 80 %.
    save(picture(512, inset=0.2, ground=CARD), "maskable-512.png")
    save(picture(180, inset=0.1, ground=CARD).convert("RGB"), "apple-touch-180.png")


def save(drawn: Image.Image, name: str) -> None:
    """In 96 colours, which no eye tells from all: a phone on a bad line loads them too."""
    few = drawn.quantize(96, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    few.save(OUT / name, optimize=True)


if __name__ == "__main__":
    main()
