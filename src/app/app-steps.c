/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-steps.c — the questions as a table; see app-steps.h. */
#include "app/app-steps.h"

#include <glib/gi18n.h>

#include "app/app-bench-draw.h"
#include "app/app-columns.h"
#include "app/app-profile-row.h"
#include "app/app-widgets.h"
#include "app/app-wrap.h"
#include "words/words.h"

#define DRAWING_SIDE 48 /* of an answer */
#define STEP_SIDE 80    /* of a step: what it points out is small */
#define TURN 960 /* narrower: the answers stand under the sentence */

struct _AppSteps
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkWidget *drawing;
  GtkLabel *sentence;
  GtkLabel *why;
  GtkWidget *answers;
  GtkButton *back;
  GtkButton *next;
  AppMarks *marks; /* not a child; borrowed */

  /* Owned */
  BenchModel *model;
  GSignalGroup *model_signals;
  GPtrArray *buttons; /* GtkToggleButton, borrowed */

  BenchStep shown;
  gboolean has_shown;
  gboolean filling;
  gboolean busy;
};

G_DEFINE_FINAL_TYPE (AppSteps, app_steps, GTK_TYPE_WIDGET)

enum
{
  RECORD,
  MOVED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* ---- the questions ---- */

typedef struct
{
  BenchStep step;
  int (*get) (BenchModel *);
  void (*set) (BenchModel *, int);
  int value;
  const char *label;
  AppDrawing drawing;
  gboolean empusid_only; /* or where the kind is not known, and may be one */
  gboolean new_row;
  char *said; /* of a sign of the species, owned; NULL = the label, translated */
} Answer;

/* Signs of the species are answered by place in the list of those that may be seen: twice it for
 * male, and one more for female. */
static int
cue_answer (BenchModel *model)
{
  const CoreSexCue *cues[CORE_MAX_CUES];
  gsize n = bench_model_cues (model, cues);
  CoreSex says;
  const char *name = bench_model_cue (model, &says);

  for (gsize i = 0; name != NULL && i < n; i++)
    if (strcmp (cues[i]->name, name) == 0)
      return (int) (2 * i) + (says == CORE_SEX_FEMALE);
  return -1;
}

static void
set_cue_answer (BenchModel *model, int value)
{
  const CoreSexCue *cues[CORE_MAX_CUES];
  gsize n = bench_model_cues (model, cues);

  if (value == cue_answer (model))
    return;
  if (value >= 0 && value / 2 < (int) n)
    bench_model_set_cue (model, cues[value / 2]->name,
                         value % 2 == 1 ? CORE_SEX_FEMALE : CORE_SEX_MALE);
  else
    bench_model_set_cue (model, NULL, CORE_SEX_UNKNOWN);
}

static const Answer answers[] = {
  { BENCH_STEP_WHAT, bench_model_side, bench_model_set_side, CORE_SIDE_UNDERSIDE,
    NC_ ("bench answer", "Underside"), APP_DRAWING_UNDERSIDE },
  { BENCH_STEP_WHAT, bench_model_side, bench_model_set_side, CORE_SIDE_BACK,
    NC_ ("bench answer", "Back"), APP_DRAWING_BACK },
  { BENCH_STEP_WHAT, bench_model_side, bench_model_set_side, CORE_SIDE_FLANK,
    NC_ ("bench answer", "Flank"), APP_DRAWING_FLANK },
  { BENCH_STEP_WHAT, bench_model_of, bench_model_set_of, CORE_OF_ANIMAL,
    NC_ ("bench answer", "The animal"), APP_DRAWING_NONE, .new_row = TRUE },
  { BENCH_STEP_WHAT, bench_model_of, bench_model_set_of, CORE_OF_SHED,
    NC_ ("bench answer", "Its shed skin"), APP_DRAWING_NONE },
  { BENCH_STEP_AXIS, bench_model_axis_said, bench_model_say_axis, 1, NC_ ("bench answer", "Both lie right"),
    APP_DRAWING_NONE, .new_row = TRUE },
  { BENCH_STEP_SMALL_PLATE, bench_model_small_plate, bench_model_set_small_plate, CORE_SMALL_NOT,
    NC_ ("bench answer", "It is not counted"), APP_DRAWING_NONE },
  { BENCH_STEP_SMALL_PLATE, bench_model_small_plate, bench_model_set_small_plate,
    CORE_SMALL_COUNTED, NC_ ("bench answer", "It is counted"), APP_DRAWING_NONE },
  { BENCH_STEP_SMALL_PLATE, bench_model_small_plate, bench_model_set_small_plate,
    CORE_SMALL_UNKNOWN, NC_ ("bench answer", "Cannot see"), APP_DRAWING_NONE },
  { BENCH_STEP_SMALL_PLATE, bench_model_convention, bench_model_set_convention,
    CORE_CONVENTION_PLATES, NC_ ("bench answer", "Plates"), APP_DRAWING_PLATES, TRUE, TRUE },
  { BENCH_STEP_SMALL_PLATE, bench_model_convention, bench_model_set_convention,
    CORE_CONVENTION_APPENDAGES, NC_ ("bench answer", "Appendages"), APP_DRAWING_APPENDAGES, TRUE },
  { BENCH_STEP_SMALL_PLATE, bench_model_convention, bench_model_set_convention,
    CORE_CONVENTION_UNKNOWN, NC_ ("bench answer", "Not sure"), APP_DRAWING_NONE, TRUE },
  { BENCH_STEP_LAST_PLATE, bench_model_last_plate, bench_model_set_last_plate, CORE_LAST_BOAT,
    NC_ ("bench answer", "Large, like a boat"), APP_DRAWING_BOAT },
  { BENCH_STEP_LAST_PLATE, bench_model_last_plate, bench_model_set_last_plate, CORE_LAST_SMALL,
    NC_ ("bench answer", "Small and narrow"), APP_DRAWING_SMALL },
  { BENCH_STEP_LAST_PLATE, bench_model_last_plate, bench_model_set_last_plate, CORE_LAST_UNCLEAR,
    NC_ ("bench answer", "Unclear"), APP_DRAWING_NONE, .new_row = TRUE },
};

static const struct
{
  const char *name;
  const char *sentence;
  const char *why;
  AppDrawing drawing;
} steps[BENCH_N_STEPS] = {
  [BENCH_STEP_WHAT] = { NC_ ("bench step", "what it shows"),
                        NC_ ("bench", "What does the picture show?"),
                        NC_ ("bench",
                             "The back has ten rings in both sexes; only the underside "
                             "can be counted. A shed skin shows the stage before the "
                             "moult."),
                        APP_DRAWING_NONE },
  [BENCH_STEP_AXIS] = { NC_ ("bench step", "base and tip"), NULL,
                        NC_ ("bench",
                             "The base lies just behind the hind legs, the tip before "
                             "the two cerci. Up to three more marks where the abdomen "
                             "bends: click there, or Insert."),
                        APP_DRAWING_AXIS },
  [BENCH_STEP_BOUNDARIES] = { NC_ ("bench step", "the boundaries"), NULL,
                              NC_ ("bench",
                                   "Drag a line where it is wrong. Double click or "
                                   "Insert puts one in, Delete takes the chosen one "
                                   "out. Next confirms the count."),
                              APP_DRAWING_NONE },
  [BENCH_STEP_SMALL_PLATE] = { NC_ ("bench step", "the small plate"), NULL,
                               NC_ ("bench",
                                    "It is not a belly plate. Counted by mistake it "
                                    "turns a female into a seven, a male into a nine."),
                               APP_DRAWING_SMALL_PLATE },
  [BENCH_STEP_LAST_PLATE] = { NC_ ("bench step", "the last plate"),
                              NC_ ("bench", "How does the last plate look?"),
                              NC_ ("bench",
                                   "In females it is long and wide, with a keel; in "
                                   "males the last ones are narrow and short."),
                              APP_DRAWING_NONE },
  [BENCH_STEP_WINGS] = { NC_ ("bench step", "the wings"), NULL,
                         NC_ ("bench",
                              "The length of the wings against the abdomen and against "
                              "the shield tells the sex of adults. Next without marks "
                              "leaves it out."),
                         APP_DRAWING_WINGS },
  [BENCH_STEP_CUE] = { NC_ ("bench step", "signs of the species"),
                       NC_ ("bench", "Does the picture show one of these signs clearly?"), NULL,
                       APP_DRAWING_NONE },
  [BENCH_STEP_VERDICT] = { NC_ ("bench step", "the verdict"),
                           NC_ ("bench", "Read the verdict. Record it, or go back and correct."),
                           NC_ ("bench",
                                "Ctrl+Enter records it as one entry; Ctrl+Z takes it back."),
                           APP_DRAWING_NONE },
};

const char *
app_step_name (BenchStep step)
{
  g_return_val_if_fail ((guint) step < BENCH_N_STEPS, "");
  return g_dpgettext2 (NULL, "bench step", steps[step].name);
}

static const char *
missing_sentence (BenchMark mark)
{
  switch (mark)
    {
    case BENCH_MARK_BASE:
      return C_ ("bench", "Click on the base of the abdomen.");
    case BENCH_MARK_TIP:
      return C_ ("bench", "Now click on its tip.");
    case BENCH_MARK_WING_BASE:
      return C_ ("bench", "Click where the front wing begins.");
    case BENCH_MARK_WING_TIP:
      return C_ ("bench", "Now on the tip of that wing.");
    case BENCH_MARK_ABDOMEN_TIP:
      return C_ ("bench", "Now on the tip of the abdomen.");
    case BENCH_MARK_PRONOTUM_FRONT:
      return C_ ("bench", "Now on the front edge of the neck shield.");
    case BENCH_MARK_PRONOTUM_BACK:
      return C_ ("bench", "Now on the back edge of the neck shield.");
    case BENCH_MARK_BEND:
    case BENCH_MARK_BEND_2:
    case BENCH_MARK_BEND_3:
    case BENCH_N_MARKS:
    default:
      return C_ ("bench", "Click on the mark that is missing.");
    }
}

static char *
sentence_of (AppSteps *self, BenchStep step)
{
  BenchMark mark;
  int count = bench_model_count (self->model);

  if (step == BENCH_STEP_AXIS && bench_model_suggesting (self->model))
    return g_strdup (C_ ("bench", "Looking for the abdomen… Or click on its base yourself."));
  if (app_marks_missing (self->marks, &mark))
    return g_strdup (missing_sentence (mark));
  if (step == BENCH_STEP_AXIS && bench_model_suggested (self->model))
    return g_strdup (C_ ("bench", "Is this the abdomen? The program placed these marks: drag "
                                  "them, or say that they lie right."));
  if (step == BENCH_STEP_AXIS)
    return g_strdup (C_ ("bench", "Are base and tip right? Drag them, or go on."));
  if (step == BENCH_STEP_WINGS)
    return g_strdup (C_ ("bench", "Are the five marks right? Drag them, or go on."));
  if (step == BENCH_STEP_BOUNDARIES && bench_model_finding (self->model))
    return g_strdup (C_ ("bench", "Looking for the plates…"));
  if (step == BENCH_STEP_BOUNDARIES && count < 0)
    return g_strdup (C_ ("bench", "This picture cannot carry a count. Take another, or put the "
                                  "lines in yourself."));
  if (step == BENCH_STEP_BOUNDARIES)
    return g_strdup (C_ ("bench", "Does every line lie between two plates?"));
  if (step == BENCH_STEP_SMALL_PLATE && count > 0)
    return g_strdup_printf (C_ ("bench", "Is the small plate between the hind legs one of the "
                                         "%d?"),
                            count);
  if (step == BENCH_STEP_SMALL_PLATE)
    return g_strdup (C_ ("bench", "Is the small plate between the hind legs counted?"));
  return g_strdup (g_dpgettext2 (NULL, "bench", steps[step].sentence));
}

/* What the profile says of each sign that may be seen, and how many are kept. */
static char *
cue_words (AppSteps *self)
{
  const CoreSexCue *cues[CORE_MAX_CUES];
  gsize n = bench_model_cues (self->model, cues);
  const CoreProfile *profile = desk_subject_profile (bench_model_subject (self->model));
  g_autoptr (DeskProfileView) view =
    desk_profile_view (bench_model_desk (self->model), profile->scientific, NULL);
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; view != NULL && i < n; i++)
    {
      g_autofree char *group = g_strdup_printf ("cue %s", cues[i]->name);
      const DeskProfileValue *value = desk_profile_value (view, group, "from_moults");
      const char *note = value != NULL ? app_profile_note (value) : NULL;

      if (note != NULL)
        g_string_append_printf (text, "%s ", note);
    }
  g_string_append (text, C_ ("bench", "One sign is kept with a picture: the clearest. Next without "
                                      "an answer leaves it out."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- filling ---- */

static const char *
label_of (const Answer *answer)
{
  return answer->said != NULL ? answer->said : g_dpgettext2 (NULL, "bench answer", answer->label);
}

static gpointer
copy_of (const Answer *answer)
{
  Answer *copy = g_memdup2 (answer, sizeof *answer);

  copy->said = g_strdup (answer->said);
  return copy;
}

static void
answer_free (gpointer data)
{
  g_free (((Answer *) data)->said);
  g_free (data);
}

static gboolean
asked (AppSteps *self, const Answer *answer, BenchStep step)
{
  const CoreProfile *profile = desk_subject_profile (bench_model_subject (self->model));

  return answer->step == step && (!answer->empusid_only || core_sex_convention_fits (profile, CORE_CONVENTION_APPENDAGES));
}

/* Which mark the arrows move stands below the sentence, beside what the step is about. */
static void
show_why (AppSteps *self)
{
  BenchStep step = bench_model_step (self->model);
  g_autofree char *cues = step == BENCH_STEP_CUE ? cue_words (self) : NULL;
  g_autofree char *chosen = app_marks_chosen_said (self->marks);
  const char *why = cues != NULL ? cues : g_dpgettext2 (NULL, "bench", steps[step].why);
  g_autofree char *both = chosen != NULL ? g_strdup_printf ("%s %s", chosen, why) : NULL;

  gtk_label_set_label (self->why, both != NULL ? both : why);
}

static void
chosen_cb (AppMarks *marks, AppSteps *self)
{
  if (self->model != NULL)
    show_why (self);
}

static void
update_answers (AppSteps *self)
{
  self->filling = TRUE;
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkToggleButton *button = g_ptr_array_index (self->buttons, i);
      const Answer *answer = g_object_get_data (G_OBJECT (button), "answer");

      gtk_toggle_button_set_active (button, answer->get (self->model) == answer->value);
      /* Marks that the keeper put, and that nothing speaks against, need no word that they are right. */
      if (answer->step == BENCH_STEP_AXIS)
        gtk_widget_set_visible (GTK_WIDGET (button), bench_model_axis_asked (self->model));
    }
  self->filling = FALSE;
}

static void
toggled_cb (GtkToggleButton *button, AppSteps *self)
{
  const Answer *answer = g_object_get_data (G_OBJECT (button), "answer");

  if (self->filling || self->model == NULL)
    return;
  answer->set (self->model, answer->value);
  update_answers (self); /* a pressed answer stays pressed when it is pressed again */
}

/* Enter on the answer that is given goes on, as it does everywhere on this page. */
static gboolean
answer_key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppSteps *self)
{
  GtkWidget *button = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));

  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter)
      || !gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (button)))
    return GDK_EVENT_PROPAGATE;
  app_steps_next (self);
  return GDK_EVENT_STOP;
}

