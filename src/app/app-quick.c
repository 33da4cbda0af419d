/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-quick.c — see app-quick.h. One table of buttons; a second row asks the
 * one question that some of them need (which score, which sign). */
#include <glib/gi18n.h>
#include <string.h>

#include "app/app-attach.h"
#include "app/app-dialogs.h"
#include "app/app-key-button.h"
#include "app/app-quick-private.h"
#include "app/app-view.h"
#include "app/app-window.h"

typedef struct
{
  AppQuickWhat what;
  const char *label; /* with the key underlined */
} QuickButton;

static const QuickButton buttons[] = {
  { APP_QUICK_ATE, NC_ ("journal button", "_Ate") },
  { APP_QUICK_PUT_IN, NC_ ("journal button", "Put _in") },
  { APP_QUICK_REFUSED, NC_ ("journal button", "_Refused") },
  { APP_QUICK_GONE, NC_ ("journal button", "Prey _gone") },
  { APP_QUICK_MOULTED, NC_ ("journal button", "_Moulted…") },
  { APP_QUICK_MISTED, NC_ ("journal button", "_Sprayed") },
  { APP_QUICK_LOOKED, NC_ ("journal button", "_Looked") },
  { APP_QUICK_BELLY, NC_ ("journal button", "_Belly…") },
  { APP_QUICK_SIGN, NC_ ("journal button", "Moult sig_n…") },
  { APP_QUICK_TROUBLE, NC_ ("journal button", "_Trouble…") },
  { APP_QUICK_NOTE, NC_ ("journal button", "N_ote…") },
  { APP_QUICK_PHOTO, NC_ ("journal button", "_Photo…") },
  { APP_QUICK_COUNT, NC_ ("journal button", "_Count plates…") },
  { APP_QUICK_MORE, NC_ ("journal button", "Mor_e…") },
};

/* The key of the list of prey. */
#define WITH_LABEL NC_ ("journal button", "_with")

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

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppQuick) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  CoreId id;

  if (desk_record_finish (DESK_DESK (source), result, &id, &error))
    text = app_saved_text (DESK_DESK (source), id, 0);
  if (text != NULL && self->warning != NULL)
    {
      g_autofree char *saved = g_steal_pointer (&text);

      text = g_strdup_printf ("%s %s", saved, self->warning);
    }
  g_clear_pointer (&self->warning, g_free);
  say (self, text, error);
}

void
_app_quick_record (AppQuick *self, const char *kind, const char *const *pairs)
{
  desk_record_async (self->desk, desk_subject_id (self->subject), kind, pairs, desk_today (self->desk),
                     CORE_DAY_NONE, -1, NULL, recorded_cb, g_object_ref (self));
}

void
_app_quick_record_one (AppQuick *self, const char *kind, const char *key, const char *value)
{
  g_autofree char *pair = key != NULL ? g_strdup_printf ("%s=%s", key, value) : NULL;

  _app_quick_record (self, kind, (const char *const[]){ pair, NULL });
}

void
app_quick_attach (AppQuick *self, GFile *file)
{
  AppWindow *window = app_window_of (self);

  g_return_if_fail (APP_IS_QUICK (self));
  if (self->desk != NULL && self->subject != NULL && window != NULL)
    app_attach_files (window, desk_subject_id (self->subject), &(GSList){ .data = file }, NULL);
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
press (AppQuick *self, AppQuickWhat what)
{
  AppWindow *window = app_window_of (self);

  if (self->desk == NULL || self->subject == NULL)
    return;
  switch (what)
    {
    case APP_QUICK_ATE: _app_quick_meal_record (self, "taken"); break;
    case APP_QUICK_PUT_IN: _app_quick_meal_record (self, "offered"); break;
    case APP_QUICK_REFUSED: _app_quick_meal_record (self, "refused"); break;
    case APP_QUICK_GONE: _app_quick_record_one (self, "gone", NULL, NULL); break;
    case APP_QUICK_MISTED: _app_quick_record_one (self, "misted", NULL, NULL); break;
    case APP_QUICK_LOOKED: _app_quick_record_one (self, "looked", NULL, NULL); break;
    case APP_QUICK_PHOTO: choose_picture (self); break;
    case APP_QUICK_COUNT: count_plates (self); break;
    case APP_QUICK_BELLY:
    case APP_QUICK_SIGN:
    case APP_QUICK_TROUBLE:
    case APP_QUICK_NOTE:
    case APP_QUICK_MORE: _app_quick_ask (self, what); break;
    case APP_QUICK_MOULTED:
      if (window != NULL)
        app_dialog_moulted (window, desk_subject_id (self->subject));
      break;
    case APP_N_QUICK:
    default: break;
    }
}

static void
clicked_cb (GtkButton *button, AppQuick *self)
{
  press (self, (AppQuickWhat) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "what")));
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

  g_return_val_if_fail (n < G_N_ELEMENTS (buttons), 0);
  label = g_dpgettext2 (NULL, "journal button", buttons[n].label);
  *title = app_key_plain (label);
  return app_key_of (label);
}

