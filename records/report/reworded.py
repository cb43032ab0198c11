"""What an identification on file says, in another language than the English that it was kept in."""

from __future__ import annotations

from typing import Any

from records.report.spoken import Spoken
from threads.identify.identification import identify
from threads.identify.identity_words import short_words
from threads.measured.measured_document import possible_thread
from threads.shared.refusal import Reason, ReasonedError


def reworded(measurement: dict[str, Any], identity: dict[str, Any], spoken: Spoken) -> dict[str, Any]:
    """The document ``identity`` with its sentences in the language of ``spoken``; its numbers are kept.

    A document keeps sentences, not codes, so the measured thread is identified once more (a few ms) with the country
    and years that were given, and the sentences of the same groups and candidates are taken from there. What does not
    come out again, as when tables have changed since, stays as it is.
    """
    given = identity.get("given", {})
    try:
        made = given.get("made")
        found = identify(
            possible_thread(measurement), origin=given.get("origin"), made=None if made is None else tuple(made)
        )
    except (ReasonedError, ValueError, KeyError, TypeError):
        return identity
    facts = {frozenset(one.designation for one in group.members): group.told_apart_by for group in found.groups}
    says = {one.designation: one.provenance.says or (Reason("provenance.not_given"),) for one in found.candidates}
    groups = [
        {**one, "told_apart_by": "; ".join(map(spoken.say, told))}
        if (told := facts.get(frozenset(one["members"]))) is not None
        else one
        for one in identity.get("groups", [])
    ]
    candidates = [
        {**one, "origin_and_year": {**one.get("origin_and_year", {}), "says": "; ".join(map(spoken.say, told))}}
        if (told := says.get(one["designation"])) is not None
        else one
        for one in identity.get("candidates", [])
    ]
    first = identity["groups"][0]["members"] if identity.get("groups") else []
    if found.status == identity.get("status") and (not first or frozenset(first) in facts):
        identity = {**identity, "says": spoken.say(short_words(found))}
    same = not identity.get("stated") and not identity.get("as_part_of")
    notes = [spoken.say(note) for note in found.notes] if same else identity.get("notes", [])
    return {**identity, "groups": groups, "candidates": candidates, "notes": notes}
