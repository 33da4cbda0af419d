/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search.c — what things are called is looked through in memory, notes in their index. */
#include "desk/desk-search.h"

#include <string.h>

#include "desk/desk-search-private.h"

void
desk_hit_free (DeskHit *self)
{
  desk_subject_unref (self->subject);
  g_free (self);
}

/* ---- words ---- */

#define MOST_WORDS 32 /* bits of a mask; the store looks for no more */

/* " hier", " mem": each with the space before it, so that only beginnings fit. */
static GStrv
words_of (const char *text)
{
  g_autoptr (GString) folded = g_string_new (NULL);
  g_auto (GStrv) parts = NULL;
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  guint n = 0;

  desk_search_fold (folded, text);
  parts = g_strsplit (folded->str, " ", -1);
  for (char **part = parts; *part != NULL && n < MOST_WORDS; part++)
    if (**part != '\0')
      {
        g_autofree char *word = g_strconcat (" ", *part, NULL);

        g_strv_builder_add (words, word);
        n++;
      }
  return g_strv_builder_end (words);
}

/* ---- what things are called ---- */

/* Which of the words are in what a kind or a place is called: a bit for each. */
typedef struct
{
  guint32 some;   /* in one or another of its names */
  gboolean whole; /* one of its names has all */
} Fit;

typedef struct
{
  Desk *desk;
  char **words;
  guint32 all; /* a bit for each word */
  GString *folded;
  const DeskSearchRow *rows; /* n of them */
  guint n;
  Fit species[256]; /* by place in the list of profiles */
  GHashTable *places; /* CoreId of a place, borrowed → GUINT_TO_POINTER (bits) */
  gboolean prey[CORE_N_PREY];
  gboolean any_prey;
  GPtrArray *hits;
  guint limit;
} Search;

/* `folded` by desk_search_fold(), or NULL. */
static guint32
words_in_folded (const Search *search, const char *folded)
{
  guint32 found = 0;

  for (guint i = 0; folded != NULL && search->words[i] != NULL; i++)
    if (strstr (folded, search->words[i]) != NULL)
      found |= 1u << i;
  return found;
}

static guint32
words_in (Search *search, const char *text)
{
  if (text == NULL || *text == '\0')
    return 0;
  desk_search_fold (search->folded, text);
  return words_in_folded (search, search->folded->str);
}

static gboolean
fits (Search *search, const char *text)
{
  return words_in (search, text) == search->all;
}

static void
add_hit (Search *search, DeskHitWhy why, DeskSubject *subject, CoreId entry)
{
  DeskHit *hit = g_new (DeskHit, 1);

  *hit = (DeskHit){ why, desk_subject_ref (subject), entry };
  g_ptr_array_add (search->hits, hit);
}

static Fit
fit_of_profile (Search *search, const CoreProfile *profile)
{
  const char *const names[] = { profile->scientific, profile->common,
                                words_profile_name (WORDS_LOCAL, profile) };
  Fit fit = { 0 };

  for (gsize i = 0; !profile->general && i < G_N_ELEMENTS (names); i++)
    {
      guint32 found = words_in (search, names[i]);

      fit.some |= found;
      fit.whole |= found == search->all;
    }
  return fit;
}

/* Kinds, places and prey that are meant: once for the whole search, not once for each animal. */
static void
find_terms (Search *search)
{
  const GPtrArray *profiles = desk_profiles (search->desk);

  for (guint i = 0; i < profiles->len && i < G_N_ELEMENTS (search->species); i++)
    search->species[i] = fit_of_profile (search, profiles->pdata[i]);
  for (guint i = 0; i < search->n; i++)
    if (search->rows[i].kind == CORE_SUBJECT_PLACE)
      {
        const DeskRecord *record = search->desk->all.order->pdata[i];
        guint32 found = words_in_folded (search, search->rows[i].label) |
                        words_in_folded (search, search->rows[i].name);

        g_hash_table_insert (search->places, (gpointer) &record->id, GUINT_TO_POINTER (found));
      }
  for (int i = 0; i < CORE_N_PREY; i++)
    {
      g_autofree char *many = words_prey (WORDS_LOCAL, i, 0);

      search->prey[i] = fits (search, core_prey_name (i)) || fits (search, many) ||
                        fits (search, words_prey_one (WORDS_LOCAL, i));
      search->any_prey |= search->prey[i];
    }
}

static Fit
fit_of_species (const Search *search, const DeskSearchRow *row)
{
  Fit fit = { 0 };

  if (row->profile < G_N_ELEMENTS (search->species))
    return search->species[row->profile];
  fit.some = words_in_folded (search, row->species);
  fit.whole = fit.some == search->all;
  return fit;
}