static void
take_enter (AppSteps *self, GtkWidget *button)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (answer_key_cb), self, 0);
  gtk_widget_add_controller (button, keys);
}

static GtkWidget *
answer_button (AppSteps *self, const Answer *answer, int number)
{
  const char *label = label_of (answer);
  g_autofree char *tip = g_strdup_printf (C_ ("bench", "Key %d"), number);
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *text = gtk_label_new (label);
  g_autofree char *digit = g_strdup_printf ("%d", number);
  GtkWidget *key = gtk_label_new (digit);

  gtk_widget_add_css_class (key, "round-key");
  gtk_widget_set_valign (key, GTK_ALIGN_CENTER);
  gtk_widget_set_margin_end (key, 6);
  gtk_box_append (GTK_BOX (box), key);
  if (answer->drawing != APP_DRAWING_NONE)
    gtk_box_append (GTK_BOX (box), app_drawing_new (answer->drawing, DRAWING_SIDE));
  gtk_box_append (GTK_BOX (box), text);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_widget_add_css_class (button, "answer");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  g_object_set_data_full (G_OBJECT (button), "answer", copy_of (answer), answer_free);
  g_signal_connect_object (button, "toggled", G_CALLBACK (toggled_cb), self, 0);
  take_enter (self, button);
  g_ptr_array_add (self->buttons, button);
  return button;
}

