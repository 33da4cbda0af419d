/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-inherit.c — what a single, or a lot of its own, has from the lot that it came from.
 *
 * Invariant: it rests on the entries of the lot that stand before the separation in the order of the
 * fold, and on its species. Nobody looked at this one, so each is marked as written for all; when
 * one of a lot moulted is known less well than for the lot: its window is wider. */
#include "core/core-inherit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-lot.h"

const char *const core_inherit_settings[] = { "species", "origin",  "locality", "species_sure",
                                              "mother",  "father",  "line",     "generation",
                                              "eggcase", "purpose", NULL };

typedef struct
{
  const CoreHeir *heir;
  const CoreEntry **before; /* the lot's entries before the separation, in order */
  size_t n;
  CoreState lot;            /* as it was then */
  CoreEntry **out;
  size_t n_out;
} Will;

bool
core_inherit_takes (const CoreEntry *entry)
{
  switch ((int) entry->kind)
    {
    case CORE_KIND_HATCHED:
    case CORE_KIND_ACQUIRED:
    case CORE_KIND_MOULTED:
    case CORE_KIND_STAGE:
    case CORE_KIND_JOINED:
    case CORE_KIND_MISTED:
    case CORE_KIND_FED:
      return true;
    case CORE_KIND_SET:
      return core_word_index (core_inherit_settings, core_entry_str (entry, CORE_KEY_KEY)) >= 0;
    default:
      return false;
    }
}

static int
stage_of (const CoreState *lot, CoreId entry)
{
  for (size_t i = 0; i < lot->stages.n; i++)
    if (core_id_equal (lot->stages.v[i].entry, entry))
      return (int) i;
  return -1;
}

static bool
is_ahead (const CoreState *lot, const CoreEntry *entry)
{
  return lot->ahead.n > 0 && core_id_equal (entry->id, lot->ahead.entry) && stage_of (lot, entry->id) < 0;
}

/* How many of a part of it had moulted before the others; -1 = not said. */
static double
told_ahead (const CoreHeir *heir)
{
  return heir->kind == CORE_SUBJECT_ANIMAL ? heir->ahead
                                           : core_entry_num (heir->split, CORE_KEY_MOULTED, CORE_AHEAD_UNSAID);
}

/* The stage that was told for both when another lot of a neighbouring stage came into it; NULL = they
 * were in one stage. */
static const CoreEntry *
told_with (const Will *will, const CoreEntry *joined)
{
  for (size_t i = 0; i < will->n; i++)
    if (will->before[i]->kind == CORE_KIND_STAGE && !core_id_is_none (joined->round) &&
        core_id_equal (will->before[i]->round, joined->round) &&
        core_entry_get (will->before[i], CORE_KEY_MOULTS) != NULL)
      return will->before[i];
  return NULL;
}

/* Is this a fact of the lot's life so far that each of it shares? */
static bool
shared (const Will *will, const CoreEntry *entry)
{
  switch ((int) entry->kind)
    {
    case CORE_KIND_HATCHED:
      return core_id_equal (entry->id, will->lot.hatched_entry);
    case CORE_KIND_MOULTED:
      return stage_of (&will->lot, entry->id) >= 0 ||
             (is_ahead (&will->lot, entry) && told_ahead (will->heir) != 0);
    case CORE_KIND_ACQUIRED:
    case CORE_KIND_STAGE:
      return true;
    case CORE_KIND_JOINED:
      return told_with (will, entry) != NULL;
    default:
      return false;
    }
}

/* The day after which a moult of the lot came, as it is known of the lot. */
static CoreDay
earliest_of (const CoreState *lot, const CoreEntry *moult, int stage)
{
  double lo = lot->stages.v[stage].lo;
  CoreDay day = isfinite (lo) ? (CoreDay) floor (lo) + 1 : moult->day;

  return moult->earliest != CORE_DAY_NONE && core_entry_get (moult, CORE_KEY_N) == NULL ? moult->earliest
         : day < moult->day                                                             ? day
                                                                                        : moult->day;
}

