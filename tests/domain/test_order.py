"""The order: prices, states, sums by currency, and what is said where something is missing."""

import pytest

from shedtally.domain.buying.new_parts import buying, new_parts, state_of
from shedtally.domain.buying.order import order_list
from shedtally.domain.records.renewal import Purchase
from shedtally.domain.renewals.lines import renewals

HOSE = {"kind": "hose-raw-water", "size": "19 mm", "length_mm": 1000}
COCK = {"kind": "seacock", "size": "1 1/2 in", "thread": "G 1 1/2", "fate": "renew"}
EUR = {"currency": "EUR"}


@pytest.fixture
def line_of(items, rules):
    """The id of the only line that items like this one stand on."""
    return lambda **values: renewals(items(it=values), rules).lines[0].id


@pytest.fixture
def ordered(items, rules):
    return lambda *rows, **by_key: order_list(items(*rows, **by_key), rules)


@pytest.fixture
def cock(line_of):
    """The line of seacocks with whatever else was written, two of them to buy."""
    line = line_of(**COCK)

    def rows(*prices, **purchase):
        found = [("price", f"p{n}", {"spec": line, **row}) for n, row in enumerate(prices)]
        return [*found, ("purchase", line, purchase)] if purchase else found

    return rows


def only(order):
    (line,) = order.lines
    return line


def test_pieces_cost_what_each_costs_by_the_cheapest_offer(ordered, cock):
    rows = cock({"amount": 84.0, **EUR, "per": "each"}, {"amount": 79.5, **EUR, "supplier": "B"})
    order = ordered(*rows, a={**COCK, "count": 3}, b=COCK)
    line = only(order)
    assert (line.count, line.cost, line.currency, line.asks) == (4, 318.0, "EUR", ())
    assert [(total.currency, total.to_buy, total.bought) for total in order.totals] == [
        ("EUR", 318.0, 0.0)
    ]
    assert order.unpriced == 0


def test_the_offer_that_was_taken_counts_and_not_the_cheapest(ordered, cock):
    rows = cock(
        {"amount": 84.0, **EUR, "supplier": "Near"},
        {"amount": 60.0, **EUR, "supplier": "Far"},
        from_price="p0",
        bought_at="2026-11-02T10:00:00Z",
        count=1,
    )
    order = ordered(*rows, a=COCK)
    line = only(order)
    assert (line.cost, line.supplier, line.state) == (84.0, "Near", "bought")
    assert (order.totals[0].to_buy, order.totals[0].bought) == (0.0, 84.0)


def test_an_offer_that_was_taken_and_then_thrown_away_is_asked_for(ordered, cock):
    rows = cock(
        {"amount": 84.0, **EUR}, from_price="gone", bought_at="2026-11-02T10:00:00Z", count=1
    )
    line = only(ordered(*rows, a=COCK))
    assert line.cost is None
    assert line.asks == (
        "The price that it was bought at was taken away: mark the one that you paid.",
    )


def test_a_line_without_a_price_says_so_and_is_in_no_sum(ordered):
    order = ordered(a=COCK)
    assert only(order).cost is None
    assert only(order).asks == ("No price yet: enter what you were quoted.",)
    assert (order.totals, order.unpriced) == ((), 1)


def test_a_price_without_a_currency_is_asked_for_and_never_added(ordered, cock):
    line = only(ordered(*cock({"amount": 84.0, "supplier": "Near"}), a=COCK))
    assert line.cost is None
    assert line.asks == (
        "The offer of Near has a price of 84 and no currency: enter it, like EUR.",
    )
    assert not line.offers[0].usable


def test_an_offer_without_a_price_is_asked_for(ordered, cock):
    line = only(ordered(*cock({**EUR}), a=COCK))
    assert line.asks == ("An offer has no price: enter it, or take the offer away.",)


def test_what_is_sold_by_the_piece_is_not_priced_by_the_metre(ordered, cock):
    line = only(ordered(*cock({"amount": 3.0, **EUR, "per": "metre"}), a=COCK))
    assert line.cost is None
    assert line.asks == ("An offer is by the metre, which this line isn't sold by.",)


def test_two_currencies_are_not_compared_until_one_offer_is_taken(ordered, cock):
    offers = ({"amount": 84.0, **EUR}, {"amount": 70.0, "currency": "GBP"})
    line = only(ordered(*cock(*offers), a=COCK))
    assert line.cost is None
    (said,) = line.asks
    assert said.startswith("Offers in EUR and GBP can't be compared: mark the one that you take")
    taken = only(ordered(*cock(*offers, from_price="p1", bought_at="2026-11-02T10:00:00Z"), a=COCK))
    assert (taken.cost, taken.currency, taken.asks) == (70.0, "GBP", ())


