/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs.c — the forms for animals; see app-dialogs.h. Places: app-dialogs-place.c.
 *
 * A form turns what was typed into key=value pairs, the same that the command
 * line takes, so that there is one set of checks. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>

#include "app/app-dialogs-private.h"
#include "app/app-view.h"
#include "core/core-date.h"

/* ---- choices ---- */

void
_app_choice_init (AppChoice *choice)
{
  choice->names = g_ptr_array_new_with_free_func (g_free);
  choice->values = g_ptr_array_new_with_free_func (g_free);
}

void
_app_choice_add (AppChoice *choice, const char *name, const char *value)
{
  g_ptr_array_add (choice->names, g_strdup (name));
  g_ptr_array_add (choice->values, g_strdup (value));
}

GtkWidget *
_app_choice_row (AppChoice *choice, AppForm *form, const char *key, const char *label, guint selected)
{
  GtkWidget *row;

  g_ptr_array_add (choice->names, NULL);
  g_ptr_array_add (choice->values, NULL);
  row = app_form_choice (form, key, label, (const char *const *) choice->names->pdata,
                         (const char *const *) choice->values->pdata, selected);
  g_ptr_array_unref (choice->names);
  g_ptr_array_unref (choice->values);
  return row;
}

/* By the name that keepers say; the scientific one beside it is what is written. */
static int
by_name (gconstpointer a, gconstpointer b)
{
  const CoreProfile *const *left = a, *const *right = b;

  return g_utf8_collate (app_profile_name (*left), app_profile_name (*right));
}

void
_app_row_species (AppForm *form, Desk *desk, const char *now)
{
  g_autoptr (GPtrArray) profiles = g_ptr_array_copy ((GPtrArray *) desk_profiles (desk), NULL, NULL);
  AppChoice choice;
  guint selected = 0;

  g_ptr_array_sort (profiles, by_name);
  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "not known"), "unknown");
  for (guint i = 0; i < profiles->len; i++)
    {
      const CoreProfile *profile = g_ptr_array_index (profiles, i);
      g_autofree char *name = g_strdup_printf ("%s · %s", app_profile_name (profile), profile->scientific);

      if (profile->general)
        continue;
      _app_choice_add (&choice, name, profile->scientific);
      if (now != NULL && g_ascii_strcasecmp (now, profile->scientific) == 0)
        selected = choice.names->len - 1;
    }
  if (now != NULL && now[0] != '\0' && selected == 0 && g_ascii_strcasecmp (now, "unknown") != 0)
    {
      _app_choice_add (&choice, now, now);
      selected = choice.names->len - 1;
    }
  _app_choice_row (&choice, form, "species", C_ ("form", "_Kind"), selected);
}

void
_app_row_place (AppForm *form, Desk *desk, CoreId now)
{
  g_autoptr (GPtrArray) places = desk_places (desk);
  AppChoice choice;
  guint selected = 0;

  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "not said"), "");
  for (guint i = 0; i < places->len; i++)
    {
      DeskSubject *place = g_ptr_array_index (places, i);
      char id[37];

      core_id_to_text (desk_subject_id (place), id);
      _app_choice_add (&choice, desk_place_name (place), id);
      if (core_id_equal (now, desk_subject_id (place)))
        selected = choice.names->len - 1;
    }
  _app_choice_row (&choice, form, "place", C_ ("form", "_Shelf"), selected);
}

/* Of a stage that somebody else said: by which count is not known unless that was said too. */
void
_app_row_scheme (AppForm *form)
{
  const char *const names[] = { C_ ("form", "it is not known"), C_ ("form", "the hatchling is L1"), C_ ("form", "the hatchling is L2"), NULL };
  const char *const values[] = { "", "1", "2", NULL };

  app_form_choice (form, "scheme", C_ ("form", "Stages are counted so that"), names, values, 0);
}

const char *const *
_app_pairs (GPtrArray *pairs)
{
  for (guint i = 0; i < pairs->len;)
    if (g_ptr_array_index (pairs, i) == NULL)
      g_ptr_array_remove_index (pairs, i);
    else
      i++;
  g_ptr_array_add (pairs, NULL);
  return (const char *const *) pairs->pdata;
}

char *
_app_pair_day (const char *key, CoreDay day)
{
  char text[11];

  if (day == CORE_DAY_NONE)
    return NULL;
  core_day_to_text (day, text);
  return g_strdup_printf ("%s=%s", key, text);
}

/* ---- add an animal ---- */