/* One of a lot moulted some days sooner or later than the lot as a whole, which itself may be known
 * only to have moulted since it was last seen in the old skin; not after the next that is known of
 * it. */
static void
widen (const CoreState *lot, CoreEntry *moult, int stage, CoreDay latest)
{
  int spread = core_lot_moult_spread (lot, (size_t) stage);
  CoreDay day = moult->day + spread < latest ? moult->day + spread : latest;

  moult->earliest -= spread;
  if (lot->hatched && moult->earliest < lot->hatched_earliest)
    moult->earliest = lot->hatched_earliest < moult->day ? lot->hatched_earliest : moult->day;
  moult->day = day > moult->day ? day : moult->day;
  moult->minute = -1;
}

/* A fact that stands in the way of a moult of that day or later: the next that is shared. */
static CoreDay
last_day_before (const Will *will, size_t i)
{
  for (size_t k = i + 1; k < will->n; k++)
    {
      const CoreEntry *next = will->before[k];

      if (shared (will, next))
        return next->kind == CORE_KIND_MOULTED || next->kind == CORE_KIND_STAGE ? next->day : next->day - 1;
    }
  return will->heir->split->day;
}

static CoreEntry *
take (Will *will, const CoreEntry *entry)
{
  CoreEntry *copy = core_entry_copy (entry);

  if (copy != NULL)
    {
      copy->bulk = true;
      will->out[will->n_out++] = copy;
    }
  return copy;
}

/* The moult of all, or that of some: of one, of none, or perhaps of this one. */
static bool
take_moult (Will *will, size_t i)
{
  const CoreEntry *entry = will->before[i];
  const CoreState *lot = &will->lot;
  int stage = stage_of (lot, entry->id);
  double ahead = told_ahead (will->heir);
  CoreEntry *copy = take (will, entry);

  if (copy == NULL)
    return false;
  if (stage >= 0)
    {
      copy->earliest = earliest_of (lot, entry, stage);
      core_entry_remove (copy, CORE_KEY_N);
      if (will->heir->kind == CORE_SUBJECT_ANIMAL)
        widen (lot, copy, stage, last_day_before (will, i));
      return true;
    }
  if (ahead < 0)
    return true;
  /* Told: it is of those that moulted, on one of these days. */
  copy->earliest = lot->ahead.first < entry->day ? lot->ahead.first : entry->day;
  if (will->heir->kind == CORE_SUBJECT_ANIMAL || ahead >= core_entry_num (will->heir->split, CORE_KEY_N, 0))
    {
      core_entry_remove (copy, CORE_KEY_N);
      return true;
    }
  core_entry_remove (copy, CORE_KEY_SURE);
  core_entry_remove (copy, CORE_KEY_N);
  return core_entry_set_num (copy, CORE_KEY_N, ahead) == CORE_VALUE_OK &&
         core_entry_set_word (copy, CORE_KEY_SURE, "yes") == CORE_VALUE_OK;
}

/* Two lots of neighbouring stages became one: the copy says how many of CORE_JOINED_ALL were of the
 * lower stage then, as the lot's own stage says it (fold_mix_stage). */
static bool
take_join (Will *will, size_t i)
{
  const CoreEntry *entry = will->before[i], *told = told_with (will, entry);
  CoreEntry *copy = take (will, entry);
  CoreState then;
  bool ok;

  if (copy == NULL)
    return false;
  if (entry->bulk) /* of a part of a lot: it says so already */
    return true;
  core_state_init (&then);
  ok = core_fold (entry->subject, CORE_SUBJECT_LOT, will->before, i + 1, &then) == CORE_OK;
  core_entry_remove (copy, CORE_KEY_N);
  ok = ok && core_entry_set_num (copy, CORE_KEY_N,
                                 round (then.moults_p[(int) core_entry_num (told, CORE_KEY_MOULTS, 0)] *
                                        CORE_JOINED_ALL)) == CORE_VALUE_OK;
  core_state_clear (&then);
  return ok;
}

static bool
take_fact (Will *will, size_t i)
{
  switch ((int) will->before[i]->kind)
    {
    case CORE_KIND_MOULTED:
      return take_moult (will, i);
    case CORE_KIND_JOINED:
      return take_join (will, i);
    default:
      return take (will, will->before[i]) != NULL;
    }
}

