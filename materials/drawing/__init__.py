"""The outline drawing: every section in its place, to one scale, with its overall sizes.

``stack`` says where sections stand, ``Placed`` puts an outline there and
``drawing_svg`` draws them all.
"""

from materials.drawing.hatches import HATCHED_STAGES
from materials.drawing.placing import Footing, Placed, Placement, stack
from materials.drawing.sheet import drawing_svg

__all__ = ["HATCHED_STAGES", "Footing", "Placed", "Placement", "drawing_svg", "stack"]
