/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-application.c — options, the one window, keys that work everywhere. */
#include "app/app-application.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "app/app-settings.h"
#include "app/app-window.h"
#include "core/core-date.h"

struct _AppApplication
{
  AdwApplication parent_instance;

  /* From the command line, owned */
  char *journal;
  CoreDay today;
  gboolean exit_after_startup;
  gboolean create;
};

G_DEFINE_FINAL_TYPE (AppApplication, app_application, ADW_TYPE_APPLICATION)

static const GOptionEntry options[] = {
  { "journal", 'j', 0, G_OPTION_ARG_FILENAME, NULL, N_ ("The folder of the journal"), N_ ("FOLDER") },
  { "today", 0, 0, G_OPTION_ARG_STRING, NULL, N_ ("Act as if today were this day"), N_ ("YYYY-MM-DD") },
  { "exit-after-startup", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_NONE, NULL, NULL, NULL },
  { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Print the version"), NULL },
  { NULL },
};

void
app_locale_init (void)
{
  const char *dir = g_getenv ("MANTIDARY_LOCALEDIR");

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, dir != NULL ? dir : MANTIDARY_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}

static void
dark_changed_cb (AdwStyleManager *manager, GParamSpec *pspec, GtkCssProvider *provider)
{
  GdkDisplay *display = gdk_display_get_default ();

  gtk_style_context_remove_provider_for_display (display, GTK_STYLE_PROVIDER (provider));
  if (adw_style_manager_get_dark (manager))
    gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                                GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
}

void
app_style_init (void)
{
  AdwStyleManager *manager = adw_style_manager_get_default ();
  g_autoptr (GtkCssProvider) light = gtk_css_provider_new ();
  g_autoptr (GtkCssProvider) dark = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (light, "/io/github/mantidary/style.css");
  gtk_css_provider_load_from_resource (dark, "/io/github/mantidary/style-dark.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (light),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  g_object_set_data_full (G_OBJECT (manager), "app-dark", g_object_ref (dark), g_object_unref);
  g_signal_connect (manager, "notify::dark", G_CALLBACK (dark_changed_cb), dark);
  dark_changed_cb (manager, NULL, dark);
}

/* Where the program begins: the journal of the last time while it is there, else the usual place. */
static char *
own_journal (void)
{
  g_autofree char *last = app_settings_journal ();

  if (last != NULL && g_file_test (last, G_FILE_TEST_IS_DIR))
    return g_steal_pointer (&last);
  return g_build_filename (g_get_user_data_dir (), "mantidary", "journal", NULL);
}

static int
handle_local_options (GApplication *application, GVariantDict *dict)
{
  AppApplication *self = APP_APPLICATION (application);
  const char *today = NULL;

  if (g_variant_dict_contains (dict, "version"))
    {
      g_print ("Mantidary %s\n", MANTIDARY_VERSION);
      return 0;
    }
  (void) g_variant_dict_lookup (dict, "journal", "^ay", &self->journal);
  self->exit_after_startup = g_variant_dict_contains (dict, "exit-after-startup");
  if (g_variant_dict_lookup (dict, "today", "&s", &today))
    {
      self->today = core_day_from_text (today);
      if (self->today == CORE_DAY_NONE)
        {
          g_printerr (_ ("“%s” is not a day. Write it as YYYY-MM-DD.\n"), today);
          return 2;
        }
    }
  return -1;
}

static void
after_first_frame_cb (GdkFrameClock *clock, GApplication *application)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  /* Started means that the journal is on the screen, or that the window has said why not. */
  if (window == NULL || !app_window_is_opening (APP_WINDOW (window)))
    g_application_quit (application);
}

static void
activate (GApplication *application)
{
  AppApplication *self = APP_APPLICATION (application);
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));
  g_autofree char *dir = NULL;

  if (window != NULL) /* a second start hands over to the first */
    {
      gtk_window_present (window);
      return;
    }
  window = GTK_WINDOW (app_window_new (ADW_APPLICATION (application)));
  dir = self->journal != NULL ? g_strdup (self->journal) : own_journal ();
  gtk_window_present (window);
  if (self->journal != NULL || g_file_test (dir, G_FILE_TEST_IS_DIR))
    app_window_open (APP_WINDOW (window), dir, FALSE, self->today);
  if (self->exit_after_startup)
    g_signal_connect (gtk_widget_get_frame_clock (GTK_WIDGET (window)), "after-paint",
                      G_CALLBACK (after_first_frame_cb), application);
}

static void
startup (GApplication *application)
{
  static const struct { const char *action; const char *keys[3]; } accels[] = {
    { "win.undo", { "<Control>z" } },
    { "win.redo", { "<Control><Shift>z", "<Control>y" } },
    { "win.emergency", { "<Control>e" } },
    { "win.page::shelves", { "<Control>1" } },
    { "win.page::calendar", { "<Control>2" } },
    { "win.add-animal", { "<Control>n" } },
    { "win.round-line", { "<Control>l" } },
    { "win.past", { "<Control>3" } },
    { "win.back", { "<Alt>Left" } },
    { "win.show-help-overlay", { "<Control>question", "F1" } },
    { "window.close", { "<Control>w", "<Control>q" } },
  };

  G_APPLICATION_CLASS (app_application_parent_class)->startup (application);
  app_style_init ();
  for (gsize i = 0; i < G_N_ELEMENTS (accels); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), accels[i].action,
                                           (const char *const *) accels[i].keys);
}

static void
app_application_finalize (GObject *object)
{
  g_free (APP_APPLICATION (object)->journal);
  G_OBJECT_CLASS (app_application_parent_class)->finalize (object);
}

static void
app_application_class_init (AppApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = app_application_finalize;
  application_class->activate = activate;
  application_class->startup = startup;
  application_class->handle_local_options = handle_local_options;
}

static void
app_application_init (AppApplication *self)
{
  self->today = CORE_DAY_NONE;
  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

AppApplication *
app_application_new (void)
{
  return g_object_new (APP_TYPE_APPLICATION, "application-id", APP_ID, NULL);
}
