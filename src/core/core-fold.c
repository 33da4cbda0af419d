/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold.c — the order of entries, and the walk over them.
 *
 * Invariant: nothing here depends on the order of arrival. Entries are sorted
 * once by a total order; four passes before the walk (what still counts, which
 * photos are there, which of them show a shed skin, all looks by time) need no
 * state, so that a look that was entered late still bounds a moult that was
 * entered early.
 */
#include "core/core-fold-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DAY_MINUTES 1440

/* ---- order ---- */

static int
compare_double (double a, double b)
{
  return (a > b) - (a < b);
}

static int
compare_value (const CoreValue *a, const CoreValue *b)
{
  int order;

  if (a->key != b->key)
    return a->key < b->key ? -1 : 1;
  order = compare_double (a->n, b->n);
  if (order == 0)
    order = core_id_compare (a->ref, b->ref);
  if (order == 0)
    order = strcmp (a->text != NULL ? a->text : "", b->text != NULL ? b->text : "");
  return order;
}

static int
compare_values (const CoreEntry *a, const CoreEntry *b)
{
  for (size_t i = 0; i < a->n_values && i < b->n_values; i++)
    {
      int order = compare_value (&a->values[i], &b->values[i]);

      if (order != 0)
        return order;
    }
  return (a->n_values > b->n_values) - (a->n_values < b->n_values);
}

/* Kinds whose meaning hangs on what was said of the same moment before: within one minute the order
 * of writing (the id) decides, not the value. A name or a place is decided anew; prey that was put
 * in and then refused is one meal, prey put in after a refusal is another. */
static bool
follows_on (CoreKind kind)
{
  return kind == CORE_KIND_SET || kind == CORE_KIND_HOUSED || kind == CORE_KIND_FED;
}

/* Where an entry stands within its day. */
typedef struct
{
  CorePhase phase;
  uint8_t rank;
  int kind;
} Standing;

/* What changes the tally of a lot has one standing, whatever its kind. */
static Standing
standing_of (const CoreEntry *entry)
{
  const CoreKindInfo *info = core_kind_info (entry->kind);

  if (core_entry_is_tally (entry))
    return (Standing){ CORE_PHASE_MIDDLE, CORE_TALLY_RANK, 0 };
  return info != NULL ? (Standing){ info->phase, info->rank, (int) entry->kind }
                      : (Standing){ .kind = (int) entry->kind };
}

static int
compare_content (const CoreEntry *a, const CoreEntry *b)
{
  int order = compare_double (a->earliest, b->earliest);

  if (order == 0)
    order = compare_values (a, b);
  return order != 0 ? order : (int) a->bulk - (int) b->bulk;
}

static int
minute_of (const CoreEntry *entry)
{
  return entry->minute < 0 || entry->minute > DAY_MINUTES ? DAY_MINUTES : entry->minute;
}

static int
compare_rank (const CoreEntry *a, const CoreEntry *b)
{
  Standing left = standing_of (a), right = standing_of (b);

  if (left.phase != right.phase)
    return left.phase < right.phase ? -1 : 1;
  if (minute_of (a) != minute_of (b))
    return minute_of (a) < minute_of (b) ? -1 : 1;
  if (left.rank != right.rank)
    return left.rank < right.rank ? -1 : 1;
  return (left.kind > right.kind) - (left.kind < right.kind);
}

int
core_entry_compare (const CoreEntry *a, const CoreEntry *b)
{
  int order;

  if (a->day != b->day)
    return a->day < b->day ? -1 : 1;
  order = compare_rank (a, b);
  if (order == 0 && !follows_on (a->kind) && !core_entry_is_tally (a))
    order = compare_content (a, b);
  if (order == 0)
    order = core_id_compare (a->id, b->id);
  if (order == 0)
    order = (a->kind > b->kind) - (a->kind < b->kind);
  if (order == 0)
    order = compare_content (a, b);
  if (order == 0)
    order = core_id_compare (a->subject, b->subject);
  return order != 0 ? order : core_id_compare (a->names, b->names);
}

/* ---- shared by the steps ---- */

