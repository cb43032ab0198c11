"""Spellings of designations: what each means, which are refused, and which can mean two threads.

The meanings are those of the standards' own notation (ASME B1.1, ISO 965-1, BS 84, BS 93) and of the trade's habits
(common practice, no source); none was taken from what the program answers.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import message
from tests.each import each
from threads.standards import spelling
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.series import entries

MEANT = {
    "4-40 UNC-2A": (
        "4-40 UNC-2A", "4-40unc2a", "4-40 UNC 2A", "#4-40 UNC-2A", "# 4-40 UNC-2A", "No. 4-40 UNC-2A", "No 4-40 UNC 2A",
        "no.4-40 unc", "Nr. 4-40 UNC", "№ 4-40 UNC", "UNC 4-40", "UNC #4-40", "UNC No. 4-40 2A", "UNC-4-40-2A",
        "4 - 40 UNC - 2A", "4–40 UNC−2A", "4x40 UNC", "4 × 40 UNC", "4*40 UNC", "4 40 UNC", "4-40 U.N.C.", "#4 UNC",
        "UNC 4", "4-40 tpi UNC", "0.112-40 UNC", ".112-40 UNC-2A", "0,112-40 UNC", "4-40 UNC-2A RH",
    ),
    "1/4-20 UNC-2A": (
        '1/4"-20 UNC', "1/4″ - 20 UNC", "1/4” x 20 UNC", "1/4 in-20 UNC", "1/4 in. - 20 UNC", "1/4inch-20 UNC",
        "1/4''-20 UNC", "1/4 20 UNC", '1/4" 20 UNC-2A', "1/4 UNC", 'UNC 1/4"', "UNC 1/4-20", "0.25-20 UNC",
        "0.250-20 UNC", ".2500-20 UNC", "¼-20 UNC", '¼" UNC', "1\u20444-20 UNC", "1/4-20 T.P.I. UNC",
    ),
    "1/2-13 UNC-2A": ("0.5-13 UNC", "0.500-13 UNC", "1/2-13 UNC", "½-13 UNC", "UNC 0.5-13", ".5-13 unc 2a", "1/2 UNC"),
    "1/4-20 UNC-2B": ("1/4-20 UNC-2B", "1/4 - 20  UNC 2B", "1/4-20 UNC nut", "UNC 1/4-20-2B", "UNC 1/4 2B"),
    "1/4-20 UNC-2A-LH": (
        "1/4-20 UNC-2A LH", "1/4-20 UNC-2A-LH", "1/4-20 UNC LH", "1/4 UNC left hand", "1/4-20 UNC L.H.",
        "1/4-20 UNC left-handed",
    ),
    "5-40 NC-2": ("No. 5-40 NC", "#5-40 NC", "5-40 N.C.", "NC 5-40", "NC #5-40-2", "5-40nc2", "5 NC", "0.125-40 NC"),
    "10-32 NF-3": ("10-32nf3", "10-32 NF 3", "NF 10-32-3", "No. 10 - 32 NF-3", "0.190-32 NF-3"),
    "12-32 UNEF-3A": ("12-32 UNEF-3A", "UNEF 12-32 3A", "#12 UNEF 3A"),
    "1.25-12 UNF-2A": ("1 1/4-12 UNF", "1-1/4-12 UNF", "1¼-12 UNF", "1.25-12 UNF", "1.250-12 UNF", '1 1/4"-12 UNF'),
    "1.125-8 UN-2A": ("1 1/8-8 UN", "1-1/8-8 UN", "1 1/8 8 UN", "UN 1 1/8-8"),
    "4-40 UNRC-2A": ("4-40 UNRC", "UNRC 4-40-2A", "#4-40 UNRC 2A"),
    "M3x0.5-6g": (
        "M3", "m3", "M 3", "M3x0.5", "M3x.5", "M3X0.5", "M3×0.5", "M3*0.5", "M3-0.5", "M3-.5", "M3 x 0.5", "M3 - 0.5",
        "M3x0,5", "M3 × 0,5", "M3 0.5", "M3 0,5", "M3-6g", "M3 6g", "M3x0.5-6g", "M3x0.5 6g", "M3-0.5-6g", "M3 0.5 6g",
    ),
    "M3x0.5-6H": ("M3-6H", "M3 6H", "M3x0.5 - 6H", "M3-0.5-6H", "m3*0,5 6H"),
    "M3.5x0.6-6g": ("M3.5", "M3,5", "M3.5x0.6", "M3,5-0,6", "M 3,5 × 0,6 - 6g"),
    "M10x1-6g-LH": ("M10x1 LH", "M10x1-LH", "M10x1-6g-LH", "M10-1 LH", "M10*1 left hand", "M10 x 1 L.H."),
    "M8x1-6h": ("M8x1-6h", "M8-1-6h", "M8 1 6h", "M8×1 6h"),
    "M3x0.5-5g6g": ("M3x0.5-5g6g", "M3-5g6g", "M3x0.5 5g 6g"),
    "2 BA normal": ("2 BA", "2BA", "2 ba", "2 B.A.", "B.A. 2", "BA 2", "BA2", "No. 2 BA", "BA No. 2", "B.A. No 2"),
    "4 BA close": ("4 BA close", "4ba-close", "BA 4 close", "4 B.A. close"),
    "4 BA nut": ("4 BA nut", "BA 4 nut", "4 B.A. nut."),
    "4 BA normal LH": ("4 BA LH", "4 BA left hand", "BA 4 L.H."),
    "1/8-40 BSW medium": (
        '1/8" BSW', '1/8"BSW', "1/8 BSW", "1/8-40 BSW", "1/8 x 40 BSW", '1/8" x 40 B.S.W.', "1/8 40 BSW", "BSW 1/8",
        'BSW 1/8"', "BSW 1/8-40", "1/8 in. Whitworth", "1/8 Whit.", "⅛ BSW", "0.125-40 BSW", '1/8"-40 tpi BSW',
    ),
    "1/4-20 BSW medium nut": ("1/4 BSW nut", "BSW 1/4 nut", '1/4" Whit. nut'),
    "1/4-26 BSB": ('1/4" brass', "1/4-26 brass", '1/4" 26 tpi brass', "BSB 1/4", "1/4-26 ME", "1/4 x 26 ME"),
    "1/4-26 BSC": ("1/4 cycle", "CEI 1/4", "1/4 x 26 C.E.I.", "BSC 1/4-26", "0.25-26 cycle"),
    "Lowenherz 2.6": ("Lowenherz 2.6", "Löwenherz 2,6", "2.6 Loewenherz", "Lowenherz M2.6", "Lowenherz 2.6x0.45"),
    "SI 6x1": ("SI 6", "SI 6x1", "SI M6", "SI M6 x 1", "6x1 SI", "S.I. 6"),
    "DIN 2.6x0.45": ("DIN 2.6", "DIN M2,6", "DIN 2.6-0.45", "M2.6 DIN"),
    "Thury -4": ("Thury -4", "thury-4", "-4 Thury"),
    "0.80 UNM": ("0.8 UNM", ".8 UNM", "UNM 0.80", "0,8 UNM"),
    "Lens 39x26": ("M39x26 TPI", "Lens 39x26", "39x26 lens", 'Lens 39 x 1/26"', "M39 x 26"),
    "M42x1-6g": ("M42x1", "M 42 x 1", "M42-1"),
    "M40.5x0.5-6g": ("M40.5x0.5", "M40,5 x 0,5"),
    "RMS": ("RMS", "R.M.S.", "0.8-36 RMS", "RMS 0.800 x 36", "0.8 in x 36 tpi RMS"),
    "RMS nut": ("RMS nut", "rms nut"),
    "G 1/4 A": ("G 1/4", "G1/4", 'G 1/4" A', "G 1/4-A", "G 1/4 x 19", "1/4 BSPP"),
    "G 1/4 B": ("G 1/4 B", "G1/4B"),
    "1/8 IP": ("1/8 IP", "1/8 I.P.", "1/8-27 IP", "1/8 lamp"),
    "9/64-40 SM": ("9/64-40 SM", "9/64 x 40 sewing"),
    "5 WP": ("5 WP", "WP 5", "No. 5 watch"),
    "1/2-13 V": ("1/2-13 V", "V 1/2-13"),
    "JIS 4x0.75": ("JIS 4", "JIS 4x0.75", "JIS M4x0.75", "4x0.75 JIS"),
    "FR 4x0.75": ("FR 4x0.75", "4x0.75 French"),
    "SI 3x0.5": ("SI 3", "SI 3x0.5", "3x0.5 SI"),
    "1-1/4-26 BSB": ("1 1/4-26 BSB", '1 1/4" brass', "1-1/4 BSB"),
    "S0.8": ("S0.8", "S 0,8", "s .8"),
}  # fmt: skip

AMBIGUOUS = [
    ("M3 .5", {"M3x0.5-6g", "M3.5x0.6-6g"}),
    ("M 3 .5 LH", {"M3x0.5-6g", "M3.5x0.6-6g"}),
    ("#5-40", {"5-40 UNC-2A", "5-40 NC-2", "5-40 ASME special"}),
    ("4-40", {"4-40 UNC-2A", "4-40 NC-2", "4-40 ASME special"}),
    ("1/2-13", {"1/2-13 UNC-2A", "1/2-13 NC-2"}),
    ("7/16 CEI", {"7/16-26 BSC", "7/16-20 BSC"}),
    ("1/4 ME", {"1/4-40 ME", "1/4-32 ME"}),
    ("BSC 1/2", {"1/2-26 BSC", "1/2-20 BSC"}),
    ("4 UNS", {"4-32 UNS-2A", "4-36 UNS-2A"}),
]

REFUSED = [
    # a space between digits is never left out
    "M1 1", "M2. 5", "M1 0", "M3x0. 5", "1 2 BA", "4-4 0 UNC", "1 0-32 UNF", "Lowenherz 2. 6", "0 .5-13 UNC",
    # noughts before a number
    "00 BA", "04 BA", "M03", "04-40 UNC", "M3x00.5", "BA 00", "Lowenherz 02.6",
    # not in the tables, and not the next thread that is
    "1 3/16-12 UN", "26 BA", "3.5 BA", "4-41 UNC", "10-32 UNC", "M3.1", "M3x0.4", "M2.6", "SI 2.5", "1/8-42 BSW",
    "0.12-40 UNC", "4.40 UNC", "440 UNC", "M30.5", "1/3-20 UNC", "1/4-19 BSW", "000 UNS-120", "BA -2", "Thury 26",
    # classes that the standard does not have
    "1/4-20 BSW 2A", "1/4-20 BSW-2", "BSW 1/4-20 2A", "4-40 UNC-2", "4-40 UNC-2C", "4-40 NC-2A", "4-40 UNC-4A",
    "M3-6x", "M3-3H", "4 BA free", "4 BA loose", "4 BA 6g", "1/4-20 BSW loose", "M3 2A", "10-32 NF-6",
    # run together so that nobody can say where the class begins
    "M36g", "M3x0.56g", "4-402A UNC",
    # no thread
    "", "UNC", "BA", "M", "hello", "1/0-20 UNC", "1/0-20 BSW", "-", "4-40 XYZ", "2/2/2 UNC", "M3x", "M²", "M3²",
    "٣-٤٠ UNC-2A", "1e3 BA", "4-40 UNC LH LH nut", "9" * 400,
]  # fmt: skip


@each(("written", "canonical"), [(one, text) for text, spellings in MEANT.items() for one in spellings])
def test_is_read_as_it_is_meant(written, canonical):
    found = parse(written)
    assert found.text == canonical
    assert found.left_hand == canonical.endswith("LH")
    assert parse(found.text) == found


@pytest.mark.parametrize(("written", "readings"), AMBIGUOUS)
def test_what_can_mean_two_threads_is_refused_with_both(written, readings):
    with pytest.raises(UnknownDesignationError) as caught:
        parse(written)
    assert readings <= set(caught.value.nearest)
    assert all(reading in message(caught.value) for reading in readings)


@each("written", REFUSED)
def test_is_refused_in_one_line(written):
    with pytest.raises(UnknownDesignationError) as caught:
        parse(written)
    assert len(message(caught.value).splitlines()) == 1


def test_there_are_two_hundred_spellings():
    assert sum(map(len, MEANT.values())) + len(AMBIGUOUS) + len(REFUSED) >= 200


@pytest.mark.parametrize(
    ("written", "near"),
    [
        ("5-41 UNC", "5-40 UNC-2A"),
        ("1/8-42 BSW", "1/8-40 BSW medium"),
        ("M2.6", "SI 2.6x0.45"),
        ("M1 1", "M11x1.5-6g"),
        ("00 BA", "0 BA close"),
        ("1 3/16-12 UN", "1.25-12 UNF-2A"),
        ("9/64-40 UNC", "6-40 UNF-2A"),  # 0.1406 in against 0.138 in; by spelling it would be 9/16-12
        ("31/64-20 UNF", "1/2-20 UNF-2A"),
        ("M9.9", "M10x1.5-6g"),  # by spelling M9
        ("19 BSC", ""),
    ],
)
def test_the_nearest_are_near_in_diameter_and_pitch(written, near):
    with pytest.raises(UnknownDesignationError) as caught:
        parse(written)
    assert not near or near in caught.value.nearest


@given(st.floats(1.0, 25.0), st.sampled_from([0.25, 0.35, 0.5, 0.75, 1.0, 1.25, 1.5]))
def test_a_hint_is_never_farther_than_a_size_of_the_series(diameter, pitch):
    """Of M sizes, none outside the hints is nearer in both diameter and pitch than the first hint of that series."""
    try:
        parse(f"M{diameter:.3f}x{pitch:g}")
    except UnknownDesignationError as error:
        hints = [parse(text).entry for text in error.nearest]
        first = hints[0]
        off = (abs(first.major_mm - diameter), abs(first.pitch_mm - pitch))
        for entry in entries("M"):
            if entry not in hints:
                assert not (abs(entry.major_mm - diameter) < off[0] - 0.05 and abs(entry.pitch_mm - pitch) < off[1])


@given(st.text(max_size=90))
def test_no_space_is_left_in_what_is_read(text):
    meant = spelling.readings(spelling.compact(text)).meant
    assert " " not in meant
    assert len(meant) <= 3 * 90  # a sign for a fraction is three characters
