/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-sheet.c — the round sheet of a shelf, and sheets of number stickers.
 *
 * A shelf of forty cups goes onto one page; larger ones go on, with the same heads. Fewer cups
 * get higher lines, which are easier to write on. The measures are ours.
 */
#include "exchange/exch-sheet.h"

#include "exchange/exch-print-private.h"

#define MARGIN MM (12)
#define HEAD MM (17)   /* title and note */
#define HEADS MM (6)   /* the heads of the columns */
#define FOOT MM (7)
#define LOWEST MM (5.6) /* of a line: forty fit on a page of A4 and of Letter */
#define HIGHEST MM (11)
#define GAP MM (1.5)
#define BOX MM (3.8)
#define N_BOXES 4

static void
row_free (gpointer data)
{
  ExchSheetRow *row = data;

  g_free (row->number);
  g_free (row->kind);
  g_free (row->stage);
  g_free (row->due);
  g_free (row);
}

ExchSheet *
exch_sheet_new (void)
{
  ExchSheet *self = g_new0 (ExchSheet, 1);

  self->rows = g_ptr_array_new_with_free_func (row_free);
  return self;
}

void
exch_sheet_free (ExchSheet *self)
{
  if (self == NULL)
    return;
  g_free (self->title);
  g_free (self->day);
  g_free (self->note);
  g_ptr_array_unref (self->rows);
  g_free (self);
}

