/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-weeks.c — choosing a day, scrolling, and what is said of it; see app-weeks.h. */
#include "app/app-weeks.h"

#include <glib/gi18n.h>

#include "app/app-view.h"
#include "app/app-weeks-private.h"

#define PAGE_WEEKS 4

struct _AppWeeks
{
  GtkWidget parent_instance;

  DeskWeeks *weeks; /* owned, NULL = nothing */
  WordsView view;
  CoreDay chosen;
  GArray *boxes; /* AppWeekBox, one a week, for the width of the last allocation */

  /* Of GtkScrollable; the horizontal ones are kept and not used */
  GtkAdjustment *adjustments[2];
  GtkScrollablePolicy policies[2];
};

enum
{
  PROP_0,
  PROP_HADJUSTMENT,
  PROP_VADJUSTMENT,
  PROP_HSCROLL_POLICY,
  PROP_VSCROLL_POLICY
};
enum
{
  CHOSEN,
  OPENED,
  ANIMAL,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE_WITH_CODE (AppWeeks, app_weeks, GTK_TYPE_WIDGET, G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL))

/* ---- words ---- */

static char *
tasks_words (const DeskWeekDay *day)
{
  g_autoptr (GString) text = g_string_new (NULL);
  AppWeeksSign drawn[CORE_N_TASKS];
  int n = app_weeks_signs (day, drawn);

  for (int i = 0; i < n; i++)
    g_string_append_printf (text, i > 0 ? ", %s %u" : "%s %u", words_task_kind (WORDS_LOCAL, drawn[i].kind), drawn[i].n);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
app_weeks_words (AppWeeks *self, CoreDay day)
{
  const DeskWeekDay *counts = self->weeks != NULL ? desk_weeks_day (self->weeks, day) : NULL;
  g_autofree char *name = words_day (&self->view, day, WORDS_DAY_FULL);
  g_autofree char *tasks = counts != NULL ? tasks_words (counts) : g_strdup ("");
  g_autofree char *moults = NULL;
  g_autoptr (GPtrArray) labels = g_ptr_array_new ();

  for (guint i = 0; counts != NULL && i < self->weeks->bands->len; i++)
    {
      const DeskBand *band = &g_array_index (self->weeks->bands, DeskBand, i);

      if (band->from <= day && day <= band->to)
        g_ptr_array_add (labels, (gpointer) desk_subject_label (band->subject));
    }
  if (tasks[0] == '\0')
    {
      g_free (tasks);
      tasks = g_strdup (C_ ("calendar", "nothing to do"));
    }
  if (labels->len == 0)
    return g_strdup_printf ("%s: %s.", name, tasks);
  moults = words_list (WORDS_LOCAL, (const char *const *) labels->pdata, labels->len);
  /* Translators: a day, its tasks with their numbers, and the cups whose moult may come then */
  return g_strdup_printf (C_ ("calendar", "%s: %s. May moult: %s."), name, tasks, moults);
}

static void
say (AppWeeks *self)
{
  g_autofree char *words = self->weeks != NULL ? app_weeks_words (self, self->chosen) : g_strdup ("");

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

/* ---- where things lie ---- */

static int
lines_of (AppWeeks *self, guint nth, int width)
{
  int most = 0;

  for (int i = 0; i < 7; i++)
    {
      AppWeeksSign drawn[CORE_N_TASKS];
      const DeskWeekDay *day = desk_weeks_day (self->weeks, self->weeks->from + (CoreDay) nth * 7 + i);

      most = MAX (most, app_weeks_signs (day, drawn));
    }
  return most > app_weeks_signs_in (width) ? 2 : 1;
}

static int
total_height (AppWeeks *self)
{
  const AppWeekBox *last = self->boxes->len > 0 ? &g_array_index (self->boxes, AppWeekBox, self->boxes->len - 1) : NULL;

  return WEEKS_HEAD + (last != NULL ? last->y + last->high : 0);
}

static void
lay_out (AppWeeks *self, int width)
{
  int y = 0;

  g_array_set_size (self->boxes, 0);
  for (guint i = 0; self->weeks != NULL && i < self->weeks->weeks->len; i++)
    {
      const DeskWeek *week = g_ptr_array_index (self->weeks->weeks, i);
      AppWeekBox box = { .y = y, .lines = lines_of (self, i, width) };

      box.high = WEEKS_DATE + (int) (week->lanes + (week->more > 0 ? 1 : 0)) * WEEKS_LANE + 6 + box.lines * WEEKS_SIGNS + WEEKS_FOOT;
      y += box.high;
      g_array_append_val (self->boxes, box);
    }
}

static double
scrolled (AppWeeks *self)
{
  return self->adjustments[1] != NULL ? gtk_adjustment_get_value (self->adjustments[1]) : 0;
}

static void
configure (AppWeeks *self)
{
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  GtkAdjustment *down = self->adjustments[1];

  if (down != NULL && height > 0)
    gtk_adjustment_configure (down, MIN (gtk_adjustment_get_value (down), MAX (0, total_height (self) - height)), 0,
                              MAX (total_height (self), height), 60, MAX (60, height - WEEKS_HEAD - 60), height);
  if (self->adjustments[0] != NULL)
    gtk_adjustment_configure (self->adjustments[0], 0, 0, gtk_widget_get_width (GTK_WIDGET (self)), 1, 1,
                              gtk_widget_get_width (GTK_WIDGET (self)));
}

/* The whole week of the chosen day comes into sight. */
static void
show_chosen (AppWeeks *self)
{
  guint nth = self->weeks != NULL ? (guint) (self->chosen - self->weeks->from) / 7 : 0;
  const AppWeekBox *box = nth < self->boxes->len ? &g_array_index (self->boxes, AppWeekBox, nth) : NULL;

  if (box != NULL && self->adjustments[1] != NULL)
    gtk_adjustment_clamp_page (self->adjustments[1], box->y, WEEKS_HEAD + box->y + box->high);
}

/* ---- choosing ---- */

CoreDay
app_weeks_chosen (AppWeeks *self)
{
  return self->weeks != NULL ? self->chosen : CORE_DAY_NONE;
}

void
app_weeks_choose (AppWeeks *self, CoreDay day)
{
  g_return_if_fail (APP_IS_WEEKS (self));
  if (self->weeks == NULL)
    return;
  day = CLAMP (day, self->view.today, self->weeks->to);
  if (day == self->chosen)
    return;
  self->chosen = day;
  say (self);
  show_chosen (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[CHOSEN], 0);
}

void
app_weeks_set (AppWeeks *self, DeskWeeks *weeks, const WordsView *view)
{
  g_return_if_fail (APP_IS_WEEKS (self));
  g_clear_pointer (&self->weeks, desk_weeks_free);
  self->weeks = weeks;
  self->view = *view;
  if (weeks != NULL)
    self->chosen = self->chosen == CORE_DAY_NONE ? view->today : CLAMP (self->chosen, view->today, weeks->to);
  lay_out (self, gtk_widget_get_width (GTK_WIDGET (self)));
  configure (self);
  say (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The day at (x, y) and which week that is; FALSE: none. */
static gboolean
day_at (AppWeeks *self, double x, double y, CoreDay *day, guint *nth, double *within)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));

  if (self->weeks == NULL || width <= 0 || y < WEEKS_HEAD || x < 0 || x >= width)
    return FALSE;
  y += scrolled (self) - WEEKS_HEAD;
  for (*nth = 0; *nth < self->boxes->len; (*nth)++)
    {
      const AppWeekBox *box = &g_array_index (self->boxes, AppWeekBox, *nth);

      if (y < box->y || y >= box->y + box->high)
        continue;
      *day = self->weeks->from + (CoreDay) *nth * 7 + (CoreDay) (x * 7 / width);
      *within = y - box->y;
      return TRUE;
    }
  return FALSE;
}

static void
pressed_cb (GtkGestureClick *gesture, int presses, double x, double y, AppWeeks *self)
{
  CoreDay day;
  guint nth;
  double within;
  const DeskBand *band;

  if (!day_at (self, x, y, &day, &nth, &within))
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  app_weeks_choose (self, day);
  if (presses != 2)
    return;
  band = app_weeks_band_at (self->weeks, nth, gtk_widget_get_width (GTK_WIDGET (self)), x, within);
  if (band != NULL)
    g_signal_emit (self, signals[ANIMAL], 0, band->subject);
  else
    g_signal_emit (self, signals[OPENED], 0);
}

static gboolean
query_tooltip (GtkWidget *widget, int x, int y, gboolean keys, GtkTooltip *tooltip)
{
  AppWeeks *self = APP_WEEKS (widget);
  CoreDay day;
  guint nth;
  double within;
  const DeskBand *band;
  g_autofree char *text = NULL;

  if (keys || !day_at (self, x, y, &day, &nth, &within))
    return FALSE;
  band = app_weeks_band_at (self->weeks, nth, gtk_widget_get_width (widget), x, within);
  if (band != NULL)
    {
      g_autofree char *when = app_moult_words (&self->view, band->subject);

      text = g_strdup_printf ("%s: %s", desk_subject_label (band->subject), when);
    }
  else
    text = app_weeks_words (self, day);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppWeeks *self)
{
  CoreDay to = self->chosen;

  if (self->weeks == NULL || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Left: case GDK_KEY_KP_Left: to -= 1; break;
    case GDK_KEY_Right: case GDK_KEY_KP_Right: to += 1; break;
    case GDK_KEY_Up: case GDK_KEY_KP_Up: to -= 7; break;
    case GDK_KEY_Down: case GDK_KEY_KP_Down: to += 7; break;
    case GDK_KEY_Page_Up: case GDK_KEY_KP_Page_Up: to -= 7 * PAGE_WEEKS; break;
    case GDK_KEY_Page_Down: case GDK_KEY_KP_Page_Down: to += 7 * PAGE_WEEKS; break;
    case GDK_KEY_Home: case GDK_KEY_KP_Home: to = self->view.today; break;
    case GDK_KEY_End: case GDK_KEY_KP_End: to = self->weeks->to; break;
    case GDK_KEY_Return: case GDK_KEY_KP_Enter:
      g_signal_emit (self, signals[OPENED], 0);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
  app_weeks_choose (self, to);
  return GDK_EVENT_STOP;
}

/* ---- the widget ---- */

static void
snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppWeeks *self = APP_WEEKS (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  AppWeeksFrame frame = { .widget = widget, .snapshot = snapshot, .weeks = self->weeks, .view = &self->view,
                          .width = width, .scroll = scrolled (self), .chosen = self->chosen,
                          .focus = gtk_widget_has_visible_focus (widget) };

  if (self->weeks == NULL || width < 7)
    return;
  app_ink_lookup (widget, &frame.ink);
  if (!gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), "hairline", &frame.hair))
    frame.hair = frame.ink.line;
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, WEEKS_HEAD, (float) width, (float) MAX (0, height - WEEKS_HEAD)));
  for (guint i = 0; i < self->boxes->len; i++)
    {
      const AppWeekBox *box = &g_array_index (self->boxes, AppWeekBox, i);

      if (box->y + box->high > frame.scroll && box->y < frame.scroll + height - WEEKS_HEAD)
        app_weeks_draw_week (&frame, i, box);
    }
  gtk_snapshot_pop (snapshot);
  app_weeks_draw_head (&frame);
}

