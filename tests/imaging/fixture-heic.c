/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture-heic.c — a HEIC picture with a turn of its own.
 *
 * heif-enc copies the EXIF block, whose orientation a HEIC reader must ignore,
 * and writes no turn. So the turn (`irot`, ISO/IEC 23008-12 §6.5.10: quarter
 * turns counter-clockwise) is put in by hand: appended to the properties,
 * named for the picture, and everything after it moved.
 */
#include "fixture.h"

#include <string.h>

static guint32
get32 (const guint8 *p)
{
  return (guint32) p[0] << 24 | (guint32) p[1] << 16 | (guint32) p[2] << 8 | p[3];
}

static void
add32 (guint8 *p, guint32 more)
{
  guint32 value = get32 (p) + more;

  for (int i = 0; i < 4; i++)
    p[i] = (guint8) (value >> 8 * (3 - i));
}

/* Offset of the box called `name` (its size field) within the bytes, which hold it once. */
static guint
box_at (GByteArray *file, const char *name)
{
  const guint8 *p = memmem (file->data, file->len, name, 4);

  g_assert_nonnull (p);
  return (guint) (p - file->data) - 4;
}

static void
insert (GByteArray *file, guint at, const guint8 *bytes, guint n)
{
  guint old = file->len;

  g_byte_array_set_size (file, old + n);
  memmove (file->data + at + n, file->data + at, old - at);
  memcpy (file->data + at, bytes, n);
}

static guint
count_properties (GByteArray *file, guint ipco)
{
  guint n = 0, end = ipco + get32 (file->data + ipco);

  for (guint at = ipco + 8; at < end; at += get32 (file->data + at))
    n++;
  return n;
}

/* Every place in the file that an item's bytes lie at moves by `by`: version 0 or 1, offsets and
 * lengths of 4 bytes, no index, as heif-enc writes. */
static void
move_items (GByteArray *file, guint by)
{
  guint8 *p = file->data + box_at (file, "iloc");
  guint version = p[8], base_size = p[13] >> 4, n_items = (guint) p[14] << 8 | p[15];

  g_assert_cmpuint (version, <=, 1);
  g_assert_cmpuint (p[12], ==, 0x44);
  p += 16;
  for (guint i = 0; i < n_items; i++)
    {
      guint n_extents;

      p += 2 + (version == 1 ? 2 : 0) + 2 + base_size;
      n_extents = (guint) p[0] << 8 | p[1];
      p += 2;
      for (guint k = 0; k < n_extents; k++, p += 8)
        add32 (p, by);
    }
}

GBytes *
fixture_heic_turned (GBytes *heic, int quarter_turns)
{
  GByteArray *file = g_byte_array_new ();
  const guint8 irot[9] = { 0, 0, 0, 9, 'i', 'r', 'o', 't', (guint8) quarter_turns };
  guint ipco, ipma, index;
  guint8 essential;

  g_byte_array_append (file, g_bytes_get_data (heic, NULL), (guint) g_bytes_get_size (heic));
  ipma = box_at (file, "ipma");
  ipco = box_at (file, "ipco");
  index = count_properties (file, ipco) + 1;

  /* ipma: version and flags 0, one item: count (4), item (2), number of properties (1), each a
   * bit "essential" and 7 bits of index. */
  g_assert_cmpuint (get32 (file->data + ipma + 8), ==, 0);
  g_assert_cmpuint (get32 (file->data + ipma + 12), ==, 1);
  essential = (guint8) (0x80 | index);
  file->data[ipma + 18]++;
  insert (file, ipma + get32 (file->data + ipma), &essential, 1);
  add32 (file->data + ipma, 1);
  insert (file, ipco + get32 (file->data + ipco), irot, sizeof irot);
  add32 (file->data + ipco, sizeof irot);
  add32 (file->data + box_at (file, "iprp"), sizeof irot + 1);
  add32 (file->data + box_at (file, "meta"), sizeof irot + 1);
  move_items (file, sizeof irot + 1);
  return g_byte_array_free_to_bytes (file);
}
