"""The papers that tags are printed on: sheets to cut, and rolls of labels."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SheetSize:
    """One paper and the grid of tags on it; all lengths in mm, width before height.

    A roll has one tag a page. ``name`` and ``about`` are for people.
    """

    id: str
    name: str
    about: str
    page_mm: tuple[float, float]
    tag_mm: tuple[float, float]
    columns: int = 1
    rows: int = 1
    roll: bool = False

    @property
    def per_page(self) -> int:
        """How many tags a page holds."""
        return self.columns * self.rows

    def corner(self, place: int) -> tuple[float, float]:
        """Lower left corner in mm of the tag at ``place``, counted in reading order from 0."""
        row, column = divmod(place, self.columns)
        left = (self.page_mm[0] - self.columns * self.tag_mm[0]) / 2
        bottom = (self.page_mm[1] - self.rows * self.tag_mm[1]) / 2
        return left + column * self.tag_mm[0], bottom + (self.rows - 1 - row) * self.tag_mm[1]


SHEETS: dict[str, SheetSize] = {
    sheet.id: sheet
    for sheet in (
        SheetSize(
            "a4",
            "A4 sheet",
            "10 tags of 99 × 55 mm to cut apart; use waterproof paper or card",
            (210, 297),
            (99, 55),
            columns=2,
            rows=5,
        ),
        SheetSize(
            "letter",
            "Letter sheet",
            "10 tags of 99 × 52 mm to cut apart; use waterproof paper or card",
            (215.9, 279.4),
            (99, 52),
            columns=2,
            rows=5,
        ),
        SheetSize(
            "roll-54x101", "Roll 54 × 101 mm", "one label a tag", (54, 101), (51, 98), roll=True
        ),
        SheetSize(
            "roll-62x100", "Roll 62 × 100 mm", "one label a tag", (62, 100), (59, 97), roll=True
        ),
        SheetSize(
            "roll-102x152",
            "Roll 102 × 152 mm",
            "one large label a tag, to be read from across the shed",
            (102, 152),
            (98, 148),
            roll=True,
        ),
    )
}
