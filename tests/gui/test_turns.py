"""Much to do is done a little at a time; what is begun anew drops the rest."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QObject

from gui.app import create_application
from gui.turns import Soon, Steps, Turns, any_left

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def _steps(done: list[str], name: str, ended: list[str]) -> Steps:
    try:
        for number in range(3):
            done.append(f"{name}{number}")
            yield
        done.append(f"{name} whole")
    finally:
        ended.append(name)


def test_the_first_step_is_done_at_once_and_the_rest_in_turns(qtbot: QtBot) -> None:
    create_application()
    owner, done, ended = QObject(), list[str](), list[str]()
    turns = Turns(owner)
    turns.begin(_steps(done, "a", ended))
    assert done == ["a0"]
    assert any_left()
    qtbot.waitUntil(lambda: not any_left())
    assert done == ["a0", "a1", "a2", "a whole"]
    assert ended == ["a"]


def test_what_is_begun_anew_drops_what_was_left(qtbot: QtBot) -> None:
    create_application()
    owner, done, ended = QObject(), list[str](), list[str]()
    turns = Turns(owner)
    turns.begin(_steps(done, "a", ended))
    turns.begin(_steps(done, "b", ended))
    assert ended == ["a"]
    qtbot.waitUntil(lambda: not any_left())
    assert done == ["a0", "b0", "b1", "b2", "b whole"]


@pytest.mark.parametrize("last", [False, True])
def test_a_step_may_begin_anew(qtbot: QtBot, last: bool) -> None:
    create_application()
    owner, done, ended = QObject(), list[str](), list[str]()
    turns = Turns(owner)

    def chain() -> Steps:
        yield
        turns.begin(_steps(done, "b", ended))
        if not last:
            yield
            done.append("never")

    turns.begin(chain())
    qtbot.waitUntil(lambda: not any_left())
    assert done == ["b0", "b1", "b2", "b whole"]


def test_what_is_wanted_often_is_done_once(qtbot: QtBot) -> None:
    create_application()
    owner, done = QObject(), list[int]()
    soon = Soon(owner, lambda: done.append(1), 10)
    for _ in range(5):
        soon.want()
    assert not done
    assert any_left()
    qtbot.waitUntil(lambda: not any_left())
    assert done == [1]
