/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-attach.c — see app-attach.h. */
#include "app/app-attach.h"

#include <glib/gi18n.h>

#include "app/app-form.h"
#include "app/app-paste.h"
#include "app/app-view.h"
#include "desk/desk-photos.h"

typedef struct
{
  AppWindow *window; /* held */
  CoreId subject;
  GFile *file; /* owned */
  AppAttached attached;
} Attach;

static Attach *
attach_new (AppWindow *window, CoreId subject, GFile *file, AppAttached attached)
{
  Attach *self = g_new0 (Attach, 1);

  self->window = g_object_ref (window);
  self->subject = subject;
  self->file = file != NULL ? g_object_ref (file) : NULL;
  self->attached = attached;
  return self;
}

/* What the clipboard held lies in the journal now, or is not wanted. */
static void
attach_free (gpointer data)
{
  Attach *self = data;

  if (self->file != NULL && app_paste_is_bare (self->file))
    (void) g_file_delete (self->file, NULL, NULL);
  g_clear_object (&self->file);
  g_object_unref (self->window);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Attach, attach_free)

/* ---- what is said ---- */

/* The same picture on two animals is most often a slip: it is said on whom it lies too. */
static char *
twice_text (Desk *desk, CoreId subject, const DeskPhoto *photo)
{
  g_autoptr (DeskSubject) other = core_id_is_none (photo->of) ? NULL : desk_get (desk, photo->of);

  if (other == NULL)
    return g_strdup (C_ ("journal", "Saved. This very picture was in the journal before, and taken off."));
  if (core_id_equal (photo->of, subject))
    return g_strdup (C_ ("journal", "Saved. This very picture was already here. Ctrl+Z takes it back."));
  return g_strdup_printf (C_ ("journal", "Saved. This very picture also lies at %s: of which of them is it? Ctrl+Z takes it back from here."),
                          desk_subject_label (other));
}

/* The day comes from the camera where it says one; the keeper is told, and can correct it. */
static char *
attached_text (Desk *desk, CoreId subject, const DeskPhoto *photo)
{
  WordsView view = app_view (desk);
  g_autofree char *day = NULL;
  g_autofree char *wrong = words_photo_wrong_day (&view, photo->wrong, photo->taken);

  if (photo->duplicate)
    return twice_text (desk, subject, photo);
  if (wrong != NULL)
    /* Translators: a sentence that says which day the camera named, and that it cannot be */
    return g_strdup_printf (C_ ("journal", "%s Saved as of today; that proves no look. Ctrl+Z takes it back."), wrong);
  if (photo->undated || (photo->taken != CORE_DAY_NONE && photo->taken != photo->day))
    return g_strdup (C_ ("journal", "Saved: the picture, as of today; it names no day itself. Ctrl+Z takes it back."));
  day = words_day (&view, photo->day, WORDS_DAY_SHORT);
  return g_strdup_printf (C_ ("journal", "Saved: the picture, as of %s, when it was taken. Ctrl+Z takes it back."), day);
}

/* On the bench Ctrl+Z is of the marks. */
static char *
benched_text (Desk *desk, const DeskPhoto *photo)
{
  WordsView view = app_view (desk);
  g_autofree char *day = words_day (&view, photo->day, WORDS_DAY_SHORT);
  g_autofree char *wrong = words_photo_wrong_day (&view, photo->wrong, photo->taken);

  if (wrong != NULL && !photo->duplicate)
    return g_strdup_printf (C_ ("journal", "%s Saved as of today. It lies on the bench now; the one before keeps its marks."),
                            wrong);
  if (photo->duplicate)
    return g_strdup (C_ ("journal", "This very picture was in the journal already. It lies on the bench now."));
  return g_strdup_printf (C_ ("journal", "Saved: the picture, as of %s. It lies on the bench now; the one before keeps its marks."), day);
}

static char *
tell (const Attach *self, Desk *desk, const DeskPhoto *photo)
{
  return self->attached != NULL && self->attached (self->window, self->subject, photo->photo)
           ? benched_text (desk, photo)
           : attached_text (desk, self->subject, photo);
}

/* ---- a file ---- */

static void
added_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Attach) self = data;
  g_autoptr (GError) error = NULL;
  DeskPhoto photo = { 0 };
  g_autofree char *text = NULL;

  if (!desk_photo_add_finish (DESK_DESK (source), result, &photo, &error))
    {
      app_window_say_error (self->window, error);
      return;
    }
  text = tell (self, DESK_DESK (source), &photo);
  app_window_say (self->window, text);
}

/* ---- a picture without one: when was it taken? ---- */

#define ATTACH "attach"

static void
asked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  const Attach *self = g_object_get_data (G_OBJECT (form), ATTACH);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) added = desk_photos_add_finish (DESK_DESK (source), result, &error);
  const DeskPhotoAdded *one = added != NULL ? &g_array_index (added, DeskPhotoAdded, 0) : NULL;
  g_autofree char *text = NULL;

  if (one == NULL || one->why != NULL)
    {
      app_form_done (form, NULL, one != NULL ? one->why : error);
      return;
    }
  text = tell (self, DESK_DESK (source), &one->photo);
  app_form_done (form, text, NULL);
}

static void
asked_submit (AppForm *form)
{
  const Attach *self = g_object_get_data (G_OBJECT (form), ATTACH);
  DeskPhotoFile file = { .subject = self->subject, .file = self->file, .keeper_says = TRUE };

  if (app_form_get_day (form, "day", &file.day))
    desk_photos_add_async (app_window_get_desk (self->window), &file, 1, NULL, NULL, asked_cb, g_object_ref (form));
}

static void
ask (AppWindow *window, CoreId subject, GFile *file, AppAttached attached)
{
  AppForm *form
    = app_form_new_about (window, subject, C_ ("form title", "Picture of %s"), C_ ("form", "_Save"), asked_submit);

  g_object_set_data_full (G_OBJECT (form), ATTACH, attach_new (window, subject, file, attached), attach_free);
  app_form_day (form, "day", C_ ("form", "_Taken on"), CORE_DAY_NONE);
  app_form_note (form, C_ ("form", "A picture from the clipboard does not say when it was taken. Left empty: nobody "
                                   "knows, and it is no proof that the animal was seen today."));
  app_form_show (form, "pasted");
}

void
app_attach_files (AppWindow *window, CoreId subject, GSList *files, AppAttached attached)
{
  Desk *desk = app_window_get_desk (window);

  g_return_if_fail (desk != NULL);
  for (GSList *l = files; l != NULL; l = l->next)
    if (app_paste_is_bare (l->data))
      ask (window, subject, l->data, attached);
    else
      desk_photo_add_async (desk, subject, l->data, CORE_DAY_NONE, NULL, added_cb,
                            attach_new (window, subject, l->data, attached));
}

/* ---- the clipboard ---- */

static void
pasted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Attach) self = data;
  g_autoptr (GError) error = NULL;
  GSList *files = app_paste_pictures_finish (result, &error);

  if (files == NULL)
    app_window_say (self->window, C_ ("batch", "There is no picture in the clipboard. Copy the files or the picture first."));
  else if (app_window_get_desk (self->window) != NULL)
    app_attach_files (self->window, self->subject, files, self->attached);
  g_slist_free_full (files, g_object_unref);
}

void
app_attach_paste (AppWindow *window, CoreId subject, AppAttached attached)
{
  app_paste_pictures_async (GTK_WIDGET (window), pasted_cb, attach_new (window, subject, NULL, attached));
}
