"""The cards of the tray are measured one after the other in a worker, the highlighted one has its picture at hand."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from flankwise.bench import bench_of
from gui.piece import Choices, Piece, filled, identified, measure_piece, picture_changed
from gui.tray.cards import Card, Stamp, State, facts_of, plane_for, same_measurement, stamp_of
from gui.tray.tray import Tray
from gui.turns import Soon
from gui.work import tell
from threads.shared.refusal import Reason, RefusalError

if TYPE_CHECKING:
    from gui.desk import Desk
    from gui.work import Job
    from vision.shared.plane import PlaneMap


class Measuring(QObject):
    """Looks at the tray whenever it or the work under way changes, and starts what is due."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._job: Job | None = None
        self._unread = 0
        self._later = Soon(self, self.go_on, 0)  # once what ended was handed over
        for changed in (desk.tray_changed, desk.bench_changed, desk.work.changed):
            changed.connect(self._later.want)
        desk.bench_changed.connect(self._forget)

    def go_on(self) -> None:
        """Begin with the next card, and read the picture of the highlighted one where it is not at hand."""
        desk = self._desk
        if any(job.key == "bench" for job in desk.work.jobs):
            return  # a bench is being read: by it, not without one
        self._fill()
        card = desk.tray.next_to_measure(bench=desk.bench is not None)
        if card is not None:
            self._measure(card)

    def _measure(self, card: Card) -> None:
        desk, number, bench = self._desk, card.number, self._desk.bench
        before = desk.whole(card) if card.read else None
        known = (
            before is not None
            and before.measurement is not None
            and card.bench is bench
            and same_measurement(before.choices, card.choices)
        )
        desk.set_tray(desk.tray.begun(number, bench))

        def done(found: Piece) -> None:
            if self._job is job:  # else the bench was changed meanwhile, and it is measured once more
                desk.measured(number, found, facts_of(found))

        def failed(error: Exception) -> None:
            reasons = (
                error.reasons if isinstance(error, RefusalError) else (Reason("unreadable.unknown", why=str(error)),)
            )
            done(Piece(card.piece.path, card.choices, reasons=reasons))

        def gone() -> None:
            if self._job is job:
                desk.set_tray(_stopped(desk.tray, number))

        def doubted(doubts: tuple[Reason, ...]) -> None:
            if self._job is job:
                desk.set_tray(desk.tray.doubted(number, doubts))

        words = self.tr("weighing the series") if known else self.tr("measuring {name}")
        arguments = (
            (identified, before, card.choices, desk.register_file)
            if known
            else (
                measure_card,
                card.piece.path,
                card.stamp,
                plane_for(card, bench),
                card.choices,
                before,
                desk.register_file,
            )
        )
        job = desk.work.run(words.format(name=card.name), *arguments, done=done, failed=failed, gone=gone, told=doubted)
        self._job = job

    def _forget(self) -> None:
        """The bench has changed: what is being measured is measured once more."""
        self._job = None

    def _fill(self) -> None:
        """The picture of the highlighted card, which only it has in memory."""
        desk = self._desk
        card = desk.tray.highlighted
        if card is None or not card.read or desk.whole(card).decoded or card.number == self._unread:
            return
        if card.state in (State.WAITING, State.MEASURING) and not (desk.bench is None and card.facts is None):
            return  # it comes with the measurement
        if card.let_go:
            desk.set_tray(desk.tray.again(card.number))
            return
        number = self._unread = card.number

        def done(found: Piece) -> None:
            self._unread = 0
            desk.show_whole(number, found)

        words = self.tr("showing the picture")
        desk.work.run(words, filled, card.piece, done=done, failed=desk.refuse, key="fill")


def measure_card(
    path: str,
    stamp: Stamp | None,
    plane: PlaneMap | None,
    choices: Choices,
    before: Piece | None,
    register: str | None = None,
) -> Piece:
    """``measure_piece`` for a card: a file that holds another picture by now is refused, whatever is in it.

    That another camera took it is said first, in words, before there are numbers.
    """
    tell(bench_of(plane).remarks_on_file(path) if plane is not None else ())
    if before is None and stamp is not None and stamp_of(path) not in (stamp, None):
        return Piece(path, choices, reasons=picture_changed(path).reasons)
    return measure_piece(path, plane, choices, before, register)


def _stopped(tray: Tray, number: int) -> Tray:
    """The card and those that wait behind it are left alone; what is to be filed is measured all the same."""
    for card in tray.cards:
        if card.number == number or (card.state is State.WAITING and not card.settled):
            reasons = (Reason("given_up"),)
            tray = tray.stopped(card.number, replace(card.piece, reasons=reasons, measurement=None))
    return tray
