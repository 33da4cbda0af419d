/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-move-in.c — a collection comes into the journal, as one round.
 *
 * An animal moves in today, in the middle of its stage. What is known from before
 * (its last moult, its last meal) is entered on its own day, so that the arrival
 * with the stage comes after the moult that led to it. The first entry is the
 * arrival of the first animal: undo says by it what it takes back. */
#include "desk/desk-move-in.h"

#include <math.h>
#include <string.h>

#include "desk/desk-private.h"

DeskNewcomer *
desk_newcomer_new (void)
{
  DeskNewcomer *self = g_new0 (DeskNewcomer, 1);

  self->at = NAN;
  self->moults = -1;
  self->moult = self->fed = (DeskWhen){ CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  return self;
}

void
desk_newcomer_free (DeskNewcomer *self)
{
  g_free (self->place);
  g_free (self->number);
  g_free (self->species);
  g_free (self->stage);
  g_free (self->sex_doubt);
  g_free (self->name);
  g_free (self->locality);
  g_free (self->notes);
  g_free (self);
}

/* ---- places ---- */

static gboolean
is_called (const CoreState *state, const char *folded)
{
  g_autofree char *code = g_utf8_casefold (state->code, -1);
  g_autofree char *name = g_utf8_casefold (state->name, -1);

  return folded[0] != '\0' && (strcmp (code, folded) == 0 || strcmp (name, folded) == 0);
}

DeskSubject *
desk_place_called (Desk *self, const char *name)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);

  for (guint i = 0; i < self->all.order->len; i++)
    {
      DeskRecord *record = self->all.order->pdata[i];

      if (record->kind == CORE_SUBJECT_PLACE && record->now != NULL &&
          desk_subject_living (record->now) && is_called (desk_subject_state (record->now), folded))
        return desk_subject_ref (record->now);
    }
  return NULL;
}

typedef struct
{
  CoreId id;
  double last; /* the largest order on it */
} Shelf;

typedef struct
{
  DeskOp *op;
  CoreDay today;
  int scheme;
  GHashTable *shelves; /* folded name → Shelf */
  GHashTable *numbers; /* folded, of this round */
} MoveIn;

static gboolean
put_set (MoveIn *self, CoreId subject, const char *key, const char *value, GError **error)
{
  CoreEntry *entry = desk_op_entry (self->op, CORE_KIND_SET, subject, self->today);
  g_autofree char *key_pair = g_strdup_printf ("key=%s", key);
  g_autofree char *value_pair = g_strdup_printf ("value=%s", value);

  return desk_value_set (self->op->desk, entry, key_pair, error) &&
         desk_value_set (self->op->desk, entry, value_pair, error) &&
         desk_value_setting_of (self->op->desk, desk_op_kind_of (self->op, subject), entry, error);
}

static double
last_on (Desk *desk, CoreId place)
{
  g_autoptr (GPtrArray) animals = desk_animals_on (desk, place);
  double last = 0, at;

  for (guint i = 0; i < animals->len; i++)
    if (desk_subject_place (animals->pdata[i], NULL, &at) && !isnan (at))
      last = MAX (last, at);
  return last;
}

/* NULL and an error, or borrowed. */
static Shelf *
shelf_of (MoveIn *self, const char *name, GError **error)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  Shelf *shelf = g_hash_table_lookup (self->shelves, folded);
  g_autoptr (DeskSubject) there = NULL;

  if (shelf != NULL)
    return shelf;
  there = desk_place_called (self->op->desk, name);
  shelf = g_new0 (Shelf, 1);
  g_hash_table_insert (self->shelves, g_steal_pointer (&folded), shelf);
  if (there != NULL)
    {
      shelf->id = desk_subject_id (there);
      shelf->last = last_on (self->op->desk, shelf->id);
      return shelf;
    }
  shelf->id = desk_op_new_subject (self->op, CORE_SUBJECT_PLACE);
  return put_set (self, shelf->id, "name", name, error) ? shelf : NULL;
}

