"""Work that takes longer than a second: queued, done by the worker, watched and stopped from a page.

``enqueue`` is the one way in. A row of ``Work`` says how far it is; if the
worker dies, ``requeue_stale`` puts the work back, so every handler must be
able to begin again from nothing.
"""
