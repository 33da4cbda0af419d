/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure-model.h — lengths and plumpness from marks on a picture, without a screen.
 *
 * One model per open picture. A scale (two marks on a known length, or marks round a
 * disc) and a line along what is measured give millimetres with their error; seen from
 * the side, the outline of the abdomen gives a belly score. What is marked is kept as a
 * draft until it is recorded. Signal: "changed" after anything that a widget shows.
 */
#pragma once

#include "core/core-measure.h"
#include "desk/desk.h"
#include "imaging/img-pixels.h"

#define MEASURE_TYPE_MODEL (measure_model_get_type ())
G_DECLARE_FINAL_TYPE (MeasureModel, measure_model, MEASURE, MODEL, GObject)

typedef enum
{
  MEASURE_LENGTH,
  MEASURE_PLUMPNESS /* from the side */
} MeasureTask;

typedef enum
{
  MEASURE_SET_RULER, /* two marks */
  MEASURE_SET_DISC,  /* marks on its edge */
  MEASURE_SET_LINE,  /* along what is measured; of plumpness base to tip of the abdomen */
  MEASURE_SET_UPPER, /* the outline, from base to tip */
  MEASURE_SET_LOWER,
  MEASURE_N_SETS
} MeasureSet;

#define MEASURE_MAX_POINTS CORE_DISC_MOST
#define MEASURE_MARK_SD 2.0 /* pixels, or half a per cent of the picture's longer side */

MeasureModel *measure_model_new (Desk *desk, DeskSubject *subject, CoreId photo);
void measure_model_load_async (MeasureModel *self,
                               GCancellable *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer data);
gboolean measure_model_load_finish (MeasureModel *self, GAsyncResult *result, GError **error);
ImgPixels *measure_model_pixels (MeasureModel *self);
DeskSubject *measure_model_subject (MeasureModel *self);

MeasureTask measure_model_task (MeasureModel *self);
void measure_model_set_task (MeasureModel *self, MeasureTask task);
int measure_model_what (MeasureModel *self); /* index into body, head, pronotum, abdomen, tegmen */
void measure_model_set_what (MeasureModel *self, int what);
gboolean measure_model_disc (MeasureModel *self);
void measure_model_set_disc (MeasureModel *self, gboolean disc);
double measure_model_known (MeasureModel *self); /* mm; NAN = not said */
void measure_model_set_known (MeasureModel *self, double mm);

gsize measure_model_points (MeasureModel *self, MeasureSet set, CorePoint out[MEASURE_MAX_POINTS]);
/* Is it asked for by the task and the kind of scale? */
gboolean measure_model_uses (MeasureModel *self, MeasureSet set);
/* The set to which the next mark goes; FALSE = all that is needed is there. */
gboolean measure_model_next_set (MeasureModel *self, MeasureSet *set);
/* Its index; in a line behind the nearest leg. G_MAXSIZE = full. */
gsize measure_model_add (MeasureModel *self, MeasureSet set, CorePoint at);
void measure_model_move (MeasureModel *self, MeasureSet set, gsize index, CorePoint at);
void measure_model_remove (MeasureModel *self, MeasureSet set, gsize index);
void measure_model_settle (MeasureModel *self); /* moves of one mark in a row are one undo */

CoreMeasureStatus measure_model_scale (MeasureModel *self, CoreScale *out, CoreCircle *circle);
CoreMeasureStatus measure_model_length (MeasureModel *self, CoreLength *out);
CoreMeasureStatus measure_model_plumpness (MeasureModel *self, CorePlumpness *out);
gboolean measure_model_outlining (MeasureModel *self); /* a worker looks for the outline */
gboolean measure_model_can_record (MeasureModel *self);

gboolean measure_model_can_undo (MeasureModel *self);
gboolean measure_model_can_redo (MeasureModel *self);
void measure_model_undo (MeasureModel *self);
void measure_model_redo (MeasureModel *self);

/* Writes `measured` (with the line, which gives the picture its scale) or `belly` on the day of the
 * picture; the line goes, the scale stays. */
void measure_model_record_async (MeasureModel *self, GAsyncReadyCallback callback, gpointer data);
gboolean measure_model_record_finish (MeasureModel *self, GAsyncResult *result, GError **error);