static GtkWidget *
row_new (AppSteps *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (self->answers), row);
  return row;
}

/* A row for each sign, both sexes beside each other. */
static void
fill_cues (AppSteps *self)
{
  static const CoreSex sexes[] = { CORE_SEX_MALE, CORE_SEX_FEMALE };
  const CoreSexCue *cues[CORE_MAX_CUES];
  gsize n = bench_model_cues (self->model, cues);
  Answer none = { BENCH_STEP_CUE, cue_answer, set_cue_answer, -1,
                  NC_ ("bench answer", "None clearly"), APP_DRAWING_NONE };
  GtkWidget *row = NULL;
  int number = 0;

  for (gsize i = 0; i < n; i++)
    {
      row = row_new (self);
      for (gsize k = 0; k < G_N_ELEMENTS (sexes); k++)
        {
          Answer answer = none;

          answer.value = (int) (2 * i + k);
          answer.said = words_cue_as (WORDS_LOCAL, cues[i]->name, sexes[k]);
          gtk_box_append (GTK_BOX (row), answer_button (self, &answer, ++number));
          g_free (answer.said);
        }
    }
  if (row != NULL)
    gtk_box_append (GTK_BOX (row), answer_button (self, &none, ++number));
}

static void
add_action (AppSteps *self, GtkWidget *row, const char *label, const char *key, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_tooltip_text (button, key);
  gtk_widget_add_css_class (button, "answer");
  g_signal_connect_object (button, "clicked", callback, self, 0);
  gtk_box_append (GTK_BOX (row), button);
}

