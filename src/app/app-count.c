/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-count.c — see app-count.h.
 *
 * Invariant: no count of the finder's is named that has less than 80 in 100, or whose
 * marks or lines are in doubt; a count that the keeper made or confirmed is his own and
 * stands without a chance. */
#include "app/app-count.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-steps.h"
#include "app/app-widgets.h"
#include "core/core-segment.h"
#include "words/words.h"

#define UNCERTAIN_SD .02 /* of the axis: a line that far off would cut a plate */

struct _AppCount
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *scroller;
  GtkWidget *counted;
  GtkLabel *figure;
  GtkLabel *unit;
  GtkLabel *chance;
  GtkLabel *second;
  GtkWidget *trouble;
  GtkWidget *hair;
  GtkLabel *step;
  GtkLabel *step_name;
  GtkWidget *keys;

  BenchStep shown;
  gboolean has_shown;
};

G_DEFINE_FINAL_TYPE (AppCount, app_count, GTK_TYPE_WIDGET)

/* ---- the figure ---- */

static gboolean
has_keepers_line (BenchModel *model)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = bench_model_boundaries (model, bounds, BENCH_MAX_BOUNDARIES);

  for (gsize i = 0; i < n; i++)
    if (bounds[i].by_keeper)
      return TRUE;
  return FALSE;
}

static const char *
plates_word (int count)
{
  return g_dngettext (GETTEXT_PACKAGE, "plate", "plates", (gulong) MAX (0, count));
}

static void
set_label (GtkLabel *label, const char *text)
{
  gtk_label_set_label (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL && *text != '\0');
}

typedef struct
{
  int first, second;
  double p_first, p_second;
} BestTwo;

/* More than that nobody said yet that they lie right. */
static gboolean
marks_in_doubt (BenchModel *model)
{
  return (bench_model_doubts (model) & ~(unsigned) BENCH_DOUBT_PLACED) != 0;
}

/* What the lines make of it stands below the keeper's count. */
static void
show_own (AppCount *self, BenchModel *model, const BestTwo *best, gboolean edited)
{
  int count = bench_model_count (model);
  g_autofree char *figure = g_strdup_printf ("%d", count);
  g_autofree char *saw = NULL;

  set_label (self->figure, figure);
  set_label (self->unit, plates_word (count));
  set_label (self->chance, C_ ("count", "your count"));
  if (best->p_first > 0 && !marks_in_doubt (model)) /* else its chance is that of something else */
    {
      g_autofree char *both =
        words_count (WORDS_LOCAL, best->first, best->p_first, best->second, best->p_second);

      /* Translators: what the finder says: "8 plates, 81 in 100; 7 plates, 13 in 100." */
      saw = g_strdup_printf (
        edited ? C_ ("count", "With these lines: %s") : C_ ("count", "The program saw: %s"), both);
    }
  set_label (self->second, saw);
}

static void
show_named (AppCount *self, const BestTwo *best)
{
  g_autofree char *figure = g_strdup_printf ("%d", best->first);
  g_autofree char *chance = words_percent (WORDS_LOCAL, best->p_first);
  g_autofree char *second_chance = words_percent (WORDS_LOCAL, best->p_second);
  /* Translators: the second best count and its chance: "or 7, 13 in 100" */
  g_autofree char *second =
    g_strdup_printf (C_ ("count", "or %d, %s"), best->second, second_chance);

  set_label (self->figure, figure);
  set_label (self->unit, plates_word (best->first));
  set_label (self->chance, chance);
  set_label (self->second, best->second > 0 && best->p_second > 0 ? second : NULL);
}

static void
show_unsure (AppCount *self, const BestTwo *best)
{
  g_autofree char *both =
    words_count (WORDS_LOCAL, best->first, best->p_first, best->second, best->p_second);

  gtk_widget_add_css_class (GTK_WIDGET (self->figure), "dim");
  set_label (self->figure, "?");
  set_label (self->unit, C_ ("count", "plates"));
  set_label (self->chance, C_ ("count", "not sure"));
  set_label (self->second, both);
}

/* A moment later it is known whether the count hangs on where base and tip lie. */
static void
show_checking (AppCount *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self->figure), "dim");
  set_label (self->figure, "?");
  set_label (self->unit, C_ ("count", "plates"));
  set_label (self->chance, C_ ("count", "looking again…"));
  set_label (self->second, NULL);
}

