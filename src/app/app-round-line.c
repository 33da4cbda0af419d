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
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "core/core-date.h"
#include "desk/desk-then.h"

#define NIGHT_ENDS (4 * 60) /* minutes: before it a round is of the evening before */

struct _AppRoundLine
{
  GtkWidget parent_instance;

  /* Template children, borrowed */
  GtkWidget *outer;
  GtkBox *ask;
  GtkLabel *question;
  GtkEntry *entry;
  GtkLabel *hint;
  GtkToggleButton *cups;
  GtkButton *night;
  GtkWidget *capped;
  GtkGrid *lines;
  GtkLabel *caution; /* what is fed can hurt */

  /* Owned */
  Desk *desk;
  DeskSubject *place;
  char *draft_key;
  const CoreRoundTerm *terms; /* borrowed, static */
  gsize n_terms;
  DeskRoundPreview *read; /* NULL: nothing typed */
  int n_lines;
  int minute;             /* of the clock, -1 = the day is fixed */
  gboolean other_day;     /* the keeper chose the other of the two days */
  CoreDay past;           /* the rounds typed in are of this day; NONE = of now */
  char *seen_by;          /* and seen by somebody else; NULL = by the keeper */
  gboolean writing;
  gboolean reading;       /* how the shelf was on `past` */
  gboolean wanted;        /* Return was pressed meanwhile, and the line is the same since */
};

G_DEFINE_FINAL_TYPE (AppRoundLine, app_round_line, GTK_TYPE_WIDGET)

enum
{
  READ,
  WRITTEN,
  CUPS_WANTED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
clear_lines (AppRoundLine *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->lines))) != NULL)
    gtk_grid_remove (self->lines, child);
  self->n_lines = 0;
}

static GtkWidget *
who_label (const char *who, const char *css)
{
  GtkWidget *label = gtk_label_new (who);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), 9);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_add_css_class (label, css != NULL ? css : "strong");
  return label;
}

/* One line of the list: who, and what will be written; two to a row where there is room. */
static void
add_line (AppRoundLine *self, const char *who, const char *what, const char *css)
{
  int columns = gtk_widget_get_width (GTK_WIDGET (self)) > 900 ? 2 : 1;
  int column = self->n_lines % columns * 2;
  int row = self->n_lines / columns;
  GtkWidget *right = gtk_label_new (what);
  gboolean nobody = who[0] == '\0'; /* an empty label would be read out by the name of its class */

  gtk_label_set_xalign (GTK_LABEL (right), 0);
  gtk_label_set_wrap (GTK_LABEL (right), TRUE);
  gtk_widget_set_hexpand (right, TRUE);
  gtk_widget_set_valign (right, GTK_ALIGN_START);
  if (css != NULL)
    gtk_widget_add_css_class (right, css);
  if (!nobody)
    gtk_grid_attach (self->lines, who_label (who, css), column, row, 1, 1);
  gtk_grid_attach (self->lines, right, nobody ? column : column + 1, row, nobody ? 2 : 1, 1);
  self->n_lines++;
}

static const char *const css_classes[] = {
  [APP_ROUND_WRITES] = NULL,
  [APP_ROUND_PROBLEM] = "trouble",
  [APP_ROUND_LEFT_OUT] = "dim",
};

