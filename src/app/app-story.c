/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-story.c — the chosen cup's short story at the right of the boards.
 *
 * Read top to bottom: who, one sentence, what is due and why, the keys, the last
 * ten entries. Rebuilt as a whole whenever the subject changed. */
#include "app/app-story.h"

#include <glib/gi18n.h>

#include "app/app-care.h"
#include "app/app-danger.h"
#include "app/app-fasting.h"
#include "app/app-quick.h"
#include "app/app-symbol.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"

#define LAST_ENTRIES 10
#define WIDTH 372 /* pixels: whatever stands in it, so that the boards beside it stay as they are */

struct _AppStory
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *scroller;
  GtkLabel *number;
  GtkLabel *kind;
  GtkLabel *sentence;
  GtkBox *due;
  AppQuick *quick; /* of an animal */
  AppCare *care;   /* of a lot, an egg case, a culture */
  GtkBox *entries;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
};

G_DEFINE_FINAL_TYPE (AppStory, app_story, GTK_TYPE_WIDGET)

static void
add_due (AppStory *self, const char *symbol, const char *css, const char *title, const char *why)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *sign = app_symbol_new (symbol, 16);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *capital = app_capitalised (title);

  gtk_widget_add_css_class (sign, css);
  gtk_widget_set_valign (sign, GTK_ALIGN_START);
  gtk_widget_set_margin_top (sign, 3);
  gtk_box_append (GTK_BOX (row), sign);
  app_text (words, capital, "strong");
  if (why != NULL && why[0] != '\0')
    app_text (words, why, "dim");
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (self->due, row);
}

static void
fill_due (AppStory *self, const WordsView *view)
{
  const CorePlan *plan = desk_subject_plan (self->subject);
  guint shown = 0;

  app_box_empty (self->due);
  app_danger_add (self->due, view, plan);
  app_fasting_add (self->due, view, self->subject);
  if (plan->hold.kind != CORE_HOLD_NONE)
    {
      g_autofree char *title = words_hold (view, &plan->hold);
      g_autofree char *why = app_reasons_text (view, plan->hold.reasons, plan->hold.n_reasons);

      add_due (self, "leave", "veil", title, why);
    }
  for (size_t i = 0; i < plan->tasks.n; i++)
    {
      const CoreTask *task = &plan->tasks.v[i];
      g_autofree char *title = NULL;
      g_autofree char *why = NULL;

      if (task->due > view->today)
        continue;
      shown++;
      if (app_is_danger (task)) /* stands before all */
        continue;
      title = words_task_title (view, task);
      why = app_reasons_text (view, task->reasons, task->n_reasons);
      add_due (self, app_task_symbol (task->kind), "due", title, why);
    }
  if (shown == 0)
    app_text (GTK_WIDGET (self->due), C_ ("story", "Nothing is due today."), "dim");
}

/* By day, and within a day what was written last first: a keeper looks for what was just entered. */
static int
compare_written (gconstpointer a, gconstpointer b)
{
  const CoreEntry *x = *(const CoreEntry *const *) a, *y = *(const CoreEntry *const *) b;

  if (x->day != y->day)
    return x->day > y->day ? -1 : 1;
  if (x->written_ms != y->written_ms)
    return x->written_ms > y->written_ms ? -1 : 1;
  return core_id_compare (y->id, x->id);
}

static void
fill_entries (AppStory *self, const WordsView *view)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) history =
    desk_history (self->desk, desk_subject_id (self->subject), &error);
  guint shown = 0;

  app_box_empty (self->entries);
  if (history == NULL)
    {
      AppWindow *window = app_window_of (self);

      if (window != NULL)
        app_window_say_error (window, error);
      return;
    }
  g_ptr_array_sort (history, compare_written);
  for (guint i = 0; i < history->len && shown < LAST_ENTRIES; i++)
    {
      const CoreEntry *entry = g_ptr_array_index (history, i);
      g_autofree char *named = desk_entry_names_subject (self->desk, entry);
      WordsEntry row = { .entry = entry, .state = desk_subject_state (self->subject), .place = named };
      g_autofree char *day = NULL;
      g_autofree char *text = NULL;
      GtkWidget *box;
      GtkLabel *left;

      if (entry->kind == CORE_KIND_VOID || !desk_entry_is_live (self->desk, entry->id))
        continue;
      day = words_day (view, entry->day, WORDS_DAY_NEAR);
      text = words_entry (view, &row);
      box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
      left = app_text (box, day, "dim");
      gtk_label_set_width_chars (left, 11);
      gtk_label_set_wrap (left, FALSE);
      gtk_widget_set_valign (GTK_WIDGET (left), GTK_ALIGN_START);
      app_text (box, text, NULL);
      gtk_box_append (self->entries, box);
      shown++;
    }
}

