/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-series.c — the number of an egg case among those of its mother.
 *
 * By the day of laying, whenever it was entered; what was said of one holds for those after it. */
#include "desk/desk-add-private.h"

#include <string.h>

/* The mother of an egg case turns out to be another: its number among those of the first is void. */
gboolean
desk_series_follow (DeskOp *op, const CoreEntry *set, GError **error)
{
  DeskRecord *egg = desk_collection_record (&op->desk->all, set->subject);
  const CoreState *state;

  if (set->kind != CORE_KIND_SET || strcmp (core_entry_str (set, CORE_KEY_KEY), "mother") != 0 || egg == NULL ||
      egg->kind != CORE_SUBJECT_EGGCASE || egg->now == NULL)
    return TRUE;
  state = desk_subject_state (egg->now);
  if (core_state_setting (state, "series") == NULL ||
      g_strcmp0 (core_state_setting (state, "mother"), core_entry_str (set, CORE_KEY_VALUE)) == 0)
    return TRUE;
  return desk_op_set (op, set->subject, set->day, "series", "", error);
}

typedef struct
{
  CoreDay day;
  CoreId entry;
  CoreId eggcase; /* none = not kept */
  int said;       /* 0 = not */
} Laying;

static gboolean
is_hers (const DeskRecord *eggcase, const char *mother)
{
  const char *hers = eggcase != NULL && eggcase->now != NULL
                       ? core_state_setting (desk_subject_state (eggcase->now), "mother")
                       : NULL;

  return hers != NULL && strcmp (hers, mother) == 0;
}

static int
said_of (Desk *self, CoreId eggcase, CoreId entry)
{
  DeskRecord *record = desk_collection_record (&self->all, eggcase);
  const char *said = record != NULL && record->now != NULL
                       ? core_state_setting (desk_subject_state (record->now), "series")
                       : NULL;
  const CoreEntry *laid = said == NULL ? desk_collection_entry (&self->all, entry) : NULL;

  return said != NULL ? (int) g_ascii_strtoll (said, NULL, 10)
                      : laid != NULL ? (int) core_entry_num (laid, CORE_KEY_N, 0) : 0;
}

static int
compare_layings (gconstpointer a, gconstpointer b)
{
  const Laying *x = a, *y = b;

  return x->day != y->day ? (x->day > y->day ? 1 : -1) : core_id_compare (x->entry, y->entry);
}

/* What is entered of her, but for cases that are said to be of another by now. */
static void
add_entered (Desk *self, const CoreState *mother, const char *id, GArray *out)
{
  for (gsize i = 0; i < mother->layings.n; i++)
    {
      const CoreLaying *one = &mother->layings.v[i];
      Laying laying = { one->day, one->entry, one->eggcase, said_of (self, one->eggcase, one->entry) };
      DeskRecord *eggcase = desk_collection_record (&self->all, one->eggcase);

      if (eggcase == NULL || is_hers (eggcase, id))
        g_array_append_val (out, laying);
    }
}

static gboolean
is_among (const GArray *layings, CoreId eggcase)
{
  for (guint i = 0; i < layings->len; i++)
    if (core_id_equal (g_array_index (layings, Laying, i).eggcase, eggcase))
      return TRUE;
  return FALSE;
}

/* Cases that name her, of which it is known when they were laid. */
static void
add_others (Desk *self, const char *id, GArray *out)
{
  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];
      const CoreEggState *egg;

      if (record->kind != CORE_SUBJECT_EGGCASE || !is_hers (record, id) || is_among (out, record->id))
        continue;
      egg = &desk_subject_state (record->now)->egg;
      if (egg->laid_day != CORE_DAY_NONE)
        {
          Laying laying = { egg->laid_day, egg->laid_entry, record->id, said_of (self, record->id, egg->laid_entry) };

          g_array_append_val (out, laying);
        }
    }
}

int
desk_series_of (Desk *self, DeskSubject *eggcase)
{
  const CoreState *state = desk_subject_state (eggcase);
  const char *said = core_state_setting (state, "series"), *id = core_state_setting (state, "mother");
  g_autoptr (GArray) layings = g_array_new (FALSE, FALSE, sizeof (Laying));
  DeskRecord *mother = NULL;
  CoreId hers;
  int number = 0;

  if (said != NULL)
    return (int) g_ascii_strtoll (said, NULL, 10);
  if (id != NULL && core_id_from_text (id, &hers))
    mother = desk_collection_record (&self->all, hers);
  if (mother == NULL || mother->now == NULL)
    return 0;
  add_entered (self, desk_subject_state (mother->now), id, layings);
  add_others (self, id, layings);
  g_array_sort (layings, compare_layings);
  for (guint i = 0; i < layings->len; i++)
    {
      const Laying *one = &g_array_index (layings, Laying, i);

      number = one->said > 0 ? one->said : number + 1;
      if (core_id_equal (one->eggcase, state->subject))
        return number;
    }
  return 0;
}