/* A chance would be that of the count along these marks, and they are what is in doubt. */
static void
show_doubted (AppCount *self, int plates)
{
  g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d plate along these marks",
                                                        "%d plates along these marks", (gulong) MAX (0, plates)),
                                           plates);

  gtk_widget_add_css_class (GTK_WIDGET (self->figure), "dim");
  set_label (self->figure, "?");
  set_label (self->unit, C_ ("count", "plates"));
  set_label (self->chance, C_ ("count", "not sure"));
  set_label (self->second, plates > 0 ? text : NULL);
}

static void
show_counted (AppCount *self, BenchModel *model)
{
  BestTwo best = { 0 };
  gboolean edited = has_keepers_line (model);

  bench_model_best_two (model, &best.first, &best.p_first, &best.second, &best.p_second);
  gtk_widget_remove_css_class (GTK_WIDGET (self->figure), "dim");
  if (bench_model_count (model) > 0 && (edited || bench_model_step (model) > BENCH_STEP_BOUNDARIES))
    show_own (self, model, &best, edited);
  else if (best.p_first <= 0)
    {
      gtk_widget_set_visible (self->counted, FALSE);
      set_label (self->second, NULL);
    }
  else if (best.first > 0 && bench_model_checking (model))
    show_checking (self);
  else if (best.first > 0 && marks_in_doubt (model))
    show_doubted (self, best.first);
  else if (best.p_first >= CORE_SEGMENT_NAME_AT && best.first > 0)
    show_named (self, &best);
  else
    show_unsure (self, &best);
}

/* ---- wings ---- */

static char *
ratio_said (const char *what, double ratio, double sd)
{
  g_autofree char *value = words_number (WORDS_LOCAL, ratio, 2);
  g_autofree char *doubt = words_number (WORDS_LOCAL, sd, 2);

  /* Translators: what is compared, the ratio, its standard deviation */
  return g_strdup_printf (C_ ("count", "%s: %s ± %s"), what, value, doubt);
}

static void
show_wings (AppCount *self, BenchModel *model)
{
  g_autoptr (GString) text = g_string_new (NULL);
  double ratio, sd;

  if (bench_model_wing_ratio (model, &ratio, &sd))
    {
      g_autofree char *said =
        ratio_said (C_ ("count", "Wing to the tip of the abdomen"), ratio, sd);

      g_string_append (text, said);
    }
  if (bench_model_tegmen_pronotum (model, &ratio, &sd))
    {
      g_autofree char *said = ratio_said (C_ ("count", "Wing to the neck shield"), ratio, sd);

      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", said);
    }
  set_label (self->second, text->str);
}

/* ---- what was measured ---- */

/* Translators: what was measured and what that is: "Sharpness: good" */
static void
add_measure (AppCount *self, const char *text, gboolean bad)
{
  app_text (self->trouble, text, bad ? "due" : NULL);
}

/* Large, sharp, evenly lit: before a line is drawn, so that a better picture can be taken. */
static void
show_quality (AppCount *self, BenchModel *model)
{
  BenchQuality quality;
  g_autofree char *size = NULL;

  app_heading (self->trouble, C_ ("count", "The picture"));
  if (!bench_model_quality (model, &quality))
    {
      app_text (self->trouble,
                bench_model_suggesting (model)
                  ? C_ ("count", "Looking how sharp and how well lit the abdomen is…")
                  : C_ ("count", "Measured once base and tip are marked."),
                "dim");
      return;
    }
  size = g_strdup_printf (C_ ("count", "Abdomen %.0f pixels long: %s"), quality.length_px,
                          (quality.unusable & CORE_UNUSABLE_TOO_SHORT) != 0
                            ? C_ ("count", "too small")
                            : C_ ("count", "large enough"));
  add_measure (self, size, (quality.unusable & CORE_UNUSABLE_TOO_SHORT) != 0);
  add_measure (self,
               (quality.unusable & CORE_UNUSABLE_BLURRED) != 0
                 ? C_ ("count", "Sharpness: too blurred to count")
                 : C_ ("count", "Sharpness: enough to count"),
               (quality.unusable & CORE_UNUSABLE_BLURRED) != 0);
  if ((quality.unusable & CORE_UNUSABLE_GLARE) != 0)
    add_measure (self, C_ ("count", "Light: it glares on the belly"), TRUE);
  else if ((quality.unusable & CORE_UNUSABLE_LOW_CONTRAST) != 0)
    add_measure (self, C_ ("count", "Light: too flat, no edge throws a line"), TRUE);
  else
    add_measure (self, C_ ("count", "Light: even, no glare"), FALSE);
}

