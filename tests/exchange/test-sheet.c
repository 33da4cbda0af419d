/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-sheet.c — printed pages: where every line lies, what is drawn, and files whole or not. */
#define _GNU_SOURCE /* memmem */
#include "exchange/exch-sheet.h"

#include <glib/gstdio.h>
#include <string.h>

#include "exchange/exch-file.h"

static ExchSheet *
sheet_of (guint n)
{
  static const char *const heads[EXCH_SHEET_HEADS] = { "no.",     "kind",    "due",   "took",
                                                       "refused", "moulted", "other", "seen" };
  ExchSheet *sheet = exch_sheet_new ();

  sheet->title = g_strdup ("Round sheet: Shelf A");
  sheet->day = g_strdup ("1 June 2026");
  memcpy (sheet->heads, heads, sizeof heads);
  for (guint i = 0; i < n; i++)
    {
      ExchSheetRow *row = exch_sheet_add (sheet);

      row->number = g_strdup_printf ("%u", i + 1);
      row->kind = g_strdup ("♀? giant Asian mantis");
      row->stage = g_strdup ("L5");
      row->due = g_strdup ("2 house flies · spray");
    }
  return sheet;
}

/* ---- layout ---- */

/* Every line once, in order, inside the page, none over another. */
static void
check_layout (guint n, const ExchPaper *paper)
{
  g_autoptr (ExchSheet) sheet = sheet_of (n);
  guint pages = exch_sheet_n_pages (sheet, paper), before = 0;
  double edge = 0;

  g_assert_cmpuint (pages, >=, 1);
  for (guint i = 0; i < n; i++)
    {
      guint page;
      double top, height;

      exch_sheet_place_row (sheet, paper, i, &page, &top, &height);
      g_assert_cmpuint (page, <, pages);
      g_assert_true (page == before || page == before + 1);
      if (page > before)
        edge = 0;
      g_assert_cmpfloat (top, >=, edge - 1e-6);
      g_assert_cmpfloat (height, >=, 15); /* high enough to write on: 5.3 mm */
      edge = top + height;
      g_assert_cmpfloat (edge, <=, paper->height - 30);
      before = page;
    }
  if (n > 0)
    g_assert_cmpuint (before, ==, pages - 1);
}

static void
test_layout (gconstpointer name)
{
  ExchPaper paper;

  g_assert_true (exch_paper_by_name (name, &paper));
  for (guint n = 0; n < 130; n++)
    check_layout (n, &paper);
  check_layout (300, &paper);
}

/* A shelf of forty cups goes onto one page, also on Letter. */
static void
test_forty (gconstpointer name)
{
  g_autoptr (ExchSheet) sheet = sheet_of (40);
  ExchPaper paper;

  g_assert_true (exch_paper_by_name (name, &paper));
  g_assert_cmpuint (exch_sheet_n_pages (sheet, &paper), ==, 1);
}

/* A page as small as a stamp is drawn without end or harm. */
static void
test_tiny_paper (void)
{
  const ExchPaper paper = { 40, 40 };
  g_autoptr (ExchSheet) sheet = sheet_of (3);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 40, 40);
  cairo_t *cr = cairo_create (surface);

  g_assert_cmpuint (exch_sheet_n_pages (sheet, &paper), ==, 3);
  exch_sheet_draw (sheet, &paper, 2, "Page 3 of 3", cr);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
test_papers (void)
{
  ExchPaper paper = { 1, 1 };

  g_assert_false (exch_paper_by_name ("a3", &paper));
  g_assert_cmpfloat (paper.width, ==, 1);
  g_assert_true (exch_paper_by_name ("A4", &paper));
  g_assert_cmpfloat_with_epsilon (paper.width, 595.28, .01); /* ISO 216: 210 mm in points */
}

/* ---- drawing ---- */

/* Share of the paper's width at height `y` that is the grey of a bar. */
static double
grey_at (cairo_surface_t *surface, double y)
{
  const unsigned char *line =
    cairo_image_surface_get_data (surface) + (gsize) y * cairo_image_surface_get_stride (surface);
  int wide = cairo_image_surface_get_width (surface), grey = 0;

  for (int x = 0; x < wide; x++)
    grey += ABS (line[4 * x] - 214) <= 1 && ABS (line[4 * x + 1] - 214) <= 1; /* .84 of 255 */
  return (double) grey / wide;
}

