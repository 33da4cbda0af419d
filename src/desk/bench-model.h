/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-model.h — the photo bench without a screen: marks, boundaries, answers, undo.
 *
 * One model per open picture. Widgets show it and call its verbs; the command line
 * and the tests use the same verbs. Marks are in pixels of the upright original.
 * Signals: "changed" after anything that a widget shows.
 */
#pragma once

#include "desk/desk.h"
#include "imaging/img-pixels.h"

#define BENCH_TYPE_MODEL (bench_model_get_type ())
G_DECLARE_FINAL_TYPE (BenchModel, bench_model, BENCH, MODEL, GObject)

typedef enum
{
  BENCH_STEP_WHAT,        /* underside or back, animal or shed skin */
  BENCH_STEP_AXIS,        /* base and tip, more marks where it bends */
  BENCH_STEP_BOUNDARIES,  /* the proposal, corrected */
  BENCH_STEP_SMALL_PLATE,
  BENCH_STEP_LAST_PLATE,
  BENCH_STEP_WINGS,       /* adults only */
  BENCH_STEP_CUE,         /* signs of the species that may be seen at this stage */
  BENCH_STEP_VERDICT,
  BENCH_N_STEPS
} BenchStep;

typedef enum { BENCH_MARK_BASE, BENCH_MARK_TIP, BENCH_MARK_BEND,
               BENCH_MARK_WING_BASE, BENCH_MARK_WING_TIP, BENCH_MARK_ABDOMEN_TIP,
               BENCH_MARK_PRONOTUM_FRONT, BENCH_MARK_PRONOTUM_BACK,
               BENCH_MARK_BEND_2, BENCH_MARK_BEND_3, BENCH_N_MARKS } BenchMark;

typedef struct
{
  double at;      /* 0 … 1 along the axis */
  double sd;      /* of at */
  CorePoint left, right, mid; /* upright pixels; the line across */
  gboolean by_keeper;
} BenchBoundary;

#define BENCH_MAX_BOUNDARIES 14
#define BENCH_MAX_AXIS 5 /* base, three bends, tip */

/* What the picture shows along the marked or the proposed axis. */
typedef struct
{
  double length_px, sharpness, glare, contrast; /* see ImgStrip */
  unsigned unusable;                            /* bits of CoreUnusable */
} BenchQuality;

