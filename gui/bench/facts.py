"""A calibration's numbers, residuals and warnings: shown when it is made, and as long as it is the current one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QVBoxLayout, QWidget

from calib.calibration import Calibration
from gui.bench.residuals import ResidualChart, residuals_of
from gui.bench.small import figures, label
from gui.worded import worded
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from vision.shared.plane import PlaneMap

_NOTHING_UM = 1e-4


class Facts(QWidget):
    """Scale large, the rest in lines below it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scale = figures(1.5, bold=True)
        self.scale.setAccessibleName(self.tr("Scale"))
        self.offset, self.light, self.lens, self.focus, self.pictures = (figures() for _ in range(5))
        for wide in (self.scale, self.light, self.lens, self.focus):
            wide.setWordWrap(True)
        self.chart = ResidualChart()
        self._chart_heading = label(self.tr("Gauges: residual and U95"), kind="faint", wrap=False)
        self._nothing_over = label(
            self.tr("Nothing is left over by which these gauges could check each other: one more would."), kind="faint"
        )
        self.remarks = label()
        self.remarks.setAccessibleName(self.tr("Warnings"))
        self.remarks.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._form = QFormLayout()
        self._form.setHorizontalSpacing(14)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for words, shown in (
            (self.tr("Edge offset"), self.offset), (self.tr("Light cone"), self.light), (self.tr("Lens"), self.lens),
            (self.tr("Focus"), self.focus), (self.tr("Pictures"), self.pictures),
        ):  # fmt: skip
            self._form.addRow(label(words, kind="faint", wrap=False), shown)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.remarks)
        column.addWidget(label(self.tr("One pixel is"), kind="faint", wrap=False))
        column.addWidget(self.scale)
        column.addLayout(self._form)
        column.addWidget(self._chart_heading)
        column.addWidget(self.chart)
        column.addWidget(self._nothing_over)

    def show_plane(self, plane: PlaneMap, more: Sequence[Reason] = ()) -> None:
        """Show ``plane`` with the warnings ``more`` before its own."""
        found = plane if isinstance(plane, Calibration) else None
        u_scale, u_offset = (float(plane.covariance[i, i]) ** 0.5 for i in (0, 1))
        self.scale.setText(format_quantity(Quantity(plane.um_per_px, u_scale, "um")))
        self.offset.setText(format_quantity(Quantity(plane.edge_offset_px, u_offset, "px")))
        if plane.light_cone_deg is None:
            self.light.setText(self.tr("not known"))
        else:
            cone = format_quantity(Quantity(plane.light_cone_deg, plane.light_cone_u_deg, "deg"))
            from_gauges = found is not None and found.light_cone_found
            self.light.setText(self.tr("{cone}, found from the gauges").format(cone=cone) if from_gauges else cone)
        self.lens.setText(self._lens(plane))
        for shown in (self.focus, self.pictures):
            self._form.setRowVisible(shown, found is not None)
        if found is not None:
            self.focus.setText(
                self.tr("locked") if found.focus_locked else self.tr("not locked: lay a pin beside the part")
            )
            self.pictures.setText(f"{found.picture_width_px} × {found.picture_height_px} px")
        rows = residuals_of(found) if found is not None else ()
        self.chart.show_residuals(rows)
        for widget in (self.chart, self._chart_heading):
            widget.setVisible(bool(rows))
        self._nothing_over.setVisible(bool(rows) and all(abs(row.um) < _NOTHING_UM for row in rows))
        reasons = [*more, *(found.warnings if found is not None else ())]
        sentences = dict.fromkeys(worded(reason) for reason in reasons)
        self.remarks.setText("\n".join(self.tr("Warning: {what}").format(what=text) for text in sentences))
        self.remarks.setVisible(bool(reasons))

    def _lens(self, plane: PlaneMap) -> str:
        distance = plane.working_distance_mm
        words = [] if distance is None else [f"{distance:g} mm"]
        if isinstance(plane, Calibration) and plane.lens["model"] != "none":
            from calib.lens import corner_shift_px

            shift = corner_shift_px(plane.lens, plane.picture_width_px, plane.picture_height_px)
            words.append(self.tr("distortion taken out ({shift} px in the corners)").format(shift=f"{shift:+.1f}"))
        return ", ".join(words) or self.tr("no distortion taken out")