static const char *
typed (AppRoundLine *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

static gboolean
is_blank (const char *line)
{
  return line[strspn (line, " ")] == '\0';
}

static void preview (AppRoundLine *self);

/* A cup's number or code and nothing else is no round, but the way to that cup. NULL when it is none. */
static DeskSubject *
lone_cup (AppRoundLine *self)
{
  g_autofree char *name = g_strstrip (g_strdup (typed (self)));
  g_autoptr (DeskSubject) subject = NULL;

  if (self->read == NULL || self->read->line.n_problems == 0)
    return NULL;
  subject = desk_find (self->desk, name, NULL);
  if (subject == NULL || desk_subject_kind (subject) == CORE_SUBJECT_PLACE
      || g_ascii_strcasecmp (desk_subject_label (subject), name) != 0)
    return NULL;
  return g_steal_pointer (&subject);
}

/* Where the keeper typed a number to open its cup, nothing is wrong yet. */
static void
say_lone (AppRoundLine *self, DeskSubject *cup)
{
  add_line (self, desk_subject_label (cup),
            C_ ("round line", "Enter opens it; or go on with what happened, such as refused, moulted or dead."), NULL);
}

static void
show_lines (AppRoundLine *self)
{
  g_autoptr (GPtrArray) lines = app_round_preview_lines (self->desk, self->read, typed (self));

  for (guint i = 0; i < lines->len; i++)
    {
      const AppRoundPreviewLine *one = g_ptr_array_index (lines, i);

      add_line (self, one->who, one->what, css_classes[one->kind]);
    }
}

static void
then_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppRoundLine) self = data;
  gboolean ok = desk_then_finish (DESK_DESK (source), result, NULL);

  self->reading = FALSE;
  if (ok && self->desk == DESK_DESK (source))
    {
      gboolean write = self->wanted;

      self->wanted = FALSE;
      preview (self); /* of another shelf or day by now: that is read then */
      if (write)
        app_round_line_write (self);
    }
}

/* FALSE: how the shelf was on that day is being read. */
static gboolean
is_ready (AppRoundLine *self)
{
  CoreDay day = app_round_line_get_day (self);

  if (self->desk == NULL || self->place == NULL || desk_then_is_ready (self->desk, desk_subject_id (self->place), day))
    return TRUE;
  if (!self->reading)
    desk_then_async (self->desk, desk_subject_id (self->place), day, then_read_cb, g_object_ref (self));
  self->reading = TRUE;
  return FALSE;
}

static void
preview (AppRoundLine *self)
{
  g_autoptr (DeskSubject) lone = NULL;
  gboolean ready = is_ready (self);

  clear_lines (self);
  g_clear_pointer (&self->read, desk_round_preview_free);
  if (!ready && !is_blank (typed (self)))
    add_line (self, "", C_ ("round line", "Reading how the shelf was on that day…"), "dim");
  if (ready && self->desk != NULL && self->place != NULL && !is_blank (typed (self)))
    {
      self->read = desk_round_preview (self->desk, desk_subject_id (self->place), typed (self),
                                       self->terms, self->n_terms, app_round_line_get_day (self));
      lone = lone_cup (self);
      if (lone != NULL)
        say_lone (self, lone);
      else
        show_lines (self);
    }
  gtk_widget_set_visible (self->capped, self->read != NULL || self->n_lines > 0);
  app_caution_set (self->caution, self->read != NULL ? desk_cautions_of_round (self->desk, self->read) : 0);
  g_signal_emit (self, signals[READ], 0);
}

/* ---- the day ---- */

static gboolean
is_night (AppRoundLine *self)
{
  return self->minute >= 0 && self->minute < NIGHT_ENDS;
}

CoreDay
app_round_line_get_day (AppRoundLine *self)
{
  CoreDay today;

  g_return_val_if_fail (APP_IS_ROUND_LINE (self), CORE_DAY_NONE);
  if (self->desk == NULL)
    return CORE_DAY_NONE;
  if (self->past != CORE_DAY_NONE)
    return self->past;
  today = desk_today (self->desk);
  return is_night (self) && !self->other_day ? today - 1 : today;
}

static char *
night_text (AppRoundLine *self, const WordsView *view, const char *day)
{
  g_autofree char *other = words_day (view, view->today - (self->other_day ? 1 : 0), WORDS_DAY_FULL);

  if (self->other_day)
    /* Translators: after midnight: the day of the round, and the evening that F4 changes it to */
    return g_strdup_printf (C_ ("round line", "This round is of today, %s. F4: of the evening before, %s."), day, other);
  /* Translators: after midnight: the evening of the round, and the day that F4 changes it to */
  return g_strdup_printf (C_ ("round line", "It is past midnight: this round is of the evening of %s. F4: of today, %s."),
                          day, other);
}

