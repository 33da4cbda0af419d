/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-lot.c — forms that add lots, egg cases and cultures, and correct what they are. */
#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-dialogs-private.h"
#include "app/app-view.h"

/* ---- rows ---- */

/* The subjects of a list by their code or number, after a row that names none. */
static void
subject_row (AppForm *form, GPtrArray *subjects, const char *key, const char *label, const char *none, const char *now)
{
  AppChoice choice;
  guint selected = 0;
  g_autoptr (DeskSubject) kept = NULL;
  CoreId named;

  _app_choice_init (&choice);
  _app_choice_add (&choice, none, "");
  for (guint i = 0; i < subjects->len; i++)
    {
      DeskSubject *subject = g_ptr_array_index (subjects, i);
      g_autofree char *name = g_strdup_printf ("%s · %s", desk_subject_label (subject), app_species_name (subject));
      char id[37];

      core_id_to_text (desk_subject_id (subject), id);
      _app_choice_add (&choice, name, id);
      if (g_strcmp0 (now, id) == 0)
        selected = i + 1;
    }
  /* Named, and no more in the list: a parent that has died stays the parent. */
  if (selected == 0 && now != NULL && core_id_from_text (now, &named))
    kept = desk_get (app_window_get_desk (app_form_window (form)), named);
  if (kept != NULL)
    {
      _app_choice_add (&choice, desk_subject_label (kept), now);
      selected = choice.names->len - 1;
    }
  _app_choice_row (&choice, form, key, label, selected);
}

/* Adults that may be of that sex. */
static GPtrArray *
adults (Desk *desk, gboolean male)
{
  GPtrArray *out = desk_animals (desk);

  for (guint i = out->len; i-- > 0;)
    {
      DeskSubject *animal = g_ptr_array_index (out, i);
      double other = male ? desk_subject_verdict (animal)->female : desk_subject_verdict (animal)->male;

      if (!desk_subject_state (animal)->adult || other > .8)
        g_ptr_array_remove_index (out, i);
    }
  return out;
}

/* The words of a setting after a row that sets none. */
static void
word_row (AppForm *form, const char *key, const char *label, const char *const *values, const char *now)
{
  AppChoice choice;
  guint selected = 0;

  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "not said"), "");
  for (guint i = 0; values[i] != NULL; i++)
    {
      WordsView view = app_view (app_window_get_desk (app_form_window (form)));
      g_autofree char *said = words_setting_value (&view, key, values[i]);

      _app_choice_add (&choice, said, values[i]);
      if (g_strcmp0 (now, values[i]) == 0)
        selected = i + 1;
    }
  _app_choice_row (&choice, form, key, label, selected);
}

static const char *const origins[] = { "wild_caught", "captive_bred", "captive_hatched", NULL };

static void
add_pairs (AppForm *form, GPtrArray *pairs, const char *const *keys)
{
  for (int i = 0; keys[i] != NULL; i++)
    g_ptr_array_add (pairs, app_form_pair (form, keys[i]));
}

/* FALSE: the form says that it is no day. */
static gboolean
add_span (AppForm *form, GPtrArray *pairs, const char *key, const char *earliest_key)
{
  CoreDay day, earliest;

  if (!app_form_get_span (form, key, earliest_key, &day, &earliest))
    return FALSE;
  g_ptr_array_add (pairs, _app_pair_day (key, day));
  g_ptr_array_add (pairs, _app_pair_day (earliest_key, earliest));
  return TRUE;
}

static gboolean
add_day (AppForm *form, GPtrArray *pairs, const char *key)
{
  CoreDay day;

  if (!app_form_get_day (form, key, &day))
    return FALSE;
  g_ptr_array_add (pairs, _app_pair_day (key, day));
  return TRUE;
}

static void
add (AppForm *form, CoreSubjectKind kind, GPtrArray *pairs)
{
  Desk *desk = app_window_get_desk (app_form_window (form));

  desk_add_async (desk, kind, _app_pairs (pairs), desk_today (desk), NULL, _app_added_cb, g_object_ref (form));
}

/* ---- a lot ---- */

/* What the egg case says of it: kind, parents and place. */
static gboolean
lot_pairs (AppForm *form, GPtrArray *pairs, gboolean from_case)
{
  add_pairs (form, pairs, (const char *const[]){ "code", NULL });
  /* All that hatched are as many as was said of the case, counted or about. */
  if (app_form_get (form, "count")[0] != '\0')
    add_pairs (form, pairs, (const char *const[]){ "count", "counted", NULL });
  if (!from_case)
    add_pairs (form, pairs, (const char *const[]){ "species", "place", NULL });
  if (!add_day (form, pairs, "count_day"))
    return FALSE;
  if (!add_span (form, pairs, "hatched", "hatched_earliest"))
    return FALSE;
  if (!from_case && !add_day (form, pairs, "acquired"))
    return FALSE;
  if (!from_case && app_form_get (form, "stage")[0] != '\0')
    add_pairs (form, pairs, (const char *const[]){ "stage", "scheme", NULL });
  return TRUE;
}

