/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-thumb.c — see app-thumb.h. A late result for a widget that is gone is dropped. */
#include "app/app-thumb.h"

#include <glib/gi18n.h>

#include "imaging/img-thumb.h"

struct _AppThumb
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkWidget *picture;
  GtkWidget *words;

  /* Owned */
  GCancellable *cancellable;

  int width, height; /* of its room; 0 = as its words need */
};

G_DEFINE_FINAL_TYPE (AppThumb, app_thumb, GTK_TYPE_WIDGET)

typedef struct
{
  char *path;
  char *hash;
} Job;

static void
job_free (Job *job)
{
  g_free (job->path);
  g_free (job->hash);
  g_free (job);
}

static void
make_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  g_autofree char *cache = img_thumb_cache_dir ();
  g_autofree char *thumb = img_thumb_ensure (cache, job->hash, job->path, IMG_THUMB_SIDE, cancellable, &error);
  GdkTexture *texture = thumb != NULL ? gdk_texture_new_from_filename (thumb, &error) : NULL;

  if (texture != NULL)
    g_task_return_pointer (task, texture, g_object_unref);
  else
    g_task_return_error (task, error);
}

/* Takes the path. */
static void
load (gpointer source, char *path, const char *hash, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (source, cancellable, callback, data);
  Job *job = g_new0 (Job, 1);

  job->path = path;
  job->hash = g_strdup (hash);
  g_task_set_task_data (task, job, (GDestroyNotify) job_free);
  g_task_run_in_thread (task, make_thread);
}

void
app_thumb_load_async (Desk *desk, CoreId photo, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  DeskPhoto info = { 0 };
  char *path = desk_photo_info (desk, photo, &info) ? desk_photo_path (desk, photo) : NULL;

  load (NULL, path != NULL ? path : g_strdup (""), info.hash, cancellable, callback, data);
}

GdkTexture *
app_thumb_load_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

static void
made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  AppThumb *self = APP_THUMB (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkTexture) texture = g_task_propagate_pointer (G_TASK (result), &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->picture == NULL)
    return;
  if (texture == NULL)
    {
      gtk_label_set_label (GTK_LABEL (self->words), C_ ("photo", "This picture cannot be shown."));
      return;
    }
  gtk_widget_set_visible (self->words, FALSE);
  gtk_picture_set_paintable (GTK_PICTURE (self->picture), GDK_PAINTABLE (texture));
}

static void
dispose (GObject *object)
{
  AppThumb *self = APP_THUMB (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_pointer (&self->picture, gtk_widget_unparent);
  g_clear_pointer (&self->words, gtk_widget_unparent);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (app_thumb_parent_class)->dispose (object);
}

/* The room that was asked for, whatever the copy on the disk is large enough for. */
static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
         int *natural_baseline)
{
  AppThumb *self = APP_THUMB (widget);

  *minimum_baseline = *natural_baseline = -1;
  if (self->width > 0)
    *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? self->width : self->height;
  else
    gtk_widget_measure (self->words, orientation, for_size, minimum, natural, NULL, NULL);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      gtk_widget_allocate (child, width, height, baseline, NULL);
}

static void
app_thumb_class_init (AppThumbClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  GTK_WIDGET_CLASS (klass)->measure = measure;
  GTK_WIDGET_CLASS (klass)->size_allocate = size_allocate;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "thumb");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
app_thumb_init (AppThumb *self)
{
  self->cancellable = g_cancellable_new ();
  self->words = gtk_label_new ("…");
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  gtk_label_set_ellipsize (GTK_LABEL (self->words), PANGO_ELLIPSIZE_END);
  gtk_label_set_lines (GTK_LABEL (self->words), 4);
  gtk_widget_add_css_class (self->words, "dim");
  self->picture = gtk_picture_new ();
  gtk_picture_set_content_fit (GTK_PICTURE (self->picture), GTK_CONTENT_FIT_CONTAIN);
  gtk_picture_set_can_shrink (GTK_PICTURE (self->picture), TRUE);
  gtk_widget_set_parent (self->words, GTK_WIDGET (self));
  gtk_widget_set_parent (self->picture, GTK_WIDGET (self));
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_START);
}

/* The room that it takes, before it is there. */
static void
set_room (AppThumb *self, int full_width, int full_height, int side)
{
  int width = side, height = side;

  if (full_width > full_height && full_width > 0)
    height = MAX (16, side * full_height / full_width);
  else if (full_height > 0)
    width = MAX (16, side * full_width / full_height);
  self->width = width;
  self->height = height;
}

static AppThumb *
thumb_new (const char *label)
{
  AppThumb *self = g_object_new (APP_TYPE_THUMB, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return self;
}

GtkWidget *
app_thumb_new (Desk *desk, CoreId photo, int side, const char *label)
{
  AppThumb *self = thumb_new (label);
  DeskPhoto info;

  if (!desk_photo_info (desk, photo, &info))
    {
      gtk_label_set_label (GTK_LABEL (self->words), C_ ("photo", "The file of this picture is missing."));
      return GTK_WIDGET (self);
    }
  set_room (self, info.width, info.height, side);
  load (self, desk_photo_path (desk, photo), info.hash, self->cancellable, made_cb, NULL);
  return GTK_WIDGET (self);
}

GtkWidget *
app_thumb_new_for_file (const char *path, const char *hash, int width, int height, int side, const char *label)
{
  AppThumb *self = thumb_new (label);

  set_room (self, width, height, side);
  load (self, g_strdup (path), hash, self->cancellable, made_cb, NULL);
  return GTK_WIDGET (self);
}
