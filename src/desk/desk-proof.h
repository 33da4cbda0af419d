/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-proof.h — a proof sheet: one picture with what was counted in it, for somebody else to check.
 *
 * A PNG at the picture's own resolution, with lines and numbers over it and the verdict with its
 * doubt below; in true scale where something was measured in the picture itself, else where the abdomen
 * was in that stage. Nothing of place,
 * position, origin or owner is in it. A proof is a copy: it does not follow the journal.
 */
#pragma once

#include "desk/bench-model.h"
#include "desk/desk.h"

typedef struct _DeskProof DeskProof;

/* Of what was recorded. DESK_ERROR_NOT_FOUND where the photo has no marks. */
DeskProof *desk_proof_new (Desk *self, CoreId photo, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Of what lies on the bench now, recorded or not. */
DeskProof *bench_model_proof (BenchModel *model, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void desk_proof_unref (DeskProof *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskProof, desk_proof_unref)

/* Two marks in the picture on a known length, such as of a ruler; it goes before any measure. FALSE:
 * too near to each other, or no such length. */
gboolean desk_proof_set_ruler (DeskProof *self, CorePoint a, CorePoint b, double mm);
char *desk_proof_file_name (const DeskProof *self); /* a name to begin with: "14 2026-05-20.png" */

typedef struct
{
  int width, height;      /* of the sheet, pixels */
  double px_per_mm, sd;   /* NAN = no scale is known; sd in the same unit */
  int plates;             /* drawn with numbers; 0 = none */
} DeskProofInfo;

/* Decodes and writes on a thread of its own; the file is there whole or not at all. An existing one
 * is EXCH_ERROR_EXISTS unless `replace`. */
void desk_proof_write_async (DeskProof *self,
                             const char *path,
                             gboolean replace,
                             GCancellable *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer data);
gboolean desk_proof_write_finish (GAsyncResult *result, DeskProofInfo *out, GError **error);
