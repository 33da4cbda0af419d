/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-form.c — see app-form.h. */
#include "app/app-form.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/app-doubt.h"
#include "app/app-drop-down.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "desk/desk-doubt.h"

struct _AppForm
{
  GtkWindow parent_instance;

  /* Children, borrowed */
  GtkGrid *grid;
  GtkLabel *problem;
  GtkWidget *accept;
  int rows;

  /* Weak: a write may end after the keeper closed both */
  AppWindow *window;
  GtkWidget *came_from; /* had the focus in the window */
  GtkWidget *typed_in; /* had the focus when the form was accepted last */

  /* Owned */
  Desk *desk;         /* the journal that the form writes to */
  char *draft;        /* key of what is being typed; NULL = not kept */
  GHashTable *fields; /* key -> GtkWidget * (borrowed) */
  AppFormSubmit submit;
  CoreId id;
  guint n_written; /* entries in the round that is being written */
  gboolean closed;
};

G_DEFINE_FINAL_TYPE (AppForm, app_form, GTK_TYPE_WINDOW)

static void
add_row (AppForm *self, const char *key, const char *label, GtkWidget *field)
{
  GtkWidget *words = gtk_label_new_with_mnemonic (label);

  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (words), field);
  gtk_widget_add_css_class (words, "dim");
  gtk_widget_set_hexpand (field, TRUE);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_RELATION_LABELLED_BY, words, NULL, -1);
  gtk_grid_attach (self->grid, words, 0, self->rows, 1, 1);
  gtk_grid_attach (self->grid, field, 1, self->rows++, 1, 1);
  g_object_set_data_full (G_OBJECT (field), "label", g_strdup (label), g_free);
  g_hash_table_insert (self->fields, g_strdup (key), field);
}

/* Never narrower than it is shown: a window that may not be resized is as tall as its words at their
 * narrowest, which would leave an empty strip below the buttons. */
static void
as_wide_as_the_form (GtkLabel *label)
{
  gtk_label_set_width_chars (label, 68);
  gtk_label_set_max_width_chars (label, 68);
}

GtkWidget *
app_form_note (AppForm *self, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  g_return_val_if_fail (APP_IS_FORM (self), label);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  as_wide_as_the_form (GTK_LABEL (label));
  gtk_widget_add_css_class (label, "dim");
  gtk_grid_attach (self->grid, label, 0, self->rows++, 2, 1);
  return label;
}

void
app_form_caution (AppForm *self, WordsCaution caution)
{
  g_return_if_fail (APP_IS_FORM (self));
  if (desk_caution_on (self->desk, caution))
    app_form_note (self, words_caution_line (WORDS_LOCAL, caution));
}

GtkWidget *
app_form_entry (AppForm *self, const char *key, const char *label, const char *value, const char *placeholder)
{
  GtkWidget *entry = gtk_entry_new ();

  g_return_val_if_fail (APP_IS_FORM (self), NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), value != NULL ? value : "");
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), placeholder);
  gtk_entry_set_max_length (GTK_ENTRY (entry), 1000);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  add_row (self, key, label, entry);
  return entry;
}

void
app_form_beside (AppForm *self, GtkWidget *field, GtkWidget *beside)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  g_return_if_fail (APP_IS_FORM (self));
  g_object_ref (field);
  gtk_grid_remove (self->grid, field);
  gtk_box_append (GTK_BOX (box), field);
  gtk_box_append (GTK_BOX (box), beside);
  gtk_grid_attach (self->grid, box, 1, self->rows - 1, 1, 1);
  g_object_unref (field);
}

GtkWidget *
app_form_choice (AppForm *self,
                 const char *key,
                 const char *label,
                 const char *const *names,
                 const char *const *values,
                 guint selected)
{
  GtkWidget *choice = gtk_drop_down_new_from_strings (names);

  g_return_val_if_fail (APP_IS_FORM (self), NULL);
  app_drop_down_mend (GTK_DROP_DOWN (choice), TRUE);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), selected);
  g_object_set_data_full (G_OBJECT (choice), "values", g_strdupv ((char **) values), (GDestroyNotify) g_strfreev);
  add_row (self, key, label, choice);
  return choice;
}

GtkWidget *
app_form_widget (AppForm *self, const char *key, GtkWidget *widget)
{
  GtkWidget *kept = gtk_entry_new ();

  g_return_val_if_fail (APP_IS_FORM (self), NULL);
  gtk_widget_set_visible (kept, FALSE);
  gtk_grid_attach (self->grid, widget, 0, self->rows++, 2, 1);
  gtk_grid_attach (self->grid, kept, 0, self->rows++, 2, 1);
  g_hash_table_insert (self->fields, g_strdup (key), kept);
  return kept;
}

