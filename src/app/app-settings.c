/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-settings.c — see app-settings.h. */
#include "app/app-settings.h"

#include <adwaita.h>

#include "app/app-application.h"

GSettings *
app_settings (void)
{
  static gsize once;
  static GSettings *settings;

  if (g_once_init_enter (&once))
    {
      GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
      GSettingsSchema *schema = source != NULL ? g_settings_schema_source_lookup (source, APP_ID, TRUE) : NULL;

      if (schema == NULL) /* not installed: the one beside the build */
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (GSettingsSchemaSource) build
            = g_settings_schema_source_new_from_directory (MANTIDARY_BUILD_SCHEMAS, source, TRUE, &error);

          if (build != NULL)
            schema = g_settings_schema_source_lookup (build, APP_ID, FALSE);
        }
      if (schema != NULL)
        {
          settings = g_settings_new_full (schema, NULL, NULL);
          g_settings_schema_unref (schema);
        }
      g_once_init_leave (&once, 1);
    }
  return settings;
}

static void
apply_appearance (const char *name)
{
  AdwColorScheme scheme = g_strcmp0 (name, "light") == 0  ? ADW_COLOR_SCHEME_FORCE_LIGHT
                          : g_strcmp0 (name, "dark") == 0 ? ADW_COLOR_SCHEME_FORCE_DARK
                                                          : ADW_COLOR_SCHEME_DEFAULT;

  adw_style_manager_set_color_scheme (adw_style_manager_get_default (), scheme);
}

static void
appearance_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  const char *name = g_variant_get_string (state, NULL);

  apply_appearance (name);
  g_simple_action_set_state (action, state);
  if (app_settings () != NULL)
    (void) g_settings_set_string (app_settings (), "appearance", name);
}

void
app_settings_bind_window (GtkApplicationWindow *window)
{
  GSettings *settings = app_settings ();
  g_autofree char *appearance = settings != NULL ? g_settings_get_string (settings, "appearance") : g_strdup ("system");
  g_autoptr (GSimpleAction) action
    = g_simple_action_new_stateful ("appearance", G_VARIANT_TYPE_STRING, g_variant_new_string (appearance));

  g_signal_connect (action, "change-state", G_CALLBACK (appearance_cb), NULL);
  g_action_map_add_action (G_ACTION_MAP (window), G_ACTION (action));
  apply_appearance (appearance);
  if (settings == NULL)
    return;
  gtk_window_set_default_size (GTK_WINDOW (window), g_settings_get_int (settings, "window-width"),
                               g_settings_get_int (settings, "window-height"));
  g_settings_bind (settings, "window-width", window, "default-width", G_SETTINGS_BIND_SET);
  g_settings_bind (settings, "window-height", window, "default-height", G_SETTINGS_BIND_SET);
}

char *
app_settings_journal (void)
{
  g_autofree char *dir = app_settings () != NULL ? g_settings_get_string (app_settings (), "journal") : NULL;

  return dir != NULL && dir[0] != '\0' ? g_steal_pointer (&dir) : NULL;
}

void
app_settings_set_journal (const char *dir)
{
  if (app_settings () != NULL)
    (void) g_settings_set_string (app_settings (), "journal", dir != NULL ? dir : "");
}
