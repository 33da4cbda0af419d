/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-print-private.h — text in a box, for all printed pages. */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <pango/pango.h>

#define MM(x) ((x) * 72 / 25.4)

typedef enum
{
  PRINT_LEFT,
  PRINT_CENTRE,
  PRINT_RIGHT
} PrintAlign;

typedef struct
{
  double x, y, width, height;
} PrintBox;

/* Centred in height. What is too wide for one line is set smaller; where `several` allows it, in as
 * many lines as the box is high for. What does not fit then is cut with an ellipsis. */
void _exch_print_text (
  cairo_t *cr, const PrintBox *box, const char *text, double size, gboolean bold, gboolean several, PrintAlign align);
void _exch_print_font (PangoLayout *layout, double size, gboolean bold); /* size in points */
/* Rows of a page where `n` rows no lower than `lowest` are spread evenly over pages with so much
 * room; at least 1. */
guint _exch_print_rows_each (guint n, double room, double lowest);
void _exch_print_line (cairo_t *cr, double x1, double y1, double x2, double y2, double width);
