/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-form.c — see app-form.h. */
#include "app/app-form.h"

#include <glib/gi18n.h>

#include "app/app-pages.h"
#include "core/core-date.h"

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

  /* Owned */
  GHashTable *fields; /* key -> GtkWidget * (borrowed) */
  AppFormSubmit submit;
  CoreId id;
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
  g_hash_table_insert (self->fields, g_strdup (key), field);
}

void
app_form_note (AppForm *self, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  g_return_if_fail (APP_IS_FORM (self));
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 56);
  gtk_widget_add_css_class (label, "dim");
  gtk_grid_attach (self->grid, label, 0, self->rows++, 2, 1);
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

GtkWidget *
app_form_day (AppForm *self, const char *key, const char *label, CoreDay day)
{
  char text[11] = "";

  if (day != CORE_DAY_NONE)
    core_day_to_text (day, text);
  return app_form_entry (self, key, label, text, C_ ("form", "YYYY-MM-DD, today, or -3 for three days ago"));
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
  gtk_drop_down_set_selected (GTK_DROP_DOWN (choice), selected);
  g_object_set_data_full (G_OBJECT (choice), "values", g_strdupv ((char **) values), (GDestroyNotify) g_strfreev);
  add_row (self, key, label, choice);
  return choice;
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

gboolean
app_form_get_day (AppForm *self, const char *key, CoreDay *day)
{
  g_autofree char *typed = g_strstrip (g_strdup (app_form_get (self, key)));
  CoreDay today = desk_today (app_window_get_desk (self->window));
  gint64 ago;

  *day = CORE_DAY_NONE;
  if (typed[0] == '\0')
    return TRUE;
  if (g_ascii_strcasecmp (typed, "today") == 0 || g_utf8_collate (typed, C_ ("form", "today")) == 0)
    *day = today;
  else if (g_ascii_strcasecmp (typed, "yesterday") == 0 || g_utf8_collate (typed, C_ ("form", "yesterday")) == 0)
    *day = today - 1;
  else if (typed[0] == '-' && g_ascii_string_to_signed (typed, 10, -3660, 0, &ago, NULL))
    *day = today + (CoreDay) ago;
  else
    *day = core_day_from_text (typed);
  if (*day == CORE_DAY_NONE)
    {
      g_autofree char *text = g_strdup_printf (C_ ("form", "“%s” is not a day. Write it as YYYY-MM-DD, or today, or -3 "
                                                           "for three days ago."), typed);

      app_form_problem (self, text);
    }
  return *day != CORE_DAY_NONE;
}

char *
app_form_pair (AppForm *self, const char *key)
{
  g_autofree char *value = g_strstrip (g_strdup (app_form_get (self, key)));

  return value[0] != '\0' ? g_strdup_printf ("%s=%s", key, value) : NULL;
}

void
app_form_problem (AppForm *self, const char *text)
{
  g_return_if_fail (APP_IS_FORM (self));
  gtk_label_set_label (self->problem, text);
  gtk_widget_set_visible (GTK_WIDGET (self->problem), text[0] != '\0');
  gtk_widget_set_sensitive (self->accept, TRUE);
}

void
app_form_done (AppForm *self, const char *text, const GError *error)
{
  g_return_if_fail (APP_IS_FORM (self));
  if (error != NULL && self->closed && self->window != NULL)
    app_window_say_error (self->window, error);
  else if (error != NULL)
    {
      g_autofree char *words = app_error_text (error);

      app_form_problem (self, words);
    }
  else
    {
      if (text != NULL && self->window != NULL)
        app_window_say (self->window, text);
      gtk_window_destroy (GTK_WINDOW (self)); /* does nothing when it was closed meanwhile */
    }
}

static void
accept_cb (GtkButton *button, AppForm *self)
{
  app_form_problem (self, "");
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

static gboolean
close_request (GtkWindow *window)
{
  APP_FORM (window)->closed = TRUE;
  return GTK_WINDOW_CLASS (app_form_parent_class)->close_request (window);
}

static void
app_form_finalize (GObject *object)
{
  g_clear_weak_pointer (&APP_FORM (object)->window);
  g_hash_table_unref (APP_FORM (object)->fields);
  G_OBJECT_CLASS (app_form_parent_class)->finalize (object);
}

static void
app_form_class_init (AppFormClass *klass)
{
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
  gtk_label_set_max_width_chars (self->problem, 56);
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
  g_signal_connect_object (window, "destroy", G_CALLBACK (window_gone_cb), self, 0);
  self->submit = submit;
  gtk_button_set_use_underline (GTK_BUTTON (self->accept), TRUE);
  gtk_button_set_label (GTK_BUTTON (self->accept), accept);
  return self;
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
