/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-profiles-page.c — see app-profiles-page.h. */
#include "app/app-profiles-page.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-drop-down.h"
#include "app/app-profile-row.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "app/app-wrap.h"
#include "words/words-profile.h"
#include "words/words-tr.h"

struct _AppProfilesPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkDropDown *kinds;
  GtkLabel *scientific;
  GtkLabel *state;
  GtkWidget *give;
  GtkWidget *take;
  GtkWidget *reset;
  GtkBox *rows;
  GtkBox *sources;

  /* Owned */
  DeskProfileView *view; /* that is shown; NULL = no journal */
  GPtrArray *names;      /* scientific, in the order of the list */
  GPtrArray *shown;      /* AppProfileRow *, borrowed */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppProfilesPage, app_profiles_page, APP_TYPE_DESK_PAGE)

static void refresh (AppProfilesPage *self);

/* What a keeper asks for first. */
static const char *const order[] = { "climate", "care",  "development", "clock", "size",
                                     "adult",   "eggs",  "sex",         "cue ",  "profile" };

/* ---- the list of kinds ---- */

static int
by_name (gconstpointer a, gconstpointer b)
{
  const CoreProfile *const *left = a, *const *right = b;

  if ((*left)->general != (*right)->general)
    return (*left)->general ? 1 : -1; /* the unknown kind last */
  return g_utf8_collate (app_profile_name (*left), app_profile_name (*right));
}

static void
fill_kinds (AppProfilesPage *self, Desk *desk)
{
  g_autoptr (GPtrArray) profiles = g_ptr_array_copy ((GPtrArray *) desk_profiles (desk), NULL, NULL);
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autofree char *was = self->view != NULL ? g_strdup (self->view->profile->scientific) : NULL;
  g_autoptr (GPtrArray) before = g_steal_pointer (&self->names);
  gboolean same;

  g_ptr_array_sort (profiles, by_name);
  self->names = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < profiles->len; i++)
    {
      const CoreProfile *profile = profiles->pdata[i];

      g_ptr_array_add (self->names, g_strdup (profile->scientific));
      gtk_string_list_append (list, app_profile_name (profile));
    }
  same = before != NULL && before->len == self->names->len;
  for (guint i = 0; same && i < before->len; i++)
    same = g_str_equal (before->pdata[i], self->names->pdata[i]);
  if (same)
    return;
  self->filling = TRUE;
  gtk_drop_down_set_model (self->kinds, G_LIST_MODEL (list));
  for (guint i = 0; i < self->names->len; i++)
    if (g_strcmp0 (self->names->pdata[i], was) == 0)
      gtk_drop_down_set_selected (self->kinds, i);
  self->filling = FALSE;
}

static const char *
chosen (AppProfilesPage *self)
{
  guint i = gtk_drop_down_get_selected (self->kinds);

  return self->names != NULL && i < self->names->len ? self->names->pdata[i] : NULL;
}

/* ---- writing ---- */

static void
said (AppProfilesPage *self, gboolean ok, const GError *error)
{
  AppWindow *window = app_window_of (self);

  if (window == NULL)
    return;
  if (ok)
    app_window_say (window, C_ ("form", "Saved. Ctrl+Z takes it back."));
  else
    app_window_say_error (window, error);
}

typedef struct
{
  AppProfilesPage *page; /* owned */
  AppProfileRow *row;    /* owned */
} Editing;

static void
edited_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Editing *editing = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = desk_profile_edit_finish (DESK_DESK (source), result, &error);

  if (app_desk_page_desk (editing->page) == DESK_DESK (source))
    {
      refresh (editing->page);
      if (ok)
        app_profile_row_done (editing->row);
      else
        app_profile_row_refuse (editing->row, error->message);
      said (editing->page, ok, error);
    }
  g_object_unref (editing->page);
  g_object_unref (editing->row);
  g_free (editing);
}

static void
edit_cb (AppProfileRow *row, const char *edit, AppProfilesPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  Editing *editing;

  if (desk == NULL || self->view == NULL)
    return;
  editing = g_new (Editing, 1);
  *editing = (Editing){ g_object_ref (self), g_object_ref (row) };
  desk_profile_edit_async (desk, self->view->profile->scientific, (const char *const[]){ edit, NULL }, NULL, edited_cb,
                           editing);
}

static void
reset_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppProfilesPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = desk_profile_reset_finish (DESK_DESK (source), result, &error);

  refresh (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->kinds));
  said (self, ok, error);
}