void
_app_added_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) subject = desk_add_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = NULL;
  AppWindow *window = app_form_window (form);

  if (subject != NULL)
    /* Translators: a number or a code, twice */
    text = g_strdup_printf (C_ ("form", "Saved: %s is in the journal; type %s to open it. Ctrl+Z takes it back."),
                            desk_subject_label (subject), desk_subject_label (subject));
  if (subject != NULL && window != NULL)
    app_window_choose (window, subject); /* what is typed next is meant for it */
  app_form_done (form, text, error);
}

static void
add_animal_submit (AppForm *form)
{
  static const char *const keys[] = { "number", "species", "name", "from", "sex" };
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  Desk *desk = app_window_get_desk (app_form_window (form));
  DeskWhen hatched;
  CoreDay acquired;

  if (!app_form_get_day (form, "acquired", &acquired) || !app_form_get_days (form, "hatched", &hatched))
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    g_ptr_array_add (pairs, app_form_pair (form, keys[i]));
  g_ptr_array_add (pairs, app_form_pair (form, "place"));
  g_ptr_array_add (pairs, app_form_pair (form, "before"));
  g_ptr_array_add (pairs, _app_pair_day ("hatched", hatched.latest));
  if (hatched.earliest < hatched.latest)
    g_ptr_array_add (pairs, _app_pair_day ("hatched_earliest", hatched.earliest));
  g_ptr_array_add (pairs, _app_pair_day ("acquired", acquired));
  if (app_form_get (form, "stage")[0] != '\0')
    {
      g_ptr_array_add (pairs, app_form_pair (form, "stage"));
      g_ptr_array_add (pairs, app_form_pair (form, "scheme"));
    }
  desk_add_async (desk, CORE_SUBJECT_ANIMAL, _app_pairs (pairs), desk_today (desk), NULL, _app_added_cb, g_object_ref (form));
}

void
app_dialog_add_animal (AppWindow *window, CoreId place)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form = app_form_new (window, C_ ("form", "Add an animal"), C_ ("form", "_Add"), add_animal_submit);
  const char *const sexes[] = { C_ ("form", "not said"), C_ ("form", "male, the seller says"),
                                C_ ("form", "female, the seller says"), NULL };
  const char *const sex_values[] = { "", "male", "female", NULL };

  app_form_entry (form, "number", C_ ("form", "_Number on the cup"), NULL, C_ ("form", "empty: the next free one"));
  _app_row_species (form, desk, NULL);
  _app_row_place (form, desk, place);
  app_form_entry (form, "before", C_ ("form", "_Before cup"), NULL, C_ ("form", "a number; empty: at the end"));
  app_form_day (form, "acquired", C_ ("form", "Came to _you on"), desk_today (desk));
  app_form_entry (form, "from", C_ ("form", "_From whom"), NULL, NULL);
  app_form_day (form, "hatched", C_ ("form", "_Hatched on"), CORE_DAY_NONE);
  app_form_entry (form, "stage", C_ ("form", "S_tage when it came"), NULL, C_ ("form", "L4; empty: not known"));
  _app_row_scheme (form);
  app_form_choice (form, "sex", C_ ("form", "Se_x"), sexes, sex_values, 0);
  app_form_entry (form, "name", C_ ("form", "Na_me"), NULL, NULL);
  app_form_note (form, C_ ("form", "What you leave empty is kept as unknown."));
  app_form_show (form, "add-animal");
}

/* ---- edit an animal: each changed value is a `set`, all in one round ---- */

static gboolean
add_hatch (GPtrArray *entries, AppForm *form, const CoreState *state)
{
  CoreEntry *entry;
  DeskWhen when;
  CoreDay before = state->hatched ? state->hatched_day : CORE_DAY_NONE;

  if (!app_form_get_days (form, "hatched", &when))
    return FALSE;
  if ((when.latest == before && when.earliest == when.latest) || when.latest == CORE_DAY_NONE)
    return TRUE;
  entry = core_entry_new (CORE_KIND_HATCHED);
  entry->subject = app_form_id (form);
  entry->day = when.latest;
  if (when.earliest < when.latest)
    entry->earliest = when.earliest;
  if (state->hatched)
    entry->names = state->hatched_entry; /* a correction, not a second hatch */
  g_ptr_array_add (entries, entry);
  return TRUE;
}

static void
edit_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (DeskSubject) animal = desk_get (desk, app_form_id (form));
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  const CoreState *state;

  if (animal == NULL)
    return;
  state = desk_subject_state (animal);
  app_form_set_if_changed (form, entries, "number", state->number);
  app_form_set_if_changed (form, entries, "name", state->name);
  app_form_set_if_changed (form, entries, "species", state->species[0] != '\0' ? state->species : "unknown");
  if (!add_hatch (entries, form, state))
    return;
  app_form_write (form, g_steal_pointer (&entries));
}

