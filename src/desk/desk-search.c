/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search.c — what things are called is looked through in memory, notes in their index. */
#include "desk/desk-search.h"

#include <string.h>

#include "desk/desk-private.h"

void
desk_hit_free (DeskHit *self)
{
  desk_subject_unref (self->subject);
  g_free (self);
}

/* ---- words ---- */

#define MOST_WORDS 32 /* bits of a mask; the store looks for no more */

/* Lower case, without accents, every other sign a space; a space before the first word. */
static void
fold_any (GString *out, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *lower = g_utf8_casefold (valid, -1);
  g_autofree char *apart = g_utf8_normalize (lower, -1, G_NORMALIZE_ALL);

  for (const char *p = apart; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isalnum (c))
        g_string_append_unichar (out, c);
      else if (!g_unichar_ismark (c) && out->str[out->len - 1] != ' ')
        g_string_append_c (out, ' ');
    }
}

/* Most texts need none of that. */
static void
fold (GString *out, const char *text)
{
  g_string_assign (out, " ");
  if (!g_str_is_ascii (text))
    {
      fold_any (out, text);
      return;
    }
  for (const char *p = text; *p != '\0'; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (out, g_ascii_tolower (*p));
    else if (out->str[out->len - 1] != ' ')
      g_string_append_c (out, ' ');
}

/* " hier", " mem": each with the space before it, so that only beginnings fit. */
static GStrv
words_of (const char *text)
{
  g_autoptr (GString) folded = g_string_new (NULL);
  g_auto (GStrv) parts = NULL;
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  guint n = 0;

  fold (folded, text);
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
  Fit species[256];   /* by place in the list of profiles */
  GHashTable *places; /* CoreId of a place, borrowed → GUINT_TO_POINTER (bits) */
  gboolean prey[CORE_N_PREY];
  gboolean any_prey;
  GPtrArray *hits;
  guint limit;
} Search;

static guint32
words_in (Search *search, const char *text)
{
  guint32 found = 0;

  if (text == NULL || *text == '\0')
    return 0;
  fold (search->folded, text);
  for (guint i = 0; search->words[i] != NULL; i++)
    if (strstr (search->folded->str, search->words[i]) != NULL)
      found |= 1u << i;
  return found;
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
  const GPtrArray *order = search->desk->all.order;

  for (guint i = 0; i < profiles->len && i < G_N_ELEMENTS (search->species); i++)
    search->species[i] = fit_of_profile (search, profiles->pdata[i]);
  for (guint i = 0; i < order->len; i++)
    {
      const DeskRecord *record = order->pdata[i];

      if (record->kind == CORE_SUBJECT_PLACE)
        {
          guint32 found = words_in (search, desk_subject_state (record->now)->name) |
                          words_in (search, desk_subject_label (record->now));

          g_hash_table_insert (search->places, (gpointer) &record->id, GUINT_TO_POINTER (found));
        }
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
fit_of_species (Search *search, const DeskSubject *subject)
{
  const GPtrArray *profiles = desk_profiles (search->desk);
  Fit fit = { 0 };

  if (!desk_subject_species_known (subject))
    {
      fit.some = words_in (search, desk_subject_state (subject)->species);
      fit.whole = fit.some == search->all;
      return fit;
    }
  for (guint i = 0; i < profiles->len && i < G_N_ELEMENTS (search->species); i++)
    if (profiles->pdata[i] == desk_subject_profile (subject))
      return search->species[i];
  return fit;
}

/* In what the place is called where it stands. */
static guint32
words_in_place (const Search *search, const DeskSubject *subject)
{
  CoreId place;

  if (!desk_subject_living (subject) || !desk_subject_place (subject, &place, NULL))
    return 0;
  return GPOINTER_TO_UINT (g_hash_table_lookup (search->places, &place));
}

/* One word may be in its name, another in that of its place: "ghost shelf b". */
static gboolean
is_called (Search *search, const DeskSubject *subject, DeskHitWhy *why)
{
  guint32 label = words_in (search, desk_subject_label (subject));
  guint32 name = words_in (search, desk_subject_state (subject)->name);
  guint32 place = words_in_place (search, subject);
  Fit species = fit_of_species (search, subject);

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

static void
find_subjects (Search *search)
{
  const GPtrArray *order = search->desk->all.order;
  CoreId none = { { 0 } };

  for (guint i = 0; i < order->len; i++)
    {
      const DeskRecord *record = order->pdata[i];
      DeskHitWhy why;

      if (record->kind != CORE_SUBJECT_JOURNAL && desk_subject_state (record->now)->exists &&
          is_called (search, record->now, &why))
        add_hit (search, why, record->now, none);
    }
}

/* ---- entries ---- */

/* The last meal of each subject of the prey that is meant. */
typedef struct
{
  DeskSubject *subject; /* borrowed */
  const CoreMeal *meal; /* borrowed */
} LastMeal;

static const CoreMeal *
last_meal (const Search *search, const DeskSubject *subject)
{
  const DeskFold *fold = desk_subject_fold (subject);
  guint32 last = 0;

  for (int prey = 0; prey < CORE_N_PREY; prey++)
    if (search->prey[prey])
      last = MAX (last, fold->last_meal[prey]);
  return last == 0 ? NULL : &fold->state.meals.v[last - 1];
}

static int
compare_meals (gconstpointer a, gconstpointer b)
{
  const CoreMeal *x = ((const LastMeal *) a)->meal;
  const CoreMeal *y = ((const LastMeal *) b)->meal;

  return x->day != y->day ? (x->day > y->day ? -1 : 1) : core_id_compare (y->entry, x->entry);
}

static void
find_meals (Search *search)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (LastMeal));
  const GPtrArray *order = search->desk->all.order;

  for (guint i = 0; search->any_prey && i < order->len; i++)
    {
      DeskSubject *subject = ((const DeskRecord *) order->pdata[i])->now;
      LastMeal last = { subject, last_meal (search, subject) };

      if (last.meal != NULL && desk_subject_state (subject)->exists)
        g_array_append_val (found, last);
    }
  g_array_sort (found, compare_meals);
  for (guint i = 0; i < MIN (found->len, search->limit); i++)
    {
      const LastMeal *last = &g_array_index (found, LastMeal, i);

      add_hit (search, DESK_HIT_PREY, last->subject, last->meal->entry);
    }
}

static void
find_notes (Search *search, const GArray *ids)
{
  for (guint i = 0; i < ids->len; i++)
    {
      CoreId id = g_array_index (ids, CoreId, i);
      const CoreEntry *entry = desk_collection_entry (&search->desk->all, id);
      const DeskRecord *record = entry != NULL ? desk_collection_record (&search->desk->all, entry->subject) : NULL;

      if (record != NULL && desk_entry_is_live (search->desk, id))
        add_hit (search, DESK_HIT_NOTE, record->now, id);
    }
}

/* ---- together ---- */

static int
compare_hits (gconstpointer a, gconstpointer b)
{
  const DeskHit *left = *(const DeskHit *const *) a;
  const DeskHit *right = *(const DeskHit *const *) b;

  if (left->why != right->why)
    return (int) left->why - (int) right->why;
  if (left->why >= DESK_HIT_NOTE)
    return 0; /* the latest first, as they came: the sort is stable */
  if (desk_subject_living (left->subject) != desk_subject_living (right->subject))
    return desk_subject_living (left->subject) ? -1 : 1;
  return desk_compare_by_number (&left->subject, &right->subject);
}

static GPtrArray *
search_all (Desk *self, char **words, guint limit, const GArray *notes)
{
  g_autoptr (GString) folded = g_string_new (NULL);
  g_autoptr (GHashTable) places = g_hash_table_new (desk_id_hash, desk_id_equal);
  Search search = {
    .desk = self, .words = words, .folded = folded, .places = places, .limit = limit
  };

  for (guint i = 0; words[i] != NULL; i++)
    search.all |= 1u << i;
  search.hits = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free);
  find_terms (&search);
  find_subjects (&search);
  find_notes (&search, notes);
  find_meals (&search);
  g_ptr_array_sort (search.hits, compare_hits);
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

static gpointer
notes_job (Store *store, gpointer data, GError **error)
{
  const Query *query = data;

  return store_search (store, query->text, query->limit, error);
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

  g_return_if_fail (DESK_IS_DESK (self) && text != NULL);
  task = g_task_new (self, cancellable, callback, data);
  words = words_of (text);
  g_task_set_source_tag (task, desk_search_async);
  g_task_set_task_data (task, query_new (text, limit), query_free);
  if (words[0] == NULL || limit == 0)
    g_task_return_pointer (task, g_ptr_array_new_with_free_func ((GDestroyNotify) desk_hit_free),
                           (GDestroyNotify) g_ptr_array_unref);
  else /* a copy of its own: it is read on the thread of the store */
    store_run_async (self->store, notes_job, query_new (text, limit), query_free, (GDestroyNotify) g_array_unref,
                     cancellable, notes_cb, g_steal_pointer (&task));
}

GPtrArray *
desk_search_finish (Desk *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_search_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}