static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
         int *natural_baseline)
{
  *minimum_baseline = *natural_baseline = -1;
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 336 : 120;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 880 : 420;
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppWeeks *self = APP_WEEKS (widget);

  lay_out (self, width);
  configure (self);
}

static void
set_adjustment (AppWeeks *self, int which, GtkAdjustment *adjustment)
{
  if (self->adjustments[which] != NULL)
    g_signal_handlers_disconnect_by_func (self->adjustments[which], gtk_widget_queue_draw, self);
  g_set_object (&self->adjustments[which], adjustment);
  if (adjustment == NULL)
    return;
  g_signal_connect_object (adjustment, "value-changed", G_CALLBACK (gtk_widget_queue_draw), self, G_CONNECT_SWAPPED);
  configure (self);
}

static void
set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  AppWeeks *self = APP_WEEKS (object);

  if (id == PROP_HADJUSTMENT || id == PROP_VADJUSTMENT)
    set_adjustment (self, id == PROP_VADJUSTMENT, g_value_get_object (value));
  else if (id == PROP_HSCROLL_POLICY || id == PROP_VSCROLL_POLICY)
    self->policies[id == PROP_VSCROLL_POLICY] = (GtkScrollablePolicy) g_value_get_enum (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  AppWeeks *self = APP_WEEKS (object);

  if (id == PROP_HADJUSTMENT || id == PROP_VADJUSTMENT)
    g_value_set_object (value, self->adjustments[id == PROP_VADJUSTMENT]);
  else if (id == PROP_HSCROLL_POLICY || id == PROP_VSCROLL_POLICY)
    g_value_set_enum (value, (int) self->policies[id == PROP_VSCROLL_POLICY]);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
dispose (GObject *object)
{
  AppWeeks *self = APP_WEEKS (object);

  set_adjustment (self, 0, NULL);
  set_adjustment (self, 1, NULL);
  g_clear_pointer (&self->weeks, desk_weeks_free);
  g_clear_pointer (&self->boxes, g_array_unref);
  G_OBJECT_CLASS (app_weeks_parent_class)->dispose (object);
}

static void
app_weeks_class_init (AppWeeksClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->set_property = set_property;
  object_class->get_property = get_property;
  object_class->dispose = dispose;
  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");
  widget_class->snapshot = snapshot;
  widget_class->measure = measure;
  widget_class->size_allocate = size_allocate;
  widget_class->query_tooltip = query_tooltip;
  gtk_widget_class_set_css_name (widget_class, "weeks");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CHOSEN] = g_signal_new ("chosen", APP_TYPE_WEEKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[OPENED] = g_signal_new ("opened", APP_TYPE_WEEKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ANIMAL] = g_signal_new ("animal", APP_TYPE_WEEKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, DESK_TYPE_SUBJECT);
}

static void
app_weeks_init (AppWeeks *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  self->chosen = CORE_DAY_NONE;
  self->boxes = g_array_new (FALSE, FALSE, sizeof (AppWeekBox));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_object (click, "pressed", G_CALLBACK (pressed_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}