char *
app_form_number (double value, int decimals)
{
  char text[32];

  if (isnan (value))
    return g_strdup ("");
  core_number_format (value, decimals, text);
  return g_strdup (text);
}

const char *
app_form_get (AppForm *self, const char *key)
{
  GtkWidget *field;

  g_return_val_if_fail (APP_IS_FORM (self), "");
  field = g_hash_table_lookup (self->fields, key);
  if (field == NULL)
    return "";
  if (GTK_IS_DROP_DOWN (field))
    {
      char **values = g_object_get_data (G_OBJECT (field), "values");
      guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (field));

      return chosen < g_strv_length (values) ? values[chosen] : "";
    }
  return gtk_editable_get_text (GTK_EDITABLE (field));
}

char *
app_form_pair (AppForm *self, const char *key)
{
  g_autofree char *value = g_strstrip (g_strdup (app_form_get (self, key)));

  if (GTK_IS_DROP_DOWN (g_hash_table_lookup (self->fields, key)) && g_str_equal (value, "?"))
    return NULL;
  return value[0] != '\0' ? g_strdup_printf ("%s=%s", key, value) : NULL;
}

char *
app_form_label (AppForm *self, const char *key)
{
  GtkWidget *field;
  const char *label;
  g_auto (GStrv) parts = NULL;

  g_return_val_if_fail (APP_IS_FORM (self), NULL);
  field = g_hash_table_lookup (self->fields, key);
  label = field != NULL ? g_object_get_data (G_OBJECT (field), "label") : NULL;
  parts = label != NULL ? g_strsplit (label, "_", 2) : NULL;
  return parts != NULL ? g_strjoinv ("", parts) : NULL;
}

/* ---- the draft ---- */

static void
forget (AppForm *self)
{
  if (self->draft != NULL)
    desk_draft_set (self->desk, self->draft, NULL);
  g_clear_pointer (&self->draft, g_free);
}

/* What the keeper changed, and the days that were today when it was typed. */
static void
keep_cb (AppForm *self)
{
  g_autoptr (GString) body = g_string_new (NULL);
  gboolean typed = FALSE;
  GHashTableIter iter;
  gpointer key, field;

  if (self->closed || self->draft == NULL)
    return;
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &key, &field))
    {
      g_autofree char *value = g_strdelimit (g_strdup (app_form_get (self, key)), "\r\n", ' ');
      gboolean changed = !g_str_equal (value, g_object_get_data (field, "initial"));

      typed = typed || changed;
      if (changed || g_object_get_data (field, "of-today") != NULL)
        g_string_append_printf (body, "%s=%s\n", (const char *) key, value);
    }
  desk_draft_set (self->desk, self->draft, typed ? body->str : NULL);
}

static gboolean
put_back (GtkWidget *field, const char *value)
{
  char **values;

  if (!GTK_IS_DROP_DOWN (field))
    {
      gtk_editable_set_text (GTK_EDITABLE (field), value);
      return TRUE;
    }
  values = g_object_get_data (G_OBJECT (field), "values");
  for (guint i = 0; values[i] != NULL; i++)
    if (g_str_equal (values[i], value))
      {
        gtk_drop_down_set_selected (GTK_DROP_DOWN (field), i);
        return TRUE;
      }
  return FALSE;
}

/* A key that this form does not have is left out. */
static gboolean
put_back_all (AppForm *self, const char *draft)
{
  g_auto (GStrv) lines = g_strsplit (draft, "\n", -1);
  gboolean any = FALSE;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      char *equals = strchr (lines[i], '=');
      GtkWidget *field;

      if (equals == NULL)
        continue;
      *equals = '\0';
      field = g_hash_table_lookup (self->fields, lines[i]);
      if (field != NULL && put_back (field, equals + 1))
        any = TRUE;
    }
  return any;
}

static void
say_again (AppForm *self)
{
  GtkWidget *label = gtk_label_new (C_ ("form", "What you typed before is here again."));

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "strong");
  gtk_grid_insert_row (self->grid, 0);
  gtk_grid_attach (self->grid, label, 0, 0, 2, 1);
  self->rows++;
}

