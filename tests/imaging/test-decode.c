/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-decode.c — good pictures: upright in every orientation and format, the
 * day they were taken, smaller on request. */
#include "fixture.h"
#include "imaging/decode/decode-exif.h"
#include "imaging/img-decode.h"

#include <string.h>

#define W 64
#define H 48

/* Corners of the upright picture when the stored one reads R G / B Y. From the words of the EXIF
 * standard (row 0 and column 0 of the stored picture lie at these sides): 1 top left, 2 top
 * right, 3 bottom right, 4 bottom left, 5 left top, 6 right top, 7 right bottom, 8 left bottom. */
static const char *const upright_corners[9] = { NULL,   "RGBY", "GRYB", "YBGR", "BYRG",
                                                "RBGY", "BRYG", "YGBR", "GYRB" };

typedef struct
{
  const char *format;
  int orientation;
  gboolean late; /* PNG: eXIf after the pixels */
} TurnCase;

static GBytes *
make (const TurnCase *c, GdkPixbuf *pixbuf)
{
  FixtureExif exif = { .orientation = c->orientation, .big_endian = c->orientation % 2 == 0 };

  if (strcmp (c->format, "jpeg") == 0)
    return fixture_jpeg (pixbuf, &exif);
  if (strcmp (c->format, "png") == 0)
    return fixture_png (pixbuf, &exif, c->late);
  if (strcmp (c->format, "tiff") == 0)
    return fixture_tiff (pixbuf, c->orientation);
  return fixture_has_loader ("webp") ? fixture_webp (pixbuf, &exif) : NULL;
}

/* The whole picture against another hand's turning of the same tag. */
static void
assert_same_as_gdk (const char *path, const ImgPixels *pixels)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkPixbuf) stored = gdk_pixbuf_new_from_file (path, &error);
  g_autoptr (GdkPixbuf) upright = NULL;
  int n;

  g_assert_no_error (error);
  upright = gdk_pixbuf_apply_embedded_orientation (stored);
  g_assert_cmpint (gdk_pixbuf_get_width (upright), ==, pixels->width);
  g_assert_cmpint (gdk_pixbuf_get_height (upright), ==, pixels->height);
  n = gdk_pixbuf_get_n_channels (upright);
  for (int y = 0; y < pixels->height; y++)
    for (int x = 0; x < pixels->width; x++)
      g_assert_cmpmem (gdk_pixbuf_read_pixels (upright) + y * gdk_pixbuf_get_rowstride (upright) +
                         x * n,
                       3, img_pixels_row (pixels, y) + x * 3, 3);
}

static void
test_turn (gconstpointer data)
{
  const TurnCase *c = data;
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GBytes) bytes = make (c, pixbuf);
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  char corners[5];

  if (bytes == NULL)
    {
      g_test_skip ("no loader or no encoder for this format on this machine");
      fixture_done (dir);
      return;
    }
  path = fixture_write (dir, "picture", bytes);
  picture = img_decode (path, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (picture->format, ==, c->format);
  g_assert_cmpint (picture->pixels->width, ==, c->orientation < 5 ? W : H);
  g_assert_cmpint (picture->pixels->height, ==, c->orientation < 5 ? H : W);
  g_assert_cmpint (picture->original_width, ==, picture->pixels->width);
  g_assert_cmpint (picture->original_height, ==, picture->pixels->height);
  fixture_corners (picture->pixels, corners);
  g_assert_cmpstr (corners, ==, upright_corners[c->orientation]);
  if (strcmp (c->format, "jpeg") == 0 || strcmp (c->format, "tiff") == 0)
    assert_same_as_gdk (path, picture->pixels);
  if (strcmp (c->format, "tiff") != 0)
    g_assert_cmpint (picture->orientation, ==, c->orientation);
  fixture_done (dir);
}

/* The file's own turn is applied by its decoder; the EXIF orientation beside it, which repeats it
 * (6: a quarter clockwise, three counter-clockwise), must not turn the picture again. */
