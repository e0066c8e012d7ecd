"""A photograph as it is kept: upright, small, and without anything its camera wrote beside the picture."""

import hashlib
import struct
import threading
import warnings
import zlib
from dataclasses import dataclass
from io import BytesIO

from PIL import Image, UnidentifiedImageError

from steelyard.errors import InputRefused
from steelyard.words import say

FIELD = "photo"
FORMATS = ("JPEG", "PNG", "WEBP")
MOST_BYTES_IN = 25_000_000
MOST_PIXELS = 60_000_000
LONGEST_SIDE = 2400  # pixels: a crack in a head is still seen, and every screen is filled
QUALITIES = (90, 85, 80, 75, 70, 60, 50)
SHRINK = 0.8
LEAST_ROOM = 10_000  # bytes; a picture of one pixel takes about 700
HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
ORIENTATION = 0x0112
UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What sets a picture upright, by the number its camera gave. Source: EXIF 2.32, tag Orientation; memory."""

BROKEN = (OSError, SyntaxError, ValueError, TypeError, LookupError, EOFError, struct.error, zlib.error)
"""What the decoder raises for files that are cut or made up."""

ONE_AT_A_TIME = threading.Lock()
"""A decoded picture takes up to half a gigabyte, and silencing warnings is not safe between threads."""


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph as it is kept.

    content: the bytes of the file, JPEG.
    media_type: always `image/jpeg`.
    digest: SHA-256 of `content`, in hexadecimal digits.
    width, height: [pixels]
    """

    content: bytes
    media_type: str
    digest: str
    width: int
    height: int


def keep_photograph(content: bytes, *, most_bytes: int = 2_000_000) -> Photograph:
    """A photograph made fit to be kept; the same bytes come out for the same bytes in.

    content: a JPEG, PNG or WebP file of at most 25 MB and 60 million pixels, as a telephone sent it.
    most_bytes: room for what is kept. [bytes] ≥ 10 000
    Returns a JPEG of at most `most_bytes`, its longer side at most 2400 pixels, turned upright, what was
        transparent white. Position, time, camera, comments, thumbnails and colour profile are gone.
    Raises InputRefused for anything else, for HEIC, for moving pictures and for files cut short; ValueError
        for less room.
    Left out: colours of a wide colour profile come out a little paler.
    """
    if most_bytes < LEAST_ROOM:
        raise ValueError(f"a photograph needs room for {LEAST_ROOM} bytes")
    refuse_by_size_or_kind(content)
    with ONE_AT_A_TIME, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the decoder talks about odd metadata, which is dropped anyway
        bare = decoded(content)
        kept = compressed(bare, most_bytes)
    with Image.open(BytesIO(kept)) as picture:
        width, height = picture.size
    return Photograph(kept, "image/jpeg", hashlib.sha256(kept).hexdigest(), width, height)


def refuse_by_size_or_kind(content: bytes) -> None:
    """Raise InputRefused for what need not be decoded to be refused."""
    given = say("photo-file", count=len(content))
    if not content:
        raise InputRefused(FIELD, None, "want-photograph")
    if len(content) > MOST_BYTES_IN:
        raise InputRefused(FIELD, given, "want-photograph-bytes", most=MOST_BYTES_IN // 1_000_000)
    if content[4:8] == b"ftyp" and content[8:12] in HEIC_BRANDS:
        raise InputRefused(FIELD, say("photo-heic"), "want-photograph-compatible")


def decoded(content: bytes) -> Image.Image:
    """The picture alone: RGB, upright, its longer side at most 2400 pixels."""
    given = say("photo-file", count=len(content))
    try:
        with Image.open(BytesIO(content), formats=FORMATS) as picture:
            refuse_by_picture(picture)
            picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))  # a large JPEG is decoded at half size
            picture.load()
            turn = UPRIGHT.get(orientation(picture))
            bare = on_white(picture)
    except UnidentifiedImageError:
        raise InputRefused(FIELD, given, "want-photograph") from None
    except Image.DecompressionBombError:
        raise InputRefused(FIELD, given, "want-photograph-pixels", most=MOST_PIXELS // 1_000_000) from None
    except InputRefused:
        raise
    except BROKEN:
        raise InputRefused(FIELD, given, "want-whole-photograph") from None
    bare.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    return bare if turn is None else bare.transpose(turn)


def refuse_by_picture(picture: Image.Image) -> None:
    """Raise InputRefused for a picture too large to be decoded, and for one that moves."""
    width, height = picture.size
    given = say("photo-picture", width=width, height=height)
    if width * height > MOST_PIXELS:
        raise InputRefused(FIELD, given, "want-photograph-pixels", most=MOST_PIXELS // 1_000_000)
    if picture.format in ("PNG", "WEBP") and getattr(picture, "is_animated", False):
        raise InputRefused(FIELD, given, "want-still-photograph")


def orientation(picture: Image.Image) -> int:
    """The number its camera gave to how it was held; 1, upright, where none can be read."""
    try:
        return int(picture.getexif().get(ORIENTATION, 1))
    except BROKEN:
        return 1


def on_white(picture: Image.Image) -> Image.Image:
    """A new picture with these pixels as RGB and nothing else; white shows through."""
    if picture.mode.startswith("I"):  # 16 bits of grey would be cut off at white, not scaled
        picture = picture.convert("I").point(lambda grey: grey / 256).convert("L")
    bare = Image.new("RGB", picture.size, "white")
    if picture.has_transparency_data:
        clear = picture.convert("RGBA")
        bare.paste(clear, mask=clear.getchannel("A"))
    else:
        bare.paste(picture.convert("RGB"))
    return bare


def compressed(bare: Image.Image, most_bytes: int) -> bytes:
    """The picture as JPEG: as good as there is room for, smaller where the quality would get too poor."""
    while True:
        for quality in QUALITIES:
            file = BytesIO()
            bare.save(file, "JPEG", quality=quality)
            if file.tell() <= most_bytes:
                return file.getvalue()
        width, height = (max(1, int(side * SHRINK)) for side in bare.size)
        bare = bare.resize((width, height), Image.Resampling.LANCZOS)