def test_each_currency_has_a_sum_of_its_own(ordered, cock, line_of):
    hose = line_of(**HOSE)
    order = ordered(
        *cock({"amount": 84.0, **EUR}),
        ("price", "h", {"spec": hose, "amount": 5.0, "currency": "GBP", "per": "metre"}),
        a=COCK,
        b=HOSE,
    )
    # 1000 mm, a tenth more, and 100 mm at both ends: 1300 mm.
    assert [(total.currency, total.to_buy) for total in order.totals] == [
        ("EUR", 84.0),
        ("GBP", 6.5),
    ]


@pytest.mark.parametrize(
    ("days", "state"),
    [
        ({}, "to buy"),
        ({"bought_at": "2026-11-02T10:00:00Z"}, "bought"),
        ({"arrived_at": "2026-11-03T10:00:00Z"}, "arrived"),
        ({"bought_at": "2026-11-02T10:00:00Z", "fitted_at": "2026-11-04T10:00:00Z"}, "fitted"),
    ],
)
def test_the_furthest_step_with_a_day_is_the_state(days, state):
    assert state_of(Purchase(key="line", **days)) == state
    assert state_of(None) == "to buy"


def test_what_came_to_a_line_after_it_was_bought_is_noticed(ordered, cock):
    rows = cock({"amount": 84.0, **EUR}, bought_at="2026-11-02T10:00:00Z", count=1)
    line = only(ordered(*rows, a=COCK, b=COCK, c=COCK))
    assert line.asks == ("2 more came to this line since it was bought: buy them as well.",)


def test_days_supplier_note_and_substitute_stand_on_the_line(ordered, cock, line_of):
    steps = {
        "bought_at": "2026-11-02T10:00:00Z",
        "arrived_at": "2026-11-05T10:00:00Z",
        "fitted_at": "2026-11-09T10:00:00Z",
    }
    spec = ("spec", line_of(**COCK), {"substitute": "a ball valve of the same bore"})
    line = only(ordered(*cock(supplier="Near", note="By T", **steps), spec, a=COCK))
    assert (line.bought, line.arrived, line.fitted) == tuple(steps.values())
    assert (line.supplier, line.note) == ("Near", "By T")
    assert line.substitute == "a ball valve of the same bore"


def test_a_reel_without_a_length_is_asked_for_and_not_cut(ordered, line_of):
    price = {"spec": line_of(**HOSE), "amount": 40.0, **EUR, "per": "reel", "supplier": "Near"}
    line = only(ordered(("price", "p", price), a=HOSE))
    assert (line.cut, line.cost) == (None, None)
    assert line.asks == ("The offer of Near is for a reel of no length: enter how long it is.",)


def test_a_hose_is_bought_by_the_reel_or_the_metre_whichever_costs_less(ordered, line_of):
    line = line_of(**HOSE)
    reel = ("price", "r", {"spec": line, "amount": 20.0, **EUR, "length_mm": 5000})
    metre = ("price", "m", {"spec": line, "amount": 8.0, **EUR, "per": "metre"})
    # Three pieces of 1.3 m: 31.20 by the metre, one reel of 5 m for 20.
    found = only(ordered(reel, metre, a={**HOSE, "count": 3}))
    assert (found.cost, found.cut.proven, len(found.cut.stock)) == (20.0, True, 1)
    # One piece: 10.40 by the metre.
    found = only(ordered(reel, metre, a=HOSE))
    assert (found.cost, len(found.cut.by_metre), found.cut.stock) == (10.4, 1, ())


def test_a_reel_of_no_price_is_cut_for_the_least_length(ordered, line_of):
    reel = ("price", "r", {"spec": line_of(**HOSE), "per": "reel", "length_mm": 3000})
    found = only(ordered(reel, a={**HOSE, "count": 4}))
    assert (found.cost, found.cut.bought_mm, found.cut.cost) == (None, 6000, None)


def test_a_run_longer_than_any_reel_says_the_ways_out_and_has_no_cost(ordered, line_of):
    reel = {"spec": line_of(**HOSE), "amount": 40.0, **EUR, "length_mm": 5000}
    order = ordered(("price", "r", reel), a={**HOSE, "length_mm": 6000}, b=HOSE)
    line = only(order)
    (said,) = line.asks
    assert said.startswith("1 run finds no reel that holds it, up to 6.80 m: ")
    assert "enter a longer reel or a price by the metre" in said
    assert "a joint in a box and write it as two runs" in said
    assert [piece.length_mm for piece in line.cut.too_long] == [6800]
    assert [len(one.pieces) for one in line.cut.stock] == [1]
    assert (line.cost, order.unpriced) == (None, 1)


