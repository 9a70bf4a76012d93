"""HTML becomes a tagged PDF. The only module that imports weasyprint.

A document may hold what people typed, so nothing is fetched for it but the
stylesheet of documents and the typeface, each by its own name; every other
address is refused before anything is opened.
"""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.conf import settings

from studio.fonts import build_fonts

# Never opened: the last part is reserved, so that no machine can have this name (RFC 2606).
PLACE = "https://documents.invalid/static/"
STYLESHEET = PLACE + "css/document.css"

_DATA_IMAGE = re.compile(r"data:image/(?:png|jpeg|svg\+xml)[;,]")
# What XML cannot hold and a database may: control characters and halves of surrogate pairs.
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def render_pdf(html: str, *, title: str, language: str = "en-GB") -> bytes:
    """One document as PDF/UA-1: tagged, with title, language and bookmarks, its fonts inside.

    Parameters
    ----------
    html : str
        A whole page whose user text is escaped; ``static/css/document.css`` is applied to it.
    title : str
        Shown by the reader in place of the file's name.
    language : str
        BCP 47 tag of the text.

    Returns
    -------
    bytes
        The same for the same arguments: nothing of the time or the machine goes in.
    """
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    fetcher = _fetcher(_named_files())
    style = CSS(url=STYLESHEET, url_fetcher=fetcher, font_config=fonts)
    source = HTML(string=_UNPRINTABLE.sub("\ufffd", html), base_url=PLACE, url_fetcher=fetcher, media_type="print")
    document = source.render(font_config=fonts, stylesheets=[style], pdf_variant="pdf/ua-1")
    document.metadata.title = _UNPRINTABLE.sub("\ufffd", title)
    document.metadata.lang = language
    pdf: bytes = document.write_pdf(pdf_variant="pdf/ua-1")
    return pdf


def _named_files() -> Mapping[str, Path]:
    """Every address that a document may name, with the file it stands for."""
    found = {f"{PLACE}fonts/{path.name}": path for path in build_fonts(settings.FONT_DIR)}
    return {STYLESHEET: settings.BASE_DIR / "static" / "css" / "document.css", **found}


def _fetcher(named: Mapping[str, Path]) -> Any:
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class NamedFiles(URLFetcher):  # type: ignore[misc]
        """Answers from the given files, and with pictures that stand in the document itself."""

        def fetch(self, url: str, headers: object = None) -> Any:
            if url in named:
                kind = "text/css" if url == STYLESHEET else "font/woff2"
                return URLFetcherResponse(url, named[url].read_bytes(), {"Content-Type": kind})
            if _DATA_IMAGE.match(url):
                return super().fetch(url)
            raise ValueError("A document may name its stylesheet, its fonts and pictures within it; this is none.")

    return NamedFiles(allowed_protocols=("data",), allow_redirects=False)
