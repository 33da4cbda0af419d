/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-card.c — headed paragraphs on exactly one page. The measures are ours. */
#include <pango/pangocairo.h>

#include "exchange/exch-print-private.h"
#include "exchange/exch-sheet.h"

#define MARGIN MM (16)
#define TITLE MM (14)
#define LARGEST 12.   /* points */
#define SMALLEST 1.
#define STEP .93      /* from one size tried to the next */
#define BETWEEN .55   /* of the size, before a heading */
#define WIDEST MM (150) /* of a line: longer ones are hard to read */

ExchCard *
exch_card_new (void)
{
  ExchCard *self = g_new0 (ExchCard, 1);

  self->heads = g_ptr_array_new_with_free_func (g_free);
  self->bodies = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
exch_card_free (ExchCard *self)
{
  if (self == NULL)
    return;
  g_free (self->title);
  g_free (self->day);
  g_ptr_array_unref (self->heads);
  g_ptr_array_unref (self->bodies);
  g_free (self);
}

void
exch_card_add (ExchCard *self, const char *head, const char *body)
{
  g_ptr_array_add (self->heads, g_strdup (head));
  g_ptr_array_add (self->bodies, g_strdup (body));
}

static double
width_of (const ExchPaper *paper)
{
  return CLAMP (paper->width - 2 * MARGIN, 1, WIDEST);
}

/* The text from `y` on; where it ends. Drawn only where `draw`. */
static double
paragraph (cairo_t *cr, const ExchPaper *paper, double y, const char *text, double size, gboolean bold, gboolean draw)
{
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);
  int high;

  if (text[0] == '\0')
    return y;
  _exch_print_font (layout, size, bold);
  pango_layout_set_width (layout, (int) (width_of (paper) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_line_spacing (layout, 1.15F);
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_size (layout, NULL, &high);
  if (draw)
    {
      cairo_move_to (cr, MARGIN, y);
      pango_cairo_show_layout (cr, layout);
    }
  return y + (double) high / PANGO_SCALE;
}

static double
all (const ExchCard *self, const ExchPaper *paper, double size, gboolean draw, cairo_t *cr)
{
  double y = MARGIN + TITLE;

  for (guint i = 0; i < self->heads->len; i++)
    {
      if (i > 0)
        y += BETWEEN * size;
      y = paragraph (cr, paper, y, self->heads->pdata[i], size, TRUE, draw);
      y = paragraph (cr, paper, y, self->bodies->pdata[i], size, FALSE, draw);
    }
  return y;
}

double
exch_card_size (const ExchCard *self, const ExchPaper *paper, cairo_t *cr)
{
  double size = LARGEST;

  while (size > SMALLEST && all (self, paper, size, FALSE, cr) > paper->height - MARGIN)
    size *= STEP;
  return size;
}

void
exch_card_draw (const ExchCard *self, const ExchPaper *paper, cairo_t *cr)
{
  double wide = paper->width - 2 * MARGIN;
  PrintBox title = { MARGIN, MARGIN, self->day != NULL ? wide * .6 : wide, MM (8) };
  PrintBox day = { MARGIN + wide * .62, MARGIN, wide * .38, MM (8) };

  cairo_set_source_rgb (cr, 0, 0, 0);
  _exch_print_text (cr, &title, self->title, 17, TRUE, FALSE, PRINT_LEFT);
  if (self->day != NULL)
    _exch_print_text (cr, &day, self->day, 10, FALSE, TRUE, PRINT_RIGHT);
  _exch_print_line (cr, MARGIN, MARGIN + MM (10), paper->width - MARGIN, MARGIN + MM (10), .8);
  (void) all (self, paper, exch_card_size (self, paper, cr), TRUE, cr);
}
