/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-pictures.c — the gallery, the picture large, the pictures of a round, by keys and by names. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <utime.h>

#include "app-fixture.h"
#include "app/app-attach.h"
#include "app/app-batch-row.h"
#include "app/app-bench-page.h"
#include "app/app-canvas.h"
#include "app/app-gallery-page.h"
#include "app/app-picture-page.h"
#include "app/app-pictures-page.h"
#include "app/app-still-strip.h"
#include "app/app-thumb.h"
#include "app/app-tiles.h"
#include "core/core-date.h"
#include "desk/desk-gallery.h"
#include "desk/photo-batch.h"
#include "desk/photo-later.h"
#include "fixture.h"

/* ---- pieces ---- */

/* A picture in which every pixel tells its place. */
static ImgPixels *
numbered (int width, int height)
{
  gsize stride = (gsize) width * 3;
  guint8 *data = g_malloc (stride * (gsize) height);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        guint8 *p = data + (gsize) y * stride + (gsize) x * 3;

        p[0] = (guint8) x;
        p[1] = (guint8) y;
        p[2] = (guint8) (16 * (x >> 8) + (y >> 8));
      }
  return img_pixels_new_take (width, height, stride, g_bytes_new_take (data, stride * (gsize) height));
}

static void
ready_cb (gpointer count)
{
  (*(guint *) count)++;
}

static guint32
drawn_at (AppTiles *tiles, double ix, double iy, double zoom, int x, int y)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 300, 200);
  cairo_t *cr = cairo_create (surface);
  guint32 word;

  app_tiles_frame (tiles);
  app_tiles_draw (tiles, cr, ix, iy, zoom, 1, CAIRO_FILTER_BILINEAR);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  word = *(guint32 *) (void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + 4 * x);
  cairo_surface_destroy (surface);
  return word & 0xffffff;
}

static guint32
told (int x, int y)
{
  return (guint32) ((x & 255) << 16 | (y & 255) << 8 | (16 * (x >> 8) + (y >> 8)));
}

/* Pixel for pixel every place shows its own pixel, also across the edges of pieces, and the pieces
 * stay within their bound while the whole picture goes by. */
static void
test_tiles (void)
{
  g_autoptr (ImgPixels) pixels = numbered (3000, 2000);
  AppTiles *tiles = app_tiles_new (img_pyramid_new (pixels, NULL, NULL));
  guint came = 0;

  app_tiles_watch (tiles, ready_cb, &came);
  for (int y = 400; y + 200 < 2000; y += 570)
    for (int x = 400; x + 300 < 3000; x += 670)
      {
        (void) drawn_at (tiles, x, y, 1, 0, 0);
        APP_WAIT (!app_tiles_waiting (tiles));
        for (int k = 0; k < 199; k += 66)
          g_assert_cmphex (drawn_at (tiles, x, y, 1, k + 50, k), ==, told (x + k + 50, y + k));
        g_assert_cmpuint (app_tiles_bytes (tiles), <=, APP_TILES_BYTES);
      }
  g_assert_cmpuint (came, >, 0);
  app_tiles_end (tiles);
}

/* What is not there yet is drawn from a coarser level: never nothing. */
static void
test_tiles_stand_in (void)
{
  g_autoptr (ImgPixels) pixels = img_pixels_new_take (2400, 2400, 7200, g_bytes_new_take (memset (g_malloc (7200 * 2400), 0x55, 7200 * 2400), 7200 * 2400));
  AppTiles *tiles = app_tiles_new (img_pyramid_new (pixels, NULL, NULL));

  g_assert_cmphex (drawn_at (tiles, 700, 700, 1, 100, 100), ==, 0x555555);
  app_tiles_end (tiles); /* also while pieces are being made */
  app_settle ();
}

/* ---- a keeper's hands ---- */

/* A file that differs by its size; "YYYY:MM:DD HH:MM:SS" or NULL. */
static char *
camera_file (Room *room, const char *name, int side, const char *taken)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (side, side);
  FixtureExif exif = { .taken = taken };
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &exif);

  return room_file (room, name, jpeg);
}

static CoreId
add_photo (Room *room, guint cup, const char *name, int side, const char *taken)
{
  g_autofree char *path = camera_file (room, name, side, taken);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  DeskPhoto photo;

  desk_photo_add_async (room->journal.desk, desk_subject_id (room->cups[cup]), file, CORE_DAY_NONE, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_photo_add_finish (room->journal.desk, result, &photo, &error));
  g_assert_no_error (error);
  return photo.photo;
}

