/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-proof.c — a proof sheet of what lies on the bench. */
#include "desk/bench-private.h"
#include "desk/desk-identity.h"
#include "desk/desk-proof-private.h"

DeskProof *
bench_model_proof (BenchModel *model, GError **error)
{
  CoreEntry *marks = bench_entry (model);
  const CoreEntry *live = desk_entry_heir (model->desk, model->photo);
  /* As it is now: the picture may have been added after the bench was opened for its animal. */
  g_autoptr (DeskSubject) subject = desk_get (model->desk, desk_subject_id (model->subject));
  ProofSource from = { model->desk, subject != NULL ? subject : model->subject, model->photo, marks,
                       bench_model_verdict (model) };
  DeskProof *self = desk_proof_gather (&from, live != NULL ? live->id : model->photo, error);

  /* How far off a line may lie is known as long as it is the finder's own. */
  for (int i = 0; self != NULL && i < self->n_lines && i < model->doc.n_lines; i++)
    self->lines[i].sd = model->doc.line[i].sd;
  core_entry_free (marks);
  return self;
}