/* Beside the drawings of the last plates: how long the keeper's own is. */
static void
show_last_ratio (AppCount *self, BenchModel *model)
{
  double ratio;
  g_autofree char *number = NULL;
  g_autofree char *text = NULL;

  if (bench_model_step (model) != BENCH_STEP_LAST_PLATE ||
      !bench_model_last_ratio (model, &ratio))
    return;
  number = words_number (WORDS_LOCAL, ratio, 1);
  if (fabs (ratio - 1) < .05)
    text = g_strdup (C_ ("count", "By your lines the last plate is as long as the three before it on average. In "
                                  "females it is often nearly twice as long, in males shorter (ours, no source)."));
  else
    text = g_strdup_printf (C_ ("count", "By your lines the last plate is %s times as long as the "
                                         "three before it on average. In females it is often nearly "
                                         "twice as long, in males shorter (ours, no source)."),
                            number);
  app_text (self->trouble, text, NULL);
}

/* ---- what is wrong with the picture ---- */

static void
add_trouble (AppCount *self, WordsUnusable why)
{
  g_autofree char *text = words_unusable (WORDS_LOCAL, why);

  app_text (self->trouble, text, "due");
}

static void
add_uncertain (AppCount *self, BenchModel *model)
{
  BenchBoundary bounds[BENCH_MAX_BOUNDARIES];
  gsize n = bench_model_boundaries (model, bounds, BENCH_MAX_BOUNDARIES);
  g_autoptr (GPtrArray) numbers = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *list = NULL;
  g_autofree char *text = NULL;

  for (gsize i = 0; i < n; i++)
    if (!bounds[i].by_keeper && bounds[i].sd > UNCERTAIN_SD)
      g_ptr_array_add (numbers, g_strdup_printf ("%u", (guint) i + 1));
  if (numbers->len == 0 || bench_model_step (model) != BENCH_STEP_BOUNDARIES ||
      (bench_model_doubts (model) & BENCH_DOUBT_LINES) != 0) /* said of all of them already */
    return;
  list = words_list (WORDS_LOCAL, (const char *const *) numbers->pdata, numbers->len);
  /* Translators: numbers of the lines: "6 and 7" */
  text = g_strdup_printf (C_ ("count", "Uncertain lines: %s. Look nearer."), list);
  app_text (self->trouble, text, NULL);
}

/* Before an axis is marked by the keeper: along the one that the program found. */
static unsigned
troubles_of (BenchModel *model, gboolean not_counted)
{
  BenchQuality quality;

  if (not_counted || bench_model_axis_problem (model) != BENCH_AXIS_FINE)
    return 0;
  if (bench_model_step (model) == BENCH_STEP_WHAT)
    return bench_model_quality (model, &quality) ? quality.unusable & ~(unsigned) CORE_UNUSABLE_WEAK_EVIDENCE : 0;
  return bench_model_unusable (model);
}

/* What speaks against the marks, before anything that speaks for the count. */
static void
show_doubts (AppCount *self, BenchModel *model)
{
  static const struct
  {
    unsigned bit;
    const char *text;
  } table[] = {
    { BENCH_DOUBT_TIP,
      NC_ ("count", "Before the tip the outline is as wide as in the middle: the tip seems to lie beyond the body. Go "
                    "back and put it before the two cerci, or say that it lies right.") },
    { BENCH_DOUBT_AFTER,
      NC_ ("count", "Plates seem to go on behind the tip: it may lie inside the body, and plates are missing. Go back and "
                    "put it before the two cerci, or say that it lies right.") },
    { BENCH_DOUBT_BEFORE,
      NC_ ("count", "Plates seem to begin before the base: it may lie too late, or on the thorax. Go back and put it just "
                    "behind the hind legs, or say that it lies right.") },
    { BENCH_DOUBT_MANY,
      NC_ ("count", "A mantis shows six to eight plates. Does the line begin on the thorax, or is the small plate at "
                    "the hind legs among them?") },
    { BENCH_DOUBT_FEW,
      NC_ ("count", "A mantis shows six to eight plates. Does the line begin too late or end too early?") },
    { BENCH_DOUBT_LINES,
      NC_ ("count", "Most of these lines may lie a good way off: nothing on the picture holds them.") },
    { BENCH_DOUBT_PLACED,
      NC_ ("count", "Nobody said yet that base and tip lie right: a count along them weighs less. A line that begins on "
                    "the thorax has a plate too many, one that begins late or ends early too few.") },
  };
  unsigned doubts = bench_model_doubts (model);

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    if ((doubts & table[i].bit) != 0)
      app_text (self->trouble, g_dpgettext2 (NULL, "count", table[i].text), "due");
}