static gboolean
put_home (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  CoreEntry *entry;
  Shelf *shelf;

  if (animal->place == NULL)
    return TRUE;
  shelf = shelf_of (self, animal->place, error);
  if (shelf == NULL)
    return FALSE;
  entry = desk_op_entry (self->op, CORE_KIND_HOUSED, subject, self->today);
  shelf->last = isnan (animal->at) ? floor (shelf->last) + 1 : MAX (shelf->last, animal->at);
  if (core_entry_set_ref (entry, CORE_KEY_PLACE, shelf->id) == CORE_VALUE_OK &&
      core_entry_set_num (entry, CORE_KEY_AT, isnan (animal->at) ? shelf->last : animal->at) ==
        CORE_VALUE_OK)
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_NOT_A_PLACE, animal->place, NULL);
  return FALSE;
}

/* ---- what it is ---- */

static gboolean
put_number (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  g_autofree char *next = NULL;
  const char *number = animal->number;

  if (number == NULL)
    number = next = g_strdup_printf ("%" G_GUINT64_FORMAT, self->op->desk->all.top_number +
                                                             g_hash_table_size (self->numbers) + 1);
  if (!g_hash_table_add (self->numbers, g_ascii_strdown (number, -1)))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_NUMBER_GIVEN, number, NULL);
      return FALSE;
    }
  return put_set (self, subject, "number", number, error);
}

static int
scheme_of (const MoveIn *self, const DeskNewcomer *animal)
{
  return animal->scheme != 0 ? animal->scheme : self->scheme;
}

/* "L4-5": a claim of several stages. */
static gboolean
is_span (const MoveIn *self, const DeskNewcomer *animal)
{
  return animal->moults >= 0 && core_stage_allows (animal->stage, scheme_of (self, animal), animal->moults + 1);
}

/* Its stage would be read before a moult of the same day: then the number is said after it. One of
 * several stages is not so said; the fold takes it for that of after the moult. */
static gboolean
stage_follows (const MoveIn *self, const DeskNewcomer *animal)
{
  return animal->moult.latest == self->today && !is_span (self, animal);
}

static gboolean
put_arrival (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  CoreEntry *entry = desk_op_entry (self->op, CORE_KIND_ACQUIRED, subject, self->today);
  g_autofree char *scheme = g_strdup_printf ("scheme=%d", scheme_of (self, animal));
  g_autofree char *stage = NULL;

  if (!desk_value_set (self->op->desk, entry, "moved_in=yes", error))
    return FALSE;
  if (animal->stage == NULL || stage_follows (self, animal))
    return TRUE;
  stage = g_strdup_printf ("stage=%s", animal->stage);
  return desk_value_set (self->op->desk, entry, stage, error) &&
         (animal->moults < 0 || desk_value_set (self->op->desk, entry, scheme, error));
}

static gboolean
put_claim (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  CoreEntry *entry;

  if (animal->sex == CORE_SEX_UNKNOWN)
    return TRUE;
  entry = desk_op_entry (self->op, CORE_KIND_SEXED, subject, self->today);
  return desk_value_set (self->op->desk, entry,
                         animal->sex == CORE_SEX_MALE ? "sex=male" : "sex=female", error) &&
         desk_value_set (self->op->desk, entry, "method=claim", error);
}

/* ---- what was ---- */

/* Told as the day it was, so that no look has to bound it. */
static void
span (CoreEntry *entry, const DeskWhen *when)
{
  desk_when_span (when, entry->kind, &entry->day, &entry->earliest);
  entry->earliest = when->earliest;
}