bool
fold_grow (Fold *fold, void **v, size_t *cap, size_t n, size_t size)
{
  size_t room = *cap * 2 + 4;
  void *grown;

  if (n < *cap)
    return true;
  grown = realloc (*v, room * size);
  if (grown == NULL)
    {
      fold->no_memory = true;
      return false;
    }
  *v = grown;
  *cap = room;
  return true;
}

double
fold_time (const CoreEntry *entry)
{
  if (entry->minute < 0 || entry->minute > DAY_MINUTES)
    return entry->day;
  return entry->day - 1. + (double) entry->minute / DAY_MINUTES;
}

double
fold_look_before (const Fold *fold, double t)
{
  size_t low = 0, high = fold->looks.n;

  while (low < high)
    {
      size_t middle = low + (high - low) / 2;

      if (fold->looks.v[middle].t < t)
        low = middle + 1;
      else
        high = middle;
    }
  return low > 0 ? fold->looks.v[low - 1].t : -INFINITY;
}

void
fold_conflict (Fold *fold, CoreConflictKind kind, CoreId entry, CoreId other)
{
  CoreConflict conflict = { .kind = kind, .entry = entry, .other = other };

  if (core_state_add_conflict (fold->state, conflict) != CORE_OK)
    fold->no_memory = true;
}

void
fold_copy_text (char *out, size_t size, const char *text)
{
  size_t length = strlen (text);

  if (length >= size)
    {
      length = size - 1;
      while (length > 0 && ((unsigned char) text[length] & 0xc0) == 0x80)
        length--;
    }
  memset (out, 0, size);
  memcpy (out, text, length);
}

/* ---- passes before the walk ---- */

static int
compare_ids (const void *a, const void *b)
{
  const CoreId *left = a, *right = b;

  return core_id_compare (*left, *right);
}

static bool
has_photo (const Fold *fold, CoreId photo)
{
  const CoreId *v = fold->photo_ids.v;

  return fold->photo_ids.n > 0 &&
         bsearch (&photo, v, fold->photo_ids.n, sizeof *v, compare_ids) != NULL;
}

/* A mark says nothing without its picture: that was taken back, or belongs to another. */
static void
drop_marks_without_photo (Fold *fold)
{
  for (size_t i = 0; i < fold->n; i++)
    if (fold->entries[i]->kind == CORE_KIND_PHOTO)
      {
        FOLD_PUSH (fold, fold->photo_ids, fold->entries[i]->id);
        if (!core_id_is_none (fold->entries[i]->names))
          FOLD_PUSH (fold, fold->photo_ids, fold->entries[i]->names);
      }
  if (fold->photo_ids.n > 0)
    qsort (fold->photo_ids.v, fold->photo_ids.n, sizeof *fold->photo_ids.v, compare_ids);
  for (size_t i = 0; i < fold->n; i++)
    if (fold->entries[i]->kind == CORE_KIND_MARKED &&
        !has_photo (fold, core_entry_ref (fold->entries[i], CORE_KEY_PHOTO)))
      fold->use[i] = FOLD_IGNORED;
}

/* Marks of a photo are one entry, replaced as a whole: where a merge brought two, the later one
 * counts. */
static void
drop_older_marks (Fold *fold)
{
  for (size_t i = 0; i < fold->n; i++)
    for (size_t j = 0; j < fold->n && fold->entries[i]->kind == CORE_KIND_MARKED; j++)
      {
        const CoreEntry *a = fold->entries[i], *b = fold->entries[j];

        if (b->kind != CORE_KIND_MARKED || fold->use[i] == FOLD_IGNORED ||
            fold->use[j] == FOLD_IGNORED || core_id_compare (a->id, b->id) >= 0 ||
            !core_id_equal (core_entry_ref (a, CORE_KEY_PHOTO), core_entry_ref (b, CORE_KEY_PHOTO)))
          continue;
        fold_conflict (fold, CORE_CONFLICT_TWO_MARKS, b->id, a->id);
        fold->use[i] = FOLD_IGNORED;
      }
}