static void
lot_submit (AppForm *form)
{
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  gboolean from_case = app_form_get (form, "from")[0] != '\0';

  if (app_form_get (form, "count")[0] == '\0' && !from_case)
    {
      app_form_problem_at (form, "count", C_ ("form", "How many are there? An estimate will do: choose “about”."));
      return;
    }
  add_pairs (form, pairs, (const char *const[]){ "from", NULL });
  if (lot_pairs (form, pairs, from_case))
    add (form, CORE_SUBJECT_LOT, pairs);
}

/* Opened on an egg case: it is about that one. */
static void
lot_from_submit (AppForm *form)
{
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  char id[37];

  core_id_to_text (app_form_id (form), id);
  g_ptr_array_add (pairs, g_strdup_printf ("from=%s", id));
  if (lot_pairs (form, pairs, TRUE))
    add (form, CORE_SUBJECT_LOT, pairs);
}

static void
lot_hatched_rows (AppForm *form, CoreDay hatched)
{
  app_form_day (form, "hatched", C_ ("form", "_Hatched on"), hatched);
  app_form_day (form, "hatched_earliest", C_ ("form", "_Not before"), CORE_DAY_NONE);
}

static void
lot_count_day_row (AppForm *form)
{
  app_form_day (form, "count_day", C_ ("form", "Counte_d on"), CORE_DAY_NONE);
}

static void
lot_code_row (AppForm *form)
{
  app_form_entry (form, "code", C_ ("form", "C_ode"), NULL, C_ ("form", "empty: the next free one"));
}

void
app_dialog_add_lot (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form = app_form_new (window, C_ ("form", "Add a lot"), C_ ("form", "_Add"), lot_submit);
  g_autoptr (GPtrArray) cases = desk_eggcases (desk);

  app_form_entry (form, "count", C_ ("form", "How _many"), NULL, "120");
  _app_row_counted (form);
  lot_count_day_row (form);
  subject_row (form, cases, "from", C_ ("form", "From _egg case"), C_ ("form", "none of those here"), NULL);
  lot_hatched_rows (form, desk_today (desk));
  _app_row_species (form, desk, NULL);
  _app_row_place (form, desk, place);
  app_form_day (form, "acquired", C_ ("form", "Came to _you on"), CORE_DAY_NONE);
  app_form_entry (form, "stage", C_ ("form", "S_tage when it came"), NULL, C_ ("form", "L4; empty: not known"));
  _app_row_scheme (form);
  lot_code_row (form);
  app_form_note (form, C_ ("form", "Kind, parents and place come from the egg case where one is chosen."));
  app_form_note (
    form,
    C_ ("form",
        "Without a day of the count the number is of the day it came to you, or hatched from that "
        "egg case, else of today; who was gone before is not in it."));
  app_form_show (form, "add-lot");
}

/* How many an empty field takes, and what comes from the case. */
static void
egg_notes (AppForm *form, DeskSubject *egg)
{
  const CoreEggState *state = &desk_subject_state (egg)->egg;
  g_autofree char *hatched = words_amount (WORDS_LOCAL, state->hatched, !state->hatched_about);
  g_autofree char *text = NULL;
  g_autofree char *taken = g_strdup_printf (C_ ("form", "Kind, parents and shelf come from %s: %s."), desk_subject_label (egg),
                                            app_species_name (egg));

  if (state->hatched == 0)
    text = g_strdup (C_ ("form", "None is said to have hatched yet: say how many there are."));
  else if (state->in_lots > 0)
    /* Translators: numbers of animals, such as "about 88" */
    text = g_strdup_printf (C_ ("form", "Hatched: %s; %d of them are in lots. Empty: all the others."), hatched,
                            (int) state->in_lots);
  else
    text = g_strdup_printf (C_ ("form", "Hatched: %s. Empty: all of them."), hatched);
  app_form_note (form, text);
  app_form_note (form, taken);
}

void
app_dialog_lot_from (AppWindow *window, CoreId egg)
{
  g_autoptr (DeskSubject) from = desk_get (app_window_get_desk (window), egg);
  AppForm *form;

  g_return_if_fail (from != NULL);
  form = app_form_new_about (window, egg, C_ ("form title", "A lot from %s"), C_ ("form", "_Add"), lot_from_submit);
  app_form_entry (form, "count", C_ ("form", "How _many"), NULL, C_ ("form", "empty: all that hatched"));
  _app_row_counted (form);
  lot_count_day_row (form);
  lot_hatched_rows (form, CORE_DAY_NONE);
  lot_code_row (form);
  egg_notes (form, from);
  app_form_show (form, "lot-from");
}

/* ---- an egg case ---- */

static void
egg_submit (AppForm *form)
{
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  gboolean mother = app_form_get (form, "mother")[0] != '\0';

  add_pairs (form, pairs, (const char *const[]){ "code", "mother", "father", "place", "origin", "locality", NULL });
  if (!mother || !g_str_equal (app_form_get (form, "species"), "unknown"))
    add_pairs (form, pairs, (const char *const[]){ "species", NULL });
  if (add_span (form, pairs, "laid", "laid_earliest"))
    add (form, CORE_SUBJECT_EGGCASE, pairs);
}