/* One word may be in its name, another in that of its place: "ghost shelf b". */
static gboolean
is_called (const Search *search, const DeskSearchRow *row, DeskHitWhy *why)
{
  guint32 label = words_in_folded (search, row->label);
  guint32 name = words_in_folded (search, row->name);
  guint32 place = core_id_is_none (row->stands)
                    ? 0
                    : GPOINTER_TO_UINT (g_hash_table_lookup (search->places, &row->stands));
  Fit species = fit_of_species (search, row);

  if (label == search->all)
    *why = DESK_HIT_LABEL;
  else if (name == search->all)
    *why = DESK_HIT_NAME;
  else if (!species.whole && place == search->all)
    *why = DESK_HIT_PLACE;
  else
    *why = DESK_HIT_SPECIES;
  return (label | name | place | species.some) == search->all;
}

/* ---- the best of them ---- */

/* Of thousands that fit a letter some are shown: only these are put in order. */
typedef struct
{
  DeskHitWhy why;
  const DeskSearchRow *row;
  const CoreMeal *meal; /* of a hit by prey */
} Candidate;

static int
compare_candidates (gconstpointer a, gconstpointer b)
{
  const Candidate *x = a, *y = b;

  if (x->why != y->why)
    return (int) x->why - (int) y->why;
  if (x->row->living != y->row->living)
    return x->row->living ? -1 : 1;
  if (x->row->number != y->row->number)
    return x->row->number < y->row->number ? -1 : 1;
  return desk_compare_by_number (&x->row->now, &y->row->now);
}

/* The latest first. */
static int
compare_meals (gconstpointer a, gconstpointer b)
{
  const CoreMeal *x = ((const Candidate *) a)->meal;
  const CoreMeal *y = ((const Candidate *) b)->meal;

  return x->day != y->day ? (x->day > y->day ? -1 : 1) : core_id_compare (y->entry, x->entry);
}

/* A heap with the worst one on top. */
static void
sift_down (Candidate *heap, guint n, guint at, GCompareFunc compare)
{
  for (guint child = 2 * at + 1; child < n; child = 2 * at + 1)
    {
      Candidate other;

      if (child + 1 < n && compare (&heap[child + 1], &heap[child]) > 0)
        child++;
      if (compare (&heap[child], &heap[at]) <= 0)
        return;
      other = heap[at];
      heap[at] = heap[child];
      heap[child] = other;
      at = child;
    }
}

static void
offer (GArray *best, guint limit, const Candidate *one, GCompareFunc compare)
{
  Candidate *heap;

  if (best->len < limit)
    {
      g_array_append_vals (best, one, 1);
      heap = (Candidate *) (void *) best->data;
      for (guint i = best->len == limit ? limit / 2 : 0; i-- > 0;)
        sift_down (heap, limit, i, compare);
      return;
    }
  heap = (Candidate *) (void *) best->data;
  if (compare (one, &heap[0]) >= 0)
    return;
  heap[0] = *one;
  sift_down (heap, limit, 0, compare);
}

static void
find_subjects (Search *search)
{
  g_autoptr (GArray) best = g_array_new (FALSE, FALSE, sizeof (Candidate));
  CoreId none = { { 0 } };

  for (guint i = 0; i < search->n; i++)
    {
      const DeskSearchRow *row = &search->rows[i];
      Candidate one = { .row = row };

      if (row->kind != CORE_SUBJECT_NONE && row->kind != CORE_SUBJECT_JOURNAL &&
          is_called (search, row, &one.why))
        offer (best, search->limit, &one, compare_candidates);
    }
  g_array_sort (best, compare_candidates);
  for (guint i = 0; i < best->len; i++)
    {
      const Candidate *one = &g_array_index (best, Candidate, i);

      add_hit (search, one->why, one->row->now, none);
    }
}

/* ---- entries ---- */

/* A note that the index has found. */
typedef struct
{
  CoreId id, subject;
  gint64 seq;
} Note;

/* Its last meal of the prey that is meant. */
static const CoreMeal *
last_meal (const Search *search, const DeskSearchRow *row)
{
  const DeskFold *fold = desk_subject_fold (row->now);
  guint32 last = 0;

  for (int prey = 0; prey < CORE_N_PREY; prey++)
    if (search->prey[prey])
      last = MAX (last, fold->last_meal[prey]);
  return &fold->state.meals.v[last - 1];
}

static CoreDay
fed_last (const Search *search, const DeskSearchRow *row)
{
  CoreDay day = CORE_DAY_NONE;

  for (int prey = 0; prey < CORE_N_PREY; prey++)
    if (search->prey[prey] && row->fed[prey] != CORE_DAY_NONE)
      day = day == CORE_DAY_NONE ? row->fed[prey] : MAX (day, row->fed[prey]);
  return day;
}

static void
find_meals (Search *search)
{
  g_autoptr (GArray) best = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint i = 0; search->any_prey && i < search->n; i++)
    {
      Candidate one = { .row = &search->rows[i] };
      CoreDay day = fed_last (search, one.row);

      if (day == CORE_DAY_NONE ||
          (best->len == search->limit && day < g_array_index (best, Candidate, 0).meal->day))
        continue;
      one.meal = last_meal (search, one.row);
      offer (best, search->limit, &one, compare_meals);
    }
  g_array_sort (best, compare_meals);
  for (guint i = 0; i < best->len; i++)
    {
      const Candidate *one = &g_array_index (best, Candidate, i);

      add_hit (search, DESK_HIT_PREY, one->row->now, one->meal->entry);
    }
}

