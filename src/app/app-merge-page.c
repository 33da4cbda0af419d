/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-merge-page.c — see app-merge-page.h. */
#include "app/app-merge-page.h"

#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-merge.h"
#include "words/words-tr.h"

struct _AppMergePage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkButton *choose;
  GtkButton *merge;
  GtkSpinner *spinner;
  GtkLabel *folder;
  GtkLabel *problem;
  GtkLabel *came;
  GtkLabel *beside;
  GtkLabel *waiting;
  GtkListBox *list;

  /* Owned */
  char *dir;         /* of the other copy; NULL = none chosen */
  DeskMerge *report; /* what would come, or what came; NULL = not known yet */

  gboolean done; /* `report` is what came */
  gboolean working;
  guint turn; /* answers of an earlier one are of another folder or journal */
};

G_DEFINE_FINAL_TYPE (AppMergePage, app_merge_page, APP_TYPE_DESK_PAGE)

/* An answer on its way. */
typedef struct
{
  AppMergePage *page; /* a reference */
  guint turn;
} Answer;

static Answer *
answer_new (AppMergePage *self)
{
  Answer *answer = g_new (Answer, 1);

  answer->page = g_object_ref (self);
  answer->turn = ++self->turn;
  return answer;
}

static void
answer_free (Answer *answer)
{
  g_object_unref (answer->page);
  g_free (answer);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Answer, answer_free)

static void
answer_closure_free (gpointer data, GClosure *closure)
{
  answer_free (data);
}

/* ---- what waits for the keeper ---- */

static gboolean
is_of_number (const DeskClash *clash)
{
  return clash->conflict.kind == CORE_CONFLICT_NUMBER_TAKEN &&
         desk_subject_kind (clash->subject) == CORE_SUBJECT_ANIMAL;
}

/* Still so, in the journal as it is now? */
static gboolean
is_open (Desk *desk, const DeskClash *clash)
{
  g_autoptr (DeskSubject) now = desk_get (desk, desk_subject_id (clash->subject));
  const CoreState *state = now != NULL ? desk_subject_state (now) : NULL;

  for (gsize i = 0; state != NULL && i < state->conflicts.n; i++)
    {
      const CoreConflict *conflict = &state->conflicts.v[i];

      if (conflict->kind == clash->conflict.kind && core_id_equal (conflict->entry, clash->conflict.entry) &&
          core_id_equal (conflict->other, clash->conflict.other))
        return TRUE;
    }
  return FALSE;
}

