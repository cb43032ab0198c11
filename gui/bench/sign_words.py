"""The signs in words: what is well, and what to change."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from gui.said import said
from vision.live_look import LiveLook
from vision.live_signs import Sign


def light_words(sign: Sign) -> str:
    """One sentence about the light."""
    percent = f"{100 * sign.value:.0f}"
    share = f"{100 * sign.value:.1f}" if sign.value < 0.1 else percent
    tr = QCoreApplication.translate
    return {
        "black": tr("signs", "The picture is black: switch the light pad on, or expose longer."),
        "saturated": tr("signs", "Too bright: {share} % of the ground is burnt out. Expose shorter or dim the pad."),
        "from_front": tr("signs", "The light comes from the front: put the light pad behind the part."),
        "nearly_white": tr("signs", "Nearly white ({percent} % of full scale): expose a little shorter."),
        "dim": tr("signs", "Dim ({percent} % of full scale): expose longer or turn the pad up."),
        "uneven": tr("signs", "Uneven: {percent} % darker in one place than in another. Centre the pad."),
        "even": tr("signs", "Even, at {percent} % of full scale, nothing burnt out."),
    }[sign.code].format(share=share, percent=percent)


def focus_words(sign: Sign, least_blur_px: float | None) -> str:
    """One sentence about the focus. ``least_blur_px``: the best since the source was chosen."""
    tr = QCoreApplication.translate
    if sign.code == "nothing_to_focus_on":
        return tr("signs", "Nothing to focus on yet.")
    if sign.code == "sharp":
        return tr("signs", "Sharp: edge blur {blur} px.").format(blur=f"{sign.value:.1f}")
    if least_blur_px is not None and least_blur_px < 0.8 * sign.value:
        return tr("signs", "Edge blur {blur} px; it was {best} px a moment ago: move the lens back to there.").format(
            blur=f"{sign.value:.1f}", best=f"{least_blur_px:.1f}"
        )
    return tr("signs", "Edge blur {blur} px: raise or lower the lens until this is smallest, under 2 px.").format(
        blur=f"{sign.value:.1f}"
    )


def alignment_words(sign: Sign, look: LiveLook) -> str:
    """One sentence about how the part lies."""
    tr = QCoreApplication.translate
    if look.refusal is not None and sign.code == look.refusal.code:
        return tr("signs", "Nothing can be seen in this light.") if sign.good is None else said(look.refusal.message)
    if sign.code == "turn":
        # the axis leans clockwise: back the other way
        words = (
            tr("signs", "Turn the part {angle}° anticlockwise.")
            if sign.value > 0
            else tr("signs", "Turn the part {angle}° clockwise.")
        )
        return words.format(angle=f"{abs(sign.value):.0f}")
    number, tilt = f"{sign.value:.1f}", "" if look.tilt_deg is None else f"{look.tilt_deg:.1f}"
    pitch = "" if look.pitch_px is None else f"{look.pitch_px:.0f}"
    words = {
        "several_parts": tr("signs", "{whole} parts in view: leave one on the pad."),
        "too_large": tr("signs", "The part leaves the picture on {sides} sides: step back, or move it."),
        "plain": tr("signs", "Straight to {lean}°; no thread in view."),
        "tilted": tr("signs", "The axis leans {number}° toward or away from the lens: raise or lower one end."),
        "too_small": tr("signs", "Too small: a thread is only {pitch} px long. Come closer."),
        "few_threads": tr("signs", "Only {number} threads in view: show at least 4."),
        "straight": tr("signs", "Straight: {number} threads of {pitch} px in view, tilt {tilt}°.")
        if tilt
        else tr("signs", "Straight: {number} threads of {pitch} px in view."),
    }[sign.code]
    return words.format(
        number=number, whole=f"{sign.value:.0f}", sides=len(look.touches), pitch=pitch, tilt=tilt,
        lean=f"{abs(sign.value):.1f}",
    )  # fmt: skip
