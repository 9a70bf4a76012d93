"""What the tests read out of a PDF."""

import io
import re
from collections.abc import Iterator

import pikepdf
import pypdf


def opened(pdf: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(pdf))


def pages(pdf: bytes) -> list[str]:
    """The text of each page, every run of white space made one blank."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


def text(pdf: bytes) -> str:
    return " ".join(pages(pdf))


def attachments(pdf: bytes) -> list[str]:
    return list(pypdf.PdfReader(io.BytesIO(pdf)).attachments)


def outline(pdf: bytes) -> list[str]:
    """The titles of all bookmarks, in order."""
    found = []

    def walk(items: list[object]) -> None:
        for item in items:
            if isinstance(item, list):
                walk(item)
            else:
                found.append(str(item["/Title"]))

    walk(pypdf.PdfReader(io.BytesIO(pdf)).outline)
    return found


def elements(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Dictionary]:
    """Every structure element, in reading order."""

    def walk(element: pikepdf.Object) -> Iterator[pikepdf.Dictionary]:
        if isinstance(element, pikepdf.Dictionary) and "/S" in element:
            yield element
            for kid in element.get("/K", []):
                yield from walk(kid)

    for root in pdf.Root.StructTreeRoot.K:
        yield from walk(root)


def fonts(pdf: pikepdf.Pdf) -> dict[str, bool]:
    """Every font by its name without the subset's prefix, and whether it stands in the file."""
    found = {}
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor":
            embedded = any(key in each for key in ("/FontFile", "/FontFile2", "/FontFile3"))
            found[str(each.FontName).partition("+")[2] or str(each.FontName)] = embedded
    return found


def streams(pdf: bytes) -> bytes:
    """Everything that stands packed in the file, unpacked as far as it can be."""
    file, found = opened(pdf), []
    for each in file.objects:
        if isinstance(each, pikepdf.Stream):
            try:
                found.append(each.read_bytes())
            except pikepdf.PdfError:
                found.append(each.read_raw_bytes())
    return b"".join(found)
