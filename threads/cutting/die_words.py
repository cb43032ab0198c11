"""What a die cuts, as codes with values: the line of its label, and what its cuts taught."""

from __future__ import annotations

from threads.cutting.die_choice import DieState, turned_surely
from threads.cutting.setting import TURN
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import Reason


def what_it_cuts(state: DieState) -> Reason:
    """Its next cut with U95, and the thread it is for: "cuts 2.414 ± 0.006 mm, 4-40"."""
    following = state.next_cut
    if following is None:
        return Reason("die_cuts.none")
    return (
        Reason("die_cuts.thread", next_cut=following, thread=state.die.says)
        if state.die.says
        else Reason("die_cuts", next_cut=following)
    )


def what_was_learnt(state: DieState) -> tuple[Reason, ...]:
    """From how many cuts, how far they scatter, how they change, what a turn of its screw does."""
    known = state.learnt
    if known is None:
        return ()
    count, scatter = len(known.cuts), known.scatter.quantity()
    told = [Reason("die_learnt.one") if count == 1 else Reason("die_learnt.some", count=count, scatter=scatter)]
    setting = state.die.cuts[-1].setting
    if setting:
        told.append(Reason("die_learnt.set", setting=setting))
    wear = known.wear
    if abs(wear.mean) > COVERAGE_FACTOR * wear.u:
        key = "die_learnt.larger" if wear.mean > 0 else "die_learnt.smaller"
        told.append(Reason(key, by=wear.quantity()))
    if turned_surely(known):
        slope = known.per_setting
        per = Quantity(abs(slope.mean), slope.u, "mm")
        told.append(Reason("die_learnt.turn" if known.unit == TURN else "die_learnt.mark", per=per))
    return tuple(told)
