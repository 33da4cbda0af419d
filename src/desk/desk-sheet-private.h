/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-sheet-private.h — how a printed sheet is put together of runs of pages. */
#pragma once

#include "desk/desk-sheet.h"
#include "exchange/exch-sheet.h"

/* What one run of pages can do; its data are its own. */
typedef struct
{
  guint (*n_pages) (gconstpointer data, const ExchPaper *paper);
  guint (*n_lines) (gconstpointer data); /* cups or stickers on it; 0 = none on any page */
  void (*draw) (gconstpointer data, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr);
  void (*free) (gpointer data);
} DeskSheetClass;

DeskSheet *desk_sheet_new (void); /* on A4 */
void desk_sheet_set_title (DeskSheet *self, const char *title);
void desk_sheet_add (DeskSheet *self, const DeskSheetClass *klass, gpointer data); /* takes the data */
/* Takes the sheet; NULL and DESK_ERROR_NOT_FOUND when there is no line on it. */
DeskSheet *desk_sheet_or_nothing (DeskSheet *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The place, or all shelves. */
GPtrArray *desk_sheet_places (Desk *self, CoreId place);
char *desk_sheet_kind_of (const DeskSubject *subject); /* with its sex where it has one */
