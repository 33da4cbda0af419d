/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick.c — see app-quick.h. One table of buttons; a second row asks the
 * one question that some of them need (which score, which sign). */
#include "app/app-quick.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-view.h"
#include "app/app-window.h"

typedef enum
{
  QUICK_ATE,
  QUICK_PUT_IN,
  QUICK_REFUSED,
  QUICK_GONE,
  QUICK_MOULTED,
  QUICK_MISTED,
  QUICK_LOOKED,
  QUICK_BELLY,
  QUICK_SIGN,
  QUICK_TROUBLE,
  QUICK_NOTE,
  QUICK_PHOTO,
  QUICK_COUNT,
  QUICK_MORE,
  N_QUICK
} QuickWhat;

typedef struct
{
  QuickWhat what;
  const char *label; /* with the key underlined */
} QuickButton;

static const QuickButton buttons[] = {
  { QUICK_ATE, NC_ ("journal button", "_Ate") },
  { QUICK_PUT_IN, NC_ ("journal button", "Put _in") },
  { QUICK_REFUSED, NC_ ("journal button", "_Refused") },
  { QUICK_GONE, NC_ ("journal button", "Prey _gone") },
  { QUICK_MOULTED, NC_ ("journal button", "_Moulted…") },
  { QUICK_MISTED, NC_ ("journal button", "_Sprayed") },
  { QUICK_LOOKED, NC_ ("journal button", "_Looked") },
  { QUICK_BELLY, NC_ ("journal button", "_Belly…") },
  { QUICK_SIGN, NC_ ("journal button", "Moult sig_n…") },
  { QUICK_TROUBLE, NC_ ("journal button", "_Trouble…") },
  { QUICK_NOTE, NC_ ("journal button", "N_ote…") },
  { QUICK_PHOTO, NC_ ("journal button", "_Photo…") },
  { QUICK_COUNT, NC_ ("journal button", "_Count plates…") },
  { QUICK_MORE, NC_ ("journal button", "Mor_e…") },
};

/* The key of the list of prey. */
#define WITH_LABEL NC_ ("journal button", "_with")

struct _AppQuick
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *outer;
  GtkWidget *row;
  GtkDropDown *prey;      /* the first row: not said */
  GtkSpinButton *number;  /* 0: not said */
  GtkWidget *second; /* the one question */
  GtkWidget *buttons[N_QUICK];

  /* Weak: what had the keys before the question, and gets them back */
  GtkWidget *came_from;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  char *warning; /* to be said with the meal that is being written */
};

G_DEFINE_FINAL_TYPE (AppQuick, app_quick, GTK_TYPE_WIDGET)

/* ---- writing ---- */

static void
say (AppQuick *self, const char *text, const GError *error)
{
  AppWindow *window = app_window_of (self);

  if (window == NULL)
    return;
  if (error != NULL)
    app_window_say_error (window, error);
  else
    app_window_say (window, text);
}

static char *
saved_text (Desk *desk, CoreId id)
{
  const CoreEntry *entry = desk_entry (desk, id);
  WordsView view = app_view (desk);
  WordsEntry row = { .entry = entry };
  g_autoptr (DeskSubject) subject = NULL;
  g_autofree char *text = NULL;

  if (entry == NULL)
    return g_strdup (C_ ("journal", "Saved."));
  subject = desk_get (desk, entry->subject);
  row.state = subject != NULL ? desk_subject_state (subject) : NULL;
  text = words_entry (&view, &row);
  return g_strdup_printf (C_ ("journal", "Saved: %s %s. Ctrl+Z takes it back."),
                          subject != NULL ? desk_subject_label (subject) : "", text);
}

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppQuick) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  CoreId id;

  if (desk_record_finish (DESK_DESK (source), result, &id, &error))
    text = saved_text (DESK_DESK (source), id);
  if (text != NULL && self->warning != NULL)
    {
      g_autofree char *saved = g_steal_pointer (&text);

      text = g_strdup_printf ("%s %s", saved, self->warning);
    }
  g_clear_pointer (&self->warning, g_free);
  say (self, text, error);
}

static void
record (AppQuick *self, const char *kind, const char *const *pairs)
{
  desk_record_async (self->desk, desk_subject_id (self->subject), kind, pairs, desk_today (self->desk),
                     CORE_DAY_NONE, -1, NULL, recorded_cb, g_object_ref (self));
}

