/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-line.c — the line, its preview, its draft; see app-round-line.h.
 *
 * Nothing is written before Return, and the preview is made by the same function
 * that writes, so that the list under the line cannot promise something else. */
#include "app/app-round-line.h"

#include <glib/gi18n.h>

#include "app/app-capped.h"
#include "app/app-caution.h"
#include "app/app-round-view.h"
#include "app/app-view.h"
#include "app/app-window.h"

#define DRAFT_MS 1000

struct _AppRoundLine
{
  GtkWidget parent_instance;

  /* Template children, borrowed */
  GtkWidget *outer;
  GtkBox *ask;
  GtkLabel *question;
  GtkEntry *entry;
  GtkLabel *hint;
  GtkWidget *capped;
  GtkGrid *lines;
  GtkLabel *caution; /* what is fed can hurt */

  /* Owned */
  Desk *desk;
  DeskSubject *place;
  char *draft_key;
  guint draft_timeout;
  const CoreRoundTerm *terms; /* borrowed, static */
  gsize n_terms;
  int n_lines;
  gboolean writing;
};

G_DEFINE_FINAL_TYPE (AppRoundLine, app_round_line, GTK_TYPE_WIDGET)

static void
clear_lines (AppRoundLine *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->lines))) != NULL)
    gtk_grid_remove (self->lines, child);
  self->n_lines = 0;
}

/* One line of the list: who, and what will be written; two to a row where there is room. */
static void
add_line (AppRoundLine *self, const char *who, const char *what, const char *css)
{
  int columns = gtk_widget_get_width (GTK_WIDGET (self)) > 900 ? 2 : 1;
  int column = self->n_lines % columns * 2;
  int row = self->n_lines / columns;
  GtkWidget *left = gtk_label_new (who);
  GtkWidget *right = gtk_label_new (what);

  gtk_label_set_xalign (GTK_LABEL (left), 0);
  gtk_label_set_width_chars (GTK_LABEL (left), 9);
  gtk_widget_set_valign (left, GTK_ALIGN_START);
  gtk_widget_add_css_class (left, css != NULL ? css : "strong");
  gtk_label_set_xalign (GTK_LABEL (right), 0);
  gtk_label_set_wrap (GTK_LABEL (right), TRUE);
  gtk_widget_set_hexpand (right, TRUE);
  gtk_widget_set_valign (right, GTK_ALIGN_START);
  if (css != NULL)
    gtk_widget_add_css_class (right, css);
  gtk_grid_attach (self->lines, left, column, row, 1, 1);
  gtk_grid_attach (self->lines, right, column + 1, row, 1, 1);
  self->n_lines++;
}

static const char *const css_classes[] = {
  [APP_ROUND_WRITES] = NULL,
  [APP_ROUND_PROBLEM] = "trouble",
  [APP_ROUND_LEFT_OUT] = "dim",
};

static void
preview (AppRoundLine *self)
{
  const char *line = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (DeskRoundPreview) made = NULL;
  g_autoptr (GPtrArray) lines = NULL;

  clear_lines (self);
  if (self->desk != NULL && self->place != NULL && line[strspn (line, " ")] != '\0')
    {
      made = desk_round_preview (self->desk, desk_subject_id (self->place), line,
                                 self->terms, self->n_terms, CORE_DAY_NONE);
      lines = app_round_preview_lines (self->desk, made, line);
      for (guint i = 0; i < lines->len; i++)
        {
          const AppRoundPreviewLine *one = g_ptr_array_index (lines, i);

          add_line (self, one->who, one->what, css_classes[one->kind]);
        }
    }
  gtk_widget_set_visible (self->capped, made != NULL);
  app_caution_set (self->caution, made != NULL ? desk_cautions_of_round (self->desk, made) : 0);
}

static gboolean
draft_cb (gpointer data)
{
  AppRoundLine *self = data;
  const char *line = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  self->draft_timeout = 0;
  if (self->desk != NULL && self->draft_key != NULL)
    desk_draft_set (self->desk, self->draft_key, line[0] != '\0' ? line : NULL);
  return G_SOURCE_REMOVE;
}

static void
keep_draft_now (AppRoundLine *self)
{
  if (self->draft_timeout == 0)
    return;
  g_clear_handle_id (&self->draft_timeout, g_source_remove);
  (void) draft_cb (self);
}

static void
changed_cb (GtkEditable *editable, AppRoundLine *self)
{
  preview (self);
  if (self->draft_timeout == 0)
    self->draft_timeout = g_timeout_add (DRAFT_MS, draft_cb, self);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppRoundLine) self = data;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);
  gsize n = 0;
  g_autofree char *text = NULL;

  self->writing = FALSE;
  gtk_editable_set_editable (GTK_EDITABLE (self->entry), TRUE);
  if (!desk_round_write_finish (DESK_DESK (source), result, &n, &error))
    {
      if (window != NULL)
        app_window_say_error (window, error);
      return;
    }
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  keep_draft_now (self);
  /* Translators: shown once the round is safely on disk. */
  text = g_strdup_printf (TN_ (WORDS_LOCAL, "round line", "Saved: %u entry. Ctrl+Z takes it back.",
                               "Saved: %u entries. Ctrl+Z takes them back.", n),
                          (guint) n);
  if (window != NULL)
    app_window_say (window, text);
}