static void
show_trouble (AppCount *self, BenchModel *model)
{
  static const struct
  {
    unsigned bit;
    WordsUnusable why;
  } table[] = {
    { CORE_UNUSABLE_TOO_SHORT, WORDS_UNUSABLE_SHORT },
    { CORE_UNUSABLE_BLURRED, WORDS_UNUSABLE_BLUR },
    { CORE_UNUSABLE_GLARE, WORDS_UNUSABLE_GLARE },
    { CORE_UNUSABLE_LOW_CONTRAST, WORDS_UNUSABLE_CONTRAST },
    { CORE_UNUSABLE_WEAK_EVIDENCE, WORDS_UNUSABLE_WEAK },
  };
  int side = bench_model_side (model);
  BenchAxisProblem axis = bench_model_axis_problem (model);
  gboolean wings = bench_model_step (model) == BENCH_STEP_WINGS ||
                   bench_model_step (model) == BENCH_STEP_CUE;
  gboolean wrong_side = !wings && (side == CORE_SIDE_BACK || side == CORE_SIDE_FLANK);
  unsigned bits = troubles_of (model, wrong_side || wings);

  app_box_empty (GTK_BOX (self->trouble));
  if (!wrong_side && bench_model_step (model) <= BENCH_STEP_AXIS)
    show_quality (self, model);
  show_last_ratio (self, model);
  if (axis != BENCH_AXIS_FINE && !wings && !wrong_side)
    add_trouble (self, axis == BENCH_AXIS_CROSSED ? WORDS_UNUSABLE_CROSSED : WORDS_UNUSABLE_AXIS);
  if (wrong_side)
    add_trouble (self, side == CORE_SIDE_BACK ? WORDS_UNUSABLE_BACK : WORDS_UNUSABLE_FLANK);
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    if ((bits & table[i].bit) != 0)
      add_trouble (self, table[i].why);
  if (wrong_side || bits != 0)
    {
      app_heading (self->trouble, C_ ("count", "A picture that can be counted"));
      app_text (self->trouble, words_how_to_photograph (WORDS_LOCAL), NULL);
    }
  else if (bench_model_step (model) >= BENCH_STEP_BOUNDARIES)
    {
      show_doubts (self, model);
      add_uncertain (self, model);
    }
}

/* ---- keys ---- */

typedef struct
{
  const char *keys;
  const char *what;
} KeyHelp;

static const KeyHelp help_view[] = {
  { NC_ ("key", "Scroll, + −"), NC_ ("key help", "zoom; 0 shows it whole") },
  { NC_ ("key", "Ctrl+arrows"), NC_ ("key help", "move the picture") },
  { NULL, NULL },
};
static const KeyHelp help_answers[] = {
  { NC_ ("key", "1, 2, 3 …"), NC_ ("key help", "answer") },
  { NC_ ("key", "Enter"), NC_ ("key help", "Next; Backspace goes back") },
  { NULL, NULL },
};
static const KeyHelp help_axis[] = {
  { NC_ ("key", "S"), NC_ ("key help", "finds the abdomen") },
  { NC_ ("key", "X"), NC_ ("key help", "changes base and tip") },
  { NC_ ("key", "Enter"), NC_ ("key help", "puts a missing mark in the middle, then Next; Backspace goes back") },
  { NC_ ("key", "Tab"), NC_ ("key help", "chooses a mark") },
  { NC_ ("key", "Arrows"), NC_ ("key help", "move it; with Shift ten times as far, with Ctrl and Shift much farther") },
  { NC_ ("key", "Insert, Delete"), NC_ ("key help", "a bend more, a mark less") },
  { NULL, NULL },
};
static const KeyHelp help_marks[] = {
  { NC_ ("key", "Enter"), NC_ ("key help", "puts a missing mark in the middle, then Next; Backspace goes back") },
  { NC_ ("key", "Tab"), NC_ ("key help", "chooses a mark") },
  { NC_ ("key", "Arrows"), NC_ ("key help", "move it; with Shift ten times as far, with Ctrl and Shift much farther") },
  { NC_ ("key", "Delete"), NC_ ("key help", "takes the mark away") },
  { NULL, NULL },
};
static const KeyHelp help_boundaries[] = {
  { NC_ ("key", "[ and ]"), NC_ ("key help", "choose a line") },
  { NC_ ("key", "Arrows"), NC_ ("key help", "move the chosen one; with Shift ten times as far") },
  { NC_ ("key", "Insert"), NC_ ("key help", "puts one in") },
  { NC_ ("key", "Delete"), NC_ ("key help", "takes it out") },
  { NC_ ("key", "Enter"), NC_ ("key help", "Next; Backspace goes back") },
  { NULL, NULL },
};

