/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-climate.h — the readings of a place over time, typed or of a logger, and what is wanted there. */
#pragma once

#include "core/core-climate.h"
#include "desk/desk.h"

typedef struct
{
  CoreId place;
  gboolean inside;      /* of these: inside a home, else of the shelf */
  GArray *moments;      /* CoreMoment, in order; a time of which two values are there stands twice */
  guint two_values;     /* how many such times */
  gboolean has_shelf, has_inside; /* which of the two the place has */
  guint untimed;        /* typed without a clock time: they stand at noon */
  gint64 step, gap;     /* usual step; what is further apart is a gap; seconds */
} DeskClimate;

DeskClimate *desk_climate_ref (DeskClimate *self); /* any thread */
void desk_climate_unref (DeskClimate *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskClimate, desk_climate_unref)

/* Readings of the two kinds are never mixed. Those of a million are gathered off the main thread. */
void desk_climate_async (Desk *self, CoreId place, gboolean inside, GCancellable *cancellable,
                         GAsyncReadyCallback callback, gpointer data);
DeskClimate *desk_climate_finish (Desk *self, GAsyncResult *result, GError **error);

/* How many times of these, in order, stand there twice. */
guint desk_climate_two_values (const CoreMoment *v, gsize n);

/* What suits all that live there. */
typedef struct
{
  CoreComfort band;      /* of all; lo > hi where they do not agree; NAN = nothing lives there */
  GPtrArray *species; /* const CoreProfile *, borrowed; one of each kind */
} DeskBand;
void desk_band_clear (DeskBand *self);
void desk_band_of_place (Desk *self, CoreId place, DeskBand *out);
