/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-bench-page.c — puts canvas, marks, strip, count, steps and verdict over one BenchModel.
 *
 * Invariant: at most one model; the result of a load or a record for an older one
 * is dropped. What is marked but not recorded is a draft of the model's. */
#include "app/app-bench-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-canvas.h"
#include "app/app-count.h"
#include "app/app-earlier.h"
#include "app/app-loading.h"
#include "app/app-marks.h"
#include "app/app-pages.h"
#include "app/app-proof.h"
#include "app/app-steps.h"
#include "app/app-strip.h"
#include "app/app-verdict.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-photos.h"
#include "words/words-check.h"

#define COLUMN 356
#define NARROW 960 /* other pictures then take the place of the count */

struct _AppBenchPage
{
  AppDeskPage parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkStack *stack;
  GtkLabel *title;
  GtkWidget *undo;
  GtkWidget *redo;
  GtkToggleButton *others;  /* pictures of the same animal, at will */
  AppEarlier *earlier;
  GtkLabel *words;
  GtkWidget *way_back;
  AppCanvas *canvas;
  AppMarks *marks;
  AppStrip *strip;
  GtkWidget *strip_box;
  GtkWidget *column; /* of strip, count and verdict */
  AppCount *count;
  AppVerdict *verdict;
  AppSteps *steps;

  /* Owned */
  BenchModel *model;
  GSignalGroup *model_signals;
  GCancellable *cancellable;

  CoreId photo;
  gboolean loaded;
  gboolean recording;
};

G_DEFINE_FINAL_TYPE (AppBenchPage, app_bench_page, APP_TYPE_DESK_PAGE)

/* ---- what stands there ---- */

static void
show_words (AppBenchPage *self, const char *text, gboolean with_way_back)
{
  gtk_label_set_label (self->words, text);
  gtk_widget_set_visible (self->way_back, with_way_back);
  gtk_stack_set_visible_child_name (self->stack, "words");
}

static void
show_title (AppBenchPage *self)
{
  DeskSubject *subject = bench_model_subject (self->model);
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *stage = words_stage (&view, desk_subject_state (subject));
  g_autofree char *day = NULL;
  g_autofree char *text = NULL;
  CoreDay taken = desk_photo_day (app_desk_page_desk (self), self->photo);

  if (taken == CORE_DAY_NONE)
    day = g_strdup (C_ ("bench", "picture"));
  else
    {
      g_autofree char *said = words_day (&view, taken, WORDS_DAY_FULL);

      /* Translators: a day: "picture of Tue 25 November" */
      day = g_strdup_printf (C_ ("bench", "picture of %s"), said);
    }
  /* Translators: number, species, stage, "picture of …", width, height */
  text = g_strdup_printf (C_ ("bench", "%s · %s, %s · %s, %d × %d"), desk_subject_label (subject),
                          app_species_name (subject), stage, day,
                          bench_model_pixels (self->model)->width,
                          bench_model_pixels (self->model)->height);
  gtk_label_set_label (self->title, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  text, -1);
}

static void
refresh (AppBenchPage *self)
{
  BenchStep step = bench_model_step (self->model);
  gboolean last = step == BENCH_STEP_VERDICT;
  gboolean crowded = gtk_toggle_button_get_active (self->others) && gtk_widget_get_width (GTK_WIDGET (self)) < NARROW;

  gtk_widget_set_sensitive (self->undo, bench_model_can_undo (self->model));
  gtk_widget_set_sensitive (self->redo, bench_model_can_redo (self->model));
  gtk_widget_set_visible (self->strip_box,
                          !last && step >= BENCH_STEP_AXIS && step != BENCH_STEP_WINGS &&
                            step != BENCH_STEP_CUE);
  gtk_widget_set_visible (GTK_WIDGET (self->count), !last && !crowded);
  gtk_widget_set_size_request (self->column, crowded && !last ? -1 : COLUMN, -1);
  gtk_widget_set_visible (self->column, !crowded || gtk_widget_get_visible (self->strip_box) || last);
  gtk_widget_set_visible (GTK_WIDGET (self->verdict), last);
  if (last)
    app_verdict_show (self->verdict, app_desk_page_desk (self), self->model);
  else
    app_count_show (self->count, self->model);
}

