"""A job written down: JSON, with lengths as text that carries its unit.

``read_spec`` reads what is already an object (a commission's stored
specification), ``read_file`` a file. Whatever is left out is the studio's
default; whatever is not known is refused by name. The fields:

- name, catalyst_percent, sections;
- allowances: gel_coat, glass, overlap, resin (glass given alone is the whole of it);
- of a section: name, shape, dimensions (see ``estimator.shapes.SHAPES``; points also
  have a unit), scale (a number, or from and to), count, mirrored, grade, metal, crate,
  stand, offset; all but the dimensions are at full size;
- of a section of shape "mesh", in place of dimensions and scale: file (a model, its path
  from the specification), unit or finished_height, up, cuts (each a normal of
  three numbers and an offset); each part is then a section of its own; or form and outlines,
  the figures by value;
- pattern: method, filler, barrier_coats, wax_coats, block (three lengths);
- mould: pieces, seam, seam_closed, return_width, layup, frame (of a piece);
- cast: pulls, layup, joining (strip_width, layers, ply, bolt_pitch);
- finish: system (a studio's, by name), or coats (kind, volume_solids, dry_film, coats,
  loss, hardener_per_base, thinner);
- layup: a studio's, by name, or name, gel_coat, plies (kind, weight, glass_fraction,
  layers), return_extra_layers.
"""

from materials.specfile.file import read_file
from materials.specfile.job import read_spec
from materials.specfile.modelled import MESH, VIEWS, Modelled, form_data, outlines_data
from materials.specfile.sections import read_shape

__all__ = [
    "MESH",
    "VIEWS",
    "Modelled",
    "form_data",
    "outlines_data",
    "read_file",
    "read_shape",
    "read_spec",
]