static void
record_one (AppQuick *self, const char *kind, const char *key, const char *value)
{
  g_autofree char *pair = key != NULL ? g_strdup_printf ("%s=%s", key, value) : NULL;

  record (self, kind, (const char *const[]){ pair, NULL });
}

/* A meal in a cup that was to get none is written, and said. */
static char *
food_warning (AppQuick *self)
{
  const CoreHold *hold = &desk_subject_plan (self->subject)->hold;
  WordsView view = app_view (self->desk);
  g_autofree char *day = NULL;

  if (hold->kind == CORE_HOLD_NONE || hold->food_until == CORE_DAY_NONE || hold->food_until < view.today)
    return NULL;
  day = words_day (&view, hold->food_until, WORDS_DAY_SHORT);
  return g_strdup_printf (C_ ("journal", "It was to get no food up to %s."), day);
}

static void
record_meal (AppQuick *self, const char *outcome)
{
  guint chosen = gtk_drop_down_get_selected (self->prey);
  int n = gtk_spin_button_get_value_as_int (self->number);
  const CoreKindKey *key = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY);
  g_autofree char *what = g_strdup_printf ("outcome=%s", outcome);
  g_autofree char *prey = NULL;
  g_autofree char *number = n > 0 ? g_strdup_printf ("n=%d", n) : NULL;

  g_free (self->warning);
  self->warning = g_str_equal (outcome, "refused") ? NULL : food_warning (self);
  if (chosen > 0 && chosen <= CORE_N_PREY)
    prey = g_strdup_printf ("prey=%s", key->words[chosen - 1]);
  else
    g_clear_pointer (&number, g_free); /* a number of nothing says nothing */
  record (self, "fed", prey != NULL ? (const char *const[]){ what, prey, number, NULL } : (const char *const[]){ what, NULL });
}

/* The day comes from the camera where it says one; the keeper is told, and can correct it. */
static char *
attached_text (Desk *desk, const DeskPhoto *photo)
{
  WordsView view = app_view (desk);
  g_autofree char *day = NULL;

  if (photo->duplicate)
    return g_strdup (C_ ("journal", "Saved. This very picture was already in the journal."));
  if (photo->taken == CORE_DAY_NONE || photo->taken > view.today)
    return g_strdup (C_ ("journal", "Saved: the picture, as of today; it names no day itself. Ctrl+Z takes it back."));
  day = words_day (&view, photo->taken, WORDS_DAY_SHORT);
  return g_strdup_printf (C_ ("journal", "Saved: the picture, as of %s, when it was taken. Ctrl+Z takes it back."), day);
}

static void
attached_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppQuick) self = data;
  g_autoptr (GError) error = NULL;
  DeskPhoto photo = { 0 };
  g_autofree char *text = NULL;

  if (desk_photo_add_finish (DESK_DESK (source), result, &photo, &error))
    text = attached_text (DESK_DESK (source), &photo);
  say (self, text, error);
}

void
app_quick_attach (AppQuick *self, GFile *file)
{
  g_return_if_fail (APP_IS_QUICK (self));
  if (self->desk == NULL || self->subject == NULL)
    return;
  desk_photo_add_async (self->desk, desk_subject_id (self->subject), file, CORE_DAY_NONE, NULL, attached_cb,
                        g_object_ref (self));
}

static void
picture_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppQuick) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);

  if (file != NULL)
    app_quick_attach (self, file);
  else
    say (self, NULL, error);
}

/* ---- the second row ---- */

static void
clear_second (AppQuick *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->second)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->second), child);
  gtk_widget_set_visible (self->second, FALSE);
}

/* The question is over: the keys go back to the cup or button from which it was asked. */
static void
leave_second (AppQuick *self)
{
  GtkWidget *back = self->came_from;

  clear_second (self);
  if (back != NULL && gtk_widget_get_mapped (back))
    gtk_widget_grab_focus (back);
  g_clear_weak_pointer (&self->came_from);
}

/* Before anything is asked: empty the row, and note who has the keys. */
static void
begin_second (AppQuick *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (focus != NULL && !gtk_widget_is_ancestor (focus, self->second))
    g_set_weak_pointer (&self->came_from, focus);
  clear_second (self);
}

