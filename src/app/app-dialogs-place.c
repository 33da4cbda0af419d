/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-place.c — forms for places, and moving an animal between two cups. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-dialogs-private.h"
#include "app/app-form.h"
#include "app/app-view.h"

static void
added_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskSubject) place = desk_add_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = NULL;

  if (place != NULL)
    text = g_strdup_printf (C_ ("form", "Saved: %s is in the journal. Ctrl+Z takes it back."), desk_place_name (place));
  app_form_done (form, text, error);
  if (place != NULL && app_form_window (form) != NULL)
    app_window_show_shelf (app_form_window (form), desk_subject_id (place));
}

static const char *const number_keys[] = { "day_c", "night_c", "light_h", "height_mm" };

static void
add_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *name = app_form_pair (form, "name");

  if (name == NULL)
    {
      app_form_problem_at (form, "name", C_ ("form", "Give the place a name, such as Shelf A or Window."));
      return;
    }
  g_ptr_array_add (pairs, g_steal_pointer (&name));
  for (gsize i = 0; i < G_N_ELEMENTS (number_keys); i++)
    {
      char *pair = app_form_pair (form, number_keys[i]);

      if (pair != NULL)
        g_ptr_array_add (pairs, g_strdelimit (pair, ",", '.'));
    }
  if (app_form_get (form, "within")[0] != '\0')
    g_ptr_array_add (pairs, app_form_pair (form, "within"));
  g_ptr_array_add (pairs, NULL);
  desk_add_async (desk, CORE_SUBJECT_PLACE, (const char *const *) pairs->pdata, desk_today (desk), NULL, added_cb,
                  g_object_ref (form));
}

static void
within_row (AppForm *form, Desk *desk)
{
  g_autoptr (GPtrArray) places = desk_places (desk);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) values = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (names, g_strdup (C_ ("form", "a shelf of its own")));
  g_ptr_array_add (values, g_strdup (""));
  for (guint i = 0; i < places->len; i++)
    {
      char id[37];

      core_id_to_text (desk_subject_id (g_ptr_array_index (places, i)), id);
      g_ptr_array_add (names, g_strdup_printf (C_ ("form", "a home on %s"), desk_place_name (g_ptr_array_index (places, i))));
      g_ptr_array_add (values, g_strdup (id));
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (values, NULL);
  app_form_choice (form, "within", C_ ("form", "_It is"), (const char *const *) names->pdata,
                   (const char *const *) values->pdata, 0);
}

double
_app_typed (AppForm *form, const char *key)
{
  g_autofree char *text = g_strdelimit (g_strstrip (g_strdup (app_form_get (form, key))), ",", '.');
  double value = NAN;

  return core_number_parse (text, &value) ? value : NAN;
}

void
_app_say_past (GtkLabel *caution, Desk *desk, CorePast past)
{
  WordsView view = app_view (desk);
  g_autofree char *text = words_past (&view, &past);

  gtk_label_set_label (caution, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (caution), text != NULL);
}

GtkWidget *
_app_past_row (AppForm *form)
{
  GtkWidget *caution = app_form_note (form, "");

  gtk_widget_remove_css_class (caution, "dim");
  gtk_widget_add_css_class (caution, "trouble");
  return caution;
}

static void
temperatures_cb (GtkEditable *entry, GtkLabel *caution)
{
  AppForm *form = APP_FORM (gtk_widget_get_ancestor (GTK_WIDGET (entry), APP_TYPE_FORM));
  Desk *desk = app_window_get_desk (app_form_window (form));

  _app_say_past (caution, desk,
                       desk_temperatures_past (desk, app_form_id (form), _app_typed (form, "day_c"),
                                               _app_typed (form, "night_c")));
}

/* Both temperatures, and what is said while they are past what lives there bears. */
static void
temperature_rows (AppForm *form, const char *day, const char *night, gboolean examples)
{
  GtkWidget *entries[] = {
    app_form_entry (form, "day_c", C_ ("form", "Usual °C by _day"), day, examples ? "24" : NULL),
    app_form_entry (form, "night_c", C_ ("form", "Usual °C at ni_ght"), night, examples ? "20" : NULL),
  };
  GtkWidget *caution = _app_past_row (form);

  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    g_signal_connect_object (entries[i], "changed", G_CALLBACK (temperatures_cb), caution, 0);
  temperatures_cb (GTK_EDITABLE (entries[0]), GTK_LABEL (caution));
}

void
app_dialog_add_place (AppWindow *window)
{
  AppForm *form = app_form_new (window, C_ ("form", "Add a shelf or a home"), C_ ("form", "_Add"), add_submit);

  app_form_entry (form, "name", C_ ("form", "_Name"), NULL, C_ ("form", "Shelf A"));
  within_row (form, app_window_get_desk (window));
  temperature_rows (form, NULL, NULL, TRUE);
  app_form_entry (form, "light_h", C_ ("form", "Hours of _light"), NULL, "12");
  app_form_entry (form, "height_mm", C_ ("form", "Inner _height of a home, mm"), NULL, NULL);
  app_form_note (form, C_ ("form", "The usual temperature moves every forecast on this shelf."));
  app_form_caution (form, WORDS_CAUTION_HEAT);
  app_form_caution (form, WORDS_CAUTION_ELECTRICITY);
  app_form_show (form, "add-place");
}

