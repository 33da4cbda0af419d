/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-print.c — text in a box, papers by name, and PDF files. */
#include "exchange/exch-print-private.h"

#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <pango/pangocairo.h>
#include <string.h>
#include <unistd.h>

#include "exchange/exch-file.h"
#include "exchange/exch-sheet.h"

#define SMALLER .8   /* of its size is what needs more than one line */
#define LEAST .64    /* of its size is what fills all its lines; what is longer still is cut */
#define SMALLEST .45 /* of its size is what must fit one line; what is wider still is cut */
#define LEADING 1.15 /* from line to line, of the size */

/* ISO 216 A4 is 210 × 297 mm; Letter is 8.5 × 11 inches (ANSI/ASME Y14.1, size A). */
static const struct
{
  const char *name;
  ExchPaper paper;
} papers[] = {
  { "a4", { 210 * 72 / 25.4, 297 * 72 / 25.4 } },
  { "letter", { 8.5 * 72, 11 * 72 } },
};

gboolean
exch_paper_by_name (const char *name, ExchPaper *paper)
{
  for (gsize i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_ascii_strcasecmp (name, papers[i].name) == 0)
      {
        *paper = papers[i].paper;
        return TRUE;
      }
  return FALSE;
}

/* ---- text ---- */

void
_exch_print_font (PangoLayout *layout, double size, gboolean bold)
{
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  if (bold)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
}

static double
width_of (PangoLayout *layout)
{
  int width;

  pango_layout_get_size (layout, &width, NULL);
  return (double) width / PANGO_SCALE;
}

/* Where one line is too short: as many as the box holds, smaller until all of the text stands there. */
static void
fill_lines (PangoLayout *layout, const PrintBox *box, double size, gboolean bold)
{
  for (double scale = SMALLER; scale >= LEAST; scale -= (SMALLER - LEAST) / 4)
    {
      int lines = (int) (box->height / (LEADING * size * scale));

      _exch_print_font (layout, size * scale, bold);
      pango_layout_set_height (layout, -MAX (lines, 1));
      if (!pango_layout_is_ellipsized (layout))
        return;
    }
}

void
_exch_print_text (
  cairo_t *cr, const PrintBox *box, const char *text, double size, gboolean bold, gboolean several, PrintAlign align)
{
  static const PangoAlignment aligns[] = { PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT };
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);
  double wide;
  int high;

  pango_layout_set_text (layout, text, -1);
  _exch_print_font (layout, size, bold);
  wide = width_of (layout);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_width (layout, (int) (box->width * PANGO_SCALE));
  if (wide > box->width && several)
    fill_lines (layout, box, size, bold);
  else if (wide > box->width)
    _exch_print_font (layout, size * MAX (SMALLEST, box->width / (wide * 1.01)), bold);
  pango_layout_set_alignment (layout, aligns[align]);
  pango_layout_get_size (layout, NULL, &high);
  cairo_move_to (cr, box->x, box->y + (box->height - (double) high / PANGO_SCALE) / 2);
  pango_cairo_show_layout (cr, layout);
}

guint
_exch_print_rows_each (guint n, double room, double lowest)
{
  guint most = MAX (1, (guint) (room / lowest));
  guint pages = MAX (1, (n + most - 1) / most);

  return MAX (1, (n + pages - 1) / pages);
}

void
_exch_print_line (cairo_t *cr, double x1, double y1, double x2, double y2, double width)
{
  cairo_set_line_width (cr, width);
  cairo_move_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
  cairo_stroke (cr);
}

/* ---- PDF ---- */

typedef struct
{
  int fd;
  const char *path;
  GError *error;
} Sink;

static cairo_status_t
write_cb (void *data, const unsigned char *bytes, unsigned int n)
{
  Sink *sink = data;

  if (sink->error == NULL && exch_file_write (sink->fd, bytes, n, sink->path, &sink->error))
    return CAIRO_STATUS_SUCCESS;
  return CAIRO_STATUS_WRITE_ERROR;
}

typedef struct
{
  const ExchPaper *paper;
  guint n;
  ExchDrawPage draw;
  gpointer data;
} Pages;

static gboolean
draw_all (int fd, const char *path, gpointer data, GError **error)
{
  const Pages *pages = data;
  Sink all = { .fd = fd, .path = path }, *sink = &all;
  cairo_surface_t *surface =
    cairo_pdf_surface_create_for_stream (write_cb, sink, pages->paper->width, pages->paper->height);
  cairo_t *cr = cairo_create (surface);
  cairo_status_t status;

  for (guint i = 0; i < pages->n && cairo_status (cr) == CAIRO_STATUS_SUCCESS; i++)
    {
      pages->draw (i, cr, pages->data);
      cairo_show_page (cr);
    }
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (sink->error != NULL)
    g_propagate_error (error, g_steal_pointer (&sink->error));
  else if (status == CAIRO_STATUS_NO_MEMORY)
    exch_set_errno (error, ENOMEM, sink->path);
  else if (status != CAIRO_STATUS_SUCCESS)
    exch_set_error (error, EXCH_ERROR_FAILED, sink->path);
  else
    return TRUE;
  return FALSE;
}

gboolean
exch_pdf_write (const char *path,
                const ExchPaper *paper,
                guint n,
                ExchDrawPage draw,
                gpointer data,
                gboolean replace,
                GError **error)
{
  Pages pages = { paper, n, draw, data };

  return exch_file_make (path, draw_all, &pages, replace, error);
}
