/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pictures-page.c — see app-pictures-page.h.
 *
 * Top to bottom: what is to be counted, which days are in doubt, the pictures with a number each,
 * the cups of a shelf, saving. Whatever is typed is a draft of the model's. */
#include "app/app-pictures-page.h"

#include <glib/gi18n.h>

#include "app/app-batch-row.h"
#include "app/app-boards.h"
#include "app/app-dialogs.h"
#include "app/app-drop-down.h"
#include "app/app-pages.h"
#include "app/app-pass.h"
#include "app/app-paste.h"
#include "app/app-symbol.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "app/app-wrap.h"
#include "desk/photo-batch.h"
#include "words/words-tr.h"

struct _AppPicturesPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *later_box;
  GtkLabel *later;
  GtkWidget *pass_button;
  GtkWidget *days_box;
  GtkLabel *days;
  GtkWidget *by_camera, *by_file;
  GtkStack *stack;
  GtkBox *drawing;
  GtkWidget *first;
  GtkWidget *choose;
  GtkWidget *scroller;
  AppWrap *rows;
  GtkWidget *cups;
  GtkDropDown *shelves;
  AppBoards *boards;
  GtkLabel *summary;
  GtkButton *save;

  /* Owned */
  PhotoBatch *batch;
  GArray *places; /* CoreId: the rows of `shelves` */

  AppPass pass;
  CoreId counted; /* whose picture was recorded last in it; none */
  gulong batch_id;
  guint in_hand; /* the row that had the keys last */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppPicturesPage, app_pictures_page, APP_TYPE_DESK_PAGE)

/* ---- rows ---- */

static AppBatchRow *
row_at (AppPicturesPage *self, guint nth)
{
  GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->rows));

  for (guint i = 0; row != NULL && i < nth; i++)
    row = gtk_widget_get_next_sibling (row);
  return row != NULL ? APP_BATCH_ROW (row) : NULL;
}

static void
go_to (AppPicturesPage *self, guint nth)
{
  AppBatchRow *row = row_at (self, nth);

  if (row != NULL)
    app_batch_row_focus (row);
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->save));
}

static void
next_cb (AppBatchRow *row, AppPicturesPage *self)
{
  go_to (self, app_batch_row_nth (row) + 1);
}

static void
remove_cb (AppBatchRow *row, AppPicturesPage *self)
{
  guint nth = app_batch_row_nth (row);

  photo_batch_remove (self->batch, nth);
  if (photo_batch_n_rows (self->batch) > 0)
    go_to (self, MIN (nth, photo_batch_n_rows (self->batch) - 1));
}

static void
entered_cb (GtkEventControllerFocus *controller, AppPicturesPage *self)
{
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));

  self->in_hand = app_batch_row_nth (APP_BATCH_ROW (row));
}

static void
add_row (AppPicturesPage *self)
{
  GtkWidget *row = app_batch_row_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect_object (row, "next", G_CALLBACK (next_cb), self, 0);
  g_signal_connect_object (row, "remove", G_CALLBACK (remove_cb), self, 0);
  g_signal_connect_object (focus, "enter", G_CALLBACK (entered_cb), self, 0);
  gtk_widget_add_controller (row, focus);
  app_wrap_append (self->rows, row);
}

/* A field that goes while it has the keys would go on blinking. */
static void
let_go_of_keys (AppPicturesPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->rows)))
    gtk_root_set_focus (root, NULL);
}

static void
show_rows (AppPicturesPage *self)
{
  guint n = photo_batch_n_rows (self->batch);
  AppBatchRow *row;

  if (row_at (self, n) != NULL)
    let_go_of_keys (self);
  while ((row = row_at (self, n)) != NULL)
    gtk_widget_unparent (GTK_WIDGET (row));
  while (n > 0 && row_at (self, n - 1) == NULL)
    add_row (self);
  for (guint i = 0; i < n; i++)
    app_batch_row_set (row_at (self, i), app_desk_page_desk (self), self->batch, i);
  gtk_stack_set_visible_child_name (self->stack, n > 0 ? "rows" : "empty");
  gtk_widget_set_visible (self->choose, n > 0); /* the empty page has its own */
}

