"""Price from the model itself: meshes read, measured, cut into sections and drawn.

A file goes through ``reading`` (which has it parsed in a limited process of its
own), ``tidying`` and ``standing``; what comes out stands in metres, z up, foot
at 0. ``measuring``, ``cutting``, ``planes`` and ``drawing`` work on that.
"""
