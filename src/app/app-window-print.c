/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-print.c — sheets, stickers and the emergency card to a printer, or into a PDF by its
 * dialog. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-animal-page.h"
#include "app/app-dialogs.h"
#include "app/app-shelves-page.h"

/* The whole sheet of paper: the margins are the sheet's own. */
static void
begin_cb (GtkPrintOperation *operation, GtkPrintContext *context, DeskSheet *sheet)
{
  desk_sheet_set_size (sheet, gtk_print_context_get_width (context), gtk_print_context_get_height (context));
  gtk_print_operation_set_n_pages (operation, (int) desk_sheet_n_pages (sheet));
}

static void
draw_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, DeskSheet *sheet)
{
  desk_sheet_draw (sheet, (guint) page, gtk_print_context_get_cairo_context (context));
}

static void
done_cb (GtkPrintOperation *operation, GtkPrintOperationResult result, AppWindow *self)
{
  g_autoptr (GError) error = NULL;

  if (result != GTK_PRINT_OPERATION_RESULT_ERROR)
    return;
  gtk_print_operation_get_error (operation, &error);
  app_window_say_error (self, error);
}

static void
sheet_gone_cb (gpointer sheet, GClosure *closure)
{
  desk_sheet_unref (sheet);
}

GtkPrintOperation *
_app_window_print_operation (AppWindow *self, DeskSheet *sheet)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();

  gtk_print_operation_set_job_name (operation, desk_sheet_title (sheet));
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect_data (operation, "begin-print", G_CALLBACK (begin_cb), desk_sheet_ref (sheet), sheet_gone_cb, 0);
  g_signal_connect_data (operation, "draw-page", G_CALLBACK (draw_cb), desk_sheet_ref (sheet), sheet_gone_cb, 0);
  g_signal_connect_object (operation, "done", G_CALLBACK (done_cb), self, 0);
  return operation;
}

/* The toolkit's dialog says "Print" alone, and one sheet looks like the other there. */
static void
name_dialog (AppWindow *self, DeskSheet *sheet)
{
  GListModel *windows = gtk_window_get_toplevels ();
  /* Translators: title of the printer's dialog; what is printed: "Round sheet: Shelf B" */
  g_autofree char *title = g_strdup_printf (C_ ("window", "Print: %s"), desk_sheet_title (sheet));

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (gtk_window_get_transient_for (window) == GTK_WINDOW (self)
          && g_str_equal (G_OBJECT_TYPE_NAME (window), "GtkPrintUnixDialog"))
        gtk_window_set_title (window, title);
    }
}

/* Takes both; without a sheet the error is said. */
static void
print (AppWindow *self, DeskSheet *made, GError *failed)
{
  g_autoptr (DeskSheet) sheet = made;
  g_autoptr (GError) error = failed;
  g_autoptr (GtkPrintOperation) operation = NULL;

  if (sheet == NULL)
    {
      app_window_say_error (self, error);
      return;
    }
  operation = _app_window_print_operation (self, sheet);
  /* What goes wrong later is said by done_cb. */
  (void) gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (self), NULL);
  name_dialog (self, sheet);
}

/* On the page of an animal that on which it stands; else the shelf shown, or shown last. */
static CoreId
place_shown (AppWindow *self)
{
  GtkWidget *page = gtk_stack_get_visible_child (self->pages);
  g_autoptr (DeskSubject) animal = NULL;
  CoreId shelf;

  if (APP_IS_ANIMAL_PAGE (page))
    animal = desk_get (self->desk, app_animal_page_animal (APP_ANIMAL_PAGE (page)));
  if (animal != NULL && desk_subject_shelf (animal, &shelf))
    return shelf;
  return app_shelves_page_place (APP_SHELVES_PAGE (gtk_stack_get_child_by_name (self->pages, "shelves")));
}

static void
sheet_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  gboolean all = g_str_equal (g_variant_get_string (parameter, NULL), "all");
  GError *error = NULL;
  CoreId none = { { 0 } };
  DeskSheet *sheet;

  if (self->desk == NULL)
    return;
  sheet = desk_round_sheet (self->desk, all ? none : place_shown (self), &error);
  print (self, sheet, error);
}

static void
stickers_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  GError *error = NULL;
  DeskSheet *sheet;

  if (self->desk == NULL)
    return;
  sheet = desk_stickers (self->desk, place_shown (self), &error);
  print (self, sheet, error);
}

void
app_window_print_standin (AppWindow *self, CoreDay from, CoreDay to, const char *call, GError **error)
{
  CoreId none = { { 0 } };
  DeskSheet *sheet = desk_standin_sheet (self->desk, none, from, to, call, error);

  if (sheet != NULL)
    print (self, sheet, NULL);
}

static void
standin_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_dialog_standin (APP_WINDOW (widget));
}

static void
card_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  print (APP_WINDOW (widget), desk_emergency_card (), NULL);
}

void
_app_window_print_class_init (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "win.print-sheet", "s", sheet_cb);
  gtk_widget_class_install_action (klass, "win.print-stickers", NULL, stickers_cb);
  gtk_widget_class_install_action (klass, "win.print-standin", NULL, standin_cb);
  gtk_widget_class_install_action (klass, "win.print-emergency", NULL, card_cb);
}
