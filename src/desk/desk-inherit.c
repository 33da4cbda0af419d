/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-inherit.c — what a single, or a new lot, takes over from the lot that it came from.
 *
 * Facts of the lot are copied as entries of its own, marked as written for all
 * (`bulk`): no eye was on this one. So its forecast starts from the hatch and the
 * moults of the lot, and a correction of one animal touches no other. When one of a
 * lot moulted is known less well than for the lot: its window is wider. */
#include "desk/desk-private.h"

#include <math.h>
#include <string.h>

#include "core/core-lot.h"

static const char *const taken_over[] = { "species", "origin",  "locality", "species_sure",
                                          "mother",  "father",  "line",     "generation",
                                          "eggcase", "purpose", NULL };

static CoreEntry *
copy_for (DeskOp *op, const CoreEntry *entry, CoreId to)
{
  CoreEntry *copy = core_entry_copy (entry);

  if (copy == NULL)
    g_error ("out of memory");
  copy->id = desk_op_new_id (op);
  copy->subject = to;
  copy->names = copy->round = copy->device = (CoreId){ 0 };
  copy->written_ms = 0;
  copy->bulk = TRUE;
  g_ptr_array_add (op->entries, copy);
  return copy;
}

static int
stage_of (const CoreState *lot, CoreId entry)
{
  for (gsize i = 0; i < lot->stages.n; i++)
    if (core_id_equal (lot->stages.v[i].entry, entry))
      return (int) i;
  return -1;
}

/* Is this a fact of the lot's life so far that each of it shares? */
static gboolean
shared (const CoreState *lot, const CoreEntry *entry)
{
  switch ((int) entry->kind)
    {
    case CORE_KIND_HATCHED:
      return core_id_equal (entry->id, lot->hatched_entry);
    case CORE_KIND_MOULTED:
      return stage_of (lot, entry->id) >= 0 ||
             (lot->ahead.n > 0 && core_id_equal (entry->id, lot->ahead.entry));
    case CORE_KIND_ACQUIRED:
    case CORE_KIND_STAGE:
      return TRUE;
    default:
      return FALSE;
    }
}

/* One of a lot moulted some days sooner or later than the lot as a whole, which itself may be known
 * only to have moulted since it was last seen in the old skin; not after the next that is known of
 * it. */
static void
widen (const CoreState *lot, CoreEntry *moult, int stage, CoreDay latest)
{
  int spread = core_lot_moult_spread (lot, (gsize) stage);
  CoreDay day = MAX (moult->day, MIN (moult->day + spread, latest));
  double lo = lot->stages.v[stage].lo;
  CoreDay earliest = moult->earliest != CORE_DAY_NONE ? moult->earliest
                     : isfinite (lo)                  ? (CoreDay) floor (lo) + 1
                                                      : moult->day;

  moult->earliest = MIN (earliest, moult->day) - spread;
  if (lot->hatched)
    moult->earliest = MAX (moult->earliest, MIN (lot->hatched_earliest, moult->day));
  moult->day = day;
  moult->minute = -1;
}

/* Live facts up to that day, oldest first; borrowed. */
static GPtrArray *
shared_facts (Desk *desk, const CoreState *lot, CoreDay day)
{
  g_autoptr (GPtrArray) all = desk_history (desk, lot->subject);
  GPtrArray *facts = g_ptr_array_new ();

  for (guint i = all->len; i-- > 0;)
    {
      CoreEntry *entry = all->pdata[i];

      if (entry->day <= day && desk_entry_is_live (desk, entry->id) && shared (lot, entry))
        g_ptr_array_add (facts, entry);
    }
  return facts;
}

/* A fact that stands in the way of a moult of that day or later. */
static CoreDay
last_day_before (const GPtrArray *facts, guint i, CoreDay day)
{
  const CoreEntry *next = i + 1 < facts->len ? facts->pdata[i + 1] : NULL;

  if (next == NULL)
    return day;
  return next->kind == CORE_KIND_MOULTED || next->kind == CORE_KIND_STAGE ? next->day
                                                                          : next->day - 1;
}

/* The last time that food was put in, and that it was sprayed: so that what was fed with
 * its lot this morning is not due again tonight. */
static void
copy_care (DeskOp *op, const CoreState *lot, CoreId to, CoreDay day)
{
  g_autoptr (GPtrArray) all = desk_history (op->desk, lot->subject);
  gboolean fed = FALSE, misted = FALSE;

  for (guint i = 0; i < all->len && !(fed && misted); i++)
    {
      const CoreEntry *entry = all->pdata[i];
      int outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);

      if (entry->day > day || !desk_entry_is_live (op->desk, entry->id))
        continue;
      if (!misted && entry->kind == CORE_KIND_MISTED)
        {
          copy_for (op, entry, to);
          misted = TRUE;
        }
      if (!fed && entry->kind == CORE_KIND_FED &&
          (outcome == CORE_FED_OFFERED || outcome == CORE_FED_TAKEN))
        {
          CoreEntry *copy = copy_for (op, entry, to);

          desk_value_remove (copy, CORE_KEY_N);
          desk_value_remove (copy, CORE_KEY_OUTCOME);
          fed = TRUE;
        }
    }
}

static gboolean
copy_settings (DeskOp *op, const CoreState *lot, CoreId to, CoreDay day, GError **error)
{
  char id[37];

  for (int i = 0; taken_over[i] != NULL; i++)
    {
      const char *value = core_state_setting (lot, taken_over[i]);

      if (value != NULL && !desk_op_set (op, to, day, taken_over[i], value, error))
        return FALSE;
    }
  core_id_to_text (lot->subject, id);
  return desk_op_set (op, to, day, "lot", id, error);
}

gboolean
desk_inherit (DeskOp *op, const CoreState *lot, CoreId to, CoreDay day, GError **error)
{
  g_autoptr (GPtrArray) facts = shared_facts (op->desk, lot, day);
  gboolean single = desk_op_kind_of (op, to) == CORE_SUBJECT_ANIMAL;

  for (guint i = 0; i < facts->len; i++)
    {
      const CoreEntry *entry = facts->pdata[i];
      CoreEntry *copy = copy_for (op, entry, to);

      if (single && entry->kind == CORE_KIND_MOULTED && stage_of (lot, entry->id) >= 0)
        widen (lot, copy, stage_of (lot, entry->id), last_day_before (facts, i, day));
    }
  copy_care (op, lot, to, day);
  return copy_settings (op, lot, to, day, error);
}
