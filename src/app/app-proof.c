/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-proof.c — see app-proof.h. */
#include "app/app-proof.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "desk/desk-proof.h"

#define ENDING ".png"

typedef struct
{
  AppWindow *window; /* owned */
  DeskProof *proof;  /* owned */
  char *name;        /* of the file, once it is chosen */
} Saving;

static void
saving_free (Saving *self)
{
  g_object_unref (self->window);
  desk_proof_unref (self->proof);
  g_free (self->name);
  g_free (self);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Saving *saving = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DeskProofInfo info;

  if (!desk_proof_write_finish (result, &info, &error))
    app_window_say_error (saving->window, error);
  else if (isfinite (info.px_per_mm))
    /* Translators: the name of a file */
    text = g_strdup_printf (C_ ("proof", "Saved the proof sheet as %s, in true scale."), saving->name);
  else
    /* Translators: the name of a file */
    text = g_strdup_printf (C_ ("proof", "Saved the proof sheet as %s. It has no scale: nothing was measured in the "
                                         "picture, nor the abdomen in this stage."),
                            saving->name);
  if (text != NULL)
    app_window_say (saving->window, text);
  saving_free (saving);
}

/* Who types "sheet.png" over the name alone, with its ending left, means no "sheet.png.png". TRUE: it was
 * so, and nobody was asked whether what has the shorter name may go. */
static gboolean
end_once (char *path)
{
  gsize length = strlen (path), once = strlen (ENDING);

  if (length < 2 * once || g_ascii_strcasecmp (path + length - 2 * once, ENDING ENDING) != 0)
    return FALSE;
  path[length - once] = '\0';
  return TRUE;
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
      gboolean shortened = end_once (path);

      saving->name = g_path_get_basename (path);
      /* The chooser has asked whether a file of the name that was typed may go. */
      desk_proof_write_async (saving->proof, path, !shortened, app_window_cancellable (saving->window), written_cb, saving);
      return;
    }
  if (file != NULL)
    app_window_say (saving->window, C_ ("backups", "The file must lie on this computer or a mounted disk."));
  else
    app_window_say_error (saving->window, error);
  saving_free (saving);
}

/* Takes the sheet; NULL: the error says why there is none. */
static void
ask_where (AppWindow *window, DeskProof *proof, const GError *error)
{
  g_autofree char *name = NULL;
  Saving *saving;

  if (proof == NULL)
    {
      app_window_say_error (window, error);
      return;
    }
  name = desk_proof_file_name (proof);
  saving = g_new (Saving, 1);
  *saving = (Saving){ g_object_ref (window), proof, NULL };
  app_choose_save_async (GTK_WINDOW (window), C_ ("proof", "Save a proof sheet"), name,
                         app_window_cancellable (window), chosen_cb, saving);
}

void
app_proof_save (AppWindow *window, BenchModel *model)
{
  g_autoptr (GError) error = NULL;
  DeskProof *proof = bench_model_proof (model, &error);

  ask_where (window, proof, error);
}

void
app_proof_save_photo (AppWindow *window, CoreId photo)
{
  g_autoptr (GError) error = NULL;
  DeskProof *proof = desk_proof_new (app_window_get_desk (window), photo, &error);

  ask_where (window, proof, error);
}
