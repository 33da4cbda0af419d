# SPDX-License-Identifier: GPL-3.0-or-later
"""PNG files (ISO/IEC 15948) by another hand: 8-bit RGB, not interlaced, with the standard library."""

import struct
import zlib

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def chunk(name, body):
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def write(path, width, height, colour, extra=b""):
    """`colour` of (x, y) gives three bytes."""
    rows = b"".join(b"\0" + b"".join(colour(x, y) for x in range(width)) for y in range(height))
    with open(path, "wb") as f:
        f.write(SIGNATURE + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) + extra
                + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))
    return path


class Png:
    """Every chunk with its sum checked; `rows` as bytes, 3 a pixel."""

    def __init__(self, path):
        with open(path, "rb") as f:
            data = f.read()
        assert data.startswith(SIGNATURE)
        self.chunks, at = [], 8
        while at < len(data):
            length, name = struct.unpack_from(">I4s", data, at)
            body = data[at + 8:at + 8 + length]
            assert zlib.crc32(name + body) == struct.unpack_from(">I", data, at + 8 + length)[0], name
            self.chunks.append((name.decode(), body))
            at += 12 + length
        assert self.names[0] == "IHDR" and self.names[-1] == "IEND" and at == len(data), self.names
        self.width, self.height, *form = struct.unpack(">IIBBBBB", self.chunks[0][1])
        assert form == [8, 2, 0, 0, 0], form
        self.rows = self._unfilter(zlib.decompress(b"".join(b for n, b in self.chunks if n == "IDAT")))

    @property
    def names(self):
        return [name for name, _ in self.chunks]

    def _unfilter(self, data):
        step, before, rows = self.width * 3, bytes(self.width * 3), []
        assert len(data) == (step + 1) * self.height
        for y in range(self.height):
            kind, row = data[y * (step + 1)], bytearray(data[y * (step + 1) + 1:(y + 1) * (step + 1)])
            assert kind in (0, 1, 2), f"filter {kind} is not read here"
            for i in range(step):
                left = row[i - 3] if i >= 3 else 0
                row[i] = (row[i] + (left if kind == 1 else before[i] if kind == 2 else 0)) & 255
            rows.append(bytes(row))
            before = row
        return rows

    def pixel(self, x, y):
        return tuple(self.rows[y][3 * x:3 * x + 3])

    def per_metre(self):
        """Of pHYs; None where it is absent."""
        body = next((b for n, b in self.chunks if n == "pHYs"), None)
        if body is None:
            return None
        across, down, unit = struct.unpack(">IIB", body)
        assert across == down and unit == 1, (across, down, unit)
        return across

    def texts(self):
        """keyword → (language, text) of iTXt."""
        found = {}
        for name, body in self.chunks:
            if name == "iTXt":
                keyword, rest = body.split(b"\0", 1)
                assert rest[:2] == b"\0\0", "compressed"
                language, _, text = rest[2:].split(b"\0", 2)
                found[keyword.decode("ascii")] = (language.decode("ascii"), text.decode("utf-8"))
        return found
