/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-bar.c — see app-round-bar.h. */
#include "app/app-round-bar.h"

#include <glib/gi18n.h>

#include "app/app-drop-down.h"
#include "app/app-round-marks.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "app/app-wrap.h"

#define MAX_MARKS 24
#define SCORES 5

typedef struct
{
  CoreRoundWord word;
  const char *label;
} Action;

static const Action actions[] = {
  { CORE_WORD_FED, NC_ ("round bar", "Fed") },
  { CORE_WORD_MISTED, NC_ ("round bar", "Sprayed") },
  { CORE_WORD_WATERED, NC_ ("round bar", "Watered") },
  { CORE_WORD_CLEANED, NC_ ("round bar", "Cleaned") },
  { CORE_WORD_GONE, NC_ ("round bar", "Prey gone") },
  { CORE_WORD_LOOKED, NC_ ("round bar", "Looked at all") },
};

struct _AppRoundBar
{
  GtkWidget parent_instance;

  /* Template children, borrowed */
  GtkWidget *outer;
  AppWrap *all;
  AppWrap *one;
  GtkLabel *hint;
  GtkButton *save;
  GtkButton *leave;

  /* Children of these, borrowed */
  GtkToggleButton *done[G_N_ELEMENTS (actions)];
  GtkDropDown *prey;     /* the first row: what each is proposed */
  GtkSpinButton *number; /* 0: not said */
  GtkToggleButton *marks[MAX_MARKS];
  GtkToggleButton *scores[SCORES];

  /* Borrowed: they outlive the bar */
  AppRoundLine *line;
  AppBoards *boards;

  int tool;         /* mark that a click gives, -1 none */
  int score;        /* of a mark that needs one; 0 = not chosen */
  CoreId asked;     /* the cup whose score the next digit is; none */
  gboolean filling; /* the buttons follow the line, not the hand */
  gboolean on;
};

G_DEFINE_FINAL_TYPE (AppRoundBar, app_round_bar, GTK_TYPE_WIDGET)

/* ---- what the line says, on the buttons and the cups ---- */

static void
say_hint (AppRoundBar *self)
{
  const char *hint;

  if (!core_id_is_none (self->asked))
    hint = C_ ("round bar", "How round is the belly? 1 sunken … 5 tight");
  else if (self->tool >= 0 && app_round_mark_has_score ((guint) self->tool) && self->score == 0)
    hint = C_ ("round bar", "Choose 1 sunken … 5 tight, then click the cups");
  else if (self->tool >= 0)
    hint = C_ ("round bar", "Click the cups, or give each its letter; Enter writes the round");
  else
    hint = C_ ("round bar", "Arrow keys and a letter, or choose a word and click the cups; Enter writes the round");
  gtk_label_set_label (self->hint, hint);
}

static void
fill_actions (AppRoundBar *self, const CoreRoundLine *line)
{
  const CoreRoundAction *fed = line != NULL ? core_round_get_action (line, CORE_WORD_FED) : NULL;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_toggle_button_set_active (self->done[i],
                                  line != NULL && core_round_get_action (line, actions[i].word) != NULL);
  if (fed == NULL)
    return;
  gtk_drop_down_set_selected (self->prey, (guint) (fed->prey + 1));
  gtk_spin_button_set_value (self->number, fed->n);
  gtk_widget_set_sensitive (GTK_WIDGET (self->number), fed->prey >= 0);
}

static void
fill_tools (AppRoundBar *self)
{
  gboolean score = self->tool >= 0 && app_round_mark_has_score ((guint) self->tool);

  for (guint i = 0; i < app_round_n_marks (); i++)
    gtk_toggle_button_set_active (self->marks[i], (int) i == self->tool);
  for (int i = 0; i < SCORES; i++)
    {
      gtk_widget_set_visible (GTK_WIDGET (self->scores[i]), score);
      gtk_toggle_button_set_active (self->scores[i], i + 1 == self->score);
    }
  say_hint (self);
}

/* Letters and words of what the line says of one cup. */
static void
mark_cup (AppRoundBar *self, AppCup *cup, const DeskRoundPreview *read)
{
  const char *number = app_cup_get_data (cup)->number;
  WordsView view = { WORDS_LOCAL, read != NULL ? read->day : CORE_DAY_NONE, 1 };
  g_autoptr (GString) letters = g_string_new (NULL);
  g_autoptr (GString) words = g_string_new (NULL);

  for (gsize i = 0; read != NULL && i < read->line.n_exceptions; i++)
    {
      const CoreRoundException *said = &read->line.exceptions[i];
      int mark = app_round_mark_of (said);
      g_autofree char *text = NULL;

      if (said->lot || g_ascii_strcasecmp (said->number, number) != 0)
        continue;
      text = words_round_outcome (&view, read->day, said);
      g_string_append_unichar (letters, mark >= 0 ? app_round_mark_letter ((guint) mark) : 0x2022);
      g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", text);
    }
  app_cup_set_mark (cup, words->len > 0 ? letters->str : NULL, words->str);
}

