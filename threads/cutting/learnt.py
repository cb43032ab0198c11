"""What a die cuts, learned from the threads it has cut, and what it will cut next, with 95 %.

Cut k of a die at the setting s, approached by opening (d = +1) or closing (d = -1), has the pitch diameter

    E_k = m + b (s - s0) + q (s - s0)^2 + h d + w (k - k0) + e_k,      e_k ~ N(0, scatter^2),

s0 and k0 being those of its last cut. The coefficients have wide normal priors (below), so that little data leaves much
open; m has nearly none. What is measured of it is E_k plus the picture's own error plus that of its bench (scale,
offset, light), which all pictures of the bench share (``CommonErrors``). An original measured on one of those benches
shares it too. All of this is normal, so that means and covariances given the measurements are closed (Gaussian
conditioning); the scatter is summed over a grid, and what it usually is is pooled over all dies: each die's has a
lognormal distribution about a median common to the workshop, itself about 5 um until dies tell. Derived here.

Not to be believed for a die that was ground, reset without a word, or used on another stock; the scatter swells then.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from threads.cutting.setting import TURN, Setting
from threads.identify.screw_evidence import CommonErrors
from threads.shared.normal import ndtr
from threads.shared.quantity import Quantity

Array = npt.NDArray[np.float64]

SCATTER_MM, SCATTER_FACTOR, WORKSHOP_FACTOR = 0.005, 1.5, 1.5
"""Usual standard deviation between cuts of one die, by which factor dies differ, and workshops (assumptions)."""
PER_TURN_MM, PER_TURN_U_MM = 0.2, 0.1
"""Pitch diameter a turn of the screw, before the cuts tell: a fine screw with a cone, in a slot of some millimetres
(workshop assumption). It may grow or shrink with what the person counts; the cuts tell."""
BEND_MM = 0.02
"""By which the way differs from a straight line, mm a turn squared: the screw's cone opens the slot unevenly."""
REVERSAL_MM = 0.002
"""Half of what cuts after opening differ by from those after closing: lost motion and spring-back of the die."""
WEAR_MM = 0.0004
"""Change from cut to cut as the die wears."""
UNKNOWN_SETTING_MM = 0.02
"""What a cut says less of the others where its setting was not written down and theirs were."""
_LEVEL_MM = 1.0  # of the die as a whole: nothing is known
_LEAST_OWN = 0.1  # of a diameter's u, what is its own even where the bench is said to explain all of it
_MARKS_TRIED, _MARKS_OPEN = 2.0, 4.0  # one "turn" of a scale without a unit, in spans that were tried; how open it is
_LENS_SCALE = 3e-5  # as ``judge.compare.LENS_SCALE_U``: never shared

_GRID = np.geomspace(0.0008, 0.03, 20)
_SCATTERS = np.concatenate([_GRID, _GRID])
_SIGNS = np.concatenate([np.ones(_GRID.size), -np.ones(_GRID.size)])
_MEDIANS = np.geomspace(0.0015, 0.015, 12)
_SHARE_OF_SCATTER = np.exp(-0.5 * (np.log(_SCATTERS[None, :] / _MEDIANS[:, None]) / math.log(SCATTER_FACTOR)) ** 2)
_SHARE_OF_SCATTER /= _SHARE_OF_SCATTER.sum(axis=1, keepdims=True)
_SHARE_OF_MEDIAN = np.exp(-0.5 * (np.log(_MEDIANS / SCATTER_MM) / math.log(WORKSHOP_FACTOR)) ** 2)
_SHARE_OF_MEDIAN /= _SHARE_OF_MEDIAN.sum()


