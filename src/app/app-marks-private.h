/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-marks-private.h — shared by app-marks*.c only. */
#pragma once

#include "app/app-marks.h"

struct _AppMarks
{
  GtkWidget parent_instance;

  AppCanvas *canvas; /* its parent, borrowed */

  /* Owned */
  BenchModel *model;
  GSignalGroup *model_signals;

  AppMarkRef chosen;

  /* While a handle is dragged the model is left alone: one drag is one step of undo. */
  gboolean dragging;
  CorePoint grab;    /* pointer minus handle, picture pixels */
  CorePoint preview; /* where the dragged mark is */
  double preview_at; /* where the dragged boundary is */
  double grab_at;    /* share under the pointer minus that of the boundary */
  double drag_x, drag_y;
  gboolean loupe; /* shown while dragging and for a moment after a key */
  guint loupe_timeout;
};

/* The marked axis: base, bends, tip. */
typedef struct
{
  int n; /* 0 while base or tip is missing */
  CorePoint p[BENCH_MAX_AXIS];
  double length;
} AppAxis;

/* app-marks-shape.c */
void _app_marks_axis (AppMarks *self, AppAxis *axis);
CorePoint _app_axis_direction (const AppAxis *axis, double at);
gboolean _app_marks_point (AppMarks *self, BenchMark mark, CorePoint *at); /* with the drag */
gsize _app_marks_boundaries (AppMarks *self, BenchBoundary *out);          /* with the drag */
gboolean _app_marks_shows_point (AppMarks *self, BenchMark mark);
gboolean _app_marks_shows_boundaries (AppMarks *self);
/* Where the handle of a boundary is, widget pixels. */
void _app_marks_handle (AppMarks *self, const BenchBoundary *boundary, double *x, double *y);
AppMarkRef _app_marks_hit (AppMarks *self, double x, double y);
/* All that can be chosen now, in order; returns how many. */
gsize _app_marks_items (AppMarks *self, AppMarkRef *out);
#define APP_MARKS_MAX (BENCH_N_MARKS + BENCH_MAX_BOUNDARIES)

/* app-marks-draw.c */
void _app_marks_snapshot (GtkWidget *widget, GtkSnapshot *snapshot);
