"""What a form needs, by arithmetic: no framework, no database, no clock.

Read in this order: ``form`` and ``shapes`` (the geometry), ``spec`` (what is to
be made), ``laminate`` and ``coatings`` (what lies on a square metre),
``pattern``, ``mould``, ``cast`` (what each stage needs), ``takeoff`` (the one
entry), ``lines`` (what comes out).
"""