void
app_round_bar_refresh (AppRoundBar *self)
{
  const DeskRoundPreview *read;

  g_return_if_fail (APP_IS_ROUND_BAR (self));
  if (self->line == NULL || !self->on)
    return;
  read = app_round_line_get_read (self->line);
  self->filling = TRUE;
  fill_actions (self, read != NULL ? &read->line : NULL);
  fill_tools (self);
  self->filling = FALSE;
  gtk_widget_set_sensitive (GTK_WIDGET (self->save), read != NULL && read->line.n_problems == 0);
  for (guint i = 0; i < app_boards_n_cups (self->boards); i++)
    mark_cup (self, app_boards_nth (self->boards, i), read);
}

static void
read_cb (AppRoundLine *line, AppRoundBar *self)
{
  app_round_bar_refresh (self);
}

/* ---- hands ---- */

static void
set_action (AppRoundBar *self, CoreRoundWord word, gboolean on)
{
  CoreRoundAction action = { .action = word, .prey = -1 };

  if (word == CORE_WORD_FED)
    {
      action.prey = (int) gtk_drop_down_get_selected (self->prey) - 1;
      action.n = action.prey >= 0 ? gtk_spin_button_get_value_as_int (self->number) : 0;
    }
  if (!app_round_line_set_action (self->line, &action, on))
    app_round_bar_refresh (self); /* the button goes back */
}

static void
action_cb (GtkToggleButton *button, AppRoundBar *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (actions) && !self->filling; i++)
    if (button == self->done[i])
      set_action (self, actions[i].word, gtk_toggle_button_get_active (button));
}

static void
prey_cb (GtkDropDown *prey, GParamSpec *pspec, AppRoundBar *self)
{
  int chosen = (int) gtk_drop_down_get_selected (prey) - 1;

  if (self->filling || self->line == NULL)
    return;
  self->filling = TRUE;
  gtk_spin_button_set_value (self->number, chosen >= 0 ? app_round_line_usual_number (self->line, chosen) : 0);
  self->filling = FALSE;
  set_action (self, CORE_WORD_FED, TRUE);
}

static void
number_cb (GtkSpinButton *number, AppRoundBar *self)
{
  if (!self->filling && self->line != NULL)
    set_action (self, CORE_WORD_FED, TRUE);
}

static void
choose_tool (AppRoundBar *self, int tool, int score)
{
  CoreId none = { { 0 } };

  self->tool = tool;
  self->score = score;
  self->asked = none;
  self->filling = TRUE;
  fill_tools (self);
  self->filling = FALSE;
}

static void
mark_cb (GtkToggleButton *button, AppRoundBar *self)
{
  for (guint i = 0; i < app_round_n_marks () && !self->filling; i++)
    if (button == self->marks[i])
      choose_tool (self, gtk_toggle_button_get_active (button) ? (int) i : -1, 0);
}

static void
give (AppRoundBar *self, AppCup *cup, guint mark, int score)
{
  g_autofree char *number = g_ascii_strdown (app_cup_get_data (cup)->number, -1);
  CoreRoundException made = app_round_mark_make (mark, number, score);

  (void) app_round_line_toggle_mark (self->line, &made);
}

/* With the belly of one cup being asked the score is for it, else for the next clicks. */
static void
score (AppRoundBar *self, int value)
{
  AppCup *cup = core_id_is_none (self->asked) ? NULL : app_boards_find (self->boards, self->asked);
  int tool = self->tool;

  choose_tool (self, tool, value);
  if (cup != NULL && tool >= 0)
    {
      give (self, cup, (guint) tool, value);
      gtk_widget_grab_focus (GTK_WIDGET (cup));
    }
}

static void
score_cb (GtkToggleButton *button, AppRoundBar *self)
{
  for (int i = 0; i < SCORES && !self->filling; i++)
    if (button == self->scores[i])
      score (self, i + 1);
}