@dataclass(frozen=True)
class Observed:
    """A measured pitch diameter, mm, and what its error shares with others of its bench.

    ``surface``: of its standard uncertainty, what is owed to how bright its flanks are: shared by the cuts of one die,
    which are of one stock, and not by an old screw beside them; mm.
    """

    pitch_diameter: Quantity
    common: CommonErrors | None = None
    surface: float = 0.0

    @property
    def shared(self) -> Array:
        """(3,) what scale, offset and light of the bench do to it, mm."""
        one = self.common
        return np.zeros(3) if one is None else np.array([one.scale * self.pitch_diameter.value, one.offset, one.light])

    @property
    def own_u(self) -> float:
        """Standard uncertainty that no other picture shares, mm."""
        total = self.pitch_diameter.standard_uncertainty**2
        own = max(total - float(np.sum(self.shared**2)) - self.surface**2, _LEAST_OWN**2 * total)
        return math.hypot(math.sqrt(own), _LENS_SCALE * self.pitch_diameter.value)


@dataclass(frozen=True)
class Cut:
    """A thread that a die cut, as measured; ``setting`` None where it was not written down as a number.

    ``closed_to``: whether the setting was approached from the open side; None: as the change from the one before says.
    """

    observed: Observed
    setting: Setting | None = None
    closed_to: bool | None = None


@dataclass(frozen=True)
class Estimate:
    """A sum of normal distributions: ``shares``, ``means`` and ``sds``, each (k,); mm unless said otherwise."""

    shares: Array
    means: Array
    sds: Array

    @property
    def mean(self) -> float:
        return float(self.shares @ self.means)

    @property
    def u(self) -> float:
        """Standard deviation."""
        return math.sqrt(max(float(self.shares @ (self.sds**2 + self.means**2)) - self.mean**2, 0.0))

    def between(self, low: float, high: float) -> float:
        """Probability of lying between ``low`` and ``high``."""
        inside = ndtr((high - self.means) / self.sds) - ndtr((low - self.means) / self.sds)
        return float(np.clip(self.shares @ inside, 0.0, 1.0))

    def with_light(self, larger: float, of_other: float = 0.0) -> Estimate:
        """The same where the light took up to ``larger`` off it, and up to ``of_other`` off what it is held against.

        One may be bright and the other dull: each loss lies anywhere up to its bound (JCGM 100, F.2.4.3), mm.
        """
        more = (larger**2 + of_other**2) / 12
        return Estimate(self.shares, self.means + (larger - of_other) / 2, np.sqrt(self.sds**2 + more))

    def quantity(self, one_sided: float = 0.0, unit: str = "mm") -> Quantity:
        return Quantity(self.mean, self.u, unit, one_sided)


