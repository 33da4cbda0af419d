/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search.c — what things are called and what was entered is looked through in memory, notes
 * in their index. */
#include "desk/desk-search.h"

#include <string.h>

#include "desk/desk-search-private.h"
#include "words/words-search.h"

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
  guint32 *bits;      /* of each row: the words in what it is called */
  guint32 meal[DESK_SEARCH_PREYS][DESK_SEARCH_OUTCOMES]; /* the words in such a meal */
  guint32 any_meal;
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

/* "moth", "refused": each in the session's language and in English. */
static void
find_meal_terms (Search *search)
{
  guint32 prey[DESK_SEARCH_PREYS] = { 0 }, outcome[DESK_SEARCH_OUTCOMES];
  guint32 fed = words_in (search, core_kind_info (CORE_KIND_FED)->name) |
                words_in (search, words_kind (WORDS_ENGLISH, CORE_KIND_FED)) |
                words_in (search, words_kind (WORDS_LOCAL, CORE_KIND_FED));

  for (int i = 0; i < CORE_N_PREY; i++)
    {
      g_autofree char *many = words_prey (WORDS_LOCAL, i, 0);

      prey[i] = words_in (search, core_prey_name (i)) | words_in (search, many) |
                words_in (search, words_prey_one (WORDS_LOCAL, i));
    }
  for (int i = 0; i < DESK_SEARCH_OUTCOMES; i++)
    {
      g_autofree char *words = words_search_meal (i);

      outcome[i] = words_in (search, words);
    }
  for (int i = 0; i < DESK_SEARCH_PREYS; i++)
    for (int k = 0; k < DESK_SEARCH_OUTCOMES; k++)
      {
        search->meal[i][k] = prey[i] | outcome[k] | fed;
        search->any_meal |= search->meal[i][k];
      }
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
  find_meal_terms (search);
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
static guint32
words_of_row (const Search *search, const DeskSearchRow *row, DeskHitWhy *why)
{
  guint32 label = words_in_folded (search, row->label);
  guint32 name = words_in_folded (search, row->name);
  guint32 stage = words_in_folded (search, row->stage);
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
  else if (!species.whole && stage == search->all)
    *why = DESK_HIT_STAGE;
  else
    *why = DESK_HIT_SPECIES;
  return label | name | stage | place | species.some;
}

/* ---- the best of them ---- */

/* Of thousands that fit a letter some are shown: only these are put in order. */
typedef struct
{
  DeskHitWhy why;
  const DeskSearchRow *row;
  const CoreMeal *meal; /* of a hit by prey */
  const DeskFact *fact; /* of a hit by what was entered */
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

static int
compare_facts (gconstpointer a, gconstpointer b)
{
  const DeskFact *x = ((const Candidate *) a)->fact;
  const DeskFact *y = ((const Candidate *) b)->fact;

  return x->day != y->day ? (x->day > y->day ? -1 : 1) : core_id_compare (y->id, x->id);
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

      if (row->kind == CORE_SUBJECT_NONE || row->kind == CORE_SUBJECT_JOURNAL)
        continue;
      search->bits[i] = words_of_row (search, row, &one.why);
      if (search->bits[i] == search->all)
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

/* Is such a meal meant? At least one word speaks of it, and all others of whose it is. */
static gboolean
is_meant (const Search *search, guint32 row, guint32 said)
{
  return (said | row) == search->all && (said & ~row) != 0;
}

static CoreDay
fed_last (const Search *search, guint at)
{
  const DeskSearchRow *row = &search->rows[at];
  CoreDay day = CORE_DAY_NONE;

  for (int i = 0; i < DESK_SEARCH_PREYS; i++)
    for (int k = 0; k < DESK_SEARCH_OUTCOMES; k++)
      if (row->fed[i][k] != CORE_DAY_NONE && is_meant (search, search->bits[at], search->meal[i][k]))
        day = day == CORE_DAY_NONE ? row->fed[i][k] : MAX (day, row->fed[i][k]);
  return day;
}

/* Of that day, as fed_last() says; there is one. */
static const CoreMeal *
last_meal (const Search *search, guint at)
{
  const CoreState *state = desk_subject_state (search->rows[at].now);
  gsize i = state->meals.n;

  while (i-- > 1)
    {
      const CoreMeal *meal = &state->meals.v[i];

      if (meal->outcome >= 0 && meal->outcome < DESK_SEARCH_OUTCOMES &&
          is_meant (search, search->bits[at],
                    search->meal[meal->prey < 0 ? CORE_N_PREY : meal->prey][meal->outcome]))
        return meal;
    }
  return &state->meals.v[0];
}

static void
find_meals (Search *search)
{
  g_autoptr (GArray) best = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint i = 0; search->any_meal != 0 && i < search->n; i++)
    {
      Candidate one = { .row = &search->rows[i] };
      CoreDay day = fed_last (search, i);

      if (day == CORE_DAY_NONE ||
          (best->len == search->limit && day < g_array_index (best, Candidate, 0).meal->day))
        continue;
      one.meal = last_meal (search, i);
      offer (best, search->limit, &one, compare_meals);
    }
  g_array_sort (best, compare_meals);
  for (guint i = 0; i < best->len; i++)
    {
      const Candidate *one = &g_array_index (best, Candidate, i);

      add_hit (search, DESK_HIT_PREY, one->row->now, one->meal->entry);
    }
}

/* Does it say all words, with what its subject is called? */
static gboolean
says_all (Search *search, const guint32 *texts, const DeskFact *fact)
{
  guint32 said = texts[fact->text] | words_in_folded (search, fact->own);
  const DeskRecord *record;

  if (said == 0 || said == search->all)
    return said != 0;
  record = desk_collection_record (&search->desk->all, fact->subject);
  return record != NULL && is_meant (search, search->bits[record->search_row], said);
}

/* It is known, and neither taken back nor corrected. */
static gboolean
counts (const Search *search, CoreId id, gint64 seq)
{
  DeskCollection *all = &search->desk->all;
  const DeskNode *node = desk_naming_node (&all->naming, id);

  return seq <= all->last_seq && (node == NULL || node->live);
}

static void
find_facts (Search *search)
{
  const DeskFacts *facts = search->desk->facts;
  g_autoptr (GArray) best = g_array_new (FALSE, FALSE, sizeof (Candidate));
  g_autofree guint32 *texts = g_new (guint32, facts->texts->len + 1);

  for (guint i = 0; i < facts->texts->len; i++)
    texts[i] = words_in_folded (search, facts->texts->pdata[i]);
  for (guint i = facts->facts->len; i-- > 0;)
    {
      Candidate one = { .fact = &g_array_index (facts->facts, DeskFact, i) };

      if (best->len == search->limit && compare_facts (&one, best->data) >= 0)
        continue;
      if (says_all (search, texts, one.fact) && counts (search, one.fact->id, one.fact->seq))
        offer (best, search->limit, &one, compare_facts);
    }
  g_array_sort (best, compare_facts);
  for (guint i = 0; i < best->len; i++)
    {
      const DeskFact *fact = g_array_index (best, Candidate, i).fact;
      const DeskRecord *record = desk_collection_record (&search->desk->all, fact->subject);

      if (record != NULL && record->kind != CORE_SUBJECT_JOURNAL)
        add_hit (search, DESK_HIT_ENTRY, record->now, fact->id);
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

      if (record != NULL && counts (search, note->id, note->seq))
        add_hit (search, DESK_HIT_NOTE, record->now, note->id);
    }
}

/* ---- together ---- */

static GPtrArray *
search_all (Desk *self, char **words, guint limit, const GArray *notes)
{
  g_autoptr (GString) folded = g_string_new (NULL);
  g_autoptr (GHashTable) places = g_hash_table_new (desk_id_hash, desk_id_equal);
  g_autofree guint32 *bits = g_new0 (guint32, self->all.order->len + 1);
  Search search = { .desk = self,
                    .words = words,
                    .folded = folded,
                    .rows = desk_search_rows (self),
                    .n = self->all.order->len,
                    .bits = bits,
                    .places = places,
                    .limit = limit };

  for (guint i = 0; words[i] != NULL; i++)
    search.all |= 1u << i;
  search.hits = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free);
  find_terms (&search);
  find_subjects (&search);
  find_notes (&search, notes);
  find_facts (&search);
  find_meals (&search);
  if (search.hits->len > limit)
    g_ptr_array_set_size (search.hits, (int) limit);
  return search.hits;
}

typedef struct
{
  char *text;
  guint limit;
  gint64 facts_after; /* what the desk has is not read again */
} Query;

typedef struct
{
  GArray *notes; /* Note */
  DeskFacts *facts;
} Found;

static void
found_free (gpointer data)
{
  Found *found = data;

  g_clear_pointer (&found->notes, g_array_unref);
  g_clear_pointer (&found->facts, desk_facts_free);
  g_free (found);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Found, found_free)

static void
query_free (gpointer data)
{
  Query *query = data;

  g_free (query->text);
  g_free (query);
}

/* With whose they are, so that the main thread reads nothing. */
static GArray *
read_notes (Store *store, const Query *query, GError **error)
{
  g_autoptr (GArray) ids = store_search (store, query->text, query->limit, error);
  g_autoptr (GArray) notes = ids != NULL ? g_array_new (FALSE, FALSE, sizeof (Note)) : NULL;

  for (guint i = 0; ids != NULL && i < ids->len; i++)
    {
      Note note = { .id = g_array_index (ids, CoreId, i) };
      CoreEntry *entry = NULL;

      if (!store_find_entry (store, note.id, &note.seq, &entry, error))
        return NULL;
      if (entry != NULL)
        {
          note.subject = entry->subject;
          g_array_append_val (notes, note);
        }
      core_entry_free (entry);
    }
  return g_steal_pointer (&notes);
}

static gpointer
look_job (Store *store, gpointer data, GError **error)
{
  const Query *query = data;
  g_autoptr (Found) found = g_new0 (Found, 1);

  found->facts = desk_facts_new (query->facts_after);
  if (!desk_facts_read (found->facts, store, error))
    return NULL;
  found->notes = read_notes (store, query, error);
  return found->notes != NULL ? g_steal_pointer (&found) : NULL;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Desk *self = g_task_get_source_object (task);
  const Query *query = g_task_get_task_data (task);
  GError *error = NULL;
  g_autoptr (Found) found = store_run_finish (result, &error);
  g_auto (GStrv) words = words_of (query->text);

  if (found != NULL)
    desk_facts_take (self->facts, found->facts);
  desk_note_damage (self, error);
  if (error != NULL)
    g_task_return_error (task, error);
  else if (g_task_return_error_if_cancelled (task))
    return;
  else
    g_task_return_pointer (task, search_all (self, words, query->limit, found->notes), (GDestroyNotify) g_ptr_array_unref);
}

static Query *
query_new (Desk *self, const char *text, guint limit)
{
  Query *query = g_new (Query, 1);

  if (self->facts == NULL)
    self->facts = desk_facts_new (0);
  *query = (Query){ g_strdup (text), limit, self->facts->last_seq };
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

static void
facts_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree GWeakRef *weak = data;
  g_autoptr (Desk) self = g_weak_ref_get (weak);
  g_autoptr (GError) error = NULL;
  g_autoptr (Found) found = store_run_finish (result, &error);

  if (self != NULL)
    desk_note_damage (self, error);
  if (found != NULL && self != NULL && self->facts != NULL)
    desk_facts_take (self->facts, found->facts);
  g_weak_ref_clear (weak);
}

void
desk_search_read_facts (Desk *self)
{
  GWeakRef *weak = g_new (GWeakRef, 1);

  g_weak_ref_init (weak, self);
  store_run_async (self->seeker, look_job, query_new (self, "", 0), query_free, found_free, NULL, facts_cb, weak);
}

gboolean
desk_search_is_ready (Desk *self)
{
  return self->warm_id == 0 && self->facts != NULL && self->facts->last_seq >= self->all.last_seq;
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
  g_task_set_task_data (task, query_new (self, text, limit), query_free);
  if (words[0] == NULL || limit == 0)
    g_task_return_pointer (task, g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free),
                           (GDestroyNotify) g_ptr_array_unref);
  else if (!desk_search_connect (self, &error))
    g_task_return_error (task, error);
  else /* a copy of its own: it is read on another thread */
    store_run_async (self->seeker, look_job, query_new (self, text, limit), query_free, found_free,
                     cancellable, looked_cb,
                     g_steal_pointer (&task));
}

GPtrArray *
desk_search_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_search_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
