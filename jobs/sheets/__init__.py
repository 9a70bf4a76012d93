"""The sheets that hang in the workshop and those that leave with the crate.

A kind of sheet is one module here and one fragment in ``templates/sheets``:
what it is about, what may be asked of it, and how its answer is worked from
what is known already. One page and one document serve all of them.
"""