@dataclass(frozen=True)
class LearntDie:
    """A die with at least one measured cut, the latest last; ``shares`` (k,) of each scatter of the grid.

    What is asked of it is a normal sum; ``against`` makes it a difference: less that measured thread, the errors of a
    common bench left out.
    """

    cuts: tuple[Cut, ...]
    shares: Array

    @property
    def unit(self) -> str:
        """Of its settings."""
        return self._last.unit if self._last is not None else TURN

    @property
    def last_setting(self) -> float | None:
        """That of the latest cut whose setting is known."""
        return None if self._last is None else self._last.value

    @cached_property
    def settings(self) -> tuple[float | None, ...]:
        """Of each cut, in ``unit``; None where it is not known, or is of another unit."""
        return tuple(
            one.setting.value if one.setting is not None and one.setting.unit == self.unit else None
            for one in self.cuts
        )

    @property
    def scatter(self) -> Estimate:
        """Standard deviation between its cuts."""
        return Estimate(self.shares, _SCATTERS, np.full(_SCATTERS.size, 1e-9))

    @property
    def per_setting(self) -> Estimate:
        """By how much pitch diameter a turn (a mark) moves it where it is set now, mm."""
        return self._estimate(np.array([0, self._open / self._turn, 0, 0, 0]))

    @property
    def wear(self) -> Estimate:
        """From one cut to the next, mm."""
        return self._estimate(np.array([0.0, 0, 0, 0, 1]))

    def next_cut(
        self, setting: float | None = None, against: Observed | None = None, *, closed_to: bool = False
    ) -> Estimate:
        """The next cut, at ``setting``; at that of the latest where None. ``closed_to`` as in ``Cut``."""
        return self._estimate(self._row(setting, closed_to=closed_to), against, scatter=True, level=True)

    def cut(self, number: int, against: Observed | None = None) -> Estimate:
        """The true pitch diameter of cut ``number``, all cuts considered."""
        return self._estimate(self._rows[number], against, of=number, level=True)

    @property
    def tried(self) -> int:
        """How many different settings are known."""
        return len({value for value in self.settings if value is not None})

    @cached_property
    def _last(self) -> Setting | None:
        return next((one.setting for one in reversed(self.cuts) if one.setting is not None), None)

    @cached_property
    def _turn(self) -> float:
        """Settings that count as one turn for the priors."""
        known = [value for value in self.settings if value is not None]
        return 1.0 if self.unit == TURN or not known else _MARKS_TRIED * (max(known) - min(known)) or 1.0

    @property
    def _open(self) -> float:
        return 1.0 if self.unit == TURN else _MARKS_OPEN

    @cached_property
    def _per_turn(self) -> Array:
        """(k,) what is expected of a turn before the cuts tell; nothing of a scale without a unit."""
        return _SIGNS * (PER_TURN_MM if self.unit == TURN else 0.0)

    @cached_property
    def _ways(self) -> tuple[float, ...]:
        """+1 where a cut's setting was approached by opening, -1 by closing, 0 where that is not known."""
        ways, way, before = [], 0.0, None
        for value, cut in zip(self.settings, self.cuts, strict=True):
            if cut.closed_to is not None:
                way = -1.0 if cut.closed_to else 1.0
            elif value is not None and before is not None and value != before:
                way = math.copysign(1.0, value - before)
            before = before if value is None else value
            ways.append(way)
        return tuple(ways)

    @cached_property
    def _rows(self) -> Array:
        """(n, 5) how each cut depends on the coefficients."""
        last = len(self.cuts) - 1
        return np.stack(
            [self._row_of(s, way, k - last) for k, (s, way) in enumerate(zip(self.settings, self._ways, strict=True))]
        )

    def _row(self, setting: float | None, *, closed_to: bool) -> Array:
        """The same of the next cut."""
        last, way = self.last_setting, -1.0 if closed_to else self._ways[-1]
        if not closed_to and setting is not None and last is not None and setting != last:
            way = math.copysign(1.0, setting - last)
        return self._row_of(last if setting is None else setting, way, 1)

    def _row_of(self, setting: float | None, way: float, cuts: int) -> Array:
        off = 0.0 if setting is None or self.last_setting is None else (setting - self.last_setting) / self._turn
        return np.array([1.0, self._open * off, off**2, way, cuts])

    @cached_property
    def _own(self) -> Array:
        """(n,) variance of each measured cut that it shares with none."""
        lost = UNKNOWN_SETTING_MM**2 if self.tried else 0.0
        return np.array([
            one.observed.own_u**2 + (lost if value is None else 0.0)
            for one, value in zip(self.cuts, self.settings, strict=True)
        ])  # fmt: skip

    def _estimate(
        self,
        row: Array,
        against: Observed | None = None,
        *,
        scatter: bool = False,
        of: int | None = None,
        level: bool = False,
    ) -> Estimate:
        """What has the coefficients' share ``row``, with a scatter of its own or that of cut ``of``."""
        n = len(self.cuts)
        seen = [one.observed for one in self.cuts] + ([] if against is None else [against])
        middle = float(np.mean([one.pitch_diameter.value for one in seen[:n]]))
        rest = np.tile([one.pitch_diameter.value - middle for one in seen], (_SCATTERS.size, 1))
        rest[:, :n] -= np.outer(self._per_turn, self._rows[:, 1])
        cross = np.tile(row @ _PRIOR @ self._rows.T, (_SCATTERS.size, 1))
        alone = np.full(_SCATTERS.size, float(row @ _PRIOR @ row))
        if of is not None:
            cross[:, of] += _SCATTERS**2
        if scatter or of is not None:
            alone = alone + _SCATTERS**2
        covariance = _covariance(seen, self._rows, self._own)
        mean = (middle if level else 0.0) + self._per_turn * row[1]
        if against is not None:
            cross = np.hstack([cross, np.full((_SCATTERS.size, 1), -(_LEVEL_MM**2))])
            alone, mean, rest[:, n] = alone + _LEVEL_MM**2, mean - against.pitch_diameter.value, 0.0
        weights = np.linalg.solve(covariance, cross[..., None])[..., 0]
        variance = alone - np.sum(weights * cross, axis=1)
        return Estimate(self.shares, mean + np.sum(weights * rest, axis=1), np.sqrt(np.maximum(variance, 1e-14)))


