/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick-ask.c — the second row of the buttons: which score, which sign, what more. */
#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-key-button.h"
#include "app/app-quick-private.h"
#include "app/app-widgets.h"
#include "app/app-window.h"

void
_app_quick_ask_end (AppQuick *self)
{
  GtkWidget *child;

  self->asks_more = FALSE;
  while ((child = gtk_widget_get_first_child (self->second)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->second), child);
  gtk_widget_set_visible (self->second, FALSE);
}

/* The question is over: the keys go back to the cup or button from which it was asked. */
static void
leave_second (AppQuick *self)
{
  GtkWidget *back = self->came_from;

  _app_quick_ask_end (self);
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
  _app_quick_ask_end (self);
}

/* One more button of the question, with the key that its label underlines. */
static void
add_to_second (AppQuick *self, GtkWidget *button, gunichar key)
{
  GtkWidget *cell = gtk_flow_box_child_new ();

  g_object_set_data (G_OBJECT (button), "letter", GUINT_TO_POINTER (key));
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
  gtk_widget_set_focusable (cell, FALSE);
  gtk_flow_box_append (GTK_FLOW_BOX (self->second), cell);
}

static gboolean
press_key (AppQuick *self, gunichar letter)
{
  for (GtkWidget *cell = gtk_widget_get_first_child (self->second); cell != NULL;
       cell = gtk_widget_get_next_sibling (cell))
    {
      GtkWidget *button = gtk_flow_box_child_get_child (GTK_FLOW_BOX_CHILD (cell));

      if (GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "letter")) == letter)
        {
          g_signal_emit_by_name (button, "clicked");
          return TRUE;
        }
    }
  return FALSE;
}

/* With the focus in there a letter or digit answers the question or means nothing: it is never
 * another cup, and never an entry that was not asked for. */
static gboolean
second_key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppQuick *self)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  if (keyval == GDK_KEY_Escape)
    {
      leave_second (self);
      return GDK_EVENT_STOP;
    }
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || (focus != NULL && GTK_IS_EDITABLE (focus))
      || !g_unichar_isalnum (letter))
    return GDK_EVENT_PROPAGATE;
  (void) press_key (self, letter);
  return GDK_EVENT_STOP;
}

static void
answer_cb (GtkButton *button, AppQuick *self)
{
  const char *kind = g_object_get_data (G_OBJECT (button), "kind");
  const char *key = g_object_get_data (G_OBJECT (button), "key");
  g_autofree char *value = g_strdup (g_object_get_data (G_OBJECT (button), "value"));

  leave_second (self);
  _app_quick_record_one (self, kind, key, value);
}

static void
add_answer (AppQuick *self, const char *label, const char *tooltip, const char *kind, const char *key, const char *value)
{
  GtkWidget *button = app_key_button_new (label);

  g_object_set_data (G_OBJECT (button), "kind", (gpointer) kind);
  g_object_set_data (G_OBJECT (button), "key", (gpointer) key);
  g_object_set_data_full (G_OBJECT (button), "value", g_strdup (value), g_free);
  gtk_widget_set_tooltip_text (button, tooltip);
  g_signal_connect_object (button, "clicked", G_CALLBACK (answer_cb), self, 0);
  add_to_second (self, button, app_key_of (label));
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
      g_autofree char *label = g_strdup_printf ("_%d %s", score, words_belly (WORDS_LOCAL, score));

      add_answer (self, label, NULL, "belly", "score", value);
    }
  show_second (self);
}

static void
ask_sign (AppQuick *self)
{
  const CoreKindKey *key = core_kind_key (CORE_KIND_SIGN, CORE_KEY_SIGN);
  g_autoptr (GString) taken = g_string_new (NULL);

  begin_second (self);
  for (int sign = 0; sign < CORE_N_SIGNS; sign++)
    if (sign != CORE_SIGN_REFUSES) /* that has a button of its own */
      {
        g_autofree char *label = app_key_label (words_sign (WORDS_LOCAL, sign), taken);

        add_answer (self, label, words_sign_question (WORDS_LOCAL, sign), "sign", "sign", key->words[sign]);
      }
  show_second (self);
}

