/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo.c — makes the demo journal through the desk, as a keeper's program would. */
#include "core/core-date.h"
#include "demo/demo-beside.h"
#include "demo/demo-private.h"
#include "demo/demo-rand.h"

#define DEMO_SEED 20260
#define BROOD_SHELF 1 /* of the egg case and the lot */

CoreDay
demo_day_of (Desk *desk)
{
  g_autoptr (DeskSubject) journal = NULL;
  const char *day;

  if (!desk_is_demo (desk))
    return CORE_DAY_NONE;
  journal = desk_get (desk, desk_journal_id (desk));
  day = journal != NULL ? core_state_setting (desk_subject_state (journal), "demo_day") : NULL;
  return day != NULL ? core_day_from_text (day) : CORE_DAY_NONE;
}

gboolean
demo_write (Desk *desk, GPtrArray *entries, GError **error)
{
  DeskSync sync = { NULL, NULL };
  CoreId first;
  gboolean ok;

  if (entries->len == 0)
    {
      g_ptr_array_unref (entries);
      return TRUE;
    }
  desk_write_async (desk, entries, NULL, desk_sync_cb, &sync);
  ok = desk_write_finish (desk, desk_sync_wait (&sync), &first, error);
  g_clear_object (&sync.result);
  return ok;
}

gboolean
demo_add (Desk *desk, CoreSubjectKind kind, GPtrArray *pairs, CoreDay day, CoreId *id, GError **error)
{
  DeskSync sync = { NULL, NULL };
  g_autoptr (DeskSubject) subject = NULL;

  g_ptr_array_add (pairs, NULL);
  desk_add_async (desk, kind, (const char *const *) pairs->pdata, day, NULL, desk_sync_cb, &sync);
  subject = desk_add_finish (desk, desk_sync_wait (&sync), error);
  g_clear_object (&sync.result);
  if (subject != NULL)
    *id = desk_subject_id (subject);
  return subject != NULL;
}

static void
pair (GPtrArray *pairs, const char *key, const char *value)
{
  g_ptr_array_add (pairs, g_strdup_printf ("%s=%s", key, value));
}

static void
number_pair (GPtrArray *pairs, const char *key, double value)
{
  char number[32];

  core_number_format (value, 1, number);
  pair (pairs, key, number);
}

static void
day_pair (GPtrArray *pairs, const char *key, CoreDay day)
{
  char text[11];

  core_day_to_text (day, text);
  pair (pairs, key, text);
}

