/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-decode-run.c — starts mantidary-decode, waits for it, says how it ended.
 *
 * Invariant: img_decode_run() returns only after the process is gone; on
 * cancel and at the end of its time the process is killed first.
 */
#include "imaging/decode/decode-wire.h"
#include "imaging/img-decode-private.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#define DEFAULT_TIMEOUT_MS (20 * 1000)

typedef struct
{
  GSubprocess *process; /* borrowed */
  gboolean done;
  gboolean out_of_time;
} Wait;

char *
img_decode_find_helper (GError **error)
{
  const char *named = g_getenv ("MANTIDARY_DECODE");
  const char *const places[] = { MANTIDARY_DECODE_INSTALLED, MANTIDARY_DECODE_BUILT };

  if (named != NULL && named[0] != '\0')
    return g_strdup (named);
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    if (g_file_test (places[i], G_FILE_TEST_IS_EXECUTABLE))
      return g_strdup (places[i]);
  g_set_error_literal (error, IMG_ERROR, IMG_ERROR_NO_HELPER,
                       "The program part that reads pictures, mantidary-decode, is missing. "
                       "Install Mantidary again.");
  return NULL;
}

static GSubprocess *
start (int fd, int memory_fd, const ImgDecodeOptions *options, GError **error)
{
  g_autoptr (GSubprocessLauncher) launcher = NULL;
  g_autoptr (GError) local = NULL;
  g_autofree char *helper = img_decode_find_helper (error);
  g_autofree char *max_side = g_strdup_printf ("--max-side=%d", MAX (options->max_side, 0));
  g_autofree char *memory = g_strdup_printf ("--memory-mb=%u", options->memory_mb);
  const char *argv[] = { helper, max_side, memory, NULL };
  int in = -1, out = -1;
  GSubprocess *process;

  if (helper == NULL)
    return NULL;
  in = fcntl (fd, F_DUPFD_CLOEXEC, 10);
  out = fcntl (memory_fd, F_DUPFD_CLOEXEC, 10);
  launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE |
                                        G_SUBPROCESS_FLAGS_STDERR_SILENCE);
  if (in >= 0)
    g_subprocess_launcher_take_fd (launcher, in, DECODE_FD_IN);
  if (out >= 0)
    g_subprocess_launcher_take_fd (launcher, out, DECODE_FD_OUT);
  if (in < 0 || out < 0)
    {
      g_set_error (error, IMG_ERROR, IMG_ERROR_FAILED,
                   "The picture could not be passed on (%s). Close other programs and try again.",
                   g_strerror (errno));
      return NULL;
    }
  process = g_subprocess_launcher_spawnv (launcher, argv, &local);
  if (process == NULL)
    g_set_error (error, IMG_ERROR, IMG_ERROR_NO_HELPER,
                 "The program part that reads pictures could not be started (%s). Install "
                 "Mantidary again.",
                 local->message);
  return process;
}

static void
gone_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Wait *wait = data;

  g_subprocess_wait_finish (G_SUBPROCESS (source), result, NULL);
  wait->done = TRUE;
}

static gboolean
out_of_time_cb (gpointer data)
{
  Wait *wait = data;

  wait->out_of_time = TRUE;
  g_subprocess_force_exit (wait->process);
  return G_SOURCE_REMOVE;
}

/* In the canceller's thread; a GSubprocess may be signalled from any. */
static void
cancelled_cb (GCancellable *cancellable, gpointer process)
{
  g_subprocess_force_exit (process);
}

/* Not by a GCancellableSource: one that is destroyed while another thread cancels may stay behind
 * (GLib 2.74; the leak checker found it). */
static void
wait_for (Wait *wait, guint timeout_ms, GCancellable *cancellable)
{
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (GSource) timer = g_timeout_source_new (timeout_ms);
  gulong id = 0;

  g_main_context_push_thread_default (context);
  g_source_set_callback (timer, out_of_time_cb, wait, NULL);
  g_source_attach (timer, context);
  if (cancellable != NULL)
    id = g_cancellable_connect (cancellable, G_CALLBACK (cancelled_cb), wait->process, NULL);
  g_subprocess_wait_async (wait->process, NULL, gone_cb, wait);
  while (!wait->done)
    g_main_context_iteration (context, TRUE);
  g_cancellable_disconnect (cancellable, id);
  g_source_destroy (timer);
  g_main_context_pop_thread_default (context);
}

