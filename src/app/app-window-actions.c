/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-actions.c — what menu and keys do: undo in words, pages, about. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-animal-page.h"
#include "app/app-bench-page.h"
#include "app/app-climate-page.h"
#include "app/app-dialogs.h"
#include "app/app-help.h"
#include "app/app-keys.h"
#include "app/app-measure-page.h"
#include "app/app-move-in-page.h"
#include "app/app-shelves-page.h"
#include "app/app-view.h"

static void
undone_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskChange) change = desk_undo_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = NULL;

  if (change == NULL)
    {
      app_window_say_error (self, error);
      return;
    }
  text = app_change_text (DESK_DESK (source), change);
  app_window_say (self, text);
}

/* While something is typed, Ctrl+Z is the text's own; in an empty field it is the journal's. */
static gboolean
undo_in_text (AppWindow *self, const char *action)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  if (focus == NULL || !GTK_IS_EDITABLE (focus) || gtk_editable_get_text (GTK_EDITABLE (focus))[0] == '\0')
    return FALSE;
  (void) gtk_widget_activate_action (focus, g_str_equal (action, "win.undo") ? "text.undo" : "text.redo", NULL);
  return TRUE;
}

static void
undo_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk == NULL || undo_in_text (self, action))
    return;
  if (app_bench_page_undo (gtk_stack_get_visible_child (self->pages), g_str_equal (action, "win.redo"))
      || app_measure_page_undo (gtk_stack_get_visible_child (self->pages), g_str_equal (action, "win.redo")))
    return;
  if (g_str_equal (action, "win.undo"))
    desk_undo_async (self->desk, undone_cb, g_object_ref (self));
  else
    desk_redo_async (self->desk, undone_cb, g_object_ref (self));
}

static GtkWidget *
page (AppWindow *self, const char *name)
{
  return gtk_stack_get_child_by_name (self->pages, name);
}

static void
page_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

static void
move_in_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "move-in");
}

static void
past_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "past");
}

/* Of the shelf that is shown, where one is. */
static void
climate_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  CoreId place = self->desk != NULL ? app_shelves_page_place (APP_SHELVES_PAGE (page (self, "shelves")))
                                    : (CoreId){ { 0 } };

  if (self->desk == NULL)
    return;
  if (g_str_equal (action, "win.reading") && !core_id_is_none (place))
    {
      app_dialog_reading (self, place);
      return;
    }
  app_climate_page_show_place (APP_CLIMATE_PAGE (page (self, "climate")), place);
  app_window_show_page (self, "climate");
}

static void
search_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk == NULL)
    return;
  app_window_show_page (self, "search");
  gtk_widget_grab_focus (gtk_stack_get_child_by_name (self->pages, "search")); /* also where it is shown already */
}

static void
emergency_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  app_window_show_page (APP_WINDOW (widget), "emergency");
}

static void
cautions_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  app_window_show_page (APP_WINDOW (widget), "cautions");
}

static void
profiles_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "profiles");
}

static void
back_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  app_window_go_back (APP_WINDOW (widget));
}

static void
round_line_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk == NULL)
    return;
  app_window_show_page (self, "shelves");
  app_shelves_page_focus_line (APP_SHELVES_PAGE (page (self, "shelves")));
}

/* From another page it goes to the shelves and begins there. */
static void
mark_cups_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk == NULL)
    return;
  /* One key for many at once: there, a value for a range of rows. */
  if (APP_IS_MOVE_IN_PAGE (gtk_stack_get_visible_child (self->pages)))
    {
      app_move_in_page_focus_range (APP_MOVE_IN_PAGE (page (self, "move-in")));
      return;
    }
  app_window_show_page (self, "shelves");
  app_shelves_page_mark_cups (APP_SHELVES_PAGE (page (self, "shelves")));
}

static void
round_day_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  gboolean shelves = APP_IS_SHELVES_PAGE (gtk_stack_get_visible_child (self->pages));

  /* Elsewhere nobody sees of which day the line is: it asks. */
  if (self->desk != NULL && !(shelves && app_shelves_page_swap_day (APP_SHELVES_PAGE (page (self, "shelves")))))
    app_dialog_past_round (self);
}

static void
past_round_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_dialog_past_round (APP_WINDOW (widget));
}

