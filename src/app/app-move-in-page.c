/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-page.c — the page around the table: what is typed once for a range, what is pasted,
 * what is wrong, and the save; see app-move-in-page.h.
 *
 * Nothing is in the journal before Save; what is typed is a draft from the first letter. */
#include "app/app-move-in-page.h"

#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-drop-down.h"
#include "app/app-move-in-table.h"
#include "app/app-window.h"
#include "desk/move-in-model.h"

#define MOST_BYTES (1024 * 1024 + 1) /* more is not read: the model refuses it */

struct _AppMoveInPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *outer;
  GtkBox *bar;
  GtkWidget *draft_note;
  GtkDropDown *scheme;
  GtkEntry *range;
  GtkDropDown *range_column;
  GtkEntry *value;
  AppMoveInHead *head;
  AppMoveInTable *table;
  GtkLabel *hint;
  GtkLabel *summary;

  /* Owned */
  MoveInModel *model;
  gulong model_id;
  char *answer; /* what the range bar or a paste said last; shown until the next cell */
  gboolean answer_is_trouble;
  gboolean saving;
  char *goes_to; /* the place of the first that is being saved */
};

G_DEFINE_FINAL_TYPE (AppMoveInPage, app_move_in_page, APP_TYPE_DESK_PAGE)

/* ---- what it says ---- */

/* What can stand in this column, with an example. */
static const char *
expected (MoveInColumn column)
{
  switch (column)
    {
    case MOVE_IN_PLACE:
      return C_ ("move in", "Place: a shelf or home, by its name or a beginning of it; a new name makes a new one.");
    case MOVE_IN_AT:
      return C_ ("move in", "Order: empty for the order of the rows, or a number; 3.5 stands between 3 and 4.");
    case MOVE_IN_NUMBER:
      return C_ ("move in", "Number: as it stands on the lid, such as 14 or 14a. Left empty, they go on by themselves.");
    case MOVE_IN_SPECIES:
      return C_ ("move in", "Species: a beginning is enough, such as hier. Left empty: not known.");
    case MOVE_IN_STAGE:
      return C_ ("move in", "Stage: 4 or L4, L4-5, sub, adult. Left empty: not known.");
    case MOVE_IN_SEX:
      return C_ ("move in", "Sex, as you were told: m or f. Left empty: not known.");
    case MOVE_IN_MOULT:
      return C_ ("move in", "Last moult: Sunday, 10 Nov, 3w, about 10 days ago, 5 (days ago). Left empty: not known.");
    case MOVE_IN_FED:
    case MOVE_IN_N_COLUMNS:
    case MOVE_IN_SCHEME:
    case MOVE_IN_NAME:
    case MOVE_IN_LOCALITY:
    case MOVE_IN_NOTES:
    case MOVE_IN_N_CELLS:
    case MOVE_IN_ORIGIN:
    default:
      return C_ ("move in", "Last fed: today, Sunday, 10 Nov, 5 (days ago). Left empty: not known.");
    }
}

static void
show_hint (AppMoveInPage *self)
{
  guint row = app_move_in_table_row (self->table);
  MoveInColumn column = app_move_in_table_column (self->table);
  g_autofree char *says = NULL;
  gboolean trouble = self->answer != NULL && self->answer_is_trouble;

  if (self->model == NULL)
    return;
  if (self->answer == NULL)
    {
      says = move_in_model_says (self->model, row, column);
      trouble = says != NULL;
    }
  if (self->answer != NULL)
    gtk_label_set_label (self->hint, self->answer);
  else if (says != NULL)
    gtk_label_set_label (self->hint, says);
  else if (column != MOVE_IN_NUMBER && move_in_model_text (self->model, row, column)[0] != '\0'
           && move_in_model_shown (self->model, row, column)[0] != '\0')
    gtk_label_set_label (self->hint, move_in_model_shown (self->model, row, column));
  else
    gtk_label_set_label (self->hint, expected (column));
  if (trouble)
    gtk_widget_add_css_class (GTK_WIDGET (self->hint), "trouble");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->hint), "trouble");
}

static void
answer (AppMoveInPage *self, char *text, gboolean trouble)
{
  g_free (self->answer);
  self->answer = text;
  self->answer_is_trouble = trouble;
  show_hint (self);
}