static const char *
shown_page (Room *room)
{
  return gtk_stack_get_visible_child_name (room->window->pages);
}

static GtkWidget *
page_of (Room *room)
{
  return gtk_stack_get_visible_child (room->window->pages);
}

static void
act (Room *room, const char *action)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (room->window), action, NULL));
  app_settle ();
}

/* The gallery of one animal opens from its page, each picture by name; one opens large, keys go on. */
static void
test_gallery (Room *room, gconstpointer data)
{
  GtkWidget *button;
  AppCanvas *canvas;
  int width = 0, height = 0;

  add_photo (room, 0, "a.jpg", 64, "2026:05:20 10:00:00");
  add_photo (room, 0, "b.jpg", 80, "2026:05:28 10:00:00");
  add_photo (room, 1, "c.jpg", 96, "2026:05:28 10:00:00");
  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  app_settle ();
  g_assert_nonnull (app_find_button (page_of (room), "All 2 by stage"));
  act (room, "win.gallery");
  g_assert_cmpstr (shown_page (room), ==, "gallery");
  g_assert_nonnull (app_find_words (page_of (room), "Pictures of 14"));
  g_assert_nonnull (app_find_words (page_of (room), "stages counted with hatchling = L1"));
  g_assert_cmpuint (app_count_words (page_of (room), "side not said yet"), ==, 2);
  button = GTK_WIDGET (gtk_root_get_focus (GTK_ROOT (room->window)));
  g_assert_true (GTK_IS_BUTTON (button) && gtk_widget_has_css_class (button, "picture"));
  app_press (button);
  g_assert_cmpstr (shown_page (room), ==, "picture");
  g_assert_nonnull (app_find_words (page_of (room), "1 of 2"));
  canvas = APP_CANVAS (app_find (page_of (room), APP_TYPE_CANVAS));
  APP_WAIT (app_canvas_size (canvas, &width, &height) && app_canvas_sharp (canvas));
  g_assert_cmpint (width, ==, 64);
  g_assert_true (app_key (canvas, GDK_KEY_1, 0));
  g_assert_cmpfloat_with_epsilon (app_canvas_zoom (canvas), 1, 1e-9);
  g_assert_true (app_key (canvas, GDK_KEY_0, 0));
  g_assert_cmpfloat (app_canvas_zoom (canvas), >, 1);
  g_assert_true (app_key (page_of (room), GDK_KEY_Page_Down, 0));
  APP_WAIT (app_canvas_size (canvas, &width, &height) && width == 80);
  g_assert_nonnull (app_find_words (page_of (room), "2 of 2"));
  app_window_go_back (room->window);
  g_assert_cmpstr (shown_page (room), ==, "gallery");
  app_press (app_find_button (page_of (room), "All animals"));
  g_assert_nonnull (app_find_words (page_of (room), "3 pictures"));
  app_settle ();
  app_none_is_cut (page_of (room)); /* a kind has its whole name */
}

/* Without pictures it says what to do; a filter that lets nothing through says how to take it off. */
static void
test_gallery_empty (Room *room, gconstpointer data)
{
  CoreId photo;
  char id[37];
  g_autofree char *pairs = NULL;

  act (room, "win.gallery");
  g_assert_nonnull (app_find_words (page_of (room), "There are no pictures yet."));
  photo = add_photo (room, 0, "a.jpg", 64, "2026:05:20 10:00:00");
  add_photo (room, 0, "b.jpg", 80, "2026:05:20 10:00:00");
  core_id_to_text (photo, id);
  pairs = g_strdup_printf ("photo=%s side=back of=animal", id);
  fixture_record (room->journal.desk, room->cups[0], "marked", pairs, 0);
  app_settle ();
  g_assert_cmpuint (app_count_words (page_of (room), "side not said yet"), ==, 1);
  g_assert_true (app_key (page_of (room), GDK_KEY_2, GDK_ALT_MASK)); /* backs */
  g_assert_cmpuint (app_count_words (page_of (room), "side not said yet"), ==, 0);
  g_assert_nonnull (app_find_button (page_of (room), "Back · 1"));
  g_assert_true (app_key (page_of (room), GDK_KEY_0, GDK_ALT_MASK));
  g_assert_cmpuint (app_count_words (page_of (room), "side not said yet"), ==, 1);
}

