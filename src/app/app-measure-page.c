/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-measure-page.c — canvas, ruler and one column over a MeasureModel; see app-measure-page.h. */
#include "app/app-measure-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-canvas.h"
#include "app/app-drop-down.h"
#include "app/app-loading.h"
#include "app/app-pages.h"
#include "app/app-ruler.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "core/core-entry.h"

#define COLUMN 330
#define FLAT .95 /* of a disc: below, it was seen from the side */

struct _AppMeasurePage
{
  AppDeskPage parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkStack *stack;
  GtkLabel *title;
  GtkLabel *words;
  GtkWidget *undo;
  GtkWidget *redo;
  AppCanvas *canvas;
  AppRuler *ruler;
  GtkToggleButton *tasks[2];
  GtkWidget *of_length; /* what is asked for a length alone */
  GtkDropDown *what;
  GtkToggleButton *scales[2];
  GtkEditable *known;
  GtkLabel *figure;
  GtkLabel *doubt;
  GtkLabel *notes;
  GtkLabel *sentence;
  GtkWidget *save;

  /* Owned */
  MeasureModel *model;
  GSignalGroup *model_signals;
  GCancellable *cancellable;

  CoreId photo;
  gboolean loaded;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppMeasurePage, app_measure_page, APP_TYPE_DESK_PAGE)

/* ---- what stands there ---- */

static const char *
missing_said (AppMeasurePage *self, MeasureSet set)
{
  CorePoint p[MEASURE_MAX_POINTS];
  gboolean first = measure_model_points (self->model, set, p) == 0;

  if (set == MEASURE_SET_RULER)
    return first ? C_ ("measure", "Click on one end of a known length on the ruler or graph paper.")
                 : C_ ("measure", "Now on its other end.");
  if (set == MEASURE_SET_DISC)
    return C_ ("measure", "Click on the edge of the disc: five marks or more, all round.");
  if (measure_model_task (self->model) == MEASURE_PLUMPNESS)
    return first ? C_ ("measure", "Seen from the side: click on the base of the abdomen.")
                 : C_ ("measure", "Now on its tip.");
  return first ? C_ ("measure", "Click on one end of what you measure.") : C_ ("measure", "Now on its other end.");
}

static char *
sentence_said (AppMeasurePage *self)
{
  MeasureSet set;
  CoreScale scale;
  CoreMeasureStatus status;

  if (measure_model_next_set (self->model, &set))
    return g_strdup (missing_said (self, set));
  if (measure_model_outlining (self->model))
    return g_strdup (C_ ("measure", "Looking for the outline…"));
  if (measure_model_task (self->model) == MEASURE_PLUMPNESS)
    return g_strdup (C_ ("measure", "Does the outline lie on the abdomen? Drag its marks, then save."));
  if (isnan (measure_model_known (self->model)))
    return g_strdup (C_ ("measure", "How long is it? Write the millimetres at the right."));
  status = measure_model_scale (self->model, &scale, NULL);
  if (status == CORE_MEASURE_SHORT_ARC)
    return g_strdup (C_ ("measure", "The marks cover too little of the disc. Put more round it."));
  if (status != CORE_MEASURE_OK)
    return g_strdup (C_ ("measure", "These marks make no scale. Drag them apart, or take one out."));
  return g_strdup (C_ ("measure", "Drag the marks where they are wrong; Insert puts one more where it bends."));
}

