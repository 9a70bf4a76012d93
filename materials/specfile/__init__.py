"""A job written down: JSON, with lengths as text that carries its unit.

``read_spec`` reads what is already an object (a commission's stored
specification), ``read_file`` a file. Whatever is left out is the studio's
default; whatever is not known is refused by name.
"""

from materials.specfile.file import read_file
from materials.specfile.job import read_spec
from materials.specfile.sections import read_shape

__all__ = ["read_file", "read_shape", "read_spec"]