static void
test_heic (gconstpointer data)
{
  static const int quarter_turns[9] = { [1] = 0, [3] = 2, [6] = 3, [8] = 1 };
  int orientation = GPOINTER_TO_INT (data);
  FixtureExif exif = { .orientation = orientation };
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (128, 64);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &exif);
  g_autoptr (GBytes) plain = fixture_has_loader ("heif/avif") ? fixture_heic (dir, jpeg) : NULL;
  g_autoptr (GBytes) turned = NULL;
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  char corners[5];

  if (plain == NULL)
    {
      g_test_skip ("no HEIC loader, or no heif-enc to make a HEIC picture with");
      fixture_done (dir);
      return;
    }
  turned = fixture_heic_turned (plain, quarter_turns[orientation]);
  path = fixture_write (dir, "turned.heic", turned);
  picture = img_decode (path, NULL, NULL, &error);
  g_assert_no_error (error);
  fixture_corners (picture->pixels, corners);
  g_assert_cmpstr (corners, ==, upright_corners[orientation]);
  g_assert_cmpint (picture->original_width, ==, orientation < 5 ? 128 : 64);
  g_assert_cmpint (picture->original_height, ==, orientation < 5 ? 64 : 128);
  g_assert_cmpint (picture->orientation, ==, 1);
  g_assert_cmpstr (picture->format, ==, "heic");
  fixture_done (dir);
}

static void
add_turns (void)
{
  static const struct
  {
    const char *format;
    gboolean late;
  } kinds[] = { { "jpeg" }, { "png" }, { "png", TRUE }, { "tiff" }, { "webp" } };
  static const int heic[] = { 1, 3, 6, 8 };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    for (int o = 1; o <= 8; o++)
      {
        TurnCase *c = g_new0 (TurnCase, 1);
        g_autofree char *path = NULL;

        c->format = kinds[i].format;
        c->late = kinds[i].late;
        c->orientation = o;
        path =
          g_strdup_printf ("/imaging/decode/turn/%s%s/%d", c->format, c->late ? "-late" : "", o);
        g_test_add_data_func_full (path, c, test_turn, g_free);
      }
  for (gsize i = 0; i < G_N_ELEMENTS (heic); i++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/decode/turn/heic/%d", heic[i]);

      g_test_add_data_func (path, GINT_TO_POINTER (heic[i]), test_heic);
    }
}

typedef struct
{
  const char *name;
  FixtureExif exif;
  gboolean has_taken;
  int ymd[3], hms[3], ms, offset;
  gint32 day;
} DateCase;

/* Day numbers: Unix time of the day ÷ 86,400 (date -u -d DAY +%s). */
static const DateCase dates[] = {
  { "whole",
    { .taken = "2026:05:17 21:04:33", .subsec = "25", .offset = "+02:00" },
    TRUE,
    { 2026, 5, 17 },
    { 21, 4, 33 },
    250,
    120,
    20590 },
  { "big-endian",
    { .taken = "2024:02:29 00:00:00", .offset = "-03:30", .big_endian = TRUE },
    TRUE,
    { 2024, 2, 29 },
    { 0, 0, 0 },
    -1,
    -210,
    19782 },
  { "no-time",
    { .taken = "2026:05:17   :  :  " },
    TRUE,
    { 2026, 5, 17 },
    { -1, 0, 0 },
    -1,
    G_MININT32,
    20590 },
  { "before-1970",
    { .taken = "1969:12:31 12:00:00" },
    TRUE,
    { 1969, 12, 31 },
    { 12, 0, 0 },
    -1,
    G_MININT32,
    -1 },
  { "prose", { .taken = "Sunday, 11am       " }, FALSE },
  { "zeros", { .taken = "0000:00:00 00:00:00" }, FALSE },
  { "blanks", { .taken = "    :  :     :  :  " }, FALSE },
  { "no-such-day", { .taken = "2025:02:29 10:00:00" }, FALSE },
  { "short", { .taken = "2025" }, FALSE },
  { "none", { .orientation = 1 }, FALSE },
};

static void
assert_date (const ImgPicture *p, const DateCase *c)
{
  g_assert_cmpint (p->has_taken, ==, c->has_taken);
  if (!c->has_taken)
    return;
  g_assert_cmpint (p->year, ==, c->ymd[0]);
  g_assert_cmpint (p->month, ==, c->ymd[1]);
  g_assert_cmpint (p->day, ==, c->ymd[2]);
  g_assert_cmpint (p->hour, ==, c->hms[0]);
  g_assert_cmpint (p->minute, ==, c->hms[1]);
  g_assert_cmpint (p->second, ==, c->hms[2]);
  g_assert_cmpint (p->millisecond, ==, c->ms);
  g_assert_cmpint (p->utc_offset, ==, c->offset);
  g_assert_cmpint (p->taken_day, ==, c->day);
}