BenchModel *bench_model_new (Desk *desk, DeskSubject *subject, CoreId photo);
/* Decode and restore a draft or earlier marks; then the pixels are there. */
void bench_model_load_async (BenchModel *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean bench_model_load_finish (BenchModel *self, GAsyncResult *result, GError **error);

ImgPixels *bench_model_pixels (BenchModel *self);           /* upright original; borrowed */
DeskSubject *bench_model_subject (BenchModel *self);
Desk *bench_model_desk (BenchModel *self);
BenchStep bench_model_step (BenchModel *self);
/* Is it part of the way for this picture? */
gboolean bench_model_has_step (BenchModel *self, BenchStep step);
gboolean bench_model_can_next (BenchModel *self);
gboolean bench_model_can_back (BenchModel *self);
void bench_model_next (BenchModel *self);
void bench_model_back (BenchModel *self);

void bench_model_set_side (BenchModel *self, int side);     /* CORE_SIDE_*, -1 unset */
void bench_model_set_of (BenchModel *self, int of);         /* CORE_OF_*, -1 unset */
int bench_model_side (BenchModel *self);
int bench_model_of (BenchModel *self);

gboolean bench_model_mark (BenchModel *self, BenchMark mark, CorePoint *at); /* FALSE = not placed */
void bench_model_set_mark (BenchModel *self, BenchMark mark, CorePoint at);  /* clamped to the picture */
void bench_model_clear_mark (BenchModel *self, BenchMark mark);

gboolean bench_mark_is_bend (BenchMark mark);
/* The next bend that is free; FALSE = all are placed. */
gboolean bench_model_free_bend (BenchModel *self, BenchMark *mark);
/* The marks of the axis from base to tip, the bends in their order; 0 without base or tip. */
gsize bench_model_axis (BenchModel *self, CorePoint out[BENCH_MAX_AXIS]);

/* The program looks for the abdomen in a worker, first when the picture was read. Where the step
 * of the axis finds no mark it places what was found: one change that can be taken back. */
gboolean bench_model_suggesting (BenchModel *self);
gboolean bench_model_suggested (BenchModel *self); /* the marks are the program's, not yet moved */
/* Marks that the program placed, or whose ends it doubts: until the keeper says that they lie right a
 * count along them weighs less. */
gboolean bench_model_axis_asked (BenchModel *self);
/* 1: he said so; -1: nothing was said. */
int bench_model_axis_said (BenchModel *self);
void bench_model_say_axis (BenchModel *self, int said);
/* Places what was found, looking for it first where need be. */
void bench_model_suggest (BenchModel *self);
void bench_model_swap_ends (BenchModel *self); /* base and tip were the wrong way round */
/* FALSE = nothing was measured yet. */
gboolean bench_model_quality (BenchModel *self, BenchQuality *out);
/* Moves of one thing in a row are one step of undo; this ends the row (the button is let go). */
void bench_model_settle (BenchModel *self);
/* The share of the axis that is nearest to a point of the picture, 0 … 1; 0 without an axis. */
double bench_model_at_of (BenchModel *self, CorePoint point);

/* The proposal runs in a worker after the axis changed; TRUE while it runs. */
gboolean bench_model_finding (BenchModel *self);
/* The lines are there; whether their count is sure shows a second look that still runs. */
gboolean bench_model_checking (BenchModel *self);
gsize bench_model_boundaries (BenchModel *self, BenchBoundary *out, gsize max);
void bench_model_move_boundary (BenchModel *self, gsize index, double at);
gsize bench_model_add_boundary (BenchModel *self, double at);   /* its new index */
void bench_model_remove_boundary (BenchModel *self, gsize index);
void bench_model_set_plates (BenchModel *self, int count);      /* the best boundaries for that many */
int bench_model_count (BenchModel *self);                       /* plates now; -1 = none */
/* Chance of the present best two counts by the finder; 0 when no proposal. */
void bench_model_best_two (BenchModel *self, int *first, double *p_first, int *second, double *p_second);
gboolean bench_model_usable (BenchModel *self);
/* Bits of CoreUnusable reasons, see core-segment.h. */
unsigned bench_model_unusable (BenchModel *self);
/* Why the count along these marks is not to be called sure, however likely the finder holds it; bits. */
typedef enum
{
  BENCH_DOUBT_MANY = 1 << 0,   /* more plates than a mantis has */
  BENCH_DOUBT_FEW = 1 << 1,
  BENCH_DOUBT_LINES = 1 << 2,  /* most lines may lie a good way off */
  BENCH_DOUBT_TIP = 1 << 3,    /* the tip lies beyond the body */
  BENCH_DOUBT_PLACED = 1 << 4, /* marks of the program's that nobody called right */
  BENCH_DOUBT_AFTER = 1 << 5,  /* plates seem to go on behind the tip */
  BENCH_DOUBT_BEFORE = 1 << 6  /* and before the base */
} BenchDoubt;
unsigned bench_model_doubts (BenchModel *self);
/* What is wrong with the marks themselves. */
typedef enum
{
  BENCH_AXIS_FINE, /* or not marked */
  BENCH_AXIS_SHORT,
  BENCH_AXIS_CROSSED
} BenchAxisProblem;
BenchAxisProblem bench_model_axis_problem (BenchModel *self);
/* Straightened strip, base at the top, for display; NULL before the axis is there. */
ImgPixels *bench_model_strip (BenchModel *self);

void bench_model_set_small_plate (BenchModel *self, int answer); /* CORE_SMALL_*, -1 unset */
void bench_model_set_last_plate (BenchModel *self, int answer);  /* CORE_LAST_*, -1 unset */
void bench_model_set_convention (BenchModel *self, int answer);  /* CORE_CONVENTION_* */
void bench_model_set_cue (BenchModel *self, const char *name, CoreSex sex);
int bench_model_small_plate (BenchModel *self);
int bench_model_last_plate (BenchModel *self);
int bench_model_convention (BenchModel *self);
const char *bench_model_cue (BenchModel *self, CoreSex *says); /* NULL = none chosen */
/* The signs of the species that may be seen at the stage that the picture shows. */
gsize bench_model_cues (BenchModel *self, const CoreSexCue *out[CORE_MAX_CUES]);
/* Last plate ÷ mean of the three before it, by the lines; FALSE with fewer than four plates. */
gboolean bench_model_last_ratio (BenchModel *self, double *ratio);
/* Needs wings: the animal is seen as adult and the picture shows the animal. */
gboolean bench_model_needs_wings (BenchModel *self);
gboolean bench_model_wing_ratio (BenchModel *self, double *ratio, double *sd);
gboolean bench_model_tegmen_pronotum (BenchModel *self, double *ratio, double *sd);

/* What the journal would say with this picture: existing evidence and this. Borrowed. */
const CoreSexVerdict *bench_model_verdict (BenchModel *self);

gboolean bench_model_can_undo (BenchModel *self);
gboolean bench_model_can_redo (BenchModel *self);
void bench_model_undo (BenchModel *self);
void bench_model_redo (BenchModel *self);

/* Writes `marked` (by=keeper when the boundaries were confirmed) and closes the draft. */
void bench_model_record_async (BenchModel *self, GAsyncReadyCallback callback, gpointer data);
gboolean bench_model_record_finish (BenchModel *self, GAsyncResult *result, GError **error);