static void
fill (AppStory *self)
{
  WordsView view = app_view (self->desk);
  const CoreState *state = desk_subject_state (self->subject);
  gboolean animal = desk_subject_kind (self->subject) == CORE_SUBJECT_ANIMAL;
  g_autofree char *number = animal ? g_strdup_printf ("%s %s", desk_subject_label (self->subject),
                                                      words_sex_sign (desk_subject_verdict (self->subject)->verdict))
                                   : g_strdup (desk_subject_label (self->subject));
  g_autofree char *what = animal ? g_strdup (app_species_name (self->subject)) : app_other_kind (self->subject);
  g_autofree char *kind = state->name[0] != '\0' ? g_strdup_printf ("%s · %s", what, state->name) : g_strdup (what);
  g_autofree char *sentence
    = animal ? words_animal (&view, state, desk_subject_verdict (self->subject), desk_subject_forecast (self->subject),
                             &desk_subject_plan (self->subject)->hold)
             : app_other_sentence (self->desk, self->subject);

  gtk_label_set_label (self->number, number);
  gtk_label_set_label (self->kind, kind);
  gtk_label_set_label (self->sentence, sentence);
  fill_due (self, &view);
  fill_entries (self, &view);
}

static void
open_cb (GtkButton *button, AppStory *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL && self->subject != NULL)
    app_window_show_animal (window, desk_subject_id (self->subject));
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppStory *self)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));

  for (GSList *l = files; l != NULL; l = l->next)
    app_quick_attach (self->quick, l->data);
  return files != NULL;
}

static void
app_story_measure (GtkWidget *widget,
                   GtkOrientation orientation,
                   int for_size,
                   int *minimum,
                   int *natural,
                   int *minimum_baseline,
                   int *natural_baseline)
{
  gtk_widget_measure (APP_STORY (widget)->scroller, orientation, for_size, minimum, natural, NULL, NULL);
  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = *natural = MAX (*minimum, WIDTH);
}

static void
app_story_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  gtk_widget_size_allocate (APP_STORY (widget)->scroller, &(GtkAllocation) { 0, 0, width, height }, -1);
}

static GtkSizeRequestMode
app_story_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
dispose (GObject *object)
{
  AppStory *self = APP_STORY (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (app_story_parent_class)->dispose (object);
}

static void
app_story_class_init (AppStoryClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  GTK_WIDGET_CLASS (klass)->measure = app_story_measure;
  GTK_WIDGET_CLASS (klass)->size_allocate = app_story_size_allocate;
  GTK_WIDGET_CLASS (klass)->get_request_mode = app_story_request_mode;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "story");
}

static GtkWidget *
head_new (AppStory *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *open = gtk_button_new_with_mnemonic (C_ ("story", "O_pen its page"));

  self->number = app_text (head, NULL, "title");
  self->kind = app_text (head, NULL, "dim");
  gtk_label_set_wrap (self->number, FALSE);
  gtk_widget_set_hexpand (GTK_WIDGET (self->kind), TRUE);
  gtk_widget_set_valign (open, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (open, "quiet");
  g_signal_connect_object (open, "clicked", G_CALLBACK (open_cb), self, 0);
  gtk_box_append (GTK_BOX (head), open);
  return head;
}

static void
app_story_init (AppStory *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  gtk_widget_add_css_class (box, "story");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), box);
  gtk_box_append (GTK_BOX (box), head_new (self));
  self->sentence = app_text (box, NULL, NULL);
  app_heading (box, C_ ("story", "Due"));
  self->due = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 9));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->due));
  app_heading (box, C_ ("story", "What happened?"));
  self->quick = APP_QUICK (app_quick_new ());
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->quick));
  self->care = APP_CARE (app_care_new ());
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->care));
  app_heading (box, C_ ("story", "Last entries"));
  self->entries = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->entries));
  g_signal_connect_object (drop, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}

static gboolean
is_animal (DeskSubject *subject)
{
  return subject != NULL && desk_subject_kind (subject) == CORE_SUBJECT_ANIMAL;
}

static gboolean
to_top_cb (gpointer scroller)
{
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller)), 0);
  return G_SOURCE_REMOVE;
}

void
app_story_set_subject (AppStory *self, Desk *desk, DeskSubject *subject)
{
  gboolean other;

  g_return_if_fail (APP_IS_STORY (self));

  other = subject != NULL
          && (self->subject == NULL || !core_id_equal (desk_subject_id (subject), desk_subject_id (self->subject)));
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  if (subject != NULL)
    self->subject = desk_subject_ref (subject);
  app_quick_set_subject (self->quick, desk, is_animal (subject) ? subject : NULL);
  app_care_set_subject (self->care, desk, subject);
  if (desk != NULL && subject != NULL)
    fill (self);
  if (other) /* once it has its size; before that the old place would come back */
    g_idle_add_full (G_PRIORITY_LOW, to_top_cb, g_object_ref (self->scroller), g_object_unref);
}

gboolean
app_story_key (AppStory *self, guint keyval)
{
  g_return_val_if_fail (APP_IS_STORY (self), FALSE);
  if (self->subject == NULL)
    return FALSE;
  return is_animal (self->subject) ? app_quick_key (self->quick, keyval) : app_care_key (self->care, keyval);
}

void
app_story_attach (AppStory *self, GFile *file)
{
  g_return_if_fail (APP_IS_STORY (self));
  app_quick_attach (self->quick, file);
}