/* ---- what is said ---- */

/* Takes the part. */
static void
add_part (GString *text, guint n, char *part)
{
  if (n > 0)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", part);
  g_free (part);
}

/* "18 ready · 1 without a cup · 2 refused". */
static char *
summary_text (const PhotoBatchSummary *sum)
{
  GString *text = g_string_new (NULL);

  add_part (text, sum->ready, g_strdup_printf (C_ ("batch", "%u ready"), sum->ready));
  add_part (text, sum->unassigned, g_strdup_printf (C_ ("batch", "%u without a cup"), sum->unassigned));
  add_part (text, sum->to_ask, g_strdup_printf (C_ ("batch", "%u with two days"), sum->to_ask));
  add_part (text, sum->twins, g_strdup_printf (C_ ("batch", "%u there already"), sum->twins));
  add_part (text, sum->refused, g_strdup_printf (C_ ("batch", "%u refused"), sum->refused));
  add_part (text, sum->reading, g_strdup_printf (C_ ("batch", "%u still being read"), sum->reading));
  return g_string_free (text, FALSE);
}

static void
show_summary (AppPicturesPage *self)
{
  PhotoBatchSummary sum;
  guint nth, n;
  gboolean saving = photo_batch_saving (self->batch, &nth, &n);
  g_autofree char *text = NULL, *label = NULL, *days = NULL;

  photo_batch_summary (self->batch, &sum);
  text = saving ? g_strdup_printf (C_ ("batch", "Saving picture %u of %u…"), nth + 1, n) : summary_text (&sum);
  label = g_strdup_printf (TN_ (WORDS_LOCAL, "batch", "_Save %u picture", "_Save %u pictures", sum.ready), sum.ready);
  days = g_strdup_printf (TN_ (WORDS_LOCAL, "batch",
                               "Of %u picture the camera and the file name different days. Which is right?",
                               "Of %u pictures the camera and the file name different days. Which is right?", sum.to_ask),
                          sum.to_ask);
  gtk_label_set_label (self->summary, text);
  gtk_button_set_label (self->save, label);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "pictures.save", sum.ready > 0 && !saving);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "pictures.clear", !saving);
  gtk_label_set_label (self->days, days);
  gtk_widget_set_visible (self->days_box, sum.to_ask > 0);
}

static void
show_later (AppPicturesPage *self)
{
  g_autoptr (GArray) list = photo_later_list (app_desk_page_desk (self));
  guint left = 0;
  g_autofree char *fresh_text = NULL, *left_text = NULL, *text = NULL;

  for (guint i = 0; i < list->len; i++)
    left += g_array_index (list, PhotoLater, i).left ? 1 : 0;
  fresh_text = g_strdup_printf (TN_ (WORDS_LOCAL, "batch", "The plates of %u picture are to be counted.",
                                     "The plates of %u pictures are to be counted.", list->len - left),
                                list->len - left);
  left_text = g_strdup_printf (TN_ (WORDS_LOCAL, "batch", "%u picture was left for later.",
                                    "%u pictures were left for later.", left),
                               left);
  text = list->len == left ? g_strdup (left_text)
         : left == 0       ? g_strdup (fresh_text)
                           : g_strdup_printf ("%s %s", fresh_text, left_text);
  gtk_label_set_label (self->later, text);
  gtk_widget_set_visible (self->later_box, list->len > 0);
}

static void
show (AppPicturesPage *self)
{
  if (self->batch == NULL)
    return;
  show_rows (self);
  show_summary (self);
  show_later (self);
}

static void
say (AppPicturesPage *self, const char *text)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_window_say (window, text);
}

/* ---- the cups ---- */