def test_a_leftover_in_the_shed_is_cut_before_anything_is_bought(ordered, line_of):
    line = line_of(**HOSE)
    rows = [
        ("leftover", "l", {"spec": line, "length_mm": 1400}),
        ("price", "m", {"spec": line, "amount": 8.0, **EUR, "per": "metre"}),
    ]
    found = only(ordered(*rows, a=HOSE))
    assert (found.cost, found.cut.stock[0].from_shed, found.cut.bought_mm) == (0.0, True, 0)


def test_the_new_part_takes_the_old_ones_place_with_its_tag(ordered, items, rules):
    rows = [("tag", "N1", {"on": "item/new"})]
    new = {"name": "Seacock, new", "never_aboard": True, "replaces": "a"}
    ashore = only(ordered(*rows, a=COCK, new={**new, "whereabouts": "ashore"}))
    assert (ashore.new_parts, ashore.fitted_parts, ashore.count) == (("N1",), 0, 1)
    aboard = only(ordered(*rows, a=COCK, new={**new, "whereabouts": "aboard"}))
    assert aboard.fitted_parts == 1


def test_of_two_new_parts_for_one_old_the_last_counts_and_none_replaces_itself(items):
    boat = items(
        n1={"replaces": "old"}, n2={"replaces": "old"}, me={"replaces": "me"}, x={"name": "x"}
    )
    assert {old: part.key for old, part in new_parts(boat).items()} == {"old": "n2"}


def test_putting_back_knows_how_far_buying_has_got(items, rules, line_of):
    line = line_of(**COCK)
    boat = items(("purchase", line, {"arrived_at": "2026-11-03T10:00:00Z"}), a=COCK, b=HOSE)
    assert buying(boat, rules) == {"a": "arrived", "b": "to buy"}
    assert buying(items(a=COCK), rules) == {}


def test_more_pieces_than_anybody_cuts_from_one_list_are_refused_with_the_limit(ordered, line_of):
    reel = ("price", "r", {"spec": line_of(**HOSE), "amount": 40.0, **EUR, "length_mm": 5000})
    line = only(ordered(reel, a={**HOSE, "count": 2001}))
    assert line.cut is None
    assert line.asks == ("2001 pieces are too many for one plan (2000): divide them.",)


WIRE = {"kind": "cable-dc", "size": "2.5 mm2", "trunking": "40 x 25 mm", "length_mm": 4500}


def trunking(order):
    (line,) = [line for line in order.lines if line.spec.startswith("Trunking")]
    return line


@pytest.mark.parametrize(
    ("price", "cost"),
    [
        # 4.5 m of trunking: three lengths of 2 m laid end to end, or 4.5 times the metre.
        ({"amount": 6.0, "per": "reel", "length_mm": 2000}, 18.0),
        ({"amount": 2.8, "per": "metre"}, 12.6),
    ],
)
def test_trunking_is_priced_by_lengths_laid_end_to_end_or_by_the_metre(ordered, price, cost):
    line = trunking(ordered(a=WIRE)).id
    found = trunking(ordered(("price", "p", {"spec": line, **EUR, **price}), a=WIRE))
    assert (found.order_mm, found.cost, found.cut) == (4500, cost, None)


@pytest.mark.parametrize("what", ["Hose clamp", "Cable terminals", "Fuse, 7.5 A"])
def test_what_is_counted_from_the_ends_is_priced_by_the_piece(ordered, what):
    rows = [("end", "e1", {"item": "hose", "joined": "two clamps"})]
    boat = {"hose": HOSE, "wire": {**WIRE, "load_a": 5, "voltage_v": 12, "insulation_c": 105}}
    boat["wire"] |= {"bundled": 2, "duty": "hours", "critical": False, "hot_space": False}
    (line,) = [line for line in ordered(*rows, **boat).lines if line.spec.startswith(what)]
    price = ("price", "p", {"spec": line.id, "amount": 1.5, **EUR, "per": "each"})
    (found,) = [line for line in ordered(price, *rows, **boat).lines if line.spec.startswith(what)]
    assert (found.cost, found.count > 0) == (1.5 * found.count, True)


def test_a_run_that_is_sold_made_up_is_bought_by_the_piece(ordered, line_of):
    cable = {"kind": "engine-control-cable", "length_mm": 2600, "fate": "renew"}
    line = line_of(**cable)
    each = ("price", "p", {"spec": line, "amount": 58.0, **EUR, "per": "each"})
    found = only(ordered(each, a={**cable, "count": 2}))
    assert (found.cost, found.cut, found.buy_as) == (116.0, None, "2 pieces")
    # By the metre it would be 2 x 2.96 m at 25: dearer, and then cheaper.
    dear = ("price", "q", {"spec": line, "amount": 25.0, **EUR, "per": "metre"})
    assert only(ordered(each, dear, a={**cable, "count": 2})).cost == 116.0
    cheap = ("price", "q", {"spec": line, "amount": 10.0, **EUR, "per": "metre"})
    found = only(ordered(each, cheap, a={**cable, "count": 2}))
    assert (found.cost, len(found.cut.by_metre)) == (61.2, 2)