static cairo_surface_t *
draw (const ExchSheet *sheet, const ExchPaper *paper)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) paper->width, (int) paper->height);
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  exch_sheet_draw (sheet, paper, 0, NULL, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* Only the cup that is to be left alone has a grey bar, from what is due to the last box. */
static void
test_grey_bar (void)
{
  g_autoptr (ExchSheet) sheet = sheet_of (9);
  cairo_surface_t *surface;
  ExchPaper paper;

  ((ExchSheetRow *) g_ptr_array_index (sheet->rows, 4))->alone = TRUE;
  g_assert_true (exch_paper_by_name ("a4", &paper));
  surface = draw (sheet, &paper);
  for (guint i = 0; i < 9; i++)
    {
      guint page;
      double top, height, grey;

      exch_sheet_place_row (sheet, &paper, i, &page, &top, &height);
      grey = grey_at (surface, top + 3);
      if (i == 4)
        g_assert_cmpfloat (grey, >, .4);
      else
        g_assert_cmpfloat (grey, <, .01);
    }
  cairo_surface_destroy (surface);
}

/* What is due stands whole beside an animal that is left alone: its last word is there to be read. */
static void
test_long_due (void)
{
  static const char *const last[] = { "nothing", "noodles" };
  cairo_surface_t *drawn[2];
  ExchPaper paper;
  gsize bytes;

  g_assert_true (exch_paper_by_name ("a4", &paper));
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (ExchSheet) sheet = sheet_of (9);
      ExchSheetRow *row = g_ptr_array_index (sheet->rows, 4);

      g_free (row->due);
      row->due = g_strdup_printf ("leave alone until it has moulted · take prey out · spray the far "
                                  "wall only, or %s", last[i]);
      row->alone = TRUE;
      drawn[i] = draw (sheet, &paper);
    }
  bytes = (gsize) cairo_image_surface_get_stride (drawn[0]) * (gsize) cairo_image_surface_get_height (drawn[0]);
  g_assert_true (memcmp (cairo_image_surface_get_data (drawn[0]), cairo_image_surface_get_data (drawn[1]), bytes) != 0);
  cairo_surface_destroy (drawn[0]);
  cairo_surface_destroy (drawn[1]);
}

/* ---- stickers ---- */

static GPtrArray *
stickers_of (guint n)
{
  GPtrArray *stickers = g_ptr_array_new_with_free_func ((GDestroyNotify) exch_sticker_free);

  for (guint i = 0; i < n; i++)
    {
      ExchSticker *sticker = g_new0 (ExchSticker, 1);

      sticker->number = g_strdup_printf ("%u", i + 1);
      sticker->below = g_strdup (i % 2 == 0 ? "Hierodula membranacea" : "");
      g_ptr_array_add (stickers, sticker);
    }
  return stickers;
}

static void
test_stickers (void)
{
  g_autoptr (GPtrArray) none = stickers_of (0);
  g_autoptr (GPtrArray) many = stickers_of (100);
  ExchPaper paper;

  g_assert_true (exch_paper_by_name ("a4", &paper));
  g_assert_cmpuint (exch_stickers_n_pages (none, &paper), ==, 0);
  g_assert_cmpuint (exch_stickers_n_pages (many, &paper), ==, 2); /* 4 across, 13 down */
}

/* ---- cards ---- */

static ExchCard *
card_of (guint n)
{
  ExchCard *card = exch_card_new ();

  card->title = g_strdup ("Emergency");
  for (guint i = 0; i < n; i++)
    exch_card_add (card, i % 3 == 0 ? "" : "Fell, still in the old skin",
                   "Within minutes hang it by the old skin: pin, clip or tape on the skin, never on the body.");
  return card;
}

/* The lowest line of the paper on which anything is printed. */
static int
lowest_ink (cairo_surface_t *surface)
{
  int wide = cairo_image_surface_get_width (surface), high = cairo_image_surface_get_height (surface);

  for (int y = high - 1; y >= 0; y--)
    for (int x = 0; x < wide; x++)
      if (cairo_image_surface_get_data (surface)[y * cairo_image_surface_get_stride (surface) + 4 * x] < 128)
        return y;
  return -1;
}

