/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-days.c — one line a cup, one column a day, a box to tick in each. The measures are ours. */
#include "exchange/exch-print-private.h"
#include "exchange/exch-sheet.h"

#define MARGIN MM (12)
#define HEAD MM (17)
#define HEADS MM (8)
#define FOOT MM (7)
#define LOWEST MM (8)
#define HIGHEST MM (12)
#define GAP MM (1.2)
#define BOX MM (3.6)
#define DROP MM (3.2) /* room for a drop before the box */
#define N_LEFT 4 /* columns before the days */

static void
row_free (gpointer data)
{
  ExchDaysRow *row = data;

  g_free (row->number);
  g_free (row->kind);
  g_free (row->food);
  g_free (row->rest);
  for (guint i = 0; i < EXCH_DAYS_MOST; i++)
    g_free (row->days[i].text);
  g_free (row);
}

ExchDays *
exch_days_new (void)
{
  ExchDays *self = g_new0 (ExchDays, 1);

  self->rows = g_ptr_array_new_with_free_func (row_free);
  return self;
}

void
exch_days_free (ExchDays *self)
{
  if (self == NULL)
    return;
  g_free (self->title);
  g_free (self->span);
  g_free (self->note);
  for (guint i = 0; i < EXCH_DAYS_MOST; i++)
    g_free (self->days[i]);
  g_ptr_array_unref (self->rows);
  g_free (self);
}

ExchDaysRow *
exch_days_add (ExchDays *self)
{
  ExchDaysRow *row = g_new0 (ExchDaysRow, 1);

  g_ptr_array_add (self->rows, row);
  return row;
}

/* ---- layout ---- */

static double
room_of (const ExchPaper *paper)
{
  return MAX (paper->height - 2 * MARGIN - HEAD - HEADS - FOOT, LOWEST);
}

static guint
rows_each (const ExchDays *self, const ExchPaper *paper)
{
  return _exch_print_rows_each (self->rows->len, room_of (paper), LOWEST);
}

guint
exch_days_n_pages (const ExchDays *self, const ExchPaper *paper)
{
  guint each = rows_each (self, paper);

  return MAX (1, (self->rows->len + each - 1) / each);
}

/* Number, kind, food, rest; then days of equal width. Fewer leave room to write, and some of it to kind
 * and food. */
static PrintBox
cell (const ExchDays *self, const ExchPaper *paper, guint column, double top, double height)
{
  static const double wide[N_LEFT] = { 14, 33, 27, 8 };    /* mm */
  static const double shares[N_LEFT] = { 0, .3, .2, 0 }; /* of what days that are not there leave */
  double all = paper->width - 2 * MARGIN, scale = MIN (1, all / MM (186)), left = MARGIN, days = all, spare;

  for (guint i = 0; i < N_LEFT; i++)
    days -= MM (wide[i]) * scale;
  days /= EXCH_DAYS_MOST;
  spare = (EXCH_DAYS_MOST - self->n_days) * days;
  for (guint i = 0; i < column && i < N_LEFT; i++)
    left += MM (wide[i]) * scale + shares[i] * spare;
  if (column < N_LEFT)
    return (PrintBox){ left, top, MM (wide[column]) * scale + shares[column] * spare - GAP, height };
  return (PrintBox){ left + (column - N_LEFT) * days, top, days - GAP, height };
}

/* ---- drawing ---- */

static void
draw_head (const ExchDays *self, const ExchPaper *paper, cairo_t *cr)
{
  double wide = paper->width - 2 * MARGIN, top = MARGIN + HEAD;
  PrintBox title = { MARGIN, MARGIN, wide * .6, MM (8) };
  PrintBox span = { MARGIN + wide * .62, MARGIN, wide * .38, MM (8) };
  PrintBox note = { MARGIN, MARGIN + MM (8), wide, MM (7) };

  _exch_print_text (cr, &title, self->title, 15, TRUE, FALSE, PRINT_LEFT);
  _exch_print_text (cr, &span, self->span, 10, FALSE, TRUE, PRINT_RIGHT);
  _exch_print_text (cr, &note, self->note, 8.5, FALSE, TRUE, PRINT_LEFT);
  for (guint i = 0; i < N_LEFT + self->n_days; i++)
    {
      PrintBox box = cell (self, paper, i, top, HEADS);

      _exch_print_text (cr, &box, i < N_LEFT ? self->heads[i] : self->days[i - N_LEFT], i < N_LEFT ? 8 : 7.4, i >= N_LEFT, TRUE, PRINT_LEFT);
    }
  _exch_print_line (cr, MARGIN, top + HEADS, paper->width - MARGIN, top + HEADS, .8);
}