static gboolean
second_key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppQuick *self)
{
  if (keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  leave_second (self);
  return GDK_EVENT_STOP;
}

static void
answer_cb (GtkButton *button, AppQuick *self)
{
  const char *kind = g_object_get_data (G_OBJECT (button), "kind");
  const char *key = g_object_get_data (G_OBJECT (button), "key");
  g_autofree char *value = g_strdup (g_object_get_data (G_OBJECT (button), "value"));

  leave_second (self);
  record_one (self, kind, key, value);
}

static void
add_answer (AppQuick *self, const char *label, const char *tooltip, const char *kind, const char *key, const char *value)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  GtkWidget *cell = gtk_flow_box_child_new ();

  g_object_set_data (G_OBJECT (button), "kind", (gpointer) kind);
  g_object_set_data (G_OBJECT (button), "key", (gpointer) key);
  g_object_set_data_full (G_OBJECT (button), "value", g_strdup (value), g_free);
  gtk_widget_set_tooltip_text (button, tooltip);
  g_signal_connect_object (button, "clicked", G_CALLBACK (answer_cb), self, 0);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
  gtk_widget_set_focusable (cell, FALSE);
  gtk_flow_box_append (GTK_FLOW_BOX (self->second), cell);
}

static void
show_second (AppQuick *self)
{
  gtk_widget_set_visible (self->second, TRUE);
  gtk_widget_child_focus (self->second, GTK_DIR_TAB_FORWARD);
}

static void
ask_belly (AppQuick *self)
{
  begin_second (self);
  for (int score = 1; score <= 5; score++)
    {
      g_autofree char *value = g_strdup_printf ("%d", score);
      g_autofree char *label = g_strdup_printf ("%d %s", score, words_belly (WORDS_LOCAL, score));

      add_answer (self, label, NULL, "belly", "score", value);
    }
  show_second (self);
}

static void
ask_sign (AppQuick *self)
{
  const CoreKindKey *key = core_kind_key (CORE_KIND_SIGN, CORE_KEY_SIGN);

  begin_second (self);
  for (int sign = 0; sign < CORE_N_SIGNS; sign++)
    if (sign != CORE_SIGN_REFUSES) /* that has a button of its own */
      add_answer (self, words_sign (WORDS_LOCAL, sign), words_sign_question (WORDS_LOCAL, sign), "sign", "sign",
                  key->words[sign]);
  show_second (self);
}

static void
ask_trouble (AppQuick *self)
{
  const CoreKindKey *key = core_kind_key (CORE_KIND_TROUBLE, CORE_KEY_WHAT);

  begin_second (self);
  for (int what = 0; key->words[what] != NULL; what++)
    add_answer (self, words_trouble (WORDS_LOCAL, what), NULL, "trouble", "what", key->words[what]);
  show_second (self);
}

/* A note being typed is kept like every other line: it is there again after a crash. */
static char *
note_key (AppQuick *self)
{
  char id[37];

  core_id_to_text (desk_subject_id (self->subject), id);
  return g_strdup_printf ("note/%s", id);
}

static void
note_changed_cb (GtkEditable *entry, AppQuick *self)
{
  const char *text = gtk_editable_get_text (entry);
  g_autofree char *key = note_key (self);

  desk_draft_set (self->desk, key, text[0] != '\0' ? text : NULL);
}

static void
note_cb (GtkEntry *entry, AppQuick *self)
{
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  g_autofree char *key = note_key (self);

  desk_draft_set (self->desk, key, NULL);

  leave_second (self);
  if (text[strspn (text, " ")] != '\0')
    record_one (self, "note", "text", text);
}

static void
ask_note (AppQuick *self)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkWidget *cell = gtk_flow_box_child_new ();
  g_autofree char *key = note_key (self);
  g_autofree char *draft = desk_draft_get (self->desk, key);

  begin_second (self);
  gtk_entry_set_max_length (GTK_ENTRY (entry), 1000);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), C_ ("journal", "What you saw; Enter keeps it"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("journal", "Note"), -1);
  gtk_widget_set_hexpand (entry, TRUE);
  if (draft != NULL)
    gtk_editable_set_text (GTK_EDITABLE (entry), draft);
  g_signal_connect_object (entry, "changed", G_CALLBACK (note_changed_cb), self, 0);
  g_signal_connect_object (entry, "activate", G_CALLBACK (note_cb), self, 0);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), entry);
  gtk_widget_set_focusable (cell, FALSE);
  gtk_widget_set_hexpand (cell, TRUE);
  gtk_flow_box_append (GTK_FLOW_BOX (self->second), cell);
  gtk_widget_set_visible (self->second, TRUE);
  gtk_widget_grab_focus (entry);
}