static void
suggest_cb (GtkButton *button, AppSteps *self)
{
  bench_model_suggest (self->model);
}

static void
swap_cb (GtkButton *button, AppSteps *self)
{
  bench_model_swap_ends (self->model);
}

static void
fill_answers (AppSteps *self, BenchStep step)
{
  GtkWidget *row = NULL;
  int number = 0;

  g_ptr_array_set_size (self->buttons, 0);
  app_box_empty (GTK_BOX (self->answers));
  if (step == BENCH_STEP_AXIS)
    {
      row = row_new (self);
      add_action (self, row, C_ ("bench", "Find the abdomen"), C_ ("bench", "Key S"),
                  G_CALLBACK (suggest_cb));
      add_action (self, row, C_ ("bench", "Swap base and tip"), C_ ("bench", "Key X"),
                  G_CALLBACK (swap_cb));
    }
  if (step == BENCH_STEP_CUE)
    fill_cues (self);
  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      if (!asked (self, &answers[i], step))
        continue;
      if (row == NULL || answers[i].new_row)
        row = row_new (self);
      gtk_box_append (GTK_BOX (row), answer_button (self, &answers[i], ++number));
    }
}

static void
update_buttons (AppSteps *self, BenchStep step)
{
  gboolean last = step == BENCH_STEP_VERDICT;

  gtk_button_set_label (self->next, last ? C_ ("bench", "Record") : C_ ("bench", "Next"));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->next),
                               last ? C_ ("bench", "Ctrl+Enter") : C_ ("bench", "Enter"));
  gtk_widget_set_sensitive (GTK_WIDGET (self->next),
                            !self->busy && (last || bench_model_can_next (self->model)));
  gtk_widget_set_sensitive (GTK_WIDGET (self->back),
                            !self->busy && bench_model_can_back (self->model));
}

