/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-positions.c — a picture without its position: the same pixels, turned the same way, taken
 * on the same day, and nothing else of the file. */
#include <string.h>

#include "core/core-date.h"
#include "fixture.h"
#include "imaging/img-decode.h"
#include "imaging/img-positions.h"

#define SECRET "latitude forty-eight"

static const FixtureExif turned = { .orientation = 6, .taken = "2026:05:20 18:30:12" };

static gboolean
holds (GBytes *bytes, const char *text)
{
  gsize n;
  const char *data = g_bytes_get_data (bytes, &n);

  return memmem (data, n, text, strlen (text)) != NULL;
}

static ImgPicture *
decode (const char *dir, const char *name, GBytes *bytes)
{
  g_autofree char *path = fixture_write (dir, name, bytes);
  g_autoptr (GError) error = NULL;
  ImgPicture *picture = img_decode (path, NULL, NULL, &error);

  g_assert_no_error (error);
  return picture;
}

/* The copy is seen as the original was. */
static void
assert_same (const char *dir, GBytes *before, GBytes *after)
{
  g_autoptr (ImgPicture) a = decode (dir, "before", before);
  g_autoptr (ImgPicture) b = decode (dir, "after", after);
  char corners[2][5];

  fixture_corners (a->pixels, corners[0]);
  fixture_corners (b->pixels, corners[1]);
  g_assert_cmpstr (corners[0], ==, corners[1]);
  g_assert_cmpint (a->original_width, ==, b->original_width);
  g_assert_cmpint (a->original_height, ==, b->original_height);
  g_assert_cmpint (a->orientation, ==, b->orientation);
  g_assert_cmpint (a->has_taken, ==, b->has_taken);
  if (a->has_taken)
    g_assert_cmpint (a->taken_day, ==, b->taken_day);
}

static GBytes *
cleaned (GBytes *whole, int orientation)
{
  GBytes *out = img_positions_remove (whole, orientation, core_day_from_ymd (2026, 5, 20), 18 * 60 + 30);

  g_assert_nonnull (out);
  return out;
}

/* ---- JPEG ---- */

/* A segment of that marker, right behind the start of the file. */
static GBytes *
with_segment (GBytes *jpeg, guint8 marker, const char *body, gsize n)
{
  GByteArray *out = g_byte_array_new ();
  gsize size;
  const guint8 *data = g_bytes_get_data (jpeg, &size);
  guint8 head[4] = { 0xff, marker, (guint8) ((n + 2) >> 8), (guint8) (n + 2) };

  g_byte_array_append (out, data, 2);
  g_byte_array_append (out, head, 4);
  g_byte_array_append (out, (const guint8 *) body, (guint) n);
  g_byte_array_append (out, data + 2, (guint) (size - 2));
  return g_byte_array_free_to_bytes (out);
}

/* Every segment that is no part of the picture. */
static void
test_jpeg_segments (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &turned);

  for (guint marker = 0xe0; marker <= 0xfe; marker++)
    {
      static const char *const names[] = { "Exif", "http://ns.adobe.com/xap/1.0/", "JFXX", "MPF", "" };

      if (marker >= 0xf0 && marker < 0xfe)
        continue;
      for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
        {
          char body[100] = { 0 };
          gsize n = strlen (names[i]);
          g_autoptr (GBytes) hurt = NULL;
          g_autoptr (GBytes) out = NULL;

          memcpy (body, names[i], n);
          memcpy (body + n + 2, SECRET, strlen (SECRET));
          hurt = with_segment (jpeg, (guint8) marker, body, n + 2 + strlen (SECRET));
          g_assert_true (holds (hurt, SECRET));
          out = cleaned (hurt, 6);
          g_assert_false (holds (out, SECRET));
          assert_same (dir, jpeg, out);
        }
    }
  fixture_done (dir);
}

/* Behind the end: a second picture, a film, notes of a maker. */
static void
test_jpeg_tail (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &turned);
  gsize n;
  const guint8 *data = g_bytes_get_data (jpeg, &n);
  GByteArray *longer = g_byte_array_new ();
  g_autoptr (GBytes) hurt = NULL;
  g_autoptr (GBytes) out = NULL;

  g_byte_array_append (longer, data, (guint) n);
  g_byte_array_append (longer, (const guint8 *) SECRET, sizeof SECRET);
  hurt = g_byte_array_free_to_bytes (longer);
  out = cleaned (hurt, 6);
  g_assert_false (holds (out, SECRET));
  assert_same (dir, jpeg, out);
  fixture_done (dir);
}