static gboolean
put_moult (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  CoreEntry *entry;
  g_autofree char *moults = NULL;

  if (animal->moult.said == CORE_DAY_NONE)
    return TRUE;
  entry = desk_op_entry (self->op, CORE_KIND_MOULTED, subject, self->today);
  span (entry, &animal->moult);
  if (animal->seen == CORE_SEEN_ADULT || animal->seen == CORE_SEEN_SUBADULT)
    return desk_value_set (self->op->desk, entry,
                           animal->seen == CORE_SEEN_ADULT ? "to=adult" : "to=subadult", error);
  if (!stage_follows (self, animal) || animal->moults < 0)
    return TRUE;
  moults = g_strdup_printf ("moults=%d", animal->moults);
  entry = desk_op_entry (self->op, CORE_KIND_STAGE, subject, self->today);
  return desk_value_set (self->op->desk, entry, "seen=nymph", error) &&
         desk_value_set (self->op->desk, entry, moults, error);
}

static gboolean
put_meal (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  CoreEntry *entry;

  if (animal->fed.said == CORE_DAY_NONE)
    return TRUE;
  entry = desk_op_entry (self->op, CORE_KIND_FED, subject, self->today);
  span (entry, &animal->fed);
  return desk_value_set (self->op->desk, entry, "outcome=offered", error);
}

static gboolean
put_note (MoveIn *self, CoreId subject, const char *text, GError **error)
{
  CoreEntry *entry;
  g_autofree char *pair = text != NULL ? g_strdup_printf ("text=%s", text) : NULL;

  if (pair == NULL)
    return TRUE;
  entry = desk_op_entry (self->op, CORE_KIND_NOTE, subject, self->today);
  return desk_value_set (self->op->desk, entry, pair, error);
}

/* What a spreadsheet says beside. A claim weighs the same with a doubt; its words stay. */
static gboolean
put_beside (MoveIn *self, CoreId subject, const DeskNewcomer *animal, GError **error)
{
  g_autofree char *told =
    animal->sex_doubt != NULL
      ? g_strdup_printf (T_ (WORDS_LOCAL, "move in", "Sex, as told: %s"), animal->sex_doubt)
      : NULL;

  return (animal->name == NULL || put_set (self, subject, "name", animal->name, error)) &&
         (animal->locality == NULL ||
          put_set (self, subject, "locality", animal->locality, error)) &&
         put_note (self, subject, told, error) && put_note (self, subject, animal->notes, error);
}

static gboolean
put_animal (MoveIn *self, const DeskNewcomer *animal, GError **error)
{
  CoreId subject = desk_op_new_subject (self->op, CORE_SUBJECT_ANIMAL);

  return put_arrival (self, subject, animal, error) &&
         (animal->species == NULL || put_set (self, subject, "species", animal->species, error)) &&
         put_number (self, subject, animal, error) && put_home (self, subject, animal, error) &&
         put_claim (self, subject, animal, error) && put_moult (self, subject, animal, error) &&
         put_meal (self, subject, animal, error) && put_beside (self, subject, animal, error);
}

/* ---- the verb ---- */

typedef struct
{
  GPtrArray *newcomers;
  int scheme;
} Arrival;

static void
arrival_free (gpointer data)
{
  Arrival *self = data;

  g_ptr_array_unref (self->newcomers);
  g_free (self);
}

static gboolean
prepare_move_in (Desk *self, DeskOp *op, GError **error)
{
  const Arrival *arrival = op->data;
  g_autoptr (GHashTable) shelves = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GHashTable) numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  MoveIn move = { op, self->today, arrival->scheme, shelves, numbers };

  for (guint i = 0; i < arrival->newcomers->len; i++)
    if (!put_animal (&move, arrival->newcomers->pdata[i], error))
      return FALSE;
  return desk_op_check (op, error);
}

void
desk_move_in_async (Desk *self,
                    GPtrArray *newcomers,
                    int scheme,
                    GCancellable *cancellable,
                    GAsyncReadyCallback callback,
                    gpointer data)
{
  Arrival *arrival = g_new0 (Arrival, 1);

  arrival->newcomers = newcomers;
  arrival->scheme = scheme == 2 ? 2 : 1;
  desk_op_start (self, prepare_move_in, prepare_move_in, arrival, arrival_free, cancellable,
                 callback, data);
}

gboolean
desk_move_in_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_move_in, error) != NULL;
}
