"""The demo's photos, drawn here, plain and shaded: they show no real work."""

import io


def nuts(caption: str) -> bytes:
    """Three nuts in a row under a caption of their own, so that no two photos are the same."""
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (1200, 900), "#cfc9ba")
    pen = ImageDraw.Draw(image)
    pen.rectangle((0, 640, 1200, 900), fill="#a79f8c")
    for place in range(3):
        left = 130 + 330 * place
        for step in range(60):
            shade = 120 + 2 * step - (30 if caption.startswith("The") and place == 1 else 0)
            pen.ellipse(
                (left + step, 260 + step, left + 280 - step, 700 - step),
                fill=(shade, int(shade * 0.83), int(shade * 0.6)),
            )
        pen.chord((left - 20, 200, left + 300, 480), 180, 360, fill="#6d5638")
    pen.text((30, 850), caption, fill="#1f2a30")
    return _jpeg(image)


def buoy(caption: str) -> bytes:
    """A red buoy with a white band in a yard, under a caption of its own."""
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (1200, 900), "#cfc9ba")
    pen = ImageDraw.Draw(image)
    pen.rectangle((0, 660, 1200, 900), fill="#a79f8c")
    for step in range(60):
        red = 130 + step
        pen.polygon(
            (
                (420 + 2 * step, 760),
                (470 + 2 * step, 420),
                (580, 130),
                (620, 130),
                (730 - 2 * step, 420),
                (780 - 2 * step, 760),
            ),
            fill=(red, 30 + step // 3, 26 + step // 3),
        )
    pen.rectangle((468, 430, 732, 500), fill="#f3f0e6")
    pen.text((30, 850), caption, fill="#1f2a30")
    return _jpeg(image)


def sheet_signed(number: str) -> bytes:
    """A page with a signature, as a phone would take it."""
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (900, 1270), "#f4f1e8")
    pen = ImageDraw.Draw(image)
    pen.rectangle((40, 40, 860, 1230), outline="#1f2a30", width=3)
    pen.text((70, 70), f"Sign-off {number}", fill="#1f2a30")
    for line in range(9):
        pen.line((70, 160 + 60 * line, 830, 160 + 60 * line), fill="#b9b4a6")
    pen.line([(120 + 9 * step, 1020 + (step * 37) % 60) for step in range(40)], fill="#1d4e6b", width=4)
    return _jpeg(image)


def _jpeg(image: object) -> bytes:
    from PIL import Image

    assert isinstance(image, Image.Image)
    target = io.BytesIO()
    image.save(target, "JPEG", quality=88)
    return target.getvalue()
