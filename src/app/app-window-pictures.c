/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-pictures.c — pictures large and to the whole screen, the gallery, those of a round. */
#include "app/app-window-private.h"

#include "app/app-animal-page.h"
#include "app/app-attach.h"
#include "app/app-bench-page.h"
#include "app/app-gallery-page.h"
#include "app/app-dialogs.h"
#include "app/app-paste.h"
#include "app/app-picture-page.h"
#include "app/app-pictures-page.h"
#include "app/app-shelves-page.h"

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

/* ---- pictures that come in, of whoever is shown ---- */

/* On the photo bench the one that came last is looked at, where the keeper is still there. */
static gboolean
attached_cb (AppWindow *self, CoreId subject, CoreId photo)
{
  gboolean bench = APP_IS_BENCH_PAGE (gtk_stack_get_visible_child (self->pages));

  if (bench)
    app_window_show_bench (self, subject, photo);
  return bench;
}

/* Of the bench, the animal's page, the chosen cup; none. */
static CoreId
shown_subject (AppWindow *self)
{
  GtkWidget *shown = gtk_stack_get_visible_child (self->pages);

  if (APP_IS_BENCH_PAGE (shown))
    return app_bench_page_animal (APP_BENCH_PAGE (shown));
  if (APP_IS_ANIMAL_PAGE (shown))
    return app_animal_page_animal (APP_ANIMAL_PAGE (shown));
  if (APP_IS_SHELVES_PAGE (shown))
    return app_shelves_page_chosen (APP_SHELVES_PAGE (shown));
  return (CoreId) { { 0 } };
}

void
app_window_attach_pictures (AppWindow *self, GSList *files)
{
  CoreId subject = shown_subject (self);

  g_return_if_fail (APP_IS_WINDOW (self));
  if (self->desk != NULL && !core_id_is_none (subject))
    app_attach_files (self, subject, files, attached_cb);
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) self = data;
  g_autoptr (GError) error = NULL;
  GSList *files = app_choose_many_finish (result, &error);

  if (error != NULL)
    app_window_say_error (self, error);
  app_window_attach_pictures (self, files);
  g_slist_free_full (files, g_object_unref);
}

static void
attach_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);

  if (self->desk != NULL && !core_id_is_none (shown_subject (self)))
    app_open_pictures_async (GTK_WINDOW (self), app_window_cancellable (self), chosen_cb, g_object_ref (self));
}

/* Without somebody whose they are, they are pictures of a round. */
static void
pasted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) self = data;
  g_autoptr (GError) error = NULL;
  GSList *files = app_paste_pictures_finish (result, &error);

  if (error != NULL)
    app_window_say_error (self, error);
  else if (files != NULL && self->desk != NULL)
    app_window_add_pictures (self, files);
  g_slist_free_full (files, g_object_unref);
}

/* Text goes into the field that has the keys, which comes first. */
static void
paste_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  AppWindow *self = APP_WINDOW (widget);
  CoreId subject = self->desk != NULL ? shown_subject (self) : (CoreId) { { 0 } };

  if (self->desk == NULL)
    return;
  if (!core_id_is_none (subject))
    app_attach_paste (self, subject, attached_cb);
  else if (app_paste_has_pictures (widget))
    app_paste_pictures_async (widget, pasted_cb, g_object_ref (self));
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
  gtk_widget_class_install_action (klass, "win.attach-pictures", NULL, attach_cb);
  gtk_widget_class_install_action (klass, "win.paste-pictures", NULL, paste_cb);
  gtk_widget_class_add_binding_action (klass, GDK_KEY_v, GDK_CONTROL_MASK, "win.paste-pictures", NULL);
}