static void
reset_cb (GtkButton *button, AppProfilesPage *self)
{
  Desk *desk = app_desk_page_desk (self);

  if (desk != NULL && self->view != NULL)
    desk_profile_reset_async (desk, self->view->profile->scientific, NULL, reset_done_cb, g_object_ref (self));
}

/* ---- files ---- */

static void
given_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppProfilesPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = desk_profile_give_finish (result, &error);
  AppWindow *window = app_window_of (self);

  if (window != NULL && ok)
    app_window_say (window, C_ ("profiles", "The file is written. Whoever takes it in sees first what it would change."));
  else if (window != NULL)
    app_window_say_error (window, error);
}

static void
give_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppProfilesPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);
  Desk *desk = app_desk_page_desk (self);
  AppWindow *window = app_window_of (self);
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (desk == NULL || window == NULL || self->view == NULL)
    return;
  if (path != NULL)
    desk_profile_give_async (desk, self->view->profile->scientific, path, TRUE, app_window_cancellable (window), given_cb,
                             g_object_ref (self));
  else if (file != NULL)
    app_window_say (window, C_ ("backups", "The file must lie on this computer or a mounted disk."));
  else
    app_window_say_error (window, error);
}

static void
give_cb (GtkButton *button, AppProfilesPage *self)
{
  AppWindow *window = app_window_of (self);
  g_autofree char *name = self->view != NULL ? desk_profile_file_name (self->view->profile) : NULL;

  if (window != NULL && name != NULL)
    app_choose_save_async (GTK_WINDOW (window), C_ ("profiles", "Give out as a file"), name,
                           app_window_cancellable (window), give_chosen_cb, g_object_ref (self));
}

typedef struct
{
  AppProfilesPage *page; /* owned */
  DeskProfileFile *file; /* owned */
} Taking;

static void
taking_free (Taking *self)
{
  g_object_unref (self->page);
  desk_profile_file_free (self->file);
  g_free (self);
}

static void
taken_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Taking *taking = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = desk_profile_take_finish (DESK_DESK (source), result, &error);

  refresh (taking->page);
  if (ok)
    app_profiles_page_show_kind (taking->page, taking->file->scientific);
  said (taking->page, ok, error);
  taking_free (taking);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, Taking *taking)
{
  Desk *desk = app_desk_page_desk (taking->page);

  if (desk != NULL && strcmp (response, "take") == 0)
    desk_profile_take_async (desk, taking->file, NULL, taken_cb, taking);
  else
    taking_free (taking);
}

#define MOST_LINES 12

/* "Mist every: 1–2 days → 2–3 days", one a line. */
static char *
changes_words (const DeskProfileFile *file)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < file->changes->len && i < MOST_LINES; i++)
    {
      const DeskProfileValue *value = file->changes->pdata[i];
      g_autofree char *to = words_profile_value (WORDS_LOCAL, value->group, value->key, value->value);
      g_autofree char *from =
        value->shipped != NULL ? words_profile_value (WORDS_LOCAL, value->group, value->key, value->shipped) : NULL;

      g_string_append_printf (out, "%s%s: %s%s%s", i > 0 ? "\n" : "",
                              words_profile_label (WORDS_LOCAL, value->group, value->key), from != NULL ? from : "",
                              from != NULL ? " → " : "", to);
    }
  if (file->changes->len > MOST_LINES)
    {
      guint more = file->changes->len - MOST_LINES;

      g_string_append_c (out, '\n');
      g_string_append_printf (out, TN_ (WORDS_LOCAL, "profiles", "and %u more", "and %u more", more), more);
    }
  return g_string_free (out, FALSE);
}

static void
ask (AppProfilesPage *self, AppWindow *window, DeskProfileFile *file)
{
  g_autofree char *changes = changes_words (file);
  g_autofree char *title =
    file->known ? g_strdup_printf (C_ ("profiles", "Take in values of %s?"), file->scientific)
                : g_strdup_printf (C_ ("profiles", "Take in a new kind, %s?"), file->scientific);
  GtkWidget *dialog = adw_message_dialog_new (GTK_WINDOW (window), title, changes);
  Taking *taking = g_new (Taking, 1);

  *taking = (Taking){ g_object_ref (self), file };
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", C_ ("profiles", "_Cancel"), "take",
                                    C_ ("profiles", "_Take in"), NULL);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "take");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect (dialog, "response", G_CALLBACK (answered_cb), taking);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppProfilesPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProfileFile) file = desk_profile_look_finish (result, &error);
  AppWindow *window = app_window_of (self);

  if (window == NULL)
    return;
  if (file == NULL)
    app_window_say_error (window, error);
  else if (file->changes->len == 0)
    app_window_say (window, C_ ("profiles", "The file says nothing that is not so already."));
  else
    ask (self, window, g_steal_pointer (&file));
}