static gboolean
add_places (Desk *desk, CoreDay last, CoreId *places, GError **error)
{
  for (gsize i = 0; i < demo_n_places; i++)
    {
      g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);

      pair (pairs, "name", demo_places[i].name);
      pair (pairs, "code", demo_places[i].code);
      number_pair (pairs, "day_c", demo_places[i].day_c);
      number_pair (pairs, "night_c", demo_places[i].night_c);
      number_pair (pairs, "light_h", demo_places[i].light_h);
      if (!demo_add (desk, CORE_SUBJECT_PLACE, pairs, last - 260, &places[i], error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_animal (Desk *desk, CoreDay last, gsize i, const DemoLife *life, CoreId place, CoreId *id, GError **error)
{
  const DemoAnimal *animal = &demo_animals[i];
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  CoreDay came = last - (animal->came > 0 ? animal->came : animal->hatched);
  char text[37];

  core_id_to_text (place, text);
  pair (pairs, "species", animal->species);
  if (animal->name[0] != '\0')
    pair (pairs, "name", animal->name);
  pair (pairs, "place", text);
  number_pair (pairs, "at", (double) (i + 1));
  if (animal->came > 0)
    day_pair (pairs, "acquired", came);
  else
    day_pair (pairs, "hatched", came);
  /* The seller tells the stage as it is; an adult is seen, not counted (add_adult). */
  if (animal->claim && demo_life_moults (life, came) < life->n)
    {
      g_autofree char *stage = g_strdup_printf ("L%d", demo_life_moults (life, came) + 1);

      pair (pairs, "stage", stage);
      pair (pairs, "scheme", "1");
    }
  if (animal->claim_sex != NULL)
    pair (pairs, "sex", animal->claim_sex);
  return demo_add (desk, CORE_SUBJECT_ANIMAL, pairs, came, id, error);
}

static const CoreProfile *
profile_of (Desk *desk, const DemoAnimal *animal)
{
  const GPtrArray *profiles = desk_profiles (desk);
  const CoreProfile *general = NULL;

  for (guint i = 0; i < profiles->len; i++)
    {
      const CoreProfile *profile = g_ptr_array_index (profiles, i);

      if (g_strcmp0 (profile->scientific, animal->species) == 0)
        return profile;
      if (profile->general)
        general = profile;
    }
  return general;
}

/* It came with full wings: the keeper saw so that evening. */
static gboolean
add_adult (Desk *desk, CoreDay last, const DemoAnimal *animal, const DemoLife *life, CoreId subject, GError **error)
{
  CoreDay came = last - animal->came;
  GPtrArray *entries;
  CoreEntry *entry;

  if (!animal->claim || demo_life_moults (life, came) < life->n)
    return TRUE;
  entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  entry = demo_entry (CORE_KIND_STAGE, subject, came);
  if (core_entry_set_word (entry, CORE_KEY_SEEN, "adult") != CORE_VALUE_OK)
    g_error ("demo: adult");
  g_ptr_array_add (entries, entry);
  return demo_write (desk, entries, error);
}

/* The home of today: three times its length and a little, in steps of usual sizes. */
static gboolean
set_homes (Desk *desk, CoreDay last, const CoreId *subjects, const CoreId *places, GError **error)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  static const int sizes[] = { 60, 90, 120, 150, 200, 250, 300, 400 };

  for (gsize i = 0; i < demo_n_animals; i++)
    {
      g_autoptr (DeskSubject) subject = desk_get (desk, subjects[i]);
      double body = core_body_now (desk_subject_state (subject), desk_subject_profile (subject), .5);
      double need = demo_animals[i].height_mm > 0 ? demo_animals[i].height_mm : 3.9 * (body > 0 ? body : 25);
      CoreEntry *entry;
      gsize k = 0;

      if (!desk_subject_living (subject))
        continue;
      while (k + 1 < G_N_ELEMENTS (sizes) && sizes[k] < need)
        k++;
      entry = demo_entry (CORE_KIND_HOUSED, subjects[i], last - 21);
      if (core_entry_set_ref (entry, CORE_KEY_PLACE, places[demo_animals[i].shelf]) != CORE_VALUE_OK
          || core_entry_set_num (entry, CORE_KEY_AT, (double) (i + 1)) != CORE_VALUE_OK
          || core_entry_set_num (entry, CORE_KEY_HEIGHT_MM, sizes[k]) != CORE_VALUE_OK)
        g_error ("demo: home");
      g_ptr_array_add (entries, entry);
    }
  return demo_write (desk, entries, error);
}

static void
add_set (GPtrArray *entries, CoreId journal, CoreDay day, const char *key, const char *value)
{
  CoreEntry *entry = demo_entry (CORE_KIND_SET, journal, day);

  if (core_entry_set_text (entry, "key", key) != CORE_VALUE_OK
      || core_entry_set_text (entry, "value", value) != CORE_VALUE_OK)
    g_error ("demo: set %s", key);
  g_ptr_array_add (entries, entry);
}

static gboolean
name_as_demo (Desk *desk, CoreDay last, GError **error)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  char day[11];

  core_day_to_text (last, day);
  add_set (entries, desk_journal_id (desk), last - 260, "demo", "yes");
  add_set (entries, desk_journal_id (desk), last - 260, "demo_day", day);
  return demo_write (desk, entries, error);
}

static gboolean
fill (Desk *desk, CoreDay last, GCancellable *cancellable, GError **error)
{
  g_autofree CoreId *subjects = g_new0 (CoreId, demo_n_animals);
  g_autofree CoreId *places = g_new0 (CoreId, demo_n_places);
  g_autofree DemoLife *lives = g_new0 (DemoLife, demo_n_animals);

  if (!name_as_demo (desk, last, error) || !add_places (desk, last, places, error))
    return FALSE;
  for (gsize i = 0; i < demo_n_animals; i++)
    {
      const DemoAnimal *animal = &demo_animals[i];

      demo_life (animal, profile_of (desk, animal), last, DEMO_SEED + i, &lives[i]);
      if (!add_animal (desk, last, i, &lives[i], places[animal->shelf], &subjects[i], error)
          || !add_adult (desk, last, animal, &lives[i], subjects[i], error))
        return FALSE;
    }
  return demo_write_brood (desk, last, places[BROOD_SHELF], error)
         && demo_write_days (desk, last, subjects, lives, places, cancellable, error)
         && set_homes (desk, last, subjects, places, error)
         && demo_write_photos (desk, last, subjects, cancellable, error);
}

static gboolean
close_desk (Desk *desk, GError **error)
{
  DeskSync sync = { NULL, NULL };
  gboolean ok;

  desk_close_async (desk, desk_sync_cb, &sync);
  ok = desk_close_finish (desk, desk_sync_wait (&sync), error);
  g_clear_object (&sync.result);
  return ok;
}

typedef struct
{
  CoreDay last;
  GCancellable *cancellable;
} Making;

#define EVENING_MS (20 * 3600 * 1000) /* at which all of it was written */

typedef struct
{
  gint64 start_ms, turn;
  DemoRand rand;
} DemoClock;

/* Its own moments and chance: the same journal each time, to the id. */
static void
demo_clock (gint64 *now_ms, guint8 random[16], gpointer data)
{
  DemoClock *self = data;

  *now_ms = self->start_ms + self->turn++;
  for (int i = 0; i < 16; i++)
    random[i] = (guint8) demo_rand_int (&self->rand, 0, 255);
}

static gboolean
make (const char *making, gpointer data, GError **error)
{
  const Making *what = data;
  DemoClock clock = { .start_ms = (gint64) what->last * 86400 * 1000 + EVENING_MS };
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (Desk) desk = NULL;
  gboolean ok = FALSE;

  demo_rand_init (&clock.rand, 7, 1);
  g_main_context_push_thread_default (context);
  desk = desk_open_by (making, what->last, DESK_OPEN_CREATE, demo_clock, &clock, error);
  if (desk != NULL)
    ok = fill (desk, what->last, what->cancellable, error) && close_desk (desk, error);
  g_clear_object (&desk);
  g_main_context_pop_thread_default (context);
  return ok;
}

gboolean
demo_make (const char *dir, CoreDay last, GCancellable *cancellable, GError **error)
{
  Making what = { last, cancellable };

  return demo_beside (dir, make, &what, error);
}

/* ---- ensure ---- */

typedef struct
{
  char *dir;
  CoreDay last;
} Ensure;

static void
ensure_free (Ensure *ensure)
{
  g_free (ensure->dir);
  g_free (ensure);
}

static void
ensure_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Ensure *ensure = data;
  g_autofree char *file = g_build_filename (ensure->dir, "journal.sqlite", NULL);
  GError *error = NULL;

  demo_beside_clean (ensure->dir);
  if (g_file_test (file, G_FILE_TEST_EXISTS) || demo_make (ensure->dir, ensure->last, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
demo_ensure_async (const char *dir, CoreDay last, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  Ensure *ensure = g_new0 (Ensure, 1);

  ensure->dir = g_strdup (dir);
  ensure->last = last;
  g_task_set_task_data (task, ensure, (GDestroyNotify) ensure_free);
  g_task_run_in_thread (task, ensure_thread);
}

gboolean
demo_ensure_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
