/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-proof-private.h — what is gathered for a proof sheet, and how it is laid out. */
#pragma once

#include "core/core-date.h"
#include "core/core-growth.h"
#include "desk/desk-proof.h"
#include "imaging/img-proof.h"
#include "imaging/img-strip.h"

typedef struct
{
  double at, sd;
} ProofLine;

struct _DeskProof /* g_atomic_rc_box; immutable once it is written */
{
  char *path; /* of the picture */
  char *file_name;
  double axis[2 * IMG_STRIP_MAX_MARKS];
  int n_marks;
  ProofLine lines[BENCH_MAX_BOUNDARIES];
  int n_lines;
  gboolean by_keeper, axis_open;
  int small_plate;       /* CORE_SMALL_*; -1 = not said */
  WordsView view;        /* days in full: paper outlives today */
  double mm, mm_sd;      /* of the abdomen from mark to mark; NAN = not measured in that stage */
  CoreDay mm_day;
  double ruler_px, ruler_mm; /* a known length in the picture, before any measure; NAN = none */
  double ruler_share;        /* its error as a share; NAN = that of two marks */
  char *title;           /* number, species, sign of the sex */
  char *species, *stage, *verdict, *made;
  CoreDay taken;         /* or CORE_DAY_NONE */
  GStrv evidence;        /* of this picture first */
};

/* One picture of one animal, with its marks. */
typedef struct
{
  Desk *desk;
  DeskSubject *subject;
  CoreId photo; /* the first of its entries: what marks name */
  const CoreEntry *marks;
  const CoreSexVerdict *verdict;
} ProofSource;

/* `live`: the entry of the photo that counts now. */
DeskProof *desk_proof_gather (const ProofSource *from, CoreId live, GError **error);
/* The picture with all that belongs on it. `strip` NULL: no line is drawn. */
ImgProof *desk_proof_lay_out (
  const DeskProof *self, const ImgPixels *picture, const ImgStrip *strip, DeskProofInfo *info);
