"""The outline drawing: every section in its place, to one scale, with its overall sizes.

``stack`` says where sections stand, ``Placed`` puts an outline there and
``drawing_svg`` draws them all.
"""

from materials.drawing.hatches import HATCHED_STAGES
from materials.drawing.placing import Placed, Placement, Standing, stack
from materials.drawing.sheet import drawing_svg

__all__ = ["HATCHED_STAGES", "Placed", "Placement", "Standing", "drawing_svg", "stack"]