typedef void (*DialogFunc) (AppWindow *window, CoreId animal);
static const struct
{
  const char *label;
  const char *kind; /* recorded at once, or */
  DialogFunc dialog;
  const char *pairs[3]; /* of the kind */
} more[] = {
  { NC_ ("journal button", "Move…"), NULL, app_dialog_move, { NULL } },
  { NC_ ("journal button", "Edit…"), NULL, app_dialog_edit_animal, { NULL } },
  { NC_ ("journal button", "Its home…"), NULL, app_dialog_home, { NULL } },
  { NC_ ("journal button", "Measure…"), NULL, app_dialog_measure, { NULL } },
  { NC_ ("journal button", "It is now…"), NULL, app_dialog_stage, { NULL } },
  { NC_ ("journal button", "Read the sex…"), NULL, app_dialog_sex, { NULL } },
  { NC_ ("journal button", "For pairing or sale…"), NULL, app_dialog_purpose, { NULL } },
  { NC_ ("journal button", "Not needed: sex check"), "set", NULL, { "key=sex_check", "value=not_needed", NULL } },
  { NC_ ("journal button", "Watered"), "watered", NULL, { NULL } },
  { NC_ ("journal button", "Cleaned"), "cleaned", NULL, { NULL } },
  { NC_ ("journal button", "Drank"), "drank", NULL, { NULL } },
  { NC_ ("journal button", "Looks dead"), "looks_dead", NULL, { NULL } },
  { NC_ ("journal button", "Died…"), NULL, app_dialog_died, { NULL } },
  { NC_ ("journal button", "Left…"), NULL, app_dialog_left, { NULL } },
  { NC_ ("journal button", "Escaped"), "escaped", NULL, { NULL } },
};

static void
more_cb (GtkButton *button, AppQuick *self)
{
  gsize i = GPOINTER_TO_SIZE (g_object_get_data (G_OBJECT (button), "more"));
  AppWindow *window = app_window_of (self);

  leave_second (self);
  if (more[i].dialog != NULL && window != NULL)
    more[i].dialog (window, desk_subject_id (self->subject));
  else if (more[i].kind != NULL)
    record (self, more[i].kind, more[i].pairs);
}

static void
ask_more (AppQuick *self)
{
  begin_second (self);
  for (gsize i = 0; i < G_N_ELEMENTS (more); i++)
    {
      GtkWidget *button = gtk_button_new_with_label (g_dpgettext2 (NULL, "journal button", more[i].label));
      GtkWidget *cell = gtk_flow_box_child_new ();

      g_object_set_data (G_OBJECT (button), "more", GSIZE_TO_POINTER (i));
      if (g_strcmp0 (more[i].kind, "cleaned") == 0)
        gtk_widget_set_tooltip_text (button, words_caution_line (WORDS_LOCAL, WORDS_CAUTION_CLEANING));
      g_signal_connect_object (button, "clicked", G_CALLBACK (more_cb), self, 0);
      gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
      gtk_widget_set_focusable (cell, FALSE);
      gtk_flow_box_append (GTK_FLOW_BOX (self->second), cell);
    }
  show_second (self);
}

/* ---- the first row ---- */

static void
choose_picture (AppQuick *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_open_picture_async (GTK_WINDOW (window), app_window_cancellable (window), picture_chosen_cb,
                            g_object_ref (self));
}

static void
count_plates (AppQuick *self)
{
  const CoreState *state = desk_subject_state (self->subject);
  AppWindow *window = app_window_of (self);

  if (window != NULL && state->photos.n > 0)
    app_window_show_bench (window, desk_subject_id (self->subject), state->photos.v[state->photos.n - 1].entry);
}

