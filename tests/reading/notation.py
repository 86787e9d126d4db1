"""Entries in a short notation that a person can read beside the log they came from."""

from __future__ import annotations

from logbook.model.amount import Amount
from logbook.model.book import Book
from logbook.model.entry import Entry, Label, Portion, Terms
from logbook.model.run import Picture, Stage

WORDED = {"ask", "found", "private", "spent", "broke"}


def amount(found: Amount) -> str:
    """`412.6 g ±0.029 g (last digit written)`; base units only where they differ."""
    if found.value is None:
        limits = "" if found.low is None else f", {found.low:g} to {found.high:g} {found.base_unit}"
        return f"unknown {found.unit}{limits}".replace(" ,", ",").strip()
    text = f"{found.value:.10g} {found.unit}".strip()
    if found.base_unit not in (found.unit, "1", found.currency) and found.unit != "°C":
        text += f" = {found.base_value:.8g} {found.base_unit}"
    if found.base_u:
        text += f" ±{found.base_u:.2g} ({found.u_basis})"
    if found.low is not None:
        text += f" [{found.low:g} to {found.high:g}]"
    return text + "".join(f" also {amount(other)}" for other in found.also)


def labels(found: tuple[Label, ...]) -> str:
    """Labels as they are written on the jars."""
    return " ".join(f"[{label.name}]" for label in found)


def portion(found: Portion) -> str:
    """One portion: part, amount, thing, reagent, strength, labels."""
    parts = []
    if found.share is not None:
        parts.append("all of" if found.share == 1 else f"{found.share:.4g} of")
    if found.amount is not None:
        parts.append(amount(found.amount))
    if found.second is not None:
        parts.append(f"with {amount(found.second)}")
    if found.what:
        parts.append(f'"{found.what}"')
    if found.reagent and found.reagent != found.what:
        parts.append(f"as {found.reagent}")
    if found.strength is not None:
        parts.append(f"strength {amount(found.strength)}")
    parts.append(labels(found.labels))
    return " ".join(part for part in parts if part)


def terms(found: Terms) -> str:
    """A buyer's terms, those that were said."""
    names = ("payable", "deduction", "treatment", "refining", "lot")
    said = ((name, getattr(found, name)) for name in names)
    return ", ".join(f"{name} {amount(one)}" for name, one in said if one is not None)


def entry(found: Entry) -> str:
    """One entry on one line."""
    parts = [found.action + (" (planned)" if found.planned else "")]
    if found.when is not None:
        parts.append(f"when {found.when.day or ''} {found.when.clock or ''}".rstrip())
    parts += [portion(one) for one in found.portions]
    parts += [f"supply {portion(one)}" for one in found.supplies]
    parts += [f"{one.metal} {amount(one.amount)}" for one in found.compositions]
    parts += [f"at {amount(one)}" for one in found.conditions]
    simple = {
        "from": labels(found.sources),
        "into": labels(found.destinations),
        "for": amount(found.duration) if found.duration else "",
        "price": amount(found.price.amount) if found.price else "",
        "per": amount(found.per) if found.per else "",
        "metal": found.metal,
        "money": found.money,
        "terms": terms(found.terms) if found.terms else "",
        "fee": amount(found.fee) if found.fee else "",
        "method": found.method,
        "sampling": amount(found.sampling) if found.sampling else "",
        "on": "; ".join(found.equipment),
        "immersed in": found.immersed,
        "moisture": found.moisture,
        "until": found.end_point,
        "remark": "; ".join(found.remarks),
        "words": found.words if found.action in WORDED else "",
    }
    parts += [f"{name} {value}" for name, value in simple.items() if value]
    if found.price and found.price.would_cost:
        parts.append("would cost")
    if found.repeats != 1:
        parts.append("repeats unknown" if found.repeats is None else f"repeats {found.repeats}")
    parts += [name for name in ("in_all", "as_product") if getattr(found, name)]
    for test in found.tests:
        thing = " ".join(part for part in (test.thing, labels(test.labels)) if part) or "the charge"
        parts.append(f'{thing} with {test.test}: "{test.seen}" is {test.finding}')
    if found.claim:
        of = f" of {found.claim.of}" if found.claim.of else ""
        named = f" {labels(found.claim.labels)}" if found.claim.labels else ""
        parts.append(f"claims {found.claim.what}: {amount(found.claim.amount)}{of}{named}")
    return " | ".join(parts)


def stage(found: Stage) -> str:
    """The line of a stage."""
    kinds = ", ".join(found.kinds) or "no kind"
    when = f" | {found.when.day or ''} {found.when.clock or ''}".rstrip() if found.when else ""
    return f"## {found.title} | {kinds}{' | trial' if found.trial else ''}{when}"


def book(found: Book) -> str:
    """Every stage, entry and finding of a book of one log."""
    lines: list[str] = []
    for run in found.runs:
        if run.metals or run.status.value != "finished":
            lines.append(f"run {run.day} {run.status} {', '.join(run.metals)}".rstrip())
        for one in run.stages:
            if one.title:
                lines.append(stage(one))
            for block in one.blocks:
                if isinstance(block, Entry):
                    lines.append(entry(block))
                elif isinstance(block, Picture):
                    seen = f" (to be seen: {block.seen})" if block.seen else ""
                    lines.append(f"picture {block.path}: {block.caption}{seen}")
                else:
                    hidden = " (private)" if block.private else ""
                    lines.append(f"prose{hidden}: {' '.join(block.span.text.split())}")
    lines += [
        f"{finding.weight} {finding.code} »{finding.span.text}« {finding.headline}"
        f" / {finding.understood} / {finding.hint}"
        for finding in found.findings
    ]
    return "\n".join(lines)
