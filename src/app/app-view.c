/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-view.c — see app-view.h. */
#include "app/app-view.h"

#include <glib/gi18n.h>
#include <string.h>

#include "desk/desk-missed.h"

WordsView
app_view (Desk *desk)
{
  return (WordsView) { WORDS_LOCAL, desk_today (desk), desk_scheme (desk) };
}

const CoreTask *
app_subject_first_due (const DeskSubject *subject, CoreDay today)
{
  const CorePlan *plan = desk_subject_plan (subject);
  const CoreTask *best = NULL;

  for (size_t i = 0; i < plan->tasks.n; i++)
    {
      const CoreTask *task = &plan->tasks.v[i];

      if (task->due <= today && (best == NULL || task->weight > best->weight))
        best = task;
    }
  return best;
}

gboolean
app_subject_is_due (const DeskSubject *subject, CoreDay today)
{
  return app_subject_first_due (subject, today) != NULL;
}

const char *
app_task_symbol (CoreTaskKind kind)
{
  static const char *const names[CORE_N_TASKS] = {
    [CORE_TASK_LOOK] = "look",        [CORE_TASK_FEED] = "feed",
    [CORE_TASK_TAKE_OUT] = "takeout", [CORE_TASK_MIST] = "mist",
    [CORE_TASK_WATER] = "water",      [CORE_TASK_SHED] = "shed",
    [CORE_TASK_HOME] = "home",        [CORE_TASK_AFTER_MOULT] = "aftermoult",
    [CORE_TASK_SEX_CHECK] = "sex",    [CORE_TASK_SEPARATE] = "home",
    [CORE_TASK_CLEAN] = "clean",      [CORE_TASK_CLIMATE] = "climate",
    [CORE_TASK_HEAT] = "climate",     [CORE_TASK_CULTURE] = "feed",
    [CORE_TASK_EGGCASE] = "eggcase",  [CORE_TASK_ADULT] = "animal",
    [CORE_TASK_IS_DEAD] = "death",
  };

  return kind < CORE_N_TASKS && names[kind] != NULL ? names[kind] : "note";
}

/* The commonest prey proposed to those that are due for food; -1 when they differ much. */
static int
commonest_prey (const int counts[CORE_N_PREY], gsize feeds)
{
  int best = -1;

  for (int prey = 0; prey < CORE_N_PREY; prey++)
    if (counts[prey] > 0 && (best < 0 || counts[prey] > counts[best]))
      best = prey;
  return best >= 0 && (gsize) counts[best] == feeds ? best : -1;
}

/* Every task that counts today, as the calendar counts them; but one look at a cup is enough,
 * also where it is for a shed skin. */
static void
count_tasks (const DeskSubject *subject, CoreDay today, WordsShelf *shelf, int prey[CORE_N_PREY])
{
  const CorePlan *plan = desk_subject_plan (subject);
  gsize looked_before = shelf->n_due_look;

  for (size_t i = 0; i < plan->tasks.n; i++)
    {
      const CoreTask *task = &plan->tasks.v[i];
      gsize *count = &shelf->due[task->kind];

      if (task->due > today)
        continue;
      if (task->kind == CORE_TASK_FEED)
        count = &shelf->n_due_food;
      else if (task->kind == CORE_TASK_MIST || task->kind == CORE_TASK_WATER)
        count = &shelf->n_due_mist;
      else if (!task->emergency && (task->kind == CORE_TASK_LOOK || task->kind == CORE_TASK_SHED))
        count = &shelf->n_due_look;
      (*count)++;
      if (task->kind == CORE_TASK_FEED && task->n_prey > 0)
        prey[task->prey[0].prey]++;
    }
  shelf->n_due_look = MIN (shelf->n_due_look, looked_before + 1);
  shelf->n_alone += core_hold_alone (&plan->hold) ? 1 : 0;
}

static void
add_missed (Desk *desk, GPtrArray *missed, DeskSubject *subject)
{
  const CorePlan *plan = desk_subject_plan (subject);

  for (size_t i = 0; i < plan->tasks.n; i++)
    (void) desk_missed_add (desk, missed, subject, &plan->tasks.v[i]);
}

