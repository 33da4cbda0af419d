/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-lot.c — the record of animals that are kept together, and how well first, middle and last
 * of them are foretold. A moult of the lot is entered at the first look at which half of it or
 * more have moulted; it is parted three moults after the hatch.
 */
#include "sim-lot.h"

#include <stdlib.h>

static const int parted_at = 3;
#define DRAWS 4 /* days drawn for each stage */

static gint
by_size (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* Evenings on which the first, the middle (of an even number the lower) and the last of them
 * truly begin stage m. */
static void
order (const SimLot *lot, int m, double out[3])
{
  guint n = lot->animals->len;
  g_autofree double *at = g_new (double, n);

  for (guint i = 0; i < n; i++)
    at[i] = ((const SimAnimal *) lot->animals->pdata[i])->at[m];
  qsort (at, n, sizeof *at, by_size);
  out[0] = at[0];
  out[1] = at[(n + 1) / 2 - 1];
  out[2] = at[n - 1];
}

static void
enter_beginning (SimRoom *room, SimLot *lot)
{
  SimBegan row = { .by = SIM_BEGAN_HATCH, .written = lot->here, .day = lot->here };
  CoreDay day = lot->here;
  char id[37];

  core_id_to_text (room->kind[lot->kind].shelf, id);
  sim_enter (room, lot->entries, lot->id, day, day, "housed|place=%s", id);
  sim_enter (room, lot->entries, lot->id, day, day, "set|key=species|value=%s",
             room->kind[lot->kind].profile->scientific);
  sim_enter (room, lot->entries, lot->id, day, day, "hatched");
  sim_enter (room, lot->entries, lot->id, day, day, "recounted|n=%u|counted=yes",
             lot->animals->len);
  g_array_append_val (lot->began, row);
}

void
sim_keep_lot (SimRoom *room, SimLot *lot)
{
  CoreDay end = SIM_FIRST_DAY + SIM_DAYS - 1;
  int known = 0;

  enter_beginning (room, lot);
  for (CoreDay day = lot->here + 1; day < end && known < parted_at; day++)
    {
      double at[3];
      SimBegan row = { .by = SIM_BEGAN_MOULT, .written = day, .day = day, .m = known + 1 };

      if (room->keeper.away[day - SIM_FIRST_DAY] || !sim_chance (&room->random, room->keeper.look))
        continue;
      order (lot, known + 1, at);
      if (at[1] > day || sim_chance (&room->random, room->keeper.overlook))
        sim_enter (room, lot->entries, lot->id, day, day, "looked");
      else
        {
          known++;
          sim_enter (room, lot->entries, lot->id, day, day, "moulted|outcome=good");
          g_array_append_val (lot->began, row);
        }
    }
}

static void
ask_lot (SimAsk *ask, const SimLot *lot, int m, gboolean drawn, CoreDay day, GArray *out)
{
  LotMoment moment = { .room = ask->room->number, .drawn = drawn };
  CoreLotForecast forecast;
  double at[3];

  if (!sim_ask_lot (ask, lot, day, &forecast))
    return;
  order (lot, m + 1, at);
  for (int w = 0; w < 3; w++)
    {
      const CoreLotWhen *when = w == 0   ? &forecast.first
                                : w == 1 ? &forecast.median
                                         : &forecast.last;
      moment.lo[w] = when->days[0];
      moment.hi[w] = when->days[2];
      moment.y[w] = at[w] - day;
    }
  g_array_append_val (out, moment);
}

void
sim_lot_moments (SimAsk *ask, GArray *out)
{
  SimRoom *room = ask->room;

  for (guint l = 0; l < room->lots->len; l++)
    {
      const SimLot *lot = room->lots->pdata[l];
      for (guint b = 0; b + 1 < lot->began->len; b++)
        {
          const SimBegan *now = &g_array_index (lot->began, SimBegan, b);
          const SimBegan *next = &g_array_index (lot->began, SimBegan, b + 1);

          ask_lot (ask, lot, now->m, FALSE, now->written, out);
          for (int d = 0; d < DRAWS; d++)
            {
              CoreDay day = now->written + 1 + sim_below (&room->random, 60);
              if (day < next->written)
                ask_lot (ask, lot, now->m, TRUE, day, out);
            }
        }
    }
}