def test_a_run_that_nobody_measured_has_no_cost_however_it_is_sold(ordered, line_of):
    bare = {"kind": "hose-raw-water", "size": "19 mm"}
    metre = ("price", "p", {"spec": line_of(**bare), "amount": 8.0, **EUR, "per": "metre"})
    assert only(ordered(metre, a=bare)).cost is None


LONG_HOSE = {**HOSE, "fate": "renew", "length_mm": 8000}


def priced(line, *prices):
    return [("price", f"p{n}", {"spec": line, **EUR, **row}) for n, row in enumerate(prices)]


def test_a_price_by_the_metre_counts_to_the_tenth_of_a_cent(ordered, line_of):
    metre = priced(line_of(**LONG_HOSE), {"amount": 0.125, "per": "metre"})
    line = only(ordered(*metre, a=LONG_HOSE))
    cut_mm = sum(piece.length_mm for piece in line.cut.by_metre)
    assert line.cost == pytest.approx(0.125 * cut_mm / 1000, abs=0.005)
    assert line.cut.bound == line.cost


@pytest.mark.parametrize(
    ("prices", "sellers"),
    [
        # A pack is cheaper by the piece, and one piece is cheaper alone.
        ([{"amount": 10.0, "per": "pack", "pieces": 100}, {"amount": 0.5}], ("S1",)),
        ([{"amount": 3.0, "per": "pack", "pieces": 2}, {"amount": 2.0}], ("S0", "S1")),
        ([{"amount": 9.0}, {"amount": 7.0}], ("S1",)),
        ([{"currency": "EUR"}], ()),
    ],
)
def test_a_line_is_bought_from_who_sells_it_for_the_least(ordered, cock, prices, sellers):
    count = 3 if len(sellers) > 1 else 1
    named = [{**EUR, "supplier": f"S{n}", **row} for n, row in enumerate(prices)]
    line = only(ordered(*cock(*named), a={**COCK, "count": count}))
    assert line.sellers == sellers


def test_what_is_cut_is_bought_from_the_reel_and_the_cheapest_metre(ordered, line_of):
    offers = priced(
        line_of(**LONG_HOSE),
        {"amount": 5.0, "per": "metre", "supplier": "Dear"},
        {"amount": 4.0, "per": "metre", "supplier": "Near"},
        {"amount": 1000.0, "per": "reel", "length_mm": 20_000, "supplier": "Far"},
    )
    assert only(ordered(*offers, a=LONG_HOSE)).sellers == ("Near",)
    offers[2][2]["amount"] = 10.0
    assert only(ordered(*offers, a=LONG_HOSE)).sellers == ("Far",)


def test_a_length_of_trunking_is_bought_where_all_of_it_costs_least(ordered):
    line = trunking(ordered(a=WIRE)).id
    offers = priced(
        line,
        {"amount": 30.0, "per": "reel", "length_mm": 30_000, "supplier": "By the length"},
        {"amount": 2.0, "per": "metre", "supplier": "By the metre"},
    )
    found = trunking(ordered(*offers, a=WIRE))
    assert (found.cost, found.sellers) == (9.0, ("By the metre",))


def test_a_length_of_inches_is_laid_of_as_many_as_it_is_long(ordered):
    run = {**WIRE, "length_mm": 1676.4}
    line = trunking(ordered(a=run)).id
    whole = priced(line, {"amount": 6.0, "per": "reel", "length_mm": 1676.4})
    assert trunking(ordered(*whole, a=run)).cost == 6.0


def test_a_currency_without_a_price_in_it_is_compared_with_none(ordered, line_of):
    offers = priced(
        line_of(**LONG_HOSE),
        {"amount": 40.0, "per": "reel", "length_mm": 20_000},
        {"currency": "GBP", "per": "reel", "length_mm": 10_000},
    )
    line = only(ordered(*offers, a=LONG_HOSE))
    assert (line.cost, line.asks) == (40.0, ())


def test_a_large_price_without_a_currency_is_repeated_to_the_cent(ordered, cock):
    (ask,) = only(ordered(*cock({"amount": 1234567.89 / 10}), a=COCK)).asks
    assert "a price of 123456.79 and no currency" in ask