static void
changed_cb (BenchModel *model, AppBenchPage *self)
{
  if (self->loaded)
    refresh (self);
}

/* From the boundaries on the abdomen fills the view; before and for the wings all is shown. */
static void
frame_step (AppBenchPage *self)
{
  BenchStep step = bench_model_step (self->model);
  CorePoint base, tip;
  double room;

  if (step < BENCH_STEP_BOUNDARIES || step == BENCH_STEP_WINGS || step == BENCH_STEP_CUE ||
      !bench_model_mark (self->model, BENCH_MARK_BASE, &base) ||
      !bench_model_mark (self->model, BENCH_MARK_TIP, &tip))
    {
      app_canvas_unframe (self->canvas);
      return;
    }
  room = hypot (tip.x - base.x, tip.y - base.y) * .3;
  app_canvas_frame (self->canvas, MIN (base.x, tip.x) - room, MIN (base.y, tip.y) - room,
                    MAX (base.x, tip.x) + room, MAX (base.y, tip.y) + room);
}

/* The hand goes on where the next step is: on the picture; at the end on the verdict, which is
 * read out with all that speaks for it. */
static void
moved_cb (AppSteps *steps, AppBenchPage *self)
{
  if (!self->loaded)
    return;
  frame_step (self);
  if (bench_model_step (self->model) == BENCH_STEP_VERDICT)
    gtk_widget_grab_focus (GTK_WIDGET (self->verdict));
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->marks));
}

/* Made when they are asked for. */
static void
show_others (AppBenchPage *self)
{
  gboolean wanted = self->loaded && gtk_toggle_button_get_active (self->others);

  app_earlier_set (self->earlier, app_desk_page_desk (self), wanted ? bench_model_subject (self->model) : NULL, self->photo);
  gtk_widget_set_visible (GTK_WIDGET (self->earlier), wanted);
}

static void
others_cb (GtkToggleButton *button, AppBenchPage *self)
{
  show_others (self);
  if (self->loaded)
    refresh (self);
}

/* ---- opening ---- */

static void
drop_model (AppBenchPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->loaded = self->recording = FALSE;
  if (self->box != NULL)
    {
      app_marks_set_model (self->marks, NULL);
      app_strip_set_model (self->strip, NULL);
      app_steps_set_model (self->steps, NULL);
      app_canvas_set_pixels (self->canvas, NULL);
      show_others (self);
    }
  if (self->model_signals != NULL)
    g_signal_group_set_target (self->model_signals, NULL);
  g_clear_object (&self->model);
}

static void
show_loaded (gpointer page)
{
  AppBenchPage *self = page;

  self->loaded = TRUE;
  app_canvas_set_pixels (self->canvas, bench_model_pixels (self->model));
  app_marks_set_model (self->marks, self->model);
  app_strip_set_model (self->strip, self->model);
  app_steps_set_model (self->steps, self->model);
  g_signal_group_set_target (self->model_signals, self->model);
  show_title (self);
  refresh (self);
  show_others (self);
  frame_step (self); /* a draft goes on where it was left */
  gtk_stack_set_visible_child_name (self->stack, "bench");
  gtk_widget_grab_focus (GTK_WIDGET (self->marks));
}

static gboolean
finish_load (gpointer model, GAsyncResult *result, GError **error)
{
  return bench_model_load_finish (model, result, error);
}

static void
refuse_load (gpointer page, const char *text)
{
  drop_model (page);
  show_words (page, text, TRUE);
}

static const AppLoading loading = { finish_load, show_loaded, refuse_load };