static void
press (AppQuick *self, QuickWhat what)
{
  AppWindow *window = app_window_of (self);

  if (self->desk == NULL || self->subject == NULL)
    return;
  switch (what)
    {
    case QUICK_ATE: record_meal (self, "taken"); break;
    case QUICK_PUT_IN: record_meal (self, "offered"); break;
    case QUICK_REFUSED: record_meal (self, "refused"); break;
    case QUICK_GONE: record_one (self, "gone", NULL, NULL); break;
    case QUICK_MISTED: record_one (self, "misted", NULL, NULL); break;
    case QUICK_LOOKED: record_one (self, "looked", NULL, NULL); break;
    case QUICK_BELLY: ask_belly (self); break;
    case QUICK_SIGN: ask_sign (self); break;
    case QUICK_TROUBLE: ask_trouble (self); break;
    case QUICK_NOTE: ask_note (self); break;
    case QUICK_PHOTO: choose_picture (self); break;
    case QUICK_COUNT: count_plates (self); break;
    case QUICK_MORE: ask_more (self); break;
    case QUICK_MOULTED:
      if (window != NULL)
        app_dialog_moulted (window, desk_subject_id (self->subject));
      break;
    case N_QUICK:
    default: break;
    }
}

static void
clicked_cb (GtkButton *button, AppQuick *self)
{
  press (self, (QuickWhat) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "what")));
}

/* The letter after the underscore of the translated label; 0 = none. */
static gunichar
key_of (const char *label)
{
  const char *underscore = strchr (label, '_');

  return underscore != NULL ? g_unichar_tolower (g_utf8_get_char (underscore + 1)) : 0;
}

guint
app_quick_n_keys (void)
{
  return G_N_ELEMENTS (buttons);
}

gunichar
app_quick_key_at (guint n, char **title)
{
  const char *label;
  g_auto (GStrv) parts = NULL;

  g_return_val_if_fail (n < G_N_ELEMENTS (buttons), 0);
  label = g_dpgettext2 (NULL, "journal button", buttons[n].label);
  parts = g_strsplit (label, "_", 2);
  *title = g_strjoinv ("", parts);
  return key_of (label);
}

gboolean
app_quick_key (AppQuick *self, guint keyval)
{
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  g_return_val_if_fail (APP_IS_QUICK (self), FALSE);
  if (letter == 0 || self->subject == NULL || !desk_subject_living (self->subject))
    return FALSE;
  if (key_of (g_dpgettext2 (NULL, "journal button", WITH_LABEL)) == letter)
    return gtk_widget_grab_focus (GTK_WIDGET (self->prey));
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    if (key_of (g_dpgettext2 (NULL, "journal button", buttons[i].label)) == letter
        && gtk_widget_get_visible (gtk_widget_get_parent (self->buttons[buttons[i].what])))
      {
        press (self, buttons[i].what);
        return TRUE;
      }
  return FALSE;
}

static void
fill_prey (AppQuick *self)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  gtk_string_list_append (list, C_ ("journal", "prey not said"));
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    {
      g_autofree char *name = words_prey (WORDS_LOCAL, prey, 0);

      gtk_string_list_append (list, name);
    }
  self->prey = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (list), NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->prey), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("journal", "Prey"), -1);
  self->number = GTK_SPIN_BUTTON (gtk_spin_button_new_with_range (0, 50, 1));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->number), C_ ("journal", "How many; 0: not said"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->number), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("journal", "How many"), -1);
}

/* The letter after the underscore, underlined always and not only while Alt is held: it is
 * pressed alone. */
static char *
underlined (const char *label)
{
  const char *underscore = strchr (label, '_');
  g_autofree char *before = NULL;
  g_autofree char *key = NULL;
  const char *rest;

  if (underscore == NULL)
    return g_markup_escape_text (label, -1);
  rest = g_utf8_next_char (underscore + 1);
  before = g_strndup (label, (gsize) (underscore - label));
  key = g_strndup (underscore + 1, (gsize) (rest - underscore - 1));
  return g_markup_printf_escaped ("%s<u>%s</u>%s", before, key, rest);
}

static GtkWidget *
key_button_new (const char *label)
{
  g_auto (GStrv) parts = g_strsplit (label, "_", 2);
  g_autofree char *plain = g_strjoinv ("", parts);
  g_autofree char *markup = underlined (label);
  GtkWidget *words = gtk_label_new (NULL);
  GtkWidget *button = gtk_button_new ();

  gtk_label_set_markup (GTK_LABEL (words), markup);
  gtk_button_set_child (GTK_BUTTON (button), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, plain, -1);
  return button;
}

