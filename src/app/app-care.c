/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-care.c — see app-care.h. One table of buttons for three kinds of subject; the key is the
 * underlined letter of the translated word. */
#include "app/app-care.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-key-button.h"
#include "app/app-view.h"
#include "app/app-window.h"

struct _AppCare
{
  GtkWidget parent_instance;

  /* Child, borrowed */
  GtkWidget *row;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
};

G_DEFINE_FINAL_TYPE (AppCare, app_care, GTK_TYPE_WIDGET)

#define L CORE_FOR (CORE_SUBJECT_LOT)
#define E CORE_FOR (CORE_SUBJECT_EGGCASE)
#define C CORE_FOR (CORE_SUBJECT_CULTURE)

typedef void (*DialogFunc) (AppWindow *window, CoreId id);

typedef struct
{
  unsigned subjects;
  const char *label;   /* with the key underlined */
  DialogFunc dialog;   /* or */
  const char *kind;    /* recorded at once */
  const char *pair;    /* of the kind, NULL = none */
} CareButton;

static const CareButton buttons[] = {
  { L, NC_ ("care button", "_Fed"), NULL, "fed", NULL },
  { L, NC_ ("care button", "No food i_n view"), NULL, "fed", "outcome=none_in_view" },
  { L | E, NC_ ("care button", "_Sprayed"), NULL, "misted", NULL },
  { L | E, NC_ ("care button", "_Looked"), NULL, "looked", NULL },
  { E, NC_ ("care button", "_Hatched…"), app_dialog_hatched, NULL, NULL },
  { E, NC_ ("care button", "Make a lo_t…"), app_dialog_lot_from, NULL, NULL },
  { E, NC_ ("care button", "Ha_rdened"), NULL, "hardened", NULL },
  { L, NC_ ("care button", "_Moulted…"), app_dialog_moulted, NULL, NULL },
  { L, NC_ ("care button", "_Count anew…"), app_dialog_recount, NULL, NULL },
  { L, NC_ ("care button", "_Dead…"), app_dialog_some_died, NULL, NULL },
  { L, NC_ ("care button", "Sold, _given…"), app_dialog_some_left, NULL, NULL },
  { L, NC_ ("care button", "Escaped…"), app_dialog_some_escaped, NULL, NULL },
  { L, NC_ ("care button", "Se_parate…"), app_dialog_separate, NULL, NULL },
  { L, NC_ ("care button", "Spl_it…"), app_dialog_split, NULL, NULL },
  { L, NC_ ("care button", "_Join…"), app_dialog_join, NULL, NULL },
  { C, NC_ ("care button", "Clea_ned"), NULL, "cleaned", NULL },
  { L | E | C, NC_ ("care button", "N_ote…"), app_dialog_note, NULL, NULL },
  { L | E | C, NC_ ("care button", "Mo_ve…"), app_dialog_move, NULL, NULL },
  { L | E, NC_ ("care button", "_Kind, origin…"), app_dialog_edit_origin, NULL, NULL },
  { E, NC_ ("care button", "Will not hatch…"), app_dialog_dud, NULL, NULL },
  { C, NC_ ("care button", "Used up…"), app_dialog_used_up, NULL, NULL },
};

/* ---- writing ---- */

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppCare) self = data;
  g_autoptr (GError) error = NULL;
  AppWindow *window = app_window_of (self);
  g_autofree char *words = NULL;
  g_autofree char *text = NULL;
  const CoreEntry *entry = NULL;
  CoreId id;

  if (desk_record_finish (DESK_DESK (source), result, &id, &error))
    entry = desk_entry (DESK_DESK (source), id);
  if (window == NULL)
    return;
  if (entry == NULL)
    {
      app_window_say_error (window, error);
      return;
    }
  {
    WordsView view = app_view (DESK_DESK (source));
    WordsEntry row = { .entry = entry };
    g_autoptr (DeskSubject) subject = desk_get (DESK_DESK (source), entry->subject);

    words = words_entry (&view, &row);
    text = g_strdup_printf (C_ ("journal", "Saved: %s %s. Ctrl+Z takes it back."),
                            subject != NULL ? desk_subject_label (subject) : "", words);
  }
  app_window_say (window, text);
}

