/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-sheet.h — what is printed: round sheets, number stickers, the sheet of a stand-in and the
 * emergency card, as of today.
 *
 * A sheet is a copy: it does not follow the journal. Lengths are points (1/72 inch).
 */
#pragma once

#include "desk/desk.h"

typedef struct _DeskSheet DeskSheet;
typedef struct _cairo cairo_t;

/* The living of a place in the order in which they stand, one page or more for each shelf.
 * `place` none = every shelf with something on it. DESK_ERROR_NOT_FOUND when nothing stands there. */
DeskSheet *desk_round_sheet (Desk *self, CoreId place, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The permanent numbers and codes of the living; the same errors. */
DeskSheet *desk_stickers (Desk *self, CoreId place, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* For somebody who knows nothing: a page of what to do, then by shelf one line a cup and one column
 * a day, from `from` (today at the earliest) to `to`, at most CORE_STANDIN_DAYS; `call` says whom
 * to call, NULL leaves a line to write on. DESK_ERROR_VALUE of other days, else as above. */
DeskSheet *desk_standin_sheet (Desk *self, CoreId place, CoreDay from, CoreDay to, const char *call, GError **error)
  G_GNUC_WARN_UNUSED_RESULT;
DeskSheet *desk_emergency_card (void);
DeskSheet *desk_sheet_ref (DeskSheet *self);
void desk_sheet_unref (DeskSheet *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskSheet, desk_sheet_unref)

/* Starts on A4. */
void desk_sheet_set_size (DeskSheet *self, double width, double height);
gboolean desk_sheet_set_paper (DeskSheet *self, const char *name); /* "a4", "letter"; FALSE = no such */
const char *desk_sheet_title (DeskSheet *self);                    /* of a print job, a file */
guint desk_sheet_n_pages (DeskSheet *self);
guint desk_sheet_n_lines (DeskSheet *self); /* cups or stickers on all pages */
void desk_sheet_draw (DeskSheet *self, guint page, cairo_t *cr);
/* A PDF; an existing file is EXCH_ERROR_EXISTS unless `replace`. On a thread of its own; the
 * sheet must not be changed meanwhile. */
void desk_sheet_write_async (DeskSheet *self,
                             const char *path,
                             gboolean replace,
                             GCancellable *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer data);
gboolean desk_sheet_write_finish (GAsyncResult *result, GError **error);