static AppBatchRow *
row_of (Room *room, guint nth)
{
  GtkWidget *row = app_find (page_of (room), APP_TYPE_BATCH_ROW);

  for (guint i = 0; i < nth; i++)
    row = gtk_widget_get_next_sibling (row);
  return APP_BATCH_ROW (row);
}

static void
type_number (Room *room, guint nth, const char *text)
{
  GtkWidget *entry = app_find (row_of (room, nth), GTK_TYPE_ENTRY);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  app_settle ();
}

/* The page fits into a narrow window, whatever its rows say. */
static int
least_width (GtkWidget *widget)
{
  int minimum;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  return minimum;
}

/* Dropped between the cups they are the pictures of a round: numbers typed, saved at once, counted in
 * one pass; one is left for later, and the list says so. */
static void
test_batch (Room *room, gconstpointer data)
{
  g_autofree char *one = camera_file (room, "one.jpg", 64, "2026:05:20 10:00:00");
  g_autofree char *two = camera_file (room, "two.jpg", 80, "2026:05:21 10:00:00");
  g_autoptr (GBytes) junk = g_bytes_new_static ("MZ no picture", 13);
  g_autofree char *bad = room_file (room, "bad.jpg", junk);
  g_autoptr (GArray) left = NULL;

  act (room, "win.pictures");
  g_assert_nonnull (app_find_words (page_of (room), "Drop the pictures of a round here"));
  g_assert_true (app_drop_file (page_of (room), one, 10, 10));
  g_assert_true (app_drop_file (page_of (room), bad, 10, 10));
  g_assert_true (app_drop_file (page_of (room), two, 10, 10));
  APP_WAIT (app_find_words (page_of (room), "3 without a cup") == NULL && app_find_words (page_of (room), "being read") == NULL);
  g_assert_nonnull (app_find_words (page_of (room), "This is not a picture."));
  g_assert_cmpint (least_width (page_of (room)), <=, 700);
  type_number (room, 0, "14");
  g_assert_nonnull (app_find_words (row_of (room, 0), "giant Asian"));
  type_number (room, 2, "999");
  g_assert_nonnull (app_find_words (row_of (room, 2), "No cup has this number."));
  type_number (room, 2, "22");
  g_assert_nonnull (app_find_words (page_of (room), "2 ready"));
  g_assert_true (app_key (page_of (room), GDK_KEY_s, GDK_CONTROL_MASK));
  APP_WAIT (strstr (app_said (room->window), "Saved: 2 pictures.") != NULL);
  g_assert_cmpuint (room_n_entries (room, 0), >, 0);
  g_assert_cmpint (room_last (room, 0)->kind, ==, CORE_KIND_PHOTO);
  g_assert_nonnull (app_find_words (page_of (room), "The plates of 2 pictures are to be counted."));
  app_press (app_find_button (page_of (room), "Count them in one pass"));
  g_assert_cmpstr (shown_page (room), ==, "bench");
  APP_WAIT (strstr (app_said (room->window), "Picture 1 of 2, cup 14.") != NULL);
  act (room, "win.photo-later");
  APP_WAIT (strstr (app_said (room->window), "Picture 2 of 2, cup 22.") != NULL);
  app_window_go_back (room->window); /* Escape: the pass stops, nothing is lost */
  g_assert_cmpstr (shown_page (room), ==, "pictures");
  app_settle ();
  g_assert_cmpstr (shown_page (room), ==, "pictures");
  g_assert_nonnull (app_find_words (page_of (room), "1 picture was left for later."));
  left = photo_later_list (room->journal.desk);
  g_assert_cmpuint (left->len, ==, 2);
  g_assert_true (g_array_index (left, PhotoLater, 1).left);
}

/* A day that the camera cannot mean is said where the day stands, and is never one to choose. */
static void
test_wrong_clock (Room *room, gconstpointer data)
{
  g_autofree char *ahead = camera_file (room, "ahead.jpg", 64, "2097:01:03 10:00:00");
  g_autofree char *asked = camera_file (room, "asked.jpg", 80, "1980:01:01 00:00:00");
  GFile *file;

  g_assert_cmpint (g_utime (asked, &(struct utimbuf){ 1779710400, 1779710400 }), ==, 0); /* 2026-05-25 */
  act (room, "win.pictures");
  g_assert_true (app_drop_file (page_of (room), ahead, 10, 10));
  g_assert_true (app_drop_file (page_of (room), asked, 10, 10));
  APP_WAIT (app_find_words (page_of (room), "2 without a cup") != NULL);
  g_assert_nonnull (app_find_words (row_of (room, 0), "still to come: its clock was wrong."));
  g_assert_nonnull (app_find_words (row_of (room, 0), "no proof that it was seen"));
  g_assert_nonnull (app_find_words (row_of (room, 1), "its clock was not set."));
  g_assert_nonnull (app_find_words (row_of (room, 1), "The file says"));
  g_assert_cmpint (least_width (page_of (room)), <=, 700);
  file = g_file_new_for_path (ahead);
  app_attach_files (room->window, desk_subject_id (room->cups[0]), &(GSList){ .data = file }, NULL);
  APP_WAIT (strstr (app_said (room->window), "still to come: its clock was wrong. Saved as of today") != NULL);
  g_object_unref (file);
}