static bool
take_facts (Will *will)
{
  for (size_t i = 0; i < will->n; i++)
    if (shared (will, will->before[i]) && !take_fact (will, i))
      return false;
  return true;
}

/* The last time that food was put in, and that it was sprayed: so that what was fed with
 * its lot this morning is not due again tonight. */
static bool
take_care (Will *will)
{
  bool fed = false, misted = false, ok = true;

  for (size_t i = will->n; ok && i-- > 0 && !(fed && misted);)
    {
      const CoreEntry *entry = will->before[i];
      int outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);

      if (!misted && entry->kind == CORE_KIND_MISTED)
        {
          ok = take (will, entry) != NULL;
          misted = true;
        }
      else if (!fed && entry->kind == CORE_KIND_FED &&
               (outcome == CORE_FED_OFFERED || outcome == CORE_FED_TAKEN))
        {
          CoreEntry *copy = take (will, entry);

          ok = copy != NULL;
          fed = true;
          if (ok)
            {
              core_entry_remove (copy, CORE_KEY_N);
              core_entry_remove (copy, CORE_KEY_OUTCOME);
            }
        }
    }
  return ok;
}

static bool
names_species (const CoreEntry *entry)
{
  return entry->kind == CORE_KIND_SET && strcmp (core_entry_str (entry, CORE_KEY_KEY), "species") == 0;
}

static bool
take_settings (Will *will)
{
  const CoreState *lot = &will->lot;

  for (size_t k = 0; k < lot->settings.n; k++)
    for (size_t i = 0; i < will->n; i++)
      if (core_id_equal (will->before[i]->id, lot->settings.v[k].entry) && !names_species (will->before[i]) &&
          core_inherit_takes (will->before[i]) && take (will, will->before[i]) == NULL)
        return false;
  return true;
}

/* Which species they are was true from the beginning, on whatever day somebody found out. */
static bool
take_species (Will *will, const CoreEntry *const *lot, size_t n)
{
  const CoreEntry *last = NULL;

  for (size_t i = 0; i < n; i++)
    if (names_species (lot[i]) && (last == NULL || core_entry_compare (lot[i], last) > 0))
      last = lot[i];
  return last == NULL || take (will, last) != NULL;
}

static int
compare_entry_pointers (const void *a, const void *b)
{
  return core_entry_compare (*(const CoreEntry *const *) a, *(const CoreEntry *const *) b);
}

static CoreStatus
gather (Will *will, const CoreEntry *const *lot, size_t n)
{
  CoreId subject = will->heir->split->subject;

  will->before = malloc ((n + 1) * sizeof *will->before);
  will->out = malloc ((n + 3) * sizeof (CoreEntry *)); /* each once, and the care of the last day */
  if (will->before == NULL || will->out == NULL)
    return CORE_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    if (lot[i]->kind != CORE_KIND_VOID && core_entry_compare (lot[i], will->heir->split) < 0)
      will->before[will->n++] = lot[i];
  qsort (will->before, will->n, sizeof *will->before, compare_entry_pointers);
  return core_fold (subject, CORE_SUBJECT_LOT, will->before, will->n, &will->lot);
}

CoreStatus
core_inherit (const CoreHeir *heir,
              const CoreEntry *const *lot,
              size_t n,
              CoreEntry ***out,
              size_t *n_out)
{
  Will will = { .heir = heir };
  CoreStatus status;

  core_state_init (&will.lot);
  status = gather (&will, lot, n);
  if (status == CORE_OK && !(take_species (&will, lot, n) && take_settings (&will) && take_facts (&will) && take_care (&will)))
    status = CORE_NO_MEMORY;
  free (will.before);
  core_state_clear (&will.lot);
  if (status != CORE_OK)
    {
      while (will.n_out > 0)
        core_entry_free (will.out[--will.n_out]);
      free (will.out);
      will.out = NULL;
    }
  *out = will.out;
  *n_out = will.n_out;
  return status;
}