static void
fill_boards (AppPicturesPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  guint chosen = gtk_drop_down_get_selected (self->shelves);
  g_autoptr (GPtrArray) subjects
    = desk_subjects_on (desk, chosen < self->places->len ? g_array_index (self->places, CoreId, chosen) : (CoreId) { { 0 } });
  GPtrArray *cups = g_ptr_array_new ();

  for (guint i = 0; i < subjects->len; i++)
    if (desk_subject_kind (subjects->pdata[i]) != CORE_SUBJECT_CULTURE)
      g_ptr_array_add (cups, app_cup_data_new (desk, subjects->pdata[i]));
  gtk_widget_set_visible (self->cups, cups->len > 0 || self->places->len > 1);
  app_boards_set_cups (self->boards, cups);
}

static void
fill_shelves (AppPicturesPage *self)
{
  g_autoptr (GPtrArray) places = desk_places (app_desk_page_desk (self));
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  guint chosen = gtk_drop_down_get_selected (self->shelves);

  self->filling = TRUE;
  g_array_set_size (self->places, 0);
  for (guint i = 0; i < places->len; i++)
    {
      CoreId id = desk_subject_id (places->pdata[i]);

      g_array_append_val (self->places, id);
      gtk_string_list_append (list, desk_place_name (places->pdata[i]));
    }
  gtk_drop_down_set_model (self->shelves, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (self->shelves, chosen < places->len ? chosen : 0);
  gtk_widget_set_visible (GTK_WIDGET (self->shelves), places->len > 1);
  self->filling = FALSE;
  fill_boards (self);
}

static void
shelf_cb (AppPicturesPage *self)
{
  if (!self->filling && app_desk_page_desk (self) != NULL)
    fill_boards (self);
}

static void
give (AppPicturesPage *self, guint nth, AppCup *cup)
{
  if (nth < photo_batch_n_rows (self->batch))
    photo_batch_assign (self->batch, nth, app_cup_get_data (cup)->id);
}

/* The next picture comes into the hand. */
static void
picked_cb (AppBoards *boards, AppCup *cup, AppPicturesPage *self)
{
  give (self, self->in_hand, cup);
  go_to (self, self->in_hand + 1);
}

static gboolean
on_cup_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppPicturesPage *self)
{
  AppBatchRow *row = g_value_get_object (value);
  GtkWidget *cup = gtk_widget_pick (GTK_WIDGET (self->boards), x, y, GTK_PICK_DEFAULT);

  if (row == NULL || cup == NULL || !APP_IS_CUP (cup))
    return FALSE;
  give (self, app_batch_row_nth (row), APP_CUP (cup));
  return TRUE;
}

/* ---- adding ---- */

void
app_pictures_page_add (AppPicturesPage *self, GSList *files)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new ();
  guint before, n;

  g_return_if_fail (APP_IS_PICTURES_PAGE (self));
  if (self->batch == NULL)
    return;
  for (GSList *l = files; l != NULL; l = l->next)
    g_ptr_array_add (list, l->data);
  before = photo_batch_n_rows (self->batch);
  n = photo_batch_add (self->batch, (GFile *const *) (void *) list->pdata, list->len);
  if (n < list->len && before + n >= PHOTO_BATCH_MAX)
    {
      g_autofree char *text
        = g_strdup_printf (C_ ("batch", "A list takes %d pictures. Save these, then add the others."), PHOTO_BATCH_MAX);

      say (self, text);
    }
  else if (n < list->len)
    say (self, C_ ("batch", "What is in the list already was not added again."));
  if (n > 0)
    go_to (self, before);
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturesPage) self = data;
  g_autoptr (GError) error = NULL;
  GSList *files = app_choose_many_finish (result, &error);
  AppWindow *window = app_window_of (self);

  if (error != NULL && window != NULL)
    app_window_say_error (window, error);
  app_pictures_page_add (self, files);
  g_slist_free_full (files, g_object_unref);
}

static void
choose_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *window = app_window_of (widget);

  if (window != NULL && APP_PICTURES_PAGE (widget)->batch != NULL)
    app_open_pictures_async (GTK_WINDOW (window), app_window_cancellable (window), chosen_cb, g_object_ref (widget));
}