static const KeyHelp *
help_of (BenchStep step)
{
  switch (step)
    {
    case BENCH_STEP_AXIS:
      return help_axis;
    case BENCH_STEP_WINGS:
      return help_marks;
    case BENCH_STEP_BOUNDARIES:
      return help_boundaries;
    case BENCH_STEP_WHAT:
    case BENCH_STEP_SMALL_PLATE:
    case BENCH_STEP_LAST_PLATE:
    case BENCH_STEP_CUE:
    case BENCH_STEP_VERDICT:
    case BENCH_N_STEPS:
    default:
      return help_answers;
    }
}

static void
add_help (AppCount *self, const KeyHelp *help)
{
  for (gsize i = 0; help[i].keys != NULL; i++)
    {
      GtkLabel *key = app_text (self->keys, g_dpgettext2 (NULL, "key", help[i].keys), NULL);

      gtk_widget_set_margin_top (GTK_WIDGET (key), 6);
      app_text (self->keys, g_dpgettext2 (NULL, "key help", help[i].what), "dim");
    }
}

static void
show_step (AppCount *self, BenchModel *model)
{
  BenchStep step = bench_model_step (model);
  g_autofree char *text = NULL;
  int number = 0, of = 0;

  for (int i = 0; i < BENCH_N_STEPS; i++)
    if (bench_model_has_step (model, (BenchStep) i))
      {
        of++;
        number += i <= (int) step;
      }
  /* Translators: number of this step, how many there are */
  text = g_strdup_printf (C_ ("bench", "Step %d of %d"), number, of);
  gtk_label_set_label (self->step, text);
  if (self->has_shown && self->shown == step)
    return;
  self->has_shown = TRUE;
  self->shown = step;
  gtk_label_set_label (self->step_name, app_step_name (step));
  app_box_empty (GTK_BOX (self->keys));
  add_help (self, help_of (step));
  add_help (self, help_view);
}

void
app_count_show (AppCount *self, BenchModel *model)
{
  gboolean cue = bench_model_step (model) == BENCH_STEP_CUE;
  gboolean has_axis = bench_model_step (model) >= BENCH_STEP_BOUNDARIES && !cue;
  gboolean wings = bench_model_step (model) == BENCH_STEP_WINGS;

  g_return_if_fail (APP_IS_COUNT (self));
  gtk_widget_set_visible (self->counted, has_axis && !wings);
  gtk_widget_set_visible (GTK_WIDGET (self->second), has_axis);
  if (wings)
    show_wings (self, model);
  else if (has_axis)
    show_counted (self, model);
  show_trouble (self, model);
  gtk_widget_set_visible (self->hair,
                          has_axis || gtk_widget_get_first_child (self->trouble) != NULL);
  show_step (self, model);
}

/* ---- object ---- */

static void
app_count_dispose (GObject *object)
{
  g_clear_pointer (&APP_COUNT (object)->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (app_count_parent_class)->dispose (object);
}

static void
app_count_class_init (AppCountClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_count_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "count");
}

static GtkWidget *
counted_new (AppCount *self)
{
  GtkWidget *beside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->counted = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
  self->figure = app_text (self->counted, NULL, "big");
  self->unit = app_text (beside, NULL, "strong");
  self->chance = app_text (beside, NULL, "dim");
  gtk_label_set_wrap (self->unit, FALSE);
  gtk_label_set_wrap (self->chance, FALSE);
  gtk_widget_set_valign (beside, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (self->counted), beside);
  return self->counted;
}

static void
app_count_init (AppCount *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (box), counted_new (self));
  self->second = app_text (box, NULL, "dim");
  self->trouble = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), self->trouble);
  self->hair = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  app_hair (self->hair);
  gtk_box_append (GTK_BOX (box), self->hair);
  self->step = app_text (box, NULL, "strong");
  gtk_widget_set_margin_top (GTK_WIDGET (self->step), 9);
  self->step_name = app_text (box, NULL, "dim");
  self->keys = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_add_css_class (self->keys, "caption");
  gtk_widget_set_margin_top (self->keys, 6);
  gtk_box_append (GTK_BOX (box), self->keys);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), box);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
}

GtkWidget *
app_count_new (void)
{
  return g_object_new (APP_TYPE_COUNT, NULL);
}
