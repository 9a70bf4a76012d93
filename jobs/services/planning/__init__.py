"""The plan of the whole studio: what is still to be done, who is there to do it, and what is supposed.

``gather`` turns commissions into what ``jobs.figures.activities`` plans; ``crew``
says who is there; ``problem`` puts both together for the solver, ``kept`` makes
plain values of it, and ``suppositions`` changes it. Nothing here writes.
"""