typedef struct
{
  int status;
  ImgError code;
  const char *message;
} Meaning;

static const Meaning meanings[] = {
  { DECODE_EXIT_NOT_A_PICTURE, IMG_ERROR_NOT_A_PICTURE,
    "This file is not a JPEG, PNG, HEIC, WebP or TIFF picture, whatever its name says. Choose "
    "the picture itself." },
  { DECODE_EXIT_TOO_LARGE, IMG_ERROR_TOO_LARGE,
    "This picture is larger than 200 megapixels or needs more memory than there is. Save a "
    "smaller copy and add that." },
  { DECODE_EXIT_DAMAGED, IMG_ERROR_DAMAGED,
    "This picture is damaged or breaks off. Copy it from the camera again." },
  { DECODE_EXIT_EMPTY, IMG_ERROR_EMPTY,
    "This file is empty. Copy the picture from the camera again." },
  { DECODE_EXIT_UNREADABLE, IMG_ERROR_UNREADABLE,
    "This file cannot be read. Check that it is a picture file and that you may open it." },
  { DECODE_EXIT_NO_LOADER + DECODE_FORMAT_HEIC, IMG_ERROR_UNSUPPORTED,
    "HEIC pictures need the package heif-gdk-pixbuf. Install it, or save the picture as JPEG." },
  { DECODE_EXIT_NO_LOADER + DECODE_FORMAT_WEBP, IMG_ERROR_UNSUPPORTED,
    "WebP pictures need the package webp-pixbuf-loader. Install it, or save the picture as "
    "JPEG." },
  { DECODE_EXIT_NO_LOADER + DECODE_FORMAT_TIFF, IMG_ERROR_UNSUPPORTED,
    "TIFF pictures cannot be read on this machine. Save the picture as JPEG or PNG." },
  { DECODE_EXIT_NO_LOADER + DECODE_FORMAT_JPEG, IMG_ERROR_UNSUPPORTED,
    "JPEG pictures cannot be read on this machine: its gdk-pixbuf is incomplete. Install "
    "libgdk-pixbuf-2.0-0 again." },
  { DECODE_EXIT_NO_LOADER + DECODE_FORMAT_PNG, IMG_ERROR_UNSUPPORTED,
    "PNG pictures cannot be read on this machine: its gdk-pixbuf is incomplete. Install "
    "libgdk-pixbuf-2.0-0 again." },
};

static gboolean
report (GSubprocess *process, const Wait *wait, GError **error)
{
  if (wait->out_of_time ||
      (g_subprocess_get_if_signaled (process) && g_subprocess_get_term_sig (process) == SIGXCPU))
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_HELPER_DIED,
                           "Reading this picture took too long and was ended. Nothing was added. "
                           "Try again when the computer is less busy, or save a smaller copy and "
                           "add that.");
      return FALSE;
    }
  if (!g_subprocess_get_if_exited (process))
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_HELPER_DIED,
                           "The program part that reads pictures stopped at this one. The picture "
                           "may be damaged: save it again from a picture viewer and add that.");
      return FALSE;
    }
  if (g_subprocess_get_exit_status (process) == DECODE_EXIT_OK)
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (meanings); i++)
    if (meanings[i].status == g_subprocess_get_exit_status (process))
      {
        g_set_error_literal (error, IMG_ERROR, (int) meanings[i].code, meanings[i].message);
        return FALSE;
      }
  g_set_error (error, IMG_ERROR, IMG_ERROR_HELPER_DIED,
               "The program part that reads pictures ended with status %d. Save the picture again "
               "from a picture viewer and add that.",
               g_subprocess_get_exit_status (process));
  return FALSE;
}

gboolean
img_decode_run (int fd,
                int memory_fd,
                const ImgDecodeOptions *options,
                GCancellable *cancellable,
                GError **error)
{
  g_autoptr (GSubprocess) process = NULL;
  Wait wait = { 0 };

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  process = start (fd, memory_fd, options, error);
  if (process == NULL)
    return FALSE;
  wait.process = process;
  wait_for (&wait, options->timeout_ms > 0 ? options->timeout_ms : DEFAULT_TIMEOUT_MS, cancellable);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  return report (process, &wait, error);
}