void
app_bench_page_open (AppBenchPage *self, CoreId animal, CoreId photo)
{
  g_autoptr (DeskSubject) subject = NULL;

  g_return_if_fail (APP_IS_BENCH_PAGE (self));
  if (app_desk_page_desk (self) == NULL)
    return;
  if (self->loaded && core_id_equal (self->photo, photo))
    return; /* as it was left */
  drop_model (self);
  self->photo = photo;
  gtk_label_set_label (self->title, C_ ("bench", "Photo bench"));
  subject = desk_get (app_desk_page_desk (self), animal);
  if (subject == NULL)
    {
      show_words (self, C_ ("bench", "This animal is not in the journal any more."), TRUE);
      return;
    }
  show_words (self, C_ ("bench", "Reading the picture…"), FALSE);
  self->model = bench_model_new (app_desk_page_desk (self), subject, photo);
  self->cancellable = g_cancellable_new ();
  bench_model_load_async (self->model, self->cancellable, app_loading_cb, app_loading_new (self, &self->model, &loading));
}

CoreId
app_bench_page_animal (AppBenchPage *self)
{
  CoreId none = { { 0 } };

  g_return_val_if_fail (APP_IS_BENCH_PAGE (self), none);
  return self->model != NULL ? desk_subject_id (bench_model_subject (self->model)) : none;
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppBenchPage *self)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));
  AppWindow *window = app_window_of (self);

  if (window == NULL || self->model == NULL)
    return FALSE;
  app_window_attach_pictures (window, files);
  return files != NULL;
}

/* ---- undo, recording ---- */

gboolean
app_bench_page_undo (GtkWidget *page, gboolean redo)
{
  AppBenchPage *self;
  AppWindow *window;
  gboolean can;

  if (page == NULL || !APP_IS_BENCH_PAGE (page))
    return FALSE;
  self = APP_BENCH_PAGE (page);
  if (!self->loaded || self->recording)
    return self->recording;
  can = redo ? bench_model_can_redo (self->model) : bench_model_can_undo (self->model);
  window = app_window_of (self);
  if (can && redo)
    bench_model_redo (self->model);
  else if (can)
    bench_model_undo (self->model);
  if (window != NULL)
    app_window_say (window, !can   ? C_ ("bench", "Nothing more to take back on this picture.")
                            : redo ? C_ ("bench", "Restored the last change on the picture.")
                                   : C_ ("bench", "Took back the last change on the picture."));
  return TRUE;
}

static void
undo_cb (GtkButton *button, AppBenchPage *self)
{
  app_bench_page_undo (GTK_WIDGET (self), FALSE);
}

static void
redo_cb (GtkButton *button, AppBenchPage *self)
{
  app_bench_page_undo (GTK_WIDGET (self), TRUE);
}

/* What was read, and what has become of the sex check by it. */
static char *
recorded_text (AppBenchPage *self)
{
  g_autofree char *sex = words_sex (WORDS_LOCAL, bench_model_verdict (self->model));
  WordsView view = app_view (app_desk_page_desk (self));
  g_autoptr (DeskSubject) now
    = desk_get (app_desk_page_desk (self), desk_subject_id (bench_model_subject (self->model)));
  g_autofree char *check
    = now != NULL ? words_sex_check_now (&view, desk_subject_state (now), desk_subject_profile (now),
                                         desk_subject_verdict (now), desk_subject_forecast (now), desk_subject_plan (now))
                  : NULL;

  if (check == NULL)
    /* Translators: the sex in words: "likely female, 94 in 100" */
    return g_strdup_printf (C_ ("bench", "Saved: %s. Ctrl+S makes a proof sheet of it, Ctrl+Z takes it back."), sex);
  /* Translators: the sex in words; a sentence about the sex check */
  return g_strdup_printf (C_ ("bench", "Saved: %s. %s Ctrl+S makes a proof sheet of it, Ctrl+Z takes it back."), sex, check);
}

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppBenchPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = bench_model_record_finish (BENCH_MODEL (source), result, &error);
  AppWindow *window = app_window_of (self);

  if (self->model != BENCH_MODEL (source))
    return;
  self->recording = FALSE;
  app_steps_set_busy (self->steps, FALSE);
  if (!ok)
    {
      if (window != NULL)
        app_window_say_error (window, error);
      return;
    }
  if (window != NULL)
    {
      g_autofree char *text = recorded_text (self);

      drop_model (self);
      app_window_go_back (window);
      app_window_say (window, text);
    }
}

