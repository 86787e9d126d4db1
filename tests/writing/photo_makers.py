"""Photos with everything in them that cameras and programs leave there, made by hand.

The places are those of the formats' own texts: JPEG segments (ITU-T T.81, B.1.1.3), Exif in
APP1 (CIPA DC-008, 4.7.2), XMP in APP1 and beyond 64 kB (XMP part 3, 1.1.3), IPTC in APP13 (IIM
4.2, Photoshop resource 0x0404), PNG chunks (W3C PNG, third edition, 11.3), WebP chunks (RFC 9649).
"""

from __future__ import annotations

import zlib
from collections.abc import Callable
from io import BytesIO
from struct import pack

from PIL import Image, ImageCms

PLACE = "52.5163 N 13.3777 E"
SERIAL = "camera 4711-0815"
OWNER = "owner Mole"
SECRETS = (PLACE, SERIAL, OWNER)
SECRET = "; ".join(SECRETS)
MAKE, MODEL, ORIENTATION, ARTIST = 0x010F, 0x0110, 0x0112, 0x013B  # tags of Exif
EXIF, GPS, BODY_SERIAL, USER_COMMENT = 0x8769, 0x8825, 0xA431, 0x9286


def scene(size: tuple[int, int] = (40, 30)) -> Image.Image:
    """A picture that is blue on its left half and red on its right."""
    image = Image.new("RGB", size, (200, 30, 30))
    image.paste((30, 30, 200), (0, 0, size[0] // 2, size[1]))
    return image


def notes(orientation: int = 1) -> bytes:
    """Exif with maker, owner, serial number, place, and a comment."""
    exif = Image.Exif()
    exif[MAKE], exif[MODEL], exif[ARTIST] = SERIAL, SERIAL, OWNER
    exif[ORIENTATION] = orientation
    exif.get_ifd(EXIF)[BODY_SERIAL] = SERIAL
    exif.get_ifd(EXIF)[USER_COMMENT] = b"ASCII\0\0\0" + SECRET.encode()
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (52.0, 30.0, 58.68)
    exif.get_ifd(GPS)[27] = b"ASCII\0\0\0" + PLACE.encode()
    return exif.tobytes()


def profile() -> bytes:
    """A colour profile that says who made it."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return plain + SECRET.encode()


def jpeg(size: tuple[int, int] = (40, 30), orientation: int = 1) -> bytes:
    """A JPEG with Exif, XMP and its continuation, IPTC, a comment, and something behind its end."""
    written = BytesIO()
    scene(size).save(written, "JPEG", exif=notes(orientation), icc_profile=profile(), quality=95)
    data = written.getvalue()
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>" + SECRET.encode() + b"</x:xmpmeta>"
    longer = b"http://ns.adobe.com/xmp/extension/\0" + b"0" * 32 + pack(">II", 9, 0)
    iptc = SECRET.encode()
    record = b"\x1c\x02\x78" + pack(">H", len(iptc)) + iptc  # 2:120, the caption
    resource = b"8BIM\x04\x04\0\0" + pack(">I", len(record)) + record + b"\0" * (len(record) % 2)
    more = (
        _segment(0xE1, xmp)
        + _segment(0xE1, longer + SECRET.encode())
        + _segment(0xED, b"Photoshop 3.0\0" + resource)
        + _segment(0xEC, b"Ducky" + SECRET.encode())
        + _segment(0xFE, SECRET.encode())
    )
    return data[:2] + more + data[2:] + b"\0" + SECRET.encode()


def _segment(marker: int, content: bytes) -> bytes:
    return bytes((0xFF, marker)) + pack(">H", len(content) + 2) + content


def png(size: tuple[int, int] = (40, 30), orientation: int = 1) -> bytes:
    """A PNG with text of all three kinds, Exif, a time, a profile, and a chunk of its own."""
    written = BytesIO()
    scene(size).save(written, "PNG", exif=notes(orientation), icc_profile=profile())
    data = written.getvalue()
    words = SECRET.encode()
    more = (
        _chunk(b"tEXt", b"Author\0" + words)
        + _chunk(b"zTXt", b"Comment\0\0" + zlib.compress(words))
        + _chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + words)
        + _chunk(b"tIME", pack(">HBBBBB", 2025, 3, 14, 9, 20, 0))
        + _chunk(b"prVt", words)
    )
    return data[:33] + more + data[33:] + words  # 33: behind the signature and IHDR


def _chunk(kind: bytes, content: bytes) -> bytes:
    return pack(">I", len(content)) + kind + content + pack(">I", zlib.crc32(kind + content))


def webp(size: tuple[int, int] = (40, 30), orientation: int = 1) -> bytes:
    """A WebP with Exif, XMP, a profile, and a chunk of its own."""
    written = BytesIO()
    words = SECRET.encode()
    notes_of_camera = notes(orientation)
    scene(size).save(
        written, "WEBP", exif=notes_of_camera, xmp=words, icc_profile=profile(), quality=95
    )
    data = written.getvalue()
    own = b"prVt" + pack("<I", len(words)) + words + b"\0" * (len(words) % 2)
    return b"RIFF" + pack("<I", len(data) - 8 + len(own)) + data[8:] + own


Maker = Callable[..., bytes]
MAKERS: dict[str, Maker] = {".jpg": jpeg, ".jpeg": jpeg, ".png": png, ".webp": webp}


def parts(data: bytes) -> list[str]:
    """The segments or chunks that a photo is made of, read by the rules of its format alone."""
    if data.startswith(b"\xff\xd8"):
        return _segments(data)
    if data.startswith(b"\x89PNG"):
        return _chunks(data, 8, ">I", size_first=True)
    assert data.startswith(b"RIFF")
    assert int.from_bytes(data[4:8], "little") == len(data) - 8
    return _chunks(data, 12, "<I", size_first=False)


def _segments(data: bytes) -> list[str]:
    """The names of JPEG's markers; nothing may stand behind the last one."""
    found, at = [], 2
    while data[at + 1] != 0xD9:
        assert data[at] == 0xFF
        marker, size = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        name = f"{marker:02X}"
        if marker == 0xE0:
            name += data[at + 4 : at + 9].decode("latin-1")
            assert size == 16  # no small copy in it (JFIF 1.02)
        found.append(name)
        at += 2 + size
        if marker == 0xDA:  # what was scanned goes on to the next marker that is none of its own
            while data[at] != 0xFF or data[at + 1] in (0, *range(0xD0, 0xD8)):
                at += 1
    assert at + 2 == len(data)
    return found


def _chunks(data: bytes, at: int, order: str, *, size_first: bool) -> list[str]:
    found = []
    while at < len(data):
        size_at, name_at = (at, at + 4) if size_first else (at + 4, at)
        size = int.from_bytes(data[size_at : size_at + 4], "big" if order == ">I" else "little")
        found.append(data[name_at : name_at + 4].decode("latin-1").strip())
        at += 8 + size + (4 if size_first else size % 2)
    assert at == len(data)
    return found
