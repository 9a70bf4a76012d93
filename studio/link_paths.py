"""Addresses that hold a token: where they stand, and how the token is kept out of what is logged."""

import logging
import re

PREFIX = "/l/"
_TOKEN = re.compile(rf"{PREFIX}[^/\s?#\"']+")


def without_tokens(text: str) -> str:
    """Text in which every token of a link's address is left out."""
    return _TOKEN.sub(f"{PREFIX}…", text)


class WithoutTokens(logging.Formatter):
    """Writes a line of the log with its traceback, and no token in either."""

    def format(self, record: logging.LogRecord) -> str:
        """The line."""
        return without_tokens(super().format(record))
