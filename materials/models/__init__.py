"""The rows of the stores: what can be bought, what it costs, how it is laid up and how long it takes."""

from materials.models.catalogue import Item, ItemKind, Pack, Price
from materials.models.checked import Checked
from materials.models.figures import Figure, WorkNorm
from materials.models.gel import GelTime
from materials.models.meshes import ModelFile
from materials.models.schemes import LayUp, LayUpPly, LayUpUse, PaintCoat, PaintSystem
from materials.models.stores import Lot, Movement, MovementKind

__all__ = [
    "Checked",
    "Figure",
    "GelTime",
    "Item",
    "ItemKind",
    "LayUp",
    "LayUpPly",
    "LayUpUse",
    "Lot",
    "ModelFile",
    "Movement",
    "MovementKind",
    "Pack",
    "PaintCoat",
    "PaintSystem",
    "Price",
    "WorkNorm",
]