static char *
past_text (AppRoundLine *self, const char *day)
{
  if (self->seen_by == NULL)
    /* Translators: the day of the rounds that are typed in */
    return g_strdup_printf (C_ ("round line", "Rounds are typed in for %s; the cups show today. F4: back to today."), day);
  /* Translators: the day of the rounds that are typed in, and the name of who saw it */
  return g_strdup_printf (C_ ("round line", "Rounds are typed in for %s, seen by %s; the cups show today. F4: back to today."), day,
                          self->seen_by);
}

/* Of another day than today the line says so. */
static void
say_day (AppRoundLine *self)
{
  gboolean past = self->past != CORE_DAY_NONE;
  WordsView view;
  g_autofree char *day = NULL;
  g_autofree char *text = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->night), (past || is_night (self)) && self->desk != NULL);
  if (!gtk_widget_get_visible (GTK_WIDGET (self->night)))
    return;
  view = app_view (self->desk);
  day = words_day (&view, app_round_line_get_day (self), WORDS_DAY_FULL);
  text = past ? past_text (self, day) : night_text (self, &view, day);
  gtk_button_set_label (self->night, text);
}

void
app_round_line_set_past (AppRoundLine *self, CoreDay day, const char *seen_by)
{
  g_return_if_fail (APP_IS_ROUND_LINE (self));
  self->past = day;
  g_free (self->seen_by);
  self->seen_by = day != CORE_DAY_NONE && seen_by != NULL && seen_by[0] != '\0' ? g_strdup (seen_by) : NULL;
  say_day (self);
  preview (self);
}

void
app_round_line_set_minute (AppRoundLine *self, int minute)
{
  gboolean before;

  g_return_if_fail (APP_IS_ROUND_LINE (self));
  before = is_night (self);
  self->minute = minute;
  if (before == is_night (self))
    return;
  self->other_day = FALSE; /* a choice holds for one night */
  say_day (self);
  preview (self);
}

gboolean
app_round_line_swap_day (AppRoundLine *self)
{
  g_return_val_if_fail (APP_IS_ROUND_LINE (self), FALSE);
  if (self->past != CORE_DAY_NONE)
    {
      app_round_line_set_past (self, CORE_DAY_NONE, NULL);
      return TRUE;
    }
  if (!is_night (self))
    return FALSE;
  self->other_day = !self->other_day;
  say_day (self);
  preview (self);
  return TRUE;
}

/* ---- draft ---- */

/* The desk writes it within a second, and when the journal is closed. */
static void
keep_draft (AppRoundLine *self)
{
  const char *line = typed (self);

  if (self->desk != NULL && self->draft_key != NULL)
    desk_draft_set (self->desk, self->draft_key, line[0] != '\0' ? line : NULL);
}

static void
changed_cb (GtkEditable *editable, AppRoundLine *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_window_hush_trouble (window);
  self->wanted = FALSE;
  preview (self);
  keep_draft (self);
}

/* ---- writing ---- */

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
  /* Translators: shown once the round is safely on disk. */
  text = g_strdup_printf (TN_ (WORDS_LOCAL, "round line", "Saved: %u entry. Ctrl+Z takes it back.",
                               "Saved: %u entries. Ctrl+Z takes them back.", n),
                          (guint) n);
  if (window != NULL)
    app_window_say (window, text);
  g_signal_emit (self, signals[WRITTEN], 0);
}

static void
open_cup (AppRoundLine *self, DeskSubject *cup)
{
  AppWindow *window = app_window_of (self);

  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  if (window != NULL)
    app_window_go_to (window, cup);
}