/* What came after last_seq is known when it is loaded. */
static void
find_notes (Search *search, const GArray *notes)
{
  DeskCollection *all = &search->desk->all;

  for (guint i = 0; i < notes->len; i++)
    {
      const Note *note = &g_array_index (notes, Note, i);
      const DeskRecord *record = desk_collection_record (all, note->subject);
      const DeskNode *node = desk_naming_node (&all->naming, note->id);

      if (record != NULL && note->seq <= all->last_seq && (node == NULL || node->live))
        add_hit (search, DESK_HIT_NOTE, record->now, note->id);
    }
}

/* ---- together ---- */

static GPtrArray *
search_all (Desk *self, char **words, guint limit, const GArray *notes)
{
  g_autoptr (GString) folded = g_string_new (NULL);
  g_autoptr (GHashTable) places = g_hash_table_new (desk_id_hash, desk_id_equal);
  Search search = { .desk = self,
                    .words = words,
                    .folded = folded,
                    .rows = desk_search_rows (self),
                    .n = self->all.order->len,
                    .places = places,
                    .limit = limit };

  for (guint i = 0; words[i] != NULL; i++)
    search.all |= 1u << i;
  search.hits = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free);
  find_terms (&search);
  find_subjects (&search);
  find_notes (&search, notes);
  find_meals (&search);
  if (search.hits->len > limit)
    g_ptr_array_set_size (search.hits, (int) limit);
  return search.hits;
}

typedef struct
{
  char *text;
  guint limit;
} Query;

static void
query_free (gpointer data)
{
  Query *query = data;

  g_free (query->text);
  g_free (query);
}

/* With whose they are, so that the main thread reads nothing. */
static gpointer
notes_job (Store *store, gpointer data, GError **error)
{
  const Query *query = data;
  g_autoptr (GArray) ids = store_search (store, query->text, query->limit, error);
  GArray *notes = ids != NULL ? g_array_new (FALSE, FALSE, sizeof (Note)) : NULL;

  for (guint i = 0; ids != NULL && i < ids->len; i++)
    {
      Note note = { .id = g_array_index (ids, CoreId, i) };
      CoreEntry *entry = NULL;

      if (!store_find_entry (store, note.id, &note.seq, &entry, error))
        {
          g_array_unref (notes);
          return NULL;
        }
      if (entry != NULL)
        {
          note.subject = entry->subject;
          g_array_append_val (notes, note);
        }
      core_entry_free (entry);
    }
  return notes;
}

static void
notes_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Desk *self = g_task_get_source_object (task);
  const Query *query = g_task_get_task_data (task);
  GError *error = NULL;
  g_autoptr (GArray) notes = store_run_finish (result, &error);
  g_auto (GStrv) words = words_of (query->text);

  if (error != NULL)
    g_task_return_error (task, error);
  else if (g_task_return_error_if_cancelled (task))
    return;
  else
    g_task_return_pointer (task, search_all (self, words, query->limit, notes), (GDestroyNotify) g_ptr_array_unref);
}

static Query *
query_new (const char *text, guint limit)
{
  Query *query = g_new (Query, 1);

  *query = (Query){ g_strdup (text), limit };
  return query;
}

/* Nobody who saves waits for a search, and no search for who saves: it has a connection and a
 * thread of its own. */
gboolean
desk_search_connect (Desk *self, GError **error)
{
  if (self->seeker == NULL && self->store != NULL && !self->closed)
    self->seeker = store_open_reader (self->store, error);
  else if (self->seeker == NULL)
    desk_fail (error, DESK_ERROR, DESK_ERROR_FAILED, WORDS_DESK_CLOSED, NULL);
  return self->seeker != NULL;
}

void
desk_search_async (Desk *self,
                   const char *text,
                   guint limit,
                   GCancellable *cancellable,
                   GAsyncReadyCallback callback,
                   gpointer data)
{
  g_autoptr (GTask) task = NULL;
  g_auto (GStrv) words = NULL;
  GError *error = NULL;

  g_return_if_fail (DESK_IS_DESK (self) && text != NULL);
  task = g_task_new (self, cancellable, callback, data);
  words = words_of (text);
  g_task_set_source_tag (task, desk_search_async);
  g_task_set_task_data (task, query_new (text, limit), query_free);
  if (words[0] == NULL || limit == 0)
    g_task_return_pointer (task, g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free),
                           (GDestroyNotify) g_ptr_array_unref);
  else if (!desk_search_connect (self, &error))
    g_task_return_error (task, error);
  else /* a copy of its own: it is read on another thread */
    store_run_async (self->seeker, notes_job, query_new (text, limit), query_free,
                     (GDestroyNotify) g_array_unref, cancellable, notes_cb,
                     g_steal_pointer (&task));
}

GPtrArray *
desk_search_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_search_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
