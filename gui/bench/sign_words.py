"""The signs in words: what is well, and what to change."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from gui.worded import worded
from vision.locate.live_detection import LiveDetection
from vision.locate.live_signs import Sign


def light_words(sign: Sign) -> str:
    """One sentence about the light."""
    percent = f"{100 * sign.value:.0f}"
    share = f"{100 * sign.value:.1f}" if sign.value < 0.1 else percent
    return {
        "black": QCoreApplication.translate(
            "signs", "The picture is black: switch the light pad on, or expose longer."
        ),
        "saturated": QCoreApplication.translate(
            "signs", "Too bright: {share} % of the ground is burnt out. Expose shorter or dim the pad."
        ),
        "from_front": QCoreApplication.translate(
            "signs", "The light comes from the front: put the light pad behind the part."
        ),
        "nearly_white": QCoreApplication.translate(
            "signs", "Nearly white ({percent} % of full scale): expose a little shorter."
        ),
        "dim": QCoreApplication.translate(
            "signs", "Dim ({percent} % of full scale): expose longer or turn the pad up."
        ),
        "uneven": QCoreApplication.translate(
            "signs", "Uneven: {percent} % darker in one place than in another. Centre the pad."
        ),
        "even": QCoreApplication.translate("signs", "Even, at {percent} % of full scale, nothing burnt out."),
    }[sign.code].format(share=share, percent=percent)


def focus_words(sign: Sign, least_blur_px: float | None) -> str:
    """One sentence about the focus. ``least_blur_px``: the best since the source was chosen."""
    if sign.code == "nothing_to_focus_on":
        return QCoreApplication.translate("signs", "Nothing to focus on yet.")
    if sign.code == "sharp":
        return QCoreApplication.translate("signs", "Sharp: edge blur {blur} px.").format(blur=f"{sign.value:.1f}")
    if least_blur_px is not None and least_blur_px < 0.8 * sign.value:
        return QCoreApplication.translate(
            "signs", "Edge blur {blur} px; it was {best} px a moment ago: move the lens back to there."
        ).format(blur=f"{sign.value:.1f}", best=f"{least_blur_px:.1f}")
    return QCoreApplication.translate(
        "signs", "Edge blur {blur} px: raise or lower the lens until this is smallest, under 2 px."
    ).format(blur=f"{sign.value:.1f}")


def alignment_words(sign: Sign, look: LiveDetection) -> str:
    """One sentence about how the part lies."""
    if look.refusal is not None and sign.code == look.refusal.code:
        return (
            QCoreApplication.translate("signs", "Nothing can be seen in this light.")
            if sign.good is None
            else worded(look.refusal)
        )
    if sign.code == "turn":
        # the axis leans clockwise: back the other way
        words = (
            QCoreApplication.translate("signs", "Turn the part {angle}° anticlockwise.")
            if sign.value > 0
            else QCoreApplication.translate("signs", "Turn the part {angle}° clockwise.")
        )
        return words.format(angle=f"{abs(sign.value):.0f}")
    number, tilt = f"{sign.value:.1f}", "" if look.tilt_deg is None else f"{look.tilt_deg:.1f}"
    pitch = "" if look.pitch_px is None else f"{look.pitch_px:.0f}"
    words = {
        "several_parts": QCoreApplication.translate("signs", "{whole} parts in view: leave one on the pad."),
        "too_large": QCoreApplication.translate(
            "signs", "The part leaves the picture on {sides} sides: step back, or move it."
        ),
        "plain": QCoreApplication.translate("signs", "Straight to {lean}°; no thread in view."),
        "tilted": QCoreApplication.translate(
            "signs", "The axis leans {number}° toward or away from the lens: raise or lower one end."
        ),
        "too_small": QCoreApplication.translate("signs", "Too small: a thread is only {pitch} px long. Come closer."),
        "few_threads": QCoreApplication.translate("signs", "Only {number} threads in view: show at least 4."),
        "straight": QCoreApplication.translate(
            "signs", "Straight: {number} threads of {pitch} px in view, tilt {tilt}°."
        )
        if tilt
        else QCoreApplication.translate("signs", "Straight: {number} threads of {pitch} px in view."),
    }[sign.code]
    return words.format(
        number=number, whole=f"{sign.value:.0f}", sides=len(look.touches), pitch=pitch, tilt=tilt,
        lean=f"{abs(sign.value):.1f}",
    )  # fmt: skip