static void
pasted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturesPage) self = data;
  g_autoptr (GError) error = NULL;
  GSList *files = app_paste_pictures_finish (result, &error);

  if (files == NULL)
    say (self, C_ ("batch", "There is no picture in the clipboard. Copy the files or the picture first."));
  app_pictures_page_add (self, files);
  g_slist_free_full (files, g_object_unref);
}

static void
paste_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_PICTURES_PAGE (widget)->batch != NULL)
    app_paste_pictures_async (widget, pasted_cb, g_object_ref (widget));
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppPicturesPage *self)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));

  app_pictures_page_add (self, files);
  return files != NULL;
}

/* ---- saving ---- */

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturesPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) photos = photo_batch_save_finish (PHOTO_BATCH (source), result, &error);
  AppWindow *window = app_window_of (self);
  g_autofree char *text = NULL;

  if (self->batch != PHOTO_BATCH (source))
    return;
  if (photos == NULL)
    {
      if (window != NULL)
        app_window_say_error (window, error);
      return;
    }
  photo_later_add (app_desk_page_desk (self), (const CoreId *) (void *) photos->data, photos->len);
  show (self);
  text = g_strdup_printf (TN_ (WORDS_LOCAL, "batch", "Saved: %u picture. Ctrl+Z takes it back.",
                               "Saved: %u pictures. Ctrl+Z takes them back.", photos->len),
                          photos->len);
  say (self, photos->len > 0 ? text : C_ ("batch", "None of them could be saved. Each says why."));
  if (photos->len > 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (self->pass_button);
}

static void
save_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (widget);
  guint nth, n;

  if (self->batch == NULL || photo_batch_saving (self->batch, &nth, &n))
    return;
  let_go_of_keys (self);
  photo_batch_save_async (self->batch, NULL, saved_cb, g_object_ref (self));
}

static void
clear_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (widget);

  if (self->batch == NULL)
    return;
  photo_batch_clear (self->batch);
  gtk_widget_grab_focus (self->first);
}

/* ---- the pass ---- */

/* What the picture before was found to be; "" before the first, and after one that was left. */
static char *
found_text (AppPicturesPage *self)
{
  g_autoptr (DeskSubject) before
    = core_id_is_none (self->counted) ? NULL : desk_get (app_desk_page_desk (self), self->counted);
  g_autofree char *sex = before != NULL ? words_sex (WORDS_LOCAL, desk_subject_verdict (before)) : NULL;

  /* Translators: the number of a cup, the sex in words */
  return before != NULL ? g_strdup_printf (C_ ("batch", "Saved, %s: %s. "), desk_subject_label (before), sex) : g_strdup ("");
}

/* In the place of what the bench says itself, which is part of it. */
static gboolean
say_pass_cb (gpointer data)
{
  AppPicturesPage *self = data;
  const PhotoLater *now = app_pass_now (&self->pass);
  g_autoptr (DeskSubject) subject = now != NULL ? desk_get (app_desk_page_desk (self), now->subject) : NULL;
  g_autofree char *found = NULL, *text = NULL;

  if (subject == NULL)
    return G_SOURCE_REMOVE;
  found = found_text (self);
  /* Translators: what the picture before was found to be, which of how many, the number of the cup */
  text = g_strdup_printf (C_ ("batch", "%sPicture %u of %u, cup %s. Ctrl+J leaves it for later, Esc stops."), found,
                          self->pass.at + 1, self->pass.queue->len, desk_subject_label (subject));
  say (self, text);
  return G_SOURCE_REMOVE;
}

static void
show_on_bench (AppPicturesPage *self)
{
  const PhotoLater *now = app_pass_now (&self->pass);
  AppWindow *window = app_window_of (self);

  if (now == NULL || window == NULL)
    return;
  app_window_show_bench (window, now->subject, now->photo);
  g_idle_add_full (G_PRIORITY_LOW, say_pass_cb, g_object_ref (self), g_object_unref);
}