/* What is left from earlier evenings is counted among the rest, and said in one line more. */
void
app_shelf_sentences (Desk *desk, CoreId place, GPtrArray *animals, char **sentence, char **left)
{
  WordsView view = app_view (desk);
  WordsShelf shelf = { .n_cups = animals->len, .unseen_since = CORE_DAY_NONE };
  g_autoptr (GPtrArray) labels = g_ptr_array_new ();
  g_autoptr (DeskSubject) itself = desk_get (desk, place);
  g_autoptr (GPtrArray) missed = desk_missed_new ();
  int prey[CORE_N_PREY] = { 0 };

  for (guint i = 0; i < animals->len; i++)
    {
      DeskSubject *subject = g_ptr_array_index (animals, i);

      count_tasks (subject, view.today, &shelf, prey);
      add_missed (desk, missed, subject);
      if (desk_subject_plan (subject)->unseen_long)
        {
          shelf.unseen_since = MAX (shelf.unseen_since, core_state_last_look (desk_subject_state (subject)));
          g_ptr_array_add (labels, (gpointer) desk_subject_label (subject));
        }
    }
  if (itself != NULL)
    {
      count_tasks (itself, view.today, &shelf, prey);
      add_missed (desk, missed, itself);
    }
  shelf.prey = commonest_prey (prey, shelf.n_due_food);
  shelf.unseen = (const char *const *) labels->pdata;
  shelf.n_unseen = labels->len;
  *sentence = words_shelf (&view, &shelf);
  desk_missed_done (desk, missed);
  *left = missed->len > 0 ? words_missed (WORDS_LOCAL, ((DeskMissed *) missed->pdata[0])->labels) : g_strdup ("");
}

char *
app_change_text (Desk *desk, DeskChange *change)
{
  WordsView view = app_view (desk);

  if (change->entries->len == 0)
    return g_strdup ("");
  if (change->again != NULL)
    return words_correction_undone (&view, change->label, change->place, change->again);
  return words_change (&view, change->restores, change->label, change->place, change->said, change->entries->len);
}

const char *
app_profile_name (const CoreProfile *profile)
{
  return words_profile_name (WORDS_LOCAL, profile);
}

/* Another reading of the same minute is there. */
static char *
second_reading (const WordsView *view, const DeskSubject *place, CoreId entry)
{
  const CoreState *state = desk_subject_state (place);

  for (gsize i = 0; i < state->conflicts.n; i++)
    {
      const CoreConflict *conflict = &state->conflicts.v[i];

      if (conflict->kind == CORE_CONFLICT_TWO_READINGS &&
          (core_id_equal (conflict->entry, entry) || core_id_equal (conflict->other, entry)))
        return words_conflict (view, conflict);
    }
  return NULL;
}

char *
app_saved_text (Desk *desk, CoreId id, guint more)
{
  const CoreEntry *entry = desk_entry (desk, id);
  WordsView view = app_view (desk);
  g_autoptr (DeskSubject) subject = NULL;
  g_autofree char *text = NULL;

  if (entry == NULL)
    return g_strdup (C_ ("journal", "Saved."));
  subject = desk_get (desk, entry->subject);
  text = words_written (&view, subject != NULL ? desk_subject_label (subject) : "",
                        subject != NULL ? desk_subject_state (subject) : NULL, entry);
  if (more == 0)
    {
      g_autofree char *said = g_strdup_printf (C_ ("journal", "Saved: %s. Ctrl+Z takes it back."), text);
      g_autofree char *second = subject != NULL ? second_reading (&view, subject, id) : NULL;

      return second != NULL ? g_strconcat (said, " ", second, NULL) : g_steal_pointer (&said);
    }
  /* Translators: what one entry says, and how many were written with it */
  return g_strdup_printf (C_ ("journal", "Saved: %s, and %u more. Ctrl+Z takes them back."), text, more);
}

char *
app_entry_line (Desk *desk, DeskSubject *subject, CoreDay day, const CoreEntry *entry)
{
  WordsView view = app_view (desk);
  WordsEntry row = { .entry = entry, .state = desk_subject_state (subject) };
  g_autofree char *when = words_day (&view, day, WORDS_DAY_SHORT);
  g_autofree char *what = entry != NULL ? words_entry (&view, &row) : g_strdup ("");

  return g_strdup_printf ("%s: %s", when, what);
}