static void
show_length (AppMeasurePage *self, GString *notes)
{
  CoreLength length;
  CoreScale scale;
  CoreCircle circle;
  g_autofree char *mm = NULL, *sd = NULL, *figure = NULL, *doubt = NULL;

  if (measure_model_scale (self->model, &scale, &circle) == CORE_MEASURE_OK)
    {
      g_autofree char *share = words_number (WORDS_LOCAL, 100 * scale.share_sd, 1);

      /* Translators: the error of the scale in per cent */
      g_string_append_printf (notes, C_ ("measure", "The scale is good to ± %s %%. "), share);
      if (measure_model_disc (self->model) && circle.flat < FLAT)
        g_string_append (notes, C_ ("measure", "The disc was seen from the side: hold the camera straight over it. "));
      g_string_append (notes, C_ ("measure", "Ruler and animal must lie at one distance from the camera: a ruler "
                                             "10 mm nearer at 200 mm makes an error of 5 %."));
    }
  if (measure_model_length (self->model, &length) != CORE_MEASURE_OK)
    return;
  mm = words_number (WORDS_LOCAL, length.mm, 1);
  sd = words_number (WORDS_LOCAL, MAX (.1, length.sd), 1);
  figure = g_strdup_printf (C_ ("measure", "%s mm"), mm);
  doubt = g_strdup_printf (C_ ("measure", "± %s mm: from the marks, the scale, and a tilt of up to 15°"), sd);
  gtk_label_set_label (self->figure, figure);
  gtk_label_set_label (self->doubt, doubt);
}

static void
show_plumpness (AppMeasurePage *self, GString *notes)
{
  const CoreState *state = desk_subject_state (measure_model_subject (self->model));
  CorePlumpness plump;
  g_autofree char *figure = NULL, *doubt = NULL, *chance = NULL, *depth = NULL;

  g_string_append (notes, C_ ("measure", "From a side view only; where the scores lie is common practice, no source. "
                                         "In females near laying it may be eggs."));
  if (state->belly > 0)
    g_string_append_printf (notes, C_ ("measure", " Your own last score: %d."), state->belly);
  if (measure_model_plumpness (self->model, &plump) != CORE_MEASURE_OK)
    return;
  chance = words_percent (WORDS_LOCAL, plump.p[plump.score]);
  depth = words_number (WORDS_LOCAL, plump.depth, 2);
  /* Translators: a belly score, 1 to 5 */
  figure = g_strdup_printf (C_ ("measure", "belly %d"), plump.score);
  /* Translators: a chance ("71 in 100"); depth of the abdomen as a part of its length */
  doubt = g_strdup_printf (C_ ("measure", "%s; depth %s of the length"), chance, depth);
  gtk_label_set_label (self->figure, figure);
  gtk_label_set_label (self->doubt, doubt);
}

static void
refresh (AppMeasurePage *self)
{
  gboolean plump = measure_model_task (self->model) == MEASURE_PLUMPNESS;
  gboolean disc = measure_model_disc (self->model);
  g_autofree char *sentence = sentence_said (self);
  g_autoptr (GString) notes = g_string_new (NULL);

  self->filling = TRUE;
  gtk_toggle_button_set_active (self->tasks[plump], TRUE);
  gtk_toggle_button_set_active (self->scales[disc], TRUE);
  gtk_drop_down_set_selected (self->what, (guint) measure_model_what (self->model));
  self->filling = FALSE;
  gtk_widget_set_visible (self->of_length, !plump);
  gtk_label_set_label (self->figure, "–");
  gtk_label_set_label (self->doubt, "");
  if (plump)
    show_plumpness (self, notes);
  else
    show_length (self, notes);
  gtk_label_set_label (self->notes, notes->str);
  gtk_label_set_label (self->sentence, sentence);
  gtk_widget_set_sensitive (self->undo, measure_model_can_undo (self->model));
  gtk_widget_set_sensitive (self->redo, measure_model_can_redo (self->model));
  gtk_widget_set_sensitive (self->save, measure_model_can_record (self->model));
}

static void
changed_cb (MeasureModel *model, AppMeasurePage *self)
{
  if (self->loaded)
    refresh (self);
}

/* ---- answers ---- */

static void
task_cb (GtkToggleButton *button, AppMeasurePage *self)
{
  if (!self->filling && self->loaded && gtk_toggle_button_get_active (button))
    measure_model_set_task (self->model, button == self->tasks[1] ? MEASURE_PLUMPNESS : MEASURE_LENGTH);
}

static void
scale_cb (GtkToggleButton *button, AppMeasurePage *self)
{
  if (!self->filling && self->loaded && gtk_toggle_button_get_active (button))
    measure_model_set_disc (self->model, button == self->scales[1]);
}

