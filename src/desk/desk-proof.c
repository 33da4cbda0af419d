/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-proof.c — gathers what a proof sheet says, then writes it away from the main thread. */
#include "desk/desk-proof-private.h"

#include <math.h>

#include "desk/desk-identity.h"
#include "desk/desk-photos.h"
#include "desk/desk-private.h"
#include "exchange/exch-file.h"
#include "imaging/img-decode.h"

/* A large JPEG on a slow machine; whoever asked can cancel. */
#define DECODE_MS 60000
#define SHORTEST_RULER 16 /* pixels */
#define LONGEST_MM 1000
#define NO_STAGE -2

static void
proof_clear (gpointer data)
{
  DeskProof *self = data;

  g_free (self->path);
  g_free (self->file_name);
  g_free (self->title);
  g_free (self->species);
  g_free (self->stage);
  g_free (self->verdict);
  g_free (self->made);
  g_strfreev (self->evidence);
}

void
desk_proof_unref (DeskProof *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, proof_clear);
}

gboolean
desk_proof_set_ruler (DeskProof *self, CorePoint a, CorePoint b, double mm)
{
  double px = hypot (b.x - a.x, b.y - a.y);

  if (!(px >= SHORTEST_RULER) || !isfinite (px) || !(mm > 0) || mm > LONGEST_MM)
    return FALSE;
  self->ruler_px = px;
  self->ruler_mm = mm;
  self->ruler_share = NAN;
  return TRUE;
}

char *
desk_proof_file_name (const DeskProof *self)
{
  return g_strdup (self->file_name);
}

/* ---- gathering ---- */

static const CorePhotoRef *
photo_of (const CoreState *state, CoreId photo)
{
  for (gsize i = 0; i < state->photos.n; i++)
    if (core_id_equal (state->photos.v[i].photo, photo))
      return &state->photos.v[i];
  return NULL;
}

static void
take_marks (DeskProof *self, const CoreEntry *marks)
{
  double at[BENCH_MAX_BOUNDARIES];
  gsize n = core_entry_list (marks, CORE_KEY_AXIS, self->axis, G_N_ELEMENTS (self->axis));

  self->n_marks = (int) (n / 2);
  self->n_lines = (int) core_entry_list (marks, CORE_KEY_BOUNDS, at, G_N_ELEMENTS (at));
  for (int i = 0; i < self->n_lines; i++)
    self->lines[i] = (ProofLine){ at[i], 0 };
  self->by_keeper = core_entry_code (marks, CORE_KEY_BY, CORE_BY_PROGRAM) == CORE_BY_KEEPER;
  self->axis_open = core_entry_code (marks, CORE_KEY_AXIS_BY, CORE_BY_KEEPER) == CORE_BY_PROGRAM;
  self->small_plate = core_entry_code (marks, CORE_KEY_SMALL_PLATE, -1);
}

/* The abdomen in the stage that the picture shows, measured as near to that day as there is. */
static void
take_measure (DeskProof *self, const CoreState *state, const CorePhotoRef *photo, CoreDay day)
{
  const CoreMeasure *best = photo != NULL ? desk_photo_abdomen (state, photo->stage, day) : NULL;

  self->mm = self->mm_sd = NAN;
  if (best == NULL)
    return;
  self->mm = best->mm;
  self->mm_sd = best->sd;
  self->mm_day = best->day;
}

/* What was measured in the picture itself, where something was. */
static void
take_scale (DeskProof *self, const ProofSource *from)
{
  const CoreEntry *by;
  CoreScale scale;

  self->ruler_px = self->ruler_mm = self->ruler_share = NAN;
  if (!desk_photo_scale (from->desk, from->photo, &scale, &by))
    return;
  self->ruler_mm = core_entry_num (by, CORE_KEY_MM, NAN);
  self->ruler_px = self->ruler_mm / scale.mm_per_px;
  self->ruler_share = scale.share_sd;
}

static GStrv
evidence_of (const WordsView *view, const CoreSexVerdict *verdict, CoreId photo)
{
  g_autoptr (GPtrArray) said = g_ptr_array_new ();

  for (int mine = 1; mine >= 0; mine--)
    for (gsize i = 0; i < verdict->n; i++)
      if (core_id_equal (verdict->evidence[i].photo, photo) == (mine == 1))
        g_ptr_array_add (said, words_evidence (view, &verdict->evidence[i]));
  g_ptr_array_add (said, NULL);
  return (GStrv) g_ptr_array_free (g_steal_pointer (&said), FALSE);
}

static void
take_words (DeskProof *self, const ProofSource *from, const CorePhotoRef *photo)
{
  const CoreState *state = desk_subject_state (from->subject);
  gboolean shed = core_entry_code (from->marks, CORE_KEY_OF, CORE_OF_ANIMAL) == CORE_OF_SHED;
  int before = photo != NULL && shed && !photo->of_shed; /* not recorded as a skin yet */
  int stage = photo == NULL || (photo->stage < 0 && !shed) ? NO_STAGE : photo->stage - before;
  gboolean adult = !shed && state->adult && stage == (int) state->stages.n - 1 && self->taken >= state->adult_seen;
  const char *sign = words_sex_sign (from->verdict->verdict);

  self->species = g_strdup (desk_subject_species_known (from->subject)
                              ? desk_subject_profile (from->subject)->scientific
                              : words_species (self->view.lang, NULL, state->species));
  self->title = g_strdup_printf ("%s · %s %s", desk_subject_label (from->subject), self->species, sign);
  self->stage = words_proof_stage (&self->view, state, stage, adult, shed);
  self->verdict = words_proof_verdict (&self->view, from->verdict);
  self->evidence = evidence_of (&self->view, from->verdict, from->photo);
  self->made = words_proof_made (&self->view, self->taken, desk_today (from->desk));
  if (shed) /* what hung the animal's length on the skin would be a guess */
    self->mm = self->mm_sd = NAN;
}