const char *
app_species_name (const DeskSubject *subject)
{
  return words_species (WORDS_LOCAL, desk_subject_species_known (subject) ? desk_subject_profile (subject) : NULL,
                        desk_subject_state (subject)->species);
}

char *
app_moult_words (const WordsView *view, const DeskSubject *subject)
{
  if (desk_subject_kind (subject) == CORE_SUBJECT_LOT)
    return words_lot_forecast (view, desk_subject_lot_forecast (subject));
  return words_forecast_of (view, desk_subject_state (subject), desk_subject_outlook (subject));
}

char *
app_reasons_text (const WordsView *view, const CoreReason *reasons, size_t n)
{
  GString *text = g_string_new (NULL);

  for (size_t i = 0; i < n; i++)
    {
      g_autofree char *one = words_reason (view, &reasons[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", one);
    }
  return g_string_free (text, FALSE);
}

#define SHORT_NAME 14 /* letters that fit a card beside the stage */

/* "H. membranacea": what keepers write on a lid. */
static char *
abbreviated (const char *scientific)
{
  const char *space = strchr (scientific, ' ');

  return space != NULL ? g_strdup_printf ("%.1s.%s", scientific, space) : g_strdup (scientific);
}

char *
app_species_short (const DeskSubject *subject)
{
  const char *name = app_species_name (subject);
  g_autofree char *bare = NULL;

  /* Every kind here is a mantis; on a card the word only takes room. */
  bare = g_str_has_suffix (name, " mantis") ? g_strndup (name, strlen (name) - strlen (" mantis")) : g_strdup (name);
  if (g_utf8_strlen (bare, -1) <= SHORT_NAME || !desk_subject_species_known (subject))
    return g_steal_pointer (&bare);
  return abbreviated (desk_subject_profile (subject)->scientific);
}

char *
app_capitalised (const char *phrase)
{
  char first[8] = "";

  if (phrase[0] == '\0')
    return g_strdup (phrase);
  (void) g_unichar_to_utf8 (g_unichar_toupper (g_utf8_get_char (phrase)), first);
  return g_strconcat (first, g_utf8_next_char (phrase), NULL);
}

/* ---- lots, egg cases, cultures ---- */

static char *
mother_of (Desk *desk, DeskSubject *subject)
{
  const char *value = core_state_setting (desk_subject_state (subject), "mother");
  g_autoptr (DeskSubject) mother = NULL;
  CoreId id;

  if (value == NULL || !core_id_from_text (value, &id))
    return NULL;
  mother = desk_get (desk, id);
  return mother != NULL ? g_strdup (desk_subject_label (mother)) : NULL;
}

static WordsOther
other_of (Desk *desk, DeskSubject *subject, const char *mother)
{
  return (WordsOther) { .label = desk_subject_label (subject),
                        .species = desk_subject_kind (subject) == CORE_SUBJECT_CULTURE ? "" : app_species_name (subject),
                        .state = desk_subject_state (subject),
                        .lot = desk_subject_lot_forecast (subject),
                        .plan = desk_subject_plan (subject),
                        .mother = mother,
                        .series = desk_series_of (desk, subject) };
}

char *
app_other_kind (DeskSubject *subject)
{
  CoreSubjectKind kind = desk_subject_kind (subject);
  const char *what = words_subject_kind (WORDS_LOCAL, kind);

  return kind == CORE_SUBJECT_CULTURE ? g_strdup (what) : g_strdup_printf ("%s · %s", what, app_species_name (subject));
}

char *
app_other_sentence (Desk *desk, DeskSubject *subject)
{
  WordsView view = app_view (desk);
  g_autofree char *mother = mother_of (desk, subject);
  WordsOther other = other_of (desk, subject, mother);

  return words_other (&view, &other);
}

char *
app_other_cup_label (Desk *desk, DeskSubject *subject)
{
  WordsView view = app_view (desk);
  g_autofree char *mother = mother_of (desk, subject);
  WordsOther other = other_of (desk, subject, mother);

  return words_other_cup (&view, &other);
}