void
app_round_line_write (AppRoundLine *self)
{
  g_autoptr (DeskSubject) lone = NULL;
  DeskWhen when;

  g_return_if_fail (APP_IS_ROUND_LINE (self));
  if (self->writing || self->desk == NULL || self->place == NULL || is_blank (typed (self)))
    return;
  lone = lone_cup (self);
  if (lone != NULL)
    {
      open_cup (self, lone);
      return;
    }
  if (!is_ready (self))
    {
      self->wanted = TRUE;
      return;
    }
  when.earliest = when.said = when.latest = app_round_line_get_day (self);
  self->writing = TRUE; /* a second Return must not write it twice */
  gtk_editable_set_editable (GTK_EDITABLE (self->entry), FALSE);
  desk_round_write_async (self->desk, desk_subject_id (self->place), typed (self), self->terms,
                          self->n_terms, &when, self->seen_by, NULL, written_cb,
                          g_object_ref (self));
}

/* ---- changed by hands on the cups ---- */

const DeskRoundPreview *
app_round_line_get_read (AppRoundLine *self)
{
  g_return_val_if_fail (APP_IS_ROUND_LINE (self), NULL);
  return self->read;
}

/* A line of its own to be changed; FALSE (and it is said) while what is typed cannot be read. */
static gboolean
begin_edit (AppRoundLine *self, CoreRoundLine *line)
{
  AppWindow *window = app_window_of (self);

  if (self->writing || self->desk == NULL || self->place == NULL || !is_ready (self))
    return FALSE;
  if (self->read == NULL)
    {
      *line = core_round_line_none ();
      return TRUE;
    }
  if (self->read->line.n_problems > 0)
    {
      if (window != NULL)
        app_window_say (window, C_ ("round line", "What is typed in the line is not understood yet: put it right or clear it, then mark the cups."));
      return FALSE;
    }
  if (core_round_line_copy (&self->read->line, line) != CORE_OK)
    g_error ("out of memory while changing a round");
  return TRUE;
}

static void
end_edit (AppRoundLine *self, CoreRoundLine *line)
{
  g_autofree char *text = words_round_line (WORDS_LOCAL, line, typed (self),
                                            core_day_weekday (app_round_line_get_day (self)));

  core_round_line_clear (line);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
}

gboolean
app_round_line_toggle_mark (AppRoundLine *self, const CoreRoundException *mark)
{
  CoreRoundLine line;
  gboolean done;

  g_return_val_if_fail (APP_IS_ROUND_LINE (self), FALSE);
  if (!begin_edit (self, &line))
    return FALSE;
  done = core_round_toggle_mark (&line, mark) == CORE_OK;
  end_edit (self, &line);
  return done;
}

gboolean
app_round_line_unmark (AppRoundLine *self, const char *number)
{
  CoreRoundLine line;

  g_return_val_if_fail (APP_IS_ROUND_LINE (self), FALSE);
  if (!begin_edit (self, &line))
    return FALSE;
  core_round_unmark (&line, number);
  end_edit (self, &line);
  return TRUE;
}

gboolean
app_round_line_set_action (AppRoundLine *self, const CoreRoundAction *action, gboolean on)
{
  CoreRoundLine line;
  gboolean done = TRUE;

  g_return_val_if_fail (APP_IS_ROUND_LINE (self), FALSE);
  if (!begin_edit (self, &line))
    return FALSE;
  if (on)
    done = core_round_set_action (&line, action) == CORE_OK;
  else
    core_round_drop_action (&line, action->action);
  end_edit (self, &line);
  return done;
}