static void
test_date (gconstpointer data)
{
  const DateCase *c = data;
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GdkPixbuf) large = fixture_quarters (400, 300); /* its directory lies far behind */
  GBytes *files[] = { fixture_jpeg (pixbuf, &c->exif), fixture_png (pixbuf, &c->exif, FALSE),
                      fixture_png (pixbuf, &c->exif, TRUE),
                      fixture_has_loader ("webp") ? fixture_webp (pixbuf, &c->exif) : NULL,
                      fixture_tiff_dated (pixbuf, &c->exif), fixture_tiff_dated (large, &c->exif), NULL };

  if (fixture_has_loader ("heif/avif"))
    files[G_N_ELEMENTS (files) - 1] = fixture_heic (dir, files[0]);

  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autoptr (ImgPicture) picture = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *path = NULL;

      if (files[i] == NULL)
        continue;
      path = fixture_write (dir, "picture", files[i]);
      picture = img_decode (path, NULL, NULL, &error);
      g_assert_no_error (error);
      assert_date (picture, c);
      g_bytes_unref (files[i]);
    }
  fixture_done (dir);
}

static void
test_small_fields (void)
{
  g_assert_cmpint (decode_exif_parse_subsec ("5"), ==, 500);
  g_assert_cmpint (decode_exif_parse_subsec ("123456"), ==, 123);
  g_assert_cmpint (decode_exif_parse_subsec ("   "), ==, -1);
  g_assert_cmpint (decode_exif_parse_offset ("+05:45"), ==, 345);
  g_assert_cmpint (decode_exif_parse_offset ("-08:00"), ==, -480);
  g_assert_cmpint (decode_exif_parse_offset ("+99:00"), ==, G_MININT32);
  g_assert_cmpint (decode_exif_parse_offset ("Z"), ==, G_MININT32);
}

/* A block that announces more than it holds, or points at itself, gives an empty answer. */
static void
test_exif_garbage (void)
{
  FixtureExif good = { .orientation = 6, .taken = "2026:05:17 21:04:33" };
  g_autoptr (GBytes) block = fixture_exif (&good);
  gsize size;
  const guint8 *data = g_bytes_get_data (block, &size);
  DecodeExif exif;

  decode_exif_read (data, size, &exif);
  g_assert_cmpint (exif.orientation, ==, 6);
  for (gsize n = 0; n < size; n++)
    {
      g_autofree guint8 *cut = g_memdup2 (data, n);

      decode_exif_read (cut, n, &exif);
      g_assert_true (exif.orientation == 1 || exif.orientation == 6);
    }
  for (gsize at = 0; at < size; at++)
    {
      g_autofree guint8 *bent = g_memdup2 (data, size);

      bent[at] = (guint8) ~bent[at];
      decode_exif_read (bent, size, &exif);
      g_assert_cmpint (exif.orientation, >=, 1);
      g_assert_cmpint (exif.orientation, <=, 8);
    }
}

static void
test_scaled (void)
{
  static const char *const formats[] = { "jpeg", "png", "tiff" };
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (480, 320);
  FixtureExif turned = { .orientation = 6 };

  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      ImgDecodeOptions options = { .max_side = 100 };
      g_autoptr (GBytes) bytes = i == 0   ? fixture_jpeg (pixbuf, &turned)
                                 : i == 1 ? fixture_png (pixbuf, &turned, FALSE)
                                          : fixture_tiff (pixbuf, 6);
      g_autofree char *path = fixture_write (dir, "picture", bytes);
      g_autoptr (GError) error = NULL;
      g_autoptr (ImgPicture) picture = img_decode (path, &options, NULL, &error);
      char corners[5];

      g_assert_no_error (error);
      g_assert_cmpint (picture->pixels->width, ==, 67);
      g_assert_cmpint (picture->pixels->height, ==, 100);
      g_assert_cmpint (picture->original_width, ==, 320);
      g_assert_cmpint (picture->original_height, ==, 480);
      fixture_corners (picture->pixels, corners);
      g_assert_cmpstr (corners, ==, upright_corners[6]);
    }
  fixture_done (dir);
}

/* Never enlarged. */
static void
test_scaled_small (void)
{
  ImgDecodeOptions options = { .max_side = 1000 };
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = fixture_write (dir, "small.jpg", bytes);
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = img_decode (path, &options, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, W);
  g_assert_cmpint (picture->orientation, ==, 1);
  g_assert_false (picture->has_taken);
  fixture_done (dir);
}