static void
end_pass (AppPicturesPage *self)
{
  g_autoptr (GArray) list = photo_later_list (app_desk_page_desk (self));
  g_autofree char *left
    = g_strdup_printf (TN_ (WORDS_LOCAL, "batch", "The pass is over. %u picture was left for later.",
                            "The pass is over. %u pictures were left for later.", list->len),
                       list->len);

  show_later (self);
  say (self, list->len > 0 ? left : C_ ("batch", "The pass is over: all of them are counted."));
}

static void
count_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (widget);

  self->counted = (CoreId) { { 0 } };
  if (app_desk_page_desk (self) != NULL && app_pass_start (&self->pass, app_desk_page_desk (self)))
    show_on_bench (self);
}

static void
forget_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (widget);
  g_autoptr (GArray) list = NULL;

  if (app_desk_page_desk (self) == NULL)
    return;
  list = photo_later_list (app_desk_page_desk (self));
  for (guint i = 0; i < list->len; i++)
    photo_later_forget (app_desk_page_desk (self), g_array_index (list, PhotoLater, i).photo);
  self->pass.on = FALSE;
  show_later (self);
}

gboolean
app_pictures_page_leave (AppPicturesPage *self)
{
  const PhotoLater *now;
  AppWindow *window = app_window_of (self);

  g_return_val_if_fail (APP_IS_PICTURES_PAGE (self), FALSE);
  now = app_pass_now (&self->pass);
  if (now == NULL || window == NULL)
    return FALSE;
  self->counted = (CoreId) { { 0 } };
  photo_later_leave (app_desk_page_desk (self), now->photo);
  if (app_pass_next (&self->pass, app_desk_page_desk (self)))
    show_on_bench (self);
  else
    app_window_go_back (window);
  return TRUE;
}

/* Back from the bench: recorded, so the next; left by Escape, so the pass stops here. */
static gboolean
back_from_bench_cb (gpointer data)
{
  AppPicturesPage *self = data;
  Desk *desk = app_desk_page_desk (self);

  if (desk == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)) || self->pass.queue->len == 0)
    return G_SOURCE_REMOVE;
  if (app_pass_is_counted (&self->pass, desk))
    {
      self->counted = app_pass_now (&self->pass)->subject;
      if (app_pass_next (&self->pass, desk))
        {
          show_on_bench (self);
          return G_SOURCE_REMOVE;
        }
    }
  if (app_pass_now (&self->pass) == NULL)
    end_pass (self);
  self->pass.on = FALSE;
  g_array_set_size (self->pass.queue, 0);
  return G_SOURCE_REMOVE;
}

static void
shown_cb (AppPicturesPage *self)
{
  if (app_desk_page_desk (self) == NULL)
    return;
  fill_shelves (self);
  show (self);
  /* Once the bench has said what it recorded. */
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, back_from_bench_cb, g_object_ref (self), g_object_unref);
}

/* ---- the page ---- */

static void
by_cb (GtkWidget *button, AppPicturesPage *self)
{
  photo_batch_set_days (self->batch, button == self->by_camera ? PHOTO_DAY_CAMERA : PHOTO_DAY_FILE);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppPicturesPage *self)
{
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != GDK_CONTROL_MASK || self->batch == NULL)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_s)
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "pictures.save", NULL);
      return GDK_EVENT_STOP;
    }
  /* Text goes into the field that has the keys. */
  if (keyval == GDK_KEY_v && app_paste_has_pictures (GTK_WIDGET (self)))
    {
      paste_cb (GTK_WIDGET (self), NULL, NULL);
      return GDK_EVENT_STOP;
    }
  return GDK_EVENT_PROPAGATE;
}

static void
drop_batch (AppPicturesPage *self)
{
  if (self->batch != NULL)
    g_clear_signal_handler (&self->batch_id, self->batch);
  g_clear_object (&self->batch);
}