static char *
summary_text (const MoveInSummary *summary)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (summary->animals > 0)
    g_string_append_printf (text, TN_ (WORDS_LOCAL, "move in", "%u animal", "%u animals", summary->animals),
                            summary->animals);
  if (summary->new_places != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", summary->new_places);

      /* Translators: names of places that are made with the save */
      g_string_append_printf (text, C_ ("move in", "; new: %s"), names);
    }
  if (summary->problems > 0)
    {
      g_string_append (text, "; ");
      g_string_append_printf (text, TN_ (WORDS_LOCAL, "move in", "%u cell is not understood (F8)",
                                         "%u cells are not understood (F8)", summary->problems),
                              summary->problems);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
show_summary (AppMoveInPage *self)
{
  MoveInSummary summary;
  g_autofree char *text = NULL;

  move_in_model_summary (self->model, &summary);
  text = summary_text (&summary);
  gtk_label_set_label (self->summary, text);
  if (summary.problems > 0)
    gtk_widget_add_css_class (GTK_WIDGET (self->summary), "trouble");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->summary), "trouble");
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "move-in.save",
                                 summary.animals > 0 && !self->saving && !desk_read_only (app_desk_page_desk (self)));
  move_in_summary_clear (&summary);
}

static void
model_changed_cb (MoveInModel *model, AppMoveInPage *self)
{
  gtk_drop_down_set_selected (self->scheme, move_in_model_scheme (model) == 2 ? 1 : 0);
  show_summary (self);
  show_hint (self);
}

static void
moved_cb (AppMoveInTable *table, AppMoveInPage *self)
{
  g_clear_pointer (&self->answer, g_free);
  gtk_drop_down_set_selected (self->range_column, (guint) app_move_in_table_column (table));
  app_move_in_head_set_begun (self->head, app_move_in_table_begun (table));
  show_hint (self);
}

static void
full_cb (AppMoveInTable *table, AppMoveInPage *self)
{
  g_autofree char *most = g_strdup_printf ("%d", MOVE_IN_MAX_ROWS);

  answer (self, words_move_in_problem (WORDS_LOCAL, MOVE_IN_TOO_MANY, most, NULL), TRUE);
}

/* ---- scheme, range ---- */

static void
scheme_cb (GtkDropDown *scheme, GParamSpec *pspec, AppMoveInPage *self)
{
  if (self->model != NULL)
    move_in_model_set_scheme (self->model, gtk_drop_down_get_selected (scheme) == 1 ? 2 : 1);
}

static void
fill_cb (AppMoveInPage *self)
{
  MoveInColumn column = (MoveInColumn) gtk_drop_down_get_selected (self->range_column);
  char *problem = NULL;
  guint n;

  if (self->model == NULL)
    return;
  n = move_in_model_fill (self->model, gtk_editable_get_text (GTK_EDITABLE (self->range)), column,
                          gtk_editable_get_text (GTK_EDITABLE (self->value)), &problem);
  if (problem != NULL)
    {
      answer (self, problem, TRUE);
      gtk_widget_grab_focus (GTK_WIDGET (self->range));
      return;
    }
  gtk_editable_set_text (GTK_EDITABLE (self->value), "");
  app_move_in_table_focus (self->table);
  answer (self, g_strdup_printf (TN_ (WORDS_LOCAL, "move in", "Filled in: %u row.", "Filled in: %u rows.", n), n),
          FALSE);
}

/* Numbers need no value: the range alone makes the rows. */
static void
range_cb (AppMoveInPage *self)
{
  if (gtk_drop_down_get_selected (self->range_column) == MOVE_IN_NUMBER)
    fill_cb (self);
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->value));
}

/* ---- pasting and files ---- */