static void
refresh (AppSteps *self)
{
  BenchStep step;
  g_autofree char *sentence = NULL;
  gboolean moved;

  if (self->model == NULL)
    return;
  step = bench_model_step (self->model);
  moved = !self->has_shown || self->shown != step;
  if (moved)
    {
      fill_answers (self, step);
      app_drawing_set (self->drawing, steps[step].drawing, STEP_SIDE);
      show_why (self);
    }
  sentence = sentence_of (self, step);
  gtk_label_set_label (self->sentence, sentence);
  update_answers (self);
  update_buttons (self, step);
  self->shown = step;
  self->has_shown = TRUE;
  if (moved)
    g_signal_emit (self, signals[MOVED], 0);
}

/* ---- what keys and buttons do ---- */

/* The first of the answers to a question that has none yet; -1 = all are answered. */
static int
first_unanswered (AppSteps *self)
{
  for (guint i = 0, end; i < self->buttons->len; i = end)
    {
      const Answer *answer = g_object_get_data (g_ptr_array_index (self->buttons, i), "answer");
      const Answer *other = answer;
      gboolean answered = FALSE;

      for (end = i; other->get == answer->get;)
        {
          answered = answered || other->get (self->model) == other->value;
          if (++end == self->buttons->len)
            break;
          other = g_object_get_data (g_ptr_array_index (self->buttons, end), "answer");
        }
      if (!answered)
        return (int) i;
    }
  return -1;
}

