/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-application.c — options, the one window, keys that work everywhere.
 *
 * A second start hands its journal and its day to the window of the first. */
#include "app/app-application.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "app/app-frames.h"
#include "app/app-settings.h"
#include "app/app-window.h"
#include "core/core-date.h"

struct _AppApplication
{
  AdwApplication parent_instance;

  gboolean exit_after_startup;
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
  const char *today = NULL;

  if (g_variant_dict_contains (dict, "version"))
    {
      g_print ("Mantidary %s\n", MANTIDARY_VERSION);
      return 0;
    }
  if (g_variant_dict_lookup (dict, "today", "&s", &today) && core_day_from_text (today) == CORE_DAY_NONE)
    {
      g_printerr (_ ("“%s” is not a day. Write it as YYYY-MM-DD.\n"), today);
      return 2;
    }
  if (today != NULL && !core_day_may_be_today (core_day_from_text (today)))
    {
      g_printerr (_ ("%s: the calendar here ends with the year 9999, and a plan looks ahead. Take an earlier day.\n"),
                  today);
      return 2;
    }
  return -1;
}

static AppWindow *
the_window (GtkApplication *application)
{
  for (GList *l = gtk_application_get_windows (application); l != NULL; l = l->next)
    if (APP_IS_WINDOW (l->data))
      return l->data;
  return NULL;
}

static void
after_first_frame_cb (GdkFrameClock *clock, GApplication *application)
{
  AppWindow *window = the_window (GTK_APPLICATION (application));

  /* Started means that the journal is on the screen, or that the window has said why not. */
  if (window == NULL || !app_window_is_opening (window))
    g_application_quit (application);
}

/* journal NULL: that of the last time. */
static void
first_start (AppApplication *self, const char *journal, CoreDay today)
{
  AppWindow *window = app_window_new (ADW_APPLICATION (self));
  g_autofree char *dir = journal != NULL ? g_strdup (journal) : own_journal ();

  gtk_window_present (GTK_WINDOW (window));
  app_frames_keep (GTK_WIDGET (window));
  app_window_ask_today (window, today);
  if (journal != NULL || g_file_test (dir, G_FILE_TEST_IS_DIR))
    app_window_open (window, dir, FALSE, today);
  if (self->exit_after_startup)
    g_signal_connect (gtk_widget_get_frame_clock (GTK_WIDGET (window)), "after-paint",
                      G_CALLBACK (after_first_frame_cb), self);
}

void
app_application_start (AppApplication *self, const char *journal, CoreDay today)
{
  AppWindow *window;

  g_return_if_fail (APP_IS_APPLICATION (self));
  window = the_window (GTK_APPLICATION (self));
  if (window == NULL)
    {
      first_start (self, journal, today);
      return;
    }
  gtk_window_present (GTK_WINDOW (window));
  app_window_hand_over (window, journal, today);
}

static int
command_line (GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *given = g_application_command_line_get_options_dict (line);
  g_autofree char *dir = NULL;
  const char *name = NULL, *day = NULL;
  CoreDay today = CORE_DAY_NONE;

  APP_APPLICATION (application)->exit_after_startup = g_variant_dict_contains (given, "exit-after-startup");
  if (g_variant_dict_lookup (given, "today", "&s", &day))
    today = core_day_from_text (day);
  if (g_variant_dict_lookup (given, "journal", "^&ay", &name))
    {
      /* A relative folder is one of where the second start was typed. */
      g_autoptr (GFile) file = g_application_command_line_create_file_for_arg (line, name);

      dir = g_file_get_path (file);
      if (dir == NULL)
        {
          g_application_command_line_printerr (line, "%s\n",
                                               C_ ("window", "A journal must lie on this computer or a mounted disk."));
          return 1;
        }
    }
  app_application_start (APP_APPLICATION (application), dir, today);
  return 0;
}

static void
activate (GApplication *application)
{
  app_application_start (APP_APPLICATION (application), NULL, CORE_DAY_NONE);
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
    { "win.mark-cups", { "<Control>r" } },
    { "win.round-day", { "F4" } },
    { "win.past", { "<Control>3" } },
    { "win.climate", { "<Control>4" } },
    { "win.profiles", { "<Control>5" } },
    { "win.backups", { "<Control>6" } },
    { "win.cautions", { "<Control>7" } },
    { "win.reading", { "<Control>t" } },
    { "win.search", { "<Control>f" } },
    { "win.print-sheet::shown", { "<Control>p" } },
    { "win.move-in", { "<Control>m" } },
    { "win.gallery", { "<Control>g" } },
    { "win.pictures", { "<Control>b" } },
    { "win.photo-later", { "<Control>j" } },
    { "win.fullscreen", { "F11" } },
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
app_application_class_init (AppApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  application_class->activate = activate;
  application_class->command_line = command_line;
  application_class->startup = startup;
  application_class->handle_local_options = handle_local_options;
}

static void
app_application_init (AppApplication *self)
{
  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

AppApplication *
app_application_new (void)
{
  return g_object_new (APP_TYPE_APPLICATION, "application-id", APP_ID, "flags",
                       G_APPLICATION_HANDLES_COMMAND_LINE, NULL);
}