void
app_window_past_round (AppWindow *self, CoreDay day, const char *seen_by)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_shelves_page_set_past (APP_SHELVES_PAGE (page (self, "shelves")), day, seen_by);
  app_window_show_page (self, "shelves");
  app_shelves_page_focus_line (APP_SHELVES_PAGE (page (self, "shelves")));
}

void
app_window_show_animal (AppWindow *self, CoreId animal)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_animal_page_set_animal (APP_ANIMAL_PAGE (page (self, "animal")), animal);
  app_window_show_page (self, "animal");
}

void
app_window_show_shelf (AppWindow *self, CoreId place)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_window_show_page (self, "shelves");
  app_shelves_page_show_place (APP_SHELVES_PAGE (page (self, "shelves")), place);
}

void
app_window_show_bench (AppWindow *self, CoreId animal, CoreId photo)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  /* "Saved … Ctrl+Z takes it back": on the bench that key is of the marks. */
  gtk_widget_activate_action (GTK_WIDGET (self), "win.hush", NULL);
  app_bench_page_open (APP_BENCH_PAGE (page (self, "bench")), animal, photo);
  app_window_show_page (self, "bench");
}

void
app_window_show_measure (AppWindow *self, CoreId animal, CoreId photo)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_measure_page_open (APP_MEASURE_PAGE (page (self, "measure")), animal, photo);
  app_window_show_page (self, "measure");
}

/* Digits mean a cup where cups or animals are shown; not on the bench, where they are answers. */
gboolean
_app_window_jump_wanted (AppWindow *self)
{
  const char *name = gtk_stack_get_visible_child_name (self->pages);

  if (g_str_equal (name, "shelves") && app_shelves_page_wants_digit (APP_SHELVES_PAGE (page (self, "shelves"))))
    return FALSE;
  return self->desk != NULL && !g_str_equal (name, "bench") && !g_str_equal (name, "measure") && !g_str_equal (name, "welcome")
         && !g_str_equal (name, "move-in");
}

gboolean
_app_window_code_wanted (AppWindow *self)
{
  return _app_window_jump_wanted (self)
         && !(g_str_equal (gtk_stack_get_visible_child_name (self->pages), "shelves")
              && app_shelves_page_is_marking (APP_SHELVES_PAGE (page (self, "shelves"))));
}

void
app_window_go_to (AppWindow *self, DeskSubject *subject)
{
  const char *name = gtk_stack_get_visible_child_name (self->pages);

  if (g_str_equal (name, "shelves") && desk_subject_living (subject)
      && app_shelves_page_show_animal (APP_SHELVES_PAGE (page (self, "shelves")), subject))
    return;
  if (desk_subject_kind (subject) == CORE_SUBJECT_PLACE)
    app_window_show_shelf (self, desk_subject_id (subject));
  else if (g_str_equal (name, "animal"))
    app_animal_page_set_animal (APP_ANIMAL_PAGE (page (self, "animal")), desk_subject_id (subject));
  else
    app_window_show_animal (self, desk_subject_id (subject));
}

void
app_window_choose (AppWindow *self, DeskSubject *subject)
{
  GtkWidget *shown = gtk_stack_get_visible_child (self->pages);

  g_return_if_fail (APP_IS_WINDOW (self));
  if (APP_IS_SHELVES_PAGE (shown))
    (void) app_shelves_page_show_animal (APP_SHELVES_PAGE (shown), subject);
}

gboolean
_app_window_letter (AppWindow *self, guint keyval)
{
  GtkWidget *shown = gtk_stack_get_visible_child (self->pages);

  if (APP_IS_SHELVES_PAGE (shown))
    return app_shelves_page_key (APP_SHELVES_PAGE (shown), keyval);
  if (APP_IS_ANIMAL_PAGE (shown))
    return app_animal_page_key (APP_ANIMAL_PAGE (shown), keyval);
  return FALSE;
}

static void
add_animal_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk != NULL)
    app_dialog_add_animal (self, app_shelves_page_place (APP_SHELVES_PAGE (page (self, "shelves"))));
}

typedef void (*AddDialog) (AppWindow *window, CoreId place);

