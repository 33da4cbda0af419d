/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-what-if.h — how the next moult and the feeding of an animal or a lot would change; nothing is written. */
#pragma once

#include "desk/desk.h"

typedef struct
{
  double day_c, night_c; /* °C it is kept at from tomorrow on; NAN = as where it stands */
  CoreId place;          /* moved there today; none = it stays */
  double feed_a, feed_b; /* fed every a to b days; NAN = as now */
} DeskWhatIf;

typedef struct
{
  gboolean is_lot;
  CoreForecast forecast; /* of an animal; without its reasons */
  CoreLotForecast lot;   /* of a lot */
  CoreDay next_meal;     /* CORE_DAY_NONE = none is due within four weeks */
  CoreDay meal_after;    /* the one after it */
  double typical_c;      /* mean of the days to come, °C */
  guint unknown;         /* WORDS_WHAT_IF_* */
  CorePast past;         /* whether by day or at night they are past “look at once” of its kind */
} DeskWhatIfAnswer;

DeskWhatIf desk_what_if_nothing (void); /* as it is */
/* DESK_ERROR_VALUE: temperatures outside of 0 to 50 °C or a night above the day, days outside of
 * 1 to 60, a place that is none; DESK_ERROR_NOT_FOUND: neither a living animal nor a lot. */
gboolean
desk_what_if (Desk *self, DeskSubject *subject, const DeskWhatIf *ask, DeskWhatIfAnswer *out, GError **error);
