/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-pictures.c — pictures large and to the whole screen, the gallery, those of a round. */
#include "app/app-window-private.h"

#include "app/app-animal-page.h"
#include "app/app-bench-page.h"
#include "app/app-gallery-page.h"
#include "app/app-picture-page.h"
#include "app/app-pictures-page.h"

static GtkWidget *
page (AppWindow *self, const char *name)
{
  return gtk_stack_get_child_by_name (self->pages, name);
}

void
app_window_show_picture (AppWindow *self, CoreId photo)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_picture_page_open (APP_PICTURE_PAGE (page (self, "picture")), photo);
  app_window_show_page (self, "picture");
}

void
app_window_show_pictures (AppWindow *self, const GArray *photos, guint at)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_picture_page_open_among (APP_PICTURE_PAGE (page (self, "picture")), photos, at);
  app_window_show_page (self, "picture");
}

void
app_window_show_gallery (AppWindow *self, CoreId animal)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_gallery_page_set_animal (APP_GALLERY_PAGE (page (self, "gallery")), animal);
  app_window_show_page (self, "gallery");
}

void
app_window_add_pictures (AppWindow *self, GSList *files)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  app_window_show_page (self, "pictures");
  app_pictures_page_add (APP_PICTURES_PAGE (page (self, "pictures")), files);
}

/* Of the animal whose page is shown, else of all. */
static void
gallery_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  GtkWidget *shown = gtk_stack_get_visible_child (self->pages);
  CoreId animal = { { 0 } };

  if (self->desk == NULL)
    return;
  if (APP_IS_ANIMAL_PAGE (shown))
    animal = app_animal_page_animal (APP_ANIMAL_PAGE (shown));
  app_window_show_gallery (self, animal);
}

static void
pictures_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "pictures");
}

static void
later_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (APP_IS_BENCH_PAGE (gtk_stack_get_visible_child (self->pages)))
    (void) app_pictures_page_leave (APP_PICTURES_PAGE (page (self, "pictures")));
}

static void
fullscreen_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (gtk_window_is_fullscreen (GTK_WINDOW (widget)))
    gtk_window_unfullscreen (GTK_WINDOW (widget));
  else
    gtk_window_fullscreen (GTK_WINDOW (widget));
}

void
_app_window_pictures_class_init (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "win.fullscreen", NULL, fullscreen_cb);
  gtk_widget_class_install_action (klass, "win.gallery", NULL, gallery_cb);
  gtk_widget_class_install_action (klass, "win.pictures", NULL, pictures_cb);
  gtk_widget_class_install_action (klass, "win.photo-later", NULL, later_cb);
}
