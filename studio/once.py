"""What is sent twice is done once: a key made where something was entered, and a digest of what was sent under it."""

import hashlib
import json
from collections.abc import Mapping


class KeyUsed(ValueError):
    """The key came before with other content, so that neither can be taken for the other."""

    def __init__(self) -> None:
        super().__init__("This was sent before with other figures. Load the page again and enter it afresh.")


def fingerprint(content: Mapping[str, object]) -> str:
    """The digest of what was sent; values by their text, names in a fixed order."""
    plain = {name: str(value) for name, value in content.items()}
    return hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()
