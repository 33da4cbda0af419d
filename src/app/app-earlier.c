/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-earlier.c — see app-earlier.h. Made anew when it is shown and when it is switched. */
#include "app/app-earlier.h"

#include <glib/gi18n.h>

#include "app/app-still-strip.h"
#include "app/app-thumb.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-strip.h"

#define SIDE 150
#define WIDTH 252
#define MOST 24 /* of an animal; the rest stands on its page */

struct _AppEarlier
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkToggleButton *straight, *whole;
  GtkWidget *scroller;

  /* Owned */
  Desk *desk;
  DeskSubject *subject; /* NULL = nothing is shown */
  CoreId photo;
};

G_DEFINE_FINAL_TYPE (AppEarlier, app_earlier, GTK_TYPE_WIDGET)

/* Plates that were counted on it by the keeper; 0 = none. */
static int
counted_on (const CoreState *state, CoreId photo)
{
  for (size_t i = state->sex.n; i-- > 0;)
    if (core_id_equal (state->sex.v[i].photo, photo) && state->sex.v[i].by_keeper)
      return state->sex.v[i].count;
  return 0;
}

/* "14 November · L5 · 6 plates"; a shed skin shows the stage before its moult. */
static char *
said_of (const WordsView *view, const CoreState *state, const CorePhotoRef *photo)
{
  CoreDay day = photo->taken != CORE_DAY_NONE ? photo->taken : photo->day;
  g_autofree char *said = words_day (view, day, WORDS_DAY_FULL);
  g_autoptr (GString) text = g_string_new (said);
  int plates = counted_on (state, photo->photo);

  if (photo->stage >= 0 && state->moults >= 0)
    {
      int moults = state->moults - ((int) state->stages.n - 1 - photo->stage);
      g_autofree char *stage = words_stage_number (moults, view->scheme);

      if (moults >= 0)
        g_string_append_printf (text, " · %s", stage);
    }
  if (photo->of_shed)
    g_string_append_printf (text, " · %s", C_ ("bench", "shed skin"));
  if (plates > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " · %d plate", " · %d plates", (gulong) plates), plates);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
large_cb (GtkButton *button, CoreId *photo)
{
  AppWindow *window = app_window_of (button);

  if (window != NULL)
    app_window_show_picture (window, *photo);
}

static void
free_photo (gpointer photo, GClosure *closure)
{
  g_free (photo);
}

static GtkWidget *
button_new (const CorePhotoRef *photo, GtkWidget *shown, const char *said)
{
  GtkWidget *button = gtk_button_new ();

  gtk_button_set_child (GTK_BUTTON (button), shown);
  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, C_ ("bench", "View large"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  g_signal_connect_data (button, "clicked", G_CALLBACK (large_cb), g_memdup2 (&photo->entry, sizeof photo->entry),
                         free_photo, 0);
  return button;
}

static void
add_whole (AppEarlier *self, GtkWidget *list, const CorePhotoRef *photo, const char *said)
{
  gtk_box_append (GTK_BOX (list), button_new (photo, app_thumb_new (self->desk, photo->entry, SIDE, said), said));
  app_text (list, said, "caption");
}

/* As high as there is room, so that plate stands beside plate. */
static void
add_straight (AppEarlier *self, GtkWidget *list, const CorePhotoRef *photo, const char *said)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *button = button_new (photo, app_still_strip_new (self->desk, photo->entry, said), said);
  GtkLabel *words = app_text (column, said, "caption");

  gtk_label_set_max_width_chars (words, 12);
  gtk_widget_set_vexpand (button, TRUE);
  gtk_box_append (GTK_BOX (column), button);
  gtk_box_append (GTK_BOX (list), column);
}

static GtkWidget *
empty_new (gboolean straight, guint others)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  app_text (box,
            straight && others > 0
              ? C_ ("bench", "On none of the other pictures base and tip are recorded yet. W shows them whole.")
              : C_ ("bench", "There is no other picture of this animal yet. One at each stage, and the shed skins, "
                             "make a sex firm."),
            "dim");
  return box;
}

