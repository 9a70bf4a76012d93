"""The price book as a file: out as CSV or XLSX, and back in.

``rows`` is one line of either; ``writing`` and ``reading`` (with ``workbook``)
know the formats; ``planning`` works out what a file would change; ``applying``
changes it, and only what was shown.
"""