void
app_form_show (AppForm *self, const char *kind)
{
  g_autofree char *draft = NULL;
  char id[37];
  GHashTableIter iter;
  gpointer key, field;

  g_return_if_fail (APP_IS_FORM (self));
  core_id_to_text (self->id, id);
  self->draft = g_strdup_printf ("form/%s/%s", kind, id);
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &key, &field))
    g_object_set_data_full (field, "initial", g_strdup (app_form_get (self, key)), g_free);
  draft = desk_draft_get (self->desk, self->draft);
  if (draft != NULL && put_back_all (self, draft))
    say_again (self);
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &key, &field))
    g_signal_connect_object (field, GTK_IS_DROP_DOWN (field) ? "notify::selected" : "changed", G_CALLBACK (keep_cb),
                             self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (self));
}

/* ---- writing ---- */

void
app_form_recorded (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  CoreId id;

  if (desk_record_finish (DESK_DESK (source), result, &id, &error))
    text = app_saved_text (DESK_DESK (source), id, 0);
  app_form_done (form, text, error);
}

/* A comma in a number is as good as a point. */
static char *
pair_of_kind (AppForm *self, const char *kind, const char *name)
{
  const CoreKindKey *key = core_kind_key_by_name (core_kind_from_name (kind), name);
  char *pair = app_form_pair (self, name);

  return pair != NULL && key != NULL && key->type == CORE_VALUE_REAL ? g_strdelimit (pair, ",", '.') : pair;
}

/* Where "not before" is asked too, the day may be several. */
static gboolean
get_days (AppForm *self, CoreDay *day, CoreDay *earliest)
{
  *earliest = CORE_DAY_NONE;
  return g_hash_table_contains (self->fields, "earliest") ? app_form_get_span (self, "day", "earliest", day, earliest)
                                                          : app_form_get_day (self, "day", day);
}

/* What a form is about to record. */
typedef struct
{
  const char *kind; /* static */
  GStrv pairs;
  CoreDay day, earliest;
} Record;

static void
record_free (gpointer data)
{
  Record *record = data;

  g_strfreev (record->pairs);
  g_free (record);
}

static void
record (AppForm *self, gpointer data)
{
  const Record *what = data;

  if (self->desk != NULL)
    desk_record_async (self->desk, self->id, what->kind, (const char *const *) what->pairs, what->day, what->earliest, -1,
                       NULL, app_form_recorded, g_object_ref (self));
}

void
app_form_record (AppForm *self, const char *kind, const char *const *keys)
{
  g_autoptr (GPtrArray) pairs = g_ptr_array_new ();
  g_autofree char *doubt = NULL;
  Record *what;
  CoreDay day, earliest;

  g_return_if_fail (APP_IS_FORM (self));
  if (!get_days (self, &day, &earliest))
    return;
  if (day == CORE_DAY_NONE)
    {
      app_form_problem_at (self, "day", C_ ("form", "On which day? A day is needed here."));
      return;
    }
  for (gsize i = 0; keys[i] != NULL; i++)
    {
      char *pair = pair_of_kind (self, kind, keys[i]);

      if (pair != NULL)
        g_ptr_array_add (pairs, pair);
    }
  g_ptr_array_add (pairs, NULL);
  what = g_new (Record, 1);
  *what = (Record){ kind, (GStrv) g_ptr_array_free (g_steal_pointer (&pairs), FALSE), day, earliest };
  doubt = desk_doubt_of_record (self->desk, self->id, kind, (const char *const *) what->pairs, day,
                                DESK_DOUBT_SLIP, WORDS_LOCAL);
  app_doubt_ask (self, doubt, record, what, record_free);
}

CoreEntry *
app_form_set_new (AppForm *self, const char *key, const char *value)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_SET);

  entry->subject = self->id;
  entry->day = desk_today (self->desk);
  (void) core_entry_set_text (entry, "key", key);
  (void) core_entry_set_text (entry, "value", value);
  return entry;
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  CoreId first;

  if (desk_write_finish (DESK_DESK (source), result, &first, &error))
    text = app_saved_text (DESK_DESK (source), first, form->n_written - 1);
  app_form_done (form, text, error);
}

void
app_form_set_if_changed (AppForm *self, GPtrArray *entries, const char *key, const char *before)
{
  g_autofree char *typed = g_strstrip (g_strdup (app_form_get (self, key)));

  if (!g_str_equal (typed, before != NULL ? before : ""))
    g_ptr_array_add (entries, app_form_set_new (self, key, typed));
}

void
app_form_write (AppForm *self, GPtrArray *entries)
{
  g_return_if_fail (APP_IS_FORM (self));
  if (entries->len > 0)
    {
      self->n_written = entries->len;
      desk_write_async (self->desk, entries, NULL, written_cb, g_object_ref (self));
      return;
    }
  g_ptr_array_unref (entries);
  app_form_done (self, NULL, NULL);
}