DeskProof *
desk_proof_gather (const ProofSource *from, CoreId live, GError **error)
{
  DeskProof *self;
  const CorePhotoRef *photo = photo_of (desk_subject_state (from->subject), from->photo);
  g_autofree char *path = desk_photo_path (from->desk, live);
  char day[11];

  if (path == NULL)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_PHOTO, NULL);
      return NULL;
    }
  self = g_atomic_rc_box_new0 (DeskProof);
  self->path = g_steal_pointer (&path);
  take_scale (self, from);
  self->view = (WordsView){ WORDS_LOCAL, CORE_DAY_NONE, desk_scheme (from->desk) };
  self->taken = photo != NULL ? photo->taken : CORE_DAY_NONE;
  take_marks (self, from->marks);
  take_measure (self, desk_subject_state (from->subject), photo,
                self->taken != CORE_DAY_NONE ? self->taken : desk_today (from->desk));
  take_words (self, from, photo);
  core_day_to_text (self->taken != CORE_DAY_NONE ? self->taken : desk_today (from->desk), day);
  self->file_name = g_strdup_printf ("%s %s.png", desk_subject_label (from->subject), day);
  return self;
}

DeskProof *
desk_proof_new (Desk *self, CoreId photo, GError **error)
{
  const CoreEntry *live = desk_entry_heir (self, photo);
  CoreId first = desk_photo_first (self, photo);
  g_autoptr (DeskSubject) subject = NULL;
  ProofSource from = { .desk = self, .photo = first };

  if (live == NULL || live->kind != CORE_KIND_PHOTO)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_PHOTO, NULL);
      return NULL;
    }
  subject = desk_get (self, live->subject);
  from.subject = subject;
  from.marks = desk_mark_of (self, live->subject, first);
  if (from.marks == NULL)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_PROOF_NO_MARKS, NULL);
      return NULL;
    }
  from.verdict = desk_subject_verdict (subject);
  return desk_proof_gather (&from, live->id, error);
}

/* ---- writing ---- */

typedef struct
{
  DeskProof *proof;
  char *path;
  gboolean replace;
  DeskProofInfo info;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  desk_proof_unref (job->proof);
  g_free (job->path);
  g_free (job);
}

typedef struct
{
  ImgProof *sheet;
  GCancellable *cancellable;
  int fd;
  const char *path;
} Filling;

static gboolean
sink (const void *bytes, gsize n, gpointer data, GError **error)
{
  const Filling *self = data;

  return exch_file_write (self->fd, bytes, n, self->path, error);
}

static gboolean
fill (int fd, const char *path, gpointer data, GError **error)
{
  Filling *self = data;

  self->fd = fd;
  self->path = path;
  return img_proof_write (self->sheet, sink, self, self->cancellable, error);
}

static gboolean
write_sheet (Job *job, GCancellable *cancellable, GError **error)
{
  const DeskProof *proof = job->proof;
  ImgDecodeOptions options = { .timeout_ms = DECODE_MS };
  g_autoptr (ImgPicture) picture = img_decode (proof->path, &options, cancellable, error);
  g_autofree ImgStrip *strip = g_new0 (ImgStrip, 1);
  g_autoptr (ImgProof) sheet = NULL;
  gboolean straight;
  Filling filling;

  if (picture == NULL)
    return FALSE;
  straight = proof->n_marks >= 2 &&
             img_strip_build (picture->pixels, proof->axis, proof->n_marks, strip, NULL, NULL) == IMG_STRIP_OK;
  sheet = desk_proof_lay_out (proof, picture->pixels, straight ? strip : NULL, &job->info);
  filling = (Filling){ .sheet = sheet, .cancellable = cancellable };
  return exch_file_make (job->path, fill, &filling, job->replace, error);
}

static void
write_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;

  if (write_sheet (data, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
desk_proof_write_async (DeskProof *self,
                        const char *path,
                        gboolean replace,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  Job *job = g_new0 (Job, 1);

  job->proof = g_atomic_rc_box_acquire (self);
  job->path = g_canonicalize_filename (path, NULL);
  job->replace = replace;
  g_task_set_source_tag (task, desk_proof_write_async);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, write_thread);
}

gboolean
desk_proof_write_finish (GAsyncResult *result, DeskProofInfo *out, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_proof_write_async), FALSE);

  if (!g_task_propagate_boolean (G_TASK (result), error))
    return FALSE;
  if (out != NULL)
    *out = ((const Job *) g_task_get_task_data (G_TASK (result)))->info;
  return TRUE;
}