/* Next before every question has its answer: which is missing, and the focus goes there. */
static void
ask_missing (AppSteps *self)
{
  int first = first_unanswered (self);
  g_autoptr (GPtrArray) labels = g_ptr_array_new ();
  g_autofree char *names = NULL;
  g_autofree char *text = NULL;
  const Answer *asked_for;

  if (first < 0)
    return;
  asked_for = g_object_get_data (g_ptr_array_index (self->buttons, first), "answer");
  for (guint i = (guint) first; i < self->buttons->len; i++)
    {
      const Answer *answer = g_object_get_data (g_ptr_array_index (self->buttons, i), "answer");

      if (answer->get == asked_for->get)
        g_ptr_array_add (labels, (gpointer) label_of (answer));
    }
  g_ptr_array_add (labels, NULL);
  names = g_strjoinv (" / ", (char **) labels->pdata);
  /* Translators: the answers among which one is still to be chosen */
  text = g_strdup_printf (C_ ("bench", "Still to answer: %s?"), names);
  gtk_label_set_label (self->sentence, text);
  gtk_widget_grab_focus (g_ptr_array_index (self->buttons, first));
}

void
app_steps_next (AppSteps *self)
{
  g_return_if_fail (APP_IS_STEPS (self));
  if (self->model == NULL || self->busy || bench_model_step (self->model) == BENCH_STEP_VERDICT)
    return;
  if (bench_model_can_next (self->model))
    bench_model_next (self->model);
  else
    ask_missing (self);
}

void
app_steps_back (AppSteps *self)
{
  g_return_if_fail (APP_IS_STEPS (self));
  if (self->model != NULL && !self->busy && bench_model_can_back (self->model))
    bench_model_back (self->model);
}

gboolean
app_steps_answer (AppSteps *self, int number)
{
  const Answer *answer;

  g_return_val_if_fail (APP_IS_STEPS (self), FALSE);
  if (self->model == NULL || self->busy || number < 1 || (guint) number > self->buttons->len)
    return FALSE;
  answer = g_object_get_data (g_ptr_array_index (self->buttons, number - 1), "answer");
  if (!gtk_widget_get_visible (g_ptr_array_index (self->buttons, number - 1)))
    return FALSE;
  answer->set (self->model, answer->value);
  return TRUE;
}

