/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-sheet.h — printed pages: the round sheet of a shelf, number stickers, cards of text, and
 * sheets with one column a day.
 *
 * Lengths are points (1/72 inch); a page is any size, A4 and Letter are known by name. All text
 * is UTF-8 and comes ready from the caller; what does not fit its cell is cut with an ellipsis.
 */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "exchange/exch-error.h"

typedef struct
{
  double width, height;
} ExchPaper;
/* "a4" or "letter"; FALSE = no such paper. */
gboolean exch_paper_by_name (const char *name, ExchPaper *paper);

/* ---- round sheet: one line per cup, in the order in which they stand ---- */

typedef struct
{
  char *number; /* printed large */
  char *kind;
  char *stage;
  char *due;
  gboolean alone; /* a grey bar: leave it alone */
  gboolean plain; /* no animal: of the boxes only the last, "other" */
} ExchSheetRow;

#define EXCH_SHEET_HEADS 8 /* number, kind, due, four boxes to tick, notes */

typedef struct
{
  char *title;
  char *day;
  char *note; /* under the title; one line */
  const char *heads[EXCH_SHEET_HEADS];
  GPtrArray *rows; /* ExchSheetRow *, owned */
} ExchSheet;

ExchSheet *exch_sheet_new (void);
void exch_sheet_free (ExchSheet *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchSheet, exch_sheet_free)
ExchSheetRow *exch_sheet_add (ExchSheet *self); /* owned by the sheet; fill it */
/* At least 1. */
guint exch_sheet_n_pages (const ExchSheet *self, const ExchPaper *paper);
/* Where a row is printed: its page from 0, the top and height of its line. */
void exch_sheet_place_row (
  const ExchSheet *self, const ExchPaper *paper, guint row, guint *page, double *top, double *height);
/* `foot` stands at the lower edge; may be NULL. */
void exch_sheet_draw (
  const ExchSheet *self, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr);

/* ---- stickers: large numbers to cut apart ---- */

typedef struct
{
  char *number;
  char *below; /* small, may be "" */
} ExchSticker;
void exch_sticker_free (ExchSticker *self);
/* GPtrArray of ExchSticker. 0 for none. */
guint exch_stickers_n_pages (const GPtrArray *stickers, const ExchPaper *paper);
void exch_stickers_draw (const GPtrArray *stickers, const ExchPaper *paper, guint page, cairo_t *cr);

/* ---- a card: headed paragraphs on exactly one page ---- */

typedef struct
{
  char *title;
  char *day; /* beside the title; may be NULL */
  GPtrArray *heads;  /* char *, owned; "" = none over this paragraph */
  GPtrArray *bodies; /* char *, owned, as many */
} ExchCard;
ExchCard *exch_card_new (void);
void exch_card_free (ExchCard *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchCard, exch_card_free)
void exch_card_add (ExchCard *self, const char *head, const char *body);
/* The size of type at which all of it fits the page, at most 12 points; small pages and long texts
 * make it small, never cut. */
double exch_card_size (const ExchCard *self, const ExchPaper *paper, cairo_t *cr);
void exch_card_draw (const ExchCard *self, const ExchPaper *paper, cairo_t *cr);

/* ---- days: one line a cup, one column a day ---- */

#define EXCH_DAYS_MOST 7 /* columns of one sheet */

typedef struct
{
  char *number;
  char *kind;
  char *food;
  char *rest;
  struct
  {
    char *text;       /* may be NULL */
    gboolean closed;  /* grey */
    gboolean spray;   /* a drop */
  } days[EXCH_DAYS_MOST];
} ExchDaysRow;

typedef struct
{
  char *title;
  char *span; /* of days */
  char *note; /* under the title; one line */
  const char *heads[4]; /* number, kind, food, rest */
  guint n_days;
  char *days[EXCH_DAYS_MOST];
  GPtrArray *rows; /* ExchDaysRow *, owned */
} ExchDays;
ExchDays *exch_days_new (void);
void exch_days_free (ExchDays *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchDays, exch_days_free)
ExchDaysRow *exch_days_add (ExchDays *self); /* owned by the sheet; fill it */
guint exch_days_n_pages (const ExchDays *self, const ExchPaper *paper); /* at least 1 */
void exch_days_draw (const ExchDays *self, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr);

/* ---- to a file ---- */

typedef void (*ExchDrawPage) (guint page, cairo_t *cr, gpointer data);
/* A PDF of `n` pages (at least 1): written beside, synced, renamed. An existing file is
 * EXCH_ERROR_EXISTS unless `replace`. Blocks. */
gboolean exch_pdf_write (const char *path,
                         const ExchPaper *paper,
                         guint n,
                         ExchDrawPage draw,
                         gpointer data,
                         gboolean replace,
                         GError **error);
