"""A photograph is kept upright, small and without its position, or refused in one sentence."""

import hashlib
import struct
import zlib
from io import BytesIO

import numpy as np
import pytest
from PIL import Image, PngImagePlugin

from steelyard.errors import InputRefused
from steelyard.store.photograph import keep_photograph

LATITUDE, ORIENTATION, GPS, MAKE = 2, 0x0112, 0x8825, 0x010F
RED, BLUE = (200, 30, 30), (30, 30, 200)


def saved(picture: Image.Image, form: str = "JPEG", **options: object) -> bytes:
    """The file of a picture."""
    file = BytesIO()
    picture.save(file, form, **options)
    return file.getvalue()


def red_over_blue(width: int = 60, height: int = 40) -> Image.Image:
    """Red in the upper half, blue in the lower."""
    picture = Image.new("RGB", (width, height), RED)
    picture.paste(BLUE, (0, height // 2, width, height))
    return picture


def with_exif(orientation: int = 1) -> Image.Exif:
    """What a camera writes beside the picture: how it was held, who made it, where it was."""
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[MAKE] = "camera of the yard"
    exif.get_ifd(GPS).update({1: "N", LATITUDE: (54.0, 18.0, 30.5), 3: "W", 4: (1.0, 2.0, 3.0)})
    return exif


def opened(content: bytes) -> Image.Image:
    """The picture of what was kept."""
    return Image.open(BytesIO(content), formats=["JPEG"])


def refused(content: bytes) -> InputRefused:
    """How the file is refused."""
    with pytest.raises(InputRefused) as caught:
        keep_photograph(content)
    assert caught.value.field == "photo"
    assert caught.value.sentence.startswith("photo: ")
    return caught.value


def segments(content: bytes) -> list[int]:
    """The markers of a JPEG file before its picture, read by their lengths. Source: ITU-T T.81, B.1.1.4."""
    assert content[:2] == b"\xff\xd8"
    at, markers = 2, []
    while content[at + 1] != 0xDA:
        assert content[at] == 0xFF
        markers.append(content[at + 1])
        at += 2 + int.from_bytes(content[at + 2 : at + 4])
    return markers


def test_the_position_is_gone_and_everything_else_beside_the_picture() -> None:
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/">exif:GPSLatitude="54,18.5N"</x:xmpmeta>'
    given = saved(
        red_over_blue(), exif=with_exif(), xmp=xmp, comment=b"54.3 north", icc_profile=b"profile of a screen"
    )
    before = Image.open(BytesIO(given)).getexif()
    assert before.get_ifd(GPS)[LATITUDE] == (54.0, 18.0, 30.5)
    assert b"GPSLatitude" in given and b"54.3 north" in given

    kept = keep_photograph(given).content
    after = opened(kept)
    assert not after.getexif() and not after.getexif().get_ifd(GPS)
    assert set(after.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert {m for m in segments(kept) if 0xE0 <= m <= 0xEF or m == 0xFE} == {0xE0}
    for trace in (b"Exif", b"GPS", b"xmp", b"54.3 north", b"camera of the yard", b"profile", b"Photoshop"):
        assert trace not in kept


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_the_position_is_gone_from_other_kinds_of_file(form: str) -> None:
    given = saved(red_over_blue(), form, exif=with_exif(6))
    assert Image.open(BytesIO(given)).getexif().get_ifd(GPS)
    kept = keep_photograph(given)
    assert not opened(kept.content).getexif()
    assert b"Exif" not in kept.content
    assert (kept.width, kept.height) == (40, 60)


def test_a_text_beside_a_png_is_gone() -> None:
    texts = PngImagePlugin.PngInfo()
    texts.add_text("Location", "54.3 north", zip=False)
    given = saved(red_over_blue(), "PNG", pnginfo=texts)
    assert b"54.3 north" in given
    assert b"54.3 north" not in keep_photograph(given).content


TOP_LEFT_AFTER = {
    1: (RED, (60, 40)),
    2: (RED, (60, 40)),
    3: (BLUE, (60, 40)),
    4: (BLUE, (60, 40)),
    5: (RED, (40, 60)),
    6: (BLUE, (40, 60)),
    7: (BLUE, (40, 60)),
    8: (RED, (40, 60)),
}
"""Colour at the top left and size once upright; source: EXIF orientation as its tag is defined, by hand."""


@pytest.mark.parametrize("number", TOP_LEFT_AFTER)
def test_it_is_turned_upright(number: int) -> None:
    colour, size = TOP_LEFT_AFTER[number]
    kept = keep_photograph(saved(red_over_blue(), exif=with_exif(number), quality=95))
    assert (kept.width, kept.height) == size == opened(kept.content).size
    assert opened(kept.content).getpixel((5, 5)) == pytest.approx(colour, abs=12)


@pytest.mark.parametrize("number", [0, 9, 65535])
def test_an_unknown_orientation_leaves_it_as_it_is(number: int) -> None:
    kept = keep_photograph(saved(red_over_blue(), exif=with_exif(number)))
    assert (kept.width, kept.height) == (60, 40)


@pytest.mark.parametrize(
    "broken",
    [
        b"II*\x00\x08\x00\x00\x00\x40\x00" + b"\x12\x01\x03\x00\xff\xff\xff\x7f" * 3,
        b"no TIFF at all",
        b"II*\x00",
    ],
    ids=["entries that lead out", "other bytes", "cut off"],
)
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_broken_metadata_does_not_spoil_a_good_picture(form: str, broken: bytes) -> None:
    kept = keep_photograph(saved(red_over_blue(), form, exif=b"Exif\x00\x00" + broken))
    assert (kept.width, kept.height) == (60, 40)


def test_twelve_megapixels_of_noise_end_within_two_megabytes() -> None:
    noise = np.random.default_rng(1).integers(0, 256, (3000, 4000, 3), dtype=np.uint8)
    given = saved(Image.fromarray(noise), quality=90)
    assert len(given) > 8_000_000
    kept = keep_photograph(given)
    assert 500_000 < len(kept.content) <= 2_000_000
    assert max(kept.width, kept.height) <= 2400
    assert kept.width * 3 == pytest.approx(kept.height * 4, abs=4)


def test_a_picture_with_room_keeps_its_size_and_good_quality() -> None:
    kept = keep_photograph(saved(red_over_blue(1200, 900), "PNG"))
    assert (kept.width, kept.height) == (1200, 900)


def test_a_long_side_is_brought_to_2400_pixels() -> None:
    kept = keep_photograph(saved(red_over_blue(7200, 1200)))
    assert (kept.width, kept.height) == (2400, 400)


def test_little_room_makes_a_small_picture() -> None:
    noise = np.random.default_rng(1).integers(0, 256, (600, 800, 3), dtype=np.uint8)
    kept = keep_photograph(saved(Image.fromarray(noise), "PNG"), most_bytes=10_000)
    assert len(kept.content) <= 10_000


def test_the_same_file_is_kept_as_the_same_bytes() -> None:
    given = saved(red_over_blue(), "PNG")
    one, other = keep_photograph(given), keep_photograph(given)
    assert one == other
    assert one.digest == hashlib.sha256(one.content).hexdigest()
    assert one.media_type == "image/jpeg"


@pytest.mark.parametrize("mode", ["RGBA", "LA", "PA"])
def test_what_is_transparent_becomes_white(mode: str) -> None:
    clear = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    clear.paste((*RED, 255), (0, 10, 20, 20))
    given = clear.quantize(8) if mode == "PA" else clear.convert(mode)
    kept = opened(keep_photograph(saved(given, "PNG")).content)
    assert kept.mode == "RGB"
    assert kept.getpixel((3, 3)) == pytest.approx((255, 255, 255), abs=8)
    assert kept.getpixel((3, 16)) != pytest.approx((255, 255, 255), abs=60)


@pytest.mark.parametrize("mode", ["1", "L", "P", "CMYK", "I;16"])
def test_other_ways_of_storing_colours_keep_their_light(mode: str) -> None:
    if mode == "I;16":
        given = saved(Image.fromarray(np.full((20, 20), 100 * 256, dtype=np.uint16)), "PNG")
    else:
        grey = 255 if mode == "1" else 100
        picture = Image.new("L", (20, 20), grey).convert("RGB").convert(mode)
        given = saved(picture, "JPEG" if mode == "CMYK" else "PNG")
    value = opened(keep_photograph(given).content).getpixel((10, 10))
    assert value == pytest.approx((255,) * 3 if mode == "1" else (100,) * 3, abs=6)


def test_a_moving_picture_is_refused() -> None:
    frames = [red_over_blue(), Image.new("RGB", (60, 40), BLUE)]
    for form in ("PNG", "WEBP"):
        moving = saved(frames[0], form, save_all=True, append_images=frames[1:])
        assert refused(moving).wanted == "want-still-photograph"
    gif = saved(frames[0], "GIF", save_all=True, append_images=frames[1:])
    assert refused(gif).wanted == "want-photograph"


def test_the_first_picture_of_a_file_with_several_is_kept() -> None:
    """Telephones put a second, smaller picture behind the first one in the same JPEG file."""
    given = saved(red_over_blue(), "MPO", save_all=True, append_images=[Image.new("RGB", (30, 20), BLUE)])
    kept = keep_photograph(given)
    assert (kept.width, kept.height) == (60, 40)


@pytest.mark.parametrize("form", ["GIF", "BMP", "TIFF", "PPM", "ICO"])
def test_other_kinds_of_picture_are_refused(form: str) -> None:
    assert refused(saved(red_over_blue(), form)).wanted == "want-photograph"


@pytest.mark.parametrize(
    "content",
    [
        b"target 100 N.m, read 96.1\n" * 20,
        b"%PDF-1.7\n%" + b"x" * 300,
        b"\xff\xd8\xff",
        b"<svg/>",
        b"\x89PNG",
    ],
)
def test_what_is_no_picture_is_refused(content: bytes) -> None:
    assert refused(content).wanted == "want-photograph"
    assert f"{len(content)} bytes" in refused(content).sentence


def test_an_empty_file_is_nothing_given() -> None:
    assert "nothing is given" in refused(b"").sentence


@pytest.mark.parametrize("brand", [b"heic", b"heix", b"mif1"])
def test_heic_is_refused_with_the_way_out(brand: bytes) -> None:
    content = b"\x00\x00\x00\x18ftyp" + brand + b"\x00\x00\x00\x00mif1heic" + b"\x00" * 200
    assert refused(content).wanted == "want-photograph-compatible"
    assert "JPEG" in refused(content).sentence


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("part", [0.3, 0.6, 0.95])
def test_a_file_cut_short_is_refused(form: str, part: float) -> None:
    noise = np.random.default_rng(1).integers(0, 256, (200, 300, 3), dtype=np.uint8)
    whole = saved(Image.fromarray(noise), form)
    assert refused(whole[: int(len(whole) * part)]).wanted in ("want-whole-photograph", "want-photograph")


def chunk(kind: bytes, content: bytes) -> bytes:
    """One chunk of a PNG file. Source: PNG specification, 5.3."""
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


@pytest.mark.parametrize("side", [8000, 12_000, 60_000, 2_000_000_000])
def test_a_small_file_that_unpacks_to_a_huge_picture_is_refused(side: int) -> None:
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0))
    rows = chunk(b"IDAT", zlib.compress(b"\x00" * 1_000_000, 9))
    bomb = b"\x89PNG\r\n\x1a\n" + header + rows + chunk(b"IEND", b"")
    assert len(bomb) < 2000
    assert refused(bomb).wanted == "want-photograph-pixels"
    assert "60 million" in refused(bomb).sentence


def test_a_text_that_unpacks_to_megabytes_is_refused() -> None:
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", 8, 8, 8, 0, 0, 0, 0))
    text = chunk(b"zTXt", b"x\x00\x00" + zlib.compress(b"\x00" * 70_000_000, 9))
    refusal = refused(b"\x89PNG\r\n\x1a\n" + header + text + chunk(b"IEND", b""))
    assert refusal.wanted in ("want-photograph", "want-whole-photograph")


def test_a_file_over_25_megabytes_is_refused_unread() -> None:
    content = saved(red_over_blue()) + b"\x00" * 25_000_000
    assert refused(content).wanted == "want-photograph-bytes"


def test_too_little_room_is_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="room"):
        keep_photograph(saved(red_over_blue()), most_bytes=9_999)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_spoilt_bytes_are_kept_as_a_picture_or_refused_and_nothing_else(form: str) -> None:
    whole = saved(red_over_blue(), form, exif=with_exif(6))
    chance = np.random.default_rng(2)
    for _ in range(150):
        spoilt = bytearray(whole)
        for at in chance.integers(0, min(len(whole), 400), 3):
            spoilt[at] = chance.integers(0, 256)
        try:
            kept = keep_photograph(bytes(spoilt))
        except InputRefused as caught:
            assert caught.sentence
            continue
        assert opened(kept.content).size == (kept.width, kept.height)