static char *
pasted_text (const MoveInPasted *pasted)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, TN_ (WORDS_LOCAL, "move in", "Taken: %u row", "Taken: %u rows", pasted->rows),
                          pasted->rows);
  g_string_append (text, pasted->headings ? C_ ("move in", ", by the headings of its columns.")
                                          : C_ ("move in", ", in the order of the columns here."));
  if (pasted->beside != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", pasted->beside);

      g_string_append_printf (text, C_ ("move in", " Saved with the rows, and not shown here: %s."),
                              names);
    }
  if (pasted->left_out != NULL)
    {
      g_autofree char *names = g_strjoinv (", ", pasted->left_out);

      g_string_append_printf (text, C_ ("move in", " Left out: %s."), names);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
take_table (AppMoveInPage *self, const char *text, gsize length, guint row, MoveInColumn column)
{
  MoveInPasted pasted;
  char *problem = NULL;

  if (self->model == NULL)
    return;
  if (!move_in_model_paste (self->model, row, column, text, length, &pasted, &problem))
    {
      answer (self, problem, TRUE);
      return;
    }
  app_move_in_table_go (self->table, row, column);
  answer (self, pasted_text (&pasted), FALSE);
  move_in_pasted_clear (&pasted);
}

static void
pasted_cb (AppMoveInTable *table, const char *text, AppMoveInPage *self)
{
  take_table (self, text, strlen (text), app_move_in_table_row (table), app_move_in_table_column (table));
}

/* A table from a file goes below what is typed already. */
static guint
free_row (AppMoveInPage *self)
{
  guint row = move_in_model_n_rows (self->model);

  while (row > 0 && !move_in_model_counts (self->model, row - 1))
    row--;
  return row;
}

static void
file_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_object_steal_data (source, "move-in-text");
  AppWindow *window = app_window_of (self);
  gsize length = 0;

  if (!g_input_stream_read_all_finish (G_INPUT_STREAM (source), result, &length, &error))
    {
      if (window != NULL)
        app_window_say_error (window, error);
    }
  else if (self->model != NULL)
    take_table (self, text, length, free_row (self), MOVE_IN_PLACE);
}

static void
file_opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFileInputStream) stream = g_file_read_finish (G_FILE (source), result, &error);
  AppWindow *window = app_window_of (self);
  char *text;

  if (stream == NULL)
    {
      if (window != NULL)
        app_window_say_error (window, error);
      return;
    }
  text = g_malloc (MOST_BYTES);
  g_object_set_data (G_OBJECT (stream), "move-in-text", text);
  g_input_stream_read_all_async (G_INPUT_STREAM (stream), text, MOST_BYTES, G_PRIORITY_DEFAULT,
                                 window != NULL ? app_window_cancellable (window) : NULL, file_read_cb,
                                 g_object_ref (self));
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInPage) self = data;
  g_autoptr (GFile) file = app_choose_finish (result, NULL);

  if (file != NULL)
    g_file_read_async (file, G_PRIORITY_DEFAULT, NULL, file_opened_cb, g_object_ref (self));
}

static void
file_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *window = app_window_of (widget);

  if (window != NULL)
    app_choose_table_async (GTK_WINDOW (window), app_window_cancellable (window), chosen_cb, g_object_ref (widget));
}

static void
clipboard_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInPage) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);

  if (self->model != NULL && text != NULL)
    take_table (self, text, strlen (text), free_row (self), MOVE_IN_PLACE);
  else if (self->model != NULL)
    answer (self, words_move_in_problem (WORDS_LOCAL, MOVE_IN_PASTE_EMPTY, NULL, NULL), TRUE);
}

static void
paste_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, clipboard_cb, g_object_ref (widget));
}

/* ---- save ---- */