/* What is recorded on the bench brings the next picture by itself. */
static void
test_pass (Room *room, gconstpointer data)
{
  CoreId photos[2] = { add_photo (room, 0, "a.jpg", 64, "2026:05:20 10:00:00"),
                       add_photo (room, 1, "b.jpg", 80, "2026:05:28 10:00:00") };
  char id[37];

  photo_later_add (room->journal.desk, photos, 2);
  act (room, "win.pictures");
  app_press (app_find_button (page_of (room), "Count them in one pass"));
  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *pairs = NULL;
      g_autofree char *said = g_strdup_printf ("Picture %u of 2", i + 1);

      APP_WAIT (strstr (app_said (room->window), said) != NULL);
      core_id_to_text (photos[i], id);
      pairs = g_strdup_printf ("photo=%s side=back of=animal", id);
      fixture_record (room->journal.desk, room->cups[i], "marked", pairs, 0);
      app_window_go_back (room->window); /* as the bench does once it has recorded */
    }
  APP_WAIT (strstr (app_said (room->window), "The pass is over: all of them are counted.") != NULL);
  g_assert_cmpstr (shown_page (room), ==, "pictures");
}

/* ---- onto a cup ---- */

static void
middle_of (GtkWidget *cup, GtkWidget *in, double *x, double *y)
{
  gtk_test_widget_wait_for_draw (in);
  g_assert_true (gtk_widget_translate_coordinates (cup, in, gtk_widget_get_width (cup) / 2.0,
                                                   gtk_widget_get_height (cup) / 2.0, x, y));
}

static AppCup *
cup_on (AppBoards *boards, CoreId id)
{
  for (guint i = 0; i < app_boards_n_cups (boards); i++)
    if (core_id_equal (app_cup_get_data (app_boards_nth (boards, i))->id, id))
      return app_boards_nth (boards, i);
  g_error ("no such cup");
}

/* A picture of a round is dragged onto the cup whose it is; dropped beside every cup it stays as it is. */
static void
test_drag_to_cup (Room *room, gconstpointer data)
{
  g_autofree char *one = camera_file (room, "one.jpg", 64, "2026:05:20 10:00:00");
  g_auto (GValue) row = G_VALUE_INIT;
  GtkWidget *boards;
  double x, y;

  act (room, "win.pictures");
  g_assert_true (app_drop_file (page_of (room), one, 10, 10));
  APP_WAIT (app_find_words (page_of (room), "1 without a cup") != NULL);
  boards = app_find (page_of (room), APP_TYPE_BOARDS);
  g_value_init (&row, APP_TYPE_BATCH_ROW);
  g_value_set_object (&row, row_of (room, 0));
  middle_of (GTK_WIDGET (cup_on (APP_BOARDS (boards), desk_subject_id (room->cups[2]))), boards, &x, &y);
  g_assert_false (app_drop_value (boards, &row, -40, -40));
  g_assert_nonnull (app_find_words (page_of (room), "1 without a cup"));
  g_assert_true (app_drop_value (boards, &row, x, y));
  g_assert_nonnull (app_find_words (page_of (room), "1 ready"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (app_find (row_of (room, 0), GTK_TYPE_ENTRY))), ==, "31");
  g_assert_true (app_key (page_of (room), GDK_KEY_s, GDK_CONTROL_MASK));
  APP_WAIT (strstr (app_said (room->window), "Saved: 1 picture.") != NULL);
  g_assert_cmpint (room_last (room, 2)->kind, ==, CORE_KIND_PHOTO);
}