static void
desk_set (AppDeskPage *page)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (page);
  Desk *desk = app_desk_page_desk (self);

  drop_batch (self);
  self->pass.on = FALSE;
  g_array_set_size (self->pass.queue, 0);
  let_go_of_keys (self);
  while (row_at (self, 0) != NULL)
    gtk_widget_unparent (GTK_WIDGET (row_at (self, 0)));
  if (desk == NULL)
    return;
  self->batch = photo_batch_new (desk);
  self->batch_id = g_signal_connect_swapped (self->batch, "changed", G_CALLBACK (show), self);
  (void) photo_batch_restore (self->batch);
  show (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (page);

  if (gtk_widget_get_mapped (GTK_WIDGET (self)) && self->batch != NULL)
    {
      fill_boards (self);
      show_later (self);
    }
}

/* On the first picture that waits for its cup; without pictures on what adds some. */
static gboolean
focus (AppDeskPage *page)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (page);

  if (self->batch == NULL || photo_batch_n_rows (self->batch) == 0)
    return gtk_widget_grab_focus (gtk_widget_get_visible (self->later_box) ? self->pass_button : self->first);
  for (guint i = 0; i < photo_batch_n_rows (self->batch); i++)
    if (photo_batch_waits (self->batch, i))
      {
        go_to (self, i);
        return TRUE;
      }
  return gtk_widget_grab_focus (GTK_WIDGET (self->save));
}

static void
dispose (GObject *object)
{
  AppPicturesPage *self = APP_PICTURES_PAGE (object);

  drop_batch (self);
  app_pass_clear (&self->pass);
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_PICTURES_PAGE);
  G_OBJECT_CLASS (app_pictures_page_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_array_unref (APP_PICTURES_PAGE (object)->places);
  G_OBJECT_CLASS (app_pictures_page_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *klass)
{
  gtk_widget_class_set_template_from_resource (klass, "/io/github/mantidary/pictures-page.ui");
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, later_box);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, later);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, pass_button);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, days_box);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, days);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, by_camera);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, by_file);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, stack);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, drawing);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, first);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, choose);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, scroller);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, rows);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, cups);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, shelves);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, boards);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, summary);
  gtk_widget_class_bind_template_child (klass, AppPicturesPage, save);
}

static void
app_pictures_page_class_init (AppPicturesPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  g_type_ensure (APP_TYPE_BOARDS);
  g_type_ensure (APP_TYPE_WRAP);
  bind_children (widget_class);
  gtk_widget_class_install_action (widget_class, "pictures.choose", NULL, choose_cb);
  gtk_widget_class_install_action (widget_class, "pictures.paste", NULL, paste_cb);
  gtk_widget_class_install_action (widget_class, "pictures.save", NULL, save_cb);
  gtk_widget_class_install_action (widget_class, "pictures.clear", NULL, clear_cb);
  gtk_widget_class_install_action (widget_class, "pictures.count", NULL, count_cb);
  gtk_widget_class_install_action (widget_class, "pictures.forget", NULL, forget_cb);
}

static void
add_controllers (AppPicturesPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *files = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  GtkDropTarget *row = gtk_drop_target_new (APP_TYPE_BATCH_ROW, GDK_ACTION_COPY);

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_object (files, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (files));
  g_signal_connect_object (row, "drop", G_CALLBACK (on_cup_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->boards), GTK_EVENT_CONTROLLER (row));
}

static void
app_pictures_page_init (AppPicturesPage *self)
{
  self->places = g_array_new (FALSE, FALSE, sizeof (CoreId));
  app_pass_init (&self->pass);
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_box_append (self->drawing, app_symbol_new ("photo", 48));
  app_boards_set_size (self->boards, APP_SIZE_SMALL);
  app_boards_set_round (self->boards, TRUE); /* a press gives, and nothing is moved */
  app_drop_down_mend (self->shelves, TRUE);
  add_controllers (self);
  g_signal_connect_object (self->boards, "picked", G_CALLBACK (picked_cb), self, 0);
  g_signal_connect_object (self->shelves, "notify::selected", G_CALLBACK (shelf_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->by_camera, "clicked", G_CALLBACK (by_cb), self, 0);
  g_signal_connect_object (self->by_file, "clicked", G_CALLBACK (by_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (shown_cb), NULL);
}

GtkWidget *
app_pictures_page_new (void)
{
  return g_object_new (APP_TYPE_PICTURES_PAGE, NULL);
}
