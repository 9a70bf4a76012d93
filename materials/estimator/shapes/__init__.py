"""Closed forms: a section's figures from a few dimensions.

``SHAPES`` names every shape and what to give for it; ``make_shape`` makes one,
``form_of`` measures it, ``outline_of`` draws it, ``scaled`` makes it larger.

Shapes stand on z = 0 with the middle of their extents over the origin. Ends
that are part of a closed skin are counted (cylinder, frustum, prism, box); the
flat of a cap is where it joins its neighbour and is not.
"""

from materials.estimator.shapes.curved import Cap, Ellipsoid, Sphere, Superellipsoid, Torus
from materials.estimator.shapes.elliptic import ellipse_perimeter_m, ellipsoid_area_m2
from materials.estimator.shapes.measured import Measured
from materials.estimator.shapes.polygon import Polygon
from materials.estimator.shapes.registry import (
    SHAPES,
    Dimension,
    Shape,
    ShapeKind,
    form_of,
    make_shape,
    outline_of,
    scaled,
)
from materials.estimator.shapes.straight import Box, Cylinder, Frustum, Prism
from materials.estimator.shapes.superellipse import superellipse_area_m2
from materials.estimator.shapes.turned import Turned

__all__ = [
    "SHAPES",
    "Box",
    "Cap",
    "Cylinder",
    "Dimension",
    "Ellipsoid",
    "Frustum",
    "Measured",
    "Polygon",
    "Prism",
    "Shape",
    "ShapeKind",
    "Sphere",
    "Superellipsoid",
    "Torus",
    "Turned",
    "ellipse_perimeter_m",
    "ellipsoid_area_m2",
    "form_of",
    "make_shape",
    "outline_of",
    "scaled",
    "superellipse_area_m2",
]