/* Short or long, all of it stands on the one page, inside its margin; type shrinks with the length. */
static void
test_card (gconstpointer name)
{
  double before = 100;
  ExchPaper paper;

  g_assert_true (exch_paper_by_name (name, &paper));
  for (guint n = 1; n < 90; n += 11)
    {
      g_autoptr (ExchCard) card = card_of (n);
      cairo_surface_t *surface =
        cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) paper.width, (int) paper.height);
      cairo_t *cr = cairo_create (surface);
      double size = exch_card_size (card, &paper, cr);

      g_assert_cmpfloat (size, <=, before);
      g_assert_cmpfloat (size, >, 2);
      before = size;
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_paint (cr);
      exch_card_draw (card, &paper, cr);
      cairo_surface_flush (surface);
      g_assert_cmpint (lowest_ink (surface), >, 60);
      g_assert_cmpint (lowest_ink (surface), <, (int) paper.height - 40);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  g_assert_cmpfloat (before, <, 9);
}

/* ---- days ---- */

static ExchDays *
days_of (guint rows, guint n_days)
{
  ExchDays *days = exch_days_new ();

  days->title = g_strdup ("Day by day: Shelf A");
  days->span = g_strdup ("Tue 2 June to Mon 8 June");
  days->note = g_strdup ("Tick each box.");
  days->n_days = n_days;
  for (guint i = 0; i < G_N_ELEMENTS (days->heads); i++)
    days->heads[i] = "head";
  for (guint i = 0; i < n_days; i++)
    days->days[i] = g_strdup_printf ("Tue %u Jun", i + 2);
  for (guint i = 0; i < rows; i++)
    {
      ExchDaysRow *row = exch_days_add (days);

      row->number = g_strdup_printf ("%u", i + 1);
      row->kind = g_strdup ("giant Asian mantis");
      row->food = g_strdup ("2 house flies");
      row->rest = g_strdup ("+2");
      row->days[i % n_days].text = g_strdup ("2");
      row->days[0].closed = i == 2;
      row->days[1].spray = TRUE;
    }
  return days;
}

static double
grey_in_page (const ExchDays *days, const ExchPaper *paper, guint page)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) paper->width, (int) paper->height);
  cairo_t *cr = cairo_create (surface);
  double grey = 0;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  exch_days_draw (days, paper, page, "foot", cr);
  cairo_surface_flush (surface);
  for (int y = 0; y < (int) paper->height; y++)
    grey += grey_at (surface, y);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return grey;
}

/* Every number of rows fits its pages. */
static void
test_days (gconstpointer name)
{
  ExchPaper paper;

  g_assert_true (exch_paper_by_name (name, &paper));
  for (guint n = 1; n < 120; n += 7)
    {
      g_autoptr (ExchDays) days = days_of (n, 7);
      guint pages = exch_days_n_pages (days, &paper);

      g_assert_cmpuint (pages, ==, n <= 28 ? 1 : pages);
      g_assert_cmpuint (pages * 30, >=, n);
    }
}

/* The closed day is grey, on its own page alone. */
static void
test_closed_day (void)
{
  g_autoptr (ExchDays) days = days_of (40, 7);
  ExchPaper paper;
  double closed[2];

  g_assert_true (exch_paper_by_name ("a4", &paper));
  for (guint page = 0; page < 2; page++)
    closed[page] = grey_in_page (days, &paper, page);
  ((ExchDaysRow *) days->rows->pdata[2])->days[0].closed = FALSE;
  g_assert_cmpfloat (closed[0] - grey_in_page (days, &paper, 0), >, .5);
  g_assert_cmpfloat (closed[1], ==, grey_in_page (days, &paper, 1));
}

/* ---- files ---- */

typedef struct
{
  char *dir;
  char *path;
} Folder;

static void
set_up (Folder *folder, gconstpointer data)
{
  folder->dir = g_dir_make_tmp ("mantidary-sheet-XXXXXX", NULL);
  g_assert_nonnull (folder->dir);
  folder->path = g_build_filename (folder->dir, "sheet.pdf", NULL);
}

