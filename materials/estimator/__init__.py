"""What a form needs, by arithmetic: no framework, no database, no clock.

Read in this order: ``form`` and ``shapes`` (the geometry), ``spec`` and
``studio`` (what is to be made, and a studio's figures), ``reference`` and
``norms`` (those figures as delivered), ``laminate``, ``coatings`` and ``mix``
(what lies on a square metre), ``working`` (lines that carry their arithmetic),
``counts``, ``seams``, ``pattern``, ``mould``, ``cast``, ``finish``,
``sending`` and ``hours`` (what each stage needs), ``takeoff`` (the one entry),
``lines`` (what comes out), ``catalogue`` (what it is called).
"""