static void
test_transparent_is_white (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, TRUE, 8, 5, 3);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  const guint8 *p;

  gdk_pixbuf_fill (pixbuf, 0x00000000);
  memcpy (gdk_pixbuf_get_pixels (pixbuf) + 4, "\x64\x00\xff\x80", 4); /* half covered */
  memcpy (gdk_pixbuf_get_pixels (pixbuf) + 8, "\x01\x02\x03\xff", 4);
  bytes = fixture_png (pixbuf, NULL, FALSE);
  path = fixture_write (dir, "clear.png", bytes);
  picture = img_decode (path, NULL, NULL, &error);
  g_assert_no_error (error);
  p = img_pixels_row (picture->pixels, 0);
  /* 100 × 128/255 + 255 × 127/255 = 177.2; 127; 255 */
  g_assert_cmpmem (p, 9, "\xff\xff\xff\xb1\x7f\xff\x01\x02\x03", 9);
  fixture_done (dir);
}

static void
finished_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **out = data;

  *out = g_object_ref (result);
}

static void
test_async (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = fixture_write (dir, "a.jpg", bytes);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_autoptr (GAsyncResult) good = NULL, stopped = NULL;
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancelled);
  img_decode_async (file, NULL, NULL, finished_cb, &good);
  img_decode_async (file, NULL, cancelled, finished_cb, &stopped);
  while (good == NULL || stopped == NULL)
    g_main_context_iteration (NULL, TRUE);
  picture = img_decode_finish (good, &error);
  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, W);
  g_assert_null (img_decode_finish (stopped, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  fixture_done (dir);
}

/* Editing programs put an XMP block, the same kind of segment, before the EXIF one. */
static void
test_other_segment_first (void)
{
  static const guint8 xmp[] = "\xff\xe1\x00\x24http://ns.adobe.com/xap/1.0/\0<x/>";
  FixtureExif exif = { .orientation = 3, .taken = "2026:05:17 21:04:33" };
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GBytes) plain = fixture_jpeg (pixbuf, &exif), bytes = NULL;
  g_autoptr (GByteArray) file = g_byte_array_new ();
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  char corners[5];

  g_byte_array_append (file, g_bytes_get_data (plain, NULL), 2);
  g_byte_array_append (file, xmp, 0x24 + 2);
  g_byte_array_append (file, (const guint8 *) g_bytes_get_data (plain, NULL) + 2,
                       (guint) g_bytes_get_size (plain) - 2);
  bytes = g_bytes_new (file->data, file->len);
  path = fixture_write (dir, "a.jpg", bytes);
  picture = img_decode (path, NULL, NULL, &error);
  g_assert_no_error (error);
  fixture_corners (picture->pixels, corners);
  g_assert_cmpstr (corners, ==, upright_corners[3]);
  g_assert_cmpint (picture->taken_day, ==, 20590);
  fixture_done (dir);
}

/* The pixels outlive the picture they came with, and the descriptor is left as it was. */
static void
test_ownership (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (W, H);
  g_autoptr (GBytes) bytes = fixture_png (pixbuf, NULL, FALSE);
  g_autofree char *path = fixture_write (dir, "a.png", bytes);
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPixels) kept = NULL;
  FILE *file = fopen (path, "rb");
  ImgPicture *picture;
  char corners[5];

  g_assert_nonnull (file);
  g_assert_cmpint (fseek (file, 7, SEEK_SET), ==, 0);
  picture = img_decode_fd (fileno (file), NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (ftell (file), ==, 7);
  kept = img_pixels_copy (picture->pixels);
  img_picture_free (picture);
  fclose (file);
  fixture_corners (kept, corners);
  g_assert_cmpstr (corners, ==, "RGBY");
  fixture_done (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add_turns ();
  for (gsize i = 0; i < G_N_ELEMENTS (dates); i++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/decode/date/%s", dates[i].name);

      g_test_add_data_func (path, &dates[i], test_date);
    }
  g_test_add_func ("/imaging/decode/exif/small-fields", test_small_fields);
  g_test_add_func ("/imaging/decode/exif/garbage", test_exif_garbage);
  g_test_add_func ("/imaging/decode/scaled", test_scaled);
  g_test_add_func ("/imaging/decode/scaled-small", test_scaled_small);
  g_test_add_func ("/imaging/decode/transparent", test_transparent_is_white);
  g_test_add_func ("/imaging/decode/async", test_async);
  g_test_add_func ("/imaging/decode/other-segment-first", test_other_segment_first);
  g_test_add_func ("/imaging/decode/ownership", test_ownership);
  return g_test_run ();
}