/* Where the first of them stands now: there the keeper goes on. */
static void
show_where (AppMoveInPage *self, AppWindow *window)
{
  Desk *desk = app_desk_page_desk (self);
  g_autoptr (DeskSubject) place = desk != NULL && self->goes_to != NULL ? desk_find (desk, self->goes_to, NULL) : NULL;

  if (place != NULL && desk_subject_kind (place) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (window, desk_subject_id (place));
  else
    app_window_show_page (window, "shelves");
}

static void
remember_where (AppMoveInPage *self)
{
  guint row = 0;

  while (row + 1 < move_in_model_n_rows (self->model) && !move_in_model_counts (self->model, row))
    row++;
  g_free (self->goes_to);
  self->goes_to = g_strdup (move_in_model_shown (self->model, row, MOVE_IN_PLACE));
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMoveInPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  AppWindow *window = app_window_of (self);
  guint n = 0;
  gboolean saved = move_in_model_save_finish (MOVE_IN_MODEL (source), result, &n, &error);

  self->saving = FALSE;
  if (self->model != NULL)
    show_summary (self);
  if (window == NULL)
    return;
  if (!saved)
    {
      app_window_say_error (window, error);
      return;
    }
  gtk_widget_set_visible (self->draft_note, FALSE);
  show_where (self, window);
  text = g_strdup_printf (TN_ (WORDS_LOCAL, "move in", "Saved: %u animal moved in. Ctrl+Z takes it back.",
                               "Saved: %u animals moved in. Ctrl+Z takes them back.", n),
                          n);
  app_window_say (window, text);
}

/* To the first cell that is not understood, after the one in hand if there is one. */
static gboolean
next_problem (AppMoveInPage *self)
{
  guint n = move_in_model_n_rows (self->model);
  guint from = app_move_in_table_row (self->table) * MOVE_IN_N_COLUMNS + app_move_in_table_column (self->table);

  for (guint i = 1; i <= n * MOVE_IN_N_COLUMNS; i++)
    {
      guint at = (from + i) % (n * MOVE_IN_N_COLUMNS);
      MoveInColumn column = (MoveInColumn) (at % MOVE_IN_N_COLUMNS);

      if (move_in_model_problem (self->model, at / MOVE_IN_N_COLUMNS, column) == MOVE_IN_OK)
        continue;
      app_move_in_table_mend (self->table, at / MOVE_IN_N_COLUMNS, column);
      return TRUE;
    }
  return FALSE;
}

static void
save_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppMoveInPage *self = APP_MOVE_IN_PAGE (widget);
  MoveInSummary summary;

  if (self->model == NULL || self->saving)
    return;
  move_in_model_settle (self->model, app_move_in_table_row (self->table), app_move_in_table_column (self->table));
  move_in_model_summary (self->model, &summary);
  move_in_summary_clear (&summary);
  if (summary.animals == 0)
    answer (self, words_move_in_problem (WORDS_LOCAL, MOVE_IN_NOTHING, NULL, NULL), TRUE);
  else if (summary.problems > 0)
    app_move_in_table_mend (self->table, summary.row, summary.column);
  else
    {
      self->saving = TRUE; /* a second Save must not write it twice */
      show_summary (self);
      remember_where (self);
      move_in_model_save_async (self->model, NULL, saved_cb, g_object_ref (self));
    }
}

static void
anew_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppMoveInPage *self = APP_MOVE_IN_PAGE (widget);

  if (self->model == NULL)
    return;
  move_in_model_clear (self->model);
  gtk_widget_set_visible (self->draft_note, FALSE);
  app_move_in_table_go (self->table, 0, MOVE_IN_PLACE);
}

/* ---- keys ---- */

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppMoveInPage *self)
{
  gboolean control = (state & GDK_CONTROL_MASK) != 0;
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  if (self->model == NULL)
    return GDK_EVENT_PROPAGATE;
  if (control && keyval == GDK_KEY_s)
    save_cb (GTK_WIDGET (self), NULL, NULL);
  else if (keyval == GDK_KEY_F8)
    (void) next_problem (self);
  else if (keyval == GDK_KEY_Escape && focus != NULL
           && (gtk_widget_is_ancestor (focus, GTK_WIDGET (self->range))
               || gtk_widget_is_ancestor (focus, GTK_WIDGET (self->value))))
    app_move_in_table_focus (self->table);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- object ---- */

static void
drop_model (AppMoveInPage *self)
{
  if (self->model != NULL)
    g_clear_signal_handler (&self->model_id, self->model);
  g_clear_object (&self->model);
}

static void
desk_set (AppDeskPage *page)
{
  AppMoveInPage *self = APP_MOVE_IN_PAGE (page);
  Desk *desk = app_desk_page_desk (page);

  drop_model (self);
  g_clear_pointer (&self->answer, g_free);
  gtk_widget_set_visible (self->draft_note, FALSE);
  if (desk == NULL)
    {
      app_move_in_table_set_model (self->table, NULL);
      return;
    }
  self->model = move_in_model_new (desk);
  if (move_in_model_has_draft (desk) && move_in_model_restore (self->model))
    gtk_widget_set_visible (self->draft_note, TRUE);
  app_move_in_table_set_model (self->table, self->model);
  self->model_id = g_signal_connect (self->model, "changed", G_CALLBACK (model_changed_cb), self);
  model_changed_cb (self->model, self);
}

/* Nothing that was typed is lost when another page is shown, and it is said. */
static void
app_move_in_page_unmap (GtkWidget *widget)
{
  AppMoveInPage *self = APP_MOVE_IN_PAGE (widget);
  GtkWidget *pages = gtk_widget_get_ancestor (widget, GTK_TYPE_STACK);
  AppWindow *window = app_window_of (self);
  MoveInSummary summary;
  g_autofree char *text = NULL;

  GTK_WIDGET_CLASS (app_move_in_page_parent_class)->unmap (widget);
  if (self->model == NULL || window == NULL || pages == NULL
      || gtk_stack_get_visible_child (GTK_STACK (pages)) == widget) /* the window goes */
    return;
  move_in_model_summary (self->model, &summary);
  if (summary.animals > 0)
    {
      text = g_strdup_printf (TN_ (WORDS_LOCAL, "move in", "%u animal is typed and not saved. It is kept: Ctrl+M goes on.",
                                   "%u animals are typed and not saved. They are kept: Ctrl+M goes on.", summary.animals),
                              summary.animals);
      app_window_say (window, text);
    }
  move_in_summary_clear (&summary);
}

#define NARROW 1140 /* below this the bar takes two lines; more than one line needs in any language */

static void
layout_cb (GdkSurface *surface, int width, int height, AppMoveInPage *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->bar),
                                  width < NARROW ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
}