/* A drop of water: a point that widens into a circle. */
static void
draw_drop (cairo_t *cr, double x, double y, double r)
{
  cairo_move_to (cr, x, y - 2.1 * r);
  cairo_curve_to (cr, x + .4 * r, y - 1.3 * r, x + r, y - .6 * r, x + r, y);
  cairo_arc (cr, x, y, r, 0, G_PI);
  cairo_curve_to (cr, x - r, y - .6 * r, x - .4 * r, y - 1.3 * r, x, y - 2.1 * r);
  cairo_set_line_width (cr, .8);
  cairo_stroke (cr);
}

static void
draw_day (const ExchDaysRow *row, guint i, const PrintBox *box, cairo_t *cr)
{
  double middle = box->y + box->height / 2, right = box->x + box->width;
  double left = right - BOX - GAP / 2;
  PrintBox text = { box->x + GAP, box->y, left - DROP - box->x - GAP, box->height };

  if (row->days[i].closed)
    {
      cairo_set_source_rgb (cr, .84, .84, .84);
      cairo_rectangle (cr, box->x, box->y + 1, box->width, box->height - 2);
      cairo_fill (cr);
    }
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, left, middle - BOX / 2, BOX, BOX);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, .7);
  cairo_stroke (cr);
  if (row->days[i].spray)
    draw_drop (cr, left - DROP / 2, middle + 2, 2.6);
  if (row->days[i].text != NULL)
    _exch_print_text (cr, &text, row->days[i].text, 11, TRUE, FALSE, PRINT_LEFT);
}

static void
draw_row (const ExchDays *self, const ExchPaper *paper, const ExchDaysRow *row, double top, double height, cairo_t *cr)
{
  const char *texts[N_LEFT] = { row->number, row->kind, row->food, row->rest };

  for (guint i = 0; i < N_LEFT; i++)
    {
      PrintBox box = cell (self, paper, i, top, height);

      _exch_print_text (cr, &box, texts[i], i == 0 ? 14 : 8, i == 0, i > 0, PRINT_LEFT);
    }
  for (guint i = 0; i < self->n_days; i++)
    {
      PrintBox box = cell (self, paper, N_LEFT + i, top, height);

      draw_day (row, i, &box, cr);
      cairo_set_source_rgb (cr, .7, .7, .7);
      _exch_print_line (cr, box.x + box.width + GAP / 2, top, box.x + box.width + GAP / 2, top + height, .3);
    }
  cairo_set_source_rgb (cr, .55, .55, .55);
  _exch_print_line (cr, MARGIN, top + height, paper->width - MARGIN, top + height, .4);
  cairo_set_source_rgb (cr, 0, 0, 0);
}

void
exch_days_draw (const ExchDays *self, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  guint each = rows_each (self, paper);
  double height = CLAMP (room_of (paper) / each, LOWEST, HIGHEST), top = MARGIN + HEAD + HEADS;
  PrintBox low = { MARGIN, paper->height - MARGIN - FOOT, paper->width - 2 * MARGIN, FOOT };

  cairo_set_source_rgb (cr, 0, 0, 0);
  draw_head (self, paper, cr);
  for (guint i = page * each; i < self->rows->len && i < (page + 1) * each; i++, top += height)
    draw_row (self, paper, self->rows->pdata[i], top, height, cr);
  _exch_print_text (cr, &low, foot, 7.5, FALSE, FALSE, PRINT_RIGHT);
}
