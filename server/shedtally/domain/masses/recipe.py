"""How the mass of an item follows from its kind, material, form and size, best way first.

`ways_of` answers with a row of ways; the first whose measure says anything gives the mass. The row
depends on few fields, so items of one kind and size share it, and with it the origin of the mass.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, cast

from shedtally.domain.lists import Basis
from shedtally.domain.masses import forms
from shedtally.domain.masses.estimate import Cause, Origin
from shedtally.domain.masses.forms import Measure
from shedtally.domain.masses.section import OutOfRange, density_cause, factors
from shedtally.domain.measures.reading import Size, parse_size
from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.records import Item
from shedtally.domain.records.words import Form
from shedtally.domain.rulebook import Kind, Material, Rules, Section, Three

USUAL_VOLTAGE_V = 12.0
BOXES: tuple[Form, ...] = ("plate", "flat bar", "board")
FORM_OF_SECTION: dict[Section, Form] = {
    "hose": "hose",
    "pipe": "pipe",
    "cable": "cable",
    "bar": "round bar",
}
SECTION_OF_FORM: dict[Form, Section] = {"hose": "hose", "pipe": "pipe", "cable": "cable"}


class Way(NamedTuple):
    """What is measured, kilograms for one unit of it, and where the mass then comes from."""

    measure: Measure
    kg_per_unit: float
    origin: Origin


@dataclass(frozen=True, slots=True)
class Subject:
    """What a row of ways depends on; sizes are those of the item that asks."""

    item: Item
    kind: Kind | None
    material: Material | None
    form: Form | None
    rules: Rules

    @property
    def section(self) -> Section:
        """The section of a run, '' for what is none."""
        if self.form in SECTION_OF_FORM:
            return SECTION_OF_FORM[self.form]
        return self.kind.section if self.kind and not self.item.form else ""


def ways_of(item: Item, rules: Rules) -> tuple[Way, ...]:
    """Every way to a mass for items like this one, the last of which always gives one.

    Source: densities in rules/materials.toml, sections in rules/sizes.toml, guesses in
    rules/kinds/, shares each way in rules/trust.toml; each row names its own.
    """
    about = subject(item, rules)
    found = [*_by_sizes(about)] if about.material else []
    return (*found, by_kind(about.kind, rules))


def subject(item: Item, rules: Rules) -> Subject:
    """An item with its kind, material and form."""
    kind = rules.kinds.get(item.kind or "")
    return Subject(item, kind, material_of(item, kind, rules), form_of(item, kind), rules)


def form_of(item: Item, kind: Kind | None) -> Form | None:
    """The form as written on the item, else that of its kind."""
    if item.form or kind is None:
        return item.form
    return cast("Form", kind.form) if kind.form else FORM_OF_SECTION.get(kind.section)


def material_of(item: Item, kind: Kind | None, rules: Rules) -> Material | None:
    """The material of an item: as written on it (id or name), else that of its kind."""
    if item.material:
        return material_called(item.material, rules)
    return rules.materials.get(kind.material) if kind else None


def material_called(text: str | None, rules: Rules) -> Material | None:
    """The material of this id or name; None where there is none."""
    written = (text or "").strip().lower()
    by_name = (row for row in rules.materials.values() if row.name.lower() == written)
    return rules.materials.get(written) or next(by_name, None)


@functools.lru_cache(maxsize=4096)
def readable_size(text: str | None) -> Size | None:
    """The size, or None where there is none or it can't be read."""
    if not text:
        return None
    try:
        return parse_size(text)
    except Unreadable:
        return None


def diameter_of(item: Item) -> float | None:
    """The diameter as measured, else the size where that is a length, in mm; None if neither."""
    if item.diameter_mm:
        return item.diameter_mm
    size = readable_size(item.size)
    return size.mm if size and size.kind == "length" else None


def cause(name: str, value: Three) -> Cause:
    """How far a value may be off, as shares of it."""
    if not value.likely:
        return Cause(name, 0.0, 0.0)
    return Cause(name, 1 - value.low / value.likely, value.high / value.likely - 1)


def by_kind(kind: Kind | None, rules: Rules) -> Way:
    """What things of this kind weigh; the wide guess where nobody knows the kind."""
    if kind is None:
        guess, about = rules.nothing_known, "Guessed: neither its kind nor its sizes are known"
        name, source = "kind/unknown", "estimate"
    else:
        guess, about = kind.mass, f"Guessed by its kind, {kind.name.lower()}"
        name, source = f"kind/{kind.id}", kind.mass_source
    three = Three(guess.low, guess.likely, guess.high)
    why = f"{about}: {guess.low:g} to {guess.high:g} kg a piece ({_titles(rules, source)})."
    return Way(
        forms.one, guess.likely, Origin("guessed", why, (cause(name, three),), sources=(source,))
    )


def _by_sizes(about: Subject) -> Iterator[Way]:
    if about.form == "cored panel":
        yield from _cored(about)
    elif about.section:
        yield from _run(about)
    elif about.form:
        yield from _solid(about, about.form)
    elif about.material and about.material.kg_per_wh:
        yield from _battery(about, about.material, about.material.kg_per_wh)
    elif about.material and about.material.liquid:
        yield from _product(about, forms.litres, 1e-3, "its litres")
    else:
        yield from _product(about, forms.box_m3, 1.0, "length, width and thickness")


