"""Looking at what was printed: pages as pictures, symbols read by an independent decoder."""

import shutil
import subprocess
from types import SimpleNamespace

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from conftest import close
from shedtally.app import create_app
from shedtally.settings import Settings
from shedtally.usecases import demo_source, load_demo

MM_PER_INCH = 25.4


class Printed:
    """A PDF seen from outside: rendered by Poppler, measured by PDFium, read by zxing-cpp."""

    def __init__(self, pdf, folder):
        self.pdf = pdf
        self._folder = folder

    def pages(self, dpi=200):
        file = self._folder / "printed.pdf"
        file.write_bytes(self.pdf)
        command = [shutil.which("pdftoppm"), "-r", str(dpi), "-png", str(file)]
        subprocess.run([*command, str(self._folder / f"page-{dpi}")], check=True)
        return [Image.open(path) for path in sorted(self._folder.glob(f"page-{dpi}-*.png"))]

    def symbols(self, dpi=200):
        """What can be read on each page: text, level, and the dark square in mm from the top."""
        return [
            [_symbol(found, dpi) for found in zxingcpp.read_barcodes(picture.convert("L"))]
            for picture in self.pages(dpi)
        ]

    def signs(self):
        """Every printed sign of each page with its box (left, bottom, right, top) in mm."""
        document = pypdfium2.PdfDocument(self.pdf)
        found = []
        for page in document:
            text = page.get_textpage()
            signs = []
            for at in range(text.count_chars()):
                sign = text.get_text_range(at, 1)
                if sign.strip():
                    box = text.get_charbox(at)
                    signs.append((sign, tuple(edge / 72 * MM_PER_INCH for edge in box)))
            found.append(signs)
        return found

    def text(self):
        document = pypdfium2.PdfDocument(self.pdf)
        return [page.get_textpage().get_text_range() for page in document]


def _symbol(found, dpi):
    points = found.position
    corners = [points.top_left, points.top_right, points.bottom_right, points.bottom_left]
    xs = [corner.x / dpi * MM_PER_INCH for corner in corners]
    ys = [corner.y / dpi * MM_PER_INCH for corner in corners]
    return SimpleNamespace(
        text=found.text, level=found.ec_level, left=min(xs), right=max(xs), top=min(ys),
        bottom=max(ys),
    )  # fmt: skip


def ink_rows_mm(picture, box, dpi):
    """Heights in mm of the runs of inked rows in ``box`` (left, top, right, bottom in mm)."""
    left, top, right, bottom = (round(edge / MM_PER_INCH * dpi) for edge in box)
    inked = (np.asarray(picture.convert("L"))[top:bottom, left:right] < 128).any(axis=1)
    edges = np.flatnonzero(np.diff(np.concatenate(([0], inked.astype(int), [0]))))
    return [
        (stop - start) / dpi * MM_PER_INCH
        for start, stop in zip(edges[::2], edges[1::2], strict=True)
    ]


@pytest.fixture(scope="session")
def demo_boat(tmp_path_factory):
    """The records of the demo boat."""
    folder = tmp_path_factory.mktemp("demo") / "data"
    app = create_app(Settings(data_dir=folder, keep_free_bytes=0))
    with app.app_context(), pytest.MonkeyPatch.context() as patch:
        # No paper of it looks into a picture, and decoding them is most of the time.
        patch.setattr(load_demo, "keep_photo", lambda *_words, **_named: None)
        shed = app.extensions["shedtally"]
        loaded = load_demo.load(shed, demo_source.demo_source())
        with shed.reading() as uow:
            records = uow.records(loaded.boat).read_boat()
    close(app)
    return records


@pytest.fixture
def printed(tmp_path):
    return lambda pdf: Printed(pdf, tmp_path)


@pytest.fixture
def ink_rows():
    return ink_rows_mm
