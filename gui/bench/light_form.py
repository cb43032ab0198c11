"""What is known of the light and the lens: its cone, how far away the lens is, whether its focus is locked."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QDoubleSpinBox, QFormLayout, QLineEdit, QWidget

from calib.bench import WIDEST_OPENING
from calib.calibration import REFOCUS_U
from calib.scale import NEAREST_CAMERA_MM
from gui.bench.small import label, line, mark
from gui.calm import calm
from gui.with_unit import with_unit
from gui.worded import worded_error
from threads.shared.quantity import COVERAGE_FACTOR
from threads.shared.typed import TypedError, parse_angle, parse_length
from vision.model.grazing import half_cone, setup_effect

SHOWN_THREAD_MM = 2.5
SHOWN_FLANK_DEG = 30.0
"""Pitch diameter and half angle of the thread whose loss is shown."""
PATCH_RELATIVE_U = 0.05
"""Standard uncertainty of a cone from patch and distance: millimetres read off a rule, a figure of the workshop."""

SMALL_MM = 0.0015
"""U95 of a pitch diameter from mirrored light that is small: a fourteenth of what parts NC and UNC of 4-40."""

ANGLE, PATCH = 1, 2
TELECENTRIC, DISTANCE = 1, 2
"""Places in the lists of light and lens; the first one, 0, says nothing."""


@dataclass(frozen=True)
class SetUp:
    """What is known of light and lens, None where it is not.

    Half cone of the light and its standard uncertainty, degrees; its patch and how far behind the part, mm; working
    distance, mm; numerical aperture; whether the focus is locked.
    """

    cone_deg: float | None = None
    cone_u_deg: float = 0.0
    working_distance_mm: float | None = None
    focus_locked: bool = False
    patch_mm: float | None = None
    patch_distance_mm: float | None = None
    lens_opening: float | None = None


def _form() -> tuple[QWidget, QFormLayout]:
    widget = QWidget()
    form = QFormLayout(widget)
    form.setContentsMargins(0, 0, 0, 0)
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
    return widget, form


class LightForm(QObject):
    """``changed``: something was typed or chosen. ``of_lens`` and ``of_light`` are what is shown of it."""

    changed = Signal()

    def __init__(self, inches: Callable[[], bool], parent: QObject | None = None) -> None:
        """``inches``: whether a bare number is meant so."""
        super().__init__(parent)
        self._inches = inches
        self.light = calm(QComboBox())
        self.light.addItems([self.tr("not known"), self.tr("half angle"), self.tr("bright patch and its distance")])
        self.light.setAccessibleName(self.tr("What is known of the light"))
        self.angle = line(self.tr("Half angle under which the part sees the light"), "2 deg")
        self.patch = line(self.tr("Diameter of the bright patch"), "10 mm")
        self.distance = line(self.tr("How far the patch is behind the part"), "150 mm")
        self.lens = calm(QComboBox())
        self.lens.addItems([self.tr("not said"), self.tr("telecentric"), self.tr("at a distance from the gauges")])
        self.lens.setAccessibleName(self.tr("What is known of the lens"))
        self.working = line(self.tr("Distance from lens to gauges"), "100 mm")
        self.distance_hint = label(
            self.tr(
                "A near lens shows a round pin too large: U95 allows for one {distance} mm away. Measure from the "
                "front of the lens to the gauges, and say so here."
            ).format(distance=f"{NEAREST_CAMERA_MM:g}"),
            kind="faint",
        )
        self.opening = calm(QDoubleSpinBox())
        self.opening.setRange(0.0, WIDEST_OPENING)
        self.opening.setDecimals(3)
        self.opening.setSingleStep(0.005)
        self.opening.setSpecialValueText(self.tr("not said"))
        self.opening.setAccessibleName(self.tr("Numerical aperture of the lens at the part"))
        self.opening.setToolTip(
            self.tr("Numerical aperture at the part: m / (2 N (1 + m)) for f-number N and magnification m")
        )
        self.focus = QCheckBox(self.tr("Focus locked"))
        self.focus.setToolTip(self.tr("The focus was set before the first gauge and stays as it is"))
        self.focus_hint = label(
            self.tr(
                "A camera that focuses by itself changes the scale: U95 allows for {percent} % of every length. Lay a "
                "pin beside each part, or lock the focus before the first gauge and tick this."
            ).format(percent=f"{100 * COVERAGE_FACTOR * REFOCUS_U:g}"),
            kind="faint",
        )
        self.effect = ""
        self.problem = label()
        mark(self.problem, "verdict", "bad")
        self.of_lens, lens = _form()
        lens.addRow(self.tr("Lens"), self.lens)
        lens.addRow(self.tr("Distance"), self.working)
        lens.addRow(self.distance_hint)
        lens.addRow(self.tr("Opening"), self.opening)
        lens.addRow(self.focus)
        lens.addRow(self.focus_hint)
        self.of_light, light = _form()
        light.addRow(self.tr("Light cone"), self.light)
        light.addRow(self.tr("Half angle"), self.angle)
        light.addRow(self.tr("Patch"), self.patch)
        light.addRow(self.tr("Behind the part"), self.distance)
        light.addRow(self.problem)
        self._forms = (lens, light)
        for combo in (self.light, self.lens):
            combo.currentIndexChanged.connect(self.refresh)
        for edit in (self.angle, self.patch, self.distance, self.working):
            edit.textChanged.connect(lambda _: self.refresh())
        self.focus.toggled.connect(self.refresh)
        self.opening.valueChanged.connect(lambda _: self.refresh())
        self.refresh()

    def set_up(self) -> SetUp:
        """What is known. Raises TypedError where something that was chosen is no quantity."""
        cone, u, patch, behind = None, 0.0, None, None
        if self.light.currentIndex() == ANGLE:
            cone = parse_angle(self.angle.text(), self.angle.accessibleName())
        elif self.light.currentIndex() == PATCH:
            patch, behind = self._length(self.patch), self._length(self.distance)
            cone = half_cone(patch, behind)
            u = PATCH_RELATIVE_U * cone
        working = None
        if self.lens.currentIndex() == TELECENTRIC:
            working = math.inf
        elif self.lens.currentIndex() == DISTANCE:
            working = self._length(self.working)
        return SetUp(cone, u, working, self.focus.isChecked(), patch, behind, self.opening.value() or None)

    def _length(self, edit: QLineEdit) -> float:
        return parse_length(with_unit(edit.text(), inches=self._inches()), edit.accessibleName())

    def refresh(self) -> None:
        """Show the lines that belong to what was chosen, and what the light does."""
        light, lens = self.light.currentIndex(), self.lens.currentIndex()
        for edit, on in (
            (self.angle, light == ANGLE), (self.patch, light == PATCH), (self.distance, light == PATCH),
            (self.working, lens == DISTANCE), (self.distance_hint, lens == 0),
        ):  # fmt: skip
            self._show_row(edit, on)
        self._show_row(self.focus_hint, not self.focus.isChecked())
        asked = self._asked()
        try:
            found: SetUp | None = self.set_up()
            problem = ""
        except TypedError as error:
            found = None
            problem = worded_error(error) if all(edit.text().strip() for edit in asked) else ""
        self.problem.setText(problem)
        self._show_row(self.problem, bool(problem))
        self.effect = "" if found is None else self._effect(found)
        self.changed.emit()

    def _show_row(self, widget: QWidget, on: bool) -> None:
        for form in self._forms:
            if form.indexOf(widget) >= 0:
                form.setRowVisible(widget, on)

    def _asked(self) -> list[QLineEdit]:
        """The lines that belong to what was chosen."""
        light, lens = self.light.currentIndex(), self.lens.currentIndex()
        wanted = {ANGLE: [self.angle], PATCH: [self.patch, self.distance]}.get(light, [])
        return [*wanted, *([self.working] if lens == DISTANCE else [])]

    def show_set_up(self, told: SetUp) -> None:
        """Fill in what is known from the last calibration."""
        if told.patch_mm is not None and told.patch_distance_mm is not None:
            self.light.setCurrentIndex(PATCH)
            self.patch.setText(f"{told.patch_mm:g} mm")
            self.distance.setText(f"{told.patch_distance_mm:g} mm")
        elif told.cone_deg is not None:
            self.light.setCurrentIndex(ANGLE)
            self.angle.setText(f"{told.cone_deg:.3g} deg")
        if told.working_distance_mm is not None:
            self.lens.setCurrentIndex(TELECENTRIC if math.isinf(told.working_distance_mm) else DISTANCE)
            self.working.setText("" if math.isinf(told.working_distance_mm) else f"{told.working_distance_mm:g} mm")
        self.opening.setValue(told.lens_opening or 0.0)
        self.focus.setChecked(told.focus_locked)

    @property
    def lens_is_known(self) -> bool:
        """Whether distance and focus of the lens are said."""
        said = self.lens.currentIndex() == TELECENTRIC or bool(self.working.text().strip())
        return self.lens.currentIndex() != 0 and said and self.focus.isChecked()

    @property
    def light_is_small(self) -> bool | None:
        """Whether what mirrored light leaves in U95 is small beside what tells classes apart; None: not known."""
        try:
            found = self.set_up()
        except TypedError:
            return None
        if found.cone_deg is None:
            return None
        effect = setup_effect(found.cone_deg, SHOWN_THREAD_MM, SHOWN_FLANK_DEG, cone_u_deg=found.cone_u_deg)
        return effect.u95 <= SMALL_MM

    def missing(self) -> QLineEdit | None:
        """The first line that belongs to what was chosen and is empty."""
        return next((edit for edit in self._asked() if not edit.text().strip()), None)

    def _effect(self, found: SetUp) -> str:
        sizes = (SHOWN_THREAD_MM, SHOWN_FLANK_DEG)
        effect = setup_effect(found.cone_deg, *sizes, cone_u_deg=found.cone_u_deg)
        bright = setup_effect(found.cone_deg, *sizes, cone_u_deg=found.cone_u_deg, surface="bright")
        numbers = {
            "size": f"{SHOWN_THREAD_MM:g}", "cone": f"{effect.cone_deg:.2g}", "taken": f"{1000 * effect.taken:.1f}",
            "u95": f"{1000 * effect.u95:.1f}", "bright": f"{1000 * bright.u95:.1f}",
        }  # fmt: skip
        if found.cone_deg is None:
            text = self.tr(
                "Not known: up to {cone}° is allowed for, ± {u95} µm on the pitch diameter of a thread of {size} mm. "
                "Mask the pad to a small patch far behind the part, and say so here."
            )
        else:
            text = self.tr(
                "Half cone {cone}°: mirrored light takes {taken} µm from a polished thread of {size} mm. It is put "
                "right: ± {bright} µm of U95 remain where the surface is said to be bright, ± {u95} µm where it is not "
                "said."
            )
        return text.format(**numbers)