void
app_profiles_page_take (AppProfilesPage *self, const char *path)
{
  Desk *desk = app_desk_page_desk (self);

  if (desk != NULL)
    desk_profile_look_async (desk, path, NULL, looked_cb, g_object_ref (self));
}

static void
take_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppProfilesPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);
  AppWindow *window = app_window_of (self);
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (window == NULL)
    return;
  if (path != NULL)
    app_profiles_page_take (self, path);
  else if (file != NULL)
    app_window_say (window, C_ ("backups", "The file must lie on this computer or a mounted disk."));
  else
    app_window_say_error (window, error);
}

static void
take_cb (GtkButton *button, AppProfilesPage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_choose_profile_async (GTK_WINDOW (window), app_window_cancellable (window), take_chosen_cb, g_object_ref (self));
}

/* ---- what it shows ---- */

static char *
state_words (const DeskProfileView *view)
{
  if (view->problem != NULL)
    return g_strdup_printf (C_ ("profiles", "Your own values do not fit and are not used: %s"), view->problem);
  if (!view->shipped)
    return g_strdup (C_ ("profiles", "A kind that you took in; Mantidary ships nothing about it."));
  if (view->n_own == 0)
    return g_strdup (C_ ("profiles", "As shipped. A value that you change is kept in this journal, and the forecast goes by it at once."));
  if (view->moved_on)
    return g_strdup_printf (TN_ (WORDS_LOCAL, "profiles",
                                 "%u value is your own. What is shipped has changed since.",
                                 "%u values are your own. What is shipped has changed since.", view->n_own),
                            view->n_own);
  return g_strdup_printf (TN_ (WORDS_LOCAL, "profiles", "%u value is your own.", "%u values are your own.", view->n_own),
                          view->n_own);
}

static void
add_rows_of (AppProfilesPage *self, const char *prefix)
{
  const char *last = "";

  for (guint i = 0; i < self->view->values->len; i++)
    {
      const DeskProfileValue *value = self->view->values->pdata[i];
      gboolean fits = g_str_has_suffix (prefix, " ") ? g_str_has_prefix (value->group, prefix)
                                                     : g_str_equal (value->group, prefix);
      GtkWidget *row;

      if (!fits || g_str_equal (value->key, "scientific") || g_str_equal (value->key, "general"))
        continue;
      if (!g_str_equal (value->group, last))
        {
          g_autofree char *title = words_profile_group (WORDS_LOCAL, value->group);
          GtkLabel *heading = app_text (GTK_WIDGET (self->rows), title, "title");

          gtk_widget_set_margin_top (GTK_WIDGET (heading), 24);
          last = value->group;
        }
      row = app_profile_row_new (value->group, value->key);
      g_signal_connect_object (row, "edit", G_CALLBACK (edit_cb), self, 0);
      gtk_box_append (self->rows, row);
      g_ptr_array_add (self->shown, row);
    }
}

static gboolean
rows_fit (AppProfilesPage *self)
{
  guint n = 0;

  for (guint i = 0; i < self->view->values->len; i++)
    {
      const DeskProfileValue *value = self->view->values->pdata[i];
      gboolean found = g_str_equal (value->key, "scientific") || g_str_equal (value->key, "general");

      for (guint k = 0; !found && k < self->shown->len; k++)
        found = app_profile_row_is (self->shown->pdata[k], value->group, value->key);
      if (!found)
        return FALSE;
      n++;
    }
  return n == self->shown->len + 2;
}

static void
fill_sources (AppProfilesPage *self)
{
  const GPtrArray *sources = self->view->sources;

  app_box_empty (self->sources);
  for (guint i = 0; i < sources->len; i++)
    {
      g_autofree char *text = g_strdup_printf ("[%u] %s", i + 1, ((DeskProfileSource *) sources->pdata[i])->text);

      if (i == 0)
        gtk_widget_set_margin_top (GTK_WIDGET (app_text (GTK_WIDGET (self->sources), C_ ("profiles", "Sources"), "title")), 24);
      gtk_label_set_max_width_chars (app_text (GTK_WIDGET (self->sources), text, "dim"), 76);
    }
}

static void
fill_rows (AppProfilesPage *self, gboolean editable)
{
  g_autofree const char **ids = g_new0 (const char *, self->view->sources->len + 1);

  for (guint i = 0; i < self->view->sources->len; i++)
    ids[i] = ((DeskProfileSource *) self->view->sources->pdata[i])->id;
  if (!rows_fit (self))
    {
      g_ptr_array_set_size (self->shown, 0);
      app_box_empty (self->rows);
      for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
        add_rows_of (self, order[i]);
    }
  for (guint i = 0; i < self->shown->len; i++)
    app_profile_row_show (self->shown->pdata[i], self->view, ids, editable);
}