/* On the shelves a file dropped on a cup is its picture, and one dropped between them is of a round. */
static void
test_drop_on_cup (Room *room, gconstpointer data)
{
  g_autofree char *one = camera_file (room, "one.jpg", 64, "2026:05:20 10:00:00");
  g_autofree char *two = camera_file (room, "two.jpg", 80, "2026:05:21 10:00:00");
  GtkWidget *boards = GTK_WIDGET (boards_of (room));
  gsize before = room_n_entries (room, 0);
  double x, y;

  middle_of (GTK_WIDGET (cup_of (room, "22")), boards, &x, &y);
  g_assert_true (app_drop_file (boards, one, x, y));
  APP_WAIT (room_last (room, 1)->kind == CORE_KIND_PHOTO);
  APP_WAIT (strstr (app_said (room->window), "Saved: the picture, as of") != NULL);
  g_assert_true (app_boards_chosen (boards_of (room)) == cup_of (room, "22"));
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  g_assert_true (app_drop_file (boards, two, -40, -40));
  g_assert_cmpstr (shown_page (room), ==, "pictures");
  APP_WAIT (app_find_words (page_of (room), "1 without a cup") != NULL);
}

/* ---- from the clipboard ---- */

static void
copy_picture (Room *room, int side)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (side, 40);
  g_autoptr (GdkTexture) texture = gdk_texture_new_for_pixbuf (pixbuf);

  gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (room->window)), texture);
}

static void
copy_file (Room *room, const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GSList) files = g_slist_prepend (NULL, file);

  gdk_clipboard_set (gtk_widget_get_clipboard (GTK_WIDGET (room->window)), GDK_TYPE_FILE_LIST, files);
}

static guint
n_pasted (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_cache_dir (), "mantidary", "pasted", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* What is said of a picture that has no file: the day that is typed, or none, and then nobody knows. */
static void
paste_on_page (Room *room, int side, const char *day)
{
  GtkWindow *form;

  copy_picture (room, side);
  act (room, "win.paste-pictures");
  APP_WAIT ((form = app_form_on_top ()) != NULL);
  g_assert_nonnull (app_find_words (form, "does not say when it was taken"));
  gtk_editable_set_text (GTK_EDITABLE (app_find (form, GTK_TYPE_ENTRY)), day);
  app_press (app_find_button (form, "Save"));
  APP_WAIT (app_form_on_top () == NULL && g_str_has_prefix (app_said (room->window), "Saved: the picture, as of"));
}

static void
test_paste (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  g_autofree char *path = NULL;
  const CoreEntry *entry;

  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  app_settle ();
  paste_on_page (room, 48, "");
  g_assert_cmpuint (room_n_entries (room, 0), ==, before + 1);
  entry = room_last (room, 0);
  g_assert_cmpint (entry->kind, ==, CORE_KIND_PHOTO);
  g_assert_null (core_entry_get (entry, CORE_KEY_TAKEN));
  path = desk_photo_path (room->journal.desk, entry->id);
  g_assert_true (g_str_has_suffix (path, ".png"));
  g_assert_cmpuint (n_pasted (), ==, 0);
  act (room, "win.undo");
  APP_WAIT (room_n_entries (room, 0) == before);
  paste_on_page (room, 56, "2026-05-20");
  entry = room_last (room, 0);
  g_assert_cmpint (entry->day, ==, core_day_from_ymd (2026, 5, 20));
  g_assert_cmpfloat (core_entry_num (entry, CORE_KEY_TAKEN, -1), ==, entry->day);
}

/* The question is closed: nothing is entered, and what lay in the clipboard is not left about. */
static void
test_paste_cancelled (Room *room, gconstpointer data)
{
  gsize before = room_n_entries (room, 0);
  GtkWindow *form;

  app_window_show_animal (room->window, desk_subject_id (room->cups[0]));
  copy_picture (room, 48);
  act (room, "win.paste-pictures");
  APP_WAIT ((form = app_form_on_top ()) != NULL);
  g_assert_cmpuint (n_pasted (), ==, 1);
  app_press (app_find_button (form, "Cancel"));
  APP_WAIT (n_pasted () == 0);
  g_assert_cmpuint (room_n_entries (room, 0), ==, before);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (room->window)), "14 ate");
  act (room, "win.paste-pictures");
  APP_WAIT (strstr (app_said (room->window), "There is no picture in the clipboard.") != NULL);
}