static void
settle_cb (GtkButton *button, AppMergePage *self)
{
  const DeskClash *clash = g_object_get_data (G_OBJECT (button), "clash");
  AppWindow *window = app_window_of (self);

  if (window == NULL)
    return;
  if (is_of_number (clash))
    app_dialog_edit_animal (window, desk_subject_id (clash->subject));
  else if (desk_subject_kind (clash->subject) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (window, desk_subject_id (clash->subject));
  else
    app_window_show_animal (window, desk_subject_id (clash->subject));
}

static void
add_settle (AppMergePage *self, GtkWidget *box, const DeskClash *clash)
{
  GtkWidget *button
    = gtk_button_new_with_label (is_of_number (clash) ? C_ ("merge", "New number…") : C_ ("merge", "Look at it"));
  const char *label = desk_subject_label (clash->subject);
  /* Translators: a number or code, such as 61b */
  g_autofree char *name = g_strdup_printf (is_of_number (clash) ? C_ ("merge", "Give %s a new number")
                                                                : C_ ("merge", "Look at %s"),
                                           label);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_tooltip_text (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data (G_OBJECT (button), "clash", (gpointer) (guintptr) clash); /* of self->report */
  g_signal_connect_object (button, "clicked", G_CALLBACK (settle_cb), self, 0);
  gtk_box_append (GTK_BOX (box), button);
}

static void
add_row (AppMergePage *self, Desk *desk, const DeskClash *clash)
{
  WordsView view = app_view (desk);
  WordsClash words = desk_clash_words (clash);
  g_autofree char *text = words_merge_clash (&view, &words);
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkLabel *label = app_text (box, text, NULL);

  gtk_widget_set_hexpand (GTK_WIDGET (label), TRUE);
  gtk_label_set_max_width_chars (label, 68);
  if (self->done)
    add_settle (self, box, clash);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_list_box_append (self->list, row);
}

static void
fill_list (AppMergePage *self, Desk *desk)
{
  guint n = 0;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  for (guint i = 0; desk != NULL && self->report != NULL && i < self->report->clashes->len; i++)
    {
      const DeskClash *clash = self->report->clashes->pdata[i];

      if (self->done && !is_open (desk, clash))
        continue;
      add_row (self, desk, clash);
      n++;
    }
  gtk_label_set_label (self->waiting, self->done ? C_ ("merge", "For you to settle")
                                                 : C_ ("merge", "To be settled afterwards"));
  gtk_widget_set_visible (GTK_WIDGET (self->waiting), n > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->list), n > 0);
}

/* ---- what it says ---- */

static gboolean
has_news (const DeskMerge *report)
{
  guint n = report->came.entries + report->came.photos;

  for (int kind = 0; kind < CORE_N_SUBJECTS; kind++)
    n += report->came.subjects[kind];
  return n > 0;
}

static void
say (GtkLabel *label, const char *text)
{
  gtk_label_set_label (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL && text[0] != '\0');
}

static void
say_report (AppMergePage *self)
{
  g_autofree char *came = NULL;
  g_autofree char *beside = NULL;

  if (self->report != NULL)
    {
      came = self->done ? words_merge_came (WORDS_LOCAL, &self->report->came)
                        : words_merge_coming (WORDS_LOCAL, &self->report->came);
      beside = words_merge_beside (WORDS_LOCAL, &self->report->came);
    }
  else if (self->working)
    came = g_strdup (C_ ("merge", "Reading the other copy…"));
  say (self->came, came);
  say (self->beside, beside);
}

static void
refresh (AppMergePage *self)
{
  Desk *desk = app_desk_page_desk (self);
  g_autofree char *shown = self->dir != NULL ? g_filename_display_name (self->dir) : NULL;

  say (self->folder, shown);
  say (self->problem, NULL);
  say_report (self);
  fill_list (self, desk);
  gtk_widget_set_sensitive (GTK_WIDGET (self->choose), desk != NULL && !self->working);
  gtk_widget_set_visible (GTK_WIDGET (self->merge), self->report != NULL && !self->done && has_news (self->report));
  gtk_widget_set_sensitive (GTK_WIDGET (self->merge), !self->working);
  gtk_spinner_set_spinning (self->spinner, self->working);
}

/* ---- what it does ---- */

/* FALSE: it is an answer to something that nobody asks any more. */
static gboolean
take (Answer *answer, DeskMerge *report_taken, const GError *error, gboolean done)
{
  AppMergePage *self = answer->page;
  g_autoptr (DeskMerge) report = report_taken;
  g_autofree char *why = NULL;

  if (answer->turn != self->turn)
    return FALSE;
  self->working = FALSE;
  if (report != NULL)
    {
      g_clear_pointer (&self->report, desk_merge_free);
      self->report = g_steal_pointer (&report);
      self->done = done;
    }
  refresh (self);
  why = error != NULL ? app_error_text (error) : NULL;
  say (self->problem, why);
  return error == NULL;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Answer) answer = data;
  g_autoptr (GError) error = NULL;
  DeskMerge *report = desk_merge_look_finish (DESK_DESK (source), result, &error);

  if (take (answer, report, error, FALSE))
    gtk_widget_grab_focus (GTK_WIDGET (answer->page->merge));
}

void
app_merge_page_look (AppMergePage *self, const char *dir)
{
  Desk *desk = app_desk_page_desk (self);

  if (desk == NULL || self->working)
    return;
  g_free (self->dir);
  self->dir = g_strdup (dir);
  g_clear_pointer (&self->report, desk_merge_free);
  self->done = FALSE;
  self->working = TRUE;
  refresh (self);
  desk_merge_look_async (desk, dir, looked_cb, answer_new (self));
}

