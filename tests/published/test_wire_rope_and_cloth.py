"""Strength of rope and stiffness of sailcloth against printed figures."""

from __future__ import annotations

import pytest

from luffwright.sails.fabric import rope, woven


@pytest.mark.source(
    work="Yacht magazine's test of 10 mm ropes",
    where="breaking loads 2096 daN (polyester) and 4132 daN (HMPE core)",
    tolerance="rel 1 %: the values are taken from there",
)
@pytest.mark.parametrize(("fibre", "break_dan"), [("polyester", 2096.0), ("dyneema", 4132.0)])
def test_ten_millimetre_rope_breaks_where_the_test_broke_it(fibre: str, break_dan: float) -> None:
    assert rope(0.010, fibre).breaking / 10.0 == pytest.approx(break_dan, rel=0.01)


@pytest.mark.source(
    work="Yacht magazine's test of 10 mm ropes",
    where="polyester: 2096 daN, at 25 % of stretch (a knot book)",
    tolerance="the program's rope is the stiffer, up to twice: rope stiffens less near its break",
)
def test_polyester_rope_under_working_load_is_stiffer_than_its_mean_to_the_break() -> None:
    mean = 20960.0 / 0.25
    assert mean < rope(0.010, "polyester").stiffness < 2.0 * mean


TUBES = (
    "Breukels, An engineering methodology for kite design, thesis TU Delft 2011: bending and "
    "torsion of inflated tubes, turned into stiffness of their cloth"
)


@pytest.mark.source(
    work=TUBES,
    where="polyester cloth of 160 to 170 g/m² (from memory): 154 to 325 kN/m along the tube",
    tolerance="within the printed range: the light threads",
)
def test_new_cloth_is_as_stiff_along_its_light_threads_as_measured() -> None:
    assert 154e3 < woven(0.165, 0.0).warp < 325e3


@pytest.mark.xfail(
    strict=True,
    reason="561 kN/m: kites are of balanced cloth, sails of cloth woven for their leech. Both "
    "sources cannot hold at once; the printed woven cloth below is uneven as sails' is",
)
@pytest.mark.source(
    work=TUBES,
    where="polyester cloth of 160 to 170 g/m² (from memory): 154 to 325 kN/m along the tube",
    tolerance="within the printed range: the heavy threads",
)
def test_new_cloth_is_as_stiff_along_its_heavy_threads_as_measured() -> None:
    assert 154e3 < woven(0.165, 0.0).fill < 325e3


WOVEN = "Data sheet of a woven polyester geotextile 150/50 (a maker's page), 326 g/m²"


@pytest.mark.source(
    work=WOVEN,
    where="35.7 kN/m along its heavy threads and 14.2 kN/m along the light ones at 2 % of strain",
    tolerance="0.5 to 1 of it: threads as dense as a sail's are more crimped",
)
def test_cloth_for_a_leech_is_as_uneven_as_a_woven_cloth_measured() -> None:
    heavy, light = 35.7e3 / 0.02, 14.2e3 / 0.02
    cloth = woven(0.326, 0.0)
    assert 0.5 < cloth.fill / heavy < 1.0
    assert 0.5 < cloth.warp / light < 1.0


@pytest.mark.source(
    work="Teijin, Tensile properties of industrial fibers (a maker's table)",
    where="polyester: modulus 90 cN/dtex, 1300 kg/mm² at a density of 1.38",
    tolerance="both ways of writing agree within 3 %; cloth is no stiffer than its fibre",
)
def test_both_ways_of_the_threads_together_stay_below_the_fibre() -> None:
    by_section = 1300.0 * 9.80665e6 / 1380.0
    fibre = 9.0e6
    assert pytest.approx(by_section, rel=0.03) == fibre
    cloth = woven(0.2, 0.0)
    assert 0.25 * fibre * 0.2 < cloth.warp + cloth.fill < fibre * 0.2


@pytest.mark.source(
    work=TUBES,
    where="24 to 44 kN/m in shear, 0.10 to 0.26 of the stiffness along the threads",
    tolerance="within the printed range",
)
def test_new_cloth_is_as_soft_on_the_bias_as_measured() -> None:
    cloth = woven(0.165, 0.0)
    assert 24e3 < cloth.shear < 44e3
    assert 0.10 < cloth.shear / cloth.warp < 0.26