ExchSheetRow *
exch_sheet_add (ExchSheet *self)
{
  ExchSheetRow *row = g_new0 (ExchSheetRow, 1);

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
rows_each (const ExchSheet *self, const ExchPaper *paper)
{
  return _exch_print_rows_each (self->rows->len, room_of (paper), LOWEST);
}

guint
exch_sheet_n_pages (const ExchSheet *self, const ExchPaper *paper)
{
  guint each = rows_each (self, paper);

  return MAX (1, (self->rows->len + each - 1) / each);
}

/* Lines of all pages are equally high; the last page may have fewer. */
void
exch_sheet_place_row (
  const ExchSheet *self, const ExchPaper *paper, guint row, guint *page, double *top, double *height)
{
  guint each = rows_each (self, paper);

  *height = CLAMP (room_of (paper) / each, LOWEST, HIGHEST);
  *page = row / each;
  *top = MARGIN + HEAD + HEADS + (row % each) * *height;
}

typedef struct
{
  double at[EXCH_SHEET_HEADS + 1]; /* left edges, and the right edge of the last */
} Columns;

/* Number, kind and stage, due, four boxes; what is left is to write on. */
static Columns
columns_of (const ExchPaper *paper)
{
  static const double wide[EXCH_SHEET_HEADS - 1] = { 17, 42, 46, 10.5, 12.5, 12.5, 10.5 }; /* mm */
  double all = paper->width - 2 * MARGIN;
  double scale = MIN (1, all / MM (186)); /* 186 mm: A4 within its margins */
  Columns columns = { .at = { MARGIN } };

  for (guint i = 0; i < G_N_ELEMENTS (wide); i++)
    columns.at[i + 1] = columns.at[i] + MM (wide[i]) * scale;
  columns.at[EXCH_SHEET_HEADS] = paper->width - MARGIN;
  return columns;
}

static PrintBox
cell (const Columns *columns, guint i, double top, double height)
{
  return (PrintBox){ columns->at[i], top, columns->at[i + 1] - columns->at[i] - GAP, height };
}

/* ---- drawing ---- */

static void
draw_head (const ExchSheet *self, const ExchPaper *paper, const Columns *columns, cairo_t *cr)
{
  double wide = paper->width - 2 * MARGIN;
  PrintBox title = { MARGIN, MARGIN, wide * .68, MM (8) };
  PrintBox day = { MARGIN + wide * .7, MARGIN, wide * .3, MM (8) };
  PrintBox note = { MARGIN, MARGIN + MM (8), wide, MM (6) };
  double top = MARGIN + HEAD;

  _exch_print_text (cr, &title, self->title, 15, TRUE, FALSE, PRINT_LEFT);
  _exch_print_text (cr, &day, self->day, 10, FALSE, FALSE, PRINT_RIGHT);
  if (self->note != NULL)
    _exch_print_text (cr, &note, self->note, 8.5, FALSE, FALSE, PRINT_LEFT);
  for (guint i = 0; i < EXCH_SHEET_HEADS; i++)
    {
      PrintBox box = cell (columns, i, top, HEADS);
      gboolean ticked = i >= 3 && i < 3 + N_BOXES;

      _exch_print_text (cr, &box, self->heads[i], 7.5, FALSE, FALSE, ticked ? PRINT_CENTRE : PRINT_LEFT);
    }
  _exch_print_line (cr, MARGIN, top + HEADS, paper->width - MARGIN, top + HEADS, .8);
}

static void
draw_kind (const ExchSheetRow *row, const PrintBox *box, cairo_t *cr)
{
  PrintBox upper = *box, lower = *box;
  double line = MIN (box->height / 2, 10);

  upper.y += (box->height - 2 * line) / 2;
  upper.height = lower.height = line;
  lower.y = upper.y + line;
  _exch_print_text (cr, &upper, row->kind, 7.8, FALSE, FALSE, PRINT_LEFT);
  _exch_print_text (cr, &lower, row->stage, 7.2, FALSE, FALSE, PRINT_LEFT);
}

static void
draw_row (const ExchSheetRow *row, const Columns *columns, double top, double height, cairo_t *cr)
{
  PrintBox number = cell (columns, 0, top, height);
  PrintBox kind = cell (columns, 1, top, height);
  PrintBox due = cell (columns, 2, top, height);
  double size = MIN (BOX, height * .62);

  if (row->alone)
    {
      cairo_set_source_rgb (cr, .84, .84, .84);
      cairo_rectangle (cr, due.x - GAP, top + 1, columns->at[7] - due.x + GAP, height - 2);
      cairo_fill (cr);
      cairo_set_source_rgb (cr, 0, 0, 0);
    }
  _exch_print_text (cr, &number, row->number, MIN (15, height * .82), TRUE, FALSE, PRINT_LEFT);
  draw_kind (row, &kind, cr);
  _exch_print_text (cr, &due, row->due, 8.5, row->alone, TRUE, PRINT_LEFT);
  cairo_set_line_width (cr, .7);
  for (guint i = row->plain ? 3 + N_BOXES - 1 : 3; i < 3 + N_BOXES; i++)
    {
      double middle = (columns->at[i] + columns->at[i + 1] - GAP) / 2;

      cairo_rectangle (cr, middle - size / 2, top + (height - size) / 2, size, size);
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_fill_preserve (cr);
      cairo_set_source_rgb (cr, 0, 0, 0);
      cairo_stroke (cr);
    }
  cairo_set_source_rgb (cr, .55, .55, .55);
  _exch_print_line (cr, columns->at[0], top + height, columns->at[EXCH_SHEET_HEADS], top + height, .4);
  cairo_set_source_rgb (cr, 0, 0, 0);
}

void
exch_sheet_draw (
  const ExchSheet *self, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  Columns columns = columns_of (paper);
  PrintBox low = { MARGIN, paper->height - MARGIN - FOOT, paper->width - 2 * MARGIN, FOOT };

  cairo_set_source_rgb (cr, 0, 0, 0);
  draw_head (self, paper, &columns, cr);
  for (guint i = 0; i < self->rows->len; i++)
    {
      guint on;
      double top, height;

      exch_sheet_place_row (self, paper, i, &on, &top, &height);
      if (on == page)
        draw_row (g_ptr_array_index (self->rows, i), &columns, top, height, cr);
    }
  if (foot != NULL)
    _exch_print_text (cr, &low, foot, 7.5, FALSE, FALSE, PRINT_RIGHT);
}

/* ---- stickers ---- */

#define STICKER_WIDE MM (38)
#define STICKER_HIGH MM (21)

void
exch_sticker_free (ExchSticker *self)
{
  if (self == NULL)
    return;
  g_free (self->number);
  g_free (self->below);
  g_free (self);
}

static void
sticker_grid (const ExchPaper *paper, guint *across, guint *down)
{
  *across = MAX (1, (guint) ((paper->width - 2 * MARGIN + .01) / STICKER_WIDE));
  *down = MAX (1, (guint) ((paper->height - 2 * MARGIN + .01) / STICKER_HIGH));
}

guint
exch_stickers_n_pages (const GPtrArray *stickers, const ExchPaper *paper)
{
  guint across, down;

  sticker_grid (paper, &across, &down);
  return (stickers->len + across * down - 1) / (across * down);
}

static void
draw_sticker (const ExchSticker *sticker, double x, double y, cairo_t *cr)
{
  gboolean has_below = sticker->below != NULL && sticker->below[0] != '\0';
  PrintBox number = { x + GAP, y + GAP, STICKER_WIDE - 2 * GAP, has_below ? MM (13) : STICKER_HIGH - 2 * GAP };
  PrintBox below = { x + GAP, y + STICKER_HIGH - GAP - MM (4.5), STICKER_WIDE - 2 * GAP, MM (4.5) };

  cairo_set_source_rgb (cr, .6, .6, .6); /* where to cut */
  cairo_set_line_width (cr, .4);
  cairo_rectangle (cr, x, y, STICKER_WIDE, STICKER_HIGH);
  cairo_stroke (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  _exch_print_text (cr, &number, sticker->number, 32, TRUE, FALSE, PRINT_CENTRE);
  if (has_below)
    _exch_print_text (cr, &below, sticker->below, 7.5, FALSE, FALSE, PRINT_CENTRE);
}

void
exch_stickers_draw (const GPtrArray *stickers, const ExchPaper *paper, guint page, cairo_t *cr)
{
  guint across, down;
  double left, top;

  sticker_grid (paper, &across, &down);
  left = (paper->width - across * STICKER_WIDE) / 2;
  top = (paper->height - down * STICKER_HIGH) / 2;
  for (guint i = 0; i < across * down && page * across * down + i < stickers->len; i++)
    draw_sticker (g_ptr_array_index (stickers, page * across * down + i), left + (i % across) * STICKER_WIDE,
                  top + (i / across) * STICKER_HIGH, cr);
}