static void
add_button (AppQuick *self, const QuickButton *what)
{
  GtkWidget *button = key_button_new (g_dpgettext2 (NULL, "journal button", what->label));
  GtkWidget *cell = gtk_flow_box_child_new ();

  g_object_set_data (G_OBJECT (button), "what", GINT_TO_POINTER (what->what));
  g_signal_connect_object (button, "clicked", G_CALLBACK (clicked_cb), self, 0);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
  gtk_widget_set_focusable (cell, FALSE);
  gtk_flow_box_append (GTK_FLOW_BOX (self->row), cell);
  if (what->what == QUICK_PHOTO)
    gtk_widget_set_tooltip_text (button, words_caution_line (WORDS_LOCAL, WORDS_CAUTION_PHOTO));
  self->buttons[what->what] = button;
}

static GtkWidget *
flow_new (void)
{
  GtkWidget *flow = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 6);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (flow), 3);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 13);
  gtk_widget_add_css_class (flow, "quick");
  return flow;
}

static void
dispose (GObject *object)
{
  AppQuick *self = APP_QUICK (object);

  g_clear_weak_pointer (&self->came_from);
  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_pointer (&self->warning, g_free);
  g_clear_pointer (&self->outer, gtk_widget_unparent);
  G_OBJECT_CLASS (app_quick_parent_class)->dispose (object);
}

static void
app_quick_class_init (AppQuickClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

/* Letters work wherever the focus is among these buttons, but not while something is typed. */
static gboolean
letter_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppQuick *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || (focus != NULL && GTK_IS_EDITABLE (focus)))
    return GDK_EVENT_PROPAGATE;
  return app_quick_key (self, keyval);
}

static GtkWidget *
with_label_new (void)
{
  const char *words = g_dpgettext2 (NULL, "journal button", WITH_LABEL);
  g_autofree char *markup = underlined (words);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_markup (GTK_LABEL (label), markup);
  return label;
}

static void
app_quick_init (AppQuick *self)
{
  GtkWidget *with = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
  GtkEventController *letters = gtk_event_controller_key_new ();
  GtkWidget *label = with_label_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 9);
  gtk_widget_set_parent (self->outer, GTK_WIDGET (self));
  self->row = flow_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    add_button (self, &buttons[i]);
  gtk_box_append (GTK_BOX (self->outer), self->row);
  fill_prey (self);
  gtk_widget_add_css_class (label, "dim");
  gtk_box_append (GTK_BOX (with), label);
  gtk_box_append (GTK_BOX (with), GTK_WIDGET (self->number));
  gtk_box_append (GTK_BOX (with), GTK_WIDGET (self->prey));
  g_signal_connect_object (letters, "key-pressed", G_CALLBACK (letter_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), letters);
  gtk_box_append (GTK_BOX (self->outer), with);
  self->second = flow_new ();
  gtk_widget_set_visible (self->second, FALSE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (second_key_cb), self, 0);
  gtk_widget_add_controller (self->second, keys);
  gtk_box_append (GTK_BOX (self->outer), self->second);
}

GtkWidget *
app_quick_new (void)
{
  return g_object_new (APP_TYPE_QUICK, NULL);
}

/* What its feed task proposes; without one the prey stays "not said". */
static const CorePreyOffer *
proposed_prey (const DeskSubject *subject)
{
  const CorePlan *plan = desk_subject_plan (subject);

  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_FEED && plan->tasks.v[i].n_prey > 0)
      return &plan->tasks.v[i].prey[0];
  return NULL;
}

static void
propose_prey (AppQuick *self)
{
  const CorePreyOffer *offer = proposed_prey (self->subject);

  gtk_drop_down_set_selected (self->prey, offer != NULL ? (guint) offer->prey + 1 : 0);
  gtk_spin_button_set_value (self->number, offer != NULL ? offer->n : 0);
}

void
app_quick_set_subject (AppQuick *self, Desk *desk, DeskSubject *subject)
{
  gboolean same;

  g_return_if_fail (APP_IS_QUICK (self));
  same = subject != NULL && self->subject != NULL
         && core_id_equal (desk_subject_id (subject), desk_subject_id (self->subject));
  if (!same)
    clear_second (self);
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  gtk_widget_set_visible (self->outer, subject != NULL && desk_subject_living (subject));
  if (subject == NULL)
    return;
  self->subject = desk_subject_ref (subject);
  if (!same)
    propose_prey (self);
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[QUICK_COUNT]),
                          desk_subject_state (subject)->photos.n > 0);
  /* Adults do not moult: no sign, no moult to enter. */
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[QUICK_SIGN]), !desk_subject_state (subject)->adult);
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[QUICK_MOULTED]), !desk_subject_state (subject)->adult);
}