static void
collect_shed_photos (Fold *fold)
{
  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      if (entry->kind == CORE_KIND_MARKED && fold->use[i] != FOLD_IGNORED &&
          core_entry_code (entry, CORE_KEY_OF, CORE_OF_ANIMAL) == CORE_OF_SHED)
        FOLD_PUSH (fold, fold->shed_photos, core_entry_ref (entry, CORE_KEY_PHOTO));
    }
  if (fold->shed_photos.n > 0)
    qsort (fold->shed_photos.v, fold->shed_photos.n, sizeof *fold->shed_photos.v, compare_ids);
}

bool
fold_is_shed_photo (const Fold *fold, const CoreEntry *photo)
{
  const CoreId *v = fold->shed_photos.v;
  size_t n = fold->shed_photos.n;

  /* Marks may name the photo entry that this one replaced. */
  return n > 0 && (bsearch (&photo->id, v, n, sizeof *v, compare_ids) != NULL ||
                   (!core_id_is_none (photo->names) &&
                    bsearch (&photo->names, v, n, sizeof *v, compare_ids) != NULL));
}

/* Did this entry need eyes on this animal? */
static bool
is_look (const Fold *fold, const CoreEntry *entry)
{
  int outcome;

  if (entry->kind == CORE_KIND_LOOKED)
    return true;
  if (entry->bulk)
    return false;
  if (fold->state->kind == CORE_SUBJECT_LOT && core_entry_is_tally (entry))
    return true;
  switch ((int) entry->kind)
    {
    case CORE_KIND_FED:
      outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);
      return outcome == CORE_FED_TAKEN || outcome == CORE_FED_REFUSED;
    case CORE_KIND_SEXED:
      return core_entry_code (entry, CORE_KEY_OF, CORE_OF_ANIMAL) == CORE_OF_ANIMAL &&
             core_entry_code (entry, CORE_KEY_METHOD, -1) != CORE_METHOD_CLAIM &&
             core_entry_code (entry, CORE_KEY_METHOD, -1) != CORE_METHOD_DESCENT;
    case CORE_KIND_PHOTO:
      return !fold_is_shed_photo (fold, entry);
    case CORE_KIND_GONE:
    case CORE_KIND_DRANK:
    case CORE_KIND_BELLY:
    case CORE_KIND_SIGN:
    case CORE_KIND_MEASURED:
    case CORE_KIND_MOULTED:
    case CORE_KIND_STAGE:
    case CORE_KIND_TROUBLE:
    case CORE_KIND_LOOKS_DEAD:
    case CORE_KIND_CALLED:
    case CORE_KIND_HARDENED:
    case CORE_KIND_HATCHING:
    case CORE_KIND_DUD:
      return true;
    default:
      return false;
    }
}

static int
compare_looks (const void *a, const void *b)
{
  const CoreLook *left = a, *right = b;
  int order = compare_double (left->t, right->t);

  return order != 0 ? order : core_id_compare (left->entry, right->entry);
}

/* The first day on which the keeper can have seen it: it came, or hatched. */
static CoreDay
first_seen (const Fold *fold)
{
  for (size_t i = 0; i < fold->n; i++)
    if (fold->entries[i]->kind == CORE_KIND_ACQUIRED && fold->use[i] == FOLD_COUNTS)
      return fold->entries[i]->day;
  return fold->state->hatched ? fold->state->hatched_earliest : fold->entries[0]->day;
}

/* The look of an entry; a photo looks on its capture day, if that is known and can be. */
static bool
look_of (const CoreEntry *entry, CoreDay first, CoreLook *look)
{
  double taken = core_entry_num (entry, CORE_KEY_TAKEN, NAN);

  *look = (CoreLook){ .day = entry->day, .t = fold_time (entry), .entry = entry->id };
  /* A look of an unsure day proves its skin on the earliest; a moult was found on its day. */
  if (entry->earliest != CORE_DAY_NONE && entry->earliest < entry->day &&
      entry->kind != CORE_KIND_MOULTED && entry->kind != CORE_KIND_HATCHING)
    {
      look->day = entry->earliest;
      look->t = entry->earliest;
    }
  if (entry->kind != CORE_KIND_PHOTO)
    return true;
  if (isfinite (taken) && taken != entry->day)
    {
      look->day = (CoreDay) taken;
      look->t = taken;
    }
  /* A picture without a day, a camera with a wrong clock, or a seller's picture proves nothing:
   * with no day (NAN) neither comparison holds. */
  return taken <= entry->day && taken >= first;
}

