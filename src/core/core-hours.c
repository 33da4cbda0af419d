/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-hours.c — see core-hours.h. */
#include "core/core-hours.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HOUR 3600

/* By temperature, or by humidity where no temperature was read. */
typedef struct
{
  CoreSample low, high;
  bool any;
} Hour;

static double
height_of (const CoreSample *sample)
{
  return isnan (sample->t) ? sample->rh : sample->t;
}

static void
take_sample (Hour *hour, const CoreSample *sample)
{
  bool better = hour->any && isnan (hour->low.t) && !isnan (sample->t);

  if (hour->any && !better && isnan (sample->t) && !isnan (hour->low.t))
    return;
  if (!hour->any || better || height_of (sample) < height_of (&hour->low))
    hour->low = *sample;
  if (!hour->any || better || height_of (sample) > height_of (&hour->high))
    hour->high = *sample;
  hour->any = true;
}

static void
end_hour (CoreHours *out, Hour *hour)
{
  bool turned = hour->high.second < hour->low.second;

  if (hour->any && out->n < CORE_HOURS_MAX)
    out->v[out->n++] = turned ? hour->high : hour->low;
  if (hour->any && hour->high.second != hour->low.second && out->n < CORE_HOURS_MAX)
    out->v[out->n++] = turned ? hour->low : hour->high;
  hour->any = false;
}

void
core_hours_of (const char *series, CoreHours *out)
{
  CoreSeriesReader reader = core_series_read (series);
  CoreSample sample;
  Hour hour = { .any = false };
  int now = -1;

  out->n = 0;
  while (core_series_next (&reader, &sample))
    {
      if (sample.second / HOUR != now)
        end_hour (out, &hour);
      now = sample.second / HOUR;
      take_sample (&hour, &sample);
    }
  end_hour (out, &hour);
}

bool
core_hours_series (const char *series, char *out, size_t size)
{
  CoreHours hours;

  core_hours_of (series, &hours);
  return hours.n > 0 && core_series_pack (hours.v, hours.n, out, size) == hours.n;
}

CoreEntry *
core_hours_entry (const CoreEntry *entry)
{
  const char *series = core_entry_str (entry, CORE_KEY_SERIES);
  char text[CORE_SERIES_MAX_BYTES];
  CoreEntry *copy;

  if (!core_hours_series (series, text, sizeof text) || strlen (text) >= strlen (series))
    return NULL;
  copy = core_entry_copy (entry);
  for (size_t i = 0; copy != NULL && i < copy->n_values; i++)
    if (copy->values[i].key == CORE_KEY_SERIES)
      {
        char *shorter;

        strcpy (copy->values[i].text, text);
        shorter = realloc (copy->values[i].text, strlen (text) + 1);
        copy->values[i].text = shorter != NULL ? shorter : copy->values[i].text;
      }
  return copy;
}