static void
show_view (AppProfilesPage *self, Desk *desk, DeskProfileView *view)
{
  DeskProfileView *before = self->view;
  g_autofree char *words = state_words (view);
  gboolean editable = !desk_read_only (desk);

  if (before != NULL && !g_str_equal (before->profile->scientific, view->profile->scientific))
    {
      g_ptr_array_set_size (self->shown, 0); /* another kind begins anew, with no field open */
      app_box_empty (self->rows);
    }
  self->view = view;
  gtk_label_set_label (self->scientific, view->profile->general ? "" : view->profile->scientific);
  gtk_widget_set_visible (GTK_WIDGET (self->scientific), !view->profile->general);
  gtk_label_set_label (self->state, words);
  gtk_widget_set_visible (self->reset, view->n_own > 0 || view->problem != NULL);
  gtk_button_set_label (GTK_BUTTON (self->reset), view->shipped ? C_ ("profiles", "All as _shipped")
                                                                : C_ ("profiles", "Take the kind _out"));
  gtk_widget_set_sensitive (self->reset, editable);
  gtk_widget_set_sensitive (self->take, editable);
  fill_rows (self, editable);
  fill_sources (self);
  desk_profile_view_free (before);
}

static void
refresh (AppProfilesPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  DeskProfileView *view;

  if (desk == NULL)
    return;
  fill_kinds (self, desk);
  view = chosen (self) != NULL ? desk_profile_view (desk, chosen (self), NULL) : NULL;
  if (view != NULL)
    show_view (self, desk, view);
}

static void
chosen_cb (GtkDropDown *kinds, GParamSpec *pspec, AppProfilesPage *self)
{
  if (self->filling)
    return;
  refresh (self);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

void
app_profiles_page_show_kind (AppProfilesPage *self, const char *scientific)
{
  refresh (self);
  for (guint i = 0; self->names != NULL && i < self->names->len; i++)
    if (g_str_equal (self->names->pdata[i], scientific))
      gtk_drop_down_set_selected (self->kinds, i);
}

/* ---- the page ---- */

static void
desk_set (AppDeskPage *page)
{
  AppProfilesPage *self = APP_PROFILES_PAGE (page);

  g_ptr_array_set_size (self->shown, 0);
  app_box_empty (self->rows);
  app_box_empty (self->sources);
  g_clear_pointer (&self->view, desk_profile_view_free);
  g_clear_pointer (&self->names, g_ptr_array_unref);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  if ((subject == NULL || desk_subject_kind (subject) == CORE_SUBJECT_JOURNAL) &&
      gtk_widget_get_mapped (GTK_WIDGET (page)))
    refresh (APP_PROFILES_PAGE (page));
}

static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (GTK_WIDGET (APP_PROFILES_PAGE (page)->kinds));
}

static void
dispose (GObject *object)
{
  AppProfilesPage *self = APP_PROFILES_PAGE (object);

  if (self->shown != NULL)
    g_ptr_array_set_size (self->shown, 0);
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_PROFILES_PAGE);
  g_clear_pointer (&self->shown, g_ptr_array_unref);
  g_clear_pointer (&self->names, g_ptr_array_unref);
  g_clear_pointer (&self->view, desk_profile_view_free);
  G_OBJECT_CLASS (app_profiles_page_parent_class)->dispose (object);
}

static void
app_profiles_page_class_init (AppProfilesPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  g_type_ensure (APP_TYPE_WRAP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/profiles-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, kinds);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, scientific);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, state);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, give);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, take);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, reset);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, rows);
  gtk_widget_class_bind_template_child (widget_class, AppProfilesPage, sources);
}

static void
app_profiles_page_init (AppProfilesPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->shown = g_ptr_array_new ();
  app_drop_down_mend (self->kinds, TRUE);
  g_signal_connect_object (self->kinds, "notify::selected", G_CALLBACK (chosen_cb), self, 0);
  g_signal_connect_object (self->give, "clicked", G_CALLBACK (give_cb), self, 0);
  g_signal_connect_object (self->take, "clicked", G_CALLBACK (take_cb), self, 0);
  g_signal_connect_object (self->reset, "clicked", G_CALLBACK (reset_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (refresh), NULL);
}

GtkWidget *
app_profiles_page_new (void)
{
  return g_object_new (APP_TYPE_PROFILES_PAGE, NULL);
}