void
app_dialog_edit_animal (AppWindow *window, CoreId id)
{
  Desk *desk = app_window_get_desk (window);
  g_autoptr (DeskSubject) animal = desk_get (desk, id);
  const CoreState *state;
  AppForm *form;

  if (animal == NULL)
    return;
  state = desk_subject_state (animal);
  form = app_form_new_about (window, id, C_ ("form title", "Edit %s"), C_ ("form", "_Save"), edit_submit);
  app_form_entry (form, "number", C_ ("form", "_Number on the cup"), state->number, NULL);
  _app_row_species (form, desk, state->species);
  app_form_entry (form, "name", C_ ("form", "Na_me"), state->name, NULL);
  app_form_day (form, "hatched", C_ ("form", "_Hatched on"),
                state->hatched ? state->hatched_day : CORE_DAY_NONE);
  app_form_note (form, C_ ("form", "Other entries are corrected where they stand, in its timeline."));
  app_form_show (form, "edit");
}

/* ---- one entry: moulted, died, left ---- */

/* Were its large pads seen in the stage before? Then the next skin has wings, or it is no ordinary moult. */
static gboolean
is_subadult (Desk *desk, CoreId id)
{
  g_autoptr (DeskSubject) animal = desk_get (desk, id);

  return animal != NULL && desk_subject_state (animal)->subadult;
}

static void
moulted_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));

  if (is_subadult (desk, app_form_id (form)) && app_form_get (form, "to")[0] == '\0')
    app_form_problem_at (form, "to", C_ ("form", "Are the wings full? Choose an answer; “not looked at” is one."));
  else
    app_form_record (form, "moulted", (const char *const[]){ "outcome", "seen", "to", "sure", NULL });
}

/* After a moult so lately a second one is more likely a wrong day, and the moult of a sub-adult was its last: asked, and never answered for the keeper. */
static void
again_row (AppForm *form, Desk *desk, CoreId id)
{
  g_autoptr (DeskSubject) animal = desk_get (desk, id);
  const char *const names[] = { C_ ("form", "please check the day"), C_ ("form", "yes, surely"), NULL };
  const char *const values[] = { "", "yes", NULL };
  const CoreState *state = animal != NULL ? desk_subject_state (animal) : NULL;

  if (state != NULL && state->moult_days.n > 0
      && (state->probably_adult || state->moult_days.v[state->moult_days.n - 1] > desk_today (desk) - 2 * CORE_MOULTS_APART))
    app_form_choice (form, "sure", C_ ("form", "Moulted again so _soon?"), names, values, 0);
}

/* Asked of a sub-adult before all else, and never answered for the keeper. */
static void
wings_row (AppForm *form)
{
  const char *const names[] = { C_ ("form", "please choose"), C_ ("form", "yes: adult, wings full"),
                                C_ ("form", "no: sub-adult, large pads"), C_ ("form", "no: a nymph, small pads or none"),
                                C_ ("form", "not looked at"), NULL };
  const char *const values[] = { "", "adult", "subadult", "nymph", "?", NULL };

  app_form_choice (form, "to", C_ ("form", "Are the _wings full?"), names, values, 0);
}

static void
now_row (AppForm *form)
{
  const char *const names[] = { C_ ("form", "not looked at"), C_ ("form", "a nymph, small pads or none"),
                                C_ ("form", "sub-adult, large pads"), C_ ("form", "adult, wings full"), NULL };
  const char *const values[] = { "", "nymph", "subadult", "adult", NULL };

  app_form_choice (form, "to", C_ ("form", "It is now"), names, values, 0);
}

