"""`shedtally serve`: plan, start, and say on the terminal how phones get in."""

from __future__ import annotations

import datetime as dt
from importlib.metadata import version

from shedtally.serving import announce, plain
from shedtally.serving.application import application
from shedtally.serving.listen import listen
from shedtally.serving.pairing import code_if_nobody_is_paired
from shedtally.serving.plan import Plan, Wish, plan_behind_proxy, plan_with_authority


def serve(wish: Wish) -> None:
    """Serve until stopped; ends with SystemExit.

    Raises: CannotListen, NameOutsideAuthority, NameNeeded, DatabaseUnusable, OneWorkerOnly,
    before anything listens.
    """
    now = dt.datetime.now(dt.UTC)
    plan = plan_behind_proxy(wish) if wish.behind_proxy else plan_with_authority(wish, now)
    for text in plan.warnings:
        announce.say(announce.warning(text))
    lines = [*_addresses(plan), *_certificate(plan), *code_if_nobody_is_paired(plan.settings)]
    second = plain.start(wish.data, plan.plain) if plan.plain else None
    if second and plan.plain:
        plain.wait_until_open(second, plan.plain)
    listen(
        plan.listener,
        lambda: application(plan.settings, plan.facts),
        workers=plan.workers,
        when_ready=lambda: announce.say(lines),
        at_end=second.terminate if second else lambda: None,
    )


def _addresses(plan: Plan) -> list[str]:
    lines = [f"Shedtally {version('shedtally')}, data in {plan.settings.data_dir}", ""]
    lines.append(announce.row("Phones open", plan.address.url, "always this one"))
    if plan.plain is None:
        lines.append(announce.row("The proxy asks", f"http://{plan.listener.bind}"))
    else:
        lines.append(announce.row("A phone's first visit", plan.setup_url))
        lines += ["", *announce.qr(plan.setup_url)]
    return lines


def _certificate(plan: Plan) -> list[str]:
    if plan.certificate is None or plan.fingerprint is None:
        return []
    made = ", made now" if plan.certificate.renewed else ""
    return [
        "",
        "  Compare on the phone before you trust it: the authority's SHA-256 fingerprint",
        *announce.in_pairs(plan.fingerprint),
        f"  The server's certificate is good for {plan.certificate.days_left} days{made}.",
    ]