static void
what_cb (GtkDropDown *what, GParamSpec *pspec, AppMeasurePage *self)
{
  if (!self->filling && self->loaded)
    measure_model_set_what (self->model, (int) gtk_drop_down_get_selected (what));
}

/* Both signs of the decimal are understood. */
static void
known_cb (GtkEditable *known, AppMeasurePage *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (known)));
  double mm;

  if (self->filling || !self->loaded)
    return;
  g_strdelimit (text, ",", '.');
  measure_model_set_known (self->model, core_number_parse (text, &mm) ? mm : NAN);
}

/* ---- opening ---- */

static void
show_words (AppMeasurePage *self, const char *text)
{
  gtk_label_set_label (self->words, text);
  gtk_stack_set_visible_child_name (self->stack, "words");
}

static void
drop_model (AppMeasurePage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->loaded = FALSE;
  if (self->box != NULL)
    {
      app_ruler_set_model (self->ruler, NULL);
      app_canvas_set_pixels (self->canvas, NULL);
    }
  if (self->model_signals != NULL)
    g_signal_group_set_target (self->model_signals, NULL);
  g_clear_object (&self->model);
}

static void
show_loaded (gpointer page)
{
  AppMeasurePage *self = page;
  DeskSubject *subject = measure_model_subject (self->model);
  double known = measure_model_known (self->model);
  g_autofree char *number = isnan (known) ? g_strdup ("") : words_number (WORDS_LOCAL, known, 2);
  /* Translators: number and species of an animal */
  g_autofree char *title =
    g_strdup_printf (C_ ("measure", "%s · %s, measured on a picture"), desk_subject_label (subject), app_species_name (subject));

  gtk_editable_set_text (self->known, number);
  self->loaded = TRUE;
  app_canvas_set_pixels (self->canvas, measure_model_pixels (self->model));
  app_ruler_set_model (self->ruler, self->model);
  g_signal_group_set_target (self->model_signals, self->model);
  gtk_label_set_label (self->title, title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  refresh (self);
  gtk_stack_set_visible_child_name (self->stack, "measure");
  gtk_widget_grab_focus (GTK_WIDGET (self->ruler));
}

static gboolean
finish_load (gpointer model, GAsyncResult *result, GError **error)
{
  return measure_model_load_finish (model, result, error);
}

static void
refuse_load (gpointer page, const char *text)
{
  drop_model (page);
  show_words (page, text);
}

static const AppLoading loading = { finish_load, show_loaded, refuse_load };

void
app_measure_page_open (AppMeasurePage *self, CoreId animal, CoreId photo)
{
  g_autoptr (DeskSubject) subject = NULL;

  g_return_if_fail (APP_IS_MEASURE_PAGE (self));
  if (app_desk_page_desk (self) == NULL || (self->loaded && core_id_equal (self->photo, photo)))
    return;
  drop_model (self);
  self->photo = photo;
  subject = desk_get (app_desk_page_desk (self), animal);
  if (subject == NULL)
    {
      show_words (self, C_ ("bench", "This animal is not in the journal any more."));
      return;
    }
  show_words (self, C_ ("bench", "Reading the picture…"));
  self->model = measure_model_new (app_desk_page_desk (self), subject, photo);
  self->cancellable = g_cancellable_new ();
  measure_model_load_async (self->model, self->cancellable, app_loading_cb, app_loading_new (self, &self->model, &loading));
}

/* ---- undo, saving ---- */

gboolean
app_measure_page_undo (GtkWidget *page, gboolean redo)
{
  AppMeasurePage *self;
  gboolean can;

  if (page == NULL || !APP_IS_MEASURE_PAGE (page) || !APP_MEASURE_PAGE (page)->loaded)
    return FALSE;
  self = APP_MEASURE_PAGE (page);
  can = redo ? measure_model_can_redo (self->model) : measure_model_can_undo (self->model);
  if (can && redo)
    measure_model_redo (self->model);
  else if (can)
    measure_model_undo (self->model);
  return can; /* with no mark to take back it is the journal's turn: what was saved here, first of all */
}

static void
undo_cb (GtkButton *button, AppMeasurePage *self)
{
  app_measure_page_undo (GTK_WIDGET (self), FALSE);
}

static void
redo_cb (GtkButton *button, AppMeasurePage *self)
{
  app_measure_page_undo (GTK_WIDGET (self), TRUE);
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppMeasurePage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean ok = measure_model_record_finish (MEASURE_MODEL (source), result, &error);
  AppWindow *window = app_window_of (self);

  if (self->model == MEASURE_MODEL (source) && self->loaded)
    refresh (self);
  if (window == NULL)
    return;
  if (ok)
    app_window_say (window, C_ ("measure", "Saved. The proof sheet and the gallery take this picture's scale from it; Ctrl+Z takes it back."));
  else
    app_window_say_error (window, error);
}

static void
save (AppMeasurePage *self)
{
  if (self->loaded && measure_model_can_record (self->model))
    measure_model_record_async (self->model, saved_cb, g_object_ref (self));
}

static void
save_cb (GtkButton *button, AppMeasurePage *self)
{
  save (self);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppMeasurePage *self)
{
  gboolean enter = keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter;

  if (!self->loaded || !enter || (state & GDK_CONTROL_MASK) == 0)
    return GDK_EVENT_PROPAGATE;
  save (self);
  return GDK_EVENT_STOP;
}

/* ---- object ---- */

static void
desk_set (AppDeskPage *page)
{
  drop_model (APP_MEASURE_PAGE (page));
}

static void
app_measure_page_dispose (GObject *object)
{
  AppMeasurePage *self = APP_MEASURE_PAGE (object);

  if (self->box != NULL)
    drop_model (self);
  self->box = NULL; /* gone with its parent */
  g_clear_object (&self->model_signals);
  G_OBJECT_CLASS (app_measure_page_parent_class)->dispose (object);
}

static void
app_measure_page_class_init (AppMeasurePageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_measure_page_dispose;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
}

static GtkWidget *
quiet_new (AppMeasurePage *self, const char *label, const char *key, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_tooltip_text (button, key);
  gtk_widget_add_css_class (button, "quiet");
  g_signal_connect_object (button, "clicked", callback, self, 0);
  return button;
}

static GtkWidget *
head_new (AppMeasurePage *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_widget_add_css_class (head, "bench-head");
  self->title = app_text (head, C_ ("measure", "Measure on a picture"), "dim");
  gtk_label_set_wrap (self->title, FALSE);
  gtk_label_set_ellipsize (self->title, PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (GTK_WIDGET (self->title), TRUE);
  self->undo = quiet_new (self, C_ ("bench", "Undo"), C_ ("bench", "Ctrl+Z"), G_CALLBACK (undo_cb));
  self->redo = quiet_new (self, C_ ("bench", "Redo"), C_ ("bench", "Ctrl+Shift+Z"), G_CALLBACK (redo_cb));
  gtk_box_append (GTK_BOX (head), self->undo);
  gtk_box_append (GTK_BOX (head), self->redo);
  return head;
}

/* Two answers beside each other, of which one is pressed. */
static GtkWidget *
pair_new (AppMeasurePage *self, GtkToggleButton *out[2], const char *one, const char *two, GCallback callback)
{
  GtkWidget *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  out[0] = GTK_TOGGLE_BUTTON (gtk_toggle_button_new_with_label (one));
  out[1] = GTK_TOGGLE_BUTTON (gtk_toggle_button_new_with_label (two));
  gtk_toggle_button_set_group (out[1], out[0]);
  for (int i = 0; i < 2; i++)
    {
      gtk_widget_add_css_class (GTK_WIDGET (out[i]), "answer");
      g_signal_connect_object (out[i], "toggled", callback, self, 0);
      gtk_box_append (GTK_BOX (pair), GTK_WIDGET (out[i]));
    }
  return pair;
}

static void
label_for (GtkWidget *box, const char *text, GtkWidget *widget)
{
  app_text (box, text, "dim");
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_box_append (GTK_BOX (box), widget);
}

static GtkWidget *
of_length_new (AppMeasurePage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *known = gtk_entry_new ();

  for (int i = 0; i < 5; i++)
    gtk_string_list_append (names, words_dimension (WORDS_LOCAL, i));
  self->what = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL));
  app_drop_down_mend (self->what, TRUE);
  g_signal_connect_object (self->what, "notify::selected", G_CALLBACK (what_cb), self, 0);
  label_for (box, C_ ("measure", "What is measured"), GTK_WIDGET (self->what));
  app_text (box, C_ ("measure", "Scale"), "dim");
  gtk_box_append (GTK_BOX (box), pair_new (self, self->scales, C_ ("measure", "Ruler, graph paper"), C_ ("measure", "Disc"),
                                           G_CALLBACK (scale_cb)));
  self->known = GTK_EDITABLE (known);
  gtk_entry_set_input_purpose (GTK_ENTRY (known), GTK_INPUT_PURPOSE_NUMBER);
  app_take_digits (known);
  g_signal_connect_object (known, "changed", G_CALLBACK (known_cb), self, 0);
  label_for (box, C_ ("measure", "Length between its marks, or diameter, mm"), known);
  return box;
}