/* On the photo bench a pasted or dropped file is the animal's, and comes onto the bench. */
static void
test_paste_on_bench (Room *room, gconstpointer data)
{
  CoreId photo = add_photo (room, 0, "a.jpg", 64, "2026:05:20 10:00:00");
  g_autofree char *two = camera_file (room, "two.jpg", 80, "2026:05:21 10:00:00");
  g_autofree char *three = camera_file (room, "three.jpg", 96, "2026:05:22 10:00:00");

  app_window_show_bench (room->window, desk_subject_id (room->cups[0]), photo);
  APP_WAIT (app_find_words (page_of (room), "64 × 64") != NULL);
  copy_file (room, two);
  act (room, "win.paste-pictures");
  APP_WAIT (strstr (app_said (room->window), "It lies on the bench now") != NULL);
  APP_WAIT (app_find_words (page_of (room), "80 × 80") != NULL);
  g_assert_true (app_drop_file (page_of (room), three, 10, 10));
  APP_WAIT (app_find_words (page_of (room), "96 × 96") != NULL);
  g_assert_cmpstr (shown_page (room), ==, "bench");
}

/* ---- beside another ---- */

/* The other pictures of the animal, straightened with their boundaries, its shed skins among them; W shows
 * them whole, and those without marks too. */
static void
test_other_pictures (Room *room, gconstpointer data)
{
  CoreId skin = add_photo (room, 0, "a.jpg", 80, "2026:05:10 10:00:00"),
         now = add_photo (room, 0, "b.jpg", 64, "2026:05:28 10:00:00");
  char id[37];
  g_autofree char *pairs = NULL;
  GtkWidget *strip;

  add_photo (room, 0, "c.jpg", 96, "2026:05:20 10:00:00");
  core_id_to_text (skin, id);
  pairs = g_strdup_printf ("photo=%s side=underside of=shed axis=8,40,72,40 bounds=.25,.5 count=3 by=keeper", id);
  fixture_record (room->journal.desk, room->cups[0], "marked", pairs, 0);
  app_window_show_bench (room->window, desk_subject_id (room->cups[0]), now);
  APP_WAIT (app_find_words (page_of (room), "64 × 64") != NULL);
  g_assert_null (app_find (page_of (room), APP_TYPE_STILL_STRIP));
  g_assert_true (app_key (page_of (room), GDK_KEY_e, 0));
  g_assert_cmpuint (app_count (page_of (room), APP_TYPE_STILL_STRIP), ==, 1);
  strip = app_find (page_of (room), APP_TYPE_STILL_STRIP);
  g_assert_nonnull (app_find_words (page_of (room), "shed skin · 3 plates"));
  APP_WAIT (g_strcmp0 (gtk_widget_get_tooltip_text (strip), "Boundaries, in parts of 100 from the base: 25, 50.") == 0);
  g_assert_true (app_key (page_of (room), GDK_KEY_w, 0));
  g_assert_cmpuint (app_count (page_of (room), APP_TYPE_STILL_STRIP), ==, 0);
  g_assert_cmpuint (app_count (page_of (room), APP_TYPE_THUMB), ==, 2);
  g_assert_true (app_key (page_of (room), GDK_KEY_w, 0));
  g_assert_cmpuint (app_count (page_of (room), APP_TYPE_STILL_STRIP), ==, 1);
  g_assert_true (app_key (page_of (room), GDK_KEY_e, 0)); /* away again, also while it is being read */
  app_settle ();
}

int
main (int argc, char **argv)
{
  g_autofree char *cache = g_dir_make_tmp ("pictures-XXXXXX", NULL);

  g_setenv ("XDG_CACHE_HOME", cache, TRUE); /* before the first question for it */
  if (!app_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/pictures/tiles", test_tiles);
  g_test_add_func ("/pictures/tiles-stand-in", test_tiles_stand_in);
  ROOM ("/pictures/gallery", test_gallery);
  ROOM ("/pictures/gallery-empty", test_gallery_empty);
  ROOM ("/pictures/batch", test_batch);
  ROOM ("/pictures/wrong-clock", test_wrong_clock);
  ROOM ("/pictures/pass", test_pass);
  ROOM ("/pictures/drag-to-cup", test_drag_to_cup);
  ROOM ("/pictures/drop-on-cup", test_drop_on_cup);
  ROOM ("/pictures/other-pictures", test_other_pictures);
  ROOM ("/pictures/paste", test_paste);
  ROOM ("/pictures/paste-cancelled", test_paste_cancelled);
  ROOM ("/pictures/paste-on-bench", test_paste_on_bench);
  return g_test_run ();
}