/* A thumbnail in the first segment is a picture too; the resolution stays. */
static void
test_jpeg_thumbnail (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  char body[14 + 60] = "JFIF\0\1\2\1\0\x48\0\x48\4\5";
  g_autoptr (GBytes) hurt = NULL;
  g_autoptr (GBytes) out = NULL;

  memcpy (body + 14, SECRET, strlen (SECRET));
  hurt = with_segment (jpeg, 0xe0, body, sizeof body);
  out = img_positions_remove (hurt, 1, CORE_DAY_NONE, -1);
  g_assert_nonnull (out);
  g_assert_false (holds (out, SECRET));
  g_assert_true (holds (out, "JFIF"));
  g_assert_false (holds (out, "Exif")); /* nothing to say: no such segment */
  assert_same (dir, jpeg, out);
  fixture_done (dir);
}

static void
test_jpeg_forms (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) progressive = fixture_progressive_jpeg (pixbuf);
  g_autoptr (GBytes) out = img_positions_remove (progressive, 1, CORE_DAY_NONE, -1);

  g_assert_nonnull (out);
  assert_same (dir, progressive, out);
  for (int orientation = 1; orientation <= 8; orientation++)
    {
      FixtureExif exif = { .orientation = orientation, .taken = "2026:05:20 18:30:12" };
      g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &exif);
      g_autoptr (GBytes) clean = cleaned (jpeg, orientation);
      g_autoptr (GBytes) again = cleaned (jpeg, orientation);

      assert_same (dir, jpeg, clean);
      g_assert_true (g_bytes_equal (clean, again));
      g_clear_pointer (&again, g_bytes_unref);
      again = cleaned (clean, orientation); /* there is nothing left to take out */
      g_assert_true (g_bytes_equal (clean, again));
    }
  fixture_done (dir);
}

static void
test_time (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (32, 32);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &turned);
  g_autoptr (GBytes) clean = cleaned (jpeg, 6);
  g_autoptr (GBytes) day = img_positions_remove (jpeg, 6, core_day_from_ymd (2026, 5, 20), -1);
  g_autoptr (ImgPicture) a = decode (dir, "a", clean);
  g_autoptr (ImgPicture) b = decode (dir, "b", day);

  g_assert_cmpint (a->hour * 60 + a->minute, ==, 18 * 60 + 30);
  g_assert_true (b->has_taken);
  g_assert_cmpint (b->taken_day, ==, core_day_from_ymd (2026, 5, 20));
  g_assert_cmpint (b->hour, ==, -1);
  fixture_done (dir);
}

/* ---- PNG, WebP ---- */

/* A chunk of text before the end; its sum is not looked at, for it is not kept. */
static GBytes *
with_text (GBytes *png, const char *name)
{
  GByteArray *out = g_byte_array_new ();
  gsize n;
  const guint8 *data = g_bytes_get_data (png, &n);
  guint8 head[8] = { 0, 0, 0, sizeof SECRET };

  memcpy (head + 4, name, 4);
  g_byte_array_append (out, data, (guint) (n - 12));
  g_byte_array_append (out, head, 8);
  g_byte_array_append (out, (const guint8 *) SECRET, sizeof SECRET);
  g_byte_array_append (out, head, 4);
  g_byte_array_append (out, data + n - 12, 12);
  g_byte_array_append (out, (const guint8 *) SECRET, sizeof SECRET);
  return g_byte_array_free_to_bytes (out);
}

static void
test_png (void)
{
  static const char *const names[] = { "tEXt", "zTXt", "iTXt", "eXIf", "tIME", "zzZz" };
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);

  for (int after = 0; after < 2; after++)
    for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
      {
        g_autoptr (GBytes) png = fixture_png (pixbuf, &turned, after);
        g_autoptr (GBytes) hurt = with_text (png, names[i]);
        g_autoptr (GBytes) out = cleaned (hurt, 6);

        g_assert_false (holds (out, SECRET));
        assert_same (dir, png, out);
      }
  fixture_done (dir);
}