/* What the plan proposes; NULL = nothing. */
static char *
prey_pair (DeskSubject *subject)
{
  const CorePlan *plan = desk_subject_plan (subject);

  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_FEED && plan->tasks.v[i].n_prey > 0)
      return g_strdup_printf ("prey=%s", core_prey_name (plan->tasks.v[i].prey[0].prey));
  return NULL;
}

static void
press (AppCare *self, const CareButton *button)
{
  AppWindow *window = app_window_of (self);
  CoreId id = desk_subject_id (self->subject);
  g_autofree char *prey = NULL;
  const char *pairs[2] = { button->pair, NULL };

  if (button->dialog != NULL)
    {
      if (window != NULL)
        button->dialog (window, id);
      return;
    }
  if (strcmp (button->kind, "fed") == 0 && button->pair == NULL)
    pairs[0] = prey = prey_pair (self->subject);
  desk_record_async (self->desk, id, button->kind, pairs, desk_today (self->desk), CORE_DAY_NONE, -1, NULL,
                     recorded_cb, g_object_ref (self));
}

static void
clicked_cb (GtkButton *button, AppCare *self)
{
  gsize i = GPOINTER_TO_SIZE (g_object_get_data (G_OBJECT (button), "care"));

  if (self->subject != NULL)
    press (self, &buttons[i]);
}

/* ---- keys ---- */

static const char *
label_of (const CareButton *button)
{
  return g_dpgettext2 (NULL, "care button", button->label);
}

static gboolean
is_for (const CareButton *button, DeskSubject *subject)
{
  return (button->subjects & CORE_FOR (desk_subject_kind (subject))) != 0;
}

gboolean
app_care_key (AppCare *self, guint keyval)
{
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  g_return_val_if_fail (APP_IS_CARE (self), FALSE);
  if (letter == 0 || self->subject == NULL)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    if (is_for (&buttons[i], self->subject) && app_key_of (label_of (&buttons[i])) == letter)
      {
        press (self, &buttons[i]);
        return TRUE;
      }
  return FALSE;
}

static gboolean
letter_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppCare *self)
{
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  return app_care_key (self, keyval);
}

/* ---- object ---- */

static void
fill (AppCare *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->row)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->row), child);
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkWidget *button, *cell;

      if (!is_for (&buttons[i], self->subject))
        continue;
      button = app_key_button_new (label_of (&buttons[i]));
      cell = gtk_flow_box_child_new ();
      g_object_set_data (G_OBJECT (button), "care", GSIZE_TO_POINTER (i));
      g_signal_connect_object (button, "clicked", G_CALLBACK (clicked_cb), self, 0);
      gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (cell), button);
      gtk_widget_set_focusable (cell, FALSE);
      gtk_flow_box_append (GTK_FLOW_BOX (self->row), cell);
    }
}

static void
dispose (GObject *object)
{
  AppCare *self = APP_CARE (object);

  g_clear_object (&self->desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  G_OBJECT_CLASS (app_care_parent_class)->dispose (object);
}

static void
app_care_class_init (AppCareClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
app_care_init (AppCare *self)
{
  GtkEventController *letters = gtk_event_controller_key_new ();

  self->row = app_key_flow_new ();
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_signal_connect_object (letters, "key-pressed", G_CALLBACK (letter_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), letters);
}

GtkWidget *
app_care_new (void)
{
  return g_object_new (APP_TYPE_CARE, NULL);
}

void
app_care_set_subject (AppCare *self, Desk *desk, DeskSubject *subject)
{
  gboolean shown, same;

  g_return_if_fail (APP_IS_CARE (self));
  shown = subject != NULL && desk_subject_living (subject)
          && (CORE_FOR (desk_subject_kind (subject)) & (L | E | C)) != 0;
  same = shown && self->subject != NULL && desk_subject_kind (self->subject) == desk_subject_kind (subject);
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  gtk_widget_set_visible (GTK_WIDGET (self), shown);
  if (!shown)
    return;
  self->subject = desk_subject_ref (subject);
  if (!same) /* the buttons keep the focus while it is about the same kind */
    fill (self);
}
