# SPDX-License-Identifier: GPL-3.0-or-later
"""Who may use what: the table of DEVELOPERS.md ("The house") as data.

A header that no family names is a complaint too: widening the table is a decision, not a typo.
"""

import re

# Families of headers outside the tree; the first that matches counts.
FAMILIES = [
    ("pure", r"(?:assert|float|limits|math|stdbool|stddef|stdint|stdlib|string)\.h"),
    ("locale", r"(?:locale|libintl|glib/gi18n|glib/gi18n-lib)\.h"),
    ("stdio", r"(?:stdio|stdarg|errno)\.h"),
    ("system", r"(?:errno|fcntl|malloc|signal|time|unistd|glib-unix|glib/gstdio)\.h|(?:linux|sys)/\w+\.h"),
    ("glib", r"glib(?:-object|/gprintf)?\.h"),
    ("gio", r"gio/\w+\.h"),
    ("pixbuf", r"gdk-pixbuf/gdk-pixbuf\.h"),
    ("png", r"png\.h"),
    ("exif", r"libexif/[\w-]+\.h"),
    ("sqlite", r"sqlite3\.h"),
    ("ical", r"libical(?:-glib)?/[\w-]+\.h"),
    ("archive", r"archive(?:_entry)?\.h"),
    ("cairo", r"cairo(?:-pdf|-xlib)?\.h"),
    ("pango", r"pango/[\w-]+\.h"),
    # cairo-xlib: where GTK's frames are handed to the X server (app-frames.c)
    ("gtk", r"(?:gtk|gdk|gsk)/.+\.h|adwaita\.h|librsvg/rsvg\.h|cairo-xlib\.h"),
]

# room: (rooms it may include beside core and itself, families it may include)
ROOMS = {
    "core": ("", "pure"),
    "words": ("", "pure locale glib"),
    "imaging": ("", "pure stdio system glib gio pixbuf png exif"),
    "imaging/decode": ("", "pure stdio system glib pixbuf png exif"),
    "store": ("", "pure stdio system glib gio sqlite"),
    "exchange": ("words", "pure stdio system locale glib gio ical archive cairo pango"),
    "desk": ("words imaging store exchange", "pure stdio system glib gio"),
    "cli": ("desk words demo", "pure locale stdio glib gio"),
    "demo": ("desk imaging", "pure stdio system glib gio pixbuf exif"),
    # imaging: its pixels are what the canvases paint. Pixel loops stay there.
    "app": ("desk words demo imaging", "pure locale glib gio gtk cairo"),
}

# One file each, with its reason.
EXCEPTIONS = {
    # the one place where the error domains of all rooms become sentences
    ("src/app/app-error.c", "store"),
    # the helper process shares two leaf files of its parent room, and its message format
    ("src/imaging/decode", "imaging/img-orient.h"),
    ("src/imaging/decode", "imaging/img-pixels.h"),
    ("src/imaging", "imaging/decode/decode-wire.h"),
}

SQL = re.compile(
    r"\bSELECT\s+\S|\bINSERT\s+(?:OR\s+\w+\s+)?INTO\s|\bUPDATE\s+\w+\s+SET\s|\bDELETE\s+FROM\s"
    r"|\bPRAGMA\s+\w|\b(?:CREATE|DROP|ALTER)\s+(?:UNIQUE\s+)?(?:TABLE|INDEX|TRIGGER|VIEW|VIRTUAL)\s"
    r"|\bATTACH\s+DATABASE\s"
    r"|\b(?i:insert\s+(?:or\s+\w+\s+)?into|delete\s+from|create\s+table|select\s+\S+\s+from)\s")

# What the pure room may call: libc that neither does I/O nor knows time, locale or chance; libm.
CORE_MAY_CALL = re.compile(
    r"(?:__)?mem(?:chr|cmp|cpy|move|set)(?:_chk)?|malloc|calloc|realloc|free|qsort|bsearch|abs|labs"
    r"|(?:__)?str(?:chr|cmp|cpy|cspn|len|ncmp|ncpy|pbrk|rchr|spn|str)(?:_chk)?"
    r"|__assert_fail|__stack_chk_fail|_GLOBAL_OFFSET_TABLE_|__tls_get_addr"
    r"|__(?:asan|ubsan|gcov|sanitizer|llvm)_\w+|gsl_\w+"
    r"|(?:a?(?:cos|sin|tan)h?|sincos|atan2|exp2?|expm1|log(?:2|10|1p)?|l?gamma|[lt]gamma|erfc?|pow|sqrt|cbrt|hypot"
    r"|ceil|floor|l?l?round|l?l?rint|nearbyint|trunc|fabs|f(?:max|min|mod|ma|dim)|frexp|ldexp|modf|copysign|nan"
    r"|remainder|__isnan|__isinf|__finite)f?")

# What no other room may call, by the beginning of its name: (beginning, rooms that may).
ONE_ROOM_CALLS = [
    (r"sqlite3_", {"store"}),
    (r"(?:gtk|adw|gsk)_", {"app"}),
    (r"png_", {"imaging", "decode"}),
    (r"archive_", {"exchange"}),
    (r"exif_", {"imaging", "decode", "demo_draw"}),
]


def family_of(header):
    for name, pattern in FAMILIES:
        if re.fullmatch(pattern, header):
            return name
    return None


def room_of(path):
    """'src/imaging/decode/x.c' → 'imaging/decode'; None outside the rooms."""
    parts = path.split("/")
    if len(parts) < 3 or parts[0] != "src":
        return None
    inner = "/".join(parts[1:-1])
    return inner if inner in ROOMS else None


def excepted(path, header):
    folder = path.rsplit("/", 1)[0]
    return any(where in (path, folder) and (header == what or header.startswith(what + "/"))
               for where, what in EXCEPTIONS)


def may_include(path, header, in_tree):
    """None when allowed, else what is wrong."""
    room = room_of(path)
    others, families = (set(part.split()) for part in ROOMS[room])
    if not in_tree:
        family = family_of(header)
        if family is None:
            return "a header that no family of rooms.py names"
        return None if family in families else f"room {room} may not use {family}"
    folder = header.rsplit("/", 1)[0] if "/" in header else ""
    if folder == "":
        return "name the room in front of the header"
    if folder in (room, "core") or folder in others or excepted(path, header):
        return None
    return f"room {room} may not know room {folder}"