static GtkWidget *
column_new (AppMeasurePage *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 9);

  gtk_widget_add_css_class (column, "bench-column");
  gtk_widget_set_size_request (scroller, COLUMN, -1);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_box_append (GTK_BOX (column), pair_new (self, self->tasks, C_ ("measure", "A length"), C_ ("measure", "Plumpness"),
                                              G_CALLBACK (task_cb)));
  self->of_length = of_length_new (self);
  gtk_box_append (GTK_BOX (column), self->of_length);
  app_hair (column);
  self->figure = app_text (column, "–", "big");
  self->doubt = app_text (column, NULL, "strong");
  self->notes = app_text (column, NULL, "dim");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), column);
  return scroller;
}

static GtkWidget *
foot_new (AppMeasurePage *self)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  gtk_widget_add_css_class (foot, "bench-foot");
  self->sentence = app_text (foot, NULL, "sentence");
  gtk_widget_set_hexpand (GTK_WIDGET (self->sentence), TRUE);
  self->save = gtk_button_new_with_label (C_ ("measure", "Save"));
  gtk_widget_set_tooltip_text (self->save, C_ ("bench", "Ctrl+Enter"));
  gtk_widget_add_css_class (self->save, "suggested-action");
  gtk_widget_set_valign (self->save, GTK_ALIGN_CENTER);
  g_signal_connect_object (self->save, "clicked", G_CALLBACK (save_cb), self, 0);
  gtk_box_append (GTK_BOX (foot), self->save);
  return foot;
}