/* Letters are for one animal; of what stands there beside animals only the line can speak. */
static gboolean
is_single (AppRoundBar *self, AppCup *cup)
{
  AppWindow *window = app_window_of (self);

  if (app_cup_get_data (cup)->kind == CORE_SUBJECT_ANIMAL)
    return TRUE;
  if (window != NULL)
    app_window_say (window, C_ ("round bar", "Letters are for single animals. Of a lot say it in the line: its code, and 3 dead."));
  return FALSE;
}

static void
use_tool (AppRoundBar *self, AppCup *cup)
{
  if (self->tool < 0 || !is_single (self, cup))
    return;
  if (app_round_mark_has_score ((guint) self->tool) && self->score == 0)
    {
      self->asked = app_cup_get_data (cup)->id;
      say_hint (self);
    }
  else
    give (self, cup, (guint) self->tool, self->score);
}

static void
picked_cb (AppBoards *boards, AppCup *cup, AppRoundBar *self)
{
  if (self->on)
    use_tool (self, cup);
}

static void
save_cb (GtkButton *button, AppRoundBar *self)
{
  app_round_line_write (self->line);
}

static void
leave_cb (GtkButton *button, AppRoundBar *self)
{
  app_round_bar_set_on (self, FALSE);
}

static void
written_cb (AppRoundLine *line, AppRoundBar *self)
{
  app_round_bar_set_on (self, FALSE);
}

static void
wanted_cb (AppRoundLine *line, gboolean on, AppRoundBar *self)
{
  app_round_bar_set_on (self, on);
}

gboolean
app_round_bar_wants_digit (AppRoundBar *self)
{
  g_return_val_if_fail (APP_IS_ROUND_BAR (self), FALSE);
  return self->on && !core_id_is_none (self->asked);
}

static gboolean
letter (AppRoundBar *self, AppCup *cup, guint keyval, GdkModifierType state)
{
  int mark = app_round_mark_of_key (keyval, state);

  if (mark < 0)
    return FALSE;
  choose_tool (self, mark, 0);
  use_tool (self, cup);
  return TRUE;
}

gboolean
app_round_bar_key (AppRoundBar *self, AppCup *cup, guint keyval, GdkModifierType state)
{
  gunichar digit = gdk_keyval_to_unicode (keyval);

  g_return_val_if_fail (APP_IS_ROUND_BAR (self), FALSE);
  if (!self->on || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (app_round_bar_wants_digit (self) && digit >= '1' && digit <= '0' + SCORES)
    {
      score (self, (int) (digit - '0'));
      return GDK_EVENT_STOP;
    }
  if (app_round_bar_wants_digit (self)) /* no answer: the next digit is a number again */
    choose_tool (self, self->tool, 0);
  switch (keyval)
    {
    case GDK_KEY_Escape:
      app_round_bar_set_on (self, FALSE);
      return GDK_EVENT_STOP;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      app_round_line_write (self->line);
      return GDK_EVENT_STOP;
    case GDK_KEY_space:
      use_tool (self, cup);
      return GDK_EVENT_STOP;
    case GDK_KEY_BackSpace:
    case GDK_KEY_Delete:
      {
        g_autofree char *number = g_ascii_strdown (app_cup_get_data (cup)->number, -1);

        (void) app_round_line_unmark (self->line, number);
        return GDK_EVENT_STOP;
      }
    default:
      return letter (self, cup, keyval, state);
    }
}

/* Escape on a button of the bar is Escape on the cups. */
static gboolean
escape_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppRoundBar *self)
{
  if (keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  app_round_bar_set_on (self, FALSE);
  return GDK_EVENT_STOP;
}

/* ---- on and off ---- */

void
app_round_bar_set_on (AppRoundBar *self, gboolean on)
{
  g_return_if_fail (APP_IS_ROUND_BAR (self));
  if (self->on == on || self->line == NULL)
    return;
  self->on = on;
  gtk_widget_set_visible (GTK_WIDGET (self), on);
  choose_tool (self, -1, 0);
  app_boards_set_round (self->boards, on);
  app_round_line_set_marking (self->line, on);
  if (on)
    app_round_bar_refresh (self);
  else
    for (guint i = 0; i < app_boards_n_cups (self->boards); i++)
      app_cup_set_mark (app_boards_nth (self->boards, i), NULL, NULL);
}

gboolean
app_round_bar_is_on (AppRoundBar *self)
{
  g_return_val_if_fail (APP_IS_ROUND_BAR (self), FALSE);
  return self->on;
}

void
app_round_bar_connect (AppRoundBar *self, AppRoundLine *line, AppBoards *boards)
{
  g_return_if_fail (APP_IS_ROUND_BAR (self));
  self->line = line;
  self->boards = boards;
  g_signal_connect_object (line, "read", G_CALLBACK (read_cb), self, 0);
  g_signal_connect_object (line, "written", G_CALLBACK (written_cb), self, 0);
  g_signal_connect_object (line, "cups-wanted", G_CALLBACK (wanted_cb), self, 0);
  g_signal_connect_object (boards, "picked", G_CALLBACK (picked_cb), self, 0);
}

/* ---- making ---- */

static void
add_actions (AppRoundBar *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, C_ ("round bar", "each its usual prey"));
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    {
      g_autofree char *name = words_prey (WORDS_LOCAL, prey, 0);

      gtk_string_list_append (names, name);
    }
  self->prey = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL));
  app_drop_down_mend (self->prey, TRUE);
  self->number = GTK_SPIN_BUTTON (gtk_spin_button_new_with_range (0, 20, 1));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->prey), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("round bar", "Prey"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->number), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("round bar", "How many"), -1);
  gtk_widget_set_sensitive (GTK_WIDGET (self->number), FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      GtkWidget *button = gtk_toggle_button_new_with_label (g_dpgettext2 (GETTEXT_PACKAGE, "round bar", actions[i].label));

      self->done[i] = GTK_TOGGLE_BUTTON (button);
      g_signal_connect_object (button, "toggled", G_CALLBACK (action_cb), self, 0);
      app_wrap_append (self->all, button);
      if (actions[i].word == CORE_WORD_FED)
        {
          app_wrap_append (self->all, GTK_WIDGET (self->prey));
          app_wrap_append (self->all, GTK_WIDGET (self->number));
        }
    }
  g_signal_connect_object (self->prey, "notify::selected", G_CALLBACK (prey_cb), self, 0);
  g_signal_connect_object (self->number, "value-changed", G_CALLBACK (number_cb), self, 0);
}

