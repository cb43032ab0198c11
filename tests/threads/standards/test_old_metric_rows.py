"""Old metric threads and Thury threads: that the rows are those of the pages they were taken from, and of the rule."""

from tests.each import each
from threads.standards.designation import parse
from threads.standards.series import entries

# An online table of metric screw thread series: diameter and pitch of the SI coarse and of the DIN standard series.
ONLINE_COARSE = {
    3: 0.5, 4: 0.7, 5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3.0,
}  # fmt: skip


@each("series", ["SI", "DIN"])
@each(("diameter", "pitch"), ONLINE_COARSE.items())
def test_the_coarse_pitch_is_meant_where_none_is_written(series, diameter, pitch):
    assert parse(f"{series} {diameter}").entry.pitch_mm == pitch


def test_the_diameters_that_tell_old_metric_threads_from_iso_are_there():
    for series in ("SI small", "DIN"):
        diameters = {entry.major_mm: entry.pitch_mm for entry in reversed(entries(series))}
        assert (diameters[1.7], diameters[2.3], diameters[2.6], diameters[5.5]) == (0.35, 0.4, 0.45, 0.9)
    assert not {1.7, 2.3, 2.6} & {entry.major_mm for name in ("M", "M fine") for entry in entries(name)}


# Articles on the Thury thread in online encyclopedias: number 0 is 6 mm by 1 mm, number -20 75.2 mm by 8.23 mm.
def test_thury_sizes_follow_the_rule_that_gives_its_largest_screw():
    def rule(number):
        pitch = 0.9**number
        return float(f"{6 * pitch**1.2:.3g}"), float(f"{pitch:.3g}")

    assert rule(-20) == (75.2, 8.23)
    assert rule(0) == (6.0, 1.0)
    for entry in entries("Thury"):
        assert (entry.major_mm, entry.pitch_mm) == rule(int(entry.size))