static void
collect_looks (Fold *fold)
{
  CoreState *state = fold->state;
  CoreDay first = fold->n > 0 ? first_seen (fold) : CORE_DAY_NONE;

  for (size_t i = 0; i < fold->n; i++)
    {
      CoreLook look;

      if (fold->use[i] == FOLD_COUNTS && is_look (fold, fold->entries[i]) &&
          look_of (fold->entries[i], first, &look))
        FOLD_PUSH (fold, fold->looks, look);
    }
  if (fold->looks.n > 0)
    qsort (fold->looks.v, fold->looks.n, sizeof *fold->looks.v, compare_looks);
  for (size_t i = 0; i < fold->looks.n; i++)
    {
      if (state->looks.n > 0 && state->looks.v[state->looks.n - 1].day == fold->looks.v[i].day)
        state->looks.v[state->looks.n - 1] = fold->looks.v[i];
      else
        FOLD_PUSH (fold, state->looks, fold->looks.v[i]);
    }
}

/* ---- the walk ---- */

typedef void (*Step) (Fold *fold, const CoreEntry *entry);

/* Kinds without a step are kept in the journal and fold to nothing here. */
static const Step steps[CORE_N_KINDS] = {
  [CORE_KIND_ACQUIRED] = fold_acquired,
  [CORE_KIND_HATCHED] = fold_hatched,
  [CORE_KIND_FED] = fold_fed,
  [CORE_KIND_GONE] = fold_gone,
  [CORE_KIND_DRANK] = fold_drank,
  [CORE_KIND_MISTED] = fold_misted,
  [CORE_KIND_WATERED] = fold_watered,
  [CORE_KIND_CLEANED] = fold_cleaned,
  [CORE_KIND_MOULTED] = fold_moulted,
  [CORE_KIND_STAGE] = fold_stage,
  [CORE_KIND_SIGN] = fold_sign,
  [CORE_KIND_BELLY] = fold_belly,
  [CORE_KIND_MEASURED] = fold_measured,
  [CORE_KIND_PHOTO] = fold_photo,
  [CORE_KIND_MARKED] = fold_marked,
  [CORE_KIND_SEXED] = fold_sexed,
  [CORE_KIND_HOUSED] = fold_housed,
  [CORE_KIND_TROUBLE] = fold_trouble,
  [CORE_KIND_LOOKS_DEAD] = fold_looks_dead,
  [CORE_KIND_DIED] = fold_died,
  [CORE_KIND_ESCAPED] = fold_escaped,
  [CORE_KIND_FOUND] = fold_returned,
  [CORE_KIND_LEFT] = fold_left,
  [CORE_KIND_BACK] = fold_returned,
  [CORE_KIND_DONE] = fold_done,
  [CORE_KIND_PUT_OFF] = fold_put_off,
  [CORE_KIND_SET] = fold_set,
  [CORE_KIND_READING] = fold_reading,
  [CORE_KIND_LOGGED] = fold_logged,
  [CORE_KIND_POWER] = fold_power,
  [CORE_KIND_CALLED] = fold_called,
  [CORE_KIND_LAID] = fold_laid,
  [CORE_KIND_HARDENED] = fold_hardened,
  [CORE_KIND_HATCHING] = fold_hatching,
  [CORE_KIND_DUD] = fold_dud,
  [CORE_KIND_CULTURE] = fold_culture,
  [CORE_KIND_SPLIT] = fold_split,
  [CORE_KIND_JOINED] = fold_joined,
  [CORE_KIND_RECOUNTED] = fold_recounted,
  [CORE_KIND_DOUBTFUL] = fold_doubtful,
};