/* ---- the end ---- */

static void
set_problem (AppForm *self, const char *text)
{
  gtk_label_set_label (self->problem, text);
  gtk_widget_set_visible (GTK_WIDGET (self->problem), text[0] != '\0');
}

/* The button that was pressed could not keep the focus while it was greyed. */
void
app_form_problem_at (AppForm *self, const char *key, const char *text)
{
  GtkWidget *field;

  g_return_if_fail (APP_IS_FORM (self));
  field = key != NULL ? g_hash_table_lookup (self->fields, key) : NULL;
  set_problem (self, text);
  gtk_widget_set_sensitive (self->accept, TRUE);
  if (field != NULL || self->typed_in != NULL)
    gtk_widget_grab_focus (field != NULL ? field : self->typed_in);
  else
    gtk_widget_child_focus (GTK_WIDGET (self->grid), GTK_DIR_TAB_FORWARD);
}

void
app_form_problem (AppForm *self, const char *text)
{
  app_form_problem_at (self, NULL, text);
}

/* The desk names a value as the command line does, "day_c=warm"; here it has the name of its field. */
static char *
problem_text (AppForm *self, const GError *error, const char *key, const char *value)
{
  g_autofree char *text = app_error_text (error);
  g_autofree char *label = key != NULL ? app_form_label (self, key) : NULL;
  g_autofree char *typed = label != NULL ? g_strdup_printf ("%s=%s", key, value) : NULL;
  g_autofree char *alone = label != NULL ? g_strdup_printf ("%s:", key) : NULL;
  const char *at = typed != NULL ? strstr (text, typed) : NULL;

  if (label == NULL)
    return g_steal_pointer (&text);
  if (at != NULL)
    return g_strdup_printf ("%.*s%s: %s%s", (int) (at - text), text, label, value, at + strlen (typed));
  if (g_str_has_prefix (text, alone))
    return g_strdup_printf ("%s%s", label, text + strlen (key));
  return g_strdup_printf ("%s: %s", label, text);
}

/* The desk says of a day to come only that it is one. */
static const char *
day_to_come (AppForm *self)
{
  GHashTableIter iter;
  gpointer key, field;

  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &key, &field))
    if (app_form_day_is_to_come (field, desk_today (self->desk)))
      return key;
  return NULL;
}

/* The next letter is meant for the cup or page over which the form was opened. */
static void
give_keys_back (AppForm *self)
{
  if (self->window != NULL)
    app_window_take_keys_back (self->window, self->came_from);
}

void
app_form_done (AppForm *self, const char *text, const GError *error)
{
  g_return_if_fail (APP_IS_FORM (self));
  if (error != NULL && self->closed && self->window != NULL)
    app_window_say_error (self->window, error);
  else if (error != NULL)
    {
      const char *value;
      const char *named = desk_error_key (error, &value);
      const char *key = named != NULL ? named : day_to_come (self);
      g_autofree char *words = problem_text (self, error, key, value);

      app_form_problem_at (self, key, words);
    }
  else
    {
      forget (self);
      if (text != NULL && self->window != NULL)
        app_window_say (self->window, text);
      give_keys_back (self);
      gtk_window_destroy (GTK_WINDOW (self)); /* does nothing when it was closed meanwhile */
    }
}

static void
accept_cb (GtkButton *button, AppForm *self)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  set_problem (self, "");
  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->grid)))
    g_set_weak_pointer (&self->typed_in, focus);
  gtk_widget_set_sensitive (self->accept, FALSE); /* one press, one write */
  self->submit (self);
}

