/* SPDX-License-Identifier: GPL-3.0-or-later */
/* animals.h — states made by hand, for tests of what is computed from states. */
#pragma once

#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/core-clock.h"
#include "core/core-state.h"

#define PUSH(array, ...)                                                                           \
  G_STMT_START                                                                                     \
  {                                                                                                \
    (array).v = g_realloc ((array).v, ((array).n + 1) * sizeof *(array).v);                        \
    (array).v[(array).n++] = __VA_ARGS__;                                                          \
    (array).cap = (array).n;                                                                       \
  }                                                                                                \
  G_STMT_END

static inline CoreId
made_id (guint8 kind, guint8 n)
{
  CoreId id = { { 0 } };
  id.b[0] = kind;
  id.b[15] = n;
  return id;
}

static inline void
made_init (CoreState *self, CoreSubjectKind kind)
{
  memset (self, 0, sizeof *self);
  self->kind = kind;
  self->exists = true;
  self->subject = made_id (kind, 1);
  self->first_day = self->acquired = self->end_day = self->looks_dead = CORE_DAY_NONE;
  self->adult_seen = self->last_offered = self->last_taken = self->belly_day = CORE_DAY_NONE;
  self->misted = self->watered = self->cleaned = self->drank = CORE_DAY_NONE;
  self->moults = -1;
  self->place.day_c = self->place.night_c = self->place.light_h = NAN;
}

static inline void
made_clear (CoreState *self)
{
  g_clear_pointer (&self->stages.v, g_free);
  g_clear_pointer (&self->looks.v, g_free);
  g_clear_pointer (&self->meals.v, g_free);
  g_clear_pointer (&self->signs.v, g_free);
  g_clear_pointer (&self->measures.v, g_free);
  g_clear_pointer (&self->stays.v, g_free);
  g_clear_pointer (&self->place.readings.v, g_free);
}

static inline void
made_moults (CoreState *self, int m, CoreBasis basis)
{
  memset (self->moults_p, 0, sizeof self->moults_p);
  self->moults = m;
  self->basis = basis;
  if (m >= 0)
    self->moults_p[m] = 1;
}

static inline void
made_look (CoreState *self, CoreDay day)
{
  PUSH (self->looks, (CoreLook){ .day = day, .t = day, .entry = made_id (200, day & 127) });
}

/* A stage that began in the window (lo, hi]. */
static inline void
made_stage (CoreState *self, CoreStartKind start, double lo, double hi)
{
  PUSH (self->stages, (CoreStage){ .start = start,
                                   .lo = lo,
                                   .hi = hi,
                                   .outcome = -1,
                                   .found = (CoreDay) hi,
                                   .seen_day = CORE_DAY_NONE,
                                   .entry = made_id (201, self->stages.n + 1) });
  if (start == CORE_START_HATCHED)
    self->hatched = true;
  if (start == CORE_START_ACQUIRED)
    self->acquired = (CoreDay) hi;
}

static inline void
made_sign (CoreState *self, int sign, CoreDay first, double prev_look, int times)
{
  PUSH (self->signs, (CoreSignSeen){ .sign = sign,
                                     .first = first,
                                     .last = first,
                                     .prev_look = prev_look,
                                     .times = times,
                                     .entry = made_id (202, sign) });
  made_look (self, first);
}

/* Warmth at one pace, `rate` development days a day; without readings when `habit`. */
static inline void
made_warmth (CoreWarmth *self, CoreDay from, CoreDay to, double rate, bool habit)
{
  memset (self, 0, sizeof *self);
  self->from = from;
  self->n = (gsize) (to - from) + 1;
  self->u = g_new0 (double, self->n);
  self->measured = g_new0 (uint8_t, self->n);
  for (gsize i = 1; i < self->n; i++)
    {
      self->u[i] = rate * (double) i;
      self->measured[i] = habit ? 0 : 1;
    }
  self->typical_c = 12 + 13 * rate;
}

static inline void
made_warmth_clear (CoreWarmth *self)
{
  g_clear_pointer (&self->u, g_free);
  g_clear_pointer (&self->measured, g_free);
}