static void
merged_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Answer) answer = data;
  g_autoptr (GError) error = NULL;
  DeskMerge *report = desk_merge_finish (DESK_DESK (source), result, &error);
  AppWindow *window = app_window_of (answer->page);
  g_autofree char *came = report != NULL ? words_merge_came (WORDS_LOCAL, &report->came) : NULL;

  take (answer, report, error, TRUE);
  if (came != NULL && window != NULL)
    app_window_say (window, came);
}

static void
merge (AppMergePage *self, DeskMergeOf of)
{
  Desk *desk = app_desk_page_desk (self);

  if (desk == NULL || self->dir == NULL || self->working)
    return;
  self->working = TRUE;
  refresh (self);
  desk_merge_async (desk, self->dir, of, merged_cb, answer_new (self));
}

static void
asked_cb (AdwMessageDialog *dialog, const char *response, Answer *answer)
{
  if (answer->turn == answer->page->turn && strcmp (response, "take") == 0)
    merge (answer->page, DESK_MERGE_ANY);
}

/* Cancel is what Enter does: two collections do not become one by the next key. */
static void
ask (AppMergePage *self, AppWindow *window)
{
  guint n_names = 0;
  g_autofree char *question = NULL;
  GtkWidget *dialog;

  for (guint i = 0; i < self->report->clashes->len; i++)
    n_names += ((const DeskClash *) self->report->clashes->pdata[i])->other != NULL;
  question = words_merge_question (WORDS_LOCAL, &self->report->came, n_names);
  dialog = adw_message_dialog_new (GTK_WINDOW (window), C_ ("merge", "Take in another journal?"), question);
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", C_ ("merge", "_Cancel"), "take",
                                    C_ ("merge", "_Take it in"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "take", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_data (dialog, "response", G_CALLBACK (asked_cb), answer_new (self), answer_closure_free, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
merge_cb (GtkButton *button, AppMergePage *self)
{
  AppWindow *window = app_window_of (self);

  if (self->report == NULL || !self->report->stranger)
    merge (self, DESK_MERGE_COPY);
  else if (window != NULL)
    ask (self, window);
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMergePage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) folder = app_choose_finish (result, &error);
  AppWindow *window = app_window_of (self);
  g_autofree char *path = folder != NULL ? g_file_get_path (folder) : NULL;

  if (path != NULL)
    app_merge_page_look (self, path);
  else if (folder != NULL && window != NULL)
    app_window_say (window, C_ ("backups", "The folder must lie on this computer or a mounted disk."));
}

static void
choose_cb (GtkButton *button, AppMergePage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_choose_folder_async (GTK_WINDOW (window), C_ ("merge", "The folder of the other copy"), FALSE,
                             app_window_cancellable (window), chosen_cb, g_object_ref (self));
}

/* ---- the page ---- */

static void
forget (AppMergePage *self)
{
  self->turn++;
  self->working = FALSE;
  self->done = FALSE;
  g_clear_pointer (&self->report, desk_merge_free);
  g_clear_pointer (&self->dir, g_free);
}

static void
desk_set (AppDeskPage *page)
{
  forget (APP_MERGE_PAGE (page));
  refresh (APP_MERGE_PAGE (page));
}

/* What was settled goes from the list. */
static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  AppMergePage *self = APP_MERGE_PAGE (page);

  if (self->done)
    fill_list (self, app_desk_page_desk (self));
}

static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (GTK_WIDGET (APP_MERGE_PAGE (page)->choose));
}

static void
dispose (GObject *object)
{
  forget (APP_MERGE_PAGE (object));
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_MERGE_PAGE);
  G_OBJECT_CLASS (app_merge_page_parent_class)->dispose (object);
}

static void
app_merge_page_class_init (AppMergePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/merge-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, choose);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, merge);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, spinner);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, folder);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, problem);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, came);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, beside);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, waiting);
  gtk_widget_class_bind_template_child (widget_class, AppMergePage, list);
}

static void
app_merge_page_init (AppMergePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->choose, "clicked", G_CALLBACK (choose_cb), self, 0);
  g_signal_connect_object (self->merge, "clicked", G_CALLBACK (merge_cb), self, 0);
  refresh (self);
}

GtkWidget *
app_merge_page_new (void)
{
  return g_object_new (APP_TYPE_MERGE_PAGE, NULL);
}