static void
test_webp (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) webp = fixture_webp (pixbuf, &turned);
  g_autoptr (GBytes) hurt = NULL;
  g_autoptr (GBytes) out = NULL;
  GByteArray *longer;
  gsize n;
  const guint8 *data;

  if (webp == NULL || !fixture_has_loader ("webp"))
    {
      g_test_skip ("no WebP here");
      fixture_done (dir);
      return;
    }
  data = g_bytes_get_data (webp, &n);
  longer = g_byte_array_new ();
  g_byte_array_append (longer, data, (guint) n);
  g_byte_array_append (longer, (const guint8 *) "XMP \x16\0\0\0" SECRET "!!", 8 + 22);
  for (int i = 0; i < 4; i++)
    longer->data[4 + i] = (guint8) ((longer->len - 8) >> 8 * i);
  hurt = g_byte_array_free_to_bytes (longer);
  g_assert_true (holds (hurt, SECRET));
  out = cleaned (hurt, 6);
  g_assert_false (holds (out, SECRET));
  assert_same (dir, webp, out);
  g_clear_pointer (&out, g_bytes_unref);
  out = img_positions_remove (webp, 1, CORE_DAY_NONE, -1); /* nothing to say: no such chunk */
  g_assert_nonnull (out);
  g_assert_false (holds (out, "EXIF"));
  fixture_done (dir);
}

/* ---- what is not taken ---- */

static void
test_refused (void)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) tiff = fixture_tiff (pixbuf, 1);
  g_autoptr (GBytes) letter = g_bytes_new_static ("no picture at all, but long enough", 34);
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);

  g_assert_null (img_positions_remove (tiff, 1, CORE_DAY_NONE, -1));
  g_assert_null (img_positions_remove (letter, 1, CORE_DAY_NONE, -1));
  g_assert_null (img_positions_remove (nothing, 1, CORE_DAY_NONE, -1));
}

/* Cut anywhere and hurt anywhere: nothing, or a copy; never a crash, never the secret. */
static void
test_cuts_and_flips (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (40, 30);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &turned);
  g_autoptr (GBytes) png = fixture_png (pixbuf, &turned, FALSE);
  g_autoptr (GBytes) webp = fixture_webp (pixbuf, &turned);
  GBytes *all[] = { jpeg, png, webp };

  for (gsize k = 0; k < G_N_ELEMENTS (all); k++)
    for (int turn = 0; all[k] != NULL && turn < 3000; turn++)
      {
        gsize n = g_bytes_get_size (all[k]);
        gsize cut = turn % 2 != 0 ? (gsize) g_rand_int_range (rand, 0, (gint32) n) : n;
        guint8 *copy = g_memdup2 (g_bytes_get_data (all[k], NULL), MAX (cut, 1));
        g_autoptr (GBytes) bytes = NULL;
        g_autoptr (GBytes) out = NULL;

        for (int i = 0; i < turn % 5 && cut > 0; i++)
          copy[g_rand_int_range (rand, 0, (gint32) cut)] = (guint8) g_rand_int (rand);
        bytes = g_bytes_new_take (copy, cut);
        out = img_positions_remove (bytes, 6, 20000, -1);
        if (out != NULL)
          g_assert_cmpuint (g_bytes_get_size (out), <=, n + 200);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/imaging/positions/jpeg-segments", test_jpeg_segments);
  g_test_add_func ("/imaging/positions/jpeg-tail", test_jpeg_tail);
  g_test_add_func ("/imaging/positions/jpeg-thumbnail", test_jpeg_thumbnail);
  g_test_add_func ("/imaging/positions/jpeg-forms", test_jpeg_forms);
  g_test_add_func ("/imaging/positions/time", test_time);
  g_test_add_func ("/imaging/positions/png", test_png);
  g_test_add_func ("/imaging/positions/webp", test_webp);
  g_test_add_func ("/imaging/positions/refused", test_refused);
  g_test_add_func ("/imaging/positions/cuts-and-flips", test_cuts_and_flips);
  return g_test_run ();
}
