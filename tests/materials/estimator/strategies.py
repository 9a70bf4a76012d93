"""Hypothesis strategies of shapes at the sizes a workshop makes."""

import math

from hypothesis import strategies as st

from materials.estimator.shapes import (
    Box,
    Cap,
    Cylinder,
    Ellipsoid,
    Frustum,
    Measured,
    Prism,
    Shape,
    Sphere,
    Superellipsoid,
    Torus,
    Turned,
)

lengths = st.floats(min_value=0.05, max_value=5.0)
exponents = st.floats(min_value=0.1, max_value=2.0)

spheres = st.builds(Sphere, lengths)
ellipsoids = st.builds(Ellipsoid, lengths, lengths, lengths)
superellipsoids = st.builds(Superellipsoid, lengths, lengths, lengths, exponents, exponents)
cylinders = st.builds(Cylinder, lengths, lengths)
frustums = st.builds(Frustum, lengths, lengths, lengths)
boxes = st.builds(Box, lengths, lengths, lengths)


@st.composite
def tori(draw: st.DrawFn) -> Torus:
    """Rings whose tube leaves a hole."""
    ring_m = draw(lengths)
    return Torus(ring_m, ring_m * draw(st.floats(min_value=0.1, max_value=0.95)))


@st.composite
def caps(draw: st.DrawFn) -> Cap:
    """From shallow dishes to nearly whole spheres."""
    sphere_m = draw(lengths)
    return Cap(sphere_m, sphere_m * draw(st.floats(min_value=0.1, max_value=1.0)))


@st.composite
def stars(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """Simple outlines, seldom convex: corners at rising angles and any distance from the middle."""
    count = draw(st.integers(min_value=3, max_value=12))
    radii = draw(st.lists(st.floats(min_value=0.1, max_value=3.0), min_size=count, max_size=count))
    turns = [2 * math.pi * index / count for index in range(count)]
    return tuple((radius * math.cos(turn), radius * math.sin(turn)) for radius, turn in zip(radii, turns, strict=True))


prisms = st.builds(Prism, stars(), lengths)


@st.composite
def turned_forms(draw: st.DrawFn) -> Turned:
    """Sides of any radius that rise from the foot, one end perhaps a point."""
    rises = draw(st.lists(st.floats(min_value=0.05, max_value=1.0), min_size=1, max_size=8))
    radii = draw(st.lists(st.floats(min_value=0.05, max_value=2.0), min_size=len(rises), max_size=len(rises)))
    heights = [sum(rises[:at]) for at in range(len(rises) + 1)]
    foot_m = draw(st.just(0.0) | st.floats(min_value=0.05, max_value=2.0))
    return Turned(tuple(zip([foot_m, *radii], heights, strict=True)))


@st.composite
def measured(draw: st.DrawFn) -> Measured:
    """Sections known by their figures alone, with and without a volume."""
    length_m, width_m, height_m = draw(lengths), draw(lengths), draw(lengths)
    share = draw(st.none() | st.floats(min_value=0.01, max_value=1.0))
    volume_m3 = None if share is None else share * length_m * width_m * height_m
    return Measured(draw(lengths), volume_m3, length_m, width_m, height_m)


closed: st.SearchStrategy[Shape] = st.one_of(
    spheres, ellipsoids, superellipsoids, cylinders, frustums, boxes, tori(), prisms
)
solids: st.SearchStrategy[Shape] = st.one_of(closed, caps(), turned_forms())
shapes: st.SearchStrategy[Shape] = st.one_of(solids, measured())