static gboolean
escape_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppForm *self)
{
  if (keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  gtk_window_close (GTK_WINDOW (self));
  return GDK_EVENT_STOP;
}

/* GTK would leave the form a transient parent that is gone while a write holds the form. */
static void
window_gone_cb (AppWindow *window, AppForm *self)
{
  self->closed = TRUE;
  gtk_window_destroy (GTK_WINDOW (self));
}

/* The keeper closes it: cancelled, and the draft with it. */
static gboolean
close_request (GtkWindow *window)
{
  forget (APP_FORM (window));
  APP_FORM (window)->closed = TRUE;
  give_keys_back (APP_FORM (window));
  return GTK_WINDOW_CLASS (app_form_parent_class)->close_request (window);
}

static void
app_form_dispose (GObject *object)
{
  APP_FORM (object)->closed = TRUE; /* what its fields lose now was not typed */
  G_OBJECT_CLASS (app_form_parent_class)->dispose (object);
}

static void
app_form_finalize (GObject *object)
{
  g_free (APP_FORM (object)->draft);
  g_clear_object (&APP_FORM (object)->desk);
  g_clear_weak_pointer (&APP_FORM (object)->window);
  g_clear_weak_pointer (&APP_FORM (object)->came_from);
  g_clear_weak_pointer (&APP_FORM (object)->typed_in);
  g_hash_table_unref (APP_FORM (object)->fields);
  G_OBJECT_CLASS (app_form_parent_class)->finalize (object);
}

static void
app_form_class_init (AppFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = app_form_finalize;
  GTK_WINDOW_CLASS (klass)->close_request = close_request;
}

static void
app_form_init (AppForm *self)
{
  GtkWidget *outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *cancel = gtk_button_new_with_mnemonic (C_ ("form", "_Cancel"));
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_row_spacing (self->grid, 9);
  gtk_grid_set_column_spacing (self->grid, 18);
  self->problem = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_wrap (self->problem, TRUE);
  gtk_label_set_xalign (self->problem, 0);
  as_wide_as_the_form (self->problem);
  gtk_widget_add_css_class (GTK_WIDGET (self->problem), "trouble");
  gtk_widget_set_visible (GTK_WIDGET (self->problem), FALSE);
  self->accept = gtk_button_new ();
  gtk_widget_add_css_class (self->accept, "suggested-action");
  g_signal_connect_object (self->accept, "clicked", G_CALLBACK (accept_cb), self, 0);
  g_signal_connect_object (cancel, "clicked", G_CALLBACK (gtk_window_close), self, G_CONNECT_SWAPPED);
  gtk_widget_set_halign (foot, GTK_ALIGN_END);
  gtk_widget_set_margin_top (foot, 6);
  gtk_box_append (GTK_BOX (foot), cancel);
  gtk_box_append (GTK_BOX (foot), self->accept);
  gtk_box_append (GTK_BOX (outer), GTK_WIDGET (self->grid));
  gtk_box_append (GTK_BOX (outer), GTK_WIDGET (self->problem));
  gtk_box_append (GTK_BOX (outer), foot);
  gtk_widget_set_margin_start (outer, 24);
  gtk_widget_set_margin_end (outer, 24);
  gtk_widget_set_margin_top (outer, 18);
  gtk_widget_set_margin_bottom (outer, 18);
  gtk_window_set_child (GTK_WINDOW (self), outer);
  gtk_window_set_default_widget (GTK_WINDOW (self), self->accept);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (escape_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

AppForm *
app_form_new (AppWindow *window, const char *title, const char *accept, AppFormSubmit submit)
{
  AppForm *self = g_object_new (APP_TYPE_FORM, "title", title, "transient-for", window, "modal", TRUE, "resizable",
                                FALSE, NULL);

  g_set_weak_pointer (&self->window, window);
  g_set_weak_pointer (&self->came_from, gtk_root_get_focus (GTK_ROOT (window)));
  g_signal_connect_object (window, "destroy", G_CALLBACK (window_gone_cb), self, 0);
  g_set_object (&self->desk, app_window_get_desk (window));
  self->submit = submit;
  gtk_button_set_use_underline (GTK_BUTTON (self->accept), TRUE);
  gtk_button_set_label (GTK_BUTTON (self->accept), accept);
  return self;
}

AppForm *
app_form_new_about (AppWindow *window, CoreId id, const char *title, const char *accept, AppFormSubmit submit)
{
  g_autoptr (DeskSubject) subject = desk_get (app_window_get_desk (window), id);
  g_autoptr (GString) words = g_string_new (title);
  const char *name = "";
  AppForm *self;

  if (subject != NULL)
    name = desk_subject_kind (subject) == CORE_SUBJECT_PLACE ? desk_place_name (subject) : desk_subject_label (subject);
  (void) g_string_replace (words, "%s", name, 1);
  self = app_form_new (window, words->str, accept, submit);
  self->id = id;
  return self;
}

void
app_form_leave_all (AppWindow *window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l != NULL; l = l->next)
    if (APP_IS_FORM (l->data) && APP_FORM (l->data)->window == window)
      window_gone_cb (window, l->data);
}

AppWindow *
app_form_window (AppForm *self)
{
  g_return_val_if_fail (APP_IS_FORM (self), NULL);
  return self->window;
}

void
app_form_set_id (AppForm *self, CoreId id)
{
  g_return_if_fail (APP_IS_FORM (self));
  self->id = id;
}

CoreId
app_form_id (AppForm *self)
{
  CoreId none = { { 0 } };

  g_return_val_if_fail (APP_IS_FORM (self), none);
  return self->id;
}
