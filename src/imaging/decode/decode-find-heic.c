/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-find-heic.c — the EXIF item of a HEIC file.
 *
 * ISO/IEC 14496-12: boxes of a size and four letters; `meta` holds
 * `iinf` (items and their types) and `iloc` (where their bytes lie). ISO/IEC
 * 23008-12 annex A: an item of type "Exif" begins with a 32-bit offset to its
 * TIFF header. Only the form that cameras write is read: an item of
 * one extent in the file itself. Anything else gives no EXIF, which
 * only loses the proposed day: the loader turns a HEIC by its own properties.
 */
#include "imaging/decode/decode-find.h"

#include <string.h>

typedef struct
{
  const guint8 *data; /* body, without size and name */
  gsize size;
} Box;

typedef struct
{
  Box box;
  gsize at;
  gboolean bad; /* read past the end */
} Cursor;

static guint64
take (Cursor *c, guint n_bytes)
{
  guint64 value = 0;

  if (n_bytes > c->box.size - c->at)
    {
      c->bad = TRUE;
      c->at = c->box.size;
      return 0;
    }
  for (guint i = 0; i < n_bytes; i++)
    value = value << 8 | c->box.data[c->at++];
  return value;
}

/* The next box from the cursor on; FALSE at the end, or where a box leads outside (`bad`). */
static gboolean
next_box (Cursor *c, char name[5], Box *out)
{
  gsize start = c->at, head = 8;
  guint64 size;

  if (c->box.size - c->at < 8)
    return FALSE;
  size = take (c, 4);
  memcpy (name, c->box.data + c->at, 4);
  name[4] = '\0';
  c->at += 4;
  if (size == 1) /* a 64-bit size follows */
    {
      size = take (c, 8);
      head = 16;
    }
  else if (size == 0) /* up to the end */
    size = c->box.size - start;
  c->bad = c->bad || size < head || size > c->box.size - start;
  if (c->bad)
    return FALSE;
  *out = (Box){ c->box.data + start + head, (gsize) size - head };
  c->at = start + (gsize) size;
  return TRUE;
}

/* Description and data both end within the file; what a camera appends to them does not matter. */
static gboolean
is_whole (Box file)
{
  Cursor c = { file, 0, FALSE };
  gboolean has_meta = FALSE, has_data = FALSE;
  char name[5];
  Box box;

  while (next_box (&c, name, &box))
    {
      has_meta = has_meta || strcmp (name, "meta") == 0;
      has_data = has_data || strcmp (name, "mdat") == 0;
    }
  return has_meta && has_data;
}

static gboolean
find_box (Box in, gsize from, const char *wanted, Box *out)
{
  Cursor c = { in, MIN (from, in.size), FALSE };
  char name[5];

  while (next_box (&c, name, out))
    if (strcmp (name, wanted) == 0)
      return TRUE;
  return FALSE;
}

/* The id of the first item of type "Exif"; 0 when there is none. */
static guint32
exif_item (Box iinf)
{
  Cursor c = { iinf, 0, FALSE };
  guint version = (guint) take (&c, 4) >> 24;
  char name[5];
  Box infe;

  take (&c, version == 0 ? 2 : 4);
  while (next_box (&c, name, &infe))
    {
      Cursor e = { infe, 0, FALSE };
      guint entry_version = (guint) take (&e, 4) >> 24;
      guint32 id = (guint32) take (&e, entry_version >= 3 ? 4 : 2);

      take (&e, 2);
      if (entry_version >= 2 && take (&e, 4) == 0x45786966 && !e.bad) /* "Exif" */
        return id;
    }
  return 0;
}

/* Where the item's one extent lies in the file. */
static gboolean
locate (Box iloc, guint32 wanted, gsize *at, gsize *length)
{
  Cursor c = { iloc, 0, FALSE };
  guint version = (guint) take (&c, 4) >> 24;
  guint sizes = (guint) take (&c, 2), n_items;
  guint offset_size = sizes >> 12, length_size = (sizes >> 8) & 15;
  guint base_size = (sizes >> 4) & 15, index_size = version > 0 ? sizes & 15 : 0;

  if (offset_size > 8 || length_size > 8 || base_size > 8 || index_size > 8)
    return FALSE;
  n_items = (guint) take (&c, version < 2 ? 2 : 4);
  for (guint i = 0; i < n_items && !c.bad; i++)
    {
      guint32 id = (guint32) take (&c, version < 2 ? 2 : 4);
      guint method = version > 0 ? (guint) take (&c, 2) & 15 : 0, n_extents;
      guint64 base;

      take (&c, 2);
      base = take (&c, base_size);
      n_extents = (guint) take (&c, 2);
      for (guint k = 0; k < n_extents && !c.bad; k++)
        {
          take (&c, index_size);
          *at = (gsize) (base + take (&c, offset_size));
          *length = (gsize) take (&c, length_size);
          if (id == wanted)
            return !c.bad && method == 0 && n_extents == 1;
        }
    }
  return FALSE;
}

void
decode_find_heic (const guint8 *data, gsize size, DecodeFound *out)
{
  Box file = { data, size }, meta, iinf, iloc;
  gsize at, length, skip;
  Cursor item;
  guint32 id;

  out->complete = is_whole (file);
  if (!find_box (file, 0, "meta", &meta) || !find_box (meta, 4, "iinf", &iinf) ||
      !find_box (meta, 4, "iloc", &iloc))
    return;
  id = exif_item (iinf);
  if (id == 0 || !locate (iloc, id, &at, &length) || at > size || length > size - at)
    return;
  item = (Cursor){ { data + at, length }, 0, FALSE };
  skip = (gsize) take (&item, 4);
  if (!item.bad && skip < length - 4)
    out->exif = g_bytes_new (data + at + 4 + skip, length - 4 - skip);
}
