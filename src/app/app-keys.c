/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-keys.c — ui/help-overlay.ui, and the letters of a cup from the table that makes its buttons.
 *
 * Made when it is first asked for, so that no start pays for it. */
#include "app/app-keys.h"

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
    }
  g_object_set (gtk_application_window_get_help_overlay (parent), "section-name", section, NULL);
  gtk_window_present (GTK_WINDOW (gtk_application_window_get_help_overlay (parent)));
}