/* Signs of life end the question "is it dead?"; a mere look does not. */
static bool
shows_life (const Fold *fold, const CoreEntry *entry)
{
  if (entry->kind == CORE_KIND_DONE)
    return strcmp (core_entry_str (entry, CORE_KEY_RULE), "is_dead") == 0;
  return is_look (fold, entry) && entry->kind != CORE_KIND_LOOKED &&
         entry->kind != CORE_KIND_PHOTO && entry->kind != CORE_KIND_MEASURED &&
         entry->kind != CORE_KIND_GONE && entry->kind != CORE_KIND_SEXED &&
         entry->kind != CORE_KIND_TROUBLE && entry->kind != CORE_KIND_LOOKS_DEAD;
}

/* Entered of this animal alone, and only a living one can have it: no end before that day. */
static bool
proves_life (const CoreEntry *entry)
{
  return fold_needs_life (entry->kind) && !entry->bulk && entry->kind != CORE_KIND_DIED &&
         entry->kind != CORE_KIND_LEFT && entry->kind != CORE_KIND_ESCAPED &&
         entry->kind != CORE_KIND_LOOKS_DEAD && entry->kind != CORE_KIND_DOUBTFUL;
}

static void
walk (Fold *fold)
{
  CoreState *state = fold->state;

  for (size_t i = 0; i < fold->n; i++)
    {
      const CoreEntry *entry = fold->entries[i];

      state->exists = true;
      if (state->first_day == CORE_DAY_NONE)
        state->first_day = entry->day;
      if (entry->kind != CORE_KIND_SET)
        {
          state->last_day = entry->day;
          state->last_entry = entry->id;
        }
      if (fold->use[i] != FOLD_IGNORED && proves_life (entry))
        state->alive_last = entry->day;
      if (fold->use[i] == FOLD_IGNORED || entry->kind >= CORE_N_KINDS || steps[entry->kind] == NULL)
        continue;
      steps[entry->kind](fold, entry);
      if (state->looks_dead != CORE_DAY_NONE && entry->day > state->looks_dead &&
          shows_life (fold, entry))
        state->looks_dead = CORE_DAY_NONE;
    }
  if (state->hatched && state->first_day < state->hatched_earliest)
    state->first_day = state->hatched_earliest;
  fold_finish_stage (fold);
  fold_finish_food (fold);
  fold_finish_body (fold);
  fold_finish_sex (fold);
  fold_finish_tally (fold);
}

static int
compare_entry_pointers (const void *a, const void *b)
{
  const CoreEntry *const *left = a;
  const CoreEntry *const *right = b;

  return core_entry_compare (*left, *right);
}

/* The entries of the subject in order. */
static CoreStatus
gather (Fold *fold, CoreId subject, const CoreEntry *const *entries, size_t n)
{
  fold->entries = malloc ((n > 0 ? n : 1) * sizeof *fold->entries);
  fold->use = calloc (n > 0 ? n : 1, 1);
  if (fold->entries == NULL || fold->use == NULL)
    return CORE_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    if (core_id_equal (entries[i]->subject, subject) && entries[i]->kind != CORE_KIND_VOID &&
        core_entry_told (entries[i]))
      fold->entries[fold->n++] = entries[i];
  qsort (fold->entries, fold->n, sizeof *fold->entries, compare_entry_pointers);
  return CORE_OK;
}

CoreStatus
core_fold (CoreId subject,
           CoreSubjectKind kind,
           const CoreEntry *const *entries,
           size_t n,
           CoreState *out)
{
  Fold fold = { .state = out, .gone_day = CORE_DAY_NONE };
  CoreStatus status;

  core_state_clear (out);
  out->subject = subject;
  out->kind = kind;
  status = gather (&fold, subject, entries, n);
  if (status == CORE_OK)
    {
      fold_decide_use (&fold);
      fold_find_identity (&fold);
      drop_marks_without_photo (&fold);
      drop_older_marks (&fold);
      collect_shed_photos (&fold);
      collect_looks (&fold);
      walk (&fold);
      if (fold.no_memory)
        status = CORE_NO_MEMORY;
    }
  free (fold.entries);
  free (fold.use);
  free (fold.looks.v);
  free (fold.photo_ids.v);
  free (fold.shed_photos.v);
  free (fold.refusals.v);
  free (fold.mixed.v);
  if (status != CORE_OK)
    core_state_clear (out);
  return status;
}