void
app_dialog_moulted (AppWindow *window, CoreId id)
{
  Desk *desk = app_window_get_desk (window);
  AppForm *form
    = app_form_new_about (window, id, C_ ("form title", "%s moulted"), C_ ("form", "_Save"), moulted_submit);
  const char *const outcomes[] = { words_moult_outcome (WORDS_LOCAL, 0), words_moult_outcome (WORDS_LOCAL, 1),
                                   words_moult_outcome (WORDS_LOCAL, 2), words_moult_outcome (WORDS_LOCAL, 3), NULL };
  const char *const outcome_values[] = { "good", "fell", "stuck", "limb", NULL };
  const char *const seen[] = { C_ ("form", "found afterwards"), C_ ("form", "seen happening"), NULL };
  const char *const seen_values[] = { "found", "yes", NULL };
  gboolean subadult = is_subadult (desk, id);

  if (subadult)
    wings_row (form);
  app_form_day (form, "day", C_ ("form", "_Found on"), desk_today (desk));
  app_form_day (form, "earliest", C_ ("form", "_Not before"), CORE_DAY_NONE);
  app_form_choice (form, "outcome", C_ ("form", "_How it went"), outcomes, outcome_values, 0);
  app_form_choice (form, "seen", C_ ("form", "S_een"), seen, seen_values, 0);
  if (!subadult)
    now_row (form);
  again_row (form, desk, id);
  app_form_note (form, C_ ("form", "Leave “not before” empty: then it lies between your last look and the day found. "
                                   "No touching and no food until it has hardened."));
  app_form_show (form, "moulted");
}

static void
died_submit (AppForm *form)
{
  app_form_record (form, "died", (const char *const[]){ "cause", "sure", NULL });
}

/* Of a number of animals. */
void
_app_row_counted (AppForm *form)
{
  const char *const names[] = { C_ ("form", "counted"), C_ ("form", "about"), NULL };
  const char *const values[] = { "yes", "no", NULL };

  app_form_choice (form, "counted", C_ ("form", "That number is"), names, values, 0);
}

/* Causes as they are stored; words says them. */
static const char *const causes[] = { "moult", "fall", "starved", "dried", "drowned", "cannibal",
                                      "mated", "sick", "age", "shipping", "unknown" };

void
_app_row_cause (AppForm *form)
{
  AppChoice choice;

  _app_choice_init (&choice);
  _app_choice_add (&choice, C_ ("form", "not said"), "");
  for (gsize i = 0; i < G_N_ELEMENTS (causes); i++)
    _app_choice_add (&choice, words_cause (WORDS_LOCAL, causes[i]), causes[i]);
  _app_choice_row (&choice, form, "cause", C_ ("form", "Ca_use"), 0);
}

void
app_dialog_died (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "%s died"), C_ ("form", "_Save"), died_submit);
  const char *const sure[] = { C_ ("form", "yes"), C_ ("form", "no"), NULL };
  const char *const sure_values[] = { "yes", "no", NULL };

  app_form_note (form, C_ ("form", "Sure? A shed skin is light and split behind the head; some kinds play dead for an "
                                   "hour; moulting animals hang limp. Not sure: close this, enter “looks dead” and look "
                                   "tomorrow."));
  app_form_day (form, "day", C_ ("form", "_Found on"), desk_today (app_window_get_desk (window)));
  app_form_day (form, "earliest", C_ ("form", "_Not before"), CORE_DAY_NONE);
  _app_row_cause (form);
  app_form_choice (form, "sure", C_ ("form", "Sure _of the cause"), sure, sure_values, 1);
  app_form_note (form, C_ ("form", "Its number is retired, its page stays."));
  app_form_show (form, "died");
}

void
_app_row_how (AppForm *form)
{
  const char *const names[] = { C_ ("form", "sold"), C_ ("form", "given away"), C_ ("form", "swapped"),
                                C_ ("form", "lent"), NULL };
  const char *const values[] = { "sold", "given", "swapped", "lent", NULL };

  app_form_choice (form, "how", C_ ("form", "_How"), names, values, 0);
}

static void
left_submit (AppForm *form)
{
  app_form_record (form, "left", (const char *const[]){ "how", "to", NULL });
}

/* What speaks against sending it now; it can be written all the same. */
static void
note_travel (AppForm *form, Desk *desk, CoreId id)
{
  g_autoptr (DeskSubject) subject = desk_get (desk, id);
  WordsView view = app_view (desk);
  g_autofree char *text =
      subject != NULL ? words_travel (&view, desk_subject_state (subject), desk_subject_forecast (subject)) : NULL;

  if (text != NULL)
    app_form_note (form, text);
}

void
app_dialog_left (AppWindow *window, CoreId id)
{
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "%s left"), C_ ("form", "_Save"), left_submit);

  note_travel (form, app_window_get_desk (window), id);
  app_form_day (form, "day", C_ ("form", "_On"), desk_today (app_window_get_desk (window)));
  _app_row_how (form);
  app_form_entry (form, "to", C_ ("form", "_To whom"), NULL, NULL);
  app_form_caution (form, WORDS_CAUTION_POST);
  app_form_caution (form, WORDS_CAUTION_RELEASE);
  app_form_show (form, "left");
}