static const char *const edit_keys[] = { "name", "day_c", "night_c", "light_h", "height_mm" };

/* What stands in the journal under the nth of edit_keys; "" = nothing. */
static char *
value_before (const CoreState *state, gsize key)
{
  const double numbers[] = { state->place.day_c, state->place.night_c, state->place.light_h, state->place.height_mm };

  return key == 0 ? g_strdup (state->name) : app_form_number (numbers[key - 1], 2);
}

/* Only what was changed is written; a field that was emptied is not said any more. */
static void
edit_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  g_autoptr (DeskSubject) place = desk_get (desk, app_form_id (form));
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);

  for (gsize i = 0; place != NULL && i < G_N_ELEMENTS (edit_keys); i++)
    {
      g_autofree char *typed = g_strdelimit (g_strstrip (g_strdup (app_form_get (form, edit_keys[i]))),
                                             i > 0 ? "," : "", '.');
      g_autofree char *before = value_before (desk_subject_state (place), i);

      if (!g_str_equal (typed, before))
        g_ptr_array_add (entries, app_form_set_new (form, edit_keys[i], typed));
    }
  app_form_write (form, g_steal_pointer (&entries));
}

void
app_dialog_edit_place (AppWindow *window, CoreId id)
{
  g_autoptr (DeskSubject) place = desk_get (app_window_get_desk (window), id);
  const CorePlaceState *state;
  g_autofree char *day = NULL;
  g_autofree char *night = NULL;
  g_autofree char *light = NULL;
  g_autofree char *height = NULL;
  AppForm *form;

  if (place == NULL)
    return;
  state = &desk_subject_state (place)->place;
  day = app_form_number (state->day_c, 2);
  night = app_form_number (state->night_c, 2);
  light = app_form_number (state->light_h, 2);
  height = app_form_number (state->height_mm, 2);
  form = app_form_new_about (window, id, C_ ("form title", "Edit %s"), C_ ("form", "_Save"), edit_submit);
  app_form_entry (form, "name", C_ ("form", "_Name"), desk_subject_state (place)->name, NULL);
  temperature_rows (form, day, night, FALSE);
  app_form_entry (form, "light_h", C_ ("form", "Hours of _light"), light, NULL);
  app_form_entry (form, "height_mm", C_ ("form", "Inner _height of a home, mm"), height, NULL);
  app_form_caution (form, WORDS_CAUTION_HEAT);
  app_form_caution (form, WORDS_CAUTION_ELECTRICITY);
  app_form_show (form, "edit");
}

/* ---- move ---- */

static void
moved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;

  (void) desk_place_before_finish (DESK_DESK (source), result, &error);
  app_form_done (form, C_ ("form", "Saved. Ctrl+Z takes it back."), error);
}

static void
move_submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  const char *before = app_form_get (form, "before");
  g_autoptr (GError) error = NULL;
  CoreId place, next = { { 0 } };

  if (!core_id_from_text (app_form_get (form, "place"), &place))
    {
      app_form_problem_at (form, "place", C_ ("form", "Choose the place to which it goes."));
      return;
    }
  if (before[0] != '\0')
    {
      g_autoptr (DeskSubject) neighbour = desk_find (desk, before, &error);

      if (neighbour == NULL)
        {
          app_form_done (form, NULL, error);
          return;
        }
      next = desk_subject_id (neighbour);
    }
  desk_place_before_async (desk, app_form_id (form), place, next, moved_cb, g_object_ref (form));
}

void
app_dialog_move (AppWindow *window, CoreId id)
{
  Desk *desk = app_window_get_desk (window);
  g_autoptr (GPtrArray) places = desk_places (desk);
  g_autoptr (DeskSubject) animal = desk_get (desk, id);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GPtrArray) values = g_ptr_array_new_with_free_func (g_free);
  AppForm *form = app_form_new_about (window, id, C_ ("form title", "Move %s"), C_ ("form", "_Move"), move_submit);
  CoreId now = { { 0 } };
  guint selected = 0;

  if (animal != NULL)
    (void) desk_subject_shelf (animal, &now);
  for (guint i = 0; i < places->len; i++)
    {
      char text[37];

      core_id_to_text (desk_subject_id (g_ptr_array_index (places, i)), text);
      g_ptr_array_add (names, (gpointer) desk_place_name (g_ptr_array_index (places, i)));
      g_ptr_array_add (values, g_strdup (text));
      if (core_id_equal (desk_subject_id (g_ptr_array_index (places, i)), now))
        selected = i;
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (values, NULL);
  app_form_choice (form, "place", C_ ("form", "_Shelf"), (const char *const *) names->pdata,
                   (const char *const *) values->pdata, selected);
  app_form_entry (form, "before", C_ ("form", "_Before cup"), NULL, C_ ("form", "a number; empty: at the end"));
  app_form_show (form, "move");
}