static void
add_other_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  AddDialog dialog = g_str_equal (action, "win.add-lot")       ? app_dialog_add_lot
                     : g_str_equal (action, "win.add-eggcase") ? app_dialog_add_eggcase
                                                               : app_dialog_add_culture;

  if (self->desk != NULL)
    dialog (self, app_shelves_page_place (APP_SHELVES_PAGE (page (self, "shelves"))));
}

static void
add_place_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk != NULL)
    app_dialog_add_place (self);
}

static void
edit_place_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  CoreId place = app_shelves_page_place (APP_SHELVES_PAGE (page (self, "shelves")));

  if (self->desk == NULL)
    return;
  if (core_id_is_none (place))
    app_dialog_add_place (self);
  else
    app_dialog_edit_place (self, place);
}

static void
about_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  app_help_about (APP_WINDOW (widget));
}

static void
keys_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  static const char *const of_animal[] = { "animal", "bench", "measure", NULL };
  const char *name = gtk_stack_get_visible_child_name (APP_WINDOW (widget)->pages);

  app_keys_show (APP_WINDOW (widget), g_strv_contains (of_animal, name)  ? "animal"
                                      : g_str_equal (name, "move-in") ? "move-in"
                                                                      : "pages");
}

void
_app_window_actions_update (AppWindow *self)
{
  static const char *const need_desk[] = { "win.undo", "win.redo", "win.page", "win.past", "win.round-line",
                                           "win.add-animal", "win.add-place", "win.add-lot",
                                           "win.add-eggcase", "win.add-culture", "win.move-in",
                                           "win.edit-place", "win.print-sheet", "win.print-stickers",
                                           "win.print-standin", "win.past-round",
                                           "win.backups", "win.backup-file", "win.merge", "win.search",
                                           "win.climate", "win.reading", "win.gallery", "win.pictures" };

  for (gsize i = 0; i < G_N_ELEMENTS (need_desk); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), need_desk[i], self->desk != NULL);
}

void
_app_window_actions_class_init (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "win.undo", NULL, undo_cb);
  gtk_widget_class_install_action (klass, "win.redo", NULL, undo_cb);
  gtk_widget_class_install_action (klass, "win.page", "s", page_cb);
  gtk_widget_class_install_action (klass, "win.past", NULL, past_cb);
  gtk_widget_class_install_action (klass, "win.climate", NULL, climate_cb);
  gtk_widget_class_install_action (klass, "win.reading", NULL, climate_cb);
  gtk_widget_class_install_action (klass, "win.move-in", NULL, move_in_cb);
  gtk_widget_class_install_action (klass, "win.search", NULL, search_cb);
  gtk_widget_class_install_action (klass, "win.emergency", NULL, emergency_cb);
  gtk_widget_class_install_action (klass, "win.cautions", NULL, cautions_cb);
  gtk_widget_class_install_action (klass, "win.profiles", NULL, profiles_cb);
  gtk_widget_class_install_action (klass, "win.back", NULL, back_cb);
  gtk_widget_class_install_action (klass, "win.round-line", NULL, round_line_cb);
  gtk_widget_class_install_action (klass, "win.mark-cups", NULL, mark_cups_cb);
  gtk_widget_class_install_action (klass, "win.round-day", NULL, round_day_cb);
  gtk_widget_class_install_action (klass, "win.past-round", NULL, past_round_cb);
  gtk_widget_class_install_action (klass, "win.add-animal", NULL, add_animal_cb);
  gtk_widget_class_install_action (klass, "win.add-lot", NULL, add_other_cb);
  gtk_widget_class_install_action (klass, "win.add-eggcase", NULL, add_other_cb);
  gtk_widget_class_install_action (klass, "win.add-culture", NULL, add_other_cb);
  gtk_widget_class_install_action (klass, "win.add-place", NULL, add_place_cb);
  gtk_widget_class_install_action (klass, "win.edit-place", NULL, edit_place_cb);
  gtk_widget_class_install_action (klass, "win.about", NULL, about_cb);
  gtk_widget_class_install_action (klass, "win.show-help-overlay", NULL, keys_cb);
  _app_window_pictures_class_init (klass);
  _app_window_journal_class_init (klass);
  _app_window_print_class_init (klass);
  _app_window_backup_class_init (klass);
}