gboolean
app_quick_key (AppQuick *self, guint keyval)
{
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  g_return_val_if_fail (APP_IS_QUICK (self), FALSE);
  if (letter == 0 || self->subject == NULL || !desk_subject_living (self->subject))
    return FALSE;
  if (_app_quick_more_key (self, letter))
    return TRUE;
  if (app_key_of (g_dpgettext2 (NULL, "journal button", WITH_LABEL)) == letter)
    return gtk_widget_grab_focus (GTK_WIDGET (self->prey));
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    if (app_key_of (g_dpgettext2 (NULL, "journal button", buttons[i].label)) == letter
        && gtk_widget_get_visible (gtk_widget_get_parent (self->buttons[buttons[i].what])))
      {
        press (self, buttons[i].what);
        return TRUE;
      }
  return FALSE;
}

static void
add_button (AppQuick *self, const QuickButton *what)
{
  GtkWidget *button = app_key_button_new (g_dpgettext2 (NULL, "journal button", what->label));
  GtkWidget *cell = gtk_flow_box_child_new ();

  g_object_set_data (G_OBJECT (button), "what", GINT_TO_POINTER (what->what));
  g_signal_connect_object (button, "clicked", G_CALLBACK (clicked_cb), self, 0);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
  gtk_widget_set_focusable (cell, FALSE);
  gtk_flow_box_append (GTK_FLOW_BOX (self->row), cell);
  self->buttons[what->what] = button;
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
  g_autofree char *markup = app_key_markup (words);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_markup (GTK_LABEL (label), markup);
  gtk_widget_add_css_class (label, "dim");
  return label;
}

static void
app_quick_init (AppQuick *self)
{
  GtkEventController *letters = gtk_event_controller_key_new ();

  self->outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 9);
  gtk_widget_set_parent (self->outer, GTK_WIDGET (self));
  self->row = app_key_flow_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    add_button (self, &buttons[i]);
  gtk_box_append (GTK_BOX (self->outer), self->row);
  _app_quick_meal_init (self, with_label_new ());
  g_signal_connect_object (letters, "key-pressed", G_CALLBACK (letter_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), letters);
  self->second = app_key_flow_new ();
  /* Its words are longer: as many as fit, so that the panel beside the boards keeps its width. */
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (self->second), 1);
  _app_quick_ask_init (self);
  gtk_box_append (GTK_BOX (self->outer), self->second);
}

GtkWidget *
app_quick_new (void)
{
  return g_object_new (APP_TYPE_QUICK, NULL);
}

static void
photo_caution (AppQuick *self)
{
  gboolean on = desk_caution_on (self->desk, WORDS_CAUTION_PHOTO);

  gtk_widget_set_tooltip_text (self->buttons[APP_QUICK_PHOTO],
                               on ? words_caution_line (WORDS_LOCAL, WORDS_CAUTION_PHOTO) : NULL);
}

void
app_quick_set_subject (AppQuick *self, Desk *desk, DeskSubject *subject)
{
  gboolean same;

  g_return_if_fail (APP_IS_QUICK (self));
  same = subject != NULL && self->subject != NULL
         && core_id_equal (desk_subject_id (subject), desk_subject_id (self->subject));
  if (!same)
    _app_quick_ask_end (self);
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  gtk_widget_set_visible (self->outer, subject != NULL && desk_subject_living (subject));
  if (subject == NULL)
    return;
  self->subject = desk_subject_ref (subject);
  if (!same)
    _app_quick_meal_propose (self);
  _app_quick_meal_refresh (self);
  photo_caution (self);
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[APP_QUICK_COUNT]),
                          desk_subject_state (subject)->photos.n > 0);
  /* Adults do not moult: no sign, no moult to enter. */
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[APP_QUICK_SIGN]), !desk_subject_state (subject)->adult);
  gtk_widget_set_visible (gtk_widget_get_parent (self->buttons[APP_QUICK_MOULTED]), !desk_subject_state (subject)->adult);
}
