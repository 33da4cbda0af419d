/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-logger.h — the file of a logger on its way into the journal: opened, mapped, looked at, written.
 *
 * Nothing is written before desk_logger_write_async(), and that is one round: one undo.
 */
#pragma once

#include "desk/desk.h"
#include "words/words-readings.h"

typedef struct _DeskLogger DeskLogger;

typedef enum
{
  DESK_LOGGER_TIME,
  DESK_LOGGER_CLOCK, /* the time of day, where it has a column of its own */
  DESK_LOGGER_T,
  DESK_LOGGER_RH,
  DESK_LOGGER_N_COLUMNS
} DeskLoggerColumn;

/* A file of up to 256 MiB is read and its form found, off the main thread. DESK_ERROR_VALUE. */
void desk_logger_open_async (Desk *desk, GFile *file, GCancellable *cancellable,
                             GAsyncReadyCallback callback, gpointer data);
DeskLogger *desk_logger_open_finish (Desk *desk, GAsyncResult *result, GError **error);
/* The same of bytes that are here. */
DeskLogger *desk_logger_new (Desk *desk, GBytes *bytes, const char *name, GError **error);
DeskLogger *desk_logger_ref (DeskLogger *self);
void desk_logger_unref (DeskLogger *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskLogger, desk_logger_unref)

const char *desk_logger_name (DeskLogger *self); /* of the file */
guint desk_logger_n_columns (DeskLogger *self);
const char *desk_logger_heading (DeskLogger *self, guint column); /* "" = it has none */
const char *desk_logger_sample (DeskLogger *self, guint column);
int desk_logger_column (DeskLogger *self, DeskLoggerColumn what); /* -1 = none */
char desk_logger_unit (DeskLogger *self);                         /* 'C', 'F', '\0' = not known */
const char *desk_logger_dates (DeskLogger *self); /* "ymd" "dmy" "mdy" "epoch", "" = not known */
char desk_logger_decimal (DeskLogger *self);

typedef struct
{
  char name[24];    /* as the file has it: "GMT+05:00", "CEST" */
  gboolean certain; /* it is taken where nothing else is said */
  char value[8];    /* for desk_logger_set(): "+05:00"; "" = these letters mean several zones */
} DeskLoggerZone;

/* The zone that the heading of the times names, or the lines before the table; FALSE = none, or
 * each time has its own. */
gboolean desk_logger_zone_named (DeskLogger *self, DeskLoggerZone *out);
/* What the times are taken for: "local", "+05:00", what was set; NULL = to be asked. Owned. */
char *desk_logger_zone (DeskLogger *self);

/* How the file is meant, as words: time clock temperature humidity = a heading, a number from 1, or
 * "-" for none; unit = C F; dates = ymd dmy mdy; decimal = . or ,; zone = local UTC +02:00 or a
 * name. */
gboolean desk_logger_set (DeskLogger *self, const char *key, const char *value, GError **error);
/* What must be said before it can be read; NULL = nothing. Owned. */
char *desk_logger_asks (DeskLogger *self, WordsLang lang);

/* ---- looking ---- */

/* For this place, of the shelf or inside a home; DESK_ERROR_VALUE with what is to be said first. */
void desk_logger_look_async (DeskLogger *self, CoreId place, gboolean inside, GCancellable *cancellable,
                             GAsyncReadyCallback callback, gpointer data);
gboolean desk_logger_look_finish (DeskLogger *self, GAsyncResult *result, GError **error);

/* After looking */
const WordsReadings *desk_logger_found (DeskLogger *self);
gint64 desk_logger_step (DeskLogger *self);               /* usual, seconds */
guint desk_logger_n_bad (DeskLogger *self);               /* of those that can be shown */
/* "line 17: “warm” is no number"; owned. */
char *desk_logger_bad (DeskLogger *self, WordsLang lang, guint i, guint *line);
guint desk_logger_n_gaps (DeskLogger *self);
void desk_logger_gap (DeskLogger *self, guint i, gint64 *from, gint64 *to); /* seconds, as CoreMoment.at */

/* ---- writing ---- */

void desk_logger_write_async (DeskLogger *self, GCancellable *cancellable, GAsyncReadyCallback callback,
                              gpointer data);
gboolean desk_logger_write_finish (DeskLogger *self, GAsyncResult *result, guint *written, GError **error);

/* ---- out ---- */

/* The readings of a place as CSV; *n how many. */
void desk_readings_export_async (Desk *desk, CoreId place, gboolean inside, const char *path,
                                 gboolean replace, GAsyncReadyCallback callback, gpointer data);
gboolean desk_readings_export_finish (Desk *desk, GAsyncResult *result, guint *n, GError **error);