static void
record (AppBenchPage *self)
{
  if (!self->loaded || self->recording || bench_model_step (self->model) != BENCH_STEP_VERDICT)
    return;
  self->recording = TRUE;
  app_steps_set_busy (self->steps, TRUE);
  bench_model_record_async (self->model, recorded_cb, g_object_ref (self));
}

static void
record_cb (AppSteps *steps, AppBenchPage *self)
{
  record (self);
}

/* ---- for others ---- */

static void
proof_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppBenchPage *self = APP_BENCH_PAGE (widget);
  AppWindow *window = app_window_of (self);

  if (self->loaded && window != NULL)
    app_proof_save (window, self->model);
}

/* ---- keys ---- */

static int
digit_of (guint keyval)
{
  if (keyval >= GDK_KEY_1 && keyval <= GDK_KEY_9)
    return (int) (keyval - GDK_KEY_0);
  if (keyval >= GDK_KEY_KP_1 && keyval <= GDK_KEY_KP_9)
    return (int) (keyval - GDK_KEY_KP_0);
  return 0;
}

static gboolean
key_cb (GtkEventControllerKey *controller,
        guint keyval,
        guint keycode,
        GdkModifierType state,
        AppBenchPage *self)
{
  gboolean enter = keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter;

  if (!self->loaded || (state & GDK_ALT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  if ((state & GDK_CONTROL_MASK) != 0)
    {
      if (!enter)
        return GDK_EVENT_PROPAGATE;
      if (bench_model_step (self->model) == BENCH_STEP_VERDICT)
        record (self);
      else /* also where Enter would place a mark */
        app_steps_next (self->steps);
      return GDK_EVENT_STOP;
    }
  if (enter)
    {
      app_steps_next (self->steps);
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_BackSpace)
    {
      app_steps_back (self->steps);
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_e)
    {
      gtk_toggle_button_set_active (self->others, !gtk_toggle_button_get_active (self->others));
      return GDK_EVENT_STOP;
    }
  if (keyval == GDK_KEY_w && gtk_toggle_button_get_active (self->others))
    {
      app_earlier_switch (self->earlier);
      return GDK_EVENT_STOP;
    }
  return digit_of (keyval) > 0 && app_steps_answer (self->steps, digit_of (keyval));
}

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  AppBenchPage *self = APP_BENCH_PAGE (page);

  drop_model (self);
}

static void
app_bench_page_dispose (GObject *object)
{
  AppBenchPage *self = APP_BENCH_PAGE (object);

  if (self->box != NULL)
    drop_model (self);
  self->box = NULL; /* gone with its parent */
  g_clear_object (&self->model_signals);
  G_OBJECT_CLASS (app_bench_page_parent_class)->dispose (object);
}

static void
app_bench_page_class_init (AppBenchPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_bench_page_dispose;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  gtk_widget_class_install_action (widget_class, "bench.proof", NULL, proof_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "bench.proof", NULL);
}

static void
add_proof_button (GtkWidget *head)
{
  GtkWidget *button = gtk_button_new_with_label (C_ ("proof", "Proof sheet…"));

  gtk_widget_set_tooltip_text (button, C_ ("proof", "The picture with plates and verdict, for others to check. Ctrl+S"));
  gtk_widget_add_css_class (button, "quiet");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "bench.proof");
  gtk_box_append (GTK_BOX (head), button);
}