static void
ask_trouble (AppQuick *self)
{
  const CoreKindKey *key = core_kind_key (CORE_KIND_TROUBLE, CORE_KEY_WHAT);
  g_autoptr (GString) taken = g_string_new (NULL);

  begin_second (self);
  for (int what = 0; key->words[what] != NULL; what++)
    {
      g_autofree char *label = app_key_label (words_trouble (WORDS_LOCAL, what), taken);

      add_answer (self, label, NULL, "trouble", "what", key->words[what]);
    }
  if (desk_subject_plan (self->subject)->trouble)
    {
      g_autofree char *label = app_key_label (C_ ("journal button", "over: seen to"), taken);

      add_answer (self, label, C_ ("journal button", "Answers the trouble that was entered: it is asked about no more"),
                  "done", "rule", "look");
    }
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
    _app_quick_record_one (self, "note", "text", text);
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
  { NC_ ("journal button", "_Move…"), NULL, app_dialog_move, { NULL } },
  { NC_ ("journal button", "Exchan_ge places…"), NULL, app_dialog_swap, { NULL } },
  { NC_ ("journal button", "_Edit…"), NULL, app_dialog_edit_animal, { NULL } },
  { NC_ ("journal button", "Its _home…"), NULL, app_dialog_home, { NULL } },
  { NC_ ("journal button", "Mea_sure…"), NULL, app_dialog_measure, { NULL } },
  { NC_ ("journal button", "It is _now…"), NULL, app_dialog_stage, { NULL } },
  { NC_ ("journal button", "_Read the sex…"), NULL, app_dialog_sex, { NULL } },
  { NC_ ("journal button", "For _pairing or sale…"), NULL, app_dialog_purpose, { NULL } },
  { NC_ ("journal button", "No_t needed: sex check"), "set", NULL, { "key=sex_check", "value=not_needed", NULL } },
  { NC_ ("journal button", "Mi_xed up with…"), NULL, app_dialog_mixed, { NULL } },
  { NC_ ("journal button", "Do_ubtful which one…"), NULL, app_dialog_doubt, { NULL } },
  { NC_ ("journal button", "_Watered"), "watered", NULL, { NULL } },
  { NC_ ("journal button", "_Cleaned"), "cleaned", NULL, { NULL } },
  { NC_ ("journal button", "_Drank"), "drank", NULL, { NULL } },
  { NC_ ("journal button", "_Looks dead"), "looks_dead", NULL, { NULL } },
  { NC_ ("journal button", "D_ied…"), NULL, app_dialog_died, { NULL } },
  { NC_ ("journal button", "Le_ft…"), NULL, app_dialog_left, { NULL } },
  { NC_ ("journal button", "Esc_aped"), "escaped", NULL, { NULL } },
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
    _app_quick_record (self, more[i].kind, more[i].pairs);
}

guint
app_quick_n_more_keys (void)
{
  return G_N_ELEMENTS (more);
}

gunichar
app_quick_more_key_at (guint n, char **title)
{
  const char *label;

  g_return_val_if_fail (n < G_N_ELEMENTS (more), 0);
  label = g_dpgettext2 (NULL, "journal button", more[n].label);
  if (title != NULL)
    *title = app_key_plain (label);
  return app_key_of (label);
}

gboolean
_app_quick_more_key (AppQuick *self, gunichar letter)
{
  return self->asks_more && press_key (self, letter);
}

static void
ask_more (AppQuick *self)
{
  begin_second (self);
  self->asks_more = TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (more); i++)
    {
      GtkWidget *button = app_key_button_new (g_dpgettext2 (NULL, "journal button", more[i].label));

      g_object_set_data (G_OBJECT (button), "more", GSIZE_TO_POINTER (i));
      if (g_strcmp0 (more[i].kind, "cleaned") == 0 && desk_caution_on (self->desk, WORDS_CAUTION_CLEANING))
        gtk_widget_set_tooltip_text (button, words_caution_line (WORDS_LOCAL, WORDS_CAUTION_CLEANING));
      g_signal_connect_object (button, "clicked", G_CALLBACK (more_cb), self, 0);
      add_to_second (self, button, app_quick_more_key_at ((guint) i, NULL));
    }
  show_second (self);
}

void
_app_quick_ask (AppQuick *self, AppQuickWhat what)
{
  switch ((int) what)
    {
    case APP_QUICK_BELLY: ask_belly (self); break;
    case APP_QUICK_SIGN: ask_sign (self); break;
    case APP_QUICK_TROUBLE: ask_trouble (self); break;
    case APP_QUICK_NOTE: ask_note (self); break;
    case APP_QUICK_MORE: ask_more (self); break;
    default: break; /* the other buttons ask nothing */
    }
}

void
_app_quick_ask_init (AppQuick *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_set_visible (self->second, FALSE);
  app_take_digits (self->second);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (second_key_cb), self, 0);
  gtk_widget_add_controller (self->second, keys);
}