static GtkWidget *
list_new (AppEarlier *self, gboolean straight)
{
  const CoreState *state = desk_subject_state (self->subject);
  CoreId own = desk_photo_first (self->desk, self->photo);
  GtkWidget *list = gtk_box_new (straight ? GTK_ORIENTATION_HORIZONTAL : GTK_ORIENTATION_VERTICAL, 6);
  WordsView view = app_view (self->desk);
  guint shown = 0, others = 0;

  for (size_t i = state->photos.n; i-- > 0 && shown < MOST;)
    {
      const CorePhotoRef *other = &state->photos.v[i];
      g_autofree char *said = NULL;

      if (core_id_equal (other->photo, own))
        continue;
      others++;
      if (straight && !desk_strip_known (self->desk, other->entry))
        continue;
      shown++;
      said = said_of (&view, state, other);
      if (straight)
        add_straight (self, list, other, said);
      else
        add_whole (self, list, other, said);
    }
  if (shown > 0)
    return list;
  g_object_ref_sink (list);
  g_object_unref (list);
  return empty_new (straight, others);
}

static void
fill (AppEarlier *self)
{
  gboolean straight = gtk_toggle_button_get_active (self->straight);
  GtkWidget *list = self->subject != NULL ? list_new (self, straight) : NULL;

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), straight ? GTK_POLICY_AUTOMATIC : GTK_POLICY_NEVER,
                                  straight ? GTK_POLICY_NEVER : GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), list);
}

void
app_earlier_set (AppEarlier *self, Desk *desk, DeskSubject *subject, CoreId photo)
{
  g_return_if_fail (APP_IS_EARLIER (self));
  g_set_object (&self->desk, desk);
  g_clear_pointer (&self->subject, desk_subject_unref);
  if (subject != NULL)
    self->subject = desk_subject_ref (subject);
  self->photo = photo;
  fill (self);
}

void
app_earlier_switch (AppEarlier *self)
{
  g_return_if_fail (APP_IS_EARLIER (self));
  gtk_toggle_button_set_active (gtk_toggle_button_get_active (self->straight) ? self->whole : self->straight, TRUE);
}

static void
switched_cb (GtkToggleButton *button, AppEarlier *self)
{
  if (gtk_toggle_button_get_active (button))
    fill (self);
}

/* ---- object ---- */

static void
dispose (GObject *object)
{
  AppEarlier *self = APP_EARLIER (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->subject, desk_subject_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (app_earlier_parent_class)->dispose (object);
}

static void
app_earlier_class_init (AppEarlierClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkToggleButton *
choice_new (AppEarlier *self, GtkWidget *row, const char *label)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label);

  gtk_widget_add_css_class (button, "answer");
  gtk_widget_set_tooltip_text (button, C_ ("bench", "Key W"));
  g_signal_connect_object (button, "toggled", G_CALLBACK (switched_cb), self, 0);
  gtk_box_append (GTK_BOX (row), button);
  return GTK_TOGGLE_BUTTON (button);
}

static void
app_earlier_init (AppEarlier *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *add = gtk_button_new_with_label (C_ ("bench", "Add a picture…"));

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 9);
  gtk_widget_add_css_class (self->box, "bench-column");
  gtk_widget_set_size_request (self->box, WIDTH, -1);
  self->scroller = gtk_scrolled_window_new ();
  gtk_widget_set_vexpand (self->scroller, TRUE);
  app_heading (self->box, C_ ("bench", "Other pictures"));
  self->straight = choice_new (self, row, C_ ("bench", "Straightened"));
  self->whole = choice_new (self, row, C_ ("bench", "Whole"));
  gtk_toggle_button_set_group (self->whole, self->straight);
  gtk_toggle_button_set_active (self->straight, TRUE);
  gtk_box_append (GTK_BOX (self->box), row);
  gtk_box_append (GTK_BOX (self->box), self->scroller);
  gtk_widget_add_css_class (add, "quiet");
  gtk_widget_set_halign (add, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (add, C_ ("bench", "Choose files, drop them on the bench, or Ctrl+V"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (add), "win.attach-pictures");
  gtk_box_append (GTK_BOX (self->box), add);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("bench", "Other pictures"), -1);
}

GtkWidget *
app_earlier_new (void)
{
  return g_object_new (APP_TYPE_EARLIER, NULL);
}