int
app_round_line_usual_number (AppRoundLine *self, int prey)
{
  g_autoptr (DeskRoundPreview) shelf = NULL;
  int times[8] = { 0 }, best = 1;

  g_return_val_if_fail (APP_IS_ROUND_LINE (self), 1);
  if (self->desk == NULL || self->place == NULL)
    return 1;
  shelf = desk_round_preview (self->desk, desk_subject_id (self->place), "", self->terms,
                              self->n_terms, CORE_DAY_NONE);
  for (guint i = 0; i < shelf->cups->len; i++)
    {
      const CoreRoundCup *cup = &g_array_index (shelf->cups, CoreRoundCup, i);

      if (cup->usual_prey == prey && cup->usual_n > 0 && cup->usual_n < (int) G_N_ELEMENTS (times))
        times[cup->usual_n]++;
    }
  for (int n = 1; n < (int) G_N_ELEMENTS (times); n++)
    if (times[n] > times[best])
      best = n;
  return best;
}

void
app_round_line_set_marking (AppRoundLine *self, gboolean marking)
{
  g_return_if_fail (APP_IS_ROUND_LINE (self));
  gtk_toggle_button_set_active (self->cups, marking);
}

gboolean
app_round_line_get_marking (AppRoundLine *self)
{
  g_return_val_if_fail (APP_IS_ROUND_LINE (self), FALSE);
  return gtk_toggle_button_get_active (self->cups);
}

/* ---- keys and clicks ---- */

static void
activate_cb (GtkEntry *entry, AppRoundLine *self)
{
  app_round_line_write (self);
}

static void
cups_cb (GtkToggleButton *button, AppRoundLine *self)
{
  g_signal_emit (self, signals[CUPS_WANTED], 0, gtk_toggle_button_get_active (button));
}

static void
night_cb (GtkButton *button, AppRoundLine *self)
{
  (void) app_round_line_swap_day (self);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppRoundLine *self)
{
  if (keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  if (gtk_toggle_button_get_active (self->cups))
    {
      gtk_toggle_button_set_active (self->cups, FALSE); /* the line stays, as a draft */
      return GDK_EVENT_STOP;
    }
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

  g_clear_object (&self->desk);
  g_clear_pointer (&self->place, desk_subject_unref);
  g_clear_pointer (&self->draft_key, g_free);
  g_clear_pointer (&self->seen_by, g_free);
  g_clear_pointer (&self->read, desk_round_preview_free);
  app_template_dispose (GTK_WIDGET (self), APP_TYPE_ROUND_LINE);
  G_OBJECT_CLASS (app_round_line_parent_class)->dispose (object);
}

static void
app_round_line_class_init (AppRoundLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  signals[READ] = g_signal_new ("read", APP_TYPE_ROUND_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[WRITTEN] = g_signal_new ("written", APP_TYPE_ROUND_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CUPS_WANTED] = g_signal_new ("cups-wanted", APP_TYPE_ROUND_LINE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  g_type_ensure (APP_TYPE_CAPPED);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/round-line.ui");
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, outer);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, ask);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, question);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, entry);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, hint);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, cups);
  gtk_widget_class_bind_template_child (widget_class, AppRoundLine, night);
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
  self->minute = -1;
  self->past = CORE_DAY_NONE;
  g_signal_connect_object (self->cups, "toggled", G_CALLBACK (cups_cb), self, 0);
  g_signal_connect_object (self->night, "clicked", G_CALLBACK (night_cb), self, 0);
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
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->place, desk_subject_unref);
  if (place == NULL)
    return;
  self->place = desk_subject_ref (place);
  show_example (self);
  if (!same)
    {
      char id[37];
      g_autofree char *question = g_strdup_printf (C_ ("round line", "What did you do on %s?"), desk_place_name (place));
      g_autofree char *draft = NULL;

      core_id_to_text (desk_subject_id (place), id);
      g_free (self->draft_key);
      self->draft_key = g_strdup_printf ("round/%s", id);
      draft = desk_draft_get (desk, self->draft_key);
      gtk_label_set_label (self->question, question);
      gtk_editable_set_text (GTK_EDITABLE (self->entry), draft != NULL ? draft : "");
    }
  say_day (self);
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