static GtkWidget *
measure_new (AppMeasurePage *self)
{
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->canvas = APP_CANVAS (app_canvas_new ());
  self->ruler = APP_RULER (app_ruler_new (self->canvas));
  gtk_box_append (GTK_BOX (table), GTK_WIDGET (self->canvas));
  gtk_box_append (GTK_BOX (table), column_new (self));
  gtk_widget_set_vexpand (table, TRUE);
  gtk_box_append (GTK_BOX (all), table);
  gtk_box_append (GTK_BOX (all), foot_new (self));
  return all;
}

static void
app_measure_page_init (AppMeasurePage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->box), head_new (self));
  self->stack = GTK_STACK (gtk_stack_new ());
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (words, GTK_ALIGN_CENTER);
  self->words = app_text (words, NULL, "sentence");
  gtk_label_set_max_width_chars (self->words, 60);
  gtk_stack_add_named (self->stack, words, "words");
  gtk_stack_add_named (self->stack, measure_new (self), "measure");
  gtk_widget_set_vexpand (GTK_WIDGET (self->stack), TRUE);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->stack));
  self->model_signals = g_signal_group_new (MEASURE_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
  /* Ctrl+Enter saves wherever the focus is, also where Enter alone would place a mark. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
app_measure_page_new (void)
{
  return g_object_new (APP_TYPE_MEASURE_PAGE, NULL);
}