def _solid(about: Subject, form: Form) -> Iterator[Way]:
    diameter = diameter_of(about.item)
    if form in BOXES:
        yield from _product(about, forms.box_m3, 1.0, "length, width and thickness")
    elif form == "tank shell":
        yield from _product(about, forms.shell_m3, 1.0, "six plates by the outside and the wall")
    elif form == "round bar" and diameter:
        yield from _product(about, forms.round_m3(diameter), 1.0, "diameter and length")
    elif form == "cylinder" and diameter:
        yield from _product(about, forms.cylinder_m3(diameter), 1.0, "diameter, length and wall")


def _product(about: Subject, measure: Measure, per: float, said: str) -> Iterator[Way]:
    """A measured volume times a density."""
    material = about.material
    if material is None or material.density is None:
        return
    density = cause(density_cause(material), material.density)
    why = (
        f"Calculated from {said} and the density of {material.name.lower()}, "
        f"{material.density.likely:g} kg/m3 ({_titles(about.rules, *material.sources)})."
    )
    origin = Origin("calculated", why, (density, _tape(about.rules)), sources=material.sources)
    yield Way(measure, material.density.likely * per, origin)


def _run(about: Subject) -> Iterator[Way]:
    """A length of hose, pipe, cable, rope, wire, chain or shaft."""
    item, material, rules = about.item, about.material, about.rules
    diameter, size = diameter_of(item), readable_size(item.size)
    if about.section == "pipe" and diameter:
        yield from _product(about, forms.tube_m3(diameter), 1.0, "diameter, wall and length")
    if about.section == "hose" and size and size.mm and (item.diameter_mm or 0) > size.mm:
        of_hose = forms.hose_m3(size.mm, item.diameter_mm or 0.0)
        yield from _product(about, of_hose, 1.0, "bore, outside and length")
    if size is None and diameter and about.section != "hose":
        size = Size("length", diameter, None, f"{diameter:g} mm")
    if size is None or material is None:
        return
    try:
        parts = factors(about.section, size, material, 0.0, rules.sizes)
    except OutOfRange:
        return
    rate = 1.0
    for _, factor in parts:
        rate *= factor.likely
    causes = (*(cause(name, factor) for name, factor in parts if name != "tape"), _tape(rules))
    sources = (*rules.sizes.sources.get(about.section, ()), *_density_sources(about, material))
    why = (
        f"Calculated from its length and {size.shown} {about.section}, {rate:.3g} kg/m "
        f"({_titles(rules, *sources)})."
    )
    measure = forms.length_of_usual_wall_m if about.section == "pipe" else forms.length_m
    yield Way(measure, rate, Origin("calculated", why, causes, sources=sources))


def _density_sources(about: Subject, material: Material) -> tuple[str, ...]:
    return () if about.section in ("cable", "chain") else material.sources


def _battery(about: Subject, material: Material, per: Three) -> Iterator[Way]:
    """By its energy; a voltage that nobody wrote down is taken for 12 V, and is then a guess."""
    name = f"battery/{material.id}"
    ways: tuple[tuple[Measure, float, str, Basis], ...] = (
        (forms.watt_hours, 1.0, "its voltage and capacity", "calculated"),
        (forms.amp_hours, USUAL_VOLTAGE_V, "its capacity, taken for 12 V,", "guessed"),
    )
    titles = _titles(about.rules, *material.sources)
    for measure, factor, said, basis in ways:
        verb = "Calculated" if basis == "calculated" else "Guessed"
        why = f"{verb} from {said} as {material.name.lower()}, {per.likely:g} kg/Wh ({titles})."
        origin = Origin(basis, why, (cause(name, per),), sources=material.sources)
        yield Way(measure, per.likely * factor, origin)


def _cored(about: Subject) -> Iterator[Way]:
    """Two skins and a core, each with its own density: the shares go by what each weighs."""
    item, skin = about.item, about.material
    core = material_called(item.core_material, about.rules)
    if skin is None or core is None or skin.density is None or core.density is None:
        return
    thickness, depth = item.thickness_mm, item.core_mm
    if not thickness or depth is None or depth > thickness:
        return
    skins_kg, core_kg = (thickness - depth) * skin.density.likely, depth * core.density.likely
    whole = skins_kg + core_kg
    causes = (
        _part_of(cause(density_cause(skin), skin.density), skins_kg / whole),
        _part_of(cause(density_cause(core), core.density), core_kg / whole),
        _tape(about.rules),
    )
    sources = tuple(dict.fromkeys((*skin.sources, *core.sources)))
    why = (
        f"Calculated from two skins of {skin.name.lower()} and a core of {core.name.lower()} "
        f"({_titles(about.rules, *sources)})."
    )
    measure = forms.cored_kg(skin.density.likely, core.density.likely)
    yield Way(measure, 1.0, Origin("calculated", why, causes, sources=sources))


def _part_of(of: Cause, share: float) -> Cause:
    return Cause(of.name, of.down * share, of.up * share)


def _tape(rules: Rules) -> Cause:
    share = rules.trust["measured sizes"]
    return Cause("tape", share, share)


def _titles(rules: Rules, *keys: str) -> str:
    return "; ".join(
        dict.fromkeys(rules.sources[key].title for key in keys if key in rules.sources)
    )
