/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-keys.c — ui/help-overlay.ui, and the letters of a cup from the table that makes its buttons.
 *
 * Made when it is first asked for, so that no start pays for it. GTK lays its groups out in columns and gives the
 * window the size of the largest section, in German wider and higher than many a screen. Here they stand in one
 * column that scrolls, in a window no larger than the one that asked. */
#include "app/app-keys.h"

#include <glib/gi18n.h>

#include "app/app-quick.h"

static void
add_letter (GtkBuilder *builder, GObject *group, const char *accelerator, const char *title)
{
  GtkBuildable *buildable = GTK_BUILDABLE (group);
  GObject *shortcut =
    g_object_new (GTK_TYPE_SHORTCUTS_SHORTCUT, "accelerator", accelerator, "title", title, NULL);

  /* A function of its own only since GTK 4.14; what a .ui file uses works in all. */
  GTK_BUILDABLE_GET_IFACE (buildable)->add_child (buildable, builder, shortcut, NULL);
}

/* Of the buttons of a cup, and of those that "More" shows. */
static void
add_letters (GtkBuilder *builder, const char *name, guint n, gunichar (*key_at) (guint n, char **title))
{
  GObject *group = gtk_builder_get_object (builder, name);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *title = NULL;
      gunichar letter = key_at (i, &title);

      if (letter != 0)
        add_letter (builder, group, gdk_keyval_name (gdk_unicode_to_keyval (letter)), title);
    }
}

/* ---- no larger than the window that asks ---- */

#define WIDTH 720
#define LEAST 640
#define HEIGHT 760

/* Words of a key go on in the next line; the keys themselves do not. */
static void
wrap_words (GtkWidget *at)
{
  if (GTK_IS_SHORTCUT_LABEL (at))
    return;
  /* Of itself a row is as high as one line of words, also where they have less room; nor is it asked anew while
   * all share a width. */
  if (GTK_IS_SHORTCUTS_SHORTCUT (at))
    {
      g_object_set (at, "title-size-group", NULL, NULL);
      gtk_widget_set_layout_manager (at, gtk_bin_layout_new ());
    }
  if (GTK_IS_LABEL (at))
    {
      gtk_label_set_wrap (GTK_LABEL (at), TRUE);
      gtk_label_set_wrap_mode (GTK_LABEL (at), PANGO_WRAP_WORD_CHAR);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (at); child != NULL; child = gtk_widget_get_next_sibling (child))
    wrap_words (child);
}

/* GTK balances two columns of groups whatever room there is: they stand below each other. */
static void
one_column (GtkWidget *at)
{
  GtkWidget *column = gtk_widget_get_first_child (at);
  GtkWidget *group = column != NULL ? gtk_widget_get_first_child (column) : NULL;

  if (GTK_IS_BOX (at) && GTK_IS_BOX (column) && GTK_IS_SHORTCUTS_GROUP (group))
    {
      gtk_orientable_set_orientation (GTK_ORIENTABLE (at), GTK_ORIENTATION_VERTICAL);
      gtk_box_set_homogeneous (GTK_BOX (at), FALSE);
    }
  for (; column != NULL; column = gtk_widget_get_next_sibling (column))
    one_column (column);
}

/* The sections and what is searched for stand in a stack of the window's box. */
static void
let_scroll (GtkWindow *overlay)
{
  GtkWidget *box = gtk_window_get_child (overlay);
  GtkWidget *stack = box != NULL ? gtk_widget_get_first_child (box) : NULL;
  GtkWidget *scroller;

  while (stack != NULL && !GTK_IS_STACK (stack))
    stack = gtk_widget_get_next_sibling (stack);
  if (stack == NULL || !GTK_IS_BOX (box))
    return;
  scroller = gtk_scrolled_window_new ();
  /* The window has no width from what is in it: that takes the width of the window. */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_EXTERNAL, GTK_POLICY_AUTOMATIC);
  gtk_stack_set_vhomogeneous (GTK_STACK (stack), FALSE);
  gtk_stack_set_hhomogeneous (GTK_STACK (stack), FALSE);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_widget_set_size_request (scroller, LEAST, -1);
  gtk_widget_set_focusable (scroller, TRUE); /* so that arrow keys and Page Down scroll it */
  gtk_accessible_update_property (GTK_ACCESSIBLE (scroller), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("keys", "Keys"), -1);
  g_object_ref (stack);
  gtk_box_remove (GTK_BOX (box), stack);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), stack);
  g_object_unref (stack);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (scroller), FALSE); /* that there is more is seen */
  gtk_window_set_focus (overlay, scroller);
  gtk_window_set_resizable (overlay, TRUE);
}

static void
fit (GtkWindow *overlay, GtkWidget *parent)
{
  int width = gtk_widget_get_width (parent), height = gtk_widget_get_height (parent);

  gtk_window_set_default_size (overlay, width > 0 ? MIN (width, WIDTH) : WIDTH, height > 0 ? MIN (height, HEIGHT) : HEIGHT);
}

void
app_keys_show (AppWindow *window, const char *section)
{
  GtkApplicationWindow *parent = GTK_APPLICATION_WINDOW (window);

  g_return_if_fail (APP_IS_WINDOW (window));
  if (gtk_application_window_get_help_overlay (parent) == NULL)
    {
      g_autoptr (GtkBuilder) builder =
        gtk_builder_new_from_resource ("/io/github/mantidary/help-overlay.ui");

      add_letters (builder, "letters", app_quick_n_keys (), app_quick_key_at);
      add_letters (builder, "more-letters", app_quick_n_more_keys (), app_quick_more_key_at);
      gtk_application_window_set_help_overlay (parent, GTK_SHORTCUTS_WINDOW (
                                                         gtk_builder_get_object (builder, "keys")));
      wrap_words (gtk_window_get_child (GTK_WINDOW (gtk_application_window_get_help_overlay (parent))));
      one_column (gtk_window_get_child (GTK_WINDOW (gtk_application_window_get_help_overlay (parent))));
      let_scroll (GTK_WINDOW (gtk_application_window_get_help_overlay (parent)));
    }
  g_object_set (gtk_application_window_get_help_overlay (parent), "section-name", section, NULL);
  fit (GTK_WINDOW (gtk_application_window_get_help_overlay (parent)), GTK_WIDGET (window));
  gtk_window_present (GTK_WINDOW (gtk_application_window_get_help_overlay (parent)));
}
