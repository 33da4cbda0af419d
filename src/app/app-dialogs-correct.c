/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-correct.c — one entry corrected: its day and the values of its kind.
 *
 * The rows come from the table of kinds, so that a new kind needs no form of its own. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>

#include "app/app-dialogs-private.h"
#include "app/app-form.h"
#include "app/app-view.h"
#include "core/core-date.h"

static void
corrected_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  CoreId id;

  (void) desk_correct_finish (DESK_DESK (source), result, &id, &error);
  app_form_done (form, C_ ("form", "Corrected. Ctrl+Z takes it back."), error);
}

static gboolean
can_be_typed (const CoreKindKey *key)
{
  return key->type != CORE_VALUE_REF && key->type != CORE_VALUE_LIST && key->type != CORE_VALUE_DIST
         && key->key != CORE_KEY_HASH && key->key != CORE_KEY_KEY;
}

static void
add_day_pair (GPtrArray *pairs, const char *name, CoreDay day)
{
  char text[11] = "";

  if (day != CORE_DAY_NONE)
    core_day_to_text (day, text);
  g_ptr_array_add (pairs, g_strdup_printf ("%s=%s", name, text));
}

static void
submit (AppForm *form)
{
  Desk *desk = app_window_get_desk (app_form_window (form));
  const CoreEntry *entry = desk_entry (desk, app_form_id (form));
  g_autoptr (GPtrArray) pairs = g_ptr_array_new_with_free_func (g_free);
  const CoreKindKey *keys = entry != NULL ? core_kind_info (entry->kind)->keys : NULL;
  CoreDay day, earliest;

  if (entry == NULL || !app_form_get_span (form, "day", "earliest", &day, &earliest))
    return;
  if (day != CORE_DAY_NONE)
    add_day_pair (pairs, "day", day);
  if (earliest != entry->earliest)
    add_day_pair (pairs, "earliest", earliest);
  for (gsize i = 0; keys[i].key != CORE_KEY_NONE; i++)
    {
      char *pair = can_be_typed (&keys[i]) ? app_form_pair (form, keys[i].name) : NULL;

      if (pair != NULL)
        g_ptr_array_add (pairs, keys[i].type == CORE_VALUE_REAL ? g_strdelimit (pair, ",", '.') : pair);
    }
  g_ptr_array_add (pairs, NULL);
  desk_correct_async (desk, entry->id, (const char *const *) pairs->pdata, corrected_cb, g_object_ref (form));
}

static char *
value_text (const CoreEntry *entry, const CoreKindKey *key)
{
  const CoreValue *value = core_entry_get (entry, key->key);
  char number[32];

  if (value == NULL)
    return g_strdup ("");
  if (key->type == CORE_VALUE_TEXT)
    return g_strdup (value->text);
  if (key->type == CORE_VALUE_DAY)
    {
      core_day_to_text ((CoreDay) value->n, number);
      return g_strdup (number);
    }
  core_number_format (value->n, 3, number);
  return g_strdup (number);
}

/* The usual temperature of a place: what is typed, beside the other as it is. */
static void
temperature_cb (GtkEditable *editable, GtkLabel *caution)
{
  AppForm *form = APP_FORM (gtk_widget_get_ancestor (GTK_WIDGET (editable), APP_TYPE_FORM));
  Desk *desk = app_window_get_desk (app_form_window (form));
  const CoreEntry *entry = desk_entry (desk, app_form_id (form));
  g_autoptr (DeskSubject) place = entry != NULL ? desk_get (desk, entry->subject) : NULL;
  const CorePlaceState *now = place != NULL ? &desk_subject_state (place)->place : NULL;
  double value = _app_typed (form, "value");
  gboolean day;

  if (now == NULL)
    return;
  day = g_strcmp0 (core_entry_str (entry, CORE_KEY_KEY), "day_c") == 0;
  _app_say_past (caution, desk,
                       desk_temperatures_past (desk, entry->subject, day ? value : now->day_c,
                                               day ? now->night_c : value));
}

static gboolean
is_temperature (const CoreEntry *entry)
{
  const char *key = entry->kind == CORE_KIND_SET ? core_entry_str (entry, CORE_KEY_KEY) : NULL;

  return g_strcmp0 (key, "day_c") == 0 || g_strcmp0 (key, "night_c") == 0;
}

static void
add_key_row (AppForm *form, const CoreEntry *entry, const CoreKindKey *key)
{
  const char *label = words_key (WORDS_LOCAL, key->key);
  g_autofree char *value = NULL;
  GtkWidget *row;

  if (key->type == CORE_VALUE_CODE)
    {
      g_autoptr (GPtrArray) names = g_ptr_array_new ();
      g_autoptr (GPtrArray) values = g_ptr_array_new ();
      int now = core_entry_code (entry, key->key, -1);

      g_ptr_array_add (names, (gpointer) C_ ("form", "not said"));
      g_ptr_array_add (values, (gpointer) "");
      for (gsize i = 0; key->words[i] != NULL; i++)
        {
          g_ptr_array_add (names, (gpointer) words_code (WORDS_LOCAL, entry->kind, key->key, (int) i));
          g_ptr_array_add (values, (gpointer) key->words[i]);
        }
      g_ptr_array_add (names, NULL);
      g_ptr_array_add (values, NULL);
      app_form_choice (form, key->name, label, (const char *const *) names->pdata,
                       (const char *const *) values->pdata, (guint) (now + 1));
      return;
    }
  value = value_text (entry, key);
  row = app_form_entry (form, key->name, label, value, NULL);
  if (key->key == CORE_KEY_VALUE && is_temperature (entry))
    {
      GtkWidget *caution = _app_past_row (form);

      g_signal_connect_object (row, "changed", G_CALLBACK (temperature_cb), caution, 0);
      gtk_widget_set_visible (caution, FALSE);
    }
}

void
app_dialog_correct (AppWindow *window, CoreId id)
{
  Desk *desk = app_window_get_desk (window);
  const CoreEntry *entry = desk_entry (desk, id);
  g_autoptr (DeskSubject) about = NULL;
  g_autofree char *title = NULL;
  const CoreKindKey *keys;
  AppForm *form;

  if (entry == NULL)
    return;
  keys = core_kind_info (entry->kind)->keys;
  about = desk_get (desk, entry->subject);
  title = g_strdup_printf (C_ ("form title", "%s: %s"), about != NULL ? desk_subject_label (about) : "",
                           words_kind (WORDS_LOCAL, entry->kind));
  form = app_form_new (window, title, C_ ("form", "Co_rrect"), submit);
  app_form_set_id (form, id);
  app_form_day (form, "day", C_ ("form", "_Day"), entry->day);
  app_form_day (form, "earliest", C_ ("form", "_Not before"), entry->earliest);
  for (gsize i = 0; keys[i].key != CORE_KEY_NONE; i++)
    if (can_be_typed (&keys[i]))
      add_key_row (form, entry, &keys[i]);
  app_form_note (form, C_ ("form", "The entry as it was stays readable in the timeline."));
  app_form_show (form, "correct");
}
