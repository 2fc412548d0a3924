"""What the camera of a test phone sees: a tag cut out of a printed sheet, lying on a bench.

Chromium plays a file of JPEG pictures, back to back, in place of a camera.
"""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

import zxingcpp
from PIL import Image

DOTS_PER_INCH = 200
VIEW = (1280, 960)
BENCH = (118, 104, 88)


def print_pages(pdf: bytes, folder: Path) -> list[Image.Image]:
    """The pages as pdftoppm, which shares no code with the printer, renders them."""
    folder.mkdir(parents=True, exist_ok=True)
    source = folder / "sheet.pdf"
    source.write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-png", str(source), str(folder / "page")],
        check=True,
    )
    return [Image.open(path).convert("RGB") for path in sorted(folder.glob("page*.png"))]


def cut_out(pages: list[Image.Image], code: str) -> Image.Image:
    """The tag with this code, cut along its edge as with scissors, both symbols on it."""
    for page in pages:
        corners = [
            (point.x, point.y)
            for found in zxingcpp.read_barcodes(page)
            if found.text.endswith(f"/T/{code}")
            for point in (
                found.position.top_left,
                found.position.top_right,
                found.position.bottom_right,
                found.position.bottom_left,
            )
        ]
        if corners:
            margin = round(4 * DOTS_PER_INCH / 25.4)
            xs, ys = [x for x, _ in corners], [y for _, y in corners]
            box = (min(xs) - margin, min(ys) - margin, max(xs) + margin, max(ys) + margin)
            return page.crop(box)
    raise AssertionError(f"no page shows the tag {code}")


def film(tag: Image.Image, path: Path, frames: int = 12) -> Path:
    """A film of the tag held a little askew and moving a little, as a gloved hand does."""
    tag = tag.convert("RGBA")
    scale = 0.8 * VIEW[0] / tag.width
    tag = tag.resize((round(tag.width * scale), round(tag.height * scale)))
    with path.open("wb") as out:
        for number in range(frames):
            picture = Image.new("RGB", VIEW, BENCH)
            held = tag.rotate(3 + number % 4, expand=True, resample=Image.Resampling.BICUBIC)
            left = (VIEW[0] - held.width) // 2 + number % 5
            top = (VIEW[1] - held.height) // 2 - number % 3
            picture.paste(held, (left, top), held)
            frame = io.BytesIO()
            picture.save(frame, "JPEG", quality=85)
            out.write(frame.getvalue())
    return path