static GtkWidget *
head_new (AppBenchPage *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_widget_add_css_class (head, "bench-head");
  self->title = app_text (head, C_ ("bench", "Photo bench"), "dim");
  gtk_label_set_wrap (self->title, FALSE);
  gtk_label_set_ellipsize (self->title, PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (GTK_WIDGET (self->title), TRUE);
  self->undo = gtk_button_new_with_label (C_ ("bench", "Undo"));
  self->redo = gtk_button_new_with_label (C_ ("bench", "Redo"));
  gtk_widget_set_tooltip_text (self->undo, C_ ("bench", "Ctrl+Z"));
  gtk_widget_set_tooltip_text (self->redo, C_ ("bench", "Ctrl+Shift+Z"));
  gtk_widget_add_css_class (self->undo, "quiet");
  gtk_widget_add_css_class (self->redo, "quiet");
  g_signal_connect_object (self->undo, "clicked", G_CALLBACK (undo_cb), self, 0);
  g_signal_connect_object (self->redo, "clicked", G_CALLBACK (redo_cb), self, 0);
  self->others = GTK_TOGGLE_BUTTON (gtk_toggle_button_new_with_label (C_ ("bench", "Other pictures")));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->others), C_ ("bench", "Key E"));
  gtk_widget_add_css_class (GTK_WIDGET (self->others), "quiet");
  g_signal_connect_object (self->others, "toggled", G_CALLBACK (others_cb), self, 0);
  gtk_box_append (GTK_BOX (head), GTK_WIDGET (self->others));
  gtk_box_append (GTK_BOX (head), self->undo);
  gtk_box_append (GTK_BOX (head), self->redo);
  add_proof_button (head);
  return head;
}

static GtkWidget *
column_new (AppBenchPage *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);

  self->column = column;
  gtk_widget_add_css_class (column, "bench-column");
  gtk_widget_set_size_request (column, COLUMN, -1);
  gtk_widget_set_hexpand (column, FALSE); /* the picture takes the room */
  self->strip_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  app_text (self->strip_box, C_ ("bench", "straightened"), "caption");
  gtk_widget_add_css_class (self->strip_box, "dim");
  self->strip = APP_STRIP (app_strip_new (self->marks));
  gtk_widget_set_vexpand (GTK_WIDGET (self->strip), TRUE);
  gtk_box_append (GTK_BOX (self->strip_box), GTK_WIDGET (self->strip));
  self->count = APP_COUNT (app_count_new ());
  self->verdict = APP_VERDICT (app_verdict_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->verdict), TRUE);
  gtk_box_append (GTK_BOX (column), self->strip_box);
  gtk_box_append (GTK_BOX (column), GTK_WIDGET (self->count));
  gtk_box_append (GTK_BOX (column), GTK_WIDGET (self->verdict));
  return column;
}

static GtkWidget *
bench_new (AppBenchPage *self)
{
  GtkWidget *bench = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->canvas = APP_CANVAS (app_canvas_new ());
  self->marks = APP_MARKS (app_marks_new (self->canvas));
  self->steps = APP_STEPS (app_steps_new (self->marks));
  g_signal_connect_object (self->steps, "record", G_CALLBACK (record_cb), self, 0);
  g_signal_connect_object (self->steps, "moved", G_CALLBACK (moved_cb), self, 0);
  self->earlier = APP_EARLIER (app_earlier_new ());
  gtk_widget_set_visible (GTK_WIDGET (self->earlier), FALSE);
  gtk_box_append (GTK_BOX (table), GTK_WIDGET (self->canvas));
  gtk_box_append (GTK_BOX (table), GTK_WIDGET (self->earlier));
  gtk_box_append (GTK_BOX (table), column_new (self));
  gtk_widget_set_vexpand (table, TRUE);
  gtk_box_append (GTK_BOX (bench), table);
  gtk_box_append (GTK_BOX (bench), GTK_WIDGET (self->steps));
  return bench;
}

static GtkWidget *
words_new (AppBenchPage *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (words, GTK_ALIGN_CENTER);
  self->words = app_text (words, NULL, "sentence");
  gtk_label_set_max_width_chars (self->words, 60);
  self->way_back = gtk_button_new_with_label (C_ ("bench", "Go back to the animal"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->way_back), "win.back");
  gtk_widget_set_halign (self->way_back, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (words), self->way_back);
  return words;
}

static void
app_bench_page_init (AppBenchPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->box), head_new (self));
  self->stack = GTK_STACK (gtk_stack_new ());
  gtk_stack_add_named (self->stack, words_new (self), "words");
  gtk_stack_add_named (self->stack, bench_new (self), "bench");
  gtk_widget_set_vexpand (GTK_WIDGET (self->stack), TRUE);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->stack));
  self->model_signals = g_signal_group_new (BENCH_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_object (drop, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}

GtkWidget *
app_bench_page_new (void)
{
  return g_object_new (APP_TYPE_BENCH_PAGE, NULL);
}
