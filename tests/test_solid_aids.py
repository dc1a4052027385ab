"""What holds for every solid of the catalogue, in all its examples: as other programs read its files."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from solids import EXAMPLES, example_of, job_of, meshes, overhangs, strict_3mf

from jigs.guides.catalogue import find_solid_aid, solid_aids
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render.stl import write_stl
from layouts.render.three_mf import write_three_mf

every_example = pytest.mark.parametrize(("name", "number"), EXAMPLES)


@every_example
def test_readers_of_others_find_closed_bodies_that_need_no_supports(name: str, number: int, tmp_path: Path) -> None:
    solid = job_of(name, number).solid()
    data = write_three_mf(solid)
    assert strict_3mf(data, tmp_path).GetMeshObjects().Count() == len(solid.bodies)
    read = meshes(solid)
    assert sorted(read) == sorted(body.name for body in solid.bodies)
    for body in solid.bodies:
        mesh = read[body.name]
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(body.volume_mm3, rel=1e-6)
        assert mesh.bounds[0][2] == pytest.approx(0, abs=1e-6)  # it lies on the bed
        assert overhangs(mesh) == []


@every_example
def test_it_is_made_alike_twice_and_in_a_moment(name: str, number: int) -> None:
    """To reach: 50 ms in process; held loosely, for a machine that does other work."""
    first = job_of(name, number).solid()
    start = time.process_time()
    again = find_solid_aid(name).make_solid(example_of(name, number)).solid()
    data = write_three_mf(again)
    assert time.process_time() - start < 0.25
    assert data == write_three_mf(first)
    assert write_stl(again) == write_stl(first)


@pytest.mark.parametrize("name", [aid.name for aid in solid_aids()])
def test_its_leaf_says_what_harms_it_and_how_it_is_printed(name: str) -> None:
    pages = compose(job_of(name, 0).leaf, Setup(paper=find_paper("a4")))
    words = " ".join(getattr(mark, "string", "") for page in pages for mark in page.marks())
    for said in ("PLA softens in a warm car", "torch", "wax", "local codes", "without supports"):
        assert said in words
