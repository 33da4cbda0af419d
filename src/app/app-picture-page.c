/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-picture-page.c — see app-picture-page.h. A late picture for another photo is dropped. */
#include "app/app-picture-page.h"

#include <glib/gi18n.h>

#include "app/app-canvas.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "imaging/img-decode.h"

struct _AppPicturePage
{
  AppDeskPage parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkLabel *title;
  GtkLabel *words;
  GtkStack *stack;
  AppCanvas *canvas;

  /* Owned */
  GCancellable *cancellable;

  CoreId photo; /* none = nothing is open */
};

G_DEFINE_FINAL_TYPE (AppPicturePage, app_picture_page, APP_TYPE_DESK_PAGE)

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturePage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = img_decode_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->box == NULL)
    return;
  if (picture == NULL)
    {
      g_autofree char *text = app_error_text (error);

      gtk_label_set_label (self->words, text);
      return;
    }
  app_canvas_set_pixels (self->canvas, picture->pixels);
  gtk_stack_set_visible_child_name (self->stack, "canvas");
  gtk_widget_grab_focus (GTK_WIDGET (self->canvas));
}

static void
clear (AppPicturePage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->canvas != NULL)
    app_canvas_set_pixels (self->canvas, NULL);
}

static char *
title_of (AppPicturePage *self, CoreId photo, const DeskPhoto *info)
{
  const CoreEntry *entry = desk_entry (app_desk_page_desk (self), photo);
  g_autoptr (DeskSubject) subject = entry != NULL ? desk_get (app_desk_page_desk (self), entry->subject) : NULL;
  WordsView view = app_view (app_desk_page_desk (self));
  CoreDay taken = info->taken != CORE_DAY_NONE ? info->taken
                  : entry != NULL              ? entry->day
                                               : CORE_DAY_NONE;
  g_autofree char *day = NULL;

  if (subject == NULL || taken == CORE_DAY_NONE)
    return g_strdup (C_ ("picture", "Picture"));
  day = words_day (&view, taken, WORDS_DAY_FULL);
  /* Translators: number of the animal, its species, a day */
  return g_strdup_printf (C_ ("picture", "%s, %s · picture of %s"), desk_subject_label (subject),
                          app_species_name (subject), day);
}

void
app_picture_page_open (AppPicturePage *self, CoreId photo)
{
  DeskPhoto info;
  g_autofree char *path = NULL;
  g_autofree char *title = NULL;
  g_autoptr (GFile) file = NULL;

  g_return_if_fail (APP_IS_PICTURE_PAGE (self));
  clear (self);
  self->photo = photo;
  gtk_stack_set_visible_child_name (self->stack, "words");
  gtk_label_set_label (self->words, C_ ("picture", "Reading the picture…"));
  gtk_label_set_label (self->title, C_ ("picture", "Picture"));
  if (app_desk_page_desk (self) == NULL || !desk_photo_info (app_desk_page_desk (self), photo, &info) ||
      (path = desk_photo_path (app_desk_page_desk (self), photo)) == NULL)
    {
      gtk_label_set_label (self->words,
                           C_ ("picture", "The file of this picture is missing. Attach it once "
                                          "more, or restore a backup."));
      return;
    }
  title = title_of (self, photo, &info);
  gtk_label_set_label (self->title, title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  title, -1);
  file = g_file_new_for_path (path);
  self->cancellable = g_cancellable_new ();
  img_decode_async (file, NULL, self->cancellable, decoded_cb, g_object_ref (self));
}

static void
desk_set (AppDeskPage *page)
{
  AppPicturePage *self = APP_PICTURE_PAGE (page);

  self->photo = (CoreId){ 0 };
  clear (self);
}

/* A picture of a dozen megapixels is not kept while nobody looks at it. */
static void
hidden_cb (AppPicturePage *self)
{
  clear (self);
}

/* Back from another page. */
static void
shown_cb (AppPicturePage *self)
{
  int width, height;

  if (!core_id_is_none (self->photo) && self->cancellable == NULL &&
      !app_canvas_size (self->canvas, &width, &height))
    app_picture_page_open (self, self->photo);
}

static void
app_picture_page_dispose (GObject *object)
{
  AppPicturePage *self = APP_PICTURE_PAGE (object);

  self->box = NULL; /* gone with its parent */
  self->canvas = NULL;
  clear (self);
  G_OBJECT_CLASS (app_picture_page_parent_class)->dispose (object);
}

static void
app_picture_page_class_init (AppPicturePageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_picture_page_dispose;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
}

static void
app_picture_page_init (AppPicturePage *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->title = app_text (self->box, NULL, "bench-title");
  self->stack = GTK_STACK (gtk_stack_new ());
  self->canvas = APP_CANVAS (app_canvas_new ());
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (words, GTK_ALIGN_CENTER);
  self->words = app_text (words, NULL, "sentence");
  gtk_label_set_max_width_chars (self->words, 60);
  gtk_stack_add_named (self->stack, words, "words");
  gtk_stack_add_named (self->stack, GTK_WIDGET (self->canvas), "canvas");
  gtk_widget_set_vexpand (GTK_WIDGET (self->stack), TRUE);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->stack));
  app_text (self->box,
            C_ ("picture", "Scroll, + and − zoom · drag or arrows move · 0 shows it whole · Esc "
                           "goes back"),
            "bench-keys");
  g_signal_connect (self, "map", G_CALLBACK (shown_cb), NULL);
  g_signal_connect (self, "unmap", G_CALLBACK (hidden_cb), NULL);
}

GtkWidget *
app_picture_page_new (void)
{
  return g_object_new (APP_TYPE_PICTURE_PAGE, NULL);
}
