"""What is known of the light and the lens: its cone, how far away the lens is, whether its focus is locked."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Signal
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


class LightForm(QWidget):
    """``changed``: something was typed or chosen."""

    changed = Signal()

    def __init__(self, inches: Callable[[], bool], parent: QWidget | None = None) -> None:
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
        self.effect = label(kind="faint")
        self.problem = label()
        mark(self.problem, "verdict", "bad")
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._form.addRow(self.tr("Light cone"), self.light)
        self._form.addRow(self.tr("Half angle"), self.angle)
        self._form.addRow(self.tr("Patch"), self.patch)
        self._form.addRow(self.tr("Behind the part"), self.distance)
        self._form.addRow(self.effect)
        self._form.addRow(self.tr("Lens"), self.lens)
        self._form.addRow(self.tr("Distance"), self.working)
        self._form.addRow(self.distance_hint)
        self._form.addRow(self.tr("Opening"), self.opening)
        self._form.addRow(self.focus)
        self._form.addRow(self.focus_hint)
        self._form.addRow(self.problem)
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
            self._form.setRowVisible(edit, on)
        self._form.setRowVisible(self.focus_hint, not self.focus.isChecked())
        asked = [e for e in (self.angle, self.patch, self.distance, self.working) if self._form.isRowVisible(e)]
        try:
            found: SetUp | None = self.set_up()
            problem = ""
        except TypedError as error:
            found = None
            problem = worded_error(error) if all(edit.text().strip() for edit in asked) else ""
        self.problem.setText(problem)
        self._form.setRowVisible(self.problem, bool(problem))
        self.effect.setText("" if found is None else self._effect(found))
        self.changed.emit()

    def missing(self) -> QLineEdit | None:
        """The first line that belongs to what was chosen and is empty."""
        edits = (self.angle, self.patch, self.distance, self.working)
        return next((e for e in edits if self._form.isRowVisible(e) and not e.text().strip()), None)

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
