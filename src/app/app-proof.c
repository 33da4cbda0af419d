/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-proof.c — see app-proof.h. */
#include "app/app-proof.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-dialogs.h"
#include "desk/desk-proof.h"

typedef struct
{
  AppWindow *window; /* owned */
  DeskProof *proof;  /* owned */
} Saving;

static void
saving_free (Saving *self)
{
  g_object_unref (self->window);
  desk_proof_unref (self->proof);
  g_free (self);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Saving *saving = data;
  g_autoptr (GError) error = NULL;
  DeskProofInfo info;

  if (!desk_proof_write_finish (result, &info, &error))
    app_window_say_error (saving->window, error);
  else if (isfinite (info.px_per_mm))
    app_window_say (saving->window, C_ ("proof", "Saved the proof sheet, in true scale."));
  else
    app_window_say (saving->window, C_ ("proof", "Saved the proof sheet. It has no scale, as the abdomen was not "
                                                 "measured in this stage."));
  saving_free (saving);
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Saving *saving = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (path != NULL)
    {
      /* The chooser has asked whether a file that is there may go. */
      desk_proof_write_async (saving->proof, path, TRUE, app_window_cancellable (saving->window), written_cb, saving);
      return;
    }
  if (file != NULL)
    app_window_say (saving->window, C_ ("backups", "The file must lie on this computer or a mounted disk."));
  else
    app_window_say_error (saving->window, error);
  saving_free (saving);
}

void
app_proof_save (AppWindow *window, BenchModel *model)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskProof) proof = bench_model_proof (model, &error);
  g_autofree char *name = NULL;
  Saving *saving;

  if (proof == NULL)
    {
      app_window_say_error (window, error);
      return;
    }
  name = desk_proof_file_name (proof);
  saving = g_new (Saving, 1);
  *saving = (Saving){ g_object_ref (window), g_steal_pointer (&proof) };
  app_choose_save_async (GTK_WINDOW (window), C_ ("proof", "Save a proof sheet"), name,
                         app_window_cancellable (window), chosen_cb, saving);
}