void
app_dialog_add_eggcase (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form = app_form_new (window, C_ ("form", "Add an egg case"), C_ ("form", "_Add"), egg_submit);
  g_autoptr (GPtrArray) females = adults (desk, FALSE);
  g_autoptr (GPtrArray) males = adults (desk, TRUE);

  subject_row (form, females, "mother", C_ ("form", "_Mother"), C_ ("form", "not known, or not here"), NULL);
  subject_row (form, males, "father", C_ ("form", "_Father"), C_ ("form", "not known, or not here"), NULL);
  _app_row_species (form, desk, NULL);
  app_form_day (form, "laid", C_ ("form", "_Laid, found on"), desk_today (desk));
  app_form_day (form, "laid_earliest", C_ ("form", "_Not before"), CORE_DAY_NONE);
  _app_row_place (form, desk, place);
  word_row (form, "origin", C_ ("form", "O_rigin"), origins, NULL);
  app_form_entry (form, "locality", C_ ("form", "Localit_y"), NULL, NULL);
  app_form_entry (form, "code", C_ ("form", "C_ode"), NULL, C_ ("form", "empty: the next free one"));
  app_form_note (form, C_ ("form", "With a mother its kind and its number among hers are filled in, and the laying stands on her page too."));
  app_form_show (form, "add-eggcase");
}

/* ---- a culture ---- */

static void
culture_submit (AppForm *form)
{
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);

  if (app_form_get (form, "prey")[0] == '\0')
    {
      app_form_problem_at (form, "prey", C_ ("form", "Choose what is bred in it."));
      return;
    }
  add_pairs (form, pairs, (const char *const[]){ "prey", "place", "code", NULL });
  if (add_day (form, pairs, "started"))
    add (form, CORE_SUBJECT_CULTURE, pairs);
}

void
app_dialog_add_culture (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form = app_form_new (window, C_ ("form", "Add a feeder culture"), C_ ("form", "_Add"), culture_submit);
  AppChoice choice;

  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "please choose"), "");
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    if (prey != CORE_PREY_HONEY)
      {
        g_autofree char *name = words_prey (WORDS_LOCAL, prey, 0);

        _app_choice_add (&choice, name, core_prey_name (prey));
      }
  _app_choice_row (&choice, form, "prey", C_ ("form", "Of _what"), 0);
  app_form_day (form, "started", C_ ("form", "S_tarted on"), desk_today (desk));
  _app_row_place (form, desk, place);
  app_form_entry (form, "code", C_ ("form", "C_ode"), NULL, C_ ("form", "empty: the next free one"));
  app_form_caution (form, WORDS_CAUTION_ALLERGY);
  app_form_show (form, "add-culture");
}

/* ---- what it is and where it comes from ---- */

static const char *const origin_keys[] = { "origin", "locality", "species_sure", "mother", "father", "line", NULL };

static void
edit_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (DeskSubject) subject = desk_get (desk, app_form_id (form));
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  const CoreState *state;

  if (subject == NULL)
    return;
  state = desk_subject_state (subject);
  app_form_set_if_changed (form, entries, "species", state->species[0] != '\0' ? state->species : "unknown");
  for (int i = 0; origin_keys[i] != NULL; i++)
    app_form_set_if_changed (form, entries, origin_keys[i], core_state_setting (state, origin_keys[i]));
  app_form_write (form, g_steal_pointer (&entries));
}

void
app_dialog_edit_origin (AppWindow *window, CoreId id)
{
  static const char *const sure[] = { "sure", "likely", "doubtful", NULL };
  Desk *desk = app_window_get_desk (window);
  g_autoptr (DeskSubject) subject = desk_get (desk, id);
  g_autoptr (GPtrArray) females = NULL;
  g_autoptr (GPtrArray) males = NULL;
  const CoreState *state;
  AppForm *form;

  if (subject == NULL)
    return;
  state = desk_subject_state (subject);
  females = adults (desk, FALSE);
  males = adults (desk, TRUE);
  form = app_form_new_about (window, id, C_ ("form title", "Kind and origin of %s"), C_ ("form", "_Save"), edit_submit);
  _app_row_species (form, desk, state->species);
  word_row (form, "species_sure", C_ ("form", "The name is"), sure, core_state_setting (state, "species_sure"));
  word_row (form, "origin", C_ ("form", "O_rigin"), origins, core_state_setting (state, "origin"));
  app_form_entry (form, "locality", C_ ("form", "Localit_y"), core_state_setting (state, "locality"), NULL);
  subject_row (form, females, "mother", C_ ("form", "_Mother"), C_ ("form", "not known, or not here"),
               core_state_setting (state, "mother"));
  subject_row (form, males, "father", C_ ("form", "_Father"), C_ ("form", "not known, or not here"),
               core_state_setting (state, "father"));
  app_form_entry (form, "line", C_ ("form", "_Line"), core_state_setting (state, "line"), NULL);
  app_form_show (form, "origin");
}
