/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-sheet.h — printed pages: the round sheet of a shelf, and number stickers.
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