static void
activate_cb (GtkEntry *entry, AppRoundLine *self)
{
  const char *line = gtk_editable_get_text (GTK_EDITABLE (entry));

  if (self->writing || self->desk == NULL || self->place == NULL || line[strspn (line, " ")] == '\0')
    return;
  self->writing = TRUE; /* a second Return must not write it twice */
  gtk_editable_set_editable (GTK_EDITABLE (entry), FALSE);
  desk_round_write_async (self->desk, desk_subject_id (self->place), line,
                          self->terms, self->n_terms,
                          desk_today (self->desk), NULL, written_cb, g_object_ref (self));
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppRoundLine *self)
{
  if (keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  if (gtk_editable_get_text (GTK_EDITABLE (self->entry))[0] != '\0')
    gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  else
    gtk_widget_child_focus (GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self))), GTK_DIR_TAB_BACKWARD);
  return GDK_EVENT_STOP;
}

static void
dispose (GObject *object)
{
  AppRoundLine *self = APP_ROUND_LINE (object);

  if (self->entry != NULL)
    keep_draft_now (self);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->place, desk_subject_unref);
  g_clear_pointer (&self->draft_key, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), APP_TYPE_ROUND_LINE);
  G_OBJECT_CLASS (app_round_line_parent_class)->dispose (object);
}

static void
app_round_line_class_init (AppRoundLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  g_type_ensure (APP_TYPE_CAPPED);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/round-line.ui");
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, outer);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, ask);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, question);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, entry);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, hint);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, capped);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, lines);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, caution);
}

static void
app_round_line_init (AppRoundLine *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  self->terms = words_round_terms (WORDS_LOCAL, &self->n_terms);
  g_signal_connect_object (self->entry, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (self->entry, "activate", G_CALLBACK (activate_cb), self, 0);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->entry), keys);
}

/* An example with cups that stand there: typed as it is, it would be a round. */
static void
show_example (AppRoundLine *self)
{
  g_autoptr (GPtrArray) cups = desk_animals_on (self->desk, desk_subject_id (self->place));
  const char *refused[2] = { NULL, NULL };
  const char *moulted = NULL;
  g_autofree char *numbers = NULL;
  g_autofree char *text = NULL;

  for (guint i = cups->len; i > 0; i--) /* the first cups of the shelf, and one that can moult */
    {
      DeskSubject *cup = g_ptr_array_index (cups, i - 1);

      if (desk_subject_kind (cup) != CORE_SUBJECT_ANIMAL)
        continue;
      if (moulted == NULL && cups->len > 1 && !desk_subject_state (cup)->adult)
        {
          moulted = desk_subject_label (cup);
          continue;
        }
      refused[1] = refused[0];
      refused[0] = desk_subject_label (cup);
    }
  numbers = refused[1] != NULL ? g_strdup_printf ("%s %s", refused[0], refused[1]) : g_strdup (refused[0]);
  if (numbers != NULL && moulted != NULL)
    /* Translators: an example of a round, in words that the line knows; the numbers of one or two cups, and of
     * one more */
    text = g_strdup_printf (C_ ("round line", "all fed 2 house flies, misted; %s refused; %s moulted"), numbers, moulted);
  else if (numbers != NULL)
    text = g_strdup_printf (C_ ("round line", "all fed 2 house flies, misted; %s refused"), numbers);
  gtk_entry_set_placeholder_text (self->entry, text != NULL ? text : C_ ("round line", "all fed 2 house flies, misted"));
}

void
app_round_line_set_place (AppRoundLine *self, Desk *desk, DeskSubject *place)
{
  gboolean same;

  g_return_if_fail (APP_IS_ROUND_LINE (self));
  same = self->desk == desk && self->place != NULL && place != NULL
         && core_id_equal (desk_subject_id (self->place), desk_subject_id (place));
  if (!same)
    keep_draft_now (self);
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->place, desk_subject_unref);
  if (place == NULL)
    return;
  self->place = desk_subject_ref (place);
  show_example (self);
  if (!same)
    {
      char id[37];
      g_autofree char *question = g_strdup_printf (C_ ("round line", "What did you do on %s?"), app_place_name (place));
      g_autofree char *draft = NULL;

      core_id_to_text (desk_subject_id (place), id);
      g_free (self->draft_key);
      self->draft_key = g_strdup_printf ("round/%s", id);
      draft = desk_draft_get (desk, self->draft_key);
      gtk_label_set_label (self->question, question);
      gtk_editable_set_text (GTK_EDITABLE (self->entry), draft != NULL ? draft : "");
    }
  preview (self);
}

void
app_round_line_focus (AppRoundLine *self)
{
  g_return_if_fail (APP_IS_ROUND_LINE (self));
  gtk_widget_grab_focus (GTK_WIDGET (self->entry));
}

void
app_round_line_set_narrow (AppRoundLine *self, gboolean narrow)
{
  g_return_if_fail (APP_IS_ROUND_LINE (self));
  gtk_widget_set_visible (GTK_WIDGET (self->hint), !narrow);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->ask), narrow ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_box_set_spacing (self->ask, narrow ? 3 : 18);
}