static void
realize_cb (AppMoveInPage *self)
{
  GdkSurface *surface = gtk_native_get_surface (gtk_widget_get_native (GTK_WIDGET (self)));

  g_signal_connect_object (surface, "layout", G_CALLBACK (layout_cb), self, 0);
}

/* In the cell in hand. */
static gboolean
focus (AppDeskPage *page)
{
  app_move_in_table_focus (APP_MOVE_IN_PAGE (page)->table);
  return TRUE;
}

static void
dispose (GObject *object)
{
  AppMoveInPage *self = APP_MOVE_IN_PAGE (object);

  drop_model (self);
  g_clear_pointer (&self->answer, g_free);
  g_clear_pointer (&self->goes_to, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), APP_TYPE_MOVE_IN_PAGE);
  G_OBJECT_CLASS (app_move_in_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, outer);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, bar);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, draft_note);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, scheme);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, range);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, range_column);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, value);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, head);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, table);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, hint);
  gtk_widget_class_bind_template_child (widget_class, AppMoveInPage, summary);
}

static void
app_move_in_page_class_init (AppMoveInPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  widget_class->unmap = app_move_in_page_unmap;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  g_type_ensure (APP_TYPE_MOVE_IN_TABLE);
  g_type_ensure (APP_TYPE_MOVE_IN_HEAD);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/move-in-page.ui");
  bind_children (widget_class);
  gtk_widget_class_install_action (widget_class, "move-in.file", NULL, file_cb);
  gtk_widget_class_install_action (widget_class, "move-in.paste", NULL, paste_cb);
  gtk_widget_class_install_action (widget_class, "move-in.save", NULL, save_cb);
  gtk_widget_class_install_action (widget_class, "move-in.anew", NULL, anew_cb);
}

static void
fill_lists (AppMoveInPage *self)
{
  g_autoptr (GtkStringList) columns = gtk_string_list_new (NULL);
  g_autoptr (GtkStringList) schemes = gtk_string_list_new (NULL);

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    gtk_string_list_append (columns, words_move_in_column (WORDS_LOCAL, (MoveInColumn) i));
  gtk_drop_down_set_model (self->range_column, G_LIST_MODEL (columns));
  for (int scheme = 1; scheme <= 2; scheme++)
    gtk_string_list_take (schemes, words_scheme (WORDS_LOCAL, scheme));
  gtk_drop_down_set_model (self->scheme, G_LIST_MODEL (schemes));
}

static void
app_move_in_page_init (AppMoveInPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  fill_lists (self);
  app_drop_down_mend (self->range_column, TRUE);
  app_drop_down_mend (self->scheme, TRUE);
  g_signal_connect (self, "realize", G_CALLBACK (realize_cb), NULL);
  g_signal_connect_object (self->scheme, "notify::selected", G_CALLBACK (scheme_cb), self, 0);
  g_signal_connect_object (self->range, "activate", G_CALLBACK (range_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->value, "activate", G_CALLBACK (fill_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "moved", G_CALLBACK (moved_cb), self, 0);
  g_signal_connect_object (self->table, "pasted", G_CALLBACK (pasted_cb), self, 0);
  g_signal_connect_object (self->table, "full", G_CALLBACK (full_cb), self, 0);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
app_move_in_page_new (void)
{
  return g_object_new (APP_TYPE_MOVE_IN_PAGE, NULL);
}

void
app_move_in_page_focus_range (AppMoveInPage *self)
{
  g_return_if_fail (APP_IS_MOVE_IN_PAGE (self));
  gtk_widget_grab_focus (GTK_WIDGET (self->range));
}