static void
next_cb (GtkButton *button, AppSteps *self)
{
  if (self->model != NULL && bench_model_step (self->model) == BENCH_STEP_VERDICT)
    g_signal_emit (self, signals[RECORD], 0);
  else
    app_steps_next (self);
}

static void
back_cb (GtkButton *button, AppSteps *self)
{
  app_steps_back (self);
}

void
app_steps_set_busy (AppSteps *self, gboolean busy)
{
  g_return_if_fail (APP_IS_STEPS (self));
  self->busy = busy;
  gtk_widget_set_sensitive (self->answers, !busy);
  if (self->model != NULL)
    update_buttons (self, bench_model_step (self->model));
}

/* ---- object ---- */

static void
changed_cb (BenchModel *model, AppSteps *self)
{
  refresh (self);
}

void
app_steps_set_model (AppSteps *self, BenchModel *model)
{
  g_return_if_fail (APP_IS_STEPS (self));
  self->has_shown = FALSE;
  self->busy = FALSE;
  gtk_widget_set_sensitive (self->answers, TRUE);
  g_set_object (&self->model, model);
  g_signal_group_set_target (self->model_signals, model);
  refresh (self);
}

static void
app_steps_dispose (GObject *object)
{
  AppSteps *self = APP_STEPS (object);

  g_clear_object (&self->model_signals);
  g_clear_object (&self->model);
  g_clear_pointer (&self->buttons, g_ptr_array_unref);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (app_steps_parent_class)->dispose (object);
}

static void
app_steps_class_init (AppStepsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_steps_dispose;
  signals[RECORD] =
    g_signal_new ("record", APP_TYPE_STEPS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[MOVED] =
    g_signal_new ("moved", APP_TYPE_STEPS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "steps");
}

static GtkWidget *
words_new (AppSteps *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  self->drawing = app_drawing_new (APP_DRAWING_NONE, STEP_SIDE);
  self->sentence = app_text (words, NULL, "sentence");
  self->why = app_text (words, NULL, "dim");
  gtk_label_set_max_width_chars (self->why, 68);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (row), self->drawing);
  gtk_box_append (GTK_BOX (row), words);
  return row;
}

static GtkWidget *
moves_new (AppSteps *self)
{
  GtkWidget *moves = g_object_new (APP_TYPE_WRAP, NULL); /* one over the other where the answers are wide */

  self->back = GTK_BUTTON (gtk_button_new_with_label (C_ ("bench", "Step back")));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->back), C_ ("bench", "Backspace"));
  self->next = GTK_BUTTON (gtk_button_new_with_label (C_ ("bench", "Next")));
  gtk_widget_add_css_class (GTK_WIDGET (self->next), "suggested-action");
  gtk_widget_set_valign (moves, GTK_ALIGN_CENTER);
  g_signal_connect_object (self->back, "clicked", G_CALLBACK (back_cb), self, 0);
  g_signal_connect_object (self->next, "clicked", G_CALLBACK (next_cb), self, 0);
  app_wrap_append (APP_WRAP (moves), GTK_WIDGET (self->back));
  app_wrap_append (APP_WRAP (moves), GTK_WIDGET (self->next));
  return moves;
}

static void
app_steps_init (AppSteps *self)
{
  GtkWidget *hand = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->buttons = g_ptr_array_new ();
  self->answers = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_valign (self->answers, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (self->answers, TRUE);
  gtk_widget_set_valign (hand, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (hand), self->answers);
  gtk_box_append (GTK_BOX (hand), moves_new (self));
  self->box = app_columns_new (words_new (self), hand, TURN, .36);
  gtk_widget_add_css_class (self->box, "bench-foot");
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->model_signals = g_signal_group_new (BENCH_TYPE_MODEL);
  g_signal_group_connect_object (self->model_signals, "changed", G_CALLBACK (changed_cb), self, 0);
}

GtkWidget *
app_steps_new (AppMarks *marks)
{
  AppSteps *self = g_object_new (APP_TYPE_STEPS, NULL);

  self->marks = marks;
  g_signal_connect_object (marks, "chosen-changed", G_CALLBACK (chosen_cb), self, 0);
  return GTK_WIDGET (self);
}
