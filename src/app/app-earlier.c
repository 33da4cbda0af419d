/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-earlier.c — see app-earlier.h. */
#include "app/app-earlier.h"

#include <glib/gi18n.h>

#include "app/app-thumb.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"

#define SIDE 150
#define MOST 24 /* of an animal; the rest stands on its page */

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

GtkWidget *
app_earlier_new (Desk *desk, DeskSubject *subject, CoreId photo)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  const CoreState *state = desk_subject_state (subject);
  CoreId own = desk_photo_first (desk, photo);
  WordsView view = app_view (desk);
  guint shown = 0;

  app_heading (box, C_ ("bench", "Other pictures"));
  for (size_t i = state->photos.n; i-- > 0 && shown < MOST;)
    {
      const CorePhotoRef *other = &state->photos.v[i];
      g_autofree char *said = NULL;
      GtkWidget *button;

      if (core_id_equal (other->photo, own))
        continue;
      shown++;
      said = said_of (&view, state, other);
      button = gtk_button_new ();
      gtk_button_set_child (GTK_BUTTON (button), app_thumb_new (desk, other->entry, SIDE, said));
      gtk_widget_add_css_class (button, "quiet");
      gtk_widget_set_halign (button, GTK_ALIGN_START);
      gtk_widget_set_tooltip_text (button, C_ ("bench", "View large"));
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
      g_signal_connect_data (button, "clicked", G_CALLBACK (large_cb), g_memdup2 (&other->entry, sizeof other->entry),
                             free_photo, 0);
      gtk_box_append (GTK_BOX (box), button);
      app_text (box, said, "caption");
    }
  if (shown == 0)
    app_text (box, C_ ("bench", "There is no other picture of this animal yet. One at each stage, and the shed skins, "
                                "make a sex firm."),
              "dim");
  return box;
}