_PRIOR = np.diag(np.square([_LEVEL_MM, PER_TURN_U_MM, BEND_MM, REVERSAL_MM, WEAR_MM]))


def learn(dies: Mapping[Hashable, Sequence[Cut]]) -> dict[Hashable, LearntDie]:
    """What each die cuts, the usual scatter pooled over all of them; one without a cut is left out."""
    bare = {name: LearntDie(tuple(cuts), np.ones(_SCATTERS.size)) for name, cuts in dies.items() if cuts}
    likely = {name: _likelihoods(die) for name, die in bare.items()}
    of_medians = {name: np.log(_SHARE_OF_SCATTER @ one) for name, one in likely.items()}
    everything = np.log(_SHARE_OF_MEDIAN) + sum(of_medians.values(), np.zeros(_MEDIANS.size))
    learnt: dict[Hashable, LearntDie] = {}
    for name, die in bare.items():
        others = everything - of_medians[name]
        median = np.exp(others - others.max())
        shares = (median @ _SHARE_OF_SCATTER) * likely[name]
        learnt[name] = LearntDie(die.cuts, shares / shares.sum())
    return learnt


def _likelihoods(die: LearntDie) -> Array:
    """(k,) how likely its cuts are with each scatter of the grid, but for a factor."""
    seen = [one.observed for one in die.cuts]
    values = np.array([one.pitch_diameter.value for one in seen])
    rest = values - values.mean() - np.outer(die._per_turn, die._rows[:, 1])  # noqa: SLF001 - one module
    covariance = _covariance(seen, die._rows, die._own)  # noqa: SLF001 - one module
    _, size = np.linalg.slogdet(covariance)
    fit = np.sum(
        rest * np.linalg.solve(covariance, rest[..., None])[..., 0],
        axis=1,
    )
    log = -0.5 * (size + fit)
    return np.asarray(np.exp(log - log.max()))


def _covariance(seen: Sequence[Observed], rows: Array, own: Array) -> Array:
    """(k, n, n) of what was measured, for each scatter; cuts first, then perhaps one other thread."""
    n = len(rows)
    shared = np.stack([one.shared for one in seen])
    benches = [None if one.common is None else one.common.bench for one in seen]
    same = np.array([[a is not None and a == b for b in benches] for a in benches])
    fixed = np.where(same, shared @ shared.T, 0.0)
    surface = np.array([one.surface for one in seen[:n]])
    alike = same[:n, :n] | np.eye(n, dtype=bool)
    fixed[:n, :n] += rows @ _PRIOR @ rows.T + np.diag(own) + np.where(alike, np.outer(surface, surface), 0.0)
    for k in range(n, len(seen)):
        fixed[k, k] += _LEVEL_MM**2 + seen[k].own_u ** 2 + seen[k].surface ** 2
    scatter = np.zeros((len(seen), len(seen)))
    scatter[:n, :n] = np.eye(n)
    return np.asarray(fixed + _SCATTERS[:, None, None] ** 2 * scatter)