/* A word with its letter before it, as on a key. */
static GtkWidget *
legend_button (guint mark)
{
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  char typed[8] = "";
  g_autofree char *name = NULL;
  GtkWidget *key;

  (void) g_unichar_to_utf8 (app_round_mark_letter (mark), typed);
  key = gtk_label_new (typed);
  gtk_widget_add_css_class (key, "round-key");
  gtk_box_append (GTK_BOX (box), key);
  gtk_box_append (GTK_BOX (box), gtk_label_new (app_round_mark_label (mark)));
  gtk_button_set_child (GTK_BUTTON (button), box);
  /* Translators: what a cup is marked with, and its key: "refused, key r" */
  name = g_strdup_printf (C_ ("round bar", "%s, key %s"), app_round_mark_label (mark), typed);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return button;
}

static void
add_scores (AppRoundBar *self)
{
  for (int i = 0; i < SCORES; i++)
    {
      char digit[2] = { (char) ('1' + i), '\0' };
      GtkWidget *button = gtk_toggle_button_new_with_label (digit);

      self->scores[i] = GTK_TOGGLE_BUTTON (button);
      gtk_widget_set_visible (button, FALSE);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words_belly (WORDS_LOCAL, i + 1), -1);
      g_signal_connect_object (button, "toggled", G_CALLBACK (score_cb), self, 0);
      app_wrap_append (self->one, button);
    }
}

static void
add_marks (AppRoundBar *self)
{
  for (guint i = 0; i < app_round_n_marks () && i < MAX_MARKS; i++)
    {
      GtkWidget *button = legend_button (i);

      self->marks[i] = GTK_TOGGLE_BUTTON (button);
      g_signal_connect_object (button, "toggled", G_CALLBACK (mark_cb), self, 0);
      app_wrap_append (self->one, button);
      if (app_round_mark_has_score (i))
        add_scores (self);
    }
}

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_ROUND_BAR);
  G_OBJECT_CLASS (app_round_bar_parent_class)->dispose (object);
}

static void
app_round_bar_class_init (AppRoundBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  g_type_ensure (APP_TYPE_WRAP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/round-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, outer);
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, all);
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, one);
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, hint);
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, save);
  gtk_widget_class_bind_template_child (widget_class, AppRoundBar, leave);
}

static void
app_round_bar_init (AppRoundBar *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (escape_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  self->tool = -1;
  add_actions (self);
  add_marks (self);
  g_signal_connect_object (self->save, "clicked", G_CALLBACK (save_cb), self, 0);
  g_signal_connect_object (self->leave, "clicked", G_CALLBACK (leave_cb), self, 0);
}
