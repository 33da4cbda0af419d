/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-private.h — what the files of the photo bench share. */
#pragma once

#include "desk/bench-model.h"
#include "desk/desk-private.h"
#include "imaging/img-axis.h"
#include "imaging/img-find.h"

typedef struct
{
  double at, sd;
  gboolean by_keeper;
} BenchLine;

/* All that a keeper says about a picture: copied as a whole for undo. */
typedef struct
{
  int side, of;                            /* -1 unset */
  int small_plate, last_plate, convention; /* -1 unset */
  char cue[32];
  CoreSex cue_sex;
  gboolean has[BENCH_N_MARKS];
  CorePoint mark[BENCH_N_MARKS];
  int n_lines;
  BenchLine line[BENCH_MAX_BOUNDARIES]; /* by at, ascending */
  int n_removed;
  double removed[CORE_SEGMENT_EDITS];
  gboolean edited;            /* the lines are the keeper's, no proposal replaces them */
  gboolean confirmed;         /* gone on with these lines */
  double wing_ratio, wing_sd; /* as recorded before, NAN = none; marks win */
  double tegmen_pronotum, tegmen_pronotum_sd;
  gboolean suggested;         /* the axis as the program placed it */
  int placed;                 /* IMG_FIND_*: ends that lie where the program put them */
  gboolean axis_right;        /* of a suggested axis: the keeper says that it lies right */
} BenchDoc;

/* What makes several changes in a row one step of undo. */
typedef struct
{
  int verb, index; /* verb 0 = none */
} BenchTouch;

struct _BenchModel
{
  GObject parent_instance;

  /* Owned */
  Desk *desk;
  DeskSubject *subject;
  CoreId photo;
  ImgPixels *pixels;
  ImgStrip *strip; /* of the axis that `found` belongs to; NULL = none */
  ImgFindResult *found;
  CoreSegmentResult as_found; /* what it said before any line was settled */
  ImgPixels *shown;    /* rendered strip, NULL until asked */
  GArray *undo, *redo; /* BenchDoc */
  CoreSexVerdict verdict;

  BenchDoc doc;
  BenchStep step;
  BenchTouch touch;
  CoreId replaces; /* the live entry of this picture, none */
  guint serial;    /* of the axis; a result of another is thrown away */
  gint *stop;      /* of the search under way, shared with it */
  gint *guess_stop; /* of the search for the abdomen, shared with it */
  ImgAxisGuess guess; /* n_marks 0 = none, or not yet */
  BenchQuality guess_quality;
  gboolean offered; /* the guess was placed once, or not wanted */
  gboolean wanted;  /* asked for: it takes the place of marks */
  gboolean verdict_fresh;
  gboolean recording;
};

/* ---- bench-model.c ---- */

void bench_changed (BenchModel *self); /* signal, draft, verdict out of date */
/* Before a change: keep the document for undo, unless it goes on with the same touch. */
void bench_touch (BenchModel *self, int verb, int index);
void bench_doc_init (BenchDoc *doc);

/* ---- bench-find.c ---- */

void bench_axis_changed (BenchModel *self); /* forget the strip; search anew if there is an axis */
void bench_find_stop (BenchModel *self);
void bench_lines_from_found (BenchModel *self); /* unless edited */
void bench_rerun (BenchModel *self);            /* after an edit: chances of the counts */

/* ---- bench-axis.c ---- */

int bench_axis (const BenchDoc *doc, double xy[2 * IMG_STRIP_MAX_MARKS]); /* marks, 0 = no axis */
void bench_axis_moved (BenchModel *self, BenchMark mark); /* lines belong to an axis: they are the finder's again */
void bench_guess_start (BenchModel *self);
void bench_guess_stop (BenchModel *self);
void bench_guess_offer (BenchModel *self); /* places it where the step is the axis and no mark is */

/* ---- bench-record.c ---- */

CoreEntry *bench_entry (BenchModel *self); /* `marked` from the document; the caller's */
void bench_doc_from_entry (BenchDoc *doc, const CoreEntry *entry);
char *bench_doc_to_text (const BenchDoc *doc, BenchStep step);
/* `step`: where it was left, as far as the text says. */
gboolean bench_doc_from_text (BenchDoc *doc, const char *text, BenchStep *step);
char *bench_draft_key (BenchModel *self);