static void
tear_down (Folder *folder, gconstpointer data)
{
  exch_file_remove_tree (folder->dir);
  g_free (folder->dir);
  g_free (folder->path);
}

static void
draw_cb (guint page, cairo_t *cr, gpointer data)
{
  ExchPaper paper;

  g_assert_true (exch_paper_by_name ("letter", &paper));
  exch_sheet_draw (data, &paper, page, "foot", cr);
}

static gboolean
write_sheet (Folder *folder, guint n, gboolean replace, GError **error)
{
  g_autoptr (ExchSheet) sheet = sheet_of (n);
  ExchPaper paper;

  g_assert_true (exch_paper_by_name ("letter", &paper));
  return exch_pdf_write (folder->path, &paper, exch_sheet_n_pages (sheet, &paper), draw_cb, sheet, replace, error);
}

static guint
n_files (const char *dir)
{
  g_autoptr (GDir) open = g_dir_open (dir, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (open) != NULL)
    n++;
  return n;
}

static guint
n_pages_in (const char *path)
{
  g_autofree char *text = NULL;
  gsize length;
  guint n = 0;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_cmpmem (text, 5, "%PDF-", 5);
  for (char *at = text; (at = memmem (at, length - (gsize) (at - text), "/Type /Page", 11)) != NULL; at += 11)
    n += at[11] != 's';
  return n;
}

static void
test_file (Folder *folder, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (write_sheet (folder, 90, FALSE, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n_pages_in (folder->path), ==, 3);
  g_assert_false (write_sheet (folder, 5, FALSE, &error));
  g_assert_error (error, EXCH_ERROR, EXCH_ERROR_EXISTS);
  g_assert_cmpuint (n_pages_in (folder->path), ==, 3);
  g_clear_error (&error);
  g_assert_true (write_sheet (folder, 5, TRUE, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n_pages_in (folder->path), ==, 1);
  g_assert_cmpuint (n_files (folder->dir), ==, 1);
}

static int fails_at;

static int
fault_cb (ExchOp op)
{
  return fails_at-- == 0 ? ENOSPC : 0;
}

/* The disk refuses the n-th thing: an error, the older file whole, nothing beside it. */
static void
test_full_disk (Folder *folder, gconstpointer data)
{
  guint n = 0;
  gboolean ok = FALSE;

  g_assert_true (write_sheet (folder, 90, FALSE, NULL));
  for (; !ok && n < 1000; n++)
    {
      g_autoptr (GError) error = NULL;

      fails_at = (int) n;
      _exch_test_fault = fault_cb;
      ok = write_sheet (folder, 5, TRUE, &error);
      _exch_test_fault = NULL;
      if (ok)
        break;
      g_assert_nonnull (error);
      g_assert_cmpuint (n_files (folder->dir), ==, 1);
    }
  g_assert_true (ok);
  g_assert_cmpuint (n, >, 3); /* create, write, sync, rename at least */
  g_assert_cmpuint (n_pages_in (folder->path), ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/sheet/layout/a4", "a4", test_layout);
  g_test_add_data_func ("/sheet/layout/letter", "letter", test_layout);
  g_test_add_data_func ("/sheet/forty/a4", "a4", test_forty);
  g_test_add_data_func ("/sheet/forty/letter", "letter", test_forty);
  g_test_add_func ("/sheet/papers", test_papers);
  g_test_add_func ("/sheet/tiny-paper", test_tiny_paper);
  g_test_add_func ("/sheet/grey-bar", test_grey_bar);
  g_test_add_func ("/sheet/long-due", test_long_due);
  g_test_add_func ("/sheet/stickers", test_stickers);
  g_test_add_data_func ("/sheet/card/a4", "a4", test_card);
  g_test_add_data_func ("/sheet/card/letter", "letter", test_card);
  g_test_add_data_func ("/sheet/days/a4", "a4", test_days);
  g_test_add_data_func ("/sheet/days/letter", "letter", test_days);
  g_test_add_func ("/sheet/closed-day", test_closed_day);
  g_test_add ("/sheet/file", Folder, NULL, set_up, test_file, tear_down);
  g_test_add ("/sheet/full-disk", Folder, NULL, set_up, test_full_disk, tear_down);
  return g_test_run ();
}
